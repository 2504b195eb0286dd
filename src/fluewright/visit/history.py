"""What an appliance showed over the years, and whether it drifts: compared only where it burned at the same load."""

import itertools
import math
from collections import OrderedDict
from collections.abc import Sequence
from dataclasses import dataclass, field
from datetime import date
from typing import TYPE_CHECKING

from fluewright.errors import FluewrightError, Problems
from fluewright.evidence.flue import Worked
from fluewright.evidence.gas_input import GasInput
from fluewright.evidence.oil_input import Oil
from fluewright.evidence.origins import spread_of
from fluewright.evidence.part import SoFar
from fluewright.evidence.reading import Account, Stretch
from fluewright.evidence.result import Result
from fluewright.quantity import names, show, units
from fluewright.report.drawing import History, Past, Seen, Value, twin
from fluewright.report.tree import Figure
from fluewright.visit import kept, work

if TYPE_CHECKING:
    from sqlalchemy import RowMapping

    from fluewright.record.fold import Current
    from fluewright.record.journal import Journal

FOLLOWED = (
    ("loss_gross", "stack loss"),
    ("carbon_monoxide_air_free", "CO, air-free"),
    ("draft", "draft"),
    ("fuel_input", "input"),
)
"""What is followed over the years, in the order in which it is drawn."""

LOGARITHMIC = frozenset({"carbon_monoxide_air_free"})

EQUAL_LOAD = 0.10
"""Inputs that differ by less than this share are one load (common practice, no source)."""

RUNNING = 3
"""Visits that must move one way before a drift is spoken of (common practice, no source)."""

REMEMBERED = 4000
"""Visits whose history is remembered while the program runs."""

MOST = 16
"""Visits that one history goes back."""

CAPTION = (
    "Open disc as found, solid disc as left, soft bar twice the doubt. Squares: load not equal or not told, "
    "not compared. Dotted: no reading that year."
)


@dataclass(frozen=True, slots=True)
class Side:
    """What one visit read before, or after, its adjustments: by registry name in canonical units; and the rate."""

    values: dict[str, Value] = field(default_factory=dict)
    rate: str = ""


@dataclass(frozen=True, slots=True)
class Told:
    """What one visit says of an appliance."""

    visit: str
    day: date
    found: Side
    left: Side

    def side(self) -> Side:
        """The last that was read."""
        return self.left if self.left.values else self.found


@dataclass(frozen=True, slots=True)
class Drift:
    """One quantity that moved one way.

    name      registry name
    sentence  how far, over how long
    """

    name: str
    sentence: str


@dataclass(frozen=True, slots=True)
class Years:
    """The history of an appliance.

    figure   the drawing with its table; None when nothing that is followed was ever read
    drifts   what moved one way, as found, at equal load
    aside    why visits were not compared, a sentence; empty when all were
    """

    figure: Figure | None
    drifts: tuple[Drift, ...]
    aside: str


def _of_result(found: Result | None) -> Value | None:
    usable = found is not None and found.value is not None and not found.bound and found.low is None
    return Value(found.value, found.spread) if usable and found is not None and found.value is not None else None


def _draft(account: Account, stretch: Stretch) -> Value | None:
    reading = stretch.readings.get("draft")
    if reading is None or reading.typed.kind != "value" or reading.typed.value is None:
        return None
    return Value(reading.typed.value, max(spread_of(reading, account.instrument, record=account.fuel)))


def _input(account: Account) -> Value | None:
    """The heat input, where it was counted at the meter or by the nozzle."""
    for measured in account.parts:
        if isinstance(measured, GasInput | Oil):
            try:
                part = measured.worked(SoFar(account, (), {}))
            except (FluewrightError, ArithmeticError):
                continue
            found = _of_result(part.results.get("fuel_input"))
            if found is not None:
                return found
    return None


def _side(account: Account, stretch: Stretch, worked: Worked | None, rate: str) -> Side:
    values = {name: _of_result(worked.results.get(name)) for name, _ in FOLLOWED} if worked is not None else {}
    values["draft"] = _draft(account, stretch)
    return Side({name: value for name, value in values.items() if value is not None}, rate)


def _others(entries: "Sequence[Current]", appliance: str) -> tuple[frozenset[str], dict[str, str]]:
    """Words of stretches that belong to other appliances, and the rates of stretches by their words."""
    bodies = [each.body for each in entries if each.counts and each.read.entry.kind == "stretch"]
    others = frozenset(str(body["word"]) for body in bodies if body.get("appliance", appliance) != appliance)
    return others, {str(body["word"]): str(body.get("rate", "")) for body in bodies}


def told_by(journal: "Journal", visit: str, appliance: str) -> Told | None:
    """What one visit read of an appliance, worked out; None where it cannot be, as before the first reading."""
    entries = kept.entries_of(journal, visit)
    others, rates = _others(entries, appliance)
    try:
        account = kept.account_of(journal, visit)
    except (Problems, FluewrightError):
        return None
    sides = [
        _side(account, stretch, worked, rates.get(stretch.word, ""))
        for stretch, worked in work.flames_of(account)
        if stretch.word not in others
    ]
    given = _input(account)
    first, last = (sides[0], sides[-1] if len(sides) > 1 else Side()) if sides else (Side(), Side())
    if given is not None:  # one count for the visit: it stands for how the appliance was found
        first.values["fuel_input"] = given
    return Told(visit, account.day, first, last)


def alike(one: Side, other: Side) -> bool:
    """Whether two sides are known to have burned at one load: by their input, else by the same word for the rate."""
    inputs = [side.values["fuel_input"].value for side in (one, other) if "fuel_input" in side.values]
    if len(inputs) == 2:
        return abs(inputs[0] - inputs[1]) <= EQUAL_LOAD * max(inputs)
    return bool(one.rate) and one.rate == other.rate


