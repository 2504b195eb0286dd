"""Properties of a fuel gas, at a metering and a combustion reference."""

from collections.abc import Callable, Mapping

from fluewright.fuels.line import BALANCE, COMPLETE, Line, Told, products, v
from fluewright.fuels.record import FuelRecord
from fluewright.fuels.reference import KELVIN, METERING, Reference
from fluewright.kernel import metering
from fluewright.kernel.air import DRY_AIR
from fluewright.kernel.air import MOLAR_MASS as AIR_MASS
from fluewright.kernel.components import AIR_COMPRESSION, COMPONENTS
from fluewright.kernel.constants import GAS_CONSTANT, STANDARD_PRESSURE
from fluewright.kernel.fuel import Fuel, Stoichiometry, stoichiometry
from fluewright.kernel.gas_properties import GasProperties, gas_properties, weaver_flame_speed
from fluewright.kernel.ops import Number

ISO = "ISO 6976:2016, component data and mixing rule"
_HEAT = "heating value = sum of shares x molar heating values x amount of gas in a volume"
_WOBBE = "Wobbe index = heating value / root of relative density"
_TANK = "heating_value_gross_per_liquid_volume"

TOLD: Mapping[str, Told] = {
    "heating_value_gross": Told("gross heating value", "heating_value_gross", _HEAT, ISO),
    "heating_value_net": Told("net heating value", "heating_value_net", _HEAT, ISO),
    "wobbe_gross": Told("gross Wobbe index", "wobbe_gross", _WOBBE, ISO),
    "wobbe_net": Told("net Wobbe index", "wobbe_net", _WOBBE, ISO),
    "molar_mass": Told("molar mass", "molar_mass", "molar mass = sum of shares x molar masses", ISO),
    "relative_density": Told(
        "density relative to air",
        "relative_density",
        "relative density = molar mass / molar mass of air x compression factor of air / that of the gas",
        ISO,
    ),
    "density": Told("density of the gas", "density", "density = molar mass / volume of a mole", ISO),
    "compression_factor": Told(
        "compression factor", "relative_density", "Z = 1 - (sum of shares x summation factors) squared", ISO
    ),
    "heating_value_gross_per_mass": Told(
        "gross heating value per mass", "heating_value_gross_per_mass", "heat per volume / density", ISO
    ),
    "heating_value_net_per_mass": Told(
        "net heating value per mass", "heating_value_net_per_mass", "heat per volume / density", ISO
    ),
    _TANK: Told(
        "gross heat per volume of stored liquid",
        _TANK,
        "(heat of the vapour - heat to make vapour of liquid) x density of the liquid, at 60 F",
        "ISO 6976:2016; step to vapour of propane by the reference equation of state (kernel.metering)",
    ),
    "air_need": Told("dry air needed per volume of gas", "air_need", "air need = oxygen need / oxygen in air", BALANCE),
    "dry_products": Told(
        "dry flue gas per volume of gas at exact air",
        "air_need",
        "dry products = carbon dioxide and inerts of the fuel + air need x (1 - oxygen in air)",
        BALANCE,
    ),
    "flame_speed": Told(
        "flame speed in per cent of hydrogen's",
        "relative_density",
        "sum of factors x shares / (air need + 5 x inerts - 18.8 x oxygen + 1)",
        "Weaver, NBS Research Paper 2193 (1951), constants from memory",
    ),
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
        *_masses(found, data),
        _tank(record, shares, data, number),
        *_air(need),
        *products(fuel, need, per="mol of gas", data=data),
        _flame_speed(shares, need.air_need),
    ]


def _mole_volume(found: GasProperties, reference: Reference) -> float:
    """m3 that a mole takes at the metering reference."""
    return GAS_CONSTANT * KELVIN[reference.metering] * v(found.compression_factor) / STANDARD_PRESSURE


def _heats(found: GasProperties, data: Number, reference: Reference) -> list[Line]:
    where = reference.words()
    volume = _mole_volume(found, reference)
    heats, indices = [], []
    for end in ("gross", "net"):
        heat, index = getattr(found, f"heating_value_{end}") * data, getattr(found, f"wobbe_{end}") * data
        amount = f"101 325 Pa / (8.314463 x {KELVIN[reference.metering]:.2f} K x {v(found.compression_factor):.5f})"
        numbers = f"{v(heat) * volume / 1e3:.2f} kJ/mol x {amount} = {v(heat) / 1e6:.3f} MJ/m3"
        heats.append(Line(f"heating_value_{end}", TOLD[f"heating_value_{end}"], heat, numbers, where))
        numbers = f"{v(heat) / 1e6:.3f} / root of {v(found.relative_density):.4f} = {v(index) / 1e6:.3f} MJ/m3"
        holds = where + "; gases of one Wobbe index bring one heat through one orifice at one pressure"
        indices.append(Line(f"wobbe_{end}", TOLD[f"wobbe_{end}"], index, numbers, holds))
    return [*heats, *indices]


