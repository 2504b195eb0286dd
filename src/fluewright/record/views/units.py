"""Brings together what is folded together, in whatever order the store got it."""

import json
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field

from sqlalchemy import ColumnElement, bindparam, insert, select, update
from sqlalchemy.engine import Connection

from fluewright.record.entry import FORM, Entry
from fluewright.record.fold import CHANGES, current, in_order, target_of
from fluewright.record.kinds import KINDS
from fluewright.record.personal import KEY
from fluewright.record.reading import values_of
from fluewright.record.shape import is_of
from fluewright.record.tables import ENTRY
from fluewright.record.today import Read, as_today
from fluewright.record.twins import each_once
from fluewright.record.views.frame import CHANGE, DAMAGED, Taken, Unit, parts

_HIDES = f'"{KEY}"'
"""Stands in the text of every entry that has something about a person."""

_ROWS = select(ENTRY.c.arrival, ENTRY.c.text)


@dataclass(frozen=True, slots=True)
class Got:
    """One entry of the store with the number under which the store got it.

    read  None where it is no entry, or one in an envelope of a newer program
    kind, version  for what cannot be read: what it says it is
    """

    arrival: int
    read: Read | None
    kind: str = DAMAGED
    version: int = 0


def _entry(text: str) -> Entry | tuple[str, int]:
    """An entry from its kept form, without proving it: that is the work of `journal check`.

    -> entry; or, where it is none of ours, what it says it is
    """
    try:
        held = json.loads(text)
        form, kind, version = held.pop("form"), held["kind"], held["version"]
        if isinstance(form, int) and form > FORM and isinstance(kind, str) and isinstance(version, int):
            return kind, version
        entry = Entry(**held)
    except (ValueError, TypeError, KeyError, AttributeError, RecursionError):
        return DAMAGED, 0
    return (
        entry if isinstance(entry.body, dict) and isinstance(kind, str) and isinstance(version, int) else (DAMAGED, 0)
    )


def got(source: Connection, wanted: ColumnElement[bool], most: int | None = None) -> list[Got]:
    """Entries of a store in the order in which it got them.

    wanted  which; a condition on the table of entries
    most    how many at most
    """
    rows = source.execute(_ROWS.where(wanted).order_by(ENTRY.c.arrival).limit(most)).all()
    entries = [_entry(row.text) for row in rows]
    hiding = [
        entry for row, entry in zip(rows, entries, strict=True) if isinstance(entry, Entry) and _HIDES in row.text
    ]
    values = values_of(source, hiding)
    return [
        Got(int(row.arrival), _read(entry, values, _HIDES in row.text))
        if isinstance(entry, Entry)
        else Got(int(row.arrival), None, *entry)
        for row, entry in zip(rows, entries, strict=True)
    ]


def _read(entry: Entry, values: Mapping[str, str], hides: bool) -> Read:
    """An entry as it is understood today; one that hides nothing about people in its newest form is so already."""
    kind = KINDS.get(entry.kind)
    if not hides and kind is not None and kind.version == entry.version and is_of(kind, entry.body):
        return Read(entry, entry.body)
    return as_today(entry, values)


def _own_unit(entry: Entry) -> str:
    """The visit that an entry belongs to, else the entry itself; amendments and strike-outs are looked at elsewhere."""
    visit = entry.body.get("visit")
    return visit if isinstance(visit, str) and visit else entry.id


