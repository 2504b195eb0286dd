"""Fuel bills against degree days: base load, fuel for each degree, and what was saved, each with its interval."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Literal

from fluewright.evidence import cost_price
from fluewright.evidence.cost_price import Price
from fluewright.evidence.part import Derived, Piece, Statement
from fluewright.evidence.reading import Account, Reading
from fluewright.evidence.reckon import Reckoning, refused
from fluewright.evidence.result import Result, Working
from fluewright.kernel import bill_fit, ops
from fluewright.kernel.bill_fit import Line

if TYPE_CHECKING:
    from fluewright.evidence.cost import Written

DAY = 86_400.0
YEAR = 365.25
"""Days in a year."""
LEAST = 4
"""Periods that a line needs: with three the interval is wider than the bill."""
WITHIN = 0.95

When = Literal["before", "after"]


@dataclass(frozen=True, slots=True)
class Period:
    """One metered period.

    days         how long, d
    use          heat in the fuel, gross, or its volume
    degree_days  K d
    when         before or after the work
    """

    days: float
    use: Reading
    degree_days: float
    when: When = "before"


@dataclass(frozen=True, slots=True)
class Bills:
    """Metered periods of one house.

    normal_degree_days  of a usual year, None to take the weather of the periods before
    """

    periods: tuple[Period, ...]
    normal_degree_days: Reading | None = None

    def of(self, when: When) -> tuple[Period, ...]:
        """The periods before or after."""
        return tuple(one for one in self.periods if one.when == when)


@dataclass(frozen=True, slots=True)
class Season:
    """What a line says of a usual year, J, with its variance and the freedom behind it."""

    heat: float
    variance: float
    freedom: int


def heat_of(use: Reading, price: Price | None, account: Account) -> float | None:
    """Heat in what was used, J gross; a volume by the heating value on the bill, else that of the fuel."""
    figure = use.figure
    if figure is None or use.quantity == "fuel_heat":
        return figure
    if price is not None and price.heating_value is not None and price.basis == "gross":
        billed = price.heating_value.figure
        return None if billed is None else figure * billed
    found = cost_price.heating_value_of(account, f"1/{use.typed.unit}")
    return None if found is None or found.value is None else figure * found.value


def line_of(periods: Sequence[Period], price: Price | None, account: Account) -> tuple[Line | None, str]:
    """The line through some periods, or why there is none."""
    uses = [heat_of(one.use, price, account) for one in periods]
    if any(use is None for use in uses):
        return None, f"{account.fuel.words} has no heating value for what was metered"
    if len(periods) < LEAST:
        return None, f"{len(periods)} metered periods; a line with an interval needs {LEAST}"
    cold = [one.degree_days / one.days for one in periods]
    if max(cold) - min(cold) < 0.05 * max(max(cold), 1e-9):
        return None, "all periods were equally cold, so what the weather takes cannot be told from the rest"
    rates = [(use or 0.0) / (one.days * DAY) for use, one in zip(uses, periods, strict=True)]
    return bill_fit.line_through_bills(
        degree_days_per_day=cold, heat_rate=rates, days=[one.days for one in periods]
    ), ""


def _quantile(freedom: int) -> float:
    return bill_fit.student_quantile(share=WITHIN, freedom=freedom)


def _interval(quantity: str, value: float, variance: float, freedom: int, formula: str, numbers: str) -> Result:
    """A fitted number whose ± is its 95 % interval: the printed ± is twice the spread."""
    spread = _quantile(freedom) * variance**0.5 / 2.0
    holds = f"± is the {WITHIN:.0%} interval of Student's t with {freedom} degrees of freedom".replace("%", " %")
    working = Working(
        formula,
        numbers,
        (),
        "weighted least squares; docs/method/cost.md",
        f"{holds}; errors that all periods share are not in it",
    )
    return Result(quantity, value, spread, spread, working, basis="gross")


def season_of(line: Line, *, days: float, degree_days: float) -> Season:
    """What a line says of a season."""
    heat = bill_fit.heat_over_season(base=line.base, slope=line.slope, days=days, degree_days=degree_days)
    variance = bill_fit.variance_over_season(
        base_variance=line.base_variance,
        slope_variance=line.slope_variance,
        covariance=line.covariance,
        days=days,
        degree_days=degree_days,
    )
    return Season(float(heat), float(variance), line.freedom)


def saved_between(before: Season, after: Season) -> Season:
    """What one season takes less than another, the fewer degrees of freedom behind it."""
    return Season(before.heat - after.heat, before.variance + after.variance, min(before.freedom, after.freedom))


def _weather(bills: Bills) -> tuple[float, str]:
    """Degree days of the year that everything is carried to, K d."""
    normal = bills.normal_degree_days
    if normal is not None and normal.figure is not None:
        return normal.figure, f"a usual year of {normal.typed.text}"
    periods = bills.of("before") or bills.periods
    mean = sum(one.degree_days for one in periods) / sum(one.days for one in periods)
    return mean * YEAR, "a year as cold as the periods before"


def write(bills: Bills, price: Price | None, account: Account, written: "Written") -> None:
    """Lines before and after, and what lies between them."""
    cold, words = _weather(bills)
    seasons: dict[When, Season] = {}
    whens: tuple[When, ...] = ("before", "after")
    for when in whens:
        periods = bills.of(when)
        if not periods and when == "after":
            continue
        line, why = line_of(periods, price, account)
        if line is None:
            written.results[f"base load {when}"] = refused("base_load", f"{when}: {why}")
            continue
        _of_line(line, when, len(periods), written)
        seasons[when] = season_of(line, days=YEAR, degree_days=cold)
        _of_season(seasons[when], when, words, written)
    if len(seasons) == 2:
        _of_saving(saved_between(seasons["before"], seasons["after"]), seasons["before"], words, written)
        _of_money(saved_between(seasons["before"], seasons["after"]), price, account, written)
    elif bills.of("after"):
        written.cannot_tell.append("What was saved: periods before or after are too few or too alike for a line.")


def _of_line(line: Line, when: When, count: int, written: "Written") -> None:
    told = f"{count} periods, each weighed by its days"
    formula = "use per day = base load + fuel for each degree x degree days per day, least squares"
    base, slope = float(line.base), float(line.slope)
    written.results[f"base load {when}"] = _interval(
        "base_load", base, float(line.base_variance), line.freedom, formula, f"{told}: {base:.4g} W at no cold"
    )
    written.results[f"per degree {when}"] = _interval(
        "fuel_per_degree", slope, float(line.slope_variance), line.freedom, formula, f"{told}: {slope:.4g} W/K"
    )
    pieces: list[Piece] = [f"{when}, {count} metered periods: whatever the weather ", Derived(f"base load {when}")]
    pieces += [", for each degree of cold ", Derived(f"per degree {when}"), "."]
    written.statements.append(Statement(tuple(pieces), mark="derived"))
    if slope <= 0.0:
        written.cannot_tell.append(f"What the weather takes {when}: use does not rise with cold in these bills.")
    elif base + _quantile(line.freedom) * float(line.base_variance) ** 0.5 < 0.0:
        written.cannot_tell.append(
            f"The base load {when}: the line goes below zero; the degree days may be counted from too warm a base."
        )


def _of_season(season: Season, when: When, words: str, written: "Written") -> None:
    written.results[f"year {when}"] = _interval(
        "fuel_heat",
        season.heat,
        season.variance,
        season.freedom,
        "heat in the fuel = base load x days + fuel for each degree x degree days",
        f"{words}: {season.heat / 3.6e6:.6g} kWh",
    )
    written.statements.append(
        Statement((f"carried to {words}, the house takes ", Derived(f"year {when}"), f" {when}."), mark="derived")
    )


def _of_saving(saved: Season, before: Season, words: str, written: "Written") -> None:
    written.results["saved"] = _interval(
        "fuel_heat_saved",
        saved.heat,
        saved.variance,
        saved.freedom,
        "saved = year before - year after, both in the same weather",
        f"{words}: {saved.heat / 3.6e6:.6g} kWh, {saved.heat / before.heat:.1%} of before".replace("%", " %"),
    )
    half = _quantile(saved.freedom) * saved.variance**0.5
    if abs(saved.heat) <= half:
        tail = ": that may be nothing at all."
        written.cannot_tell.append(
            "Whether anything was saved: nothing lies within the interval of what the bills say."
        )
    else:
        tail = "." if saved.heat > 0.0 else ": it takes more than before."
    written.statements.append(
        Statement(("by meter and degree days the saving in such a year is ", Derived("saved"), tail), mark="derived")
    )


def _of_money(saved: Season, price: Price | None, account: Account, written: "Written") -> None:
    """The saving in money, only from what was metered."""
    if price is None:
        return
    per_heat, source = cost_price.per_heat(price, account, Reckoning(account))
    if per_heat is None:
        written.results["money saved"] = refused("money", source)
        return
    rate = float(ops.value_of(per_heat))
    written.results["money saved"] = _interval(
        "money",
        saved.heat * rate,
        saved.variance * rate * rate,
        saved.freedom,
        "money saved = heat saved x price of the heat in the fuel",
        f"{saved.heat / 3.6e6:.6g} kWh x {rate * 3.6e6:.5g} per kWh, {source}",
    )
    pieces = ("at that price it is worth ", Derived("money saved"), " ", cost_price.voiced(price), " a year.")
    written.statements.append(Statement(pieces, mark="derived"))