def _terms(shares: Mapping[str, Number], *, most: int = 4) -> str:
    """The largest terms of the sum of molar masses."""
    ordered = sorted(shares, key=lambda name: -v(shares[name]))
    said = [f"{v(shares[name]):.4f} x {1000.0 * COMPONENTS[name].molar_mass:.4f}" for name in ordered[:most]]
    return " + ".join(said) + (" + ..." if len(ordered) > most else "")


def _body(found: GasProperties, shares: Mapping[str, Number], reference: Reference) -> list[Line]:
    where = reference.words()
    mass, factor = 1000.0 * v(found.molar_mass), v(found.compression_factor)
    air = 1.0 if reference.ideal else AIR_COMPRESSION[tuple(METERING).index(reference.metering)]
    relative, density = v(found.relative_density), v(found.density)
    litres = 1000.0 * _mole_volume(found, reference)
    numbers = {
        "molar_mass": f"{_terms(shares)} = {mass:.4f} g/mol",
        "relative_density": f"{mass:.4f} / {1000.0 * AIR_MASS:.4f} x {air:.6f} / {factor:.5f} = {relative:.4f}",
        "density": f"{mass:.4f} g/mol / {litres:.4f} L/mol = {density:.4f} kg/m3",
        "compression_factor": "taken as 1"
        if reference.ideal
        else f"1 - {max(0.0, 1.0 - factor) ** 0.5:.5f} squared = {factor:.5f}",
    }
    return [Line(name, TOLD[name], getattr(found, name), said, where) for name, said in numbers.items()]


def _masses(found: GasProperties, data: Number) -> list[Line]:
    made = []
    for end in ("gross", "net"):
        name = f"heating_value_{end}_per_mass"
        volume = getattr(found, f"heating_value_{end}") * data
        heat = volume / found.density
        numbers = f"{v(volume) / 1e6:.3f} MJ/m3 / {v(found.density):.4f} kg/m3 = {v(heat) / 1e6:.3f} MJ/kg"
        made.append(Line(name, TOLD[name], heat, numbers, "combustion reference as stated; the volume cancels"))
    return made


def _tank(
    record: FuelRecord, shares: Mapping[str, Number], data: Number, number: Callable[[str, float, float], Number]
) -> Line:
    """Heat in a volume of the stored liquid, as a tank gauge counts it."""
    if record.density is None:
        why = "no density of a stored liquid is known for this gas"
        return Line(_TANK, TOLD[_TANK], None, refused=why)
    at60 = gas_properties(mole_fractions=shares, combustion="60F", metering="60F", ideal=True)
    vapour = at60.heating_value_gross * data / at60.density
    step = metering.LIQUEFIED["C3H8"].heat_to_vapour
    density = number("density", record.density, record.density_spread) if record.density_spread else record.density
    heat = (vapour - step) * density
    numbers = f"({v(vapour) / 1e6:.3f} - {step / 1e6:.3f}) MJ/kg x {v(density):.1f} kg/m3 = {v(heat) / 1e9:.3f} MJ/L"
    holds = "the step is that of propane for every liquefied gas, right to 0.1 % of the heat"
    return Line(_TANK, TOLD[_TANK], heat, numbers, holds)


def _air(need: Stoichiometry) -> list[Line]:
    air, dry = v(need.air_need), v(need.dry_products)
    numbers = f"{v(need.oxygen_need):.5f} / {DRY_AIR.oxygen:g} = {air:.4f} m3/m3"
    made = f"{v(need.dry_from_fuel):.5f} + {air:.4f} x {1.0 - DRY_AIR.oxygen:.5f} = {dry:.4f} m3/m3"
    moles = COMPLETE + "; in moles, which are volumes of ideal gases"
    return [
        Line("air_need", TOLD["air_need"], need.air_need, numbers, moles),
        Line("dry_products", TOLD["dry_products"], need.dry_products, made, moles),
    ]


def _flame_speed(shares: Mapping[str, Number], air_need: Number) -> Line:
    told = TOLD["flame_speed"]
    folded = {name: share for name, share in shares.items() if name not in ("Ar", "He")}
    rare: Number = shares.get("Ar", 0.0) + shares.get("He", 0.0)
    if v(rare):
        folded["N2"] = folded.get("N2", 0.0) + rare
    heavy: Number = 0.0
    for name in ("nC5H12", "iC5H12", "neoC5H12", "nC6H14"):
        heavy = heavy + folded.pop(name, 0.0)
    if v(heavy) > 0.01:
        return Line("flame_speed", told, None, refused="no published factor for pentanes and heavier")
    if v(heavy):
        folded["nC4H10"] = folded.get("nC4H10", 0.0) + heavy
    try:
        speed = weaver_flame_speed(mole_fractions=folded, air_need=air_need)
    except KeyError as unknown:
        return Line("flame_speed", told, None, refused=f"no published factor for {unknown.args[0]}")
    holds = "to compare gases; argon counted with nitrogen, up to 1 % of heavier alkanes with butane"
    return Line("flame_speed", told, speed, f"{v(speed):.2f}", holds)
