"""One entry: immutable, numbered on its device, tied by hash to the one before it."""

import json
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any, Literal

from fluewright.errors import EntryError, RecordDamaged
from fluewright.record.canonical import canonical, digest
from fluewright.record.personal import KEY
from fluewright.record.shape import ID, is_moment

FORM = 1
"""Version of the envelope."""

KIND_MOST = 60
"""Letters of the word of a kind: what stands in an index has a longest length on every server."""

NOTHING_BEFORE = "0" * 64
"""What stands for the hash before the first entry of a device."""

Source = Literal["typed", "streamed", "from paper", "imported", "program"]
"""Where an entry came from; program: written by the program itself, such as a finding shown."""

KEYS = ("author", "body", "device", "entered", "form", "id", "kind", "observed", "previous", "sequence", "source",
        "version")  # fmt: skip


@dataclass(frozen=True, slots=True)
class Entry:
    """One immutable record.

    id        its own, UUID version 7
    kind      what it records, one of `kinds.KINDS`, or of a newer program
    version   form of its body
    device    id of the device that wrote it
    sequence  its number on that device, 1 and up without a gap
    previous  hash of the entry before it on that device
    entered   when it was written, with offset; empty never
    observed  when it was seen, with offset; empty when that is when it was written
    author    id of the person, or of the device where nobody is known
    source    typed, streamed, from paper, imported
    body      its fields; those about people are commitments
    """

    id: str
    kind: str
    version: int
    device: str
    sequence: int
    previous: str
    entered: str
    observed: str
    author: str
    source: str
    body: Mapping[str, Any]

    def text(self) -> str:
        """Its canonical form, which is what is kept."""
        held = {key: getattr(self, key) for key in KEYS if key != "form"}
        return canonical({**held, "body": dict(self.body), "form": FORM})

    def hash(self) -> str:
        """SHA-256 of the canonical form: covers kind, order, author and context, not the body alone."""
        return digest(self.text())

    def subject(self) -> str:
        """What it belongs to: its visit, else the entry it is about, else itself."""
        for key in ("visit", "of"):
            found = self.body.get(key)
            if isinstance(found, str) and ID.fullmatch(found):
                return found
        return self.id


def _not_an_entry(where: str, why: str) -> RecordDamaged:
    return RecordDamaged(
        code="FW-R-001",
        where=where,
        read=why,
        expected="one entry in its canonical form",
        matters="what it said is not known; it counts as damaged and is told apart from all sound ones",
        do="run `fluewright journal check --all`, then restore from a backup or from another device",
    )


def entry_of(held: Any, *, where: str = "") -> Entry:
    """An entry from its fields, as they came out of JSON; whether they came from the canonical form is not looked at.

    held   what JSON gave
    where  for the error: which entry
    -> entry; RecordDamaged when these are not the fields of an entry
    """
    if not isinstance(held, dict) or set(held) != set(KEYS):
        raise _not_an_entry(where, "its fields are not those of an entry")
    whole = all(
        isinstance(held[key], int) and not isinstance(held[key], bool) for key in ("sequence", "version", "form")
    )
    texts = all(isinstance(held[key], str) for key in KEYS if key not in ("sequence", "version", "form", "body"))
    if not whole or not texts or not isinstance(held["body"], dict) or held["form"] != FORM:
        raise _not_an_entry(where, "its fields are not of their types")
    ids = ID.fullmatch(held["id"]) and ID.fullmatch(held["device"])
    if not ids or held["sequence"] < 1 or held["version"] < 1 or not 1 <= len(held["kind"]) <= KIND_MOST:
        raise _not_an_entry(where, "its id, device, number or kind is not one that is given")
    if not is_moment(held["entered"]) or not (held["observed"] == "" or is_moment(held["observed"])):
        raise _not_an_entry(where, "it does not say when it was entered, or seen, with the offset")
    return Entry(**{key: value for key, value in held.items() if key != "form"})


def entry_from(text: str, *, where: str = "") -> Entry:
    """An entry from its kept form.

    text   canonical form
    where  for the error: which entry
    -> entry; RecordDamaged when the text is not the canonical form of an entry
    """
    try:
        held = json.loads(text)
    except (ValueError, RecursionError) as error:
        raise _not_an_entry(where, f"its text does not hold together: {error}") from error
    entry = entry_of(held, where=where)
    try:
        same = entry.text() == text
    except EntryError as error:
        raise _not_an_entry(where, error.read) from error
    if not same:
        raise _not_an_entry(where, "its text is not in canonical form")
    return entry


def plain_fields(body: Mapping[str, Any]) -> dict[str, Any]:
    """The fields of a body that are not about people."""
    return {key: value for key, value in body.items() if not (isinstance(value, Mapping) and set(value) == {KEY})}