@dataclass(slots=True)
class Gathering:
    """Units as they are touched by portion after portion of the entries.

    source   where entries are read
    target   where the views are written
    last     entries that came later are not looked at
    waiting  changes whose entry is not here yet, by its id
    """

    source: Connection
    target: Connection
    last: int
    waiting: dict[str, list[Got]] = field(default_factory=dict)

    def __post_init__(self) -> None:
        arrivals = self.target.scalars(select(CHANGE.c.arrival).where(CHANGE.c.unit == "")).all()
        for some in parts(arrivals):
            for each in got(self.source, ENTRY.c.arrival.in_(some)):
                if each.read is not None:
                    self.waiting.setdefault(target_of(each.read), []).append(each)

    def units(self, portion: Sequence[Got], *, note: bool) -> list[Unit]:
        """The units that a portion of entries touches, each whole up to the end of the portion.

        portion  entries that follow each other
        note     whether its changes are new to the views
        """
        known = [each for each in portion if each.read is not None and each.read.known]
        if not known:
            return []
        if note:
            self._note(known)
        touched: dict[str, list[Got]] = {}
        changed: set[str] = set()
        for each, unit in self._placed(known):
            touched.setdefault(unit, []).append(each)
            if each.read is not None and each.read.entry.kind in CHANGES:
                changed.add(unit)
        before, after = portion[0].arrival, portion[-1].arrival
        again = changed | self._seen(list(touched), before)
        whole = self._whole([unit for unit in touched if unit in again], after)
        return [_unit(unit, whole.get(unit) or some, unit in again) for unit, some in touched.items()]

    def of_arrivals(self, arrivals: Sequence[int]) -> list[Unit]:
        """The units that some entries belong to, whole."""
        found = [each for some in parts(arrivals) for each in got(self.source, ENTRY.c.arrival.in_(some))]
        known = [each for each in found if each.read is not None and each.read.known]
        ids = list(dict.fromkeys(unit for _, unit in self._placed(known)))
        whole = self._whole(ids, self.last)
        return [_unit(unit, whole[unit], True) for unit in ids if unit in whole]

    def _placed(self, known: Sequence[Got]) -> Iterator[tuple[Got, str]]:
        """Entries with their units; a change that waits for its entry has none yet."""
        changes = [each for each in known if each.read is not None and each.read.entry.kind in CHANGES]
        units: dict[int, str] = {}
        for some in parts([each.arrival for each in changes]):
            rows = self.target.execute(select(CHANGE.c.arrival, CHANGE.c.unit).where(CHANGE.c.arrival.in_(some)))
            units.update({int(row.arrival): row.unit for row in rows})
        for each in known:
            if each.read is None:
                continue
            unit = units.get(each.arrival, "") if each.read.entry.kind in CHANGES else _own_unit(each.read.entry)
            if unit:
                yield each, unit

    def _note(self, known: Sequence[Got]) -> None:
        """Remember what changes what, and find the units of those that waited."""
        reads = {each.read.entry.id: each for each in known if each.read is not None}
        changes = [each for each in known if each.read is not None and each.read.entry.kind in CHANGES]
        rows = []
        for each in changes:
            if each.read is None:
                continue
            rows.append({"arrival": each.arrival, "id": each.read.entry.id, "of": target_of(each.read), "unit": ""})
            self.waiting.setdefault(target_of(each.read), []).append(each)
        if rows:
            self.target.execute(insert(CHANGE), rows)
        found = list(self._met(reads, {target_of(each.read) for each in changes if each.read is not None}))
        settled: list[dict[str, object]] = []
        while found:
            one, unit = found.pop()
            for each in self.waiting.pop(one, ()):
                settled.append({"at": each.arrival, "in": unit})
                if each.read is not None:
                    found.append((each.read.entry.id, unit))
        if settled:
            statement = update(CHANGE).where(CHANGE.c.arrival == bindparam("at")).values(unit=bindparam("in"))
            self.target.execute(statement, settled)

    def _met(self, reads: dict[str, Got], asked: set[str]) -> Iterator[tuple[str, str]]:
        """Entries that changes wait for and that are here, with their units."""
        for one in [each for each in self.waiting if each in reads]:
            read = reads[one].read
            if read is not None and read.entry.kind not in CHANGES:
                yield one, _own_unit(read.entry)
        for some in parts(sorted(asked - set(reads))):
            for each in got(self.source, ENTRY.c.id.in_(some) & (ENTRY.c.arrival <= self.last)):
                if each.read is not None and each.read.entry.kind not in CHANGES:
                    yield each.read.entry.id, _own_unit(each.read.entry)
            for row in self.target.execute(select(CHANGE.c.id, CHANGE.c.unit).where(CHANGE.c.id.in_(some))):
                if row.unit:
                    yield row.id, row.unit

    def _seen(self, units: Sequence[str], before: int) -> set[str]:
        """Units of which something came earlier."""
        found: set[str] = set()
        for some in parts(units):
            asked = select(ENTRY.c.subject).where(ENTRY.c.subject.in_(some), ENTRY.c.arrival < before).distinct()
            found.update(self.source.scalars(asked))
            same = select(ENTRY.c.id).where(ENTRY.c.id.in_(some), ENTRY.c.arrival < before)
            found.update(self.source.scalars(same))
            earlier = select(CHANGE.c.unit).where(CHANGE.c.unit.in_(some), CHANGE.c.arrival < before).distinct()
            found.update(self.target.scalars(earlier))
        return found

    def _whole(self, units: Sequence[str], last: int) -> dict[str, list[Got]]:
        """All entries and changes of some units, up to one arrival."""
        found: dict[str, dict[int, Got]] = {unit: {} for unit in units}
        for some in parts(units):
            changes = self.target.execute(select(CHANGE.c.arrival, CHANGE.c.unit).where(CHANGE.c.unit.in_(some))).all()
            place = {int(row.arrival): row.unit for row in changes}
            for each in _some(self.source, some, list(place), last):
                if each.read is None or not each.read.known:
                    continue
                is_change = each.read.entry.kind in CHANGES
                unit = place.get(each.arrival, "") if is_change else _own_unit(each.read.entry)
                if unit in found:
                    found[unit][each.arrival] = each
        return {unit: [several[arrival] for arrival in sorted(several)] for unit, several in found.items() if several}


def _some(source: Connection, subjects: Sequence[str], arrivals: Sequence[int], last: int) -> Iterator[Got]:
    """Entries of these visits, these entries themselves, and changes of theirs that lie elsewhere."""
    yield from got(source, ENTRY.c.subject.in_(subjects) & (ENTRY.c.arrival <= last))
    yield from got(source, ENTRY.c.id.in_(subjects) & (ENTRY.c.arrival <= last))
    for some in parts(arrivals):
        yield from got(source, ENTRY.c.arrival.in_(some) & (ENTRY.c.arrival <= last))


def _once(some: Iterable[Got]) -> list[Got]:
    """One entry of each id: two devices that were told the same thing kept it twice, and one of them shows it."""
    held = {id(each.read): each for each in some if each.read is not None}
    return [held[id(read)] for read in each_once(each.read for each in held.values() if each.read is not None)]


def _unit(unit: str, some: Sequence[Got], again: bool) -> Unit:
    once = _once(some)
    arrivals = {each.read.entry.id: each.arrival for each in once if each.read is not None}
    reads = [each.read for each in once if each.read is not None]
    entries = tuple(Taken(arrivals[each.read.entry.id], each) for each in current(reads))
    changes = in_order(read for read in reads if read.entry.kind in CHANGES)
    by_kind: dict[str, list[Taken]] = {}
    for each in entries:
        if each.current.counts:
            by_kind.setdefault(each.kind, []).append(each)
    return Unit(unit, entries, tuple(changes), again, tuple(each.arrival for each in some), by_kind)
