"""Strict reading of rows: nothing missing, nothing unknown, each field of its own kind, every problem at once."""

from collections.abc import Mapping
from dataclasses import MISSING, fields
from typing import Any, TypeVar

from fluewright.appliance.refusals import unusable
from fluewright.errors import FluewrightError, Problems

Row = TypeVar("Row")

_KINDS: Mapping[object, tuple[tuple[type, ...], str]] = {
    str: ((str,), "a text in quotes"),
    float: ((int, float), "a number"),
    bool: ((bool,), "true or false"),
    tuple[str, ...]: ((list,), "a list of texts"),
    Mapping[str, str]: ((dict,), "a table of texts"),
}


def _fits(value: object, kind: object) -> bool:
    wanted, _ = _KINDS.get(kind, _KINDS[str])
    if not isinstance(value, wanted) or (isinstance(value, bool) and kind is not bool):
        return False
    if isinstance(value, list):
        return all(isinstance(each, str) and each for each in value)
    if isinstance(value, dict):
        return all(isinstance(each, str) and each for each in value.values())
    return True


def row(kind: type[Row], table: Mapping[str, Any], where: str, found: list[FluewrightError]) -> Row | None:
    """One row of a list as its record.

    kind   record whose fields are the keys of the row; a field without a default is required
    table  as read
    where  file and place, for messages
    found  problems are added here
    -> record; None where there was a problem
    """
    known = {each.name: each for each in fields(kind)}  # type: ignore[arg-type]
    before = len(found)
    for name, each in known.items():
        if name not in table and each.default is MISSING and each.default_factory is MISSING:
            found.append(unusable(where=where, read=f"no {name}", expected=f"each of {', '.join(known)}"))
    for name, value in table.items():
        if name not in known:
            found.append(unusable(where=where, read=f"the unknown key {name!r}", expected=", ".join(known)))
        elif not _fits(value, known[name].type):
            _, words = _KINDS.get(known[name].type, _KINDS[str])
            found.append(unusable(where=where, read=f"{name} = {value!r}", expected=words))
    if len(found) > before:
        return None
    return kind(**{name: tuple(value) if isinstance(value, list) else value for name, value in table.items()})


def rows(kind: type[Row], document: Mapping[str, Any], name: str, file: str, found: list[FluewrightError]) -> list[Row]:
    """Every row of one list of a file; a missing list is an empty one."""
    listed = document.get(name, [])
    if not isinstance(listed, list) or not all(isinstance(each, dict) for each in listed):
        found.append(unusable(where=file, read=f"{name} is no list of tables", expected=f"one [[{name}]] for each"))
        return []
    made = [row(kind, each, f"{file}: {name} {index}", found) for index, each in enumerate(listed, 1)]
    return [each for each in made if each is not None]


def one_of(value: str, choices: tuple[str, ...], where: str, found: list[FluewrightError]) -> None:
    """Note a problem where a word is none of the choices."""
    if value not in choices:
        found.append(unusable(where=where, read=f"{value!r}", expected="one of " + ", ".join(choices)))


def each_once(words: list[str], where: str, found: list[FluewrightError]) -> None:
    """Note a problem where a word stands there twice."""
    for word in sorted({word for word in words if words.count(word) > 1}):
        found.append(unusable(where=where, read=f"{word!r} a second time", expected="each once"))


def whole(file: str, found: list[FluewrightError]) -> None:
    """Stop where problems were found, with all of them."""
    if len(found) == 1:
        raise found[0]
    if found:
        raise Problems(subject=file, errors=found)
