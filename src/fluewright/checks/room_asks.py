"""Adapters for room air and exposure."""

from collections.abc import Callable, Mapping
from typing import Any

from fluewright.checks.rows import Row
from fluewright.checks.units import parted, to_si
from fluewright.kernel import exposure, means, room
from fluewright.rules import averages, load

STANDARD_ATMOSPHERE = "101.325 kPa"
SEA_LEVEL = "760 mmHg"
ENDLESS = float("inf")


def _mass(row: Row) -> Any:
    return room.mass_from_fraction(
        fraction=row.number("monoxide"),
        temperature=row.number("temperature"),
        pressure=row.number("pressure", STANDARD_ATMOSPHERE),
    )


def _fraction(row: Row) -> Any:
    return room.fraction_from_mass(
        carbon_monoxide_room_mass=row.number("mass"),
        temperature=row.number("temperature"),
        pressure=row.number("pressure", STANDARD_ATMOSPHERE),
    )


def _room(row: Row) -> dict[str, float]:
    return {"air_changes": row.number("air changes"), "room_volume": row.number("volume")}


def _rise(row: Row) -> dict[str, float]:
    return {"fraction": row.number("start"), "later_fraction": row.number("later")}


def _source_of(row: Row) -> dict[str, float]:
    return {"carbon_monoxide_source": row.number("monoxide source", "0 m3/h")}


def _later(row: Row) -> Any:
    return room.later_fraction(
        fraction=row.number("start"), duration=row.number("duration"), **_room(row), **_source_of(row)
    )


def _samples(row: Row) -> list[means.Sample]:
    def listed(name: str) -> list[float]:
        return [to_si(*parted(one)) for one in row.word(name).split(", ")]

    return [means.Sample(*pair) for pair in zip(listed("times"), listed("levels"), strict=True)]


def _running_mean(row: Row) -> Any:
    asked: Any = {"samples": _samples(row), "duration": row.number("over"), "longest_gap": ENDLESS}
    highest = means.highest_window(**asked, least_share=averages.LEAST_SHARE)
    assert highest is not None
    window = means.window_from(**asked, start=highest.start)
    return window.area / window.covered


def _product(row: Row) -> Any:
    window = means.area_below(samples=_samples(row), longest_gap=ENDLESS)
    return None if window is None else window.area


def _mean_in_law(row: Row) -> float:
    """1 for inside, 0 for beyond."""
    found = averages.judged(load.limit(row.word("limit")), value=row.plain("value"), spread=0.0)
    return {"inside": 1.0, "beyond": 0.0}[found.passes]


def _mean_is_whole(row: Row) -> float:
    window = means.Window(0.0, 0.0, row.plain("covered"))
    return float(means.whole(window=window, duration=1.0, least_share=averages.LEAST_SHARE))


def _resistance(row: Row, body: exposure.Body) -> Any:
    """As the row gives it, or by an activity of the criteria document."""
    if "resistance" in row.inputs:
        return row.number("resistance")
    active = exposure.ACTIVITIES[row.word("activity")]
    return exposure.uptake_resistance(
        diffusing_capacity=active.diffusing_capacity,
        ventilation=active.ventilation,
        pressure=row.number("barometer", SEA_LEVEL),
        vapour_pressure=body.vapour,
    )


def _resistance_given(row: Row) -> Any:
    return exposure.uptake_resistance(
        diffusing_capacity=row.number("diffusing capacity"),
        ventilation=row.number("ventilation"),
        pressure=row.number("dry pressure"),
        vapour_pressure=0.0,
    )


def _breathed(row: Row, body: exposure.Body) -> dict[str, Any]:
    return {
        "body": body,
        "carbon_monoxide_room_fraction": row.number("monoxide"),
        "pressure": row.number("barometer", SEA_LEVEL),
        "uptake_resistance": _resistance(row, body),
    }


def _blood(formula: Callable[..., Any], body: exposure.Body) -> Callable[[Row], Any]:
    def share(row: Row) -> Any:
        return formula(
            **_breathed(row, body),
            duration=row.number("duration"),
            initial_carboxyhaemoglobin=row.number("start"),
        )

    return share


def _time_to(row: Row) -> Any:
    return exposure.duration_to_carboxyhaemoglobin(
        **_breathed(row, exposure.DRY_BODY),
        initial_carboxyhaemoglobin=row.number("start"),
        carboxyhaemoglobin=row.number("reached"),
    )


def _monoxide_from_blood(row: Row) -> Any:
    body = exposure.SHEET_BODY
    leaving = exposure.carboxyhaemoglobin_at_leaving(
        carboxyhaemoglobin=row.number("sample"), duration=row.number("since"), half_life=row.number("recovery")
    )
    return exposure.fraction_from_carboxyhaemoglobin(
        body=body,
        carboxyhaemoglobin=leaving,
        initial_carboxyhaemoglobin=row.number("background") / body.capacity,
        duration=row.number("duration"),
        pressure=row.number("barometer", SEA_LEVEL),
        uptake_resistance=row.number("resistance"),
    )


def _half_life(row: Row) -> Any:
    return exposure.half_life(body=exposure.RESTING_BODY, uptake_resistance=_resistance(row, exposure.RESTING_BODY))


def _in_the_end(row: Row) -> Any:
    return exposure.equilibrium_carboxyhaemoglobin(**_breathed(row, exposure.RESTING_BODY))


ASKS: Mapping[str, Callable[[Row], Any]] = {
    "monoxide_mass": _mass,
    "monoxide_fraction": _fraction,
    "room_later": _later,
    "room_steady": lambda row: room.steady_fraction(**_room(row), **_source_of(row)),
    "room_source": lambda row: room.source_from_rise(**_rise(row), **_room(row), duration=row.number("duration")),
    "room_air_changes": lambda row: room.air_changes_from_decay(**_rise(row), duration=row.number("duration")),
    "room_time": lambda row: room.duration_to_fraction(**_rise(row), **_room(row), **_source_of(row)),
    "running_mean": _running_mean,
    "exposure_product": _product,
    "mean_in_law": _mean_in_law,
    "mean_is_whole": _mean_is_whole,
    "uptake_resistance": _resistance_given,
    "carboxyhaemoglobin": _blood(exposure.carboxyhaemoglobin, exposure.RESTING_BODY),
    "carboxyhaemoglobin_linear": _blood(exposure.linear_carboxyhaemoglobin, exposure.DRY_BODY),
    "carboxyhaemoglobin_in_the_end": _in_the_end,
    "carboxyhaemoglobin_half_life": _half_life,
    "time_to_carboxyhaemoglobin": _time_to,
    "recovery_half_life": lambda row: exposure.HALF_LIVES[row.word("breathing")],
    "monoxide_from_blood": _monoxide_from_blood,
}
