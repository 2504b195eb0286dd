"""Amendments and strike-outs: what was entered stays, what it should have said stands beside it, with the reason."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from fluewright.errors import EntryError, NotAllowed
from fluewright.record.entry import Entry
from fluewright.record.journal import Draft, Journal, marked_private
from fluewright.record.kinds import KINDS
from fluewright.record.reading import Read
from fluewright.record.shape import need_fit

CHANGES = ("amendment", "struck out")

STAY = frozenset(
    ("device", "seal", "counter-seal", "revocation", "erasure", "hold", "hold lifted", "amendment", "struck out")
)
"""Kinds that are not amended: each has its own way of being undone, or none."""

STRUCK_TOO = frozenset(("amendment", "struck out"))
"""Of these, the ones that can be struck out."""

BONDS = ("visit", "of")
"""Fields that say what an entry belongs to: these are struck out and entered anew, never amended."""


@dataclass(frozen=True, slots=True)
class Change:
    """One amendment or strike-out as it bears on an entry.

    read     the entry that changes
    fields   new values by field; none for a strike-out
    counts   whether it is itself not struck out
    """

    read: Read
    fields: Mapping[str, Any]
    counts: bool

    @property
    def entry(self) -> Entry:
        """The entry that changes."""
        return self.read.entry

    @property
    def because(self) -> str:
        """The reason."""
        return str(self.read.body["because"])


@dataclass(frozen=True, slots=True)
class Standing:
    """An entry as it stands after all that was amended.

    read       the entry as it was made
    body       its fields today; where devices disagree, as they were before they did
    struck     the strike-out that counts; None when it stands
    history    every change, with who, when and why
    conflicts  by field, the amendments of different devices that did not know of each other and differ
    """

    read: Read
    body: Mapping[str, Any]
    struck: Change | None
    history: tuple[Change, ...]
    conflicts: Mapping[str, tuple[Change, ...]]

    def was(self, name: str) -> list[tuple[Any, Change]]:
        """What a field was amended to, one after the other, with the change that did it."""
        return [(each.fields[name], each) for each in self.history if name in each.fields]


def _need_reason(because: str) -> None:
    if not because.strip():
        raise EntryError(
            code="FW-J-037",
            read="a change without a reason",
            expected="a reason, in a few words",
            matters="a record changed without a reason is taken for a record made to fit",
            do="say why",
        )


def _target(journal: Journal, entry_id: str) -> Read:
    found = journal.entry(entry_id)
    if found is None:
        raise EntryError(
            code="FW-J-038",
            where=f"entry {entry_id}",
            read="a change to an entry that is not here",
            expected="the id of an entry of this journal",
            matters="the change would stand without what it changes",
            do="copy the id from `fluewright visit show`, or fetch the entry from the other device first",
        )
    return found


def _not_so(kind: str, what: str) -> NotAllowed:
    ways = {
        "seal": "counter-seal it with its own meaning",
        "amendment": "amend the entry that it amends once more, or strike the amendment out",
        "struck out": "strike the strike-out out",
        "hold": "lift it",
    }
    return NotAllowed(
        code="FW-N-034",
        read=f"an entry of the kind {kind!r} to be {what}",
        expected="an entry that says what was seen, done or known",
        matters="what has effect by itself would have had another effect all along",
        do=ways.get(kind, "enter what is so now as an entry of its own"),
    )


def _bond(target: Read) -> dict[str, Any]:
    """The visit that a change belongs to, so that it lies where the visit is read and signed."""
    if target.entry.kind == "visit":
        return {"visit": target.entry.id}
    visit = target.entry.body.get("visit")
    return {"visit": visit} if visit else {}


def struck(journal: Journal, entry_id: str, *, because: str, author: str = "") -> Entry:
    """Strike an entry out: it stays readable and counts no more.

    entry_id  what is struck out; a strike-out struck out makes the entry count again
    because   the reason
    author    id of the person
    -> the strike-out; EntryError without a reason, NotAllowed for a kind that is not struck out
    """
    _need_reason(because)
    target = _target(journal, entry_id)
    if target.entry.kind in STAY - STRUCK_TOO:
        raise _not_so(target.entry.kind, "struck out")
    return journal.add(Draft("struck out", {"of": entry_id, "because": because, **_bond(target)}, author=author))


def amended(journal: Journal, entry_id: str, fields: Mapping[str, Any], *, because: str, author: str = "") -> Entry:
    """Amend some fields of an entry: the old and the new are both kept and both shown.

    entry_id  what is amended
    fields    the new values; texts about people in the open, they are committed to as in the entry itself
    because   the reason
    author    id of the person
    -> the amendment; EntryError without a reason or where a value does not fit, NotAllowed for a kind that is not
    """
    _need_reason(because)
    target = _target(journal, entry_id)
    if target.entry.kind in STAY:
        raise _not_so(target.entry.kind, "amended")
    bonds = [name for name in BONDS if name in fields]
    if not target.known or bonds or not fields:
        raise EntryError(
            code="FW-J-039",
            where=f"entry {entry_id}",
            read=f"an amendment of {', '.join(bonds) or 'no field'}" if target.known else "an entry of a newer program",
            expected="other words or figures for fields that this version knows",
            matters="an entry moved to another visit, or changed unseen, could not be followed any more",
            do="strike it out and enter it where it belongs",
        )
    kind = KINDS[target.entry.kind]
    need_fit(kind, {**target.body, **fields})
    knows = [each.entry.id for each in changes_of(journal, entry_id) if each.entry.kind == "amendment"]
    body = {"of": entry_id, "fields": marked_private(kind, fields), "because": because, **_bond(target)}
    return journal.add(Draft("amendment", {**body, **({"knows": knows} if knows else {})}, author=author))


def changes_of(journal: Journal, entry_id: str) -> list[Read]:
    """Every amendment and strike-out of one entry, in the order in which this store got them."""
    target = journal.entry(entry_id)
    if target is None:
        return []
    reads = {read.entry.id: read for read in journal.of_subject(target.entry.subject())}
    reads |= {read.entry.id: read for read in journal.of_subject(entry_id)}
    return [read for read in reads.values() if read.entry.kind in CHANGES and read.body.get("of") == entry_id]


def _counts(changes: Mapping[str, Sequence[Read]], entry_id: str) -> bool:
    """Whether an entry is not struck out; a strike-out that is itself struck out does nothing."""
    strikes = [each for each in changes.get(entry_id, ()) if each.entry.kind == "struck out"]
    return not any(_counts(changes, each.entry.id) for each in strikes)


def _order(change: Change) -> tuple[int, str, int]:
    """Those that know more come later; otherwise by device and number, the same on every machine."""
    return len(change.read.body.get("knows", ())), change.entry.device, change.entry.sequence


def _conflicts(changes: Sequence[Change]) -> dict[str, tuple[Change, ...]]:
    """By field, the latest amendments that did not know of each other and differ."""
    found: dict[str, tuple[Change, ...]] = {}
    for name in {name for each in changes for name in each.fields}:
        those = [each for each in changes if name in each.fields]
        replaced = {known for each in those for known in each.read.body.get("knows", ())}
        last = tuple(each for each in those if each.entry.id not in replaced)
        if len({repr(each.fields[name]) for each in last}) > 1:
            found[name] = last
    return found


def _standing(read: Read, changes: Mapping[str, Sequence[Read]]) -> Standing:
    told = sorted(
        (
            Change(each, each.body.get("fields", {}), _counts(changes, each.entry.id))
            for each in changes.get(read.entry.id, ())
        ),
        key=_order,
    )
    counting = [each for each in told if each.counts and each.entry.kind == "amendment"]
    conflicts = _conflicts(counting)
    body = dict(read.body)
    for each in counting:
        open_ones = {name for name, those in conflicts.items() if each in those}
        body |= {name: value for name, value in each.fields.items() if name not in open_ones}
    strikes = [each for each in told if each.counts and each.entry.kind == "struck out"]
    return Standing(read, body, strikes[0] if strikes else None, tuple(told), conflicts)


def as_they_stand(reads: Iterable[Read]) -> list[Standing]:
    """Entries as they stand after amendments and strike-outs among them; the changes themselves are not listed.

    reads  all entries of a subject, changes included, in any order
    -> the others in their order, each with its body of today and its history
    """
    every = list(reads)
    changes: dict[str, list[Read]] = {}
    for read in every:
        if read.entry.kind in CHANGES and read.known:
            changes.setdefault(str(read.body.get("of")), []).append(read)
    return [_standing(read, changes) for read in every if read.entry.kind not in CHANGES]


def standing(journal: Journal, entry_id: str) -> Standing | None:
    """One entry as it stands; None when it is not here."""
    read = journal.entry(entry_id)
    if read is None:
        return None
    beside = {each.entry.id: each for each in journal.of_subject(read.entry.subject())}
    beside[entry_id] = read
    waiting = {entry_id, *(each.entry.id for each in beside.values() if each.body.get("of") == entry_id)}
    while waiting:
        more = [each for each in journal.of_subject(waiting.pop()) if each.entry.id not in beside]
        beside |= {each.entry.id: each for each in more}
        waiting |= {each.entry.id for each in more}
    return next(each for each in as_they_stand(beside.values()) if each.read.entry.id == entry_id)
