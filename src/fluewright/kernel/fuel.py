"""What a fuel is made of, and what follows from that: heat, air, products.

Everything is counted per unit of fuel: per mole for a gas, per kilogram for a liquid or solid.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Literal

from fluewright.kernel.air import Air
from fluewright.kernel.components import COMPONENTS
from fluewright.kernel.constants import LATENT_HEAT
from fluewright.kernel.ops import Number

CARBON_MASS = 0.012011
HYDROGEN_MASS = 0.00100794
OXYGEN_MASS = 0.0159994
NITROGEN_MASS = 0.0140067
SULFUR_MASS = 0.032065
"""kg per mol of atoms (IUPAC conventional, from memory)."""
WATER_MASS = 0.01801528

FUEL_HEAT_CAPACITY = 2000.0
"""J/(kg K) of oils and wood: common practice, no source; carries 0.02 % of the heat."""


@dataclass(frozen=True, slots=True)
class Fuel:
    """A fuel per unit: mol of atoms, mass and heat.

    unit                 "mol" of gas or "kg" of liquid or solid
    carbon .. sulfur     mol atoms per unit, water's and carbon dioxide's own atoms included for gases, water's not
                         for liquids and solids (there `water` holds it)
    argon, helium        mol per unit
    water                mol H2O per unit that enters as water, not as hydrogen to burn
    mass                 kg per unit
    heating_value_gross  J per unit, products at 25 C, water liquid
    heating_value_net    J per unit, products at 25 C, water vapour
    heat_capacity        J/(unit K)
    """

    name: str
    unit: Literal["mol", "kg"]
    carbon: Number
    hydrogen: Number
    oxygen: Number
    nitrogen: Number
    sulfur: Number
    mass: Number
    heating_value_gross: Number
    heating_value_net: Number
    argon: Number = 0.0
    helium: Number = 0.0
    water: Number = 0.0
    heat_capacity: Number = 0.0


def gas(*, name: str, mole_fractions: Mapping[str, Number]) -> Fuel:
    """A fuel gas from its composition.

    name            for reports
    mole_fractions  mol/mol, keys of COMPONENTS, summing to 1 (the loader checks; here nothing is rescaled)
    -> fuel per mole of gas

    Holds   ideal-gas heating values at 25 C; real-gas volumes are made in gas_properties
    Fails   KeyError for an unknown component
    Source  ISO 6976:2016 component data
    """
    totals: dict[str, Number] = dict.fromkeys(("C", "H", "O", "N", "S", "Ar", "He"), 0.0)
    mass: Number = 0.0
    gross: Number = 0.0
    net: Number = 0.0
    warmth: Number = 0.0
    water: Number = 0.0
    for component, fraction in mole_fractions.items():
        data = COMPONENTS[component]
        mass = mass + fraction * data.molar_mass
        warmth = warmth + fraction * data.heat_capacity
        gross = gross + fraction * data.gross[-1]
        net = net + fraction * data.net[-1]
        if component == "H2O":
            water = water + fraction
            continue
        for atom, count in data.atoms.items():
            totals[atom] = totals[atom] + fraction * count
    return Fuel(
        name, "mol", totals["C"], totals["H"], totals["O"], totals["N"], totals["S"], mass, gross, net,
        totals["Ar"], totals["He"], water, warmth,
    )  # fmt: skip


def ultimate(*, name: str, mass_fractions: Mapping[str, Number], heating_value_gross: Number | None = None) -> Fuel:
    """A liquid or solid fuel from its ultimate analysis.

    name                 for reports
    mass_fractions       kg/kg as fired, keys C, H, O, N, S, water, ash
    heating_value_gross  J/kg as fired, measured; estimated from the analysis when None
    -> fuel per kilogram as fired

    Holds   hydrogen of the moisture stands in `water`, not in H
    Fails   the estimate is good to 1.5 % for oils and 3 % for wood (scatter of the correlation)
    Source  net = gross - 2.4418 (8.937 H + W) MJ/kg; estimate by `gross_from_ultimate`
    """
    part = {key: mass_fractions.get(key, 0.0) for key in ("C", "H", "O", "N", "S", "water", "ash")}
    gross = heating_value_gross
    if gross is None:
        gross = gross_from_ultimate(mass_fractions=part)
    hydrogen = part["H"] / HYDROGEN_MASS
    water = part["water"] / WATER_MASS
    net = gross - LATENT_HEAT * (hydrogen / 2.0 + water)
    return Fuel(
        name, "kg", part["C"] / CARBON_MASS, hydrogen, part["O"] / OXYGEN_MASS, part["N"] / NITROGEN_MASS,
        part["S"] / SULFUR_MASS, 1.0, gross, net, water=water, heat_capacity=FUEL_HEAT_CAPACITY,
    )  # fmt: skip


def gross_from_ultimate(*, mass_fractions: Mapping[str, Number]) -> Number:
    """Gross heating value of a liquid or solid fuel estimated from what it is made of.

    For a fuel whose heating value nobody has measured.

    mass_fractions  kg/kg as fired, keys C, H, O, N, S, ash
    -> gross heating value, J/kg as fired

    Holds   C 0 to 92 %, H 0.4 to 25 %, O 0 to 50 %, S 0 to 94 %, ash 0 to 71 %
    Fails   average error 1.5 % of the value
    Source  Channiwala and Parikh, Fuel 81 (2002) 1051: 34.91 C + 117.83 H + 10.05 S - 10.34 O - 1.51 N - 2.11 ash
            MJ/kg (from memory)
    """
    m = mass_fractions
    mega = 34.91 * m["C"] + 117.83 * m["H"] + 10.05 * m["S"] - 10.34 * m["O"] - 1.51 * m["N"] - 2.11 * m["ash"]
    return mega * 1e6


def blend(*, name: str, parts: Sequence[tuple[Fuel, Number]]) -> Fuel:
    """Several fuels of one unit in given shares.

    name   for reports
    parts  fuel and its share of the unit (mol/mol or kg/kg), shares summing to 1
    -> fuel per unit of the blend

    Holds   all parts counted in the same unit
    Fails   ValueError for parts in different units
    Source  amounts add up
    """
    if len({part.unit for part, _ in parts}) != 1:
        raise ValueError("a blend needs parts counted in one unit")

    def total(field: str) -> Number:
        amount: Number = 0.0
        for part, share in parts:
            amount = amount + getattr(part, field) * share
        return amount

    amounts = {f: total(f) for f in Fuel.__dataclass_fields__ if f not in ("name", "unit")}
    return Fuel(name=name, unit=parts[0][0].unit, **amounts)


@dataclass(frozen=True, slots=True)
class Stoichiometry:
    """What exactly enough air makes of one unit of fuel.

    oxygen_need             mol O2 per unit
    air_need                mol dry air per unit
    dry_from_fuel           mol dry gas that comes from the fuel alone: CO2, SO2, N2, inerts
    dry_products            mol dry flue gas per unit
    water                   mol H2O per unit, humidity of the air included
    carbon_dioxide_dry_max  mol/mol dry above fresh air, as an instrument zeroed in fresh air reads it
    """

    oxygen_need: Number
    air_need: Number
    dry_from_fuel: Number
    dry_products: Number
    water: Number
    carbon_dioxide_dry_max: Number


def stoichiometry(*, fuel: Fuel, air: Air) -> Stoichiometry:
    """Air need and products at exactly enough air.

    Every carbon takes one O2, every hydrogen a quarter, every sulfur one; the fuel's own oxygen helps.

    fuel  per unit
    air   per mole dry
    -> stoichiometry per unit of fuel

    Holds   complete combustion
    Fails   dissociation above about 1600 K is not in it (equilibrium.py)
    Source  element balance, docs/method/balance.md; checks STOI-001 to STOI-029, LIQ-001 to LIQ-016
    """
    oxygen_need = fuel.carbon + fuel.sulfur + fuel.hydrogen / 4.0 - fuel.oxygen / 2.0
    air_need = oxygen_need / air.oxygen
    dry_from_fuel = fuel.carbon + fuel.sulfur + fuel.nitrogen / 2.0 + fuel.argon + fuel.helium
    dry_products = dry_from_fuel + air_need * (1.0 - air.oxygen)
    water = fuel.hydrogen / 2.0 + fuel.water + air_need * air.water_ratio
    carbon_dioxide = fuel.carbon + air_need * air.carbon_dioxide
    return Stoichiometry(
        oxygen_need, air_need, dry_from_fuel, dry_products, water, carbon_dioxide / dry_products - air.carbon_dioxide
    )
