"""Two stores made one: the union of each device's chain, by its numbers.

Nobody chooses between entries: what one has and the other lacks is added, what both have is left. A device numbers its
own entries, so the union has one form only, whatever the order in which messages come and however often. Where two
entries claim one number of one device, neither is put in the other's place, and both hashes are told.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from typing import Protocol

from fluewright.record.chain import Anchor
from fluewright.record.entry import NOTHING_BEFORE, Entry
from fluewright.record.kinds import KINDS
from fluewright.record.parcel import Ends, Parcel, Piece, said_in
from fluewright.record.personal import erased_by
from fluewright.record.practice import practises

SPOILT_TOLD = 5
"""Dropped lines whose reason is told; the others are counted."""


class Keeper(Protocol):
    """A store as a merge sees it, within one transaction."""

    def end(self, device: str) -> Anchor | None:
        """The last entry of a device; None when it has none here."""

    def hash_of(self, device: str, sequence: int) -> str:
        """The hash of one kept entry; empty when it is not here."""

    def keep(self, parcels: Sequence[Parcel], erased: set[str]) -> None:
        """Add entries in this order, with their values except the erased ones."""

    def erased(self) -> set[str]:
        """Commitments that entries kept so far have erased."""


@dataclass(frozen=True, slots=True)
class Fork:
    """One number of one device, claimed by two entries: a copy of the device was written to.

    device, sequence  where the histories part
    ours, theirs      the two hashes
    """

    device: str
    sequence: int
    ours: str
    theirs: str

    def sentence(self) -> str:
        """The fork in words."""
        return (
            f"device {self.device} has two histories from its entry {self.sequence} on: "
            f"here {self.ours}, there {self.theirs}; nothing of the other was taken, both stores stay as they are"
        )


@dataclass(slots=True)
class Taken:
    """What became of the lines of a message.

    new       entries taken in
    already   entries that were here
    early     entries whose predecessors have not come yet; they come again
    unknown   entries among the new whose kind or form a later version wrote; kept as they are
    erased    values about people that came and were not taken, because they were erased
    demanded  commitments that new entries erase: what is here of them is to be taken away next
    spoilt    lines dropped
    why       reasons of the first of them
    forks     where the histories of one device part
    strangers devices whose first entry does not introduce them; nothing of theirs was taken
    own       entries of this store's own device that came back from outside: its end had been lost
    ends      what the other has, when it said so
    pieces    pieces of files
    bytes     bytes of files taken
    files     files that are now whole
    gone      values taken away after an erasure
    others    names of files that came and were another than the one that is named
    """

    new: int = 0
    already: int = 0
    early: int = 0
    unknown: int = 0
    erased: int = 0
    demanded: set[str] = field(default_factory=set)
    spoilt: int = 0
    own: int = 0
    why: list[str] = field(default_factory=list)
    forks: list[Fork] = field(default_factory=list)
    strangers: set[str] = field(default_factory=set)
    ends: Ends | None = None
    pieces: list[Piece] = field(default_factory=list)
    bytes: int = 0
    files: int = 0
    gone: int = 0
    others: set[str] = field(default_factory=set)

    def add(self, other: "Taken") -> None:
        """Count another message's lines with these."""
        for name in ("new", "already", "early", "unknown", "erased", "spoilt", "own", "bytes", "files", "gone"):
            setattr(self, name, getattr(self, name) + getattr(other, name))
        self.why = (self.why + other.why)[:SPOILT_TOLD]
        for fork in other.forks:
            self.tell(fork)
        self.strangers |= other.strangers
        self.demanded |= other.demanded
        self.others |= other.others
        self.ends = other.ends or self.ends
        self.pieces += other.pieces

    def tell(self, fork: Fork) -> None:
        """Note a fork; the first of each device says where its histories part."""
        if all(each.device != fork.device for each in self.forks):
            self.forks.append(fork)

    def drop(self, why: str) -> None:
        """Count a line that was dropped."""
        self.spoilt += 1
        if len(self.why) < SPOILT_TOLD:
            self.why.append(why)


def is_known(entry: Entry) -> bool:
    """Whether this version knows the kind and form of an entry."""
    kind = KINDS.get(entry.kind)
    return kind is not None and entry.version <= kind.version


