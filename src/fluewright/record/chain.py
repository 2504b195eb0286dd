"""Each device's entries as one chain of hashes, and the anchors that leave the device."""

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import NamedTuple

from fluewright.errors import EntryError, RecordDamaged
from fluewright.record.canonical import digest
from fluewright.record.entry import NOTHING_BEFORE, entry_from

SHORT = 20
"""Hexadecimal digits of a hash that are printed: 80 bits, beyond anyone's searching."""


@dataclass(frozen=True, slots=True)
class Anchor:
    """The last entry of a device as someone else knows it.

    device    id of the device
    sequence  number of its last entry
    hash      the hash of that entry, or its first digits where it was printed
    """

    device: str
    sequence: int
    hash: str

    def printed(self) -> str:
        """Device, number and the first digits of the hash, in groups of four for the eye."""
        digits = self.hash[:SHORT]
        return f"{self.device} {self.sequence} " + " ".join(digits[i : i + 4] for i in range(0, len(digits), 4))

    def agrees(self, found: str) -> bool:
        """Whether a full hash is the one that this anchor names."""
        return found.startswith(self.hash)


ANCHOR = re.compile(r"\s*([0-9a-f-]{36})\s+(\d{1,15})\s+([0-9a-f ]{16,90})\s*")


def anchor_from(text: str) -> Anchor:
    """An anchor as it is printed on a sheet or stands in a receipt.

    text  device, number, hash or its first 16 digits and more, spaces anywhere in it
    -> anchor; EntryError when it is not one
    """
    found = ANCHOR.fullmatch(text.lower())
    digits = found[3].replace(" ", "") if found else ""
    if found is None or not 16 <= len(digits) <= 64:
        raise EntryError(
            code="FW-J-003",
            read=f"{text[:120]!r}",
            expected="the id of a device, a number and 16 or more hexadecimal digits, as printed on a sheet",
            matters="without it a missing end of the journal cannot be noticed",
            do="copy the line headed 'anchor' from the last printed sheet, receipt or backup name",
        )
    return Anchor(found[1], int(found[2]), digits)


@dataclass(frozen=True, slots=True)
class Break:
    """A place where a chain does not hold.

    device, sequence  the first entry that cannot be relied on
    why               what was found there
    """

    device: str
    sequence: int
    why: str

    def sentence(self) -> str:
        """The break in words."""
        return f"device {self.device}, entry {self.sequence}: {self.why}"


class Row(NamedTuple):
    """One kept entry as it lies in a store.

    text  canonical form
    hash  the hash that was kept beside it
    id    the id that was kept beside it
    """

    device: str
    sequence: int
    id: str
    hash: str
    text: str


_END = re.compile(
    r'\},"device":"([0-9a-f-]{36})","entered":"[^"\\]*","form":1,"id":"([0-9a-f-]{36})","kind":"([^"\\]*)",'
    r'"observed":"[^"\\]*","previous":"([0-9a-f]{64})","sequence":([1-9]\d*),"source":"[^"\\]*","version":[1-9]\d*\}\Z'
)
"""The part of an entry's text behind its body. No text within the body can look like it, since there each quotation
mark is written with a stroke before it."""


def _envelope(text: str) -> tuple[str, int, str, str] | None:
    """Device, number, id and hash before it, from the end of a text; None when it does not end like an entry."""
    found = _END.search(text, max(0, text.rfind('},"device":"')))
    return (found[1], int(found[5]), found[2], found[4]) if found else None


def end_of(text: str) -> tuple[int, str]:
    """Where the body of an entry's text ends, and the word of its kind; 0 and none where it does not end like one."""
    found = _END.search(text, max(0, text.rfind('},"device":"')))
    return (found.start(), found[3]) if found else (0, "")


def _wrong_in(row: Row, expected: int, previous: str, fully: bool) -> str:
    """What is wrong with one row of a chain; empty when nothing is."""
    if row.sequence != expected:
        return (
            f"entries {expected} to {row.sequence - 1} are missing"
            if row.sequence > expected
            else "it stands there twice"
        )
    if digest(row.text) != row.hash:
        return "its content is not the one that was kept: the hash differs"
    found = None if fully else _envelope(row.text)
    if found is None:
        try:
            entry = entry_from(row.text)
        except RecordDamaged as error:
            return error.read
        found = entry.device, entry.sequence, entry.id, entry.previous
    if found[:3] != (row.device, row.sequence, row.id):
        return "it was kept under another device, number or id"
    if found[3] != previous:
        return "it does not follow the entry before it: one was changed, put in or taken out"
    return ""


def breaks(rows: Iterable[Row], *, fully: bool = True) -> Iterator[Break]:
    """Walk chains and tell where they do not hold; after a break the walk goes on from what is there.

    rows   all rows, devices one after the other, each by rising number
    fully  whether each text is also read as an entry; the hash covers every byte of it either way
    -> breaks in that order; none for a whole journal
    """
    device, expected, previous = "", 1, NOTHING_BEFORE
    for row in rows:
        if row.device != device:
            device, expected, previous = row.device, 1, NOTHING_BEFORE
        wrong = _wrong_in(row, expected, previous, fully)
        if wrong:
            yield Break(row.device, min(row.sequence, expected) if "missing" in wrong else row.sequence, wrong)
        expected, previous = row.sequence + 1, row.hash
