"""The margin of the year: computed cases of practice P8 and P9, signs of the seasons, a set point that holds them."""

import json
from typing import Any

import pytest

from fluewright.cli.main import main
from fluewright.fuels import load
from fluewright.tune import margin
from fluewright.tune.margin import Day, Mechanism, Setting, Year

C = 273.15
METHANE, OIL, GAS = load.load("methane"), load.load("oil-no-2"), load.load("natural-gas")


def later(mechanism: Mechanism, tuned: float, then: float, oxygen: float = 0.03) -> float:
    """Air ratio of methane on another day, tuned at an oxygen; Celsius."""
    setting = Setting(mechanism, Day("today", tuned + C), METHANE)
    now = margin.air_ratio_of(setting, oxygen)
    return float(now * margin.swing(setting, Day("later", then + C)))


@pytest.mark.parametrize(
    ("mechanism", "tuned", "then", "expected"),
    [
        ("fan", -10, 35, 0.9817), ("fan", 0, 30, 1.0359), ("fan", 20, 35, 1.0937), ("fan", 35, -10, 1.3462),
        ("fan", 20, -20, 1.3313), ("one differential", -10, 35, 1.0624), ("one differential", 0, 30, 1.0913),
        ("one differential", 20, 35, 1.1213), ("one differential", 35, -10, 1.2440),
        ("one differential", 20, -20, 1.2371),
    ],
)  # fmt: skip
def test_another_day_as_practice_computed_it(mechanism: Mechanism, tuned: float, then: float, expected: float) -> None:
    assert later(mechanism, tuned, then) == pytest.approx(expected, abs=0.003)  # RED-AIR


@pytest.mark.parametrize(("change", "expected"), [(-0.08, 1.3043), (-0.05, 1.2632), (0.05, 1.1429), (0.08, 1.1111)])
def test_another_wobbe_index_as_practice_computed_it(change: float, expected: float) -> None:
    setting = Setting("fan", Day("today", 20 + C), METHANE)
    start = float(margin.oxygen_of(setting, 1.20))
    found = margin.over_the_year(setting, Year((), wobbe=(min(0.0, change), max(0.0, change))), oxygen=start)
    corner = found.worst if change > 0.0 else found.leanest
    assert float(corner.air_ratio) == pytest.approx(expected, abs=0.002)  # RED-WOB


def test_hydrogen_in_the_gas_makes_it_leaner() -> None:
    setting = Setting("fan", Day("today", 20 + C), METHANE)
    mixed = _mixed()
    found = margin.over_the_year(setting, Year((), gases=(mixed,)), oxygen=float(margin.oxygen_of(setting, 1.20)))
    assert float(found.leanest.air_ratio) == pytest.approx(1.282, abs=0.003)  # RED-H2-20
    assert mixed.words in found.leanest.words


def _mixed() -> Any:
    from fluewright.visit import fuel_of

    return fuel_of.chosen(name="methane 80 + hydrogen 20", inline=None, file=None)


def test_a_fan_tuned_in_the_cold_warns_of_the_heat_and_not_the_other_way() -> None:
    cold = Setting("fan", Day("today", -5 + C), GAS)
    hot = Setting("fan", Day("today", 35 + C), GAS)
    year = Year((Day("cold", -15 + C), Day("hot", 35 + C)))
    assert margin.over_the_year(cold, year, oxygen=0.04).worst.words == "hot"
    assert margin.over_the_year(hot, year, oxygen=0.04).worst.words in ("today", "hot")
    assert float(margin.over_the_year(hot, year, oxygen=0.04).worst.air_ratio) == pytest.approx(
        float(margin.air_ratio_of(hot, 0.04))
    )


@pytest.mark.parametrize("mechanism", ["fan", "one differential", "natural draft", "draft held", "oil indoors"])
def test_warm_air_is_the_dangerous_end_of_all_but_oil_outdoors(mechanism: Mechanism) -> None:
    fuel = OIL if mechanism.startswith("oil") else GAS
    setting = Setting(mechanism, Day("today", 10 + C, outdoors=0 + C, oil=15 + C), fuel, chimney=110 + C)
    year = Year((Day("cold", 5 + C, outdoors=-15 + C, oil=15 + C), Day("hot", 30 + C, outdoors=28 + C, oil=15 + C)))
    found = margin.over_the_year(setting, year, oxygen=0.06)
    assert (found.worst.words, found.leanest.words) == ("hot", "cold")


