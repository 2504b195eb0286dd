"""What the balance says: each closure, each reading's share of the disagreement, and what cannot be told."""

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from fluewright.evidence.finding import PHYSICS, Finding
from fluewright.evidence.flue import Worked
from fluewright.evidence.part import Derived, Part, Piece, Seen, Statement
from fluewright.evidence.reading import Account, Reading, Stretch
from fluewright.evidence.reckon import Reckoning
from fluewright.evidence.result import Result
from fluewright.evidence.workings import explained
from fluewright.kernel import dual
from fluewright.kernel.ops import Number, value_of
from fluewright.quantity import show
from fluewright.quantity.digits import MINUS
from fluewright.solve.reconcile import Adjusted, Reconciled

CLOSURE = "does it add up"
CONDENSED = "share of the condensing band"
JACKET = "heat lost through jacket and pipes, not said"

LEAK = "air leaking into the sample"
DILUTION = "room air drawn into the flue before the probe"
LOST = "heat lost before it was measured"
BOTH = "an error that all ways to the input share"

LEAST_SAID = 0.095
"""A residual below this rounds to less than a tenth of the doubt and is not named."""
HALF = 0.5
"""Share of air in the sample: a fault that only shows beyond this does not show."""


@dataclass(frozen=True, slots=True)
class Item:
    """One thing that takes part: its words, value, standard uncertainty, quantity, and whether somebody read it."""

    name: str
    value: float
    spread: float
    quantity: str
    read: bool


@dataclass(frozen=True, slots=True)
class Witnesses:
    """What can bear witness.

    line     measured less expected carbon dioxide
    share    of the gross heat that did not leave by flue and jacket, at the end of its band that claims least
    band     how much more it may be, where water can have condensed
    reasons  why something cannot bear witness
    """

    inputs: Sequence[Item]
    outputs: Sequence[Item]
    worked: Worked | None = None
    stretch: Stretch | None = None
    line: Number | None = None
    share: Number | None = None
    band: float = 0.0
    reasons: tuple[str, ...] = ()

    @property
    def jacket_said(self) -> bool:
        """Whether somebody gave a jacket loss."""
        return self.worked is not None and not isinstance(self.worked.taken.jacket, float | int)


@dataclass(frozen=True, slots=True)
class Weighed:
    """The witnesses and what came of making them agree; faults with what one unit adds to each reading."""

    found: Witnesses
    items: tuple[Item, ...]
    agreed: Reconciled | None
    faults: tuple[tuple[str, Mapping[str, float]], ...] = ()

    def of_people(self) -> list[Adjusted]:
        """What was read, adjusted; what was only assumed left out."""
        read = {one.name for one in self.items if one.read}
        return [] if self.agreed is None else [one for one in self.agreed.readings if one.name in read]


def _said(item: Item, account: Account) -> str:
    return show.shown(item.value, quantity=item.quantity, system=account.system)


def _taken(item: Item, reckoning: Reckoning) -> Number:
    return reckoning.assumed(item.quantity, item.value, item.spread, source="this visit", words=item.name)


def _line(found: Witnesses) -> Iterator[tuple[str, Result]]:
    """The first closure: carbon dioxide against oxygen."""
    if found.worked is None or found.line is None:
        return
    value, ledger = float(value_of(found.line)), found.worked.taken.ledger
    below, above = ledger.sides(found.line)
    working = explained(
        "carbon dioxide read - carbon dioxide that the oxygen and the fuel expect",
        f"{value * 100:+.2f} % of the dry gas",
        "element balance, docs/method/balance.md",
        "complete combustion; room air mixed in moves both along one line and does not show",
        found.line,
        ledger,
    )
    yield "carbon_dioxide_gap", Result("carbon_dioxide_gap", value, below, above, working, basis="dry")


def _ways(found: Witnesses, account: Account) -> Iterator[tuple[str, Result]]:
    """The second closure: one way to the input against each other one."""
    for place, other in enumerate(found.inputs[1:], 2):
        first, reckoning = found.inputs[0], Reckoning(account)
        gap = _taken(other, reckoning) - _taken(first, reckoning)
        words = f"{_said(other, account)} - {_said(first, account)}"
        yield (
            "input_gap" if place == 2 else f"input_gap_{place}",
            reckoning.result(
                "input_gap",
                gap,
                formula=f"gap = {other.name} - {first.name}",
                substitution=f"{words} = {show.shown(value_of(gap), quantity='input_gap', system=account.system)}",
                source="two ways to one input",
                holds="both of one moment; what they share, such as the heating value, is counted twice in the doubt",
            ),
        )


