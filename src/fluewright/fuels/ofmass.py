"""Properties of a liquid or solid fuel, per kilogram as fired."""

from collections.abc import Callable, Mapping

from fluewright.fuels.line import BALANCE, COMPLETE, Line, missing, products, v
from fluewright.fuels.record import FuelRecord
from fluewright.fuels.reference import Reference
from fluewright.kernel import air
from fluewright.kernel.constants import MOLAR_VOLUME
from fluewright.kernel.fuel import Fuel, stoichiometry
from fluewright.kernel.ops import Number


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
    mass = need.air_need * air.MOLAR_MASS
    volume = need.dry_products * MOLAR_VOLUME
    return [
        *_heats(record, shares, fuel, number),
        Line(
            "air_need",
            "dry air needed per mass of fuel",
            "air_need_per_mass",
            mass,
            "air need = oxygen need / oxygen in air x molar mass of air",
            f"{v(need.oxygen_need):.3f} mol/kg / {air.DRY_AIR.oxygen:g} x {air.MOLAR_MASS:.6f} kg/mol"
            f" = {v(mass):.3f} kg/kg",
            BALANCE,
            COMPLETE + f"; {v(need.air_need) * MOLAR_VOLUME:.3f} m3/kg at 0 C and 101.325 kPa",
        ),
        Line(
            "dry_products",
            "dry flue gas per mass of fuel at exact air",
            "relative_density",
            volume,
            "dry products = carbon dioxide, sulfur dioxide and nitrogen of the fuel + air need x (1 - oxygen in air)",
            f"{v(need.dry_products):.3f} mol/kg x {MOLAR_VOLUME:.6f} m3/mol = {v(volume):.3f} m3/kg",
            BALANCE,
            COMPLETE + "; at 0 C and 101.325 kPa; ash left out",
        ),
        *products(fuel, need, per="kg"),
        *_not_here(record.kind),
    ]


def _heats(
    record: FuelRecord, shares: Mapping[str, Number], fuel: Fuel, number: Callable[[str, float, float], Number]
) -> list[Line]:
    gross, net = fuel.heating_value_gross, fuel.heating_value_net
    hydrogen, water = v(shares.get("H", 0.0)), v(shares.get("water", 0.0))
    how = record.heating_value_known or "as given"
    lines = [
        Line(
            "heating_value_gross",
            "gross heating value per mass as fired",
            "heating_value_gross_per_mass",
            gross,
            "measured, or estimated from the analysis; moisture thins it",
            f"{v(gross) / 1e6:.3f} MJ/kg, {how}",
            f"{record.source}; {how}",
            "at 25 C; as fired, with its moisture and ash",
        ),
        Line(
            "heating_value_net",
            "net heating value per mass as fired",
            "heating_value_net_per_mass",
            net,
            "net = gross - 2.4418 (8.937 H + W) MJ/kg",
            f"{v(gross) / 1e6:.3f} - 2.4418 x (8.937 x {hydrogen:.4f} + {water:.4f}) = {v(net) / 1e6:.3f} MJ/kg",
            "heat of vaporisation of water at 25 C, IAPWS-95",
            "at constant pressure, 25 C",
        ),
    ]
    name = "heating_value_gross_per_liquid_volume"
    if record.density is None:
        return [*lines, missing(name, "gross heat per volume", name, "the density is not known")]
    density = number("density", record.density, record.density_spread) if record.density_spread else record.density
    heat = gross * density
    at = "" if record.density_temperature is None else f" at {record.density_temperature - 273.15:.1f} C"
    bulk = "bulk density" if record.kind == "solid" else "density"
    return [
        *lines,
        Line(
            name,
            "gross heat per volume",
            name,
            heat,
            f"gross heating value x {bulk}",
            f"{v(gross) / 1e6:.3f} MJ/kg x {v(density):.1f} kg/m3 = {v(heat) / 1e9:.3f} MJ/L",
            record.source,
            f"{bulk}{at}",
        ),
        Line(
            "density",
            bulk + at.replace(" C", " °C"),
            "density",
            density,
            "as known",
            f"{v(density):.1f} kg/m3",
            record.source,
            "a warmer oil is thinner by about 0.08 % per kelvin (common practice, no source)",
        ),
    ]


def _not_here(kind: str) -> list[Line]:
    """Properties that only gases have."""
    why = f"a {kind} has none; it is metered by mass or by volume of the {kind}"
    return [
        missing("molar_mass", "molar mass", "molar_mass", f"a {kind} of many substances has no one molar mass"),
        missing("relative_density", "density relative to air", "relative_density", why),
        missing("wobbe_gross", "gross Wobbe index", "wobbe_gross", why),
        missing("wobbe_net", "net Wobbe index", "wobbe_net", why),
    ]
