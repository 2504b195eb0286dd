"""The books that came with the program, and a single limit out of them."""

import re
from functools import cache
from pathlib import Path

from fluewright.errors import RuleError
from fluewright.rules.schema import Book, Limit, problem
from fluewright.rules.strict import book_of

BOOKS = Path(__file__).parent / "books"
_JURISDICTION = re.compile(r'^jurisdiction = "([^"]+)"$', re.MULTILINE)


@cache
def names() -> tuple[str, ...]:
    """The names of all books, in alphabetical order."""
    return tuple(sorted(path.stem for path in BOOKS.glob("*.toml")))


@cache
def _text(name: str) -> str:
    """The text of one book."""
    return (BOOKS / f"{name}.toml").read_text(encoding="utf-8")


@cache
def book(name: str) -> Book:
    """One book by name; RuleError names the books there are."""
    if name not in names():
        raise problem(where="", read=f"the book {name!r}", expected=f"one of {', '.join(names())}")
    return book_of(text=_text(name), name=name, file=f"rules/books/{name}.toml")


@cache
def _by_id() -> dict[str, Limit]:
    found: dict[str, Limit] = {}
    for name in names():
        for one in book(name).limits:
            if one.id in found:
                raise problem(
                    where=f"rules/books/{name}.toml",
                    read=f"{one.id}, which {found[one.id].book} has too",
                    expected="an id of its own for each limit",
                )
            found[one.id] = one
    return found


def limit(id: str) -> Limit:
    """One limit by id; RuleError when no book has it."""
    found = _by_id().get(id)
    if found is None:
        raise RuleError(
            code="FW-B-002",
            read=f"the limit {id!r}",
            expected="a limit that stands in one of the books",
            matters="nothing can be judged by a limit that is not written down",
            do=f"look into {', '.join(names())}",
        )
    return found


def limits() -> tuple[Limit, ...]:
    """Every limit of every book."""
    return tuple(_by_id().values())


@cache
def limits_of(quantity: str) -> tuple[Limit, ...]:
    """Every limit of one quantity; a book that does not name it is not read, for one reading asks few of many books."""
    speaking = [name for name in names() if f'quantity = "{quantity}"' in _text(name)]
    return tuple(one for name in speaking for one in book(name).limits if one.quantity == quantity)


@cache
def jurisdictions() -> frozenset[str]:
    """Every place that some book speaks of."""
    return frozenset(found for name in names() for found in _JURISDICTION.findall(_text(name)))
