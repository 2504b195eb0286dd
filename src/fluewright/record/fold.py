"""Entries with what later entries say of them: amendments applied, strike-outs heeded, nothing taken away.

The outcome depends on the set of entries alone, never on the order in which a store got them, so that two devices
that hold the same entries show the same words.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import UTC, datetime
from typing import Any

from fluewright.record.today import Read

AMENDS = "amendment"
STRIKES = "struck out"
CHANGES = frozenset({AMENDS, STRIKES})
"""Kinds that say something about the entry in their field `of`."""

_FIRST = datetime.min.replace(tzinfo=UTC)


@dataclass(frozen=True, slots=True)
class Change:
    """One amendment of an entry that counts.

    read    the amendment: who, when, and its reason
    before  the fields it names as they stood before it; None for one that was not there
    after   the same fields after it; None for one that it took away
    """

    read: Read
    before: Mapping[str, Any]
    after: Mapping[str, Any]


@dataclass(frozen=True, slots=True)
class Current:
    """An entry as it stands now.

    read      the entry as it was written
    body      its fields with all amendments that count
    history   these amendments, oldest first
    struck    the strike-outs that count; none when the entry counts
    disputed  fields that amendments of several devices set differently; all are kept, one is settled by striking out
              the others, or by an amendment that knows of them
    """

    read: Read
    body: Mapping[str, Any]
    history: tuple[Change, ...] = ()
    struck: tuple[Read, ...] = ()
    disputed: tuple[str, ...] = ()

    @property
    def counts(self) -> bool:
        """Whether it was not struck out."""
        return not self.struck


def target_of(read: Read) -> str:
    """Id of the entry that an amendment or a strike-out is about; empty for entries of other kinds."""
    return str(read.body.get("of", "")) if read.entry.kind in CHANGES else ""


def moment(text: str) -> datetime:
    """A kept moment, comparable with those of other offsets; the earliest of all where it cannot be read."""
    try:
        found = datetime.fromisoformat(text)
    except ValueError:
        return _FIRST
    return found if found.tzinfo is not None else found.replace(tzinfo=UTC)


def in_order(reads: Iterable[Read]) -> list[Read]:
    """Entries of several devices in an order that is the same everywhere.

    Within a device the number decides and the clock never does: a clock that was set back only holds its later
    entries at the latest moment seen so far. Between devices moments are all there is.

    reads  entries, each at most once
    -> the same, by moment, device and number
    """
    keyed: list[tuple[datetime, str, int, Read]] = []
    latest: dict[str, datetime] = {}
    for read in sorted(reads, key=lambda each: each.entry.sequence):
        device = read.entry.device
        latest[device] = max(latest.get(device, _FIRST), moment(read.entry.entered))
        keyed.append((latest[device], device, read.entry.sequence, read))
    return [each[3] for each in sorted(keyed, key=lambda each: each[:3])]


def _striking(strikes: Mapping[str, Sequence[Read]]) -> dict[str, tuple[Read, ...]]:
    """By entry the strike-outs that count, where a strike-out may itself be struck out.

    One is settled when all that strike it are settled. Strike-outs that strike each other in a circle never are, and
    strike nothing.
    """
    settled: dict[str, tuple[Read, ...]] = {}
    waiting = {each.entry.id for several in strikes.values() for each in several} | set(strikes)
    while True:
        ready = [each for each in waiting if all(by.entry.id in settled for by in strikes.get(each, ()))]
        if not ready:
            return settled
        for each in ready:
            settled[each] = tuple(by for by in strikes.get(each, ()) if not settled[by.entry.id])
        waiting.difference_update(ready)


def _knows(read: Read, other: Read) -> bool:
    """Whether whoever wrote one amendment had the other before them."""
    known = read.body.get("knows")
    return isinstance(known, list | tuple) and other.entry.id in known


def _heeding(
    said: Sequence[tuple[Read, Mapping[str, Any]]],
) -> list[tuple[Read, Mapping[str, Any]]]:
    """Amendments in their order, except that one never stands before another that it knows of, whatever clocks say."""
    placed: list[tuple[Read, Mapping[str, Any]]] = []
    for each in said:
        at = next((at for at, (later, _) in enumerate(placed) if _knows(later, each[0])), len(placed))
        placed.insert(at, each)
    return placed


def _amended(
    body: Mapping[str, Any], amendments: Sequence[tuple[Read, Mapping[str, Any]]]
) -> tuple[dict[str, Any], tuple[Change, ...]]:
    """A body with amendments applied, oldest first, and what each changed."""
    now = dict(body)
    history = []
    for read, fields in amendments:
        before = {name: now.get(name) for name in fields}
        now = {name: value for name, value in {**now, **fields}.items() if value is not None}
        history.append(Change(read, before, dict(fields)))
    return now, tuple(history)


def _disputed(amendments: Sequence[tuple[Read, Mapping[str, Any]]]) -> tuple[str, ...]:
    """Fields whose last words differ from device to device; words that a later amendment knew of are not the last."""
    last: dict[str, dict[str, Any]] = {}
    for read, fields in amendments:
        for name, value in fields.items():
            if any(name in others and _knows(later, read) for later, others in amendments):
                continue
            last.setdefault(name, {})[read.entry.device] = value
    return tuple(
        name for name, said in last.items() if any(value != next(iter(said.values())) for value in said.values())
    )


def _fields(read: Read, amended: Mapping[str, Sequence[Read]], struck: Mapping[str, Any]) -> Mapping[str, Any]:
    """What an amendment sets, itself amended at most once over: an amendment of an amendment replaces its fields."""
    body: dict[str, Any] = dict(read.body)
    for later in amended.get(read.entry.id, ()):
        fields = later.body.get("fields")
        if not struck.get(later.entry.id) and isinstance(fields, Mapping):
            body.update(fields)
    found = body.get("fields")
    return found if isinstance(found, Mapping) else {}


def current(reads: Iterable[Read]) -> tuple[Current, ...]:
    """Entries as they stand now.

    reads  entries with all amendments and strike-outs of them, in any order; each at most once
    -> all that are not amendments or strike-outs themselves, in the order given
    """
    given = list(reads)
    changes = in_order(each for each in given if each.entry.kind in CHANGES and each.known)
    amended: dict[str, list[Read]] = {}
    strikes: dict[str, list[Read]] = {}
    for each in changes:
        (amended if each.entry.kind == AMENDS else strikes).setdefault(target_of(each), []).append(each)
    if not changes:
        return tuple(Current(each, each.body) for each in given if each.entry.kind not in CHANGES)
    struck = _striking(strikes)
    found = []
    for read in given:
        if read.entry.kind in CHANGES:
            continue
        counting = [each for each in amended.get(read.entry.id, ()) if not struck.get(each.entry.id)]
        said = _heeding([(each, _fields(each, amended, struck)) for each in counting])
        body, history = _amended(read.body, said)
        found.append(Current(read, body, history, struck.get(read.entry.id, ()), _disputed(said)))
    return tuple(found)
