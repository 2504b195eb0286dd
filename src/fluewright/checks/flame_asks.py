"""Adapters for flames and gases: equilibrium, adiabatic temperature, frozen rich products, heat capacities."""

from collections.abc import Callable, Mapping
from typing import Any

from fluewright.checks.fuels_given import air, fuel
from fluewright.checks.rows import Row
from fluewright.kernel import equilibrium, gases
from fluewright.kernel.balance import FlueGas, from_dry_oxygen, hydrogen_from_shift
from fluewright.kernel.equilibrium import Mixture

SETTLED: dict[tuple[str, ...], Mixture] = {}
"""Flames already worked out: several rows ask the same flame for its temperature, CO, H2 and NO."""


def _elements(row: Row) -> dict[str, float]:
    ratio = 1.0 / row.number("equivalence ratio")
    return equilibrium.elements_of(fuel=fuel(row), air=air(row), air_ratio=ratio)


def _flame(row: Row) -> Mixture:
    key = (row.file, *(f"{name}={row.inputs[name]}" for name in sorted(row.inputs) if name != "species"))
    if key not in SETTLED:
        pressure = row.number("pressure", "101.325 kPa")
        if "temperature" in row.inputs:
            SETTLED[key] = equilibrium.at_temperature(
                elements=_elements(row), temperature=row.number("temperature"), pressure=pressure
            )
        else:
            enthalpy = equilibrium.enthalpy_of(
                fuel=fuel(row),
                air=air(row),
                air_ratio=1.0 / row.number("equivalence ratio"),
                temperature=row.number("entering", "298.15 K"),
            )
            SETTLED[key] = equilibrium.adiabatic(elements=_elements(row), enthalpy=enthalpy, pressure=pressure)
    return SETTLED[key]


def _dry_share(row: Row) -> float:
    return _flame(row).dry_fraction(row.word("species"))


def _shifted_hydrogen(row: Row) -> Any:
    """Hydrogen beside a measured carbon monoxide, as the balance estimates it for a rich flame."""
    flue: FlueGas = from_dry_oxygen(
        fuel=fuel(row),
        air=air(row),
        oxygen_dry_fraction=row.number("oxygen", "0 %"),
        carbon_monoxide_dry_fraction=row.number("carbon monoxide"),
        hydrogen_dry_fraction=row.number("hydrogen", "0 %"),
    )
    return hydrogen_from_shift(flue=flue)


def _of_gas(function: Callable[..., Any]) -> Callable[[Row], Any]:
    return lambda row: function(species=row.word("species"), temperature=row.number("temperature"))


def _formation(row: Row) -> float:
    return gases.formation_enthalpy(species=row.word("species"))


ASKS: Mapping[str, Callable[[Row], Any]] = {
    "flame_temperature": lambda row: _flame(row).temperature,
    "flame_share": _dry_share,
    "shift_constant": lambda row: equilibrium.shift_constant(temperature=row.number("temperature")),
    "hydrogen_from_shift": _shifted_hydrogen,
    "heat_capacity": _of_gas(gases.heat_capacity),
    "enthalpy_above_25": _of_gas(gases.enthalpy),
    "entropy": _of_gas(gases.entropy),
    "formation_enthalpy": _formation,
}
