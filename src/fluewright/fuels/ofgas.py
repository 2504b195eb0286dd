"""Properties of a fuel gas, at a metering and a combustion reference."""

from collections.abc import Callable, Mapping

from fluewright.fuels.line import BALANCE, COMPLETE, Line, missing, products, v
from fluewright.fuels.record import FuelRecord
from fluewright.fuels.reference import KELVIN, METERING, Reference
from fluewright.kernel import metering
from fluewright.kernel.air import DRY_AIR
from fluewright.kernel.air import MOLAR_MASS as AIR_MASS
from fluewright.kernel.components import AIR_COMPRESSION, COMPONENTS
from fluewright.kernel.fuel import Fuel, stoichiometry
from fluewright.kernel.gas_properties import GasProperties, gas_properties, weaver_flame_speed
from fluewright.kernel.ops import Number

ISO = "ISO 6976:2016, component data and mixing rule"


def lines(
    record: FuelRecord,
    *,
    shares: Mapping[str, Number],
    fuel: Fuel,
    data: Number,
    reference: Reference,
    number: Callable[[str, float, float], Number],
) -> list[Line]:
    """All properties of a gas.

    record     fuel
    shares     its mole fractions, uncertain
    fuel       the same for the kernel
    data       1 with the doubt of the data of pure gases
    reference  what heat and volume are counted at
    number     makes an uncertain number from name, value and standard uncertainty
    -> lines in the order of the page
    """
    found = gas_properties(
        mole_fractions=shares, combustion=reference.combustion, metering=reference.metering, ideal=reference.ideal
    )
    need = stoichiometry(fuel=fuel, air=DRY_AIR)
    return [
        *_heats(found, data, reference),
        *_body(found, shares, reference),
        *_masses(record, shares, found, data, number),
        Line(
            "air_need",
            "dry air needed per volume of gas",
            "air_need",
            need.air_need,
            "air need = oxygen need / oxygen in air",
            f"{v(need.oxygen_need):.5f} / {DRY_AIR.oxygen:g} = {v(need.air_need):.4f} m3/m3",
            BALANCE,
            COMPLETE + "; in moles, which are volumes of ideal gases",
        ),
        Line(
            "dry_products",
            "dry flue gas per volume of gas at exact air",
            "air_need",
            need.dry_products,
            "dry products = carbon dioxide and inerts of the fuel + air need x (1 - oxygen in air)",
            f"{v(need.dry_from_fuel):.5f} + {v(need.air_need):.4f} x {1.0 - DRY_AIR.oxygen:.5f}"
            f" = {v(need.dry_products):.4f} m3/m3",
            BALANCE,
            COMPLETE,
        ),
        *products(fuel, need, per="mol of gas"),
        _flame_speed(shares, need.air_need),
    ]


def _heats(found: GasProperties, data: Number, reference: Reference) -> list[Line]:
    where = reference.words()
    amount = f"101 325 Pa / (8.314463 x {KELVIN[reference.metering]:.2f} K x {v(found.compression_factor):.5f})"
    made = []
    for end in ("gross", "net"):
        heat = getattr(found, f"heating_value_{end}") * data
        index = getattr(found, f"wobbe_{end}") * data
        molar = v(heat) / 101325.0 * 8.314462618 * KELVIN[reference.metering] * v(found.compression_factor)
        made += [
            Line(
                f"heating_value_{end}",
                f"{end} heating value",
                f"heating_value_{end}",
                heat,
                "heating value = sum of shares x molar heating values x amount of gas in a volume",
                f"{molar / 1e3:.2f} kJ/mol x {amount} = {v(heat) / 1e6:.3f} MJ/m3",
                ISO,
                where,
            ),
            Line(
                f"wobbe_{end}",
                f"{end} Wobbe index",
                f"wobbe_{end}",
                index,
                "Wobbe index = heating value / root of relative density",
                f"{v(heat) / 1e6:.3f} / root of {v(found.relative_density):.4f} = {v(index) / 1e6:.3f} MJ/m3",
                ISO,
                where + "; gases of one Wobbe index bring one heat through one orifice at one pressure",
            ),
        ]
    return [made[0], made[2], made[1], made[3]]


def _terms(shares: Mapping[str, Number], *, most: int = 4) -> str:
    """The largest terms of a sum over components."""
    ordered = sorted(shares, key=lambda name: -v(shares[name]))
    said = [f"{v(shares[name]):.4f} x {1000.0 * COMPONENTS[name].molar_mass:.4f}" for name in ordered[:most]]
    return " + ".join(said) + (" + ..." if len(ordered) > most else "")


