"""A virtual appliance while it runs: cold, lit, warming up, with the faults asked for, as slow cells show it."""

import math
import random
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from fluewright.errors import UseError
from fluewright.simulate.cells import unblurred
from fluewright.simulate.condition import Condition, Constants, Design, Site
from fluewright.simulate.designs import designs
from fluewright.simulate.faults import faults, with_fault
from fluewright.simulate.virtual import steady

T90: Mapping[str, float] = {
    "oxygen_dry": 20.0, "carbon_dioxide_dry": 20.0, "carbon_monoxide_dry": 40.0, "flue_temperature": 30.0,
    "air_temperature": 60.0, "draft": 2.0, "carbon_monoxide_room": 60.0,
}  # fmt: skip
"""s to 90 % of a step of the cells that are shown, in the order in which they are: common practice, no source."""

NOISE: Mapping[str, float] = {
    "oxygen_dry": 0.0004, "carbon_dioxide_dry": 0.0004, "carbon_monoxide_dry": 0.8e-6, "flue_temperature": 0.25,
    "air_temperature": 0.1, "draft": 0.15, "carbon_monoxide_room": 0.3e-6,
}  # fmt: skip
"""Standard deviation of one sample, canonical units: invented."""

WARM, FILL = 90.0, 900.0
"""s, first-order: the exchanger until it is warm, the room until it holds what spills into it: invented."""

BEFORE = 30.0
"""s of fresh air before it is lit."""

PUFF, PUFF_LASTS = 400e-6, 6.0
"""mol/mol of carbon monoxide as it lights, and s until it is a third of that: invented."""

NEVER_BELOW = {"oxygen_dry", "carbon_dioxide_dry", "carbon_monoxide_dry", "carbon_monoxide_room"}


@dataclass(frozen=True, slots=True)
class Moment:
    """Seconds since it was lit, and what the cells show by registry name, canonical units."""

    seconds: float
    shown: Mapping[str, float]


def _none_of(what: str, name: str, known: Sequence[str]) -> UseError:
    return UseError(
        code="FW-U-170",
        read=f"{name!r} as {what}",
        expected="one of " + ", ".join(known),
        matters="another one would behave in another way",
        do="see fluewright simulate --list",
    )


def design_named(name: str) -> Design:
    """A design by its name; UseError when there is none."""
    if name not in designs():
        raise _none_of("a design of appliance", name, tuple(designs()))
    return designs()[name]


def with_faults(design: Design, said: Sequence[str]) -> Condition:
    """A condition with faults by name, each with how severe it is behind an equals sign: flue-blocked=0.8.

    -> condition; UseError for one that is not there or cannot befall the design
    """
    condition = Condition()
    known = {name: fault for name, fault in faults().items() if fault.befalls(design)}
    for text in said:
        name, _, severe = text.partition("=")
        if name not in known:
            raise _none_of(f"a fault of the design {design.name}", name, tuple(known))
        try:
            severity = float(severe or "0.5")
        except ValueError:
            severity = math.nan
        if not 0.0 <= severity <= 1.0:
            raise UseError(
                code="FW-U-171",
                read=f"the fault {text!r}",
                expected="how severe it is, from 0 (just noticeable) to 1 (severe): " + name + "=0.5",
                matters="how the appliance behaves follows from it",
                do="write a figure from 0 to 1, or leave it out for 0.5",
            )
        condition = with_fault(condition=condition, fault=known[name], severity=severity)
    return condition


def settled(design: Design, condition: Condition, site: Site) -> dict[str, float]:
    """What the cells would come to."""
    constants = Constants()
    truth = steady(design=design, site=site, condition=condition, constants=constants)
    still = steady(design=design, site=site, condition=replace(condition, crack=0.0), constants=constants)
    shown = unblurred(truth=truth, still=still, design=design, site=site, condition=condition, measured=False)
    return {name: shown[name] for name in T90}


def _truth(seconds: float, settled: Mapping[str, float], cold: Mapping[str, float]) -> dict[str, float]:
    """What is there before the cells see it: the flame at once, exchanger and draft slowly, a puff as it lights."""
    found = dict(settled)
    for name, lasts in (("flue_temperature", WARM), ("draft", WARM), ("carbon_monoxide_room", FILL)):
        found[name] = cold[name] + (settled[name] - cold[name]) * (1.0 - math.exp(-seconds / lasts))
    found["carbon_monoxide_dry"] += PUFF * math.exp(-seconds / PUFF_LASTS)
    return found


def running(
    *, design: Design, condition: Condition, seed: int, seconds: float, step: float = 1.0, before: float = BEFORE,
    site: Site | None = None,
) -> Iterator[Moment]:  # fmt: skip
    """One firing as the instrument shows it.

    design     what burns
    condition  its faults
    seed       of the noise, so that a run can be repeated
    seconds    how long it fires
    step       s from sample to sample
    before     s of fresh air before it is lit
    site       the day and the place; the usual one when not said
    -> moments
    """
    noise, there = random.Random(seed), site or Site()
    goal = settled(design, condition, there)
    fresh = {"oxygen_dry": 0.2095, "carbon_dioxide_dry": 0.0, "carbon_monoxide_dry": 0.0, "carbon_monoxide_room": 0.0}
    cold = {**goal, **fresh, "flue_temperature": there.returning, "draft": 0.3 * goal["draft"]}
    cells = dict(cold)
    for count in range(round((before + seconds) / step)):
        at = count * step - before
        truth = cold if at < 0.0 else _truth(at, goal, cold)
        shown = {}
        for name, value in truth.items():
            cells[name] += (value - cells[name]) * (1.0 - 10.0 ** (-step / T90[name]))
            read = cells[name] + noise.gauss(0.0, NOISE[name])
            shown[name] = max(0.0, read) if name in NEVER_BELOW else read
        yield Moment(at, shown)
