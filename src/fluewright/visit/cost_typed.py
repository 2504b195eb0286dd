"""Prices, metered periods and duties from what was typed, for a visit file, a table or one line."""

import csv
import re
from collections.abc import Mapping, Sequence
from datetime import date
from pathlib import Path

from fluewright.errors import FluewrightError, Problems, UseError, VisitError
from fluewright.evidence.cost_bills import Period, When
from fluewright.evidence.cost_price import Price, Standing, sold_by
from fluewright.evidence.reading import Reading
from fluewright.quantity import names, parse, show, units
from fluewright.quantity.show import System
from fluewright.rules import duties
from fluewright.rules.duties import Duty
from fluewright.visit.place import FIRST_YEAR, LAST_YEAR, day_of

DAY = 86_400.0

_PRICE = re.compile(
    r"\s*(?P<lead>[^\d\s.,+-]{0,3})\s*(?P<figure>[\d.,]+)\s*(?P<money>[^\d/]*?)\s*/\s*(?P<per>\S.*?)\s*"
)
_PRICES = ("fuel_price", "fuel_price_by_volume", "fuel_price_by_mass")
HEATING_VALUES = {
    "gas volume": "heating_value_gross",
    "liquid volume": "heating_value_gross_per_liquid_volume",
    "mass": "heating_value_gross_per_mass",
}
"""Heating value that a bill may state, by what is paid for."""
COLUMNS = ("days", "from", "to", "use", "degree_days", "when")
"""Headers that a table of bills may have."""


def price_of(text: str) -> tuple[Reading, str]:
    """A price and its money: 1.50 USD/therm, $4.00/gal, 0.12 EUR/kWh.

    text  figure, money if any, a stroke, what is paid for
    -> reading of a price per heat, volume or mass, and the money as typed; VisitError FW-V-032 for anything else
    """
    match = _PRICE.fullmatch(text)
    if match is not None:
        per = f"1/{match['per']}"
        dimensions = {unit.dimension for unit in units.spelled(per)}
        for quantity in _PRICES:
            if names.of(quantity).dimension in dimensions:
                typed = parse.parse(f"{match['figure']} {per}", quantity=quantity)
                return Reading(quantity, typed), match["money"].strip() or match["lead"].strip()
    raise VisitError(
        code="FW-V-032",
        read=f"the price {text!r}",
        expected="figure, money and what is paid for, such as 1.50 USD/therm, $4.00/gal, 0.12 EUR/kWh, 280 EUR/t",
        matters="a price without its unit can be wrong a hundredfold",
        do="write it with a stroke before what is paid for",
    )


def heating_value_on_bill(text: str | None, price: Reading) -> Reading | None:
    """The heating value that a bill states, in what its price is paid for; VisitError FW-V-038 where it is not used."""
    if text is None:
        return None
    if price.quantity == "fuel_price":
        raise VisitError(
            code="FW-V-038",
            read=f"a heating value of {text} beside a price for heat",
            expected="a heating value only where the price is for a volume or a mass",
            matters="a value that nobody uses would look as if it had been reckoned with",
            do="leave it out, or write the price for what is metered",
        )
    quantity = HEATING_VALUES[sold_by(price.typed.unit)]
    return Reading(quantity, parse.parse(text, quantity=quantity))


def use_of(text: str, *, system: System) -> Reading:
    """What a meter counted: heat such as 95 therm, or a volume such as 88 ccf."""
    tail = text.strip().lstrip("+-0123456789.,' ")
    fits = {unit.dimension for unit in units.spelled(tail)} if tail else {"energy"}
    quantity = "fuel_volume" if "volume" in fits and "energy" not in fits else "fuel_heat"
    typed = parse.single(text, quantity=quantity, default_unit=show.unit_of(quantity, system))
    return Reading(quantity, typed)


def _figure(text: str, quantity: str, system: System) -> float:
    typed = parse.single(text, quantity=quantity, default_unit=show.unit_of(quantity, system))
    return float(typed.value or 0.0)


def period_of(
    *, use: str, degree_days: str, when: When, days: float | None = None, length: str = "", system: System = "us"
) -> Period:
    """One metered period.

    days    how long, d, or None to read it from length
    length  such as 31 d
    -> period; VisitError FW-V-033 when it has no length
    """
    lasted = days if days is not None else _figure(length, "period", system) / DAY
    if lasted <= 0.0:
        raise VisitError(
            code="FW-V-033",
            read=f"a period of {lasted:g} days",
            expected="more than none, first day before last",
            matters="use is reckoned for each day",
            do="check the two dates or the number of days",
        )
    return Period(lasted, use_of(use, system=system), _figure(degree_days, "degree_days", system), when)


def period_on_line(text: str, *, when: When, system: System) -> Period:
    """A period on one line: 31 d, 95 therm, 820 hdd; semicolons where commas stand in figures."""
    parts = [part for part in re.split(r"\s*;\s*|,\s+", text.strip()) if part]
    if len(parts) != 3:
        raise VisitError(
            code="FW-V-034",
            read=f"the period {text!r}",
            expected="three values: its days, what was used, its degree days, such as '31 d, 95 therm, 820 hdd'",
            matters="one of the three left out moves the whole line",
            do="write all three, with a comma and a space between them",
        )
    return period_of(length=parts[0], use=parts[1], degree_days=parts[2], when=when, system=system)


