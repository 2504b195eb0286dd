"""Adapters for heat delivered by air and water."""

from collections.abc import Callable, Mapping
from typing import Any

from fluewright.checks.rows import Row
from fluewright.checks.units import parted, to_si
from fluewright.kernel import air, air_side, part_load, water_side
from fluewright.solve import chance

_SPEEDS = ("first speed", "second speed")


def _speeds(row: Row) -> dict[str, float]:
    first, second = (row.number(name) for name in _SPEEDS)
    return {"fan_speed": first, "new_fan_speed": second}


def _several(row: Row, name: str) -> list[float]:
    return [to_si(*parted(str(each))) for each in row.inputs[name]]


def _air_factor(row: Row) -> float:
    """The handbook's factor, thinner by the altitude where one is given, or density and heat capacity as given."""
    if "density" in row.inputs:
        return row.number("density") * row.number("heat capacity")
    high = air.pressure_at_altitude(altitude=row.number("altitude", "0 ft"))
    return air_side.HANDBOOK_AIR_FACTOR * float(high / air.pressure_at_altitude(altitude=0.0))


def _density_ratio(row: Row) -> float:
    """Density at a height over that at sea level, at one temperature."""

    def density(altitude: float) -> float:
        return float(
            air_side.moist_air_density(
                temperature=row.number("temperature", "70 F"),
                pressure=air.pressure_at_altitude(altitude=altitude),
                humidity_ratio=0.0,
            )
        )

    return density(row.number("altitude")) / density(0.0)


def _static_unexplained(row: Row) -> Any:
    names = ("external_static", "filter_drop", "coil_drop", "supply_drop", "return_drop")
    return air_side.static_unexplained(**{name: row.number(name) for name in names})


def _pressure_from_flow(row: Row) -> Any:
    return air_side.pressure_from_flow(
        static_pressure=row.number("pressure"),
        air_flow=row.number("first flow"),
        new_air_flow=row.number("second flow"),
        system_exponent=row.plain("exponent", "2"),
    )


def _system_exponent(row: Row) -> Any:
    return air_side.system_exponent_from_two(
        static_pressure=row.number("pressure"),
        air_flow=row.number("first flow"),
        new_static_pressure=row.number("second pressure"),
        new_air_flow=row.number("second flow"),
    )


def _moist_density(row: Row) -> Any:
    temperature, pressure = row.number("temperature"), row.number("pressure")
    damp = air.humidity_ratio(
        relative_humidity=row.number("relative humidity"), temperature=temperature, pressure=pressure
    )
    return air_side.moist_air_density(temperature=temperature, pressure=pressure, humidity_ratio=damp)


def _air_heat_rise(row: Row) -> Any:
    return air_side.air_heat_rise(
        return_air_temperature=row.number("return"),
        supply_air_temperature=row.number("supply"),
        humidity_ratio=row.plain("humidity ratio", "0"),
    )


def _air_flow(row: Row) -> Any:
    heat = row.number("output") * row.number("efficiency", "100 %")
    return air_side.air_flow_from_heat(heat_output=heat, air_factor=_air_factor(row), air_rise=row.number("rise"))


def _air_heat(row: Row) -> Any:
    return air_side.heat_from_air_flow(
        air_flow=row.number("flow"), air_factor=_air_factor(row), air_rise=row.number("rise")
    )


def _velocity(row: Row) -> Any:
    return air_side.velocity_from_pressure(
        velocity_pressure=row.number("velocity pressure"), density=row.number("density")
    )


def _mean_velocity(row: Row) -> Any:
    return air_side.mean_velocity(velocity_pressures=_several(row, "velocity pressures"), density=row.number("density"))


def _table(row: Row) -> Any:
    rows = zip(_several(row, "pressures"), _several(row, "flows"), strict=True)
    return air_side.air_flow_from_table(static_pressure=row.number("pressure"), parts=tuple(rows))


def _liquid(row: Row) -> dict[str, Any]:
    return {"species": row.word("fluid"), "glycol_share": row.number("glycol", "0 %")}


def _liquid_at(row: Row) -> dict[str, Any]:
    return {**_liquid(row), "temperature": row.number("temperature")}


def _water_factor(row: Row) -> Any:
    if row.word("fluid") == "handbook":
        return water_side.HANDBOOK_WATER_FACTOR
    warm = row.number("temperature")
    return water_side.water_factor(**_liquid(row), temperature=warm, meter_temperature=warm)


def _water_heat(row: Row) -> Any:
    return water_side.heat_from_water_flow(
        water_flow=row.number("flow"), water_factor=_water_factor(row), water_rise=row.number("rise")
    )


def _water_flow(row: Row) -> Any:
    return water_side.water_flow_from_heat(
        heat_output=row.number("output"), water_factor=_water_factor(row), water_rise=row.number("rise")
    )


def _cycling(row: Row) -> Any:
    if "input" in row.inputs:
        return part_load.fuel_input_cycling(
            fuel_input=row.number("input"), run_fraction=row.number("on"), pilot_input=row.number("pilot", "0 kW")
        )
    return part_load.heat_output_cycling(
        heat_output=row.number("output"), run_fraction=row.number("on"), idle_loss=row.number("standby", "0 kW")
    )


ASKS: Mapping[str, Callable[[Row], Any]] = {
    "air_factor": lambda row: air_side.HANDBOOK_AIR_FACTOR,
    "air_density_ratio": _density_ratio,
    "external_static": lambda row: air_side.external_static(
        supply_static=row.number("supply"), return_static=row.number("return")
    ),
    "static_unexplained": _static_unexplained,
    "fan_flow": lambda row: air_side.flow_from_speed(air_flow=row.number("flow"), **_speeds(row)),
    "fan_pressure": lambda row: air_side.pressure_from_speed(static_pressure=row.number("pressure"), **_speeds(row)),
    "fan_power": lambda row: air_side.power_from_speed(fan_power=row.number("power"), **_speeds(row)),
    "system_pressure": _pressure_from_flow,
    "system_exponent": _system_exponent,
    "moist_air_density": _moist_density,
    "air_heat_rise": _air_heat_rise,
    "air_flow_from_rise": _air_flow,
    "heat_from_air": _air_heat,
    "pitot_velocity": _velocity,
    "pitot_velocity_handbook": lambda row: air_side.velocity_handbook(
        velocity_pressure=row.number("velocity pressure")
    ),
    "traverse_velocity": _mean_velocity,
    "traverse_points": lambda row: list(air_side.positions_equal_area(parts=int(row.plain("points")))),
    "blower_table": _table,
    "liquid_density": lambda row: water_side.liquid_density(**_liquid_at(row)),
    "liquid_heat_capacity": lambda row: water_side.liquid_heat_capacity(**_liquid_at(row)),
    "water_factor": _water_factor,
    "heat_from_water": _water_heat,
    "water_flow": _water_flow,
    "run_fraction": lambda row: part_load.run_fraction_from_times(
        burner_on_time=row.number("on"), burner_off_time=row.number("off")
    ),
    "cycling_mean": _cycling,
    "chi_square_odds": lambda row: chance.beyond(row.plain("chi square"), freedom=int(row.plain("freedom"))),
    "largest_of_several": lambda row: chance.critical_largest(count=int(row.plain("count")), odds=row.number("odds")),
}
