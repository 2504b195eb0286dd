"""Adapters for gas on its way through a flue."""

from collections.abc import Callable, Mapping
from typing import Any

from fluewright.checks.rows import Row
from fluewright.kernel import flue_flow
from fluewright.solve import flue_balance, flue_network
from fluewright.solve.flue_network import Attached, Gas, Network, Pipe, Surrounding


def _cooling(row: Row) -> dict[str, float]:
    return {
        "temperature": row.number("temperature"),
        "surrounding_temperature": row.number("around"),
        "heat_loss_rate": row.number("loss"),
        "heat_flow_rate": row.number("carried"),
    }


def _mixed(row: Row) -> float:
    """Temperature of two flows of one gas run together."""
    parts = [Gas(row.number(f"flow {n}"), row.number(f"temperature {n}")) for n in ("1", "2")]
    return flue_network.mixed(parts, parts[0].temperature).temperature


def _pull(row: Row) -> float:
    """Pressure at the foot of a flue that loses nothing: what its column alone gives."""
    height = row.number("height")
    still = Gas(1e-4, row.number("temperature"), row.number("molar mass"))
    wide = Pipe(height, height, 5.0, 0.0, row.number("temperature"), 0.0, 1e-6)
    short = Pipe(1e-3, 0.0, 5.0, 0.0, row.number("temperature"), 0.0, 1e-6)
    around = Surrounding(row.number("outdoors"), row.number("outdoors"), row.number("pressure"))
    found = flue_balance.balanced(Network((Attached("one", still, 0.0, 0.0, short),), (wide,), around))
    return -found.appliances[0].junction


ASKS: Mapping[str, Callable[[Row], Any]] = {
    "gas_density": lambda row: flue_flow.gas_density(
        molar_mass=row.number("molar mass"), temperature=row.number("temperature"), pressure=row.number("pressure")
    ),
    "flue_gas_viscosity": lambda row: flue_flow.gas_viscosity(temperature=row.number("temperature")),
    "temperature_at_end": lambda row: flue_flow.temperature_at_end(**_cooling(row)),
    "temperature_over_length": lambda row: flue_flow.temperature_over_length(**_cooling(row)),
    "dynamic_pressure": lambda row: flue_flow.dynamic_pressure(
        mass_flow=row.number("flow"), density=row.number("density"), area=row.number("area")
    ),
    "mixed_temperature": _mixed,
    "pull_of_a_column": _pull,
}
