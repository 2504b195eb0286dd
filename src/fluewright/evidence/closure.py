"""Does it add up: oxygen against carbon dioxide, one way to the input against another, heat in against heat out.

All readings of one moment are made to agree, weighed by their doubt; what is left says how far they contradict each
other, which one stands alone, and, above all, what readings like these could never show.
"""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace

from fluewright.errors import PhysicsRefused
from fluewright.evidence import closure_words, flue
from fluewright.evidence.boundary import mixed_boundary
from fluewright.evidence.closure_words import CLOSURE, Item, Weighed, Witnesses
from fluewright.evidence.delivered import AIR, WATER, inputs_in, last_worked
from fluewright.evidence.flue import Worked
from fluewright.evidence.origins import spread_of
from fluewright.evidence.part import Part, SoFar
from fluewright.evidence.reading import Account, Reading, Stretch
from fluewright.evidence.result import Result
from fluewright.kernel import balance
from fluewright.kernel.air import DRY_AIR
from fluewright.kernel.dual import Dual
from fluewright.kernel.ops import Number, value_of
from fluewright.solve.reconcile import Equation, Read, Unknown, reconciled

JACKET_UNSAID = (0.015, 0.015 / math.sqrt(3.0))
"""Jacket and pipes where nobody said, fraction of gross heat: 0 to 3 % (common practice, no source)."""
HEAT_IN = "heat put in"


@dataclass(frozen=True, slots=True)
class Closure:
    """What else is known for the balance, where no part of the job measured it.

    readings  fuel_input, second_input, heat_output: those a person typed
    stretch   flue readings where there is no visit around them
    """

    readings: Mapping[str, Reading] = field(default_factory=dict)
    stretch: Stretch | None = None

    @property
    def late(self) -> bool:
        """It rests on all the rest."""
        return True

    def worked(self, so_far: SoFar) -> Part:
        """Gather the witnesses, weigh them, say what they show."""
        told, refused = self._told(so_far)
        found = gathered(self.readings, so_far, told)
        if refused:
            found = replace(found, reasons=(*found.reasons, refused))
        return closure_words.part(weighed(found), so_far.account, self.readings)

    def _told(self, so_far: SoFar) -> tuple[tuple[Stretch, Worked] | None, str]:
        """The flue readings, worked out, and why not where they could not be."""
        if self.stretch is None:
            return last_worked(so_far), ""
        account = so_far.account
        try:
            worked = flue.work(
                record=account.fuel,
                stretch=self.stretch,
                instrument=account.instrument,
                surroundings=account.surroundings,
                jacket_fraction=account.jacket,
            )
        except PhysicsRefused as error:
            return None, f"the flue readings cannot be worked out: {error.read}"
        return (self.stretch, worked), ""


def _typed(quantity: str, words: str, reading: Reading, account: Account) -> Item | None:
    """A typed input or output; None where it is only a bound or a word."""
    value = reading.figure
    if value is None or reading.bound or value <= 0.0:
        return None
    return Item(words, value, max(spread_of(reading, account.instrument)), quantity, True)


def _of_result(words: str, result: Result) -> Item | None:
    if result.value is None or result.bound or result.spread <= 0.0:
        return None
    return Item(words, result.value, result.spread, result.name, True)


def _inputs(readings: Mapping[str, Reading], so_far: SoFar) -> list[Item]:
    """Every way to the heat input."""
    found = []
    for word, key, result in inputs_in(so_far.parts):
        way = key.removeprefix("fuel_input").strip("_").replace("_", " ")
        found.append(_of_result(f"{word}, {way}" if way else word, result))
    for key, words in (("fuel_input", "input as typed"), ("second_input", "input by a second way")):
        if key in readings:
            found.append(_typed("fuel_input", words, readings[key], so_far.account))
    return [one for one in found if one is not None]


def _outputs(readings: Mapping[str, Reading], so_far: SoFar) -> list[Item]:
    """Every way to the heat delivered that does not itself rest on the input."""
    found = []
    for word in (AIR, WATER):
        result = so_far.parts[word].results.get("heat_output") if word in so_far.parts else None
        if result is not None:
            found.append(_of_result(word, result))
    if "heat_output" in readings:
        found.append(_typed("heat_output", "heat delivered as typed", readings["heat_output"], so_far.account))
    return [one for one in found if one is not None]


def _line(worked: Worked) -> Number | None:
    """Measured less expected carbon dioxide, with its derivatives, when both gases were read."""
    taken = worked.taken
    if taken.carbon_dioxide is None or taken.oxygen is None:
        return None
    expected = balance.carbon_dioxide_dry_fraction(flue=worked.flue, air=taken.prepared.air)
    return taken.dried(taken.carbon_dioxide, worked.flue) - expected


def gathered(readings: Mapping[str, Reading], so_far: SoFar, told: tuple[Stretch, Worked] | None) -> Witnesses:
    """Everything that can bear witness, and why some of it cannot."""
    reasons: list[str] = []
    found = Witnesses(_inputs(readings, so_far), _outputs(readings, so_far))
    for key, reading in readings.items():
        if reading.bound or not reading.figure or reading.figure < 0.0:
            reasons.append(f"{key.replace('_', ' ')} of {reading.typed.text} is no figure to weigh")
    if told is None:
        return replace(found, reasons=(*reasons, "no flue reading was worked out"))
    stretch, worked = told
    line = _line(worked)
    if line is None:
        reasons.append("oxygen and carbon dioxide were not both read, so neither checks the other")
    elif worked.taken.ledger.bound(line):
        line = None
        reasons.append("a flue gas stands at the end of its cell")
    share, low, high = _efficiency(worked, stretch, reasons)
    return replace(
        found, worked=worked, stretch=stretch, line=line, share=share, band=high - low, reasons=tuple(reasons)
    )


