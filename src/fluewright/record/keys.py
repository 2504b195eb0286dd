"""Keys that sign seals: what any key can do, which keys a journal knows, and from when on one counts no more.

A key is only ever asked for its public half and for a signature. So it may lie in a file, or in a browser that never
gives it out: there the bytes to sign are handed over and the signature comes back later (`seal.prepared`, `seal.kept`).
"""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Protocol

from sqlalchemy import select

from fluewright.errors import EntryError, NotAllowed
from fluewright.record.entry import Entry, entry_from
from fluewright.record.journal import Draft, Journal
from fluewright.record.reading import Read
from fluewright.record.tables import ENTRY

ED25519 = "Ed25519"
"""The algorithm of RFC 8032, the only one that this version signs with."""

Holds = Callable[[str, bytes, str], bool]
"""Whether a signature holds: public key, content, signature; texts in hexadecimal."""


class Key(Protocol):
    """Something that signs.

    public     its public half, hexadecimal
    algorithm  its word, such as Ed25519
    """

    @property
    def public(self) -> str:
        """Its public half, hexadecimal."""

    @property
    def algorithm(self) -> str:
        """The word of its algorithm."""

    def sign(self, content: bytes) -> str:
        """The signature over some bytes, hexadecimal."""


def verifiers() -> Mapping[str, Holds]:
    """How a signature of each algorithm is checked."""
    from fluewright.record.keys_ed25519 import holds

    return {ED25519: holds}


@dataclass(frozen=True, slots=True)
class Revocation:
    """A key that counts no more.

    key       public half
    since     from this moment on
    entered   when that was written down
    device    the device whose key it was; empty when it was a person's
    sequence  number of the last entry of that device that was in hand when the key was revoked
    """

    key: str
    since: datetime
    entered: datetime
    device: str
    sequence: int


def known_keys(journal: Journal) -> dict[str, set[str]]:
    """Public keys that the journal knows, with the ids of the devices or persons who named them.

    A device names its key in its own chain: a `device` entry counts for the device that wrote it and no other.
    """
    found: dict[str, set[str]] = {}
    for read in journal.of_kind("device", "person"):
        key = read.body.get("key")
        if isinstance(key, str) and key:
            owner = read.entry.device if read.entry.kind == "device" else read.entry.id
            found.setdefault(key, set()).add(owner)
    return found


def _revocation(read: Read) -> Revocation:
    body = read.body
    return Revocation(
        key=str(body["key"]),
        since=datetime.fromisoformat(str(body["since"])),
        entered=datetime.fromisoformat(read.entry.entered),
        device=str(body.get("device", "")),
        sequence=int(body.get("sequence", 0)),
    )


def revocations(journal: Journal) -> dict[str, Revocation]:
    """The earliest revocation of each key."""
    found: dict[str, Revocation] = {}
    for read in (each for each in journal.of_kind("revocation") if each.known):
        one = _revocation(read)
        if one.key not in found or one.since < found[one.key].since:
            found[one.key] = one
    return found


def revoked(journal: Journal, key: str, *, since: datetime, because: str, author: str = "") -> Entry:
    """Revoke a key from a moment on; what it signed before stays good.

    The number of the device's last entry that is in hand goes with it: what lies up to there cannot have been forged
    afterwards, whatever a clock says.

    key      public half, hexadecimal, of a device or a person
    since    the moment from which it counts no more, such as when the phone was last seen
    because  the reason
    -> entry; EntryError when the journal does not know the key
    """
    owners = known_keys(journal).get(key)
    if not owners:
        raise EntryError(
            code="FW-J-030",
            read=f"the key {key[:16]}...",
            expected="a key that a device or a person of this journal has named",
            matters="revoking another key would leave the lost one in force",
            do="copy the key from `fluewright journal keys`",
        )
    body: dict[str, object] = {"key": key, "since": since.isoformat(), "because": because}
    for last in journal.anchors():
        if last.device in owners:
            body |= {"device": last.device, "sequence": last.sequence}
    return journal.add(Draft("revocation", body, author=author))


def need_in_force(journal: Journal, key: str) -> None:
    """Refuse to sign with a key that was revoked; a clock set back does not help, what is written down counts.

    -> nothing; NotAllowed when it counts no more
    """
    found = revocations(journal).get(key)
    if found is not None and found.since <= max(journal.now(), found.entered):
        raise NotAllowed(
            code="FW-N-030",
            read=f"a seal with a key that counts no more since {found.since.isoformat()}",
            expected="a key in force",
            matters="whoever holds a lost device could sign in the name of the shop",
            do="seal it on another device; what this key signed before stays good",
        )


def _after(journal: Journal, revocation: Revocation, entry: Entry) -> bool:
    """Whether an entry stands, on its device, at or behind the first one of the time when the key no longer counted."""
    asked = (
        select(ENTRY.c.text)
        .where(ENTRY.c.device == entry.device, ENTRY.c.sequence <= entry.sequence)
        .order_by(ENTRY.c.sequence)
    )
    with journal.store.reading() as connection:
        texts: Sequence[str] = connection.scalars(asked).all()
    return any(datetime.fromisoformat(entry_from(text).entered) >= revocation.since for text in texts)


def doubt(journal: Journal, key: str, entry: Entry) -> str:
    """Why a signature of this key in this entry does not count; empty when it does.

    Order is by number on the device first. An entry counts as after the revocation when it, or any entry before it on
    its device, was entered at that moment or later: a clock that is set back afterwards changes nothing. An entry
    whose number is beyond what was in hand when the key was revoked rests on the word of the lost device alone, and
    is told as such even where its own clock says that it is older.

    key    public half
    entry  the seal
    -> a sentence; empty when the signature counts
    """
    found = revocations(journal).get(key)
    if found is None:
        return ""
    if _after(journal, found, entry):
        return f"it was signed after its key was revoked ({found.since.isoformat()})"
    if found.device == entry.device and entry.sequence > found.sequence:
        return (
            "it came in after its key was revoked, and only the lost device says that it is older; "
            "a counter-seal with another key would settle it"
        )
    return ""