def periods_in(path: Path, *, system: System) -> tuple[Period, ...]:
    """The metered periods of a CSV table; every row that cannot be taken is told at once.

    path    headers use, degree_days, days or from and to, and when (before, after; before when empty)
    system  whose units bare figures are in: therm and °F days, or kWh and K days
    -> periods; VisitError FW-V-035 when the table cannot be read, Problems for rows
    """
    try:
        with path.open(encoding="utf-8-sig", newline="") as file:
            rows = list(csv.DictReader(file))
    except (OSError, UnicodeDecodeError, csv.Error) as error:
        raise _no_table(path, f"it cannot be read: {getattr(error, 'strerror', None) or error}") from error
    heads = set(rows[0]) if rows else set()
    strange = sorted(str(head) for head in heads - set(COLUMNS))
    if not {"use", "degree_days"} <= heads or not ("days" in heads or {"from", "to"} <= heads) or strange:
        raise _no_table(path, f"the headers {', '.join(str(head) for head in rows[0]) if rows else 'none'}")
    found, wrong = [], []
    for number, row in enumerate(rows, 2):
        try:
            found.append(_of_row(row, system))
        except FluewrightError as error:
            error.where = f"{path.name}, line {number}"
            wrong.append(error)
    if wrong:
        raise Problems(subject=path.name, errors=wrong)
    return tuple(found)


def _no_table(path: Path, read: str) -> VisitError:
    return VisitError(
        code="FW-V-035",
        where=path.name,
        read=read,
        expected="a CSV table in UTF-8 with the headers use, degree_days, days or from and to, and perhaps when",
        matters="a column nobody reads would be a bill lost",
        do="name the columns so, and leave others out",
    )


def _of_row(row: Mapping[str, str | None], system: System) -> Period:
    plain: dict[str, str] = {key: (value or "").strip() for key, value in row.items() if isinstance(key, str)}
    when: When = "after" if plain.get("when", "").lower() == "after" else "before"
    if plain.get("when", "").lower() not in ("", "before", "after"):
        raise _not_when(plain["when"])
    days = None if plain.get("days") else days_between(plain.get("from", ""), plain.get("to", ""))
    return period_of(
        use=plain["use"],
        degree_days=plain["degree_days"],
        when=when,
        days=days,
        length=plain.get("days", ""),
        system=system,
    )


def _not_when(text: str) -> VisitError:
    return VisitError(
        code="FW-V-036",
        read=f"when = {text!r}",
        expected="before or after, empty for before",
        matters="a bill on the wrong side turns a saving round",
        do="write one of the two words",
    )


def days_between(first: str, last: str) -> float:
    """Days from one meter reading to the next; VisitError FW-V-037 for what is no date."""
    try:
        return float((date.fromisoformat(last) - date.fromisoformat(first)).days)
    except ValueError as error:
        raise VisitError(
            code="FW-V-037",
            read=f"a period from {first!r} to {last!r}",
            expected="two dates as year-month-day, such as 2026-01-31, or the days instead",
            matters="use is reckoned for each day",
            do="write the days on which the meter was read",
        ) from error


def duty_with_time(name: str) -> Duty:
    """A duty that has a last day; RuleError for a name nobody has, UseError FW-U-233 for a size."""
    found = duties.duty(name)
    if found.counted_from == "a size":
        raise UseError(
            code="FW-U-233",
            read=f"{name}, which is a size from which a law applies",
            expected="a duty that is counted from a day",
            matters="a size has no last day",
            do="fluewright cost duty lists them all",
        )
    return found


def day_for(name: str, typed: str | None) -> tuple[Duty, date]:
    """A duty and the day it is counted from; UseError FW-U-232 without a day that is one."""
    duty, day = duty_with_time(name), day_of(typed or "")
    if day is not None:
        return duty, day
    raise UseError(
        code="FW-U-232",
        read=f"the day {typed!r}" if typed else "no day",
        expected=f"the day from which it is counted ({duty.counted_from}), as --day 2026-01-10",
        matters="the last day hangs on it",
        do=f"write it as year-month-day, {FIRST_YEAR} to {LAST_YEAR}",
    )


def need_something(price: Price | None, standing: Standing) -> None:
    """A question about heat needs a price, a pilot, or all that standing ready takes."""
    parts = (standing.standby_loss, standing.load_share)
    ready = standing.efficiency is not None and all(part is not None for part in parts)
    if price is not None or standing.pilot is not None or ready:
        return
    raise UseError(
        code="FW-U-234",
        read="neither a price nor a pilot, nor an efficiency with standing loss and share of time",
        expected="one of them",
        matters="there is nothing to work out",
        do="such as --price '1.50 USD/therm' --efficiency 90%",
    )


def need_periods(periods: Sequence[Period]) -> None:
    """A question about bills needs bills."""
    if periods:
        return
    raise UseError(
        code="FW-U-235",
        read="no metered period",
        expected="--table with a CSV file, or --before and --after with periods",
        matters="a year and a saving are only told by a meter",
        do="such as --before '31 d, 95 therm, 820 hdd' '28 d, 80 therm, 700 hdd'",
    )
