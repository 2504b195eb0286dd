"""From what the probe reads to what the flame does: air ratio and the whole flue gas, lean and rich.

One balance of carbon, hydrogen, oxygen and the gases that take no part, linear in the amount of flue gas, so it is
solved in one step. D is mol dry flue gas and A mol dry air, both per unit of fuel; R is the oxygen need, F the dry gas
from the fuel alone, o the oxygen share of dry air, y = O2 - CO/2 - H2/2 the oxygen left over:

    gases     D (1 - O2 - H2) = F + (1 - o) A
    oxygen    o A = R + y D

A carbon dioxide reading is counted above fresh air, because that is where instruments are zeroed; the flue gas
itself also carries the carbon dioxide of the air. Derivation in docs/method/balance.md.
"""

from dataclasses import dataclass

from fluewright.kernel import ops
from fluewright.kernel.air import Air
from fluewright.kernel.fuel import Fuel, Stoichiometry, stoichiometry
from fluewright.kernel.ops import Number

SHIFT_CONSTANT = 0.3866
"""(CO2)(H2)/(CO)(H2O) at 1500 K, where quenched products stop exchanging (NASA TM-4513 through Cantera; RICH-016)."""


@dataclass(frozen=True, slots=True)
class FlueGas:
    """Flue gas per unit of fuel, mol of each gas, before anything condenses.

    air_ratio  mol dry air per mol dry air at exact need
    air        mol dry air per unit
    dry        mol dry flue gas per unit
    water      mol H2O per unit, vapour or not
    """

    air_ratio: Number
    air: Number
    dry: Number
    water: Number
    carbon_dioxide: Number
    carbon_monoxide: Number
    hydrogen: Number
    oxygen: Number
    nitrogen: Number
    argon: Number
    helium: Number
    sulfur_dioxide: Number


def _flue_gas(
    *,
    fuel: Fuel,
    air: Air,
    need: Stoichiometry,
    dry: Number,
    air_amount: Number,
    carbon_monoxide: Number,
    hydrogen: Number,
) -> FlueGas:
    """All gases once the amounts of air, dry gas, CO and H2 are known."""
    carbon_dioxide = fuel.carbon + air.carbon_dioxide * air_amount - carbon_monoxide
    oxygen = air.oxygen * air_amount - need.oxygen_need + (carbon_monoxide + hydrogen) / 2.0
    return FlueGas(
        air_ratio=air_amount / need.air_need,
        air=air_amount,
        dry=dry,
        water=fuel.hydrogen / 2.0 + fuel.water + air.water_ratio * air_amount - hydrogen,
        carbon_dioxide=carbon_dioxide,
        carbon_monoxide=carbon_monoxide,
        hydrogen=hydrogen,
        oxygen=oxygen,
        nitrogen=fuel.nitrogen / 2.0 + air.nitrogen * air_amount,
        argon=fuel.argon + air.argon * air_amount,
        helium=fuel.helium,
        sulfur_dioxide=fuel.sulfur,
    )


def from_dry_oxygen(
    *,
    fuel: Fuel,
    air: Air,
    oxygen_dry_fraction: Number,
    carbon_monoxide_dry_fraction: Number = 0.0,
    hydrogen_dry_fraction: Number = 0.0,
) -> FlueGas:
    """Flue gas from the oxygen left in the dried sample.

    Every mole of air beyond the need brings 0.2095 mole of oxygen that stays.

    fuel                          per unit
    air                           per mole dry
    oxygen_dry_fraction           mol/mol dry, 0 <= x < 0.2095, any shape
    carbon_monoxide_dry_fraction  mol/mol dry, any shape
    hydrogen_dry_fraction         mol/mol dry, any shape; 0 when lean
    -> flue gas per unit of fuel

    Holds   lean and rich, as long as soot and unburned fuel are negligible
    Fails   grows without bound as oxygen nears that of fresh air; blind to air that leaked into the sample
    Source  element balance, docs/method/balance.md; checks LAM-001 to LAM-004, DOE-011 to DOE-015
    """
    o = air.oxygen
    need = stoichiometry(fuel=fuel, air=air)
    left = oxygen_dry_fraction - (carbon_monoxide_dry_fraction + hydrogen_dry_fraction) / 2.0
    dry = need.dry_products / (1.0 - oxygen_dry_fraction - hydrogen_dry_fraction - left * ((1.0 - o) / o))
    return _flue_gas(
        fuel=fuel,
        air=air,
        need=need,
        dry=dry,
        air_amount=(need.oxygen_need + left * dry) / o,
        carbon_monoxide=carbon_monoxide_dry_fraction * dry,
        hydrogen=hydrogen_dry_fraction * dry,
    )


