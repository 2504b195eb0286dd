"""Properties of a liquid or solid fuel, per kilogram as fired."""

from collections.abc import Callable, Mapping

from fluewright.fuels.line import BALANCE, COMPLETE, Line, Told, products, v
from fluewright.fuels.record import FuelRecord
from fluewright.fuels.reference import Reference
from fluewright.kernel import air
from fluewright.kernel.constants import MOLAR_VOLUME
from fluewright.kernel.fuel import Fuel, Stoichiometry, stoichiometry
from fluewright.kernel.ops import Number

_PER_VOLUME = "heating_value_gross_per_liquid_volume"

TOLD: Mapping[str, Told] = {
    "heating_value_gross": Told(
        "gross heating value per mass as fired",
        "heating_value_gross_per_mass",
        "measured, or estimated from the analysis; moisture thins it",
        "the fuel's own source",
    ),
    "heating_value_net": Told(
        "net heating value per mass as fired",
        "heating_value_net_per_mass",
        "net = gross - 2.4418 (8.937 H + W) MJ/kg",
        "heat of vaporisation of water at 25 C, IAPWS-95",
    ),
    _PER_VOLUME: Told("gross heat per volume", _PER_VOLUME, "gross heating value x density", "the fuel's own source"),
    "density": Told("density", "density", "as known", "the fuel's own source"),
    "air_need": Told(
        "dry air needed per mass of fuel",
        "air_need_per_mass",
        "air need = oxygen need / oxygen in air x molar mass of air",
        BALANCE,
    ),
    "dry_products": Told(
        "dry flue gas per mass of fuel at exact air",
        "relative_density",
        "dry products = carbon dioxide, sulfur dioxide and nitrogen of the fuel + air need x (1 - oxygen in air)",
        BALANCE,
    ),
}

OF_GASES_ONLY = {
    "molar_mass": "molar mass",
    "relative_density": "density relative to air",
    "wobbe_gross": "gross Wobbe index",
    "wobbe_net": "net Wobbe index",
}


def lines(
    record: FuelRecord,
    *,
    shares: Mapping[str, Number],
    fuel: Fuel,
    data: Number,
    reference: Reference,
    number: Callable[[str, float, float], Number],
) -> list[Line]:
    """All properties of a liquid or solid.

    record     fuel
    shares     mass fractions as fired, uncertain
    fuel       the same for the kernel
    data       not used: heating values are measured, not made from pure gases
    reference  not used: heat is counted at 25 C, masses need no reference
    number     makes an uncertain number from name, value and standard uncertainty
    -> lines in the order of the page
    """
    need = stoichiometry(fuel=fuel, air=air.DRY_AIR)
    return [
        *_heats(record, shares, fuel),
        *_volumes(record, fuel, number),
        *_air(need),
        *products(fuel, need, per="kg"),
        *_of_gases_only(record.kind),
    ]


def _sourced(name: str, record: FuelRecord) -> Told:
    """What is said of a property that comes from the fuel's own file."""
    return TOLD[name]._replace(source=f"{record.source} ({record.known})")


def _heats(record: FuelRecord, shares: Mapping[str, Number], fuel: Fuel) -> list[Line]:
    gross, net = fuel.heating_value_gross, fuel.heating_value_net
    hydrogen, water = v(shares.get("H", 0.0)), v(shares.get("water", 0.0))
    measured = f"{v(gross) / 1e6:.3f} MJ/kg, {record.heating_value_known or 'as given'}"
    sums = f"2.4418 x (8.937 x {hydrogen:.4f} + {water:.4f})"
    numbers = f"{v(gross) / 1e6:.3f} - {sums} = {v(net) / 1e6:.3f} MJ/kg"
    fired = "at 25 C; as fired, with its moisture and ash"
    return [
        Line("heating_value_gross", _sourced("heating_value_gross", record), gross, measured, fired),
        Line("heating_value_net", TOLD["heating_value_net"], net, numbers, "at constant pressure, 25 C"),
    ]


def _volumes(record: FuelRecord, fuel: Fuel, number: Callable[[str, float, float], Number]) -> list[Line]:
    if record.density is None:
        return [Line(_PER_VOLUME, TOLD[_PER_VOLUME], None, refused="the density is not known")]
    density = number("density", record.density, record.density_spread) if record.density_spread else record.density
    gross = fuel.heating_value_gross
    heat = gross * density
    at = "" if record.density_temperature is None else f" at {record.density_temperature - 273.15:.1f} C"
    holds = ("bulk density" if record.kind == "solid" else "density") + at
    if record.kind == "liquid":
        holds += "; a warmer oil is thinner by about 0.08 % per kelvin (common practice, no source)"
    numbers = f"{v(gross) / 1e6:.3f} MJ/kg x {v(density):.1f} kg/m3 = {v(heat) / 1e9:.3f} MJ/L"
    return [
        Line(_PER_VOLUME, _sourced(_PER_VOLUME, record), heat, numbers, holds),
        Line("density", _sourced("density", record), density, f"{v(density):.1f} kg/m3", holds),
    ]


def _air(need: Stoichiometry) -> list[Line]:
    mass, volume = need.air_need * air.MOLAR_MASS, need.dry_products * MOLAR_VOLUME
    numbers = f"{v(need.oxygen_need):.3f} mol/kg / {air.DRY_AIR.oxygen:g} x {air.MOLAR_MASS:.6f} kg/mol"
    made = f"{v(need.dry_products):.3f} mol/kg x {MOLAR_VOLUME:.6f} m3/mol = {v(volume):.3f} m3/kg"
    metric = f"; {v(need.air_need) * MOLAR_VOLUME:.3f} m3/kg at 0 C and 101.325 kPa"
    return [
        Line("air_need", TOLD["air_need"], mass, f"{numbers} = {v(mass):.3f} kg/kg", COMPLETE + metric),
        Line("dry_products", TOLD["dry_products"], volume, made, COMPLETE + "; at 0 C and 101.325 kPa; ash left out"),
    ]


def _of_gases_only(kind: str) -> list[Line]:
    """Properties that only gases have."""
    why = f"a {kind} of many substances is counted by mass, not by moles or volumes of gas"
    return [Line(name, Told(words, name, "", ""), None, refused=why) for name, words in OF_GASES_ONLY.items()]