def _heat(found: Witnesses, account: Account) -> Iterator[tuple[str, Result]]:
    """The third closure: heat in, less losses, less heat out."""
    if found.share is None or not found.inputs:
        return
    for place, out in enumerate(found.outputs, 1):
        first, reckoning = found.inputs[0], Reckoning(account)
        middle = float(value_of(found.share)) + found.band / 2.0
        spread = math.hypot(float(dual.spread(found.share)), found.band / 2.0 / math.sqrt(3.0))
        left = reckoning.assumed("efficiency_gross", middle, spread, source="flue readings", words="what the flue left")
        if not found.jacket_said:
            words = JACKET
            left = left - reckoning.assumed("loss_jacket", 0.015, 0.00866, source="common practice", words=words)
        gap = _taken(first, reckoning) * left - _taken(out, reckoning)
        share = show.shown(value_of(left), quantity="efficiency_gross", system=account.system)
        shown = show.shown(value_of(gap), quantity="heat_gap", system=account.system)
        yield (
            "heat_gap" if place == 1 else f"heat_gap_{place}",
            reckoning.result(
                "heat_gap",
                gap,
                formula=f"gap = {first.name} x (1 - losses at this moment) - {out.name}",
                substitution=f"{_said(first, account)} x {share} - {_said(out, account)} = {shown}",
                source="first law",
                holds="all of one moment, appliance neither warming up nor cooling down, one boundary",
                boundary="" if found.stretch is None else found.stretch.boundary,
            ),
        )


def _results(weighed: Weighed, account: Account) -> dict[str, Result]:
    found = weighed.found
    return {
        key: result
        for key, result in (*_line(found), *_ways(found, account), *_heat(found, account))
        if result.value is not None
    }


def _statements(weighed: Weighed, results: Mapping[str, Result], typed: Mapping[str, Reading]) -> Iterator[Statement]:
    pieces: list[Piece] = []
    for key, reading in typed.items():
        pieces += [", " if pieces else "typed for this balance: ", f"{key.replace('_', ' ')} ", Seen(key, reading)]
    if pieces:
        yield Statement((*pieces, "."))
    found = weighed.found
    if "carbon_dioxide_gap" in results:
        words = "carbon dioxide read, less what the oxygen and this fuel expect: "
        yield Statement((words, Derived("carbon_dioxide_gap"), "."), mark="derived")
    for place, other in enumerate(found.inputs[1:], 2):
        key = "input_gap" if place == 2 else f"input_gap_{place}"
        yield Statement((f"{other.name} less {found.inputs[0].name}: ", Derived(key), "."), mark="derived")
    for place, out in enumerate(found.outputs, 1):
        key = "heat_gap" if place == 1 else f"heat_gap_{place}"
        if key in results:
            words = f"{found.inputs[0].name} less what left by flue and jacket, less {out.name}: "
            yield Statement((words, Derived(key), " at this moment."), mark="derived")
    yield from _residuals(weighed)


def _residuals(weighed: Weighed) -> Iterator[Statement]:
    """Each reading less what it was adjusted to, in units of its doubt."""
    checked = [one for one in weighed.of_people() if one.checked]
    if not checked:
        return
    felt = [one for one in checked if abs(one.residual) >= LEAST_SAID]
    said = ", ".join(f"{one.name} {f'{one.residual:+.1f}'.replace('-', MINUS)}" for one in felt) or "none"
    rest = "" if len(felt) == len(checked) else "; the others by less than 0.1"
    words = f"made to agree, readings are off by so many of their standard uncertainties: {said}{rest}."
    yield Statement((words,), mark="derived")


def _odd_one(weighed: Weighed, agreed: Reconciled) -> str:
    """Which reading stands alone, as far as it can be told."""
    suspects = agreed.suspects
    if not suspects:
        return "No single reading explains it: more than one is off, or something happens that the balance leaves out."
    words = [name.partition(" (")[0] for name in suspects]
    words = list(dict.fromkeys(words))
    if len(words) == 1:
        return f"The odd one out is {words[0]}: without it the rest agree."
    return f"It may be {', '.join(words[:-1])} or {words[-1]}: these readings cannot tell which."


def _evidence(results: Mapping[str, Result]) -> tuple[tuple[str, str], ...]:
    return tuple((CLOSURE, key) for key in results)


