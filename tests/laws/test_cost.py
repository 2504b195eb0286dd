"""Price, savings, bills and due dates: round trips, Student's t, intervals that cover, days that count."""

import datetime
import math
import random

import numpy as np
from hypothesis import given
from hypothesis import strategies as st
from pytest import approx, mark, raises

from fluewright.evidence import cost_bills
from fluewright.fuels import factors, load
from fluewright.fuels.figures import figures
from fluewright.fuels.reference import Reference
from fluewright.kernel import bill_fit, cost
from fluewright.rules import duties

EFFICIENCY = st.floats(0.3, 1.0)
SOME = st.floats(0.1, 1e4)
DAYS = st.dates(datetime.date(1990, 1, 1), datetime.date(2060, 12, 31))


@given(EFFICIENCY, EFFICIENCY, SOME)
def test_the_share_saved_is_that_of_the_fuel_for_the_same_heat(before: float, after: float, heat: float) -> None:
    saved = cost.share_saved(efficiency_before=before, efficiency_after=after)
    assert (1.0 - saved) * heat / before == approx(heat / after)
    assert (saved > 0.0) == (after > before)


@given(EFFICIENCY, st.floats(0.01, 0.5))
def test_the_difference_of_two_efficiencies_is_too_small(before: float, gain: float) -> None:
    after = min(1.0, before + gain)
    assert cost.share_saved(efficiency_before=before, efficiency_after=after) >= (after - before) - 1e-12


@given(SOME, EFFICIENCY)
def test_price_of_heat_falls_as_efficiency_rises(price: float, efficiency: float) -> None:
    delivered = cost.price_of_delivered_heat(fuel_price=price, efficiency=efficiency)
    assert delivered >= price
    assert delivered * efficiency == approx(price)


@given(SOME, SOME, SOME, EFFICIENCY)
def test_degree_days_in_both_systems_are_one_fuel(cold: float, loss: float, use: float, efficiency: float) -> None:
    # F = 24 HDD UA / e in Btu and °F, Q = 24 HDD H / e in kWh and K
    btu = 24.0 * (cold * 1.8) * (loss / 0.527527926) / efficiency  # 1 Btu/(h °F) is 0.5275279 W/K
    joule = cost.fuel_heat_from_degree_days(
        degree_days=cold, heat_loss_rate=loss, efficiency=efficiency, degree_day_correction=1.0
    )
    assert joule / 1055.05585262 == approx(btu, rel=1e-6)


@given(SOME, st.floats(0.0, 1.0), SOME, SOME)
def test_weather_there_and_back(use: float, share: float, cold: float, colder: float) -> None:
    base = use * share
    there = cost.use_in_other_weather(fuel_heat=use, base_heat=base, degree_days=cold, new_degree_days=colder)
    back = cost.use_in_other_weather(fuel_heat=there, base_heat=base, degree_days=colder, new_degree_days=cold)
    assert back == approx(use)


@given(EFFICIENCY, st.floats(0.0, 0.1), st.floats(0.01, 1.0))
def test_standing_by_never_helps(efficiency: float, loss: float, share: float) -> None:
    kept = cost.efficiency_with_standby(efficiency=efficiency, standby_loss=loss, load_share=share)
    assert kept <= efficiency + 1e-12
    assert cost.efficiency_with_standby(efficiency=efficiency, standby_loss=loss, load_share=1.0) == approx(efficiency)


PERIODS = st.lists(st.tuples(st.floats(0.0, 40.0), st.floats(0.0, 2e4), st.floats(5.0, 100.0)), min_size=4, max_size=30)


@given(PERIODS)
def test_the_line_is_that_of_numpy(rows: list[tuple[float, float, float]]) -> None:
    x, y, w = (list(column) for column in zip(*rows, strict=True))
    if max(x) - min(x) < 1.0:
        return
    line = bill_fit.line_through_bills(degree_days_per_day=x, heat_rate=y, days=w)
    fitted, spread = np.polyfit(x, y, 1, w=np.sqrt(w), cov=True)
    scale = max(max(y), 1.0)
    assert [line.slope, line.base] == approx(list(fitted), abs=1e-6 * scale)
    found = [line.slope_variance, line.covariance, line.base_variance]
    assert found == approx([spread[0, 0], spread[0, 1], spread[1, 1]], rel=1e-5, abs=1e-6 * scale**2)


