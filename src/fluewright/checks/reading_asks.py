"""Adapters for air, instruments and other days: altitude, humidity, dilution, drift, lag, zero, meters."""

from collections.abc import Callable, Mapping
from typing import Any

from fluewright.checks.fuels_given import air, fuel, fuel_temperature, mole_fractions
from fluewright.checks.rows import Row
from fluewright.kernel import air as airs
from fluewright.kernel import balance, dilution, drift, gas_properties, losses, metering, response, sampling
from fluewright.kernel.fuel import stoichiometry


def _humidity(row: Row) -> dict[str, float]:
    return {
        "relative_humidity": row.number("relative humidity"),
        "temperature": row.number("temperature"),
        "pressure": row.number("pressure", "101.325 kPa"),
    }


def _oxygen_of_damp_air(row: Row) -> Any:
    return airs.oxygen_wet_fraction(air=airs.humid(**_humidity(row), dry=air(row)))


def _humidity_from_wet_bulb(row: Row) -> Any:
    """kg per kg dry air, by the ratio of the molar masses that the kernel uses."""
    moles = airs.water_ratio_from_wet_bulb(
        wet_bulb_temperature=row.number("wet bulb"),
        temperature=row.number("temperature"),
        pressure=row.number("pressure", "101.325 kPa"),
    )
    saturated = {"relative_humidity": 1.0, "temperature": row.number("temperature"), "pressure": 101_325.0}
    return moles * airs.humidity_ratio(**saturated) / airs.water_ratio(**saturated)


def _heat_at_meter(row: Row) -> Any:
    return metering.heat_content_at_meter(
        heating_value=row.number("heating value"),
        reference_temperature=row.number("reference temperature", "60 F"),
        reference_pressure=row.number("reference pressure"),
        meter_temperature=row.number("meter temperature"),
        meter_pressure=row.number("barometer") + row.number("gauge", "0 Pa"),
    )


def _before_and_after(row: Row) -> dict[str, balance.FlueGas]:
    parts: dict[str, Any] = {"fuel": fuel(row), "air": air(row)}
    return {
        name: balance.from_dry_oxygen(**parts, oxygen_dry_fraction=row.number(given))
        for name, given in (("flue", "oxygen before"), ("diluted", "oxygen after"))
    }


def _diluted_temperature(row: Row) -> Any:
    return losses.diluted_temperature(
        carriers=losses.carriers(fuel=fuel(row), air=air(row)),
        flue_temperature=row.number("flue"),
        room_temperature=row.number("room"),
        **_before_and_after(row),
    )


def _diluted_loss(row: Row) -> Any:
    """The sensible loss worked out from what stands behind the draft hood."""
    lost = losses.losses(
        fuel=fuel(row),
        carriers=losses.carriers(fuel=fuel(row), air=air(row)),
        flue=_before_and_after(row)["diluted"],
        flue_temperature=_diluted_temperature(row),
        air_temperature=row.number("room"),
        fuel_temperature=fuel_temperature(row, row.number("room")),
    )
    return lost.dry_gas + lost.vapour_sensible


def _intake_oxygen(row: Row) -> Any:
    return sampling.intake_oxygen_fraction(
        recirculated_fraction=row.number("share"), oxygen_dry_fraction=row.number("oxygen")
    )


def _recirculated(row: Row) -> Any:
    return sampling.recirculated_fraction(
        intake_oxygen_fraction=row.number("intake oxygen"), oxygen_dry_fraction=row.number("oxygen")
    )


_DRIFTS: Mapping[str, Callable[..., Any]] = {
    "fixed air volume": drift.air_ratio_fixed_volume,
    "one differential": drift.air_ratio_one_differential,
}


def _air_ratio_on_another_day(row: Row) -> Any:
    tuned = balance.from_dry_oxygen(fuel=fuel(row), air=air(row), oxygen_dry_fraction=row.number("oxygen"))
    return _DRIFTS[row.word("held by")](
        air_ratio=tuned.air_ratio,
        tuned_temperature=row.number("tuned at"),
        later_temperature=row.number("later at"),
    )


_BY_BAROMETER: Mapping[str, Callable[..., Any]] = {
    "an orifice": drift.air_ratio_after_barometer,
    "its mass": drift.air_ratio_after_barometer_fixed_fuel,
}