def test_oil_from_an_outdoor_tank_is_the_other_way_round() -> None:
    setting = Setting("oil outdoors", Day("today", 20 + C, oil=25 + C), OIL)
    year = Year((Day("cold", 18 + C, oil=-10 + C), Day("hot", 28 + C, oil=32 + C)))
    found = margin.over_the_year(setting, year, oxygen=0.05)
    assert (found.worst.words, found.leanest.words) == ("cold", "hot")
    assert found.costs[0][0] == "cold oil"


def test_a_natural_draft_is_weakest_on_a_mild_day() -> None:
    setting = Setting("natural draft", Day("today", 20 + C, outdoors=-10 + C), GAS, chimney=120 + C)
    year = Year((Day("mild", 20 + C, outdoors=20 + C),))
    assert margin.over_the_year(setting, year, oxygen=0.08).worst.words == "mild"
    held = Setting("draft held", Day("today", 20 + C, outdoors=-10 + C), GAS, chimney=120 + C)
    assert margin.over_the_year(held, year, oxygen=0.08).costs == ()


def test_one_differential_does_not_feel_the_barometer() -> None:
    year = Year((), barometer=(97_000.0, 104_000.0))
    one = margin.over_the_year(Setting("one differential", Day("today", 20 + C), GAS), year, oxygen=0.04)
    fan = margin.over_the_year(Setting("fan", Day("today", 20 + C), GAS), year, oxygen=0.04)
    oil = margin.over_the_year(Setting("oil indoors", Day("today", 20 + C), OIL), year, oxygen=0.04)
    assert float(one.worst.swing) == 1.0
    assert float(oil.worst.swing) < float(fan.worst.swing) < 1.0
    assert fan.worst.words == "today, low barometer"


def test_the_set_point_leaves_the_least_at_the_worst_corner() -> None:
    setting = Setting("fan", Day("today", -5 + C), GAS)
    year = Year((Day("cold", -20 + C), Day("hot", 35 + C)), (97_500.0, 104_000.0), (-0.05, 0.05), 0.003)
    to_set = float(margin.set_point(setting, year, least=0.018))
    worst = margin.over_the_year(setting, year, oxygen=to_set).worst
    assert worst.oxygen is not None
    assert float(worst.oxygen) == pytest.approx(0.018, abs=1e-6)
    assert margin.set_point(setting, Year(()), least=0.018) == pytest.approx(0.018)


def asked(capsys: pytest.CaptureFixture[str], *words: str) -> dict[str, Any]:
    main(["tune", "margin", *words, "--json"])
    answer: dict[str, Any] = json.loads(capsys.readouterr().out)
    return answer


FAN = ("--mechanism", "fan", "--fuel", "methane", "--air", "-10C", "--hot-air", "35C")


def test_a_cold_tune_that_goes_rich_in_the_heat_is_not_left_so(capsys: pytest.CaptureFixture[str]) -> None:
    answer = asked(capsys, *FAN, "--o2", "3%")
    (found,) = answer["findings"]
    assert (found["code"], found["grade"]) == ("short-in-the-year", "act")
    assert "a flame set on a cold day runs short of air in the heat" in found["body"]
    assert answer["parts"][0]["corners"]["worst"]["air_ratio"] == pytest.approx(0.9817, abs=0.003)
    assert answer["parts"][0]["corners"]["worst"]["oxygen_dry"] is None


def test_the_same_with_enough_air_is_no_finding_and_never_fine(capsys: pytest.CaptureFixture[str]) -> None:
    answer = asked(capsys, *FAN, "--o2", "7%", "--least", "2%")
    assert answer["findings"] == []
    assert answer["parts"][0]["results"]["worst"]["value"] > 2.0


def test_a_year_that_no_setting_serves_is_said(capsys: pytest.CaptureFixture[str]) -> None:
    answer = asked(capsys, *FAN, "--o2", "9%", "--least", "4%", "--burner", "power gas burner")
    assert [finding["code"] for finding in answer["findings"]] == ["year-asks-for-more"]
    assert answer["parts"][0]["results"]["to_set"]["value"] > 6.0


def test_what_nobody_wrote_is_told(capsys: pytest.CaptureFixture[str]) -> None:
    words = " ".join(asked(capsys, "--mechanism", "fan", "--fuel", "methane", "--air", "60F")["cannot_tell"])
    for missing in ("no oxygen was read", "no curve shows", "barometer", "richer gas", "linkage"):
        assert missing in words


def test_an_outdoor_tank_without_its_oil_is_asked_about(capsys: pytest.CaptureFixture[str]) -> None:
    words = ("--mechanism", "oil outdoors", "--fuel", "oil-no-2", "--air", "60F", "--o2", "5%")
    codes = [finding["code"] for finding in asked(capsys, *words)["findings"]]
    assert codes == ["outdoor-oil-not-read"]