@mark.parametrize("freedom", [1, 2, 3, 4, 7, 12, 30, 61])
def test_students_t_is_the_integral_of_its_density(freedom: int) -> None:
    # the density itself (Abramowitz and Stegun 26.7.1), summed by Simpson's rule
    density = math.gamma((freedom + 1) / 2) / math.gamma(freedom / 2) / math.sqrt(freedom * math.pi)
    grid = np.linspace(0.0, 2.5, 20_001)
    values = density * (1.0 + grid**2 / freedom) ** (-(freedom + 1) / 2)
    weights = np.ones_like(grid)
    weights[1:-1:2], weights[2:-1:2] = 4.0, 2.0
    integral = 2.0 * float(weights @ values) * (grid[1] - grid[0]) / 3.0
    assert bill_fit.student_share_within(quantile=2.5, freedom=freedom) == approx(integral, abs=1e-9)


@given(st.integers(1, 200), st.floats(0.01, 0.995))
def test_the_quantile_is_the_inverse(freedom: int, share: float) -> None:
    quantile = bill_fit.student_quantile(share=share, freedom=freedom)
    assert bill_fit.student_share_within(quantile=quantile, freedom=freedom) == approx(share, abs=1e-9)


def test_t_without_freedom_is_refused() -> None:
    with raises(ValueError, match="freedom"):
        bill_fit.student_share_within(quantile=1.0, freedom=0)


def test_the_interval_of_a_saving_covers_the_truth_nine_times_in_ten() -> None:
    # practice F33: 200 invented houses, each with a year before and one after; the truth is known
    chance = random.Random(7)
    covered = 0
    for _ in range(200):
        base, slope, less = chance.uniform(300, 2000), chance.uniform(80, 400), chance.uniform(0.6, 1.0)
        seasons = []
        for share in (1.0, less):
            cold = [max(0.0, 10.0 + 9.0 * math.cos(month / 6 * math.pi) + chance.gauss(0, 1)) for month in range(12)]
            rate = [base + share * slope * x + chance.gauss(0, 150) for x in cold]
            line = bill_fit.line_through_bills(degree_days_per_day=cold, heat_rate=rate, days=[30.0] * 12)
            seasons.append(cost_bills.season_of(line, days=365.25, degree_days=3500.0))
        saved = cost_bills.saved_between(*seasons)
        half = bill_fit.student_quantile(share=0.95, freedom=saved.freedom) * saved.variance**0.5
        covered += abs(saved.heat - 86_400.0 * (1.0 - less) * slope * 3500.0) <= half
    assert covered >= 180


@given(DAYS)
def test_fifteen_years_and_one_more_end_the_day_before(installed: datetime.date) -> None:
    due = duties.last_day(duties.duty("de-60b"), installed)
    assert (due + datetime.timedelta(days=1)).year - installed.year == 16
    assert 0 <= (due - installed).days - 16 * 365 <= 5


@given(DAYS, st.integers(1, 100))
def test_months_later_is_in_the_month_that_many_later(day: datetime.date, months: int) -> None:
    later = duties.months_later(day, months)
    assert (later.year - day.year) * 12 + later.month - day.month == months
    assert later.day <= day.day


@mark.parametrize(
    ("duty", "day", "due"),
    [
        ("us-area-tune-up-biennial", "2024-01-31", "2026-02-28"),
        ("us-area-after-restart", "2026-01-15", "2026-02-14"),
        ("us-area-certify", "2026-03-01", "2026-03-01"),
        ("us-area-certify", "2026-03-02", "2027-03-01"),
        ("de-60b", "2012-05-25", "2028-05-24"),
        ("de-60b-older", "1998-01-01", "2027-09-30"),
        ("de-flue-test-new", "2024-05-10", "2027-12-31"),
        ("de-flue-test-first", "2026-01-01", "2026-01-29"),
        ("gb-tenant-copy", "2026-02-01", "2026-03-01"),
    ],
)
def test_days_that_count(duty: str, day: str, due: str) -> None:
    # 28 February: the shorter month; 24 May 2028: worked example of haufe.de on GEG 60b
    assert duties.last_day(duties.duty(duty), datetime.date.fromisoformat(day)).isoformat() == due


@mark.parametrize("fuel", ["natural-gas", "oil-no-2", "kerosene", "oil-no-1", "propane", "heating-oil-light"])
def test_published_carbon_is_near_that_of_the_fuel_on_its_own_basis(fuel: str) -> None:
    # element balance against 40 CFR 98, EIA, SEAI, IPCC: within 5 %, each on its own basis
    record = load.load(fuel)
    ours = figures(record, reference=Reference("15", "15"))["carbon_factor"].value
    assert ours is not None
    per_net = float(record.fuel.heating_value_gross) / float(record.fuel.heating_value_net)
    published = [one for one in factors.per_heat() if fuel in one.fuels and one.gas == "CO2"]
    assert published
    for one in published:
        assert one.value == approx(ours * (per_net if one.basis == "net" else 1.0), rel=0.05), one.document
