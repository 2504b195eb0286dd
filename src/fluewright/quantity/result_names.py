"""Registry entries for what is worked out: losses, efficiencies, emissions, properties of a fuel."""

from fluewright.quantity.emission_names import CONDENSATE, METHOD_19, TRACE_GASES
from fluewright.quantity.meaning import (
    CARBON,
    CONCENTRATION,
    DENSITY,
    MASS_RATIO,
    MOLAR_MASS,
    MORE_THAN_NOTHING,
    PER_GALLON,
    PER_HEAT_LB,
    PER_MASS,
    PER_VOLUME,
    PERCENT,
    RATIO,
    SHARE,
    VOLUME_PER_HEAT,
    Quantity,
)

_SMALL_LOSS = "more than half of the heat in one loss is no longer a working appliance"
_NORMAL = "at 0 °C and 101.325 kPa, dry"
_PER_HEAT_WHY = "a burner that makes more is out of order"
_AIR_WHY = "with exact air about 0.9 to 1.1 cubic metres per kWh of gross heat, with ten times the air ten times that"

LOSSES: tuple[Quantity, ...] = (
    PERCENT.quantity("loss_dry_gas", "heat lost with dry flue gas", (-0.05, 0.5), _SMALL_LOSS, basis="gross"),
    PERCENT.quantity("loss_vapour", "heat lost with water vapour", (-0.05, 0.25), _SMALL_LOSS, basis="gross"),
    PERCENT.quantity("loss_carbon_monoxide", "heat lost as unburned gas", (0.0, 0.25), _SMALL_LOSS, basis="gross"),
    PERCENT.quantity(
        "loss_jacket",
        "heat lost through the jacket",
        (0.0, 0.15),
        "an uninsulated old boiler loses about a tenth (common practice, no source)",
        basis="gross",
        aliases=("jacket",),
        kernel=("jacket_fraction",),
    ),
    PERCENT.quantity("loss_gross", "all losses of gross heat", (0.0, 0.6), _SMALL_LOSS, basis="gross"),
    PERCENT.quantity(
        "loss_net",
        "all losses of net heat",
        (-0.12, 0.6),
        "a condensing appliance can come to -11 % of net heat",
        basis="net",
    ),
    PERCENT.quantity(
        "loss_siegert",
        "flue loss by the legal short formula",
        (0.0, 0.5),
        "the formula counts sensible heat above the air only",
        basis="net",
        aliases=("flue_loss", "siegert"),
    ),
    PERCENT.quantity(
        "efficiency_gross",
        "efficiency on gross heat",
        (0.3, 1.0),
        "no appliance delivers more than the gross heat of its fuel",
        basis="gross",
        aliases=("efficiency",),
    ),
    PERCENT.quantity(
        "efficiency_abbreviated",
        "efficiency on gross heat by the abbreviated power-test form",
        (0.3, 1.0),
        "no appliance delivers more than the gross heat of its fuel",
        basis="gross",
    ),
    PERCENT.quantity(
        "efficiency_net",
        "efficiency on net heat",
        (0.3, 1.12),
        "natural gas holds 11 % more gross than net heat",
        basis="net",
    ),
    SHARE.quantity(
        "condensed_fraction",
        "share of the water that condensed",
        (0.0, 1.0),
        "a share lies between nothing and all of it",
        aliases=("condensed",),
    ),
)

