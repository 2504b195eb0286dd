"""Adapters for gas input: meter, orifice, altitude, another gas."""

from collections.abc import Callable, Mapping
from typing import Any

from fluewright.checks.rows import Row
from fluewright.checks.units import parted, to_si
from fluewright.kernel import derating, gas_input, interchange, orifice
from fluewright.kernel.constants import PI
from fluewright.rules import altitude, drills


def _correction(row: Row) -> Any:
    return gas_input.volume_correction(
        meter_pressure=row.number("barometer") + row.number("gauge"),
        meter_temperature=row.number("temperature"),
        reference_pressure=row.number("base pressure"),
        reference_temperature=row.number("base temperature"),
    )


def _state_number(row: Row) -> Any:
    return gas_input.state_number(
        barometer=gas_input.billing_barometer(altitude=row.number("altitude")),
        gas_pressure=row.number("gauge"),
        fuel_temperature=row.number("temperature"),
    )


def _resolution(row: Row) -> Any:
    return gas_input.count_resolution(
        volume=row.number("volume"),
        volume_step=row.number("volume step"),
        duration=row.number("duration"),
        time_step=row.number("time step"),
    )


def _until_resolved(row: Row) -> Any:
    return gas_input.duration_until_resolved(
        duration=row.number("duration"), count_resolution=_resolution(row), resolution=row.number("wanted")
    )


def _heat_input(row: Row) -> Any:
    return gas_input.heat_input_from_count(
        volume=row.number("volume"), duration=row.number("duration"), heating_value=row.number("heating value")
    )


def _altitude_share(row: Row) -> float:
    left = altitude.rule(row.word("rule")).left_at(row.number("altitude"))
    if left is None:
        raise KeyError(f"{row.id}: the rule says nothing at this height")
    return left


def _altitude_table(row: Row) -> Any:
    pairs = zip(row.inputs["heights"], row.inputs["shares"], strict=True)
    table = [(to_si(*parted(height)), float(share)) for height, share in pairs]
    return derating.share_by_table(altitude=row.number("altitude"), table=table)


def _hole(row: Row) -> dict[str, float]:
    return {"discharge": row.number("discharge"), "gas_pressure": row.number("pressure")}


def _constant(row: Row) -> Any:
    """Flow of air through one square metre at one pascal, which the unit of the row turns into the printed constant."""
    diameter = (PI / 4.0) ** -0.5
    return orifice.flow_through_orifice(
        diameter=diameter, discharge=1.0, gas_pressure=1.0, density=row.number("air density")
    )


def _hole_for_gas(row: Row) -> Any:
    return orifice.diameter_for_gas(
        diameter=row.number("diameter"),
        wobbe_gross=row.number("wobbe"),
        new_wobbe_gross=row.number("new wobbe"),
        gas_pressure=row.number("pressure"),
        new_gas_pressure=row.number("new pressure"),
    )


def _drill(row: Row) -> float:
    found = drills.drill(row.word("drill"))
    if found is None:
        raise KeyError(f"{row.id} names no drill")
    return found.diameter


ASKS: Mapping[str, Callable[[Row], Any]] = {
    "heat_input_from_count": _heat_input,
    "net_input": lambda row: gas_input.net_input(
        fuel_input=row.number("input"), gross_net_ratio=row.number("gross over net")
    ),
    "volume_correction": _correction,
    "state_number": _state_number,
    "uk_fixed_factor": lambda row: gas_input.UK_FIXED_FACTOR,
    "count_resolution": _resolution,
    "duration_until_resolved": _until_resolved,
    "altitude_share": _altitude_share,
    "altitude_input": lambda row: _altitude_share(row) * row.number("input"),
    "altitude_table": _altitude_table,
    "thin_gas": lambda row: derating.share_by_thin_gas(
        barometer=row.number("barometer"), set_barometer=row.number("set barometer")
    ),
    "flow_by_table": lambda row: orifice.flow_by_table(
        diameter=row.number("diameter"), relative_density=row.number("relative density"), **_hole(row)
    ),
    "flow_through_orifice": lambda row: orifice.flow_through_orifice(
        diameter=row.number("diameter"), density=row.number("density"), **_hole(row)
    ),
    "diameter_from_flow": lambda row: orifice.diameter_from_flow(
        gas_flow=row.number("flow"), density=row.number("density"), **_hole(row)
    ),
    "orifice_constant": _constant,
    "expansion_factor": lambda row: orifice.expansion_factor(
        gas_pressure=row.number("pressure"),
        barometer=row.number("barometer"),
        heat_capacity_ratio=row.number("heat capacity ratio"),
    ),
    "diameter_for_gas": _hole_for_gas,
    "drill": _drill,
    "input_after_pressure": lambda row: orifice.input_after_pressure(
        fuel_input=row.number("input"),
        gas_pressure=row.number("pressure"),
        new_gas_pressure=row.number("new pressure"),
    ),
    "pressure_for_input": lambda row: orifice.pressure_for_input(
        gas_pressure=row.number("pressure"), input_ratio=row.number("wanted")
    ),
    "wobbe_index": lambda row: interchange.wobbe_index(
        heating_value=row.number("heating value"), relative_density=row.number("relative density")
    ),
}
