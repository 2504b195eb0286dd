"""Heat input by the gas meter as a part of the job: what was counted, what burns, and whether the plate allows it."""

import math
from collections.abc import Iterator
from dataclasses import dataclass, field, replace

from fluewright.errors import PhysicsRefused
from fluewright.evidence import gas_height, gas_plate, gas_unsaid, gas_worked, plate_basis, trust
from fluewright.evidence.finding import PHYSICS, PRACTICE, Clause, Finding, Grade
from fluewright.evidence.gas_count import (
    FINE_ENOUGH,
    Count,
    Numbers,
    left_out,
    numbers_of,
    seconds_to_go,
)
from fluewright.evidence.gas_height import Allowed, Derate
from fluewright.evidence.gas_holes import Hole
from fluewright.evidence.gas_plate import Manifold
from fluewright.evidence.gas_told import Told, sentences
from fluewright.evidence.limits import CERTAIN
from fluewright.evidence.part import Part, SoFar
from fluewright.evidence.reading import Account
from fluewright.evidence.reckon import Reckoning, by_physics
from fluewright.evidence.result import Result
from fluewright.kernel.ops import value_of
from fluewright.quantity import show

LOWLAND = 98_000.0
"""Pa: a barometer above it stands below 2,000 ft: 94.2 kPa there (standard), and 3 kPa for the weather."""


@dataclass(frozen=True, slots=True)
class Other:
    """Something else on the same meter, and whether it was off: off, on or not known."""

    words: str
    state: str = "off"


@dataclass(frozen=True, slots=True)
class GasInput:
    """A clocking of the meter for one appliance.

    name      which appliance, empty for the one of the visit
    plate     W gross, from its plate; None to use the visit's
    alone     whether the meter feeds nothing else
    others    what else it feeds
    height    m above sea level, None to use the visit's
    holes     orifices as fitted
    """

    count: Count
    name: str = ""
    plate: float | None = None
    derate: Derate = field(default_factory=Derate)
    manifold: Manifold = field(default_factory=Manifold)
    holes: Hole | None = None
    alone: bool = False
    others: tuple[Other, ...] = ()

    @property
    def late(self) -> bool:
        """It rests on nothing else."""
        return False

    @property
    def word(self) -> str:
        """By which evidence refers to it."""
        return f"gas input, {self.name}" if self.name else "gas input"

    def worked(self, so_far: SoFar) -> Part:
        """Work out the input and judge it."""
        account, reckoning = so_far.account, Reckoning(so_far.account)
        plate = self.plate if self.plate is not None or self.name else account.appliance.plate_input
        try:
            numbers = numbers_of(self.count, reckoning)
            allowed = gas_height.allowed(
                self.derate,
                altitude=account.surroundings.altitude,
                jurisdiction=account.jurisdiction,
                plate=plate,
            )
        except PhysicsRefused as error:
            return self._not_worked(error)
        results = {
            **gas_worked.of_count(self.count, numbers, reckoning),
            **gas_worked.of_plate(
                numbers, reckoning, plate=plate, allowed=allowed, open_basis=self.open_basis(account)
            ),
            **gas_worked.at_burner(self.manifold, self.holes, reckoning),
        }
        told = Told(self.count, results, allowed, plate, self.manifold, self.holes, account)
        others = "; ".join(f"{one.words} {one.state}" for one in self.others)
        said = "nothing else" if self.alone else others
        findings = tuple(_findings(self, numbers, results, allowed, account))
        return Part(
            word=self.word,
            title=f"Gas input{f': {self.name}' if self.name else ''}",
            place="supply",
            statements=sentences(told, said),
            results=results,
            findings=findings,
            cannot_tell=_cannot_tell(plate),
            data={"seconds_to_go": seconds_to_go(self.count, numbers.resolution)},
        )

    def open_basis(self, account: Account) -> bool:
        """Whether the plate, which is then the visit's, may state gross or net."""
        return self.plate is None and not self.name and plate_basis.unsaid(account)

    def _not_worked(self, error: PhysicsRefused) -> Part:
        """The part of a count that must not be worked out."""
        code = "double-correction" if error.code == "FW-K-040" else "gas-input-not-worked-out"
        body = f"Read: {error.read}. Expected: {error.expected}, because {error.matters}. Then {error.do}."
        lead = f"{self.word[:1].upper()}{self.word[1:]}: no heat input can be stated."
        clause = PHYSICS
        finding = Finding(code, "open", lead, body, (), clause, do_next=(error.do,))
        return Part(
            word=self.word,
            title=f"Gas input{f': {self.name}' if self.name else ''}",
            place="supply",
            statements=(),
            results={"fuel_input": by_physics("fuel_input", error)},
            findings=(finding,),
        )


def _open(word: str, code: str, lead: str, body: str, *do: str, clause: Clause = PRACTICE) -> Finding:
    said = f"{word[:1].upper()}{word[1:]}: {lead}"
    return Finding(code, "open", said, body, ((word, "fuel_input"),), clause, do_next=do)


def _findings(
    given: GasInput, numbers: Numbers, results: dict[str, Result], allowed: Allowed, account: Account
) -> Iterator[Finding]:
    """What it says, and why it may not be believed."""
    doubts = (*_apart(given.word, results), *_doubts(given, numbers, allowed, account))
    doubt = doubts[0].lead.partition(": ")[2].rstrip(".") if doubts else ""
    share = results["input_of_plate"]
    if share.value is not None:
        left = gas_unsaid.least_left(given.count, account.surroundings, float(value_of(numbers.correction)))
        worst = _gravest(share, allowed, left)
        yield from gas_plate.judged(share, given.word, account, manifold=given.manifold, doubt=doubt, worst=worst)
    if "manifold_of_plate" in results:
        yield from gas_plate.manifold_judged(results["manifold_of_plate"], given.word, account)
    yield from doubts


