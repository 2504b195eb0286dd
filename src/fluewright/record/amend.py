"""Amendments and strike-outs: what was entered stays, what it should have said stands beside it, with the reason."""

from collections.abc import Mapping, Sequence
from typing import Any

from fluewright.errors import EntryError, NotAllowed
from fluewright.record.draft import Draft, marked_private
from fluewright.record.entry import Entry
from fluewright.record.fold import CHANGES, Current, current
from fluewright.record.journal import Journal
from fluewright.record.kinds import KINDS
from fluewright.record.reading import Read
from fluewright.record.shape import need_fit

STAY = frozenset(
    ("device", "seal", "counter-seal", "revocation", "erasure", "hold", "hold lifted", "amendment", "struck out",
     "trace block")
)  # fmt: skip
"""Kinds that are not amended: each has its own way of being undone, or none."""

STRUCK_TOO = frozenset(("amendment", "struck out", "trace block"))
"""Of these, the ones that can be struck out."""

BONDS = ("visit", "of")
"""Fields that say what an entry belongs to: these are struck out and entered anew, never amended."""


FIXED: Mapping[str, Sequence[str]] = {
    "file": ("content", "bytes", "type"),
    "stretch": ("trace_block",),
    "danger closed": ("danger", "how", "knows"),
}
"""Fields by kind that the program made of what it had before it: other words would vouch for something else."""


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
        "trace block": "strike it out, and take the samples anew",
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
    return journal.add(strike(journal, entry_id, because=because, author=author))


def strike(journal: Journal, entry_id: str, *, because: str, author: str = "", chosen: str = "") -> Draft:
    """A strike-out before it is kept, so that several can be kept together.

    chosen  id of the strike-out, where the same may be sent twice
    """
    _need_reason(because)
    target = _target(journal, entry_id)
    if target.entry.kind in STAY - STRUCK_TOO:
        raise _not_so(target.entry.kind, "struck out")
    body = {"of": entry_id, "because": because, **_bond(target)}
    return Draft("struck out", body, author=author, id=chosen)


def amended(
    journal: Journal,
    entry_id: str,
    fields: Mapping[str, Any],
    *,
    because: str,
    author: str = "",
    chosen: str = "",
) -> Entry:
    """Amend some fields of an entry: the old and the new are both kept and both shown.

    entry_id  what is amended
    fields    the new values, None to take a field away; texts about people in the open, they are committed to
    because   the reason
    author    id of the person
    chosen    id of the amendment, where the same may be sent twice
    -> the amendment; EntryError without a reason or where a value does not fit, NotAllowed for a kind that is not
    """
    _need_reason(because)
    target = _target(journal, entry_id)
    if target.entry.kind in STAY:
        raise _not_so(target.entry.kind, "amended")
    bonds = [name for name in (*BONDS, *FIXED.get(target.entry.kind, ())) if name in fields]
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
    now = {**target.body, **fields}
    need_fit(kind, {name: value for name, value in now.items() if value is not None or kind.field(name) is None})
    knows = [each.entry.id for each in changes_of(journal, entry_id) if each.entry.kind == "amendment"]
    body = {"of": entry_id, "fields": marked_private(kind, fields), "because": because, **_bond(target)}
    told = {**body, **({"knows": knows} if knows else {})}
    return journal.add(Draft("amendment", told, author=author, id=chosen))


def changes_of(journal: Journal, entry_id: str) -> list[Read]:
    """Every amendment and strike-out of one entry, in the order in which this store got them."""
    target = journal.entry(entry_id)
    if target is None:
        return []
    reads = {read.entry.id: read for read in journal.of_subject(target.entry.subject())}
    reads |= {read.entry.id: read for read in journal.of_subject(entry_id)}
    return [read for read in reads.values() if read.entry.kind in CHANGES and read.body.get("of") == entry_id]


def standing(journal: Journal, entry_id: str) -> Current | None:
    """One entry as it stands, with its history; None when it is not here."""
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
    return next((each for each in current(beside.values()) if each.read.entry.id == entry_id), None)
