"""Cost and emissions: what may be said of money, what the bills show, when the law asks again."""

import datetime
from dataclasses import replace

import pytest

from fluewright import clock
from fluewright.cli.main import main
from fluewright.evidence import cost_bills
from fluewright.evidence.cost import CostAndEmissions
from fluewright.evidence.cost_bills import Bills, Period
from fluewright.evidence.cost_duties import DutyAsked
from fluewright.evidence.cost_price import Price
from fluewright.evidence.part import Part
from fluewright.evidence.reading import Reading
from fluewright.fuels import load
from fluewright.quantity import parse
from fluewright.rules import duties
from fluewright.visit import cost_typed, one_part
from fluewright.visit.work import Verdict

THERM = 1e5 * 1055.05585262
MMBTU = 10.0 * THERM


def read(quantity: str, text: str) -> Reading:
    """A typed reading."""
    return Reading(quantity, parse.parse(text, quantity=quantity))


def judged(asked: CostAndEmissions, fuel: str = "natural-gas") -> Verdict:
    """The part alone."""
    return one_part.answered((asked,), fuel=load.load(fuel))


def part_of(asked: CostAndEmissions, fuel: str = "natural-gas") -> Part:
    (part,) = judged(asked, fuel).parts
    return part


def value(part: Part, key: str) -> float:
    found = part.results[key].value
    assert found is not None
    return found


def months(share: float, when: str = "before", scatter: float = 0.0) -> tuple[Period, ...]:
    """A year of months: 20 therm whatever the weather and 0.2 for each K d, the second part times a share."""
    cold = (600, 520, 420, 250, 110, 20, 0, 0, 60, 230, 400, 560)
    ways = (1.0, -1.0, 1.0, 1.0, -1.0, -1.0)
    return tuple(
        Period(30.0, read("fuel_heat", f"{20 + 0.2 * share * c + scatter * ways[i % 6]:.4f} therm"), float(c), when)  # type: ignore[arg-type]
        for i, c in enumerate(cold)
    )


def price(text: str, **more: str) -> Price:
    """A typed price with efficiencies."""
    efficiencies = {name: read("efficiency_stated", one) for name, one in more.items()}
    return Price(*cost_typed.price_of(text), **efficiencies)  # type: ignore[arg-type]


def test_heat_delivered_from_therms_and_from_gallons() -> None:
    # 1.50 a therm at 90 %: 16.67 a million Btu; oil of 138,000 Btu/gal at 4.00, 85 %: 34.10 (checks UNIT-2, UNIT-3)
    part = part_of(CostAndEmissions(False, price("1.50 USD/therm", efficiency="90 %")))
    assert value(part, "delivered price") * MMBTU == pytest.approx(16.667, abs=0.01)
    oil = part_of(CostAndEmissions(False, price("$4.00/gal", efficiency="85 %")), "oil-no-2")
    assert value(oil, "delivered price") * MMBTU == pytest.approx(34.10, rel=0.01)


def test_a_net_efficiency_is_carried_to_gross_before_it_divides() -> None:
    gross = price("0.10 EUR/kWh", efficiency="95 %")
    net = replace(gross, efficiency_basis="net")
    both = [value(part_of(CostAndEmissions(False, one)), "delivered price") for one in (net, gross)]
    assert both[0] / both[1] == pytest.approx(1.109, abs=0.002)


def test_two_efficiencies_save_a_share_and_no_money() -> None:
    part = part_of(CostAndEmissions(False, price("1.20 USD/therm", efficiency="70 %", efficiency_after="95 %")))
    assert value(part, "share saved") == pytest.approx(0.2632, abs=0.0001)
    assert "money saved" not in part.results
    assert any("metered periods" in words for words in part.cannot_tell)


def test_a_price_that_the_fuel_is_not_sold_by_is_refused() -> None:
    part = part_of(CostAndEmissions(False, price("300 EUR/L")), "wood-pellets")
    assert "heating value" in part.results["fuel price"].refused


