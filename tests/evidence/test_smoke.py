"""Smoke on paper: what clears, what may only warn, oil on a paper, and the knee of a curve."""

from typing import Any

import pytest
from oil_visits import codes, part, value

from fluewright.evidence.reading import Appliance


def test_the_mean_of_three_papers_is_rounded_as_the_law_says() -> None:
    for typed, grade in (("1, 1, 2", "open"), ("1, 2, 2", "advise"), (["1", "1", "1"], "open"), ("0, 0, 0", "fine")):
        found = part("smoke", {"papers": typed}, jurisdiction="DE")
        assert codes(found)["de-1bimschv-soot-atomising"].grade == grade, typed
    bare = codes(part("smoke", {"papers": "1, 1, 2"}, jurisdiction="DE"))["de-1bimschv-soot-atomising"]
    assert "inside 1 by the bare result, as the rule compares it, but too close to be sure" in bare.lead
    assert value(part("smoke", {"papers": "1, 1, 2"}), "smoke_spot") == pytest.approx(4.0 / 3.0)


@pytest.mark.parametrize(
    ("more", "code"),
    [
        ({"papers": "0"}, None),
        ({"papers": "0, 0"}, None),
        ({"papers": "0, 0, 0", "wet": True}, "papers-spoilt"),
        ({"papers": "0, 0, 0", "uneven": True}, "papers-spoilt"),
        ({"papers": "0, 0, 0", "since_lit": "1 min"}, "smoke-too-soon"),
        ({"papers": "0, 0, 0", "water": "45 C"}, "smoke-boiler-cold"),
        ({"papers": "0, 0, 0", "colour": "yellow"}, "oily-spot"),
    ],
)
def test_papers_that_clear_nothing(more: dict[str, Any], code: str | None) -> None:
    found = part("smoke", more, jurisdiction="DE")
    assert codes(found)["de-1bimschv-soot-atomising"].grade == "open"
    assert code is None or code in codes(found)
    assert codes(part("smoke", {"papers": "0, 0, 0"}, jurisdiction="DE"))["de-1bimschv-soot-atomising"].grade == "fine"


def test_spoilt_papers_still_warn() -> None:
    found = part("smoke", {"papers": "5", "wet": True, "since_lit": "1 min"}, jurisdiction="DE")
    assert codes(found)["de-1bimschv-soot-atomising"].grade == "advise"


def test_oil_on_a_paper_stops_the_work_whatever_its_number() -> None:
    for colour in ("oily", "yellow"):
        found = codes(part("smoke", {"papers": "0, 0, 0", "colour": colour}))["oily-spot"]
        assert found.grade == "act"
        assert found.cautions
        assert found.do_now[0] == "stop the burner"
    assert codes(part("smoke", {"colour": "oily"}, jurisdiction="DE"))["oily-spot"].clause.known == "read"
    assert "oily-spot" not in codes(part("smoke", {"papers": "1, 1, 1", "colour": "grey"}))


def test_a_floor_of_smoke_alarms_and_a_ceiling_clears_nothing_above_the_limit() -> None:
    assert (
        codes(part("smoke", {"papers": "1, 2, >8"}, jurisdiction="DE"))["de-1bimschv-soot-atomising"].grade == "advise"
    )
    ceiling = codes(part("smoke", {"papers": "<2, <2, <2"}, jurisdiction="DE"))
    assert ceiling["de-1bimschv-soot-atomising"].grade == "open"


def test_what_the_trade_expects_of_a_head() -> None:
    assert (
        codes(part("smoke", {"papers": "2, 2, 2", "head": "retention"}))["practice-smoke-retention-head"].grade
        == "advise"
    )
    older = codes(part("smoke", {"papers": "1, 1, 1", "head": "older"}))
    assert older["practice-smoke-older-head"].grade == "open"
    assert "practice-smoke-advise" not in older


@pytest.mark.parametrize(
    ("burner", "output", "table", "row", "grade"),
    [
        ("oil pressure jet", None, {"built": 1986, "changed": False}, "de-1bimschv-soot-atomising-old", "open"),
        ("oil pressure jet", None, {"built": 1986, "changed": True}, "de-1bimschv-soot-atomising", "advise"),
        ("oil pressure jet", None, {"built": 1986}, "de-1bimschv-soot-atomising", "advise"),
        ("oil pressure jet", None, {"built": 1988, "changed": False}, "de-1bimschv-soot-atomising", "advise"),
        ("oil vaporising", 9e3, {"built": 1990, "changed": False}, "de-1bimschv-soot-vaporising-old", "fine"),
        ("oil vaporising", 12e3, {"built": 1990, "changed": False}, "de-1bimschv-soot-vaporising", "open"),
    ],
)
def test_an_old_burner_keeps_its_limit_only_when_all_of_it_is_known(
    burner: str, output: float | None, table: dict[str, Any], row: str, grade: str
) -> None:
    appliance = Appliance("stove", burner=burner, output=output)
    found = codes(part("smoke", {"papers": "2, 2, 2", **table}, jurisdiction="DE", appliance=appliance))
    assert found[row].grade == grade


