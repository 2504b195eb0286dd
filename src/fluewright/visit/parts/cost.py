"""The tables of a visit file about cost and emissions: price, metered periods, duties of the law."""

from collections.abc import Mapping
from typing import Any, get_args

from fluewright.evidence.cost import CostAndEmissions
from fluewright.evidence.cost_bills import Bills, Period, When
from fluewright.evidence.cost_duties import DutyAsked
from fluewright.evidence.cost_price import Basis, Price, Standing
from fluewright.evidence.part import Measured
from fluewright.evidence.reading import Reading
from fluewright.quantity.show import System
from fluewright.visit import cost_typed
from fluewright.visit.shape import Form
from fluewright.visit.source import Source

TABLE = "cost"

FORM = Form(
    tables={
        TABLE: (
            "price",
            "basis",
            "heating_value",
            "efficiency",
            "efficiency_basis",
            "efficiency_after",
            "pilot",
            "standby_loss",
            "load_share",
            "normal_degree_days",
            "period",
            "duty",
        ),
        f"{TABLE}.period": cost_typed.COLUMNS,
        f"{TABLE}.duty": ("duty", "day"),
    },
    required={f"{TABLE}.period": ("use", "degree_days"), f"{TABLE}.duty": ("duty", "day")},
    lists=(f"{TABLE}.period", f"{TABLE}.duty"),
)


def _price(file: Source, table: Mapping[str, Any]) -> Price | None:
    """The price, and what it is compared with; an efficiency alone says nothing of cost."""
    if "price" not in table:
        return None
    typed = file.text(TABLE, table, "price")
    found = file.asked(f"{TABLE}, price", lambda: cost_typed.price_of(typed))
    if found is None:
        return None
    reading, money = found
    basis: Any = file.choice(TABLE, table, "basis", get_args(Basis))
    counted: Any = file.choice(TABLE, table, "efficiency_basis", get_args(Basis))
    stated = file.text(TABLE, table, "heating_value") if "heating_value" in table else None
    value = file.asked(f"{TABLE}, heating_value", lambda: cost_typed.heating_value_on_bill(stated, reading))
    share, after = (file.reading(TABLE, table, key, "efficiency_stated") for key in ("efficiency", "efficiency_after"))
    return file.asked(TABLE, lambda: Price(reading, money, value, basis, share, counted, after, typed))


def _standing(file: Source, table: Mapping[str, Any]) -> Standing | None:
    if not {"pilot", "standby_loss", "load_share"} & set(table):
        return None
    keys = {"pilot": "fuel_input", "standby_loss": "standby_loss", "load_share": "load_share",
            "efficiency": "efficiency_stated"}  # fmt: skip
    read = [file.reading(TABLE, table, key, quantity) for key, quantity in keys.items()]
    return file.asked(TABLE, lambda: Standing(*read))


def _period(file: Source, place: str, row: Mapping[str, Any], system: System) -> Period | None:
    when: Any = file.choice(place, row, "when", get_args(When))
    length = file.text(place, row, "days")
    first, last = file.text(place, row, "from"), file.text(place, row, "to")
    use, cold = file.text(place, row, "use"), file.text(place, row, "degree_days")

    def made() -> Period:
        days = None if length else cost_typed.days_between(first, last)
        return cost_typed.period_of(use=use, degree_days=cold, when=when, days=days, length=length, system=system)

    return file.asked(place, made)


def _duty(file: Source, place: str, row: Mapping[str, Any]) -> DutyAsked | None:
    name, day = file.text(place, row, "duty"), file.day(place, row, "day")
    duty = file.asked(f"{place}, duty", lambda: cost_typed.duty_with_time(name))
    return None if duty is None or day is None else DutyAsked(duty, day)


def read(file: Source) -> tuple[Measured, ...]:
    """Cost and emissions as the file tells them; nothing when the table is not there."""
    if TABLE not in file.tree:
        return ()
    table = file.table(TABLE)
    system: System = "si" if file.table("visit").get("units") == "si" else "us"
    periods = [_period(file, place, row, system) for place, row in file.rows("period", table, TABLE)]
    asked = [_duty(file, place, row) for place, row in file.rows("duty", table, TABLE)]
    normal: Reading | None = file.reading(TABLE, table, "normal_degree_days", "degree_days")
    metered = tuple(one for one in periods if one is not None)
    return (
        CostAndEmissions(
            True,
            _price(file, table),
            _standing(file, table),
            Bills(metered, normal) if metered else None,
            tuple(one for one in asked if one is not None),
        ),
    )
