"""One property on its way to becoming a figure, and the properties that gases, liquids and solids share."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import NamedTuple

from fluewright.kernel import balance, dewpoint, emissions
from fluewright.kernel.air import DRY_AIR
from fluewright.kernel.constants import STANDARD_PRESSURE
from fluewright.kernel.fuel import Fuel, Stoichiometry
from fluewright.kernel.ops import Number, value_of

BALANCE = "element balance of carbon, hydrogen, oxygen, nitrogen and sulfur; docs/method/fuel.md"
COMPLETE = "complete combustion in dry air of 20.946 % oxygen"


class Told(NamedTuple):
    """What is said of a property whatever its value.

    words     as a person says it
    quantity  registry name whose units it is shown in
    formula   in words
    source    of the formula and its data
    """

    words: str
    quantity: str
    formula: str
    source: str


@dataclass(frozen=True, slots=True)
class Line:
    """A property with its uncertain value; fields as in figures.Figure."""

    name: str
    told: Told
    value: Number | None
    numbers: str = ""
    holds: str = ""
    refused: str = ""


PRODUCTS: Mapping[str, Told] = {
    "carbon_dioxide_dry_max": Told(
        "highest carbon dioxide in dry flue gas, above fresh air",
        "carbon_dioxide_dry_max",
        "highest carbon dioxide = (carbon of the fuel + that of the air) / dry products - fresh air",
        BALANCE,
    ),
    "water_wet_max": Told(
        "water vapour in the wet flue gas at exact air",
        "share",
        "water = half the hydrogen of the fuel and its own water / wet products",
        BALANCE,
    ),
    "water_dew_point": Told(
        "dew point of the flue gas at exact air",
        "water_dew_point",
        "temperature at which the vapour pressure of water equals its share of 101.325 kPa",
        "IAPWS-IF97 saturation line",
    ),
    "latent_fraction": Told(
        "share of the gross heat in water vapour",
        "share",
        "latent share = (gross - net) / gross",
        "definition of net heating value, at 25 C",
    ),
    "carbon_factor": Told(
        "carbon dioxide per gross heat",
        "carbon_factor",
        "carbon factor = carbon of the fuel x 44.0095 g/mol / gross heat at 25 C",
        BALANCE,
    ),
}


def v(number: Number) -> float:
    """The plain value, for a line with numbers put in."""
    return float(value_of(number))


def products(fuel: Fuel, need: Stoichiometry, *, per: str, data: Number = 1.0) -> list[Line]:
    """What the flame makes: carbon dioxide, dry gas, water, dew point, carbon per heat.

    fuel  per unit
    need  its stoichiometry in dry air
    per   "mol of gas" or "kg"
    data  1 with the doubt of the heating values of pure gases; 1 where the heat was measured
    -> lines
    """
    most, wet = need.carbon_dioxide_dry_max, need.dry_products + need.water
    gross, net = fuel.heating_value_gross, fuel.heating_value_net
    water, latent, carbon = need.water / wet, (gross - net) / gross, emissions.carbon_factor(fuel=fuel) / data
    fresh = DRY_AIR.carbon_dioxide
    numbers = {
        "carbon_dioxide_dry_max": f"({v(fuel.carbon):.5g} + {fresh:g} x {v(need.air_need):.5g})"
        f" / {v(need.dry_products):.5g} - {fresh:g} = {100 * v(most):.3f} %",
        "water_wet_max": f"{v(need.water):.5g} / {v(wet):.5g} = {100 * v(water):.2f} %",
        "latent_fraction": f"({v(gross):.6g} - {v(net):.6g}) / {v(gross):.6g} J per {per} = {100 * v(latent):.2f} %",
        "carbon_factor": f"{v(fuel.carbon):.5g} x 44.0095 / {v(gross) / 1e6:.6g} MJ = {1e9 * v(carbon):.2f} g/MJ",
    }
    holds = {
        "carbon_dioxide_dry_max": COMPLETE + "; as read by an instrument zeroed in fresh air",
        "water_wet_max": COMPLETE,
        "latent_fraction": "leaves with the flue gas unless it condenses; water of the air not counted",
        "carbon_factor": "all carbon burned, fossil or not; nothing of the supply chain",
    }
    values = dict(zip(numbers, (most, water, latent, carbon), strict=True))
    made = [Line(name, PRODUCTS[name], values[name], numbers[name], holds[name]) for name in numbers]
    return [*made[:2], _dew_point(fuel, need, 100.0 * v(water)), *made[2:]]


def _dew_point(fuel: Fuel, need: Stoichiometry, percent: float) -> Line:
    told = PRODUCTS["water_dew_point"]
    if v(need.water) <= 0.0:
        return Line("water_dew_point", told, None, refused="this fuel makes no water")
    flue = balance.from_air_ratio(fuel=fuel, air=DRY_AIR, air_ratio=1.0)
    dew = dewpoint.water(flue=flue, pressure=STANDARD_PRESSURE)
    return Line(
        "water_dew_point",
        told,
        dew,
        f"{percent:.2f} % of 101.325 kPa: {v(dew) - 273.15:.1f} C",
        COMPLETE + ", at sea level; more air and thinner air lower it; sulfur raises the acid dew point far above it",
    )