@pytest.mark.parametrize(("output", "law"), [(9e5, "1 44"), (2e6, "44"), (2e5, "1")])
def test_smoke_of_a_large_plant_is_asked_by_its_own_law(output: float, law: str) -> None:
    appliance = Appliance("boiler", burner="oil pressure jet", output=output)
    found = codes(part("smoke", {"papers": "2, 2, 2"}, jurisdiction="DE", appliance=appliance))
    asked = {key: one for key, one in found.items() if "bimschv-soot" in key}
    assert {one.grade for one in asked.values()} == {"advise"}
    assert {key.split("bimschv")[0].removeprefix("de-") for key in asked} == set(law.split())


def test_light_through_a_spot_gives_a_number_and_judges_nothing() -> None:
    found = part("smoke", {"transmission": "80 %", "reflectance": "70 %"})
    assert value(found, "spot_by_transmission") == pytest.approx(4.0)
    assert value(found, "spot_by_reflectance") == pytest.approx(3.0)
    assert not found.findings
    assert any("three papers by eye" in words for words in found.cannot_tell)


CURVE = [("10.0 %", "0"), ("10.8 %", "0, 0"), ("11.3 %", "0"), ("11.8 %", "0.5"), ("12.2 %", "2"), ("12.6 %", "3")]


def curve(by: str = "co2", points: list[tuple[str, str]] | None = None) -> dict[str, Any]:
    """A table with a curve."""
    return {"point": [{by: air, "papers": spots} for air, spots in (CURVE if points is None else points)]}


def test_a_knee_is_an_interval_and_the_air_is_set_below_its_near_end() -> None:
    found = part("smoke", curve())
    knee, target = found.results["knee"], found.results["air_to_set"]
    assert knee.low is not None
    assert knee.high is not None
    assert knee.low < 0.118 < knee.high
    assert knee.value == knee.low
    assert target.high == pytest.approx(knee.low - 0.005)
    assert target.low == pytest.approx(knee.low - 0.010)


def test_three_points_have_no_knee_and_no_air_is_named() -> None:
    found = part("smoke", curve(points=CURVE[-3:]))
    assert codes(found)["no-knee"].grade == "open"
    assert not found.results


def test_a_flame_left_past_its_knee_is_told() -> None:
    left = {"stack": "400 F", "air": "70 F"}
    assert codes(part("smoke", curve(), co2="12.0 %", **left))["set-past-knee"].grade == "advise"
    assert "set-past-knee" not in codes(part("smoke", curve(), co2="10.0 %", **left))
    by_oxygen = [("7 %", "0"), ("6.2 %", "0"), ("5.6 %", "0"), ("5 %", "1"), ("4.5 %", "2.5"), ("4 %", "4")]
    oxygen = curve("o2", by_oxygen)
    assert "set-past-knee" in codes(part("smoke", oxygen, o2="4 %", **left))
    assert "set-past-knee" not in codes(part("smoke", oxygen, o2="8 %", **left))


def test_papers_that_the_light_contradicts_are_told_and_clear_nothing() -> None:
    dark = part("smoke", {"papers": "0, 0, 0", "reflectance": "60 %"}, jurisdiction="DE")
    assert codes(dark)["papers-and-light-apart"].grade == "advise"
    assert codes(dark)["de-1bimschv-soot-atomising"].grade == "open"
    pale = part("smoke", {"papers": "5, 5, 5", "transmission": "95 %"}, jurisdiction="DE")
    assert codes(pale)["papers-and-light-apart"].grade == "open"
    assert codes(pale)["de-1bimschv-soot-atomising"].grade == "advise"
    near = part("smoke", {"papers": "1, 1, 1", "reflectance": "92 %"}, jurisdiction="DE")
    assert "papers-and-light-apart" not in codes(near)
    assert codes(near)["de-1bimschv-soot-atomising"].grade == "open"


def test_the_scale_ends_at_nine() -> None:
    for light in ("0 %", "5 %"):
        black = part("smoke", {"reflectance": light}).results["spot_by_reflectance"]
        assert (black.value, black.bound) == (9.0, "at least")
    assert value(part("smoke", {"reflectance": "10 %"}), "spot_by_reflectance") == pytest.approx(9.0)
    assert part("smoke", {"reflectance": "10 %"}).results["spot_by_reflectance"].bound == ""