class _Walk:
    """Parcels set against the chains of a store; those that go on are gathered in the order in which they came."""

    def __init__(self, keeper: Keeper, taken: Taken) -> None:
        self.keeper = keeper
        self.taken = taken
        self.ends: dict[str, Anchor | None] = {}
        self.gone: dict[tuple[str, int], str] = {}
        self.new: list[Parcel] = []
        self.practising: set[str] = set()

    def _fork(self, entry: Entry, sequence: int, ours: str, theirs: str) -> None:
        self.taken.tell(Fork(entry.device, sequence, ours, theirs))

    def _met(self, parcel: Parcel) -> None:
        """An entry whose number is here already."""
        at = (parcel.entry.device, parcel.entry.sequence)
        ours = self.gone.get(at) or self.keeper.hash_of(*at)
        if ours == parcel.hash:
            self.taken.already += 1
        else:
            self._fork(parcel.entry, parcel.entry.sequence, ours, parcel.hash)

    def _practises(self, entry: Entry) -> bool:
        """Whether an entry is of a journal for practice, which is dropped and told once."""
        if practises(entry) and entry.device not in self.practising:
            self.practising.add(entry.device)
            self.taken.drop(f"device {entry.device} writes a journal for practice; nothing of it was taken")
        return entry.device in self.practising

    def step(self, parcel: Parcel) -> bool:
        """Set one parcel against its chain; -> False when it came too early."""
        entry = parcel.entry
        if self._practises(entry):
            return True
        if entry.device not in self.ends:
            self.ends[entry.device] = self.keeper.end(entry.device)
        end = self.ends[entry.device]
        number, last = (end.sequence, end.hash) if end is not None else (0, NOTHING_BEFORE)
        if entry.sequence <= number:
            self._met(parcel)
        elif entry.sequence > number + 1:
            return False
        elif end is None and (entry.kind != "device" or entry.id != entry.device):
            self.taken.strangers.add(entry.device)
        elif entry.previous != last:
            self._fork(entry, number, last, entry.previous)
        else:
            self.new.append(parcel)
            self.ends[entry.device] = Anchor(entry.device, entry.sequence, parcel.hash)
            self.gone[entry.device, entry.sequence] = parcel.hash
        return True


def _walked(keeper: Keeper, parcels: list[Parcel], taken: Taken) -> list[Parcel]:
    """The parcels that go on from what is kept; those that came too early get further turns while any goes on."""
    walk, waiting = _Walk(keeper, taken), parcels
    while waiting:
        early = [parcel for parcel in waiting if not walk.step(parcel)]
        if len(early) == len(waiting):
            taken.early += len(early)
            break
        waiting = sorted(early, key=lambda parcel: parcel.entry.sequence)
    return walk.new


def _erased_by(parcels: Iterable[Parcel]) -> set[str]:
    """Commitments that these entries erase."""
    return {each for parcel in parcels if parcel.entry.kind == "erasure" for each in erased_by(parcel.entry.body)}


def taken_in(keeper: Keeper, lines: Iterable[bytes], *, own: str = "") -> Taken:
    """Take in what a message brings.

    keeper  the store, in a transaction that ends after this: what is counted as new is kept when it has ended
    lines   of the message, whole ones with their end
    own     the device of this store
    -> what became of them; nothing is raised for a line that cannot be taken
    """
    taken, parcels = Taken(), list[Parcel]()
    for line in lines:
        said = said_in(line)
        if isinstance(said, Parcel):
            parcels.append(said)
        elif isinstance(said, Ends):
            taken.ends = said
        elif isinstance(said, Piece):
            taken.pieces.append(said)
        else:
            taken.drop(said)
    new = _walked(keeper, parcels, taken)
    if new:
        taken.demanded = _erased_by(new)
        erased = keeper.erased() | taken.demanded
        keeper.keep(new, erased)
        taken.erased = sum(secret.commitment in erased for parcel in new for secret in parcel.secrets)
    taken.new = len(new)
    taken.unknown = sum(not is_known(parcel.entry) for parcel in new)
    taken.own = sum(parcel.entry.device == own for parcel in new)
    return taken


def lacking(ours: Sequence[Anchor], theirs: Ends) -> dict[str, int]:
    """From which number on each device's entries are to be sent.

    ours    the ends of the store that sends
    theirs  what the other has
    -> by device, the last number that the other has; devices of which it lacks nothing are left out
    """
    known = theirs.known()
    return {
        end.device: known[end.device].sequence if end.device in known else 0
        for end in ours
        if end.device not in known or known[end.device].sequence < end.sequence
    }