def _with_load(told: Told) -> Side:
    """A visit's load: the input counted, and the rate of what was read last."""
    return Side({**told.found.values, **told.left.values}, told.side().rate or told.found.rate)


def _compared(pasts: Sequence[Told]) -> frozenset[str]:
    """Visits whose load is known to be that of the newest visit whose load is known."""
    loads = {told.visit: _with_load(told) for told in pasts}
    known = [told for told in pasts if loads[told.visit].rate or "fuel_input" in loads[told.visit].values]
    if not known:
        return frozenset()
    newest = loads[known[-1].visit]
    return frozenset(told.visit for told in known if alike(loads[told.visit], newest))


def _shown(value: Value | None, name: str, symbol: str) -> Value | None:
    if value is None:
        return None
    quantity = names.of(name)
    unit = units.unit_named(symbol, quantity=quantity)
    there = units.in_unit(value.value, unit=unit, quantity=quantity)
    return Value(there, value.spread / units.per_unit(unit=unit, quantity=quantity))


def drift_of(name: str, words: str, seen: Sequence[tuple[date, Value]], system: show.System) -> Drift | None:
    """Whether a quantity, as found, moved one way over its last visits by more than its doubt.

    name    registry name
    words   what it is called
    seen    day and value in canonical units, oldest first, all at one load
    system  units of the sentence
    -> drift; None where it is within the doubt, or there are too few
    """
    last = list(seen[-RUNNING:])
    if len(last) < RUNNING:
        return None
    steps = [b.value - a.value for (_, a), (_, b) in itertools.pairwise(last)]
    first, end = last[0][1], last[-1][1]
    moved = end.value - first.value
    one_way = all(step > 0 for step in steps) or all(step < 0 for step in steps)
    if not one_way or abs(moved) <= 2.0 * math.hypot(first.spread, end.spread):
        return None
    way = "risen" if moved > 0 else "fallen"
    before, after = (show.shown(v.value, v.spread, quantity=name, system=system) for v in (first, end))
    said = f"{words[:1].upper()}{words[1:]}, as found, has {way} three visits running at equal load"
    return Drift(name, f"{said}: {before} in {last[0][0].year}, {after} in {last[-1][0].year}.")


def years_of(pasts: Sequence[Told], *, words: str, system: show.System) -> Years:
    """The history that some visits tell.

    pasts   visits, oldest first
    words   the appliance
    system  units
    -> drawing, drifts, and what was not compared
    """
    compared = _compared(pasts)
    fields, drifts = [], []
    for name, called in FOLLOWED:
        had = [told for told in pasts if name in told.found.values or name in told.left.values]
        if not had:
            continue
        symbol = show.unit_of(name, system)
        ours = compared if name != "fuel_input" else frozenset(told.visit for told in had)
        found = [(t.day, t.found.values[name]) for t in had if t.visit in ours and name in t.found.values]
        drift = drift_of(name, called, found, system)
        drifts += [drift] if drift is not None else []
        seen = tuple(
            Seen(told.day, _shown(told.found.values.get(name), name, symbol),
                 _shown(told.left.values.get(name), name, symbol), told.visit in ours)
            for told in had
        )  # fmt: skip
        fields.append(Past(called, symbol, seen, drift is not None, name in LOGARITHMIC))
    if not fields:
        return Years(None, (), "")
    data = History(words, tuple(fields), tuple(told.day for told in pasts))
    return Years(Figure("history", data, CAPTION, twin(data)), tuple(drifts), _aside(pasts, compared))


def _aside(pasts: Sequence[Told], compared: frozenset[str]) -> str:
    left = [told for told in pasts if told.visit not in compared and (told.found.values or told.left.values)]
    if not left:
        return ""
    days = ", ".join(str(told.day.year) for told in left[-4:])
    more = f" and {len(left) - 4} before" if len(left) > 4 else ""
    return (
        f"Not compared, since the load was another or nobody told it: {days}{more}. "
        "Count the meter, or say the rate, and next year can be compared."
    )


@dataclass(slots=True)
class Memory:
    """What visits told, so that a page that is looked at again need not work them out again.

    held  by appliance and visit, with how far the visit had come
    """

    held: "OrderedDict[tuple[str, str], tuple[tuple[int, int], Told | None]]" = field(default_factory=OrderedDict)

    def of(self, journal: "Journal", visit: str, appliance: str, reach: tuple[int, int]) -> Told | None:
        """What a visit says of an appliance; worked out anew when an entry came to it."""
        known = self.held.get((appliance, visit))
        if known is None or known[0] != reach:
            known = (reach, told_by(journal, visit, appliance))
            self.held[appliance, visit] = known
            while len(self.held) > REMEMBERED:
                self.held.popitem(last=False)
        return known[1]


def of_appliance(
    journal: "Journal", appliance: str, rows: "Sequence[RowMapping]", *, words: str, memory: Memory
) -> Years:
    """The history of an appliance from its newest visits.

    journal    where they are kept
    appliance  its id
    rows       of its visits, newest first
    words      what it is called
    memory     what visits told before
    -> history, in the units of the newest visit
    """
    from fluewright.record.views import visited

    ids = [str(row["id"]) for row in rows[:MOST]]
    with journal.store.reading() as connection:
        reached = visited.reached(connection, ids)
    told = [memory.of(journal, each, appliance, reached.get(each, (0, 0))) for each in ids]
    known = sorted((each for each in told if each is not None), key=lambda each: (each.day, each.visit))
    system: show.System = "us"
    if rows and kept.tables_of(journal, rows[0]["id"]).get("visit", {}).get("units") == "si":
        system = "si"
    return years_of(known, words=words, system=system)