def _efficiency(worked: Worked, stretch: Stretch, reasons: list[str]) -> tuple[Number | None, float, float]:
    """Share of the gross heat that did not leave by flue and jacket, and its band where condensing leaves one."""
    result = worked.results["efficiency_gross"]
    why = result.refused or ("it is only a bound" if result.bound else "")
    if not why and mixed_boundary(worked, stretch) is not None:
        why = "the two temperatures may belong to different boundaries"
    if why or result.value is None:
        reasons.append(f"the losses cannot be counted: {why}")
        return None, 0.0, 0.0
    low = result.value if result.low is None else result.low
    high = result.value if result.high is None else result.high
    number = worked.numbers["efficiency_gross"]
    return number - (float(value_of(number)) - low), low, high


def _sources(found: Witnesses) -> dict[object, Item]:
    """What the flue side rests on, one reading for each source of doubt."""
    if found.worked is None:
        return {}
    ledger = found.worked.taken.ledger
    items: dict[object, Item] = {}
    for number in (found.line, found.share):
        for source in number.partials if isinstance(number, Dual) else ():
            if source in items or source.spread <= 0.0:
                continue
            origin = ledger.origin(source)
            read = found.stretch is not None and origin.name in found.stretch.readings
            name = origin.words if read else f"{origin.words} ({len(items)})"
            items[source] = Item(name, origin.value, source.spread, origin.name, read)
    return items


def _straight(number: Dual, items: Mapping[object, Item]) -> Equation:
    """A result of the flue side as it moves with its readings, straight around them."""
    slopes = [(items[s].name, items[s].value, slope) for s, slope in number.partials.items() if s in items]
    start = float(number.value)

    def at(values: Mapping[str, Number]) -> Number:
        total: Number = start
        for name, read, slope in slopes:
            total = total + slope * (values[name] - read)
        return total

    return at


def _balance(share: Equation, band: float, jacket: bool, out: str) -> Equation:
    """Heat in times what is left of it, less heat out."""

    def at(values: Mapping[str, Number]) -> Number:
        left = share(values)
        if band > 0.0:
            left = left + band * values[closure_words.CONDENSED]
        if jacket:
            left = left - values[closure_words.JACKET]
        return values[HEAT_IN] * left - values[out]

    return at


def _same(name: str) -> Equation:
    """One way to the heat put in, less the heat put in."""
    return lambda values: values[name] - values[HEAT_IN]


def _assumed(found: Witnesses) -> list[Item]:
    """What nobody read and the balance needs."""
    items = []
    if found.share is not None and found.outputs:
        if found.band > 0.0:
            items.append(Item(closure_words.CONDENSED, 0.5, 0.5 / math.sqrt(3.0), "share", False))
        if not found.jacket_said:
            items.append(Item(closure_words.JACKET, *JACKET_UNSAID, "loss_jacket", False))
    return items


def weighed(found: Witnesses) -> Weighed:
    """The witnesses made to agree."""
    sources = _sources(found)
    assumed = _assumed(found)
    items = [*sources.values(), *assumed, *found.inputs, *found.outputs]
    equations: list[Equation] = []
    if isinstance(found.line, Dual):
        equations.append(_straight(found.line, sources))
    equations += [_same(one.name) for one in found.inputs]
    if isinstance(found.share, Dual):
        share = _straight(found.share, sources)
        jacket = any(one.name == closure_words.JACKET for one in assumed)
        equations += [_balance(share, found.band, jacket, one.name) for one in found.outputs]
    unknowns = _unknowns(found)
    if not equations:
        return Weighed(found, tuple(items), None)
    reads = [Read(one.name, one.value, one.spread) for one in items]
    try:
        agreed = reconciled(readings=reads, unknowns=unknowns, equations=equations)
    except PhysicsRefused as error:
        return Weighed(replace(found, reasons=(*found.reasons, error.read)), tuple(items), None)
    return Weighed(found, tuple(items), agreed, tuple(_faults(found, items)))


def _unknowns(found: Witnesses) -> list[Unknown]:
    """The heat put in, begun at a way to it, or at what the heat out makes likely."""
    if found.inputs:
        first = found.inputs[0]
        return [Unknown(HEAT_IN, first.value, first.spread)]
    if found.outputs and found.share is not None:
        first = found.outputs[0]
        return [Unknown(HEAT_IN, first.value / float(value_of(found.share)), first.spread)]
    return []


def _faults(found: Witnesses, items: Sequence[Item]) -> list[tuple[str, Mapping[str, float]]]:
    """Faults that move several readings together, by what one whole share of air would add to each."""
    by_quantity = {one.quantity: one for one in items}

    def towards(quantity: str, goal: float) -> dict[str, float]:
        item = by_quantity.get(quantity)
        return {} if item is None else {item.name: goal - item.value}

    gases = {
        **towards("oxygen_dry", DRY_AIR.oxygen),
        **towards("oxygen_wet", DRY_AIR.oxygen),
        **towards("carbon_dioxide_dry", DRY_AIR.carbon_dioxide),
        **towards("carbon_dioxide_wet", DRY_AIR.carbon_dioxide),
    }
    faults: list[tuple[str, Mapping[str, float]]] = []
    if gases:
        faults.append((closure_words.LEAK, gases))
        air = by_quantity.get("air_temperature")
        cooled = towards("flue_temperature", air.value) if air is not None else {}
        faults.append((closure_words.DILUTION, {**gases, **cooled}))
    if found.outputs:
        faults.append((closure_words.LOST, {one.name: -1.0 for one in found.outputs}))
    if len(found.inputs) > 1:
        faults.append((closure_words.BOTH, {one.name: one.value for one in found.inputs}))
    return faults


__all__ = ["CLOSURE", "Closure"]
