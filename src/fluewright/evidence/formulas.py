"""The words of each working: formula, the line with numbers put in, source, and where it holds.

Fields in braces of `numbers` are filled from the plain values of one analysis (see flue.py).
"""

from dataclasses import dataclass

BALANCE = "element balance of carbon, hydrogen, oxygen and nitrogen; docs/method/balance.md"
ENTHALPY = "first law with NASA TM-4513 enthalpies (McBride, Gordon, Reno 1993) and ISO 6976:2016 heating values"
STEADY = "at the moment of the readings, steady, flue and air temperature of one boundary; nothing condensed"


@dataclass(frozen=True, slots=True)
class Formula:
    """One formula in words, with numbers, its source and where it holds."""

    words: str
    numbers: str
    source: str
    holds: str


FORMULAS = {
    "air_ratio": Formula(
        "air ratio = 1 + oxygen left over × dry flue gas / oxygen need",
        "1 + {left:.5f} × {dry:.3f} / {oxygen_need:.3f} = {air_ratio:.3f}",
        BALANCE,
        "lean or rich; carbon monoxide and hydrogen counted; soot left out",
    ),
    "excess_air": Formula(
        "excess air = air ratio − 1",
        "{air_ratio:.3f} − 1 = {excess_air:.1%}",
        BALANCE,
        "of the flame only where no room air has got into the sample",
    ),
    "oxygen_dry": Formula(
        "oxygen = oxygen left / dry flue gas",
        "{oxygen:.4f} / {dry:.3f} = {oxygen_dry:.2%}",
        BALANCE,
        "dry basis",
    ),
    "carbon_dioxide_dry": Formula(
        "carbon dioxide = carbon burned / dry flue gas, above fresh air",
        "{carbon_dioxide:.4f} / {dry:.3f} − {fresh_carbon_dioxide:.4f} = {carbon_dioxide_dry:.2%}",
        BALANCE,
        "as read by an instrument zeroed in fresh air",
    ),
    "carbon_dioxide_dry_max": Formula(
        "highest carbon dioxide = carbon of the fuel / dry flue gas at exact air, above fresh air",
        "{carbon:.4f} / {dry_products:.3f} = {carbon_dioxide_dry_max:.2%}",
        BALANCE,
        "a property of the fuel",
    ),
    "carbon_monoxide_air_free": Formula(
        "CO air-free = CO × fresh oxygen / (fresh oxygen − oxygen)",
        "{carbon_monoxide_ppm:.1f} × {fresh_oxygen:.2%} / ({fresh_oxygen:.2%} − {oxygen_dry:.2%})"
        " = {carbon_monoxide_air_free_ppm:.1f} ppm",
        "mixing; the oxygen route",
        "where room air has got in it keeps its value, with more doubt; above 19 % oxygen it says nothing",
    ),
    "co_co2_ratio": Formula(
        "ratio = CO / CO2, both dry",
        "{carbon_monoxide_ppm:.1f} ppm / {carbon_dioxide_dry:.2%} = {co_co2_ratio:.5f}",
        "definition",
        "does not change with dilution",
    ),
    "water_dew_point": Formula(
        "dew point = saturation temperature of the vapour's share of the barometer",
        "{water:.3f} / ({water:.3f} + {dry:.3f}) × {pressure_hpa:.0f} hPa → {dew_celsius:.1f} °C",
        "Dalton's law with the saturation line of IAPWS-IF97, region 4",
        "nothing condensed upstream; acid condenses earlier",
    ),
    "loss_dry_gas": Formula(
        "dry gas × (h flue − h 25 °C) − air × (h air − h 25 °C), by gross heat; the fuel arrives at 25 °C",
        "({dry_heat:.0f} − ({air_heat:.0f})) / {gross_heat:.0f} = {loss_dry_gas:.2%}",
        ENTHALPY,
        STEADY,
    ),
    "loss_vapour": Formula(
        "latent heat of the fuel's own water + vapour × (h flue − h 25 °C) − humidity of the air, by gross heat",
        "{latent:.2%} + {vapour_sensible:.2%} = {loss_vapour:.2%}",
        ENTHALPY,
        STEADY,
    ),
    "loss_carbon_monoxide": Formula(
        "carbon monoxide × 282.98 kJ/mol + hydrogen × 285.83 kJ/mol, by gross heat",
        "{carbon_monoxide:.3g} × 282 980 + {hydrogen:.3g} × 285 830, by {gross_heat:.0f} = {loss_carbon_monoxide:.3%}",
        "ISO 6976:2016 molar heating values",
        "soot and unburned fuel left out",
    ),
    "loss_gross": Formula(
        "loss = dry gas + water vapour + unburned gas, of the gross heat",
        "{loss_dry_gas:.2%} + {loss_vapour:.2%} + {loss_carbon_monoxide:.2%} = {loss_gross:.2%}",
        ENTHALPY,
        STEADY,
    ),
    "loss_net": Formula(
        "net loss = (gross loss × gross heat − latent heat) / net heat",
        "({loss_gross:.2%} × {gross_heat:.0f} − {latent_heat:.0f}) / {net_heat:.0f} = {loss_net:.2%}",
        ENTHALPY,
        STEADY,
    ),
    "efficiency_gross": Formula(
        "efficiency = 100 % − losses, of the gross heat",
        "100 % − {loss_gross:.2%} − jacket {jacket:.2%} = {efficiency_gross:.2%}",
        ENTHALPY,
        STEADY + "; not seasonal",
    ),
    "efficiency_net": Formula(
        "efficiency = 100 % − losses, of the net heat",
        "100 % − {loss_net:.2%} − jacket {jacket_net:.2%} = {efficiency_net:.2%}",
        ENTHALPY,
        STEADY + "; not seasonal; passes 100 % when much condenses",
    ),
    "condensed_fraction": Formula(
        "between nothing condensed and gas leaving saturated: 1 − saturated vapour / water",
        "0 to {condensed_saturated:.1%} of the water",
        "Dalton's law with IAPWS-IF97",
        "a thermometer cannot tell where in the band; only the weighed condensate can",
    ),
    "flue_gas_volume": Formula(
        "dry flue gas per gross heat, at 0 °C and 101.325 kPa",
        "{dry:.3f} mol × 22.414 L/mol / {gross_heat:.0f} J = {dry_volume:.4f} m³/kWh",
        BALANCE,
        "dry",
    ),
    "flue_gas_volume_wet": Formula(
        "flue gas with its vapour per gross heat, at 0 °C and 101.325 kPa",
        "({dry:.3f} + {water:.3f}) mol × 22.414 L/mol / {gross_heat:.0f} J = {wet_volume:.4f} m³/kWh",
        BALANCE,
        "nothing condensed",
    ),
    "combustion_air_volume": Formula(
        "dry combustion air per gross heat, at 0 °C and 101.325 kPa",
        "{air:.3f} mol × 22.414 L/mol / {gross_heat:.0f} J = {air_volume:.4f} m³/kWh",
        BALANCE,
        "dry",
    ),
    "loss_siegert": Formula(
        "legal flue loss = (flue − air) × (A / (21 − O2) + B)",
        "{rise:.1f} K × ({siegert_a:g} / (21 − {oxygen_percent:.2f}) + {siegert_b:g}) = {loss_siegert:.2%}",
        "1. BImSchV 2010, Annex 2 no. 3.4.1 (read)",
        "the figure that law compares with its limit, of the net heat; not a physical loss for liquefied petroleum gas",
    ),
    "recirculated_fraction": Formula(
        "share of flue gas = (fresh oxygen − oxygen in the intake) / (fresh oxygen − oxygen in the flue)",
        "{recirculated_fraction:.2%}, fresh air taken as {fresh_oxygen:.2%}",
        "mixing; docs/method/balance.md",
        "both readings by one cell with the same drying; damp air read wet looks like a leak of 1 to 5 %",
    ),
    "acid_dew_point": Formula(
        "acid dew point by Verhoff and Banchero (1974), 2 % of the sulfur dioxide taken as trioxide",
        "{water_share:.1%} water, {sulfur_trioxide_ppm:.2f} ppm SO3 → {acid_celsius:.0f} °C",
        "Chem. Eng. Progress 70 (1974) 71, read in a secondary copy; the 2 % is common practice, no source",
        "correlations differ by 5 K",
    ),
}

WEIGHED = Formula(
    "condensate weighed / all water in the flue gas",
    "{condensed_fraction:.1%} of {water:.3f} mol per unit of fuel",
    "weighing; docs/method/condensing.md",
    "gas and condensate of one stretch, the gas burned in that time known",
)
"""The condensed share where condensate was weighed."""