def _oxygen_after_barometer(row: Row) -> Any:
    tuned = balance.from_dry_oxygen(fuel=fuel(row), air=air(row), oxygen_dry_fraction=row.number("oxygen"))
    later = _BY_BAROMETER[row.word("fuel held by")](
        air_ratio=tuned.air_ratio, set_barometer=row.number("set at"), barometer=row.number("later at")
    )
    return balance.oxygen_dry_fraction(flue=balance.from_air_ratio(fuel=fuel(row), air=air(row), air_ratio=later))


def _air_ratio_by_draft(row: Row) -> Any:
    density = row.number("density")
    return drift.air_ratio_by_draft(
        air_ratio=row.number("air ratio"),
        tuned_draft=row.number("tuned draft"),
        later_draft=row.number("later draft"),
        tuned_density=density,
        later_density=density,
    )


def _air_ratio_after_wobbe(row: Row) -> Any:
    return drift.air_ratio_after_wobbe(air_ratio=row.number("air ratio"), wobbe_change=row.number("wobbe change"))


def _air_ratio_after_gas(row: Row) -> Any:
    def of(name: str) -> tuple[Any, Any]:
        properties = gas_properties.gas_properties(
            mole_fractions=mole_fractions(row, name), combustion="15", metering="15"
        )
        return stoichiometry(fuel=fuel(row, name), air=air(row)).air_need, properties.relative_density

    (need, density), (new_need, new_density) = of("fuel"), of("new fuel")
    return drift.air_ratio_after_gas(
        air_ratio=row.number("air ratio"),
        air_need=need,
        relative_density=density,
        new_air_need=new_need,
        new_relative_density=new_density,
    )


def _spike(row: Row) -> Any:
    return response.spike_share(duration=row.number("spike"), response_time=row.number("response"))


def _lost_to_zero(row: Row) -> Any:
    """What a zero taken in bad air hides, once the reading is made air-free."""
    return dilution.at_reference_oxygen(
        fraction=row.number("zero"),
        oxygen_dry_fraction=row.number("oxygen"),
        air_oxygen_fraction=row.number("air oxygen"),
    )


def _cell_at_height(row: Row) -> Any:
    return response.partial_pressure_reading(
        fraction=row.number("fraction"),
        zero_pressure=airs.pressure_at_altitude(altitude=row.number("zeroed at")),
        pressure=airs.pressure_at_altitude(altitude=row.number("used at")),
    )


def _trap(function: Callable[..., Any], name: str) -> Callable[[Row], Any]:
    def fraction(row: Row) -> Any:
        return function(
            **{name: row.number("oxygen")},
            trap_temperature=row.number("trap"),
            pressure=row.number("pressure", "101.325 kPa"),
        )

    return fraction


def _hydrogen_excess(row: Row) -> Any:
    return response.hydrogen_excess(
        hydrogen_to_carbon_monoxide=row.number("hydrogen to carbon monoxide"), cross_share=row.number("cross share")
    )


def _dry_air_density(row: Row) -> Any:
    return airs.density(temperature=row.number("temperature"), pressure=row.number("pressure"))


ASKS: Mapping[str, Callable[[Row], Any]] = {
    "pressure_at_altitude": lambda row: airs.pressure_at_altitude(altitude=row.number("altitude")),
    "temperature_at_altitude": lambda row: airs.temperature_at_altitude(altitude=row.number("altitude")),
    "dry_air_density": _dry_air_density,
    "humidity_ratio": lambda row: airs.humidity_ratio(**_humidity(row)),
    "humidity_ratio_from_wet_bulb": _humidity_from_wet_bulb,
    "wet_bulb_temperature": lambda row: airs.wet_bulb_temperature(**_humidity(row)),
    "oxygen_of_damp_air": _oxygen_of_damp_air,
    "heat_at_meter": _heat_at_meter,
    "diluted_temperature": _diluted_temperature,
    "diluted_loss": _diluted_loss,
    "intake_oxygen": _intake_oxygen,
    "recirculated_share": _recirculated,
    "air_ratio_on_another_day": _air_ratio_on_another_day,
    "air_ratio_after_wobbe": _air_ratio_after_wobbe,
    "air_ratio_after_gas": _air_ratio_after_gas,
    "oxygen_after_barometer": _oxygen_after_barometer,
    "air_ratio_by_draft": _air_ratio_by_draft,
    "spike_share": _spike,
    "lost_to_zero": _lost_to_zero,
    "cell_at_height": _cell_at_height,
    "dried_from_dry": _trap(sampling.dried_from_dry, "dry_fraction"),
    "dry_from_dried": _trap(sampling.dry_from_dried, "dried_fraction"),
    "hydrogen_excess": _hydrogen_excess,
}
