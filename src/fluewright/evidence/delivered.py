"""Heat delivered: what air and water side share. Which heat is carried, how it compares with a plate."""

import math
from collections.abc import Mapping
from dataclasses import dataclass

from fluewright.evidence import trust
from fluewright.evidence.finding import Clause, Finding, Grade
from fluewright.evidence.flue import Worked
from fluewright.evidence.limits import CERTAIN, HARDLY, in_words, seen
from fluewright.evidence.part import Part, SoFar
from fluewright.evidence.reading import Account, Reading, Stretch
from fluewright.evidence.reckon import Reckoning
from fluewright.evidence.result import Result
from fluewright.kernel.ops import Number, value_of
from fluewright.quantity import show

AIR, WATER = "heat delivered, air", "heat delivered, water"
"""Words of the two parts."""
INPUTS = ("gas input", "oil supply")
"""Words of the parts that measured the fuel of the appliance of the visit; another appliance's go on behind them."""

PLATE = Clause("plate of the appliance", "", "as typed here", "everywhere", "second-hand", "house")

SIDE_BY_SIDE = 0.2
"""K, standard uncertainty of each of two thermometers that were compared first (common practice, no source)."""
PLATE_OUTPUT_DOUBT = 0.05
"""Relative limits of a plate's output against what is delivered today (common practice, no source)."""

Known = Result | None


def worded(number: Number, quantity: str, account: Account) -> str:
    """A number as a substitution prints it."""
    return show.shown(float(value_of(number)), quantity=quantity, system=account.system)


def inputs_in(parts: Mapping[str, Part]) -> list[tuple[str, str, Result]]:
    """Every fuel input measured for this appliance: word of its part, key there, result with a value and no bound.

    A part named for another appliance on the same meter counts only where it is the only one there is.
    """
    of_fuel = {word: part for word, part in parts.items() if word.startswith(INPUTS)}
    chosen = {word: part for word, part in of_fuel.items() if word in INPUTS}
    found = []
    for word, part in (chosen or (of_fuel if len(of_fuel) == 1 else {})).items():
        for key, result in part.results.items():
            of_input = result.name == "fuel_input" and key.startswith("fuel_input")
            if of_input and result.value is not None and not result.bound:
                found.append((word, key, result))
    return found


def last_worked(so_far: SoFar) -> tuple[Stretch, Worked] | None:
    """The last stretch of flue readings that could be worked out."""
    for stretch, worked in reversed(so_far.told):
        if worked is not None:
            return stretch, worked
    return None


def middle(result: Result) -> tuple[float, float] | None:
    """A result as a value and a standard uncertainty; a band of condensing counts as even odds all along it."""
    if result.value is None or result.bound:
        return None
    if result.low is None or result.high is None:
        return result.value, result.spread
    half = (result.high - result.low) / 2.0
    return (result.low + result.high) / 2.0, math.hypot(result.spread, half / math.sqrt(3.0))


@dataclass(frozen=True, slots=True)
class HeatCarried:
    """The heat that a flow is told from.

    number   W
    words    where it is from, for a sentence
    figures  for a substitution
    typed    the reading where a person typed it
    """

    number: Number
    words: str
    figures: str
    typed: Reading | None = None


def heat_carried(so_far: SoFar, reckoning: Reckoning, typed: Reading | None) -> HeatCarried | None:
    """The heat that must be carried: as typed, else measured input times efficiency, else the plate; None without."""
    account = so_far.account
    if typed is not None and typed.figure is not None:
        number = reckoning.read(typed, words="heat output, as typed")
        return HeatCarried(number, "as typed", worded(number, "heat_output", account), typed)
    told, inputs = last_worked(so_far), inputs_in(so_far.parts)
    efficiency = middle(told[1].results["efficiency_gross"]) if told else None
    if told and inputs and efficiency is not None:
        word, _, result = inputs[0]
        gross = reckoning.assumed("fuel_input", result.value or 0.0, result.spread, source=word, words="gross input")
        share = reckoning.assumed("efficiency_gross", efficiency[0], efficiency[1], source=told[0].word)
        figures = f"{worded(gross, 'fuel_input', account)} x {worded(share, 'efficiency_gross', account)}"
        return HeatCarried(gross * share, f"{word} times efficiency {told[0].word}", figures)
    plate = account.appliance.output
    if plate is None:
        return None
    spread = plate * PLATE_OUTPUT_DOUBT / math.sqrt(3.0)
    number = reckoning.assumed("heat_output", plate, spread, source="plate", words="heat output of the plate")
    return HeatCarried(number, "of the plate, not measured here", worded(number, "heat_output", account))


@dataclass(frozen=True, slots=True)
class AgainstPlate:
    """One result put to a figure of a plate.

    limit   canonical unit
    sense   "at most" or "at least"
    grade   when it is beyond
    lead    what is said, with {} for "is" or "may be"
    matters why, one sentence
    next    what to do
    """

    code: str
    key: str
    limit: float
    sense: str
    grade: Grade
    lead: str
    matters: str
    next: tuple[str, ...]


def against_plate(asked: AgainstPlate, result: Known, word: str, account: Account) -> Finding | None:
    """A finding where a result is beyond a plate's figure, or too close to it; None inside, for that clears nothing."""
    if result is None or result.value is None:
        return None
    above = trust.beyond(result, asked.limit)
    odds = None if above is None else above if asked.sense == "at most" else 1.0 - above
    if odds is not None and odds < HARDLY:
        return None
    edge = show.shown(asked.limit, quantity=result.name, system=account.system)
    sure = odds is not None and odds >= CERTAIN
    likely = odds is not None and odds > 0.5
    return Finding(
        asked.code,
        asked.grade if likely else "open",
        f"{asked.lead.format('is' if sure else 'may be')}.",
        f"{seen(result, account)} against {asked.sense} {edge} on the plate. Beyond it: {in_words(odds)}. "
        f"{asked.matters}",
        ((word, asked.key),),
        PLATE,
        odds=odds,
        limit=f"{asked.sense} {edge}",
        do_next=asked.next,
    )
