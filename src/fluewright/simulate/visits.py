"""One invented visit: an appliance of a design, at a random place, with the faults asked for, read once."""

import random
from collections.abc import Sequence
from dataclasses import dataclass, replace

from fluewright.simulate.cells import blurred, unblurred
from fluewright.simulate.condition import Condition, Constants, Design, Site
from fluewright.simulate.draws import random_constants, random_site
from fluewright.simulate.faults import Fault, with_fault
from fluewright.simulate.virtual import Truth, steady


@dataclass(frozen=True, slots=True)
class Invented:
    """A visit whose truth is known: readings by registry name in canonical units, and what they come from."""

    design: Design
    faults: tuple[Fault, ...]
    severities: tuple[float, ...]
    site: Site
    truth: Truth
    readings: dict[str, float]


def ordinary(*, noise: random.Random, design: Design) -> Condition:
    """A healthy appliance with the small flaws that every one has."""
    return Condition(
        wobbe=1.0 + noise.gauss(0.0, 0.012),
        setting=1.0 + noise.gauss(0.0, 0.025),
        supply=max(0.8, 1.0 + noise.gauss(0.0, 0.05)),
        pump=1.0 + noise.gauss(0.0, 0.02),
        burner_dirt=abs(noise.gauss(0.0, 0.04)),
        fouling=abs(noise.gauss(0.0, 0.02)),
        offset=noise.gauss(0.0, 1.5) if design.family == "premix" else 0.0,
        moisture=noise.gauss(0.0, 0.015) if design.family == "wood" else 0.0,
        load=1.0 + noise.gauss(0.0, 0.08) if design.family == "wood" else 1.0,
        oil_temperature=noise.gauss(290.0, 2.0),
        exhaust=abs(noise.gauss(0.0, 0.7)),
        wind=noise.gauss(0.0, 0.7),
        oxygen_offset=noise.gauss(0.0, 0.0012),
        monoxide_gain=1.0 + noise.gauss(0.0, 0.04),
        inside_zero=noise.gauss(0.0, 0.7e-6),
        hydrogen_response=abs(noise.gauss(0.0, 0.05)),
        hose_leak=abs(noise.gauss(0.0, 0.004)),
    )


def invented(
    *,
    noise: random.Random,
    design: Design,
    faults: Sequence[Fault] = (),
    severities: Sequence[float] = (),
    width: float = 1.0,
    foreign: float = 0.0,
) -> Invented:
    """A visit.

    noise       source of chance
    design      what is visited
    faults      what is wrong with it, each with its severity 0..1
    width       how far units of one design lie apart
    foreign     how far the constants of the model lie from ours; 0 is ours
    -> visit
    """
    site = random_site(noise=noise, design=design, width=width)
    constants = random_constants(noise=noise, width=foreign) if foreign else Constants()
    condition = ordinary(noise=noise, design=design)
    for fault, severity in zip(faults, severities, strict=True):
        condition = with_fault(condition=condition, fault=fault, severity=severity)
    truth = steady(design=design, site=site, condition=condition, constants=constants)
    still = truth
    if condition.crack:
        still = steady(design=design, site=site, condition=replace(condition, crack=0.0), constants=constants)
    measured = noise.random() < 0.3
    shown = unblurred(truth=truth, still=still, design=design, site=site, condition=condition, measured=measured)
    if "flame_current" in shown:
        shown["flame_current"] *= site.current
    return Invented(design, tuple(faults), tuple(severities), site, truth, blurred(shown=shown, noise=noise))
