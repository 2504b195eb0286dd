"""Adapters for air for burning."""

from collections.abc import Callable, Mapping
from typing import Any

from fluewright.checks.fuels_given import fuel
from fluewright.checks.rows import Row
from fluewright.kernel import combustion_air
from fluewright.kernel.air import DRY_AIR
from fluewright.kernel.fuel import stoichiometry
from fluewright.rules import burning_air


def _figures(row: Row) -> Mapping[str, float]:
    """The figures of one rule, canonical units."""
    return burning_air.rule(row.word("rule")).figures


def _room(row: Row) -> Any:
    return combustion_air.room_volume_from_input(
        fuel_input=row.number("input"), room_volume_per_input=_figures(row)["room_volume_per_input"]
    )


def _room_by_leakage(row: Row) -> Any:
    figures = _figures(row)
    return combustion_air.room_volume_from_air_changes(
        fuel_input=row.number("input", "0 kW"),
        fuel_input_fan_assisted=row.number("fan-assisted input", "0 kW"),
        air_per_heat=figures["air_per_heat"],
        air_per_heat_fan_assisted=figures["air_per_heat_fan_assisted"],
        air_changes=row.number("air changes"),
        most_air_changes=figures["most_air_changes"],
    )


def _opening(row: Row) -> Any:
    figures = _figures(row)
    return combustion_air.opening_from_input(
        fuel_input=row.number("input"),
        opening_per_input=figures.get("opening_per_input", 0.0),
        free_input=figures.get("free_input", 0.0),
        opening_base=figures.get("opening_base", 0.0),
        opening_least=figures.get("opening_least", 0.0),
    )


def _outdoor_share(row: Row) -> Any:
    return combustion_air.outdoor_share_from_volumes(
        room_volume=row.number("room"), room_volume_needed=row.number("needed")
    )


def _free_area(row: Row) -> Any:
    return combustion_air.free_area_from_grille(
        opening_area=row.number("area"), free_share=_figures(row)[row.word("grille")]
    )


def _through_opening(row: Row) -> Any:
    return combustion_air.flow_through_opening(
        free_area=row.number("area"),
        air_supply_pressure=row.number("pressure"),
        density=row.number("density"),
        discharge_coefficient=row.number("coefficient"),
    )


def _opening_pressure(row: Row) -> Any:
    return combustion_air.pressure_from_opening_flow(
        free_area=row.number("area"),
        supply_flow=row.number("flow"),
        density=row.number("density"),
        discharge_coefficient=row.number("coefficient"),
    )


def _need_per_heat(row: Row) -> Any:
    burned = fuel(row)
    return combustion_air.air_per_heat_from_fuel(
        air_need=stoichiometry(fuel=burned, air=DRY_AIR).air_need,
        heating_value=burned.heating_value_gross,
        air_ratio=row.number("air ratio"),
        temperature=row.number("temperature"),
        pressure=row.number("pressure"),
    )


def _by_fan(row: Row) -> Any:
    return combustion_air.air_flow_from_input(
        fuel_input=row.number("input"), air_per_heat=_figures(row)["air_per_heat"]
    )


ASKS: Mapping[str, Callable[[Row], Any]] = {
    "burning_air_figure": lambda row: _figures(row)[row.word("figure")],
    "burning_air_room": _room,
    "burning_air_room_by_leakage": _room_by_leakage,
    "burning_air_opening": _opening,
    "burning_air_outdoor_share": _outdoor_share,
    "burning_air_free_area": _free_area,
    "burning_air_leakage": lambda row: combustion_air.leakage_from_air_changes(
        room_volume=row.number("room"), air_changes=row.number("air changes")
    ),
    "burning_air_through_opening": _through_opening,
    "burning_air_opening_pressure": _opening_pressure,
    "burning_air_need": _need_per_heat,
    "burning_air_by_fan": _by_fan,
    "burning_air_left": lambda row: combustion_air.air_left(
        supply_flow=row.number("supply"), exhaust_flow=row.number("exhaust")
    ),
}
