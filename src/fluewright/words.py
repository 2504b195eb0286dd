"""Sentences from templates, in the language that a door has chosen.

The English template is its own key in the catalogs, so the code stays readable and a sentence that nobody has
translated is said in English. A catalog is read from its compiled form, which the build makes; where none lies, the
program speaks English. Nothing is taken from the machine's own language: a sheet is the same whoever prints it.
"""

from collections.abc import Iterator
from contextlib import contextmanager
from contextvars import ContextVar
from dataclasses import dataclass, field
from functools import cache
from pathlib import Path
from string import Formatter
from typing import TYPE_CHECKING, TypeVar

from fluewright.errors import UseError

if TYPE_CHECKING:
    from gettext import NullTranslations

LOCALE = Path(__file__).resolve().parent / "locale"
DOMAIN = "fluewright"
ENGLISH = "en"
_COMMA = frozenset(("de",))
"""Languages that write a comma between whole and part."""

T = TypeVar("T")


@dataclass(frozen=True, slots=True)
class _Language:
    """A language other than English.

    catalog  as it was compiled
    mark     decimal mark
    found    what was looked up before; only what was there, so that it stays small
    """

    name: str
    catalog: "NullTranslations"
    mark: str
    found: dict[str, str] = field(default_factory=dict)

    def of(self, template: str) -> str | None:
        """The translation of a template; None where there is none."""
        known = self.found.get(template)
        if known is None:
            text = self.catalog.gettext(template)
            if text is template:
                return None
            known = self.found[template] = text
        return known


_spoken: ContextVar[_Language | None] = ContextVar("language", default=None)


class Translated(str):
    """A sentence in another language that knows its English, for what is judged, sorted or looked for by words."""

    __slots__ = ("_made",)
    _made: tuple[str, dict[str, object]]

    @property
    def english(self) -> str:
        """The same sentence in English."""
        template, fields = self._made
        return template.format(**_in_english(fields)) if fields else template


def say(template: str, **fields: object) -> str:
    """A sentence, or a phrase that another one takes in.

    template  English, a literal, with fields by name such as {size}
    fields    what stands there; figures come as text, from quantity.show or number()
    -> text in the language of the door
    """
    language = _spoken.get()
    if language is None:
        return template.format(**fields) if fields else template
    return _translated(language.of(template), template, fields)


def say_count(one: str, many: str, count: int, **fields: object) -> str:
    """A sentence about so many; {count} stands for the number.

    one, many  English, literals
    -> text in the form that the language of the door has for that number
    """
    language, fields = _spoken.get(), {**fields, "count": count}
    template = one if count == 1 else many
    if language is None:
        return template.format(**fields)
    found = language.catalog.ngettext(one, many, count)
    return _translated(None if found is template else found, template, fields)


def _translated(found: str | None, template: str, fields: dict[str, object]) -> str:
    """A sentence from its translation; all of it in English where there is none, also what stands in its fields."""
    if found is None:
        return template.format(**_in_english(fields)) if fields else template
    made = Translated(found.format(**fields) if fields else found)
    made._made = (template, fields)
    return made


def _in_english(fields: dict[str, T]) -> dict[str, T | str]:
    return {name: english(value) if isinstance(value, str) else value for name, value in fields.items()}


def spoken(words: str) -> str:
    """Words that come from data or a table, in the language of the door; empty stays empty.

    words  English, as a data file of the program or marked() has it
    """
    language = _spoken.get()
    if language is None or not words or isinstance(words, Translated):
        return words
    return _translated(language.of(words), words, {})


def marked(words: str) -> str:
    """The same words: says that they belong into the catalogs, and that spoken() says them later."""
    return words


def pieces(template: str, **fields: T) -> tuple[str | T, ...]:
    """A sentence cut at its fields, for sentences whose parts have a voice or a working of their own.

    template  English, a literal, with fields by name
    fields    what stands there; an empty text is left out
    -> words and fields in the order of the language
    """
    language = _spoken.get()
    found = None if language is None else language.of(template)
    given = _in_english(fields) if found is None and language is not None else fields
    parts: list[str | T] = []
    for text, name, _, _ in _cut(found or template):
        parts += [text] if text else []
        if name is not None and given[name] != "":
            parts.append(given[name])
    return tuple(parts)


@cache
def _cut(template: str) -> tuple[tuple[str, str | None, str | None, str | None], ...]:
    return tuple(Formatter().parse(template))


def number(value: float, spec: str) -> str:
    """A figure in a format such as .1f, with the decimal mark of the language."""
    return format(value, spec).replace(".", decimal_mark())


def decimal_mark() -> str:
    """What stands between whole and part of a figure."""
    language = _spoken.get()
    return "." if language is None else language.mark


def english(text: str) -> str:
    """A sentence as it is in English, whatever language it was said in."""
    return text.english if isinstance(text, Translated) else text


def languages() -> tuple[str, ...]:
    """English, and every language that has a folder of catalogs."""
    folders = LOCALE.iterdir() if LOCALE.is_dir() else ()
    return (ENGLISH, *sorted(each.name for each in folders if (each / "LC_MESSAGES").is_dir()))


@cache
def _language(name: str) -> _Language | None:
    """A language with its catalog; None for English, and where no catalog was built."""
    if name == ENGLISH or not catalog_of(name).is_file():
        return None
    from gettext import translation

    return _Language(name, translation(DOMAIN, LOCALE, [name]), "," if name in _COMMA else ".")


def catalog_of(name: str) -> Path:
    """Where the compiled catalog of a language lies once it was built."""
    return LOCALE / name / "LC_MESSAGES" / f"{DOMAIN}.mo"


@contextmanager
def speaking(name: str) -> Iterator[None]:
    """Everything said inside is in this language.

    name  such as de
    -> nothing; UseError FW-U-320 for a language that has no catalogs
    """
    if name not in languages():
        raise UseError(
            code="FW-U-320",
            read=f"the language {name!r}",
            expected=f"one of {', '.join(languages())}",
            matters="half the sentences in one language and half in another would be read by nobody",
            do="write one of these, or add a catalog as docs/languages.md tells",
        )
    token = _spoken.set(_language(name))
    try:
        yield
    finally:
        _spoken.reset(token)
