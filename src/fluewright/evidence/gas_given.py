"""What was read of the gas supply: pressures by place and state, set point, plate, pipes."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal

from fluewright.evidence.gas_lines import GasLine
from fluewright.evidence.reading import Reading

WORD = "gas supply"
UNNAMED = "Which gas it is: nobody named it, and natural gas was taken. Rules for other gases differ."
At = Literal["meter", "regulator", "appliance"]
State = Literal["standing", "this appliance", "everything on", "shut off"]

AT_WORDS: Mapping[str, str] = {
    "meter": "at the meter",
    "regulator": "behind the regulator",
    "appliance": "at the appliance",
}
STATE_WORDS: Mapping[str, str] = {
    "standing": "standing, nothing on",
    "this appliance": "with this appliance on",
    "everything on": "with everything on",
    "shut off": "just after shutting off",
}
WORKING: tuple[State, ...] = ("this appliance", "everything on")


@dataclass(frozen=True, slots=True)
class LinePressure:
    """One pressure: where it was read and what was on."""

    at: At
    state: State
    reading: Reading
    time: str = ""

    @property
    def key(self) -> str:
        """By which evidence refers to it."""
        return f"{self.state} at {self.at}"

    @property
    def words(self) -> str:
        """As a person says it."""
        return f"gas pressure {AT_WORDS[self.at]}, {STATE_WORDS[self.state]}"


@dataclass(frozen=True, slots=True)
class Given:
    """What was read of the gas supply.

    pressures    each once by place and state
    set_point    of the regulator that feeds the house
    least, most  what the appliance may be given, from its plate or papers
    dwelling     kind of house, in the words of the books
    line         pipes and appliances, None where nobody described them
    gas_named    whether somebody named the gas; natural gas is taken where nobody did
    """

    pressures: tuple[LinePressure, ...] = ()
    set_point: Reading | None = None
    least: Reading | None = None
    most: Reading | None = None
    dwelling: str = ""
    line: GasLine | None = None
    gas_named: bool = True