def from_dry_carbon_dioxide(
    *,
    fuel: Fuel,
    air: Air,
    carbon_dioxide_dry_fraction: Number,
    carbon_monoxide_dry_fraction: Number = 0.0,
    hydrogen_dry_fraction: Number = 0.0,
) -> FlueGas:
    """Flue gas from the carbon dioxide of the dried sample.

    The carbon of the fuel is spread over the flue gas; the thinner it is, the more air there is. The reading
    alone cannot tell lean from rich: the result is the lean or rich state that the CO and H2 beside it fit.

    fuel                          per unit
    air                           per mole dry
    carbon_dioxide_dry_fraction   mol/mol dry above fresh air, above 0, any shape
    carbon_monoxide_dry_fraction  mol/mol dry, any shape
    hydrogen_dry_fraction         mol/mol dry, any shape; 0 when lean
    -> flue gas per unit of fuel

    Holds   fuels with carbon; lean and rich
    Fails   hydrogen fuel has no carbon to count; a wrong fuel gives a wrong air ratio
    Source  element balance, docs/method/balance.md
    """
    need = stoichiometry(fuel=fuel, air=air)
    a = air.carbon_dioxide
    carbon = carbon_dioxide_dry_fraction + a + carbon_monoxide_dry_fraction
    thin = 1.0 - 1.5 * hydrogen_dry_fraction - carbon_monoxide_dry_fraction / 2.0
    offset = need.oxygen_need - need.dry_from_fuel
    dry = (fuel.carbon + a * offset) / (carbon - a * thin)
    return _flue_gas(
        fuel=fuel,
        air=air,
        need=need,
        dry=dry,
        air_amount=dry * thin + offset,
        carbon_monoxide=carbon_monoxide_dry_fraction * dry,
        hydrogen=hydrogen_dry_fraction * dry,
    )


def from_wet_oxygen(
    *,
    fuel: Fuel,
    air: Air,
    oxygen_wet_fraction: Number,
    carbon_monoxide_wet_fraction: Number = 0.0,
    hydrogen_wet_fraction: Number = 0.0,
) -> FlueGas:
    """Flue gas from the oxygen of the undried gas, as a hot probe in the flue reads it.

    The same balance with the water counted in.

    fuel                          per unit
    air                           per mole dry
    oxygen_wet_fraction           mol/mol wet, any shape
    carbon_monoxide_wet_fraction  mol/mol wet, any shape
    hydrogen_wet_fraction         mol/mol wet, any shape
    -> flue gas per unit of fuel

    Holds   all water is vapour at the probe
    Fails   where water has condensed before the probe
    Source  element balance, docs/method/balance.md; check LAM-007
    """
    o = air.oxygen
    need = stoichiometry(fuel=fuel, air=air)
    left = oxygen_wet_fraction - (carbon_monoxide_wet_fraction + hydrogen_wet_fraction) / 2.0
    air_share = (1.0 - o + air.water_ratio) / o
    from_fuel = need.dry_from_fuel + fuel.hydrogen / 2.0 + fuel.water
    wet = (from_fuel + air_share * need.oxygen_need) / (1.0 - oxygen_wet_fraction - air_share * left)
    air_amount = (need.oxygen_need + left * wet) / o
    hydrogen = hydrogen_wet_fraction * wet
    water = fuel.hydrogen / 2.0 + fuel.water + air.water_ratio * air_amount - hydrogen
    return _flue_gas(
        fuel=fuel,
        air=air,
        need=need,
        dry=wet - water,
        air_amount=air_amount,
        carbon_monoxide=carbon_monoxide_wet_fraction * wet,
        hydrogen=hydrogen,
    )


def from_wet_carbon_dioxide(
    *,
    fuel: Fuel,
    air: Air,
    carbon_dioxide_wet_fraction: Number,
    carbon_monoxide_wet_fraction: Number = 0.0,
    hydrogen_wet_fraction: Number = 0.0,
) -> FlueGas:
    """Flue gas from the carbon dioxide of the undried gas.

    The same carbon count as for a dried sample, with the water counted in.

    fuel                          per unit
    air                           per mole dry
    carbon_dioxide_wet_fraction   mol/mol wet above fresh air, above 0, any shape
    carbon_monoxide_wet_fraction  mol/mol wet, any shape
    hydrogen_wet_fraction         mol/mol wet, any shape
    -> flue gas per unit of fuel

    Holds   fuels with carbon; all water is vapour at the probe
    Fails   as from_dry_carbon_dioxide
    Source  element balance, docs/method/balance.md
    """
    need = stoichiometry(fuel=fuel, air=air)
    damp = 1.0 + air.water_ratio
    a = air.carbon_dioxide / damp
    carbon = carbon_dioxide_wet_fraction + a + carbon_monoxide_wet_fraction
    thin = 1.0 - (carbon_monoxide_wet_fraction + hydrogen_wet_fraction) / 2.0
    offset = need.dry_from_fuel + fuel.hydrogen / 2.0 + fuel.water - need.oxygen_need
    wet = (fuel.carbon - a * offset) / (carbon - a * thin)
    air_amount = (wet * thin - offset) / damp
    hydrogen = hydrogen_wet_fraction * wet
    water = fuel.hydrogen / 2.0 + fuel.water + air.water_ratio * air_amount - hydrogen
    return _flue_gas(
        fuel=fuel,
        air=air,
        need=need,
        dry=wet - water,
        air_amount=air_amount,
        carbon_monoxide=carbon_monoxide_wet_fraction * wet,
        hydrogen=hydrogen,
    )


