"""Adapters for gas pressure, tightness and pipes."""

from collections.abc import Callable, Mapping
from typing import Any

from fluewright.checks.rows import Row
from fluewright.kernel import gas_pipe, pipe_friction, pipe_sizes, tightness
from fluewright.rules import pipe_tables, tightness_tests

FACTS: Mapping[str, str] = {
    "pressure from": "pressure_from",
    "pressure to": "pressure_to",
    "duration": "duration",
    "fall": "fall",
    "gauge step": "gauge_step",
    "perceptible": "perceptible",
    "settle": "settle",
}
"""Fields of a tightness test by the words of a row."""


def _code(row: Row) -> pipe_sizes.LineGas:
    return pipe_sizes.LINE_GASES[row.word("gas", "natural gas")]


def _flow_low(row: Row) -> Any:
    return gas_pipe.flow_low_pressure(
        inner_diameter=row.number("diameter"),
        pressure_drop=row.number("drop"),
        length=row.number("length"),
        gas_factor=_code(row).code_factor,
    )


def _drop_low(row: Row) -> Any:
    return gas_pipe.drop_low_pressure(
        gas_flow=row.number("flow"),
        inner_diameter=row.number("diameter"),
        length=row.number("length"),
        gas_factor=_code(row).code_factor,
    )


def _diameter_low(row: Row) -> Any:
    return gas_pipe.diameter_low_pressure(
        gas_flow=row.number("flow"),
        pressure_drop=row.number("drop"),
        length=row.number("length"),
        gas_factor=_code(row).code_factor,
    )


def _high(row: Row) -> dict[str, Any]:
    given = {"length": row.number("length"), "gas_factor": _code(row).code_factor}
    given |= {"code_compression": _code(row).compression}
    given |= {"pressure_in": row.number("inlet") + row.number("air")}
    if "outlet" in row.inputs:
        given["pressure_out"] = row.number("outlet") + row.number("air")
    if "flow" in row.inputs:
        given["gas_flow"] = row.number("flow")
    if "diameter" in row.inputs:
        given["inner_diameter"] = row.number("diameter")
    return given


def _spitzglass_flow(row: Row) -> Any:
    return gas_pipe.flow_spitzglass(
        inner_diameter=row.number("diameter"),
        pressure_drop=row.number("drop"),
        length=row.number("length"),
        relative_density=row.plain("relative density"),
    )


def _spitzglass_drop(row: Row) -> Any:
    return gas_pipe.drop_spitzglass(
        gas_flow=row.number("flow"),
        inner_diameter=row.number("diameter"),
        length=row.number("length"),
        relative_density=row.plain("relative density"),
    )


def _line(row: Row) -> dict[str, Any]:
    return {
        "length": row.number("length"),
        "density": row.number("density"),
        "dynamic_viscosity": row.number("viscosity"),
        "roughness": row.number("roughness"),
    }


def _drop_darcy(row: Row) -> Any:
    return pipe_friction.drop_darcy(gas_flow=row.number("flow"), inner_diameter=row.number("diameter"), **_line(row))


def _flow_darcy(row: Row) -> Any:
    return pipe_friction.flow_darcy(
        inner_diameter=row.number("diameter"), pressure_drop=row.number("drop"), **_line(row)
    )


def _diameter_darcy(row: Row) -> Any:
    return pipe_friction.diameter_darcy(gas_flow=row.number("flow"), pressure_drop=row.number("drop"), **_line(row))


def _isothermal(row: Row) -> Any:
    return pipe_friction.pressure_out_isothermal(
        mass_flow=row.number("mass flow"),
        pressure_in=row.number("inlet"),
        temperature=row.number("temperature"),
        relative_density=row.plain("relative density"),
        inner_diameter=row.number("diameter"),
        length=row.number("length"),
        dynamic_viscosity=row.number("viscosity"),
        roughness=row.number("roughness"),
    )


def _two_readings(row: Row) -> dict[str, Any]:
    warm, air = row.word("temperature", "293.15 K"), row.word("air")
    return {
        "gauge_start": row.number("start"),
        "barometer_start": row.number("air"),
        "barometer_end": row.number("air later", air),
        "temperature_start": row.number("temperature", warm),
        "temperature_end": row.number("temperature later", warm),
    }


def _decay(row: Row) -> Any:
    return tightness.leak_rate_from_decay(
        volume=row.number("volume"), gauge_end=row.number("end"), duration=row.number("duration"), **_two_readings(row)
    )


def _installation(row: Row) -> Any:
    return tightness.installation_volume(
        pipe_volume=row.plain("metres") * row.number("volume per metre"),
        fittings_share=row.number("fittings"),
        meter_volume=row.number("meter"),
    )


def _fact(row: Row) -> Any:
    """Figures of a tightness test, in the order in which the row asks for them."""
    test = tightness_tests.test_named(row.word("test"))
    return [float(getattr(test, FACTS[word])) for word in row.inputs["facts"]]


