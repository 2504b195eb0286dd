"""One property on its way to becoming a figure, and the properties that gases, liquids and solids share."""

from dataclasses import dataclass

from fluewright.kernel import balance, dewpoint, emissions
from fluewright.kernel.air import DRY_AIR
from fluewright.kernel.constants import STANDARD_PRESSURE
from fluewright.kernel.fuel import Fuel, Stoichiometry
from fluewright.kernel.ops import Number, value_of

BALANCE = "element balance of carbon, hydrogen, oxygen, nitrogen and sulfur; docs/method/fuel.md"
COMPLETE = "complete combustion in dry air of 20.946 % oxygen"


@dataclass(frozen=True, slots=True)
class Line:
    """A property with its uncertain value; fields as in figures.Figure."""

    name: str
    words: str
    quantity: str
    value: Number | None
    formula: str = ""
    numbers: str = ""
    source: str = ""
    holds: str = ""
    refused: str = ""


def v(number: Number) -> float:
    """The plain value, for a line with numbers put in."""
    return float(value_of(number))


def missing(name: str, words: str, quantity: str, why: str) -> Line:
    """A property that this fuel does not have."""
    return Line(name, words, quantity, None, refused=why)


def products(fuel: Fuel, need: Stoichiometry, *, per: str) -> list[Line]:
    """What the flame makes: carbon dioxide, dry gas, water, dew point, carbon per heat.

    fuel  per unit
    need  its stoichiometry in dry air
    per   "mol of gas" or "kg"
    -> lines
    """
    wet = need.dry_products + need.water
    latent = (fuel.heating_value_gross - fuel.heating_value_net) / fuel.heating_value_gross
    carbon = emissions.carbon_factor(fuel=fuel)
    return [
        Line(
            "carbon_dioxide_dry_max",
            "highest carbon dioxide in dry flue gas, above fresh air",
            "carbon_dioxide_dry_max",
            need.carbon_dioxide_dry_max,
            "highest carbon dioxide = (carbon of the fuel + that of the air) / dry products - fresh air",
            f"({v(fuel.carbon):.5g} + {DRY_AIR.carbon_dioxide:g} x {v(need.air_need):.5g}) / {v(need.dry_products):.5g}"
            f" - {DRY_AIR.carbon_dioxide:g} = {100 * v(need.carbon_dioxide_dry_max):.3f} %",
            BALANCE,
            COMPLETE + "; as read by an instrument zeroed in fresh air",
        ),
        Line(
            "water_wet_max",
            "water vapour in the wet flue gas at exact air",
            "share",
            need.water / wet,
            "water = half the hydrogen of the fuel and its own water / wet products",
            f"{v(need.water):.5g} / {v(wet):.5g} = {100 * v(need.water / wet):.2f} %",
            BALANCE,
            COMPLETE,
        ),
        _dew_point(fuel, need),
        Line(
            "latent_fraction",
            "share of the gross heat in water vapour",
            "share",
            latent,
            "latent share = (gross - net) / gross",
            f"({v(fuel.heating_value_gross):.6g} - {v(fuel.heating_value_net):.6g}) / {v(fuel.heating_value_gross):.6g}"
            f" J per {per} = {100 * v(latent):.2f} %",
            "definition of net heating value, at 25 C",
            "leaves with the flue gas unless it condenses; water of the air not counted",
        ),
        Line(
            "carbon_factor",
            "carbon dioxide per gross heat",
            "carbon_factor",
            carbon,
            "carbon factor = carbon of the fuel x 44.0095 g/mol / gross heat at 25 C",
            f"{v(fuel.carbon):.5g} x 44.0095 / {v(fuel.heating_value_gross) / 1e6:.6g} MJ = {1e9 * v(carbon):.2f} g/MJ",
            BALANCE,
            "all carbon burned, fossil or not; nothing of the supply chain",
        ),
    ]


def _dew_point(fuel: Fuel, need: Stoichiometry) -> Line:
    words = "dew point of the flue gas at exact air"
    if v(need.water) <= 0.0:
        return missing("water_dew_point", words, "water_dew_point", "this fuel makes no water")
    flue = balance.from_air_ratio(fuel=fuel, air=DRY_AIR, air_ratio=1.0)
    dew = dewpoint.water(flue=flue, pressure=STANDARD_PRESSURE)
    share = 100.0 * v(need.water / (need.dry_products + need.water))
    return Line(
        "water_dew_point",
        words,
        "water_dew_point",
        dew,
        "temperature at which the vapour pressure of water equals its share of 101.325 kPa",
        f"{share:.2f} % of 101.325 kPa: {v(dew) - 273.15:.1f} C",
        "IAPWS-IF97 saturation line",
        COMPLETE + ", at sea level; more air and thinner air lower it; sulfur raises the acid dew point far above it",
    )
