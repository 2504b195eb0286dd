"""What was done to try gas pipes for tightness: the section, the gauge read twice, the meter watched."""

import math
from dataclasses import dataclass
from typing import Literal

from fluewright.evidence.reading import Reading
from fluewright.evidence.tightness_medium import Medium
from fluewright.rules.tightness_tests import Appliances, Pipes

WORD = "tightness"
PLAIN, STEP = math.sqrt(3.0), math.sqrt(12.0)
"""Half-width of even limits, and one display step, over the standard uncertainty (GUM 4.3.7)."""
DRIFT, DRIFT_TIME = 0.5, 600.0
"""K and s: a settled pipe whose temperature nobody read may drift by half a kelvin in ten minutes, for shorter tests by
less in proportion, for longer ones no more (common practice, no source)."""
SAME_THERMOMETER = 0.1
"""K: limit of the difference of two readings of one thermometer on one pipe (common practice, no source)."""
SAME_BAROMETER = 10.0
"""Pa: the same for a barometer."""
WEATHER, GUSTS = 100.0 / 3600.0, 5.0
"""Pa/s and Pa: what a barometer nobody read may move, and what wind and doors do at least (common practice)."""
DIAL = 0.01
"""Share of a turn of the dial that an eye can see (common practice, no source)."""
EXPONENT, EXPONENT_LIMIT = 0.75, 0.25
"""Between a hole (0.5) and a crack (1)."""
SEEN = 2.0
"""Standard uncertainties that a fall must stand clear of to be called one."""
SOURCE = "ideal-gas law"
HOLDS = "stiff pipe, one temperature along it, no valve that lets gas in"

Purpose = Literal["tightness", "load", "let-by"]


@dataclass(frozen=True, slots=True)
class Standstill:
    """A pipe under pressure and shut, read twice.

    start, end    gauge
    duration      between the two
    settled       s it was left to settle before the first, None when nobody said
    temperatures  of the pipe at both readings, None when nobody read them
    barometers    at both readings
    drift         K, limit of the change of temperature, when better known
    step          Pa, smallest movement the gauge shows; the typed digits when None
    medium        what was in the pipe, empty when nobody said; a let-by test is done with the gas itself
    """

    purpose: Purpose
    start: Reading
    end: Reading
    duration: Reading
    settled: float | None = None
    temperatures: tuple[Reading, Reading] | None = None
    barometers: tuple[Reading, Reading] | None = None
    drift: float | None = None
    step: float | None = None
    time: str = ""
    medium: Medium = ""

    @property
    def filled(self) -> str:
        """What was in the pipe, as far as it is known."""
        return "gas" if self.purpose == "let-by" and not self.medium else self.medium

    @property
    def steps(self) -> float:
        """Pa, the step of the gauge."""
        return self.step or max(self.start.typed.resolution, self.end.typed.resolution, 1.0)


@dataclass(frozen=True, slots=True)
class Creep:
    """A meter watched with everything shut.

    counted   gas on the dial, 0 for a dial that stood still
    dial      one turn of the fastest dial
    duration  watched
    gauge     in the meter, None when nobody read it
    """

    counted: Reading
    dial: Reading
    duration: Reading
    gauge: Reading | None = None
    time: str = ""


@dataclass(frozen=True, slots=True)
class Section:
    """What was under test.

    volume      None where nobody knows it
    volume_how  how it is known, for its line
    pipes       new or in use
    appliances  on: connected and shut at their own controls; off: shut off from the test
    meter       kind of meter in the section, "none" for none, empty when nobody said
    working     pressure the line works at
    gas_named   whether somebody named the gas; natural gas is taken where nobody did
    """

    volume: Reading | None = None
    volume_how: str = ""
    pipes: Pipes = "any"
    appliances: Appliances = "any"
    dwelling: str = ""
    meter: str = ""
    working: Reading | None = None
    gas_named: bool = True
