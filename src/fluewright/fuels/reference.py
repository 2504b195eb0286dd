"""The temperatures that heat and volume of a gas are counted at."""

import re
from dataclasses import dataclass

from fluewright.fuels import refusals

COMBUSTION = {"0": "0 °C", "15": "15 °C", "60F": "60 °F", "20": "20 °C", "25": "25 °C"}
METERING = {"0": "0 °C", "15": "15 °C", "60F": "60 °F", "20": "20 °C"}
KELVIN = {"0": 273.15, "15": 288.15, "60F": 288.7055555555555, "20": 293.15, "25": 298.15}


@dataclass(frozen=True, slots=True)
class Reference:
    """What a heating value is counted at; always 101.325 kPa and dry.

    combustion  key of COMBUSTION: where fuel and products stand
    metering    key of METERING: where the cubic metre is measured
    ideal       volumes of an ideal gas, as US tables give them
    """

    combustion: str
    metering: str
    ideal: bool = False

    def words(self) -> str:
        """The reference as a sentence says it."""
        gas = "ideal gas" if self.ideal else "real gas"
        return f"heat at {COMBUSTION[self.combustion]}, volume at {METERING[self.metering]} and 101.325 kPa, dry, {gas}"

    def short(self) -> str:
        """The reference as it is typed, such as 15/15."""
        return f"{self.combustion}/{self.metering}"


def reference_of(text: str, *, ideal: bool = False) -> Reference:
    """A reference as people write it.

    text   combustion/metering in degrees Celsius, or F for 60 °F: 15/15, 25/0, 15/0, 20/20, 60F; one temperature
           stands for both
    ideal  volumes of an ideal gas
    -> reference; FuelError FW-F-028 for temperatures that have no published data
    """
    parts = [_temperature(part) for part in text.split("/")]
    if len(parts) == 1:
        parts *= 2
    if len(parts) != 2 or parts[0] not in COMBUSTION or parts[1] not in METERING:
        raise refusals.unknown_reference(text)
    return Reference(parts[0], parts[1], ideal)


def _temperature(text: str) -> str:
    key = re.sub(r"[\s°]|deg", "", text).upper().removesuffix("C").removesuffix(".0")
    return {"60": "", "15.6": "60F", "15.56": "60F"}.get(key, key)
