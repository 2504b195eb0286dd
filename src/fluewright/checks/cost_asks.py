"""Adapters for emission factors, duties of the law, prices and savings."""

import datetime
from collections.abc import Callable, Mapping
from typing import Any

from fluewright.checks.rows import Row
from fluewright.checks.units import to_si
from fluewright.fuels import factors
from fluewright.kernel import bill_fit, cost
from fluewright.kernel.bill_fit import Line
from fluewright.rules import duties

_DAY = 86_400.0


def _published(row: Row) -> float:
    """A published mass of a gas per heat, by document, fuel and gas."""
    (found,) = (
        each.value
        for each in factors.per_heat()
        if row.word("library fuel") in each.fuels
        and each.gas == row.word("gas", "CO2")
        and each.document.startswith(row.word("document"))
    )
    return found


def _emitted(row: Row) -> Any:
    return cost.carbon_dioxide_from_heat(fuel_heat=_heat(row), carbon_factor=_published(row))


def _heat(row: Row) -> float:
    """Heat in the fuel, as given or by volume with its published heating value."""
    if "heat" in row.inputs:
        return row.number("heat")
    (content,) = (
        each.value
        for each in factors.factors()
        if each.fuel == row.word("library fuel") and each.quantity == "heating_value_gross_per_liquid_volume"
    )
    return row.number("volume") * content


def _saved(row: Row) -> Any:
    return cost.share_saved(efficiency_before=row.number("before"), efficiency_after=row.number("after"))


def _delivered(row: Row) -> Any:
    price = row.number("price")
    if "heat content" in row.inputs:
        price = cost.price_of_heat(price=price, heating_value=row.number("heat content"))
    return cost.price_of_delivered_heat(fuel_price=price, efficiency=row.number("efficiency"))


def _season(row: Row) -> Any:
    return cost.fuel_heat_from_degree_days(
        degree_days=row.number("degree days"),
        heat_loss_rate=row.number("heat loss"),
        efficiency=row.number("efficiency"),
        degree_day_correction=row.number("correction", "1"),
    )


def _other_weather(row: Row) -> Any:
    return cost.use_in_other_weather(
        fuel_heat=row.number("use"),
        base_heat=row.number("base"),
        degree_days=row.number("degree days"),
        new_degree_days=row.number("new degree days"),
    )


def _standby(row: Row) -> Any:
    return cost.efficiency_with_standby(
        efficiency=row.number("efficiency"),
        standby_loss=row.number("standby loss"),
        load_share=row.number("load share"),
    )


def _other_basis(row: Row) -> Any:
    return cost.carbon_factor_on_other_basis(
        carbon_factor=row.number("factor"), heating_value=row.number("net"), other_heating_value=row.number("gross")
    )


def _line(row: Row) -> Line:
    return bill_fit.line_through_bills(
        degree_days_per_day=row.inputs["x"],
        heat_rate=row.inputs["y"],
        days=row.inputs.get("weights", [1.0] * len(row.inputs["x"])),
    )


def _line_over_season(row: Row) -> Any:
    line = _line(row)
    days, cold = row.plain("days"), row.plain("degree days")
    if row.word("of") == "heat":
        return bill_fit.heat_over_season(base=line.base, slope=line.slope, days=days, degree_days=cold) / _DAY
    variance = bill_fit.variance_over_season(
        base_variance=line.base_variance,
        slope_variance=line.slope_variance,
        covariance=line.covariance,
        days=days,
        degree_days=cold,
    )
    return variance / _DAY**2


def _duty(row: Row) -> float:
    """The one amount of a duty, or its day of the year as month and day in four figures."""
    found = duties.duty(row.word("duty"))
    if isinstance(found.by, tuple):
        return 100.0 * found.by[0] + found.by[1]
    (amount,) = found.amounts
    return to_si(amount.count, row.unit)


def _due(row: Row) -> float:
    """A due date as year, month and day in eight figures."""
    due = duties.last_day(duties.duty(row.word("duty")), datetime.date.fromisoformat(row.word("day")))
    return due.year * 10_000.0 + due.month * 100.0 + due.day


ASKS: Mapping[str, Callable[[Row], Any]] = {
    "published_per_heat": _published,
    "carbon_dioxide_emitted": _emitted,
    "share_saved": _saved,
    "money_saved": lambda row: _saved(row) * row.number("use") * row.number("price"),
    "delivered_price": _delivered,
    "season_fuel_heat": _season,
    "use_in_other_weather": _other_weather,
    "pilot_heat": lambda row: cost.pilot_heat(fuel_input=row.number("input"), duration=row.number("time")),
    "efficiency_with_standby": _standby,
    "carbon_factor_on_other_basis": _other_basis,
    "bill_line": lambda row: getattr(_line(row), row.word("of")),
    "bill_line_over_season": _line_over_season,
    "student_quantile": lambda row: bill_fit.student_quantile(
        share=row.plain("share"), freedom=int(row.plain("freedom"))
    ),
    "duty": _duty,
    "duty_due": _due,
}