def _gravest(share: Result, allowed: Allowed, least: float) -> Grade:
    """Over by an assumption is no reason to leave an appliance off; over whatever the assumed would be is.

    least  the least that unstated corrections leave of the input, fraction
    """
    left = least * ((allowed.share or 1.0) if allowed.how == "assumed" else 1.0)
    if left >= 1.0:
        return "act"
    bare = replace(share, value=(share.value or 0.0) * left, below=share.below * left, above=share.above * left)
    return "act" if (trust.beyond(bare, 1.0) or 0.0) >= CERTAIN else "advise"


def _apart(word: str, results: dict[str, Result]) -> Iterator[Finding]:
    """Meter and holes that do not agree: one of the readings is not what it seems."""
    meter, holes = results["fuel_input"], results.get("fuel_input_by_orifice")
    if holes is None or holes.value is None or meter.value is None or meter.bound or holes.bound:
        return
    doubt = 2.0 * math.hypot(meter.spread, holes.spread)
    if abs(meter.value - holes.value) <= doubt:
        return
    lead = "meter and orifices do not agree."
    ratio = meter.value / holes.value
    body = f"The meter says {ratio:.2f} times what pressure and holes pass, more than their doubts explain."
    do = "look again at dial and watch, at drill and number of orifices, at the gas, and for others burning"
    yield _open(word, "meter-and-orifice-apart", lead, body, do, clause=PHYSICS)


def _doubts(given: GasInput, numbers: Numbers, allowed: Allowed, account: Account) -> Iterator[Finding]:
    word, count = given.word, given.count
    if more := seconds_to_go(count, numbers.resolution):
        lead = f"go on counting for {more:.0f} more seconds."
        steps = f"{numbers.resolution * 100.0:.1f}"
        enough = f"{FINE_ENOUGH * 100.0:g}"
        body = f"Steps of meter and watch are {steps} % of what was counted; below {enough} % they no longer matter."
        yield _open(word, "count-too-coarse", lead, body, f"count for {more:.0f} seconds more, from the same start")
    yield from _others(given)
    if out := left_out(count):
        read = " and ".join(out)
        lead = f"the {read} read was not counted a second time."
        body = f"The meter corrects for {read} itself. If it does not, say so, and the input changes by some per cent."
        yield _open(word, "double-correction", lead, body, "read on the meter's plate what it corrects for")
    elif count.meter.compensated == "unknown" and count.meter.factor is None and count.heat.counted_at != "as metered":
        lead = "whether the meter corrects for temperature is not known."
        body = "Cold gas in an outdoor meter holds up to a tenth more heat than an uncorrected count says."
        yield _open(word, "compensation-unknown", lead, body, "read it on the meter's plate")
    if given.open_basis(account):
        yield plate_basis.question(word, float(value_of(numbers.fuel_input)) / float(value_of(numbers.net)))
    yield from gas_unsaid.questions(word, count, numbers, account.system)
    if count.heat.value is None:
        lead = "the heating value is only assumed."
        body = f"It was taken from {account.fuel.words}; the gas in the pipe may differ by 3 % and more."
        yield _open(word, "heat-assumed", lead, body, "ask the supplier for the heating value of the day or month")
    if allowed.how != "stated":
        yield from _height(word, allowed, account)


def _height(word: str, allowed: Allowed, account: Account) -> Iterator[Finding]:
    """Which input is allowed at this height, where nobody said the height or the rule."""
    place = account.surroundings
    if place.altitude is None:
        if place.pressure_source.startswith("assumed") or place.pressure < LOWLAND:
            lead = "how high the place is was not said."
            body = "At 5,000 ft what the meter counts holds 17 % less heat, and plates allow less."
            yield _open(word, "height-not-said", lead, body, "write the altitude of the place, with its unit")
        return
    said = show.shown(place.altitude, quantity="altitude", system=account.system)
    lead = f"which input the maker allows at {said} is not said."
    taken = f"Taken for now: {allowed.words}." if allowed.words else "The plate was taken as it stands."
    body = f"{taken} The maker's table or plate wins; rules differ by a fifth of the input at 5,000 ft."
    yield _open(word, "height-rule-open", lead, body, "read the maker's instructions for this height")


def _others(given: GasInput) -> Iterator[Finding]:
    states = {one.state for one in given.others}
    if "on" in states:
        names = ", ".join(one.words for one in given.others if one.state == "on")
        body = f"{names} burned too, so what this appliance had is at most what was counted."
        do = "turn them off, pilots too, and count again"
        yield _open(given.word, "others-on", "others burned on the same meter.", body, do, clause=PHYSICS)
    elif "not known" in states or not (given.alone or given.others):
        lead = "nobody has said that everything else on the meter was off."
        body = "Each other flame and each pilot is counted as if it burned here."
        yield _open(given.word, "others-not-listed", lead, body, "list every other appliance and pilot, each off")


def _cannot_tell(plate: float | None) -> tuple[str, ...]:
    return ("Whether the input is right: nobody read the plate.",) if plate is None else ()
