"""What a person read and wrote down about the oil supply, before anything is worked out from it."""

from dataclasses import dataclass
from typing import Literal

from fluewright.evidence.nozzle import Nozzle
from fluewright.evidence.reading import Reading

PART = "oil supply"
"""The word by which evidence refers to this part."""

FittedWord = Literal["as removed", "as fitted", "plate"]
Pipes = Literal["", "one", "two"]
Tank = Literal["", "indoors", "outdoors", "buried"]


@dataclass(frozen=True, slots=True)
class Fitted:
    """One nozzle: taken out, put in, or the one that the plate asks for."""

    word: FittedWord
    nozzle: Nozzle
    time: str = ""


@dataclass(frozen=True, slots=True)
class OilGiven:
    """Readings and words about oil; None or empty for what nobody read.

    pump_pressure    while running
    pressure_held    in the closed nozzle port after shut-down
    measured_flow    by meter, or a tank and a clock
    vacuum           at the pump inlet, counted downwards
    lift             from oil level to pump, below nothing where the tank stands above
    run, bore        length and inner width of the line
    pump_flow        all that the pump moves, for two pipes
    tuned_oxygen     where the flame was set, when no stretch says it
    """

    nozzles: tuple[Fitted, ...] = ()
    pump_pressure: Reading | None = None
    pressure_held: Reading | None = None
    measured_flow: Reading | None = None
    vacuum: Reading | None = None
    lift: Reading | None = None
    run: Reading | None = None
    bore: Reading | None = None
    pipes: Pipes = ""
    pump_flow: Reading | None = None
    tank: Tank = ""
    oil_temperature: Reading | None = None
    coldest_oil: Reading | None = None
    warmest_oil: Reading | None = None
    tuned_oxygen: Reading | None = None
    lit_after: Reading | None = None
    lock_out: Reading | None = None
    lock_out_plate: Reading | None = None
    over_fire_oxygen: Reading | None = None
    breech_oxygen: Reading | None = None
    over_fire_draft: Reading | None = None
    breech_draft: Reading | None = None

    def nozzle(self, word: FittedWord) -> Nozzle | None:
        """The last nozzle of a word."""
        return next((one.nozzle for one in reversed(self.nozzles) if one.word == word), None)