def from_air_ratio(*, fuel: Fuel, air: Air, air_ratio: Number) -> FlueGas:
    """Flue gas of complete combustion with a given amount of air.

    fuel       per unit
    air        per mole dry
    air_ratio  mol air per mol air at exact need, 1 or more, any shape
    -> flue gas per unit of fuel, without CO and H2

    Holds   complete combustion with enough air
    Fails   below 1 the oxygen comes out negative: use equilibrium instead
    Source  element balance; checks PROD-001 to PROD-014
    """
    need = stoichiometry(fuel=fuel, air=air)
    amount = air_ratio * need.air_need
    dry = need.dry_from_fuel + (1.0 - air.oxygen) * amount + (air_ratio - 1.0) * need.oxygen_need
    return _flue_gas(fuel=fuel, air=air, need=need, dry=dry, air_amount=amount, carbon_monoxide=0.0, hydrogen=0.0)


def hydrogen_from_shift(*, flue: FlueGas, shift_constant: Number = SHIFT_CONSTANT) -> Number:
    """Hydrogen that goes with the carbon monoxide of a flame short of air.

    The gases exchange until they are too cold to: CO + H2O = CO2 + H2. No portable cell sees the hydrogen, but it
    is there, carries heat away and makes a carbon monoxide cell read high.

    flue            flue gas worked out without hydrogen
    shift_constant  (CO2)(H2)/(CO)(H2O), -
    -> hydrogen, mol/mol dry

    Holds   within a third, for premixed and pool flames quenched near 1500 K
    Fails   lean flames quenched on a cold wall make CO with less hydrogen
    Source  water-gas shift equilibrium; checks RICH-001 to RICH-017, RED-H2X
    """
    return shift_constant * flue.carbon_monoxide * flue.water / (flue.carbon_dioxide * flue.dry)


def oxygen_dry_fraction(*, flue: FlueGas) -> Number:
    """Oxygen of the dry flue gas.

    flue  flue gas
    -> oxygen, mol/mol dry

    Holds   always
    Fails   -
    Source  definition
    """
    return flue.oxygen / flue.dry


def carbon_dioxide_dry_fraction(*, flue: FlueGas, air: Air) -> Number:
    """Carbon dioxide of the dry flue gas above that of fresh air, as an instrument zeroed there reads it.

    flue  flue gas
    air   the air that the instrument was zeroed in
    -> carbon dioxide above fresh air, mol/mol dry

    Holds   zero in outdoor air
    Fails   a zero in stale air shifts it by as much
    Source  definition
    """
    return flue.carbon_dioxide / flue.dry - air.carbon_dioxide


def oxygen_residual(
    *, fuel: Fuel, air: Air, oxygen_dry_fraction: Number, carbon_dioxide_dry_fraction: Number
) -> Number:
    """How far a carbon dioxide reading lies off the fuel's own line through the oxygen reading.

    Fuel, air and dilution all lie on one straight line, so this finds a wrong fuel, a sick sensor or carbon dioxide
    from elsewhere. It cannot see a leak or dilution: those move along the line.

    fuel                         per unit
    air                          per mole dry
    oxygen_dry_fraction          mol/mol dry, any shape
    carbon_dioxide_dry_fraction  mol/mol dry above fresh air, any shape
    -> measured minus expected carbon dioxide, mol/mol dry

    Holds   lean, CO small
    Fails   rich flames
    Source  element balance; practice P2
    """
    flue = from_dry_oxygen(fuel=fuel, air=air, oxygen_dry_fraction=oxygen_dry_fraction)
    return carbon_dioxide_dry_fraction - (flue.carbon_dioxide / flue.dry - air.carbon_dioxide)


def carbon_dioxide_from_oxygen(
    *, oxygen_dry_fraction: Number, carbon_dioxide_dry_max_fraction: Number, air_oxygen_fraction: Number = 0.2095
) -> Number:
    """Carbon dioxide on the straight line between fresh air and the fuel's maximum.

    The short form behind many tables; it leaves out the small growth of the dry gas.

    oxygen_dry_fraction              mol/mol dry, any shape
    carbon_dioxide_dry_max_fraction  mol/mol dry at exact air, any shape
    air_oxygen_fraction              mol/mol of fresh air
    -> carbon dioxide, mol/mol dry

    Holds   complete combustion
    Fails   rich flames
    Source  common practice, no source; exact for dry air without CO2; checks LAM-005, LAM-006
    """
    return carbon_dioxide_dry_max_fraction * (1.0 - oxygen_dry_fraction / air_oxygen_fraction)


def lean(*, flue: FlueGas) -> bool | Number:
    """Whether oxygen is left over after CO and H2 would have burned.

    flue  flue gas
    -> true where lean; bool or array of bool

    Holds   always
    Fails   -
    Source  definition
    """
    return ops.less(0.0, flue.oxygen - (flue.carbon_monoxide + flue.hydrogen) / 2.0)