EMISSIONS: tuple[Quantity, ...] = (
    VOLUME_PER_HEAT.quantity(
        "flue_gas_volume",
        f"flue gas per gross heat, {_NORMAL}",
        (1.0e-7, 5.0e-6),
        _AIR_WHY,
        basis="dry",
    ),
    VOLUME_PER_HEAT.quantity(
        "flue_gas_volume_wet",
        "flue gas per gross heat, at 0 °C and 101.325 kPa, with its water vapour",
        (1.0e-7, 5.0e-6),
        _AIR_WHY,
        basis="wet",
    ),
    VOLUME_PER_HEAT.quantity(
        "combustion_air_volume",
        f"combustion air per gross heat, {_NORMAL}",
        (1.0e-7, 5.0e-6),
        _AIR_WHY,
        basis="dry",
    ),
    CONCENTRATION.quantity(
        "mass_concentration", f"mass per flue-gas volume {_NORMAL}", (0.0, 0.03), _PER_HEAT_WHY, basis="dry"
    ),
    PER_HEAT_LB.quantity("mass_per_heat", "mass given off per heat", (0.0, 2.0e-7), _PER_HEAT_WHY),
    CARBON.quantity(
        "carbon_factor",
        "carbon dioxide given off per gross heat",
        (0.0, 1.3e-7),
        "natural gas near 50 g/MJ, wood and coal up to about 120 g/MJ",
        basis="gross",
    ),
    CARBON.quantity(
        "carbon_factor_net",
        "carbon dioxide given off per net heat",
        (0.0, 1.4e-7),
        "natural gas near 56 g/MJ, wood and coal up to about 125 g/MJ",
        basis="net",
    ),
)

FUEL: tuple[Quantity, ...] = (
    MOLAR_MASS.quantity("molar_mass", "molar mass", (0.002, 0.5), "hydrogen has 2 g/mol and heavy oil a few hundred"),
    RATIO.quantity(
        "relative_density",
        "density relative to air",
        (0.06, 3.0),
        "hydrogen has 0.07 and butane about 2.1",
        aliases=("specific_gravity",),
        possible=MORE_THAN_NOTHING,
    ),
    DENSITY.quantity(
        "density",
        "density",
        (0.05, 1500.0),
        "hydrogen gas to wet coal",
        possible=MORE_THAN_NOTHING,
    ),
    PER_VOLUME.quantity(
        "heating_value_gross",
        "gross heating value per volume of gas",
        (2.0e6, 1.4e8),
        "lean biogas to butane",
        basis="gross",
        aliases=("gross_heating_value", "higher_heating_value", "hhv", "heating_value"),
        kernel=("heating_value_gross_per_volume", "heating_value_gross"),
        possible=MORE_THAN_NOTHING,
    ),
    PER_VOLUME.quantity(
        "heating_value_net",
        "net heating value per volume of gas",
        (2.0e6, 1.3e8),
        "lean biogas to butane",
        basis="net",
        aliases=("net_heating_value", "lower_heating_value", "lhv"),
        kernel=("heating_value_net_per_volume", "heating_value_net"),
        possible=MORE_THAN_NOTHING,
    ),
    PER_MASS.quantity(
        "heating_value_gross_per_mass",
        "gross heating value per mass",
        (5.0e6, 1.45e8),
        "wet logs to hydrogen",
        basis="gross",
        possible=MORE_THAN_NOTHING,
    ),
    PER_MASS.quantity(
        "heating_value_net_per_mass",
        "net heating value per mass",
        (3.0e6, 1.25e8),
        "wet logs to hydrogen",
        basis="net",
        possible=MORE_THAN_NOTHING,
    ),
    PER_GALLON.quantity(
        "heating_value_gross_per_liquid_volume",
        "gross heating value per volume of liquid",
        (1.5e10, 4.5e10),
        "propane liquid to heavy oil",
        basis="gross",
    ),
    PER_VOLUME.quantity(
        "wobbe_gross", "gross Wobbe index", (2.0e6, 1.0e8), "lean biogas to butane", basis="gross", aliases=("wobbe",)
    ),
    PER_VOLUME.quantity("wobbe_net", "net Wobbe index", (2.0e6, 9.5e7), "lean biogas to butane", basis="net"),
    RATIO.quantity(
        "air_need",
        "dry air needed per volume of gas",
        (0.5, 35.0),
        "lean biogas to butane",
        kernel=("stoichiometric_air", "air_need"),
    ),
    MASS_RATIO.quantity(
        "air_need_per_mass", "dry air needed per mass of fuel", (2.0, 35.0), "wet logs to hydrogen", basis="dry"
    ),
)

RESULTS: tuple[Quantity, ...] = LOSSES + EMISSIONS + TRACE_GASES + METHOD_19 + CONDENSATE + FUEL
