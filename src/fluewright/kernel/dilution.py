"""Concentrations freed of the air that thinned them, or carried to another oxygen.

The oxygen of air is 20.9 % in US rules, 20.95 % in physics and 21 % in German and European rules. The constant belongs
to the limit, so it is always an argument.
"""

from fluewright.kernel.ops import Number


def at_reference_oxygen(
    *,
    fraction: Number,
    oxygen_dry_fraction: Number,
    reference_oxygen_fraction: Number = 0.0,
    air_oxygen_fraction: Number = 0.2095,
) -> Number:
    """A dry concentration as it would be at another oxygen content.

    Air thins every trace gas alike; limits are therefore written at a fixed oxygen.

    fraction                   mol/mol dry, or any dry concentration, any shape
    oxygen_dry_fraction        mol/mol dry, at the same point and moment, any shape
    reference_oxygen_fraction  mol/mol dry, 0 for air-free
    air_oxygen_fraction        mol/mol, the constant of the rule: 0.209, 0.2095 or 0.21
    -> concentration at the reference oxygen, unit of `fraction`

    Holds   trace gas only from the flame
    Fails   grows without bound as oxygen nears that of air: above 19 % it says nothing
    Source  mixing; 40 CFR 60 App. A-7 Method 19 (0.209), 1. BImSchV (0.21); checks EMI-016 to EMI-023, BIM-020, DE-003
    """
    return fraction * ((air_oxygen_fraction - reference_oxygen_fraction) / (air_oxygen_fraction - oxygen_dry_fraction))


def air_free_from_carbon_dioxide(
    *, fraction: Number, carbon_dioxide_dry_fraction: Number, carbon_dioxide_dry_max_fraction: Number
) -> Number:
    """A dry concentration without any excess air, by the carbon dioxide route.

    The carbon dioxide shows how far the gas was thinned. Rules print the maximum to use (12.2 % for natural gas,
    14.0 % for propane); physics gives 11.7 to 12.0 % and 13.7 %.

    fraction                         mol/mol dry, any shape
    carbon_dioxide_dry_fraction      mol/mol dry, any shape
    carbon_dioxide_dry_max_fraction  mol/mol dry at exact air, of the rule or of the fuel
    -> air-free concentration, unit of `fraction`

    Holds   fuels with carbon, of the kind the maximum was made for
    Fails   propane taken for natural gas comes out 11 % low
    Source  common practice of US appliance standards (constants from memory); checks EMI-024, EMI-025; practice P24
    """
    return fraction * (carbon_dioxide_dry_max_fraction / carbon_dioxide_dry_fraction)


def ratio_to_carbon_dioxide(*, carbon_monoxide_dry_fraction: Number, carbon_dioxide_dry_fraction: Number) -> Number:
    """Carbon monoxide for each carbon dioxide: how cleanly the carbon burned, whatever the dilution.

    carbon_monoxide_dry_fraction  mol/mol dry, any shape
    carbon_dioxide_dry_fraction   mol/mol dry, above 0, any shape
    -> CO/CO2 ratio, -

    Holds   both at the same point
    Fails   where there is no carbon dioxide
    Source  definition; checks UK-001 to UK-003
    """
    return carbon_monoxide_dry_fraction / carbon_dioxide_dry_fraction
