"""The work that all benches share: one invented natural gas, seeded readings, and the peers' own formulas.

The peers get the same algebra in its leanest form: coefficients worked out beforehand, one polynomial for a whole
mixture, no objects in between. What they do not get is ours: units, doubt, blocks.
"""

from functools import cache
from typing import Any, NamedTuple

from fluewright.kernel import air, analysis, fuel, gases
from fluewright.kernel.constants import CARBON_MONOXIDE_HEAT

READINGS = ("oxygen_dry_fraction", "carbon_monoxide_dry_fraction", "flue_temperature", "air_temperature")
SPREADS = {
    "oxygen_dry_fraction": 0.001,
    "carbon_monoxide_dry_fraction": 5e-6,
    "flue_temperature": 2.0,
    "air_temperature": 1.0,
}
OUTPUTS = (
    "excess_air",
    "carbon_dioxide_dry",
    "carbon_monoxide_air_free",
    "loss_dry_gas",
    "loss_vapour",
    "loss_carbon_monoxide",
    "efficiency_gross",
    "efficiency_net",
)
SEED = 20261125


@cache
def prepared() -> analysis.Prepared:
    """An invented natural gas burned with air of 50 % humidity at 20 C."""
    gas = fuel.gas(name="bench gas", mole_fractions={"CH4": 0.95, "C2H6": 0.02, "N2": 0.02, "CO2": 0.01})
    damp = air.humid(relative_humidity=0.5, temperature=293.15, pressure=101_325.0)
    return analysis.prepare(fuel=gas, air=damp)


def readings(rows: int) -> dict[str, Any]:
    """Invented readings as columns, the same each time."""
    import numpy

    draw = numpy.random.default_rng(SEED)
    return {
        "oxygen_dry_fraction": draw.uniform(0.02, 0.10, rows),
        "carbon_monoxide_dry_fraction": draw.uniform(1e-5, 2e-4, rows),
        "flue_temperature": draw.uniform(350.0, 600.0, rows),
        "air_temperature": draw.uniform(270.0, 310.0, rows),
    }


class Given(NamedTuple):
    """The numbers that a person writing the formulas by hand would type in at the top."""

    oxygen: float
    carbon_dioxide: float
    water_ratio: float
    oxygen_need: float
    air_need: float
    dry_products: float
    carbon: float
    water: float
    gross: float
    net: float
    from_fuel: tuple[float, ...]
    from_air: tuple[float, ...]
    to_carbon_monoxide: tuple[float, ...]
    vapour: tuple[float, ...]


@cache
def given() -> Given:
    """The numbers for the bench gas."""
    ready = prepared()
    gas, damp, need = ready.fuel, ready.air, ready.need
    return Given(
        damp.oxygen,
        damp.carbon_dioxide,
        damp.water_ratio,
        need.oxygen_need,
        need.air_need,
        need.dry_products,
        gas.carbon,
        gas.hydrogen / 2.0 + gas.water,
        gas.heating_value_gross,
        gas.heating_value_net,
        ready.carriers.from_fuel,
        ready.carriers.air,
        gases.mixture_enthalpy_polynomial(amounts={"CO": 1.0, "CO2": -1.0, "O2": 0.5}),
        gases.mixture_enthalpy_polynomial(amounts={"H2O": 1.0}),
    )


def _polynomial(x: Any, c: tuple[float, ...]) -> Any:
    return ((((c[5] * x + c[4]) * x + c[3]) * x + c[2]) * x + c[1]) * x + c[0]


def by_hand(oxygen: Any, carbon_monoxide: Any, flue_temperature: Any, air_temperature: Any) -> tuple[Any, ...]:
    """The eight results as a person would write them, for floats, columns of any kind, and uncertain numbers.

    Positional on purpose: pandas and numpy callers unpack their columns into it.
    """
    g = given()
    left = oxygen - carbon_monoxide / 2.0
    dry = g.dry_products / (1.0 - oxygen - left * ((1.0 - g.oxygen) / g.oxygen))
    air_amount = (g.oxygen_need + left * dry) / g.oxygen
    unburned = carbon_monoxide * dry
    carbon_dioxide = (g.carbon + g.carbon_dioxide * air_amount - unburned) / dry - g.carbon_dioxide
    gas_out = (
        _polynomial(flue_temperature, g.from_fuel)
        + air_amount * _polynomial(flue_temperature, g.from_air)
        + unburned * _polynomial(flue_temperature, g.to_carbon_monoxide)
    )
    air_in = air_amount * _polynomial(air_temperature, g.from_air)
    loss_dry_gas = (gas_out - air_in) / g.gross  # the fuel arrives at 25 C and brings nothing
    humidity = g.water_ratio * air_amount
    vapour_out = (g.water + humidity) * _polynomial(flue_temperature, g.vapour)
    vapour_in = humidity * _polynomial(air_temperature, g.vapour)
    loss_vapour = (vapour_out - vapour_in + (g.gross - g.net)) / g.gross
    loss_unburned = unburned * (CARBON_MONOXIDE_HEAT / g.gross)
    loss = loss_dry_gas + loss_vapour + loss_unburned
    return (
        air_amount / g.air_need - 1.0,
        carbon_dioxide,
        carbon_monoxide * g.oxygen / (g.oxygen - oxygen),
        loss_dry_gas,
        loss_vapour,
        loss_unburned,
        1.0 - loss,
        1.0 - (loss * g.gross - (g.gross - g.net)) / g.net,
    )


def largest_difference(ours: Any, theirs: Any) -> float:
    """Largest relative difference of two sets of columns."""
    import numpy

    worst = 0.0
    for one, other in zip(ours, theirs, strict=True):
        left, right = numpy.asarray(one, dtype=float), numpy.asarray(other, dtype=float)
        worst = max(worst, float(numpy.max(numpy.abs(left - right) / numpy.maximum(numpy.abs(right), 1e-9))))
    return worst
