"""Adapters for what a reading tells: balance, losses, efficiency, condensing, dew points, emissions, short forms."""

from collections.abc import Callable, Mapping
from typing import Any

from fluewright.checks.fuels_given import air, fuel, fuel_temperature
from fluewright.checks.rows import Row
from fluewright.checks.units import to_si
from fluewright.kernel import analysis, balance, dewpoint, dilution, emissions, losses, saturation, short_forms
from fluewright.kernel.analysis import Analysis, Condensing, Prepared
from fluewright.kernel.balance import FlueGas
from fluewright.kernel.constants import WATER_MOLAR_MASS
from fluewright.kernel.losses import Losses
from fluewright.kernel.short_forms import AbbreviatedLoss


def _prepared(row: Row) -> Prepared:
    return analysis.prepare(fuel=fuel(row), air=air(row))


def _flue(row: Row) -> FlueGas:
    """From oxygen or carbon dioxide, dry or wet, or from the air ratio, whichever the row gives."""
    parts: dict[str, Any] = {"fuel": fuel(row), "air": air(row)}
    if "excess air" in row.inputs:
        return balance.from_air_ratio(**parts, air_ratio=1.0 + row.number("excess air"))
    if "oxygen wet" in row.inputs:
        return balance.from_wet_oxygen(**parts, oxygen_wet_fraction=row.number("oxygen wet"))
    if "carbon dioxide wet" in row.inputs:
        return balance.from_wet_carbon_dioxide(**parts, carbon_dioxide_wet_fraction=row.number("carbon dioxide wet"))
    if "carbon dioxide" in row.inputs:
        return balance.from_dry_carbon_dioxide(**parts, carbon_dioxide_dry_fraction=row.number("carbon dioxide"))
    return balance.from_dry_oxygen(**parts, oxygen_dry_fraction=row.number("oxygen"))


def _temperatures(row: Row) -> tuple[float, float]:
    entering = row.number("air", "25 C")
    if "rise" in row.inputs:
        return entering + row.number("rise"), entering
    return row.number("flue"), entering


def _analysis(row: Row) -> Analysis:
    leaving, entering = _temperatures(row)
    return analysis.analyse(
        prepared=_prepared(row),
        oxygen_dry_fraction=row.number("oxygen"),
        carbon_monoxide_dry_fraction=row.number("carbon monoxide", "0 ppm"),
        flue_temperature=leaving,
        air_temperature=entering,
        fuel_temperature=fuel_temperature(row, entering),
    )


def _analysed(field: str) -> Callable[[Row], Any]:
    return lambda row: getattr(_analysis(row), field)


def _losses(row: Row) -> Losses:
    given = fuel(row)
    leaving, entering = _temperatures(row)
    return losses.losses(
        fuel=given,
        carriers=losses.carriers(fuel=given, air=air(row)),
        flue=_flue(row),
        flue_temperature=leaving,
        air_temperature=entering,
        fuel_temperature=fuel_temperature(row, entering),
        water_ratio=air(row).water_ratio,
    )


def _sensible(row: Row) -> Any:
    lost = _losses(row)
    return lost.dry_gas + lost.vapour_sensible


def _condensing(row: Row) -> Condensing:
    flue = _flue(row)
    leaving, entering = _temperatures(row)
    condensed = analysis.saturated_condensate(
        flue=flue, flue_temperature=leaving, pressure=row.number("pressure", "101.325 kPa")
    )
    return analysis.condensing(
        prepared=_prepared(row),
        flue=flue,
        flue_temperature=leaving,
        air_temperature=entering,
        fuel_temperature=fuel_temperature(row, entering),
        condensed_amount=0.0 * condensed if row.word("condensate", "all there can be") == "none" else condensed,
    )


def _condensed(field: str) -> Callable[[Row], Any]:
    return lambda row: getattr(_condensing(row), field)


def _condensate_mass(row: Row) -> Any:
    amount = _condensing(row).condensed_fraction * _flue(row).water
    return losses.condensate_mass_per_heat(fuel=fuel(row), condensed_amount=amount)


def _oxygen_dry(row: Row) -> Any:
    return balance.oxygen_dry_fraction(flue=_flue(row))


def _carbon_dioxide_dry(row: Row) -> Any:
    return balance.carbon_dioxide_dry_fraction(flue=_flue(row), air=air(row))


