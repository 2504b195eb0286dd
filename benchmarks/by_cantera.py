"""The same losses as somebody with Cantera would script them. As a program: one reading, printed as JSON.

It imports nothing of ours, so that its start is its own. `Fuel` holds what its writer would look up: the bench gas
per mole, damp air, and heating values of ISO 6976 at 25 C.
"""

import json
import sys
from typing import Any

CARBON, HYDROGEN, FUEL_NITROGEN, FUEL_OXYGEN = 1.0, 3.92, 0.04, 0.02
"""mol atoms per mol of the bench gas: CH4 0.95, C2H6 0.02, N2 0.02, CO2 0.01."""
AIR = {"O2": 0.20946, "N2": 0.78084, "Ar": 0.0093, "CO2": 0.0004}
NAMES = ("CO2", "CO", "O2", "N2", "Ar", "H2O")
CARBON_MONOXIDE_HEAT = 282_980.0
"""J/mol, ISO 6976:2016."""


class Losses:
    """Losses of one reading after another; gas data are read once."""

    def __init__(self, *, gross: float, net: float, water_ratio: float) -> None:
        import cantera
        import numpy

        data = {species.name: species for species in cantera.Species.list_from_file("nasa_gas.yaml")}
        self.gas = cantera.Solution(thermo="ideal-gas", species=[data[name] for name in NAMES])
        self.pressure = cantera.one_atm
        self.gross, self.net, self.water_ratio = gross, net, water_ratio
        self.need = CARBON + HYDROGEN / 4.0 - FUEL_OXYGEN / 2.0
        self.air = numpy.array([AIR.get(name, 0.0) for name in NAMES])
        self.air[-1] = water_ratio
        self.gas.TP = 298.15, self.pressure
        self.cold = self.gas.partial_molar_enthalpies / 1000.0

    def of(self, oxygen: float, carbon_monoxide: float, flue_temperature: float, air_temperature: float) -> Any:
        """The eight results for one reading."""
        import numpy

        gas, share = self.gas, AIR["O2"]
        left = oxygen - carbon_monoxide / 2.0
        dry_exact = CARBON + FUEL_NITROGEN / 2.0 + self.need / share * (1.0 - share)
        dry = dry_exact / (1.0 - oxygen - left * (1.0 - share) / share)
        air = (self.need + left * dry) / share
        unburned = carbon_monoxide * dry
        carbon_dioxide = CARBON + AIR["CO2"] * air - unburned
        nitrogen = FUEL_NITROGEN / 2.0 + AIR["N2"] * air
        water = HYDROGEN / 2.0 + self.water_ratio * air
        flue = numpy.array((carbon_dioxide, unburned, oxygen * dry, nitrogen, AIR["Ar"] * air, water))
        gas.TP = flue_temperature, self.pressure
        hot = flue * (gas.partial_molar_enthalpies / 1000.0 - self.cold)
        gas.TP = air_temperature, self.pressure
        brought = air * self.air * (gas.partial_molar_enthalpies / 1000.0 - self.cold)
        dry_gas = (hot[:-1].sum() - brought[:-1].sum()) / self.gross  # the fuel arrives at 25 C
        vapour = (hot[-1] - brought[-1] + self.gross - self.net) / self.gross
        carbon = unburned * CARBON_MONOXIDE_HEAT / self.gross
        loss = dry_gas + vapour + carbon
        return (
            air / (self.need / share) - 1.0,
            carbon_dioxide / dry - AIR["CO2"],
            carbon_monoxide * share / (share - oxygen),
            dry_gas,
            vapour,
            carbon,
            1.0 - loss,
            1.0 - (loss * self.gross - (self.gross - self.net)) / self.net,
        )


if __name__ == "__main__":
    numbers = [float(argument) for argument in sys.argv[1:]]
    script = Losses(gross=numbers[4], net=numbers[5], water_ratio=numbers[6])
    print(json.dumps([float(result) for result in script.of(*numbers[:4])]))
