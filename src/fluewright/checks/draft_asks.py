"""Adapters for draft and venting."""

from collections.abc import Callable, Mapping
from typing import Any

from fluewright.checks.fuels_given import air, fuel
from fluewright.checks.rows import Row
from fluewright.checks.units import to_si
from fluewright.kernel import balance, dilution_hood, draft, flue_flow, house_pressure, losses
from fluewright.kernel.constants import GAS_CONSTANT
from fluewright.rules import draft_weather, load, vents


def _by_density(row: Row) -> Any:
    """From densities as printed, or as the standard reckons them from its gas constants."""
    if "outdoor density" in row.inputs:
        outdoor, flue = row.number("outdoor density"), row.number("flue density")
    else:
        outdoor, flue = (
            flue_flow.gas_density(
                molar_mass=GAS_CONSTANT / row.plain(constant),
                temperature=row.number(temperature),
                pressure=row.number("pressure"),
            )
            for temperature, constant in (("outdoors", "air constant"), ("flue", "flue constant"))
        )
    return draft.draft_from_densities(height=row.number("height"), outdoor_density=outdoor, flue_density=flue)


def _printed(form: Callable[..., Any]) -> Callable[[Row], Any]:
    return lambda row: form(
        height=row.number("height"),
        pressure=row.number("pressure"),
        outdoor_temperature=row.number("outdoors"),
        flue_temperature=row.number("flue"),
    )


def _left(row: Row) -> Any:
    return draft.draft_left(
        draft=row.number("pull"),
        flow_loss=row.number("flow loss"),
        wind_pressure=row.number("wind"),
        depressurisation=row.number("drawn down"),
    )


def _wind(row: Row) -> Any:
    return draft.wind_pressure(
        wind_speed=row.number("speed"),
        density=row.number("density"),
        pressure_coefficient=row.number("coefficient"),
    )


def _stack(row: Row) -> Any:
    return house_pressure.stack_pressure(
        height=row.number("height"),
        outdoor_temperature=row.number("outdoors"),
        room_temperature=row.number("room"),
        pressure=row.number("pressure"),
    )


def _neutral_plane(row: Row) -> Any:
    return house_pressure.neutral_plane_from_openings(
        low_opening_area=row.number("low opening"),
        high_opening_area=row.number("high opening"),
        distance=row.number("distance"),
        outdoor_temperature=row.number("outdoors"),
        room_temperature=row.number("room"),
    )


def _leakage(row: Row) -> Any:
    return house_pressure.leakage_coefficient(
        leak_flow=row.number("test flow"), test_pressure=row.number("test pressure"), exponent=row.plain("exponent")
    )


def _drawn_down(row: Row) -> Any:
    return house_pressure.depressurisation_from_flow(
        exhaust_flow=row.number("exhaust"), leakage_coefficient=_leakage(row), exponent=row.plain("exponent")
    )


def _added_by_temperature(row: Row) -> Any:
    burned, of_air = fuel(row), air(row)
    return dilution_hood.air_added_from_temperatures(
        carriers=losses.carriers(fuel=burned, air=of_air),
        flue=balance.from_dry_oxygen(fuel=burned, air=of_air, oxygen_dry_fraction=row.number("oxygen before")),
        flue_temperature=row.number("flue"),
        diluted_temperature=row.number("diluted"),
        room_temperature=row.number("room"),
    )


def _category(row: Row) -> float:
    found = vents.category_of(
        positive=row.word("vent pressure") == "positive", condensing=row.word("condensate") == "may condense"
    )
    return float(found.number)


def _suction(row: Row) -> float:
    """A limit that asks for suction, as the positive figure that texts print."""
    found = load.limit(row.word("limit"))
    return -to_si(found.limit, {"in w.c.": "inWC"}.get(found.unit, found.unit))


ASKS: Mapping[str, Callable[[Row], Any]] = {
    "draft_from_densities": _by_density,
    "draft_handbook_form": _printed(draft.draft_from_handbook_form),
    "draft_steam_form": _printed(draft.draft_from_steam_form),
    "draft_left": _left,
    "draft_by_weather": lambda row: draft_weather.table(row.word("table")).draft_at(row.number("outdoors")),
    "draft_suction": _suction,
    "wind_pressure": _wind,
    "stack_pressure": _stack,
    "neutral_plane": _neutral_plane,
    "leakage_coefficient": _leakage,
    "house_drawn_down": _drawn_down,
    "air_added_by_oxygen": lambda row: dilution_hood.air_added_from_oxygen(
        oxygen_dry_fraction=row.number("oxygen before"),
        diluted_oxygen_dry_fraction=row.number("oxygen after"),
        air_oxygen_fraction=row.number("air oxygen"),
    ),
    "air_added_by_carbon_dioxide": lambda row: dilution_hood.air_added_from_carbon_dioxide(
        carbon_dioxide_dry_fraction=row.number("carbon dioxide before"),
        diluted_carbon_dioxide_dry_fraction=row.number("carbon dioxide after"),
        air_carbon_dioxide_fraction=row.number("air carbon dioxide"),
    ),
    "air_added_by_temperature": _added_by_temperature,
    "vent_category": _category,
}