def _body(found: GasProperties, shares: Mapping[str, Number], reference: Reference) -> list[Line]:
    where = reference.words()
    mass = 1000.0 * v(found.molar_mass)
    factor = v(found.compression_factor)
    air_factor = 1.0 if reference.ideal else AIR_COMPRESSION[tuple(METERING).index(reference.metering)]
    volume = 8.314462618 * KELVIN[reference.metering] * factor / 101325.0
    return [
        Line(
            "molar_mass",
            "molar mass",
            "molar_mass",
            found.molar_mass,
            "molar mass = sum of shares x molar masses",
            f"{_terms(shares)} = {mass:.4f} g/mol",
            ISO,
            "always",
        ),
        Line(
            "relative_density",
            "density relative to air",
            "relative_density",
            found.relative_density,
            "relative density = molar mass / molar mass of air x compression factor of air / that of the gas",
            f"{mass:.4f} / {1000.0 * AIR_MASS:.4f} x {air_factor:.6f} / {factor:.5f} = {v(found.relative_density):.4f}",
            ISO,
            where,
        ),
        Line(
            "density",
            "density of the gas",
            "density",
            found.density,
            "density = molar mass x amount of gas in a volume",
            f"{mass:.4f} g/mol / {1000.0 * volume:.4f} L/mol = {v(found.density):.4f} kg/m3",
            ISO,
            where,
        ),
        Line(
            "compression_factor",
            "compression factor",
            "relative_density",
            found.compression_factor,
            "Z = 1 - (sum of shares x summation factors) squared",
            "taken as 1" if reference.ideal else f"1 - {max(0.0, 1.0 - factor) ** 0.5:.5f} squared = {factor:.5f}",
            ISO,
            where,
        ),
    ]


def _masses(
    record: FuelRecord,
    shares: Mapping[str, Number],
    found: GasProperties,
    data: Number,
    number: Callable[[str, float, float], Number],
) -> list[Line]:
    per_mass = []
    for end in ("gross", "net"):
        heat = getattr(found, f"heating_value_{end}") * data / found.density
        per_mass.append(
            Line(
                f"heating_value_{end}_per_mass",
                f"{end} heating value per mass",
                f"heating_value_{end}_per_mass",
                heat,
                "heat per volume / density",
                f"{v(heat) / 1e6:.3f} MJ/kg",
                ISO,
                "combustion reference as stated; the volume cancels",
            )
        )
    return [*per_mass, _tank(record, shares, data, number)]


def _tank(
    record: FuelRecord, shares: Mapping[str, Number], data: Number, number: Callable[[str, float, float], Number]
) -> Line:
    """Heat in a volume of the stored liquid, as a tank gauge counts it."""
    name = "heating_value_gross_per_liquid_volume"
    words = "gross heat per volume of stored liquid"
    if record.density is None:
        return missing(name, words, name, "this gas is not stored as a liquid at ordinary temperature")
    at60 = gas_properties(mole_fractions=shares, combustion="60F", metering="60F", ideal=True)
    vapour = at60.heating_value_gross * data / at60.density
    step = metering.LIQUEFIED["C3H8"].heat_to_vapour
    density = number("density", record.density, record.density_spread) if record.density_spread else record.density
    heat = (vapour - step) * density
    return Line(
        name,
        words,
        name,
        heat,
        "(heat of the vapour - heat to make vapour of liquid) x density of the liquid, at 60 F",
        f"({v(vapour) / 1e6:.3f} - {step / 1e6:.3f}) MJ/kg x {v(density):.1f} kg/m3 = {v(heat) / 1e9:.3f} MJ/L",
        "ISO 6976:2016; step to vapour of propane by the reference equation of state (kernel.metering)",
        "the step is that of propane for every liquefied gas, right to 0.1 % of the heat",
    )


def _flame_speed(shares: Mapping[str, Number], air_need: Number) -> Line:
    words = "flame speed in per cent of hydrogen's"
    folded = {name: share for name, share in shares.items() if name not in ("Ar", "He")}
    rare: Number = shares.get("Ar", 0.0) + shares.get("He", 0.0)
    if v(rare):
        folded["N2"] = folded.get("N2", 0.0) + rare
    heavy: Number = 0.0
    for name in ("nC5H12", "iC5H12", "neoC5H12", "nC6H14"):
        heavy = heavy + folded.pop(name, 0.0)
    if 0.0 < v(heavy) <= 0.01:
        folded["nC4H10"] = folded.get("nC4H10", 0.0) + heavy
    try:
        if v(heavy) > 0.01:
            raise KeyError("pentanes and heavier")
        speed = weaver_flame_speed(mole_fractions=folded, air_need=air_need)
    except KeyError as unknown:
        why = f"no published factor for {unknown.args[0]}"
        return missing("flame_speed", words, "relative_density", why)
    return Line(
        "flame_speed",
        words,
        "relative_density",
        speed,
        "sum of factors x shares / (air need + 5 x inerts - 18.8 x oxygen + 1)",
        f"{v(speed):.2f}",
        "Weaver, NBS Research Paper 2193 (1951), constants from memory",
        "to compare gases; argon counted with nitrogen, up to 1 % of heavier alkanes with butane",
    )
