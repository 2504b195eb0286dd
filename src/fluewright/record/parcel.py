"""One line of a sync message: whole or dropped, and told from its own content whether it is what was sent."""

import json
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from fluewright.errors import EntryError, RecordDamaged
from fluewright.record.canonical import WHOLE_MOST, canonical, digest
from fluewright.record.chain import Anchor
from fluewright.record.entry import Entry, entry_of
from fluewright.record.personal import Secret, commitment, commitments_in
from fluewright.record.shape import HASH, ID


@dataclass(frozen=True, slots=True)
class Parcel:
    """An entry on its way, with what may be erased later, both in one line, so that none comes without the other.

    entry    as its device wrote it
    text     its canonical form
    hash     of that text
    secrets  the values about people that the sender still has
    """

    entry: Entry
    text: str
    hash: str
    secrets: tuple[Secret, ...] = ()

    def line(self) -> bytes:
        """Its line in a message."""
        return parcel_line(self.text, self.hash, self.secrets)


@dataclass(frozen=True, slots=True)
class Ends:
    """What a store has: the last entry of each device, and files that it lacks.

    by     the device that says so
    ends   last number and hash of each device whose entries it has
    lacks  hashes of files that its entries name and it has not, with the bytes of each that it has already
    """

    by: str
    ends: tuple[Anchor, ...]
    lacks: tuple[tuple[str, int], ...] = ()

    def line(self) -> bytes:
        """Its line in a message."""
        ends = [[each.device, each.sequence, each.hash] for each in self.ends]
        held: dict[str, Any] = {"by": self.by, "ends": ends}
        if self.lacks:
            held["lacks"] = [list(each) for each in self.lacks]
        return (canonical(held) + "\n").encode()

    def known(self) -> dict[str, Anchor]:
        """The ends by device."""
        return {each.device: each for each in self.ends}


@dataclass(frozen=True, slots=True)
class Piece:
    """Some bytes of a file, so that a long one can go on where the line was cut.

    hash   SHA-256 of the whole file
    at     where these bytes begin
    size   bytes of the whole file
    part   the bytes
    """

    hash: str
    at: int
    size: int
    part: bytes

    def line(self) -> bytes:
        """Its line in a message."""
        from base64 import b64encode

        held = {"at": self.at, "bytes": b64encode(self.part).decode(), "file": self.hash, "size": self.size}
        return (canonical(held) + "\n").encode()


Said = Parcel | Ends | Piece
"""What a line can say."""


def parcel_line(text: str, hash_: str, secrets: Sequence[Secret]) -> bytes:
    """The line of an entry, from what lies in a store; the entry's own text stands in it as it is."""
    values = canonical([[each.salt, each.value] for each in secrets])
    return f'{{"entry":{text},"hash":"{hash_}","secrets":{values}}}\n'.encode()


def _secrets_from(given: Any, entry: Entry) -> tuple[Secret, ...]:
    """The values of an entry that prove to be the ones that it committed to; others are left behind."""
    if not isinstance(given, list):
        return ()
    asked = set(commitments_in(entry.body))
    found = []
    for each in given:
        if isinstance(each, list) and len(each) == 2 and all(isinstance(part, str) for part in each):
            secret = Secret(commitment(each[0], each[1]), each[0], each[1])
            if secret.commitment in asked:
                found.append(secret)
    return tuple(found)


def _parcel_from(held: Mapping[str, Any]) -> Parcel | str:
    try:
        entry = entry_of(held["entry"])
        text = entry.text()
        found = digest(text)
        secrets = _secrets_from(held.get("secrets"), entry)
    except (RecordDamaged, EntryError) as error:
        return error.read
    if found != held.get("hash"):
        return "its hash is not the one of its content"
    return Parcel(entry, text, found, secrets)


def _is_count(value: Any) -> bool:
    return isinstance(value, int) and not isinstance(value, bool) and 0 <= value <= WHOLE_MOST


def _end_from(given: Any) -> Anchor | None:
    match given:
        case [str(device), int(sequence), str(found)] if (
            ID.fullmatch(device) and HASH.fullmatch(found) and sequence and _is_count(sequence)
        ):
            return Anchor(device, sequence, found)
    return None


def _lack_from(given: Any) -> tuple[str, int] | None:
    match given:
        case [str(found), int(held)] if HASH.fullmatch(found) and _is_count(held):
            return found, held
    return None


def _ends_from(held: Mapping[str, Any]) -> Ends | str:
    by, ends, lacks = held.get("by"), held["ends"], held.get("lacks", [])
    if not isinstance(by, str) or not ID.fullmatch(by) or not isinstance(ends, list) or not isinstance(lacks, list):
        return "it does not say who has what"
    found, missing = [_end_from(each) for each in ends], [_lack_from(each) for each in lacks]
    if None in found or None in missing:
        return "an end is a device, a number and a hash, and a file is a hash and how much of it is there"
    return Ends(by, tuple(each for each in found if each), tuple(each for each in missing if each))


def _piece_from(held: Mapping[str, Any]) -> Piece | str:
    from base64 import b64decode

    hash_, at, size, given = held["file"], held.get("at"), held.get("size"), held.get("bytes")
    if not isinstance(hash_, str) or not HASH.fullmatch(hash_) or not isinstance(given, str):
        return "a piece of a file has a hash and bytes"
    if not _is_count(at) or not _is_count(size):
        return "a piece of a file has a place and a size"
    try:
        return Piece(hash_, int(at or 0), int(size or 0), b64decode(given, validate=True))
    except ValueError:
        return "the bytes of a file do not hold together"


def said_in(line: bytes) -> Said | str:
    """What one line says.

    line  one line of a message, with its end; a line without one was cut and says nothing
    -> what it says, or in words why it is dropped
    """
    if not line.endswith(b"\n"):
        return "it was cut"
    try:
        held = json.loads(line)
    except (ValueError, RecursionError):
        return "it does not hold together"
    if isinstance(held, dict):
        if "entry" in held:
            return _parcel_from(held)
        if "ends" in held:
            return _ends_from(held)
        if "file" in held:
            return _piece_from(held)
    return "it says nothing that this version knows"


def lines_in(message: bytes) -> list[bytes]:
    """The lines of a message, each with its end; the last may have been cut."""
    return message.splitlines(keepends=True)