def _line(row: Row) -> Any:
    return balance.carbon_dioxide_from_oxygen(
        oxygen_dry_fraction=row.number("oxygen"), carbon_dioxide_dry_max_fraction=row.number("carbon dioxide max")
    )


def _residual(row: Row) -> Any:
    return balance.oxygen_residual(
        fuel=fuel(row),
        air=air(row),
        oxygen_dry_fraction=row.number("oxygen"),
        carbon_dioxide_dry_fraction=row.number("carbon dioxide"),
    )


def _water_dew_point(row: Row) -> Any:
    return analysis.water_dew_point(flue=_flue(row), pressure=row.number("pressure", "101.325 kPa"))


def _acid(correlation: Callable[..., Any]) -> Callable[[Row], Any]:
    def dew_point(row: Row) -> Any:
        total = row.number("pressure", "101.325 kPa")
        parts = [row.number(name) for name in ("water", "sulfur trioxide")]
        shares = ["%" in row.word("water"), "ppm" in row.word("sulfur trioxide")]
        partial = [part * total if share else part for part, share in zip(parts, shares, strict=True)]
        return correlation(water_pressure=partial[0], sulfur_trioxide_pressure=partial[1])

    return dew_point


def _at_reference(row: Row) -> Any:
    return dilution.at_reference_oxygen(
        fraction=row.number("measured"),
        oxygen_dry_fraction=row.number("oxygen"),
        reference_oxygen_fraction=row.number("reference oxygen", "0 %"),
        air_oxygen_fraction=row.number("air oxygen"),
    )


def _air_free_by_carbon_dioxide(row: Row) -> Any:
    return dilution.air_free_from_carbon_dioxide(
        fraction=row.number("measured"),
        carbon_dioxide_dry_fraction=row.number("carbon dioxide"),
        carbon_dioxide_dry_max_fraction=row.number("carbon dioxide max"),
    )


def _ratio(row: Row) -> Any:
    return dilution.ratio_to_carbon_dioxide(
        carbon_monoxide_dry_fraction=row.number("carbon monoxide"),
        carbon_dioxide_dry_fraction=row.number("carbon dioxide"),
    )


def _carbon_monoxide_at_ratio(row: Row) -> Any:
    """The ratio is proportional to the carbon monoxide, so one call at 1 ppm gives the inverse."""
    one = dilution.ratio_to_carbon_dioxide(
        carbon_monoxide_dry_fraction=1e-6, carbon_dioxide_dry_fraction=row.number("carbon dioxide")
    )
    return row.number("ratio") / one * 1e-6


def _mass_per_ppm(row: Row) -> Any:
    return emissions.mass_concentration(fraction=1e-6, species=row.word("species"))


def _mass_per_heat(row: Row) -> Any:
    basis = emissions.mass_per_heat_net if row.word("basis", "net") == "net" else emissions.mass_per_heat_gross
    return basis(fuel=fuel(row), flue=_flue(row), dry_fraction=1e-6, species=row.word("species"))


def _mass_per_heat_and_concentration(row: Row) -> Any:
    concentration = emissions.mass_concentration(fraction=1e-6, species=row.word("species"))
    return _mass_per_heat(row) / concentration


def _volume(of: Callable[..., Any]) -> Callable[[Row], Any]:
    return lambda row: of(fuel=fuel(row), flue=_flue(row))


def _siegert(row: Row) -> Any:
    common: dict[str, Any] = {
        "group": row.word("group"),
        "flue_temperature": row.number("flue"),
        "air_temperature": row.number("air"),
    }
    if "carbon dioxide" in row.inputs:
        shown = row.number("carbon dioxide")
        return short_forms.siegert_from_carbon_dioxide(**common, carbon_dioxide_dry_fraction=shown)
    return short_forms.siegert_from_oxygen(**common, oxygen_dry_fraction=row.number("oxygen"))


def _abbreviated(row: Row) -> AbbreviatedLoss:
    return short_forms.ptc_abbreviated(
        carbon=row.plain("carbon"),
        hydrogen=row.plain("hydrogen"),
        sulfur=row.plain("sulfur", "0 %"),
        heating_value=row.plain("heating value"),
        oxygen_percent=row.plain("oxygen"),
        carbon_dioxide_percent=row.plain("carbon dioxide"),
        carbon_monoxide_percent=row.plain("carbon monoxide", "0 %"),
        flue_fahrenheit=row.plain("flue"),
        air_fahrenheit=row.plain("air"),
    )


