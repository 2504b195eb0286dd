"""One byte form for everything that is kept, so that a hash says the same on every machine."""

import hashlib
import json
from typing import Any

from fluewright.errors import EntryError

WHOLE_MOST = 2**53 - 1
"""The largest whole number that every reader of JSON takes exactly (RFC 7493, 2.2)."""

_WRITTEN = json.JSONEncoder(sort_keys=True, separators=(",", ":"), ensure_ascii=False).encode

DEEPEST = 20
"""Tables within tables that are taken; people write four."""


def _refused(read: str, matters: str) -> EntryError:
    return EntryError(
        code="FW-J-001",
        read=read,
        expected="texts, whole numbers, true, false, nothing, and lists and tables of these",
        matters=matters,
        do="write the value as text, with its unit",
    )


def _plain_text(value: Any) -> bool:
    """Whether it is a text that needs no second look, as most of what is kept is."""
    return type(value) is str and value.isascii() and "\0" not in value


def _need_plain(value: Any, depth: int = 0) -> None:
    """Refuse what has no single byte form."""
    if depth > DEEPEST:
        raise _refused(f"tables more than {DEEPEST} deep", "nothing of this program is nested so deep")
    if value is None or isinstance(value, bool):
        return
    if isinstance(value, int):
        if abs(value) > WHOLE_MOST:
            raise _refused(
                "a whole number of more than 53 bits", "other readers would round it, and the hash would differ"
            )
    elif isinstance(value, str):
        if not value.isascii() and any("\ud800" <= sign <= "\udfff" for sign in value):
            raise _refused("a text with half a character", "it cannot be written as UTF-8")
        if "\0" in value:
            raise _refused("a text with a null sign in it", "not every store can keep it")
    elif isinstance(value, (list, tuple)):
        for each in value:
            if not _plain_text(each):
                _need_plain(each, depth + 1)
    elif isinstance(value, dict):
        for key, each in value.items():
            if not isinstance(key, str) or not key.isascii():
                raise _refused(f"the key {key!r}", "the order of the keys would not be the same everywhere")
            if not _plain_text(each):
                _need_plain(each, depth + 1)
    else:
        raise _refused(f"a {type(value).__name__}", "its written form differs from machine to machine")


def canonical(value: Any) -> str:
    """The one written form of a value: JSON after RFC 8785, of the part of JSON that has no fractions.

    Fractions are left out on purpose: figures are kept as text, as they were typed and as they were understood. For
    what remains, RFC 8785 is sorted keys, no spaces, and the shortest escapes.

    value  texts, whole numbers, booleans, None, lists, and tables with ASCII keys
    -> text whose UTF-8 form is hashed and signed; EntryError for anything else
    """
    _need_plain(value)
    return _WRITTEN(value)


def digest(text: str) -> str:
    """SHA-256 of a text's UTF-8 form, in hexadecimal (FIPS 180-4)."""
    return hashlib.sha256(text.encode("utf-8")).hexdigest()