def test_exact_bills_give_back_the_house() -> None:
    bills = Bills((*months(1.0), *months(0.8, "after")), read("degree_days", "3170 K·d"))
    part = part_of(CostAndEmissions(False, price("1.20 USD/therm"), None, bills))
    assert value(part, "base load before") == pytest.approx(20 * THERM / (30 * 86400), rel=1e-4)
    assert value(part, "per degree before") == pytest.approx(0.2 * THERM / 86400, rel=1e-4)
    assert value(part, "saved") == pytest.approx(0.04 * 3170 * THERM, rel=1e-3)
    assert value(part, "money saved") == pytest.approx(0.04 * 3170 * 1.20, rel=1e-3)


def test_a_saving_within_its_interval_may_be_nothing() -> None:
    bills = Bills((*months(1.0, scatter=9.0), *months(0.98, "after", scatter=9.0)))
    part = part_of(CostAndEmissions(False, None, None, bills))
    assert any("nothing lies within" in words for words in part.cannot_tell)


@pytest.mark.parametrize("kept", [slice(0, 3), slice(6, 8)])
def test_too_few_or_too_alike_periods_give_no_line(kept: slice) -> None:
    periods = months(1.0)[kept] * (2 if kept.start else 1)
    part = part_of(CostAndEmissions(False, None, None, Bills(periods)))
    assert part.results["base load before"].refused


def test_volumes_are_burned_with_the_heat_of_the_fuel() -> None:
    one = Period(30.0, cost_typed.use_of("100 ccf", system="us"), 300.0)
    account = judged(CostAndEmissions()).account
    heat = cost_bills.heat_of(one.use, None, account)
    assert heat == pytest.approx(10_000 * 1036 * 1055.06, rel=0.01)


def test_published_carbon_stands_beside_ours_on_its_own_basis() -> None:
    part = part_of(CostAndEmissions())
    ratio = value(part, "own carbon factor, net") / value(part, "own carbon factor")
    assert ratio == pytest.approx(1.109, abs=0.002)
    published = [result for key, result in part.results.items() if key.startswith("published")]
    assert {result.name for result in published} == {"carbon_factor", "carbon_factor_net"}
    assert any("tenth" in str(piece) for line in part.statements for piece in line.pieces)


def test_a_duty_gone_by_is_told_and_one_to_come_is_not() -> None:
    duty = duties.duty("us-major-tune-up-biennial")
    today = clock.now().date()
    late = judged(CostAndEmissions(False, duties=(DutyAsked(duty, duties.months_later(today, -30)),)))
    assert [finding.code for finding in late.judged.findings] == ["duty-overdue"]
    assert not judged(CostAndEmissions(False, duties=(DutyAsked(duty, today),))).judged.findings


def test_a_duty_that_does_not_speak_of_this_system_says_so() -> None:
    part = part_of(CostAndEmissions(False, duties=(DutyAsked(duties.duty("de-60b"), datetime.date(2001, 1, 1)),)))
    assert "does not speak" in str(part.statements[0].pieces[0])
    assert not part.data.get("duties")


def test_a_duty_says_plainly_that_gas_boilers_are_left_out(capsys: pytest.CaptureFixture[str]) -> None:
    """40 CFR 63 subpart JJJJJJ: gas-fired boilers are exempt."""
    duty = ["cost", "duty", "us-area-tune-up-biennial", "--day", "2026-01-10"]
    said = {}
    for fuel in ("natural-gas", "oil-no-2", ""):
        assert main([*duty, *(["--fuel", fuel] if fuel else [])]) == 0
        said[fuel] = " ".join(capsys.readouterr().out.replace("│", " ").split())
    assert (
        "does not speak of this appliance: 40 CFR 63 subpart JJJJJJ leaves out boilers that burn gas"
        in (said["natural-gas"])
    )
    assert "due by" not in said["natural-gas"]
    assert "due by" in said["oil-no-2"]
    assert "leaves out" not in said["oil-no-2"]
    assert "Nobody said whether it burns gas: a boiler that does is exempt." in said[""]
