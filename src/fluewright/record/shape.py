"""What an entry of one kind may hold: fields, their types, and errors that name what does not fit."""

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime
from typing import Any, Literal

from fluewright.errors import EntryError
from fluewright.record.personal import KEY, Secret

Type = Literal[
    "text", "person", "persons", "whole", "flag", "day", "moment", "id", "word", "value", "table", "list", "hash"
]  # fmt: skip
"""person: a text about a person, kept as a commitment; persons: several; value: a reading as typed and understood."""

ID = re.compile(r"[0-9a-f]{8}-[0-9a-f]{4}-7[0-9a-f]{3}-[89ab][0-9a-f]{3}-[0-9a-f]{12}")
HASH = re.compile(r"[0-9a-f]{64}")

EXPECTED: Mapping[Type, str] = {
    "text": "a text",
    "person": "a text",
    "persons": "a list of texts",
    "whole": "a whole number",
    "flag": "true or false",
    "day": "a day such as 2026-11-25",
    "moment": "a moment with its offset, such as 2026-11-25T10:20:00-06:00",
    "id": "the id of an entry",
    "word": "one of its words",
    "value": 'a reading: {"typed": ..., "quantity": ...} and what it was understood as',
    "table": "a table",
    "list": "a list",
    "hash": "64 hexadecimal digits",
}


@dataclass(frozen=True, slots=True)
class Field:
    """One field of a kind.

    name      its key in the body
    type      what stands there
    required  whether an entry without it says nothing
    words     the words that a field of type word may be
    """

    name: str
    type: Type
    required: bool = False
    words: Sequence[str] = ()


@dataclass(frozen=True, slots=True)
class Kind:
    """One kind of entry.

    name     its word
    about    one phrase on what it records
    fields   what its body may hold
    version  of this form; older ones are turned into it when they are read
    """

    name: str
    about: str
    fields: tuple[Field, ...]
    version: int = 1

    def field(self, name: str) -> Field | None:
        """A field by its key; None when there is none of that name."""
        return next((each for each in self.fields if each.name == name), None)


def _is_day(value: Any) -> bool:
    try:
        return isinstance(value, str) and date.fromisoformat(value).isoformat() == value
    except ValueError:
        return False


def is_moment(value: Any) -> bool:
    """Whether a text is a moment with its offset, of a year that can be told in any offset."""
    try:
        found = datetime.fromisoformat(value) if isinstance(value, str) else None
    except ValueError:
        return False
    return found is not None and found.utcoffset() is not None and date.min.year < found.year < date.max.year


def _fits(field: Field, value: Any) -> bool:
    """Whether a value is of the type of its field."""
    match field.type:
        case "person":
            return isinstance(value, str | Secret)
        case "text":
            return isinstance(value, str)
        case "persons":
            return isinstance(value, list | tuple) and all(isinstance(each, str) for each in value)
        case "whole":
            return isinstance(value, int) and not isinstance(value, bool)
        case "flag":
            return isinstance(value, bool)
        case "day":
            return _is_day(value)
        case "moment":
            return is_moment(value)
        case "id":
            return isinstance(value, str) and ID.fullmatch(value) is not None
        case "hash":
            return isinstance(value, str) and HASH.fullmatch(value) is not None
        case "word":
            return value in field.words
        case "value":
            return isinstance(value, Mapping) and {"typed", "quantity"} <= set(value)
        case "table":
            return isinstance(value, Mapping)
        case "list":
            return isinstance(value, list | tuple)


def _wrong(kind: Kind, name: str, read: str, expected: str) -> EntryError:
    return EntryError(
        code="FW-J-002",
        where=f"{kind.name}, {name}",
        read=read,
        expected=expected,
        matters="what is kept stays as it is for good, and must be readable by those who come later",
        do="correct the field; nothing was kept",
    )


def need_fit(kind: Kind, body: Mapping[str, Any]) -> None:
    """Refuse a body that is not of the form of its kind.

    -> nothing; EntryError naming the first field that does not fit
    """
    for name, value in body.items():
        field = kind.field(name)
        if field is None:
            raise _wrong(kind, name, f"the field {name!r}", "one of " + ", ".join(each.name for each in kind.fields))
        if not _fits(field, value):
            words = "one of " + ", ".join(field.words) if field.type == "word" else EXPECTED[field.type]
            raise _wrong(kind, name, f"{value!r}"[:120], words)
    for field in kind.fields:
        if field.required and (field.name not in body or body[field.name] in ("", None)):
            raise _wrong(kind, field.name, f"no {field.name}", f"{field.name} in every entry of this kind")


def _fits_kept(field: Field, value: Any) -> bool:
    """Whether a value is of the type of its field as it is kept, texts about people as commitments."""
    if isinstance(value, Mapping) and set(value) == {KEY}:
        return field.type in ("person", "text") and isinstance(value[KEY], str)
    if field.type == "persons" and isinstance(value, list):
        return all(isinstance(each, str) or (isinstance(each, Mapping) and set(each) == {KEY}) for each in value)
    return _fits(field, value)


def is_of(kind: Kind, body: Mapping[str, Any]) -> bool:
    """Whether a body that came from elsewhere can be read as one of its kind; fields that nobody knows do no harm.

    kind  as this version knows it
    body  as it is kept
    """
    fields = {field.name: field for field in kind.fields}
    whole = all(name not in fields or _fits_kept(fields[name], value) for name, value in body.items())
    return whole and all(body.get(field.name) not in ("", None) for field in kind.fields if field.required)