def _abbreviated_efficiency(row: Row) -> Any:
    lost = _abbreviated(row)
    return 1.0 - lost.dry_gas - lost.hydrogen_moisture - lost.carbon_monoxide


def _bs845_constant(row: Row) -> Any:
    """The constant k is the loss for one kelvin at one per cent."""
    return short_forms.bs845_dry_gas(
        carbon=row.plain("carbon"), heating_value=row.plain("heating value"), rise=1.0, carbon_dioxide_percent=1.0
    )


def _bs845_dry(row: Row) -> Any:
    percent = short_forms.bs845_dry_gas(
        carbon=row.plain("carbon"),
        heating_value=row.plain("heating value"),
        rise=row.plain("flue") - row.plain("air"),
        carbon_dioxide_percent=row.plain("carbon dioxide"),
    )
    return to_si(percent, "%")


def _bs845_moisture(row: Row) -> Any:
    percent = short_forms.bs845_moisture(
        water=row.plain("water", "0 %"),
        hydrogen=row.plain("hydrogen"),
        heating_value=row.plain("heating value"),
        flue_celsius=row.plain("flue"),
        air_celsius=row.plain("air"),
    )
    return to_si(percent, "%")


ASKS: Mapping[str, Callable[[Row], Any]] = {
    "efficiency_gross": _analysed("efficiency_gross"),
    "efficiency_net": _analysed("efficiency_net"),
    "loss_net": _analysed("loss_net"),
    "loss_carbon_monoxide": _analysed("loss_carbon_monoxide"),
    "loss_sensible": _sensible,
    "excess_air": lambda row: _flue(row).air_ratio - 1.0,
    "oxygen_dry": _oxygen_dry,
    "carbon_dioxide_dry": _carbon_dioxide_dry,
    "carbon_dioxide_on_the_line": _line,
    "carbon_dioxide_residual": _residual,
    "efficiency_gross_condensing": _condensed("efficiency_gross"),
    "efficiency_net_condensing": _condensed("efficiency_net"),
    "condensed_fraction": _condensed("condensed_fraction"),
    "condensate_mass": _condensate_mass,
    "water_dew_point": _water_dew_point,
    "saturation_pressure": lambda row: saturation.pressure(temperature=row.number("temperature")),
    "saturation_temperature": lambda row: saturation.temperature(pressure=row.number("pressure")),
    "latent_heat": lambda row: saturation.latent_heat(temperature=row.number("temperature")) / WATER_MOLAR_MASS,
    "acid_dew_point_verhoff": _acid(dewpoint.acid_verhoff),
    "acid_dew_point_okkes": _acid(dewpoint.acid_okkes),
    "at_reference_oxygen": _at_reference,
    "air_free_by_carbon_dioxide": _air_free_by_carbon_dioxide,
    "co_co2_ratio": _ratio,
    "carbon_monoxide_at_ratio": _carbon_monoxide_at_ratio,
    "mass_concentration": _mass_per_ppm,
    "mass_per_heat": _mass_per_heat,
    "mass_per_heat_and_concentration": _mass_per_heat_and_concentration,
    "flue_gas_volume": _volume(emissions.flue_gas_volume_per_heat),
    "flue_gas_volume_wet": _volume(emissions.flue_gas_volume_wet_per_heat),
    "combustion_air_volume": _volume(emissions.combustion_air_volume_per_heat),
    "siegert_loss": _siegert,
    "ptc_dry_gas_per_fuel": lambda row: _abbreviated(row).dry_gas_per_fuel,
    "ptc_dry_gas_loss": lambda row: _abbreviated(row).dry_gas,
    "ptc_hydrogen_loss": lambda row: _abbreviated(row).hydrogen_moisture,
    "ptc_carbon_monoxide_loss": lambda row: _abbreviated(row).carbon_monoxide,
    "ptc_efficiency": _abbreviated_efficiency,
    "bs845_constant": _bs845_constant,
    "bs845_dry_gas_loss": _bs845_dry,
    "bs845_moisture_loss": _bs845_moisture,
}