def _finding(weighed: Weighed, results: Mapping[str, Result]) -> Finding | None:
    """Whether it adds up."""
    agreed = weighed.agreed
    if agreed is None or agreed.freedom == 0:
        return None
    share = agreed.odds * 100.0
    chance = f"{share:.0f} of 100" if share >= 1.0 else "less than 1 of 100"
    ways = f"{agreed.freedom} way{'' if agreed.freedom == 1 else 's'} to contradict each other"
    if agreed.agrees:
        return Finding(
            "adds-up",
            "open",
            "The readings of this moment agree with each other; that clears nothing.",
            f"They had {ways}, and chance alone makes them differ at least this much in {chance} cases. What they "
            "share and what they cannot see stays open.",
            _evidence(results),
            PHYSICS,
        )
    return Finding(
        "does-not-add-up",
        "open",
        "The readings of this moment contradict each other.",
        f"They had {ways}; chance alone makes them differ this much in {chance} cases. {_odd_one(weighed, agreed)}",
        _evidence(results),
        PHYSICS,
        do_next=("read the odd one again, with another instrument, before anything is tuned or claimed from it",),
    )


def _of_faults(weighed: Weighed, account: Account) -> Iterator[str]:
    """What the readings cannot show, fault by fault."""
    agreed = weighed.agreed
    if agreed is None:
        return
    hidden: list[str] = []
    for name, shifts in weighed.faults:
        seen = agreed.seen(name, shifts)
        if name in (LEAK, DILUTION):
            if seen.least > HALF:
                hidden.append(name)
            else:
                yield f"{name[:1].upper()}{name[1:]}: less than {seen.least * 100:.0f} % of it would not show here."
        elif name == LOST and seen.visible:
            figure = show.number(seen.least, seen.least / 10.0, quantity="heat_output", system=account.system)
            least = f"{figure} {show.unit_of('heat_output', account.system)}"
            yield f"{name[:1].upper()}{name[1:]}: less than {least} of it would not show here."
        elif not seen.visible:
            yield f"Cannot tell: {name}."
    if hidden:
        yield (
            f"Cannot tell: {' or '.join(hidden)}. Oxygen and carbon dioxide slide along the line of fuel and air with "
            "it. Only a hose test and a second sampling point can witness it."
        )


def _unread(weighed: Weighed) -> Iterator[str]:
    """Readings nobody checks, and pairs that cannot be told apart."""
    agreed = weighed.agreed
    people = weighed.of_people()
    unchecked = [one.name for one in people if not one.checked]
    if unchecked:
        yield f"No other reading checks {', '.join(unchecked)}: an error there passes unseen."
    if agreed is None:
        return
    names = {one.name for one in people}
    pairs = [f"{one} and {other}" for one, other in agreed.alike if one in names and other in names]
    if pairs:
        yield f"An error in either leaves the same trace, and nothing here tells them apart: {'; '.join(pairs[:4])}."


def _cannot_tell(weighed: Weighed, account: Account) -> Iterator[str]:
    found, agreed = weighed.found, weighed.agreed
    yield from (f"Does it add up: {reason}." for reason in found.reasons)
    if agreed is None or agreed.freedom == 0:
        yield "Nothing was read in two ways, so nothing can contradict anything: that is not agreement."
    yield from _of_faults(weighed, account)
    yield from _unread(weighed)
    if found.band > 0.0 and found.share is not None and found.outputs:
        yield (
            f"How much water condensed: a band of {found.band * 100:.1f} points of the gross heat, counted as even "
            "odds all along it. Condensate weighed would narrow it."
        )


def _data(weighed: Weighed) -> dict[str, object]:
    """The whole account of it, for the record."""
    agreed = weighed.agreed
    if agreed is None:
        return {"reconciled": None}
    return {
        "reconciled": {
            "sum_of_squares": agreed.chi_square,
            "freedom": agreed.freedom,
            "odds": agreed.odds,
            "critical": agreed.critical,
            "suspects": list(agreed.suspects),
            "unchecked": list(agreed.unchecked),
            "not_observable": list(agreed.not_observable),
            "readings": [
                {
                    "name": one.name,
                    "measured": one.measured,
                    "adjusted": one.value,
                    "spread": one.spread,
                    "residual": one.residual,
                    "standardised": one.standardised,
                    "redundancy": one.redundancy,
                }
                for one in agreed.readings
            ],
        }
    }


def part(weighed: Weighed, account: Account, typed: Mapping[str, Reading]) -> Part:
    """The balance as a part of the job.

    weighed  the witnesses made to agree
    account  the visit
    typed    readings typed for the balance alone, by key
    """
    results = _results(weighed, account)
    finding = _finding(weighed, results)
    return Part(
        CLOSURE,
        "Does it add up",
        "delivered",
        tuple(_statements(weighed, results, typed)),
        results,
        () if finding is None else (finding,),
        tuple(_cannot_tell(weighed, account)),
        note="A balance of this moment. It is no figure for a season and no promise of a saving.",
        data=_data(weighed),
    )