def _least(row: Row) -> Any:
    return tightness_tests.test_named(row.word("test")).pressure_least(row.number("working"))


def _fall_by_volume(row: Row) -> Any:
    """What the one test in use that fits an installation volume allows."""
    (found,) = (
        test
        for test in tightness_tests.tests()
        if test.id.startswith(row.word("tests")) and test.of_volume(row.number("volume"))
    )
    return found.fall


def _table_load(row: Row) -> Any:
    return pipe_tables.manufactured_homes().load(size=row.word("size"), length=row.number("length"))


def _viscosity(row: Row) -> Any:
    gas = _code(row)
    return pipe_friction.viscosity_at(
        viscosity=gas.viscosity, warming=gas.warming, temperature=row.number("temperature")
    )


ASKS: Mapping[str, Callable[[Row], Any]] = {
    "pipe_flow_low": _flow_low,
    "pipe_load_low": lambda row: _flow_low(row) * row.number("heating value"),
    "pipe_drop_low": _drop_low,
    "pipe_diameter_low": _diameter_low,
    "pipe_flow_high": lambda row: gas_pipe.flow_high_pressure(**_high(row)),
    "pipe_diameter_high": lambda row: gas_pipe.diameter_high_pressure(**_high(row)),
    "pipe_outlet_high": lambda row: gas_pipe.pressure_out_high_pressure(**_high(row)) - row.number("air"),
    "pipe_flow_spitzglass": _spitzglass_flow,
    "pipe_drop_spitzglass": _spitzglass_drop,
    "gravity_multiplier": lambda row: gas_pipe.gravity_multiplier(relative_density=row.plain("relative density")),
    "regulator_shift": lambda row: gas_pipe.regulator_shift(
        pressure=row.number("pressure"), set_pressure=row.number("set")
    ),
    "line_density": lambda row: pipe_friction.line_density(
        relative_density=row.plain("relative density"),
        pressure=row.number("pressure"),
        temperature=row.number("temperature"),
    ),
    "reynolds_number": lambda row: pipe_friction.reynolds_number(
        gas_flow=row.number("flow"),
        inner_diameter=row.number("diameter"),
        density=row.number("density"),
        dynamic_viscosity=row.number("viscosity"),
    ),
    "friction_factor": lambda row: pipe_friction.friction_factor(
        reynolds=row.plain("reynolds"), relative_roughness=row.plain("relative roughness")
    ),
    "pipe_drop_darcy": _drop_darcy,
    "pipe_flow_darcy": _flow_darcy,
    "pipe_diameter_darcy": _diameter_darcy,
    "pipe_outlet_isothermal": _isothermal,
    "equivalent_length": lambda row: pipe_friction.equivalent_length(
        fittings_ratio=row.plain("ratio"), inner_diameter=row.number("diameter")
    ),
    "gas_viscosity": _viscosity,
    "leak_from_decay": _decay,
    "gauge_when_tight": lambda row: tightness.gauge_when_tight(**_two_readings(row)),
    "pressure_per_kelvin": lambda row: tightness.pressure_per_kelvin(
        pressure=row.number("pressure"), temperature=row.number("temperature")
    ),
    "leak_from_creep": lambda row: tightness.leak_rate_from_creep(
        metered_volume=row.number("volume"),
        duration=row.number("duration"),
        gauge=row.number("gauge"),
        barometer=row.number("air"),
    ),
    "smallest_leak": lambda row: tightness.smallest_leak(
        volume=row.number("volume"),
        pressure_step=row.number("step"),
        barometer=row.number("air"),
        duration=row.number("duration"),
    ),
    "duration_for_leak": lambda row: tightness.duration_for_leak(
        volume=row.number("volume"),
        pressure_spread=row.number("spread"),
        barometer=row.number("air"),
        leak_rate=row.number("leak"),
        sureness=row.plain("sureness"),
    ),
    "pipe_volume": lambda row: tightness.pipe_volume(
        inner_diameter=row.number("diameter"), length=row.number("length")
    ),
    "installation_volume": _installation,
    "leak_at_pressure": lambda row: tightness.leak_at_pressure(
        leak_rate=row.number("leak"),
        gauge=row.number("gauge"),
        working_gauge=row.number("working"),
        exponent=row.plain("exponent"),
    ),
    "leak_in_other_gas": lambda row: tightness.leak_in_other_gas(
        leak_rate=row.number("leak"),
        density=row.plain("density"),
        dynamic_viscosity=row.plain("viscosity"),
        new_density=row.plain("new_density"),
        new_dynamic_viscosity=row.plain("new_viscosity"),
        exponent=row.plain("exponent"),
    ),
    "pipe_inner_diameter": lambda row: pipe_sizes.SERIES[row.word("series")].diameters[row.word("size")],
    "tightness_test": _fact,
    "tightness_least_pressure": _least,
    "tightness_fall_by_volume": _fall_by_volume,
    "pipe_table_load": _table_load,
}
