"""Heat input by the meter: what is said, what is doubted, what is refused."""

import json
from collections.abc import Callable
from typing import Any

import pytest

from fluewright.cli.main import main

CLOCK = {
    "fuel": "natural-gas", "dial": "2ft3", "time": "66s", "plate": "100kBtu/h", "altitude": "300ft",
    "heating-value": "1035Btu/ft3", "meter-pressure": "7inwc", "meter-temperature": "60F", "compensated": "no",
    "others": "water heater off; range pilots off", "meter": "billing",
}  # fmt: skip
BTU = 1055.05585262

Asked = Callable[..., dict[str, Any]]


@pytest.fixture
def clock(capsys: pytest.CaptureFixture[str]) -> Asked:
    """The clock question with some options changed (None takes one out), as data."""

    def ask(*flags: str, **changes: str | None) -> dict[str, Any]:
        options = {**CLOCK, **{key.replace("_", "-"): value for key, value in changes.items()}}
        words = [f"--{key}={value}" for key, value in options.items() if value is not None]
        main(["supply", "clock", *words, *flags, "--json"])
        answer: dict[str, Any] = json.loads(capsys.readouterr().out)
        return answer

    return ask


def results(answer: dict[str, Any]) -> dict[str, Any]:
    """Results of the only part."""
    found: dict[str, Any] = answer["parts"][0]["results"]
    return found


def codes(answer: dict[str, Any]) -> dict[str, str]:
    """Grade of each finding by code."""
    return {finding["code"]: finding["grade"] for finding in answer["findings"]}


def test_the_input_is_that_of_the_formula(clock: Asked) -> None:
    # 2 ft3 in 66 s, gas of 60 F at 7 in w.c. and the barometer of 300 ft: 109.09 cfh x 1035 Btu x 1.0045
    found = results(clock())["fuel_input"]
    barometer = 101_325.0 * (1.0 - 300 * 0.3048 / 44_330.77) ** 5.255876
    expected = 2 / 66 * 3600 * 1035 * (barometer + 7 * 249.08891) / 101_560.0 / 1000.0
    assert found["value"] == pytest.approx(expected, rel=1e-6)
    assert found["unit"] == "kBtu/h"


def test_every_source_of_doubt_is_in_the_ledger(clock: Asked) -> None:
    words = {one["words"] for one in results(clock(step="0.05ft3"))["fuel_input"]["working"]["inputs"]}
    assert words >= {
        "time counted", "volume counted", "heating value of the gas", "accuracy of the meter",
        "gauge pressure in the meter", "temperature of the gas in the meter", "barometric pressure at the place",
    }  # fmt: skip


def test_over_the_plate_is_graded_by_its_odds(clock: Asked) -> None:
    assert codes(clock())["gas-input-over"] == "act"
    assert codes(clock(plate="115kBtu/h", time="65s"))["gas-input-over"] == "advise"
    under = clock(plate="140kBtu/h")
    assert codes(under)["gas-input-under"] == "advise"
    assert codes(under)["gas-input-over"] == "open", "common practice clears nothing"


def test_the_superseded_text_of_the_place_does_not_clear(clock: Asked) -> None:
    good = {"plate": "120kBtu/h", "jurisdiction": "US-CA"}
    assert codes(clock(**good))["us-ca-input-over"] == "open"
    for doubt in (
        {"heating_value": None},
        {"others": None},
        {"compensated": None},
        {"meter": None},
        {"altitude": "2000ft"},
        {"dial": "0.5ft3", "time": "16.5s"},
    ):
        assert codes(clock(**{**good, **doubt}))["us-ca-input-over"] == "open", doubt


def spans(result: dict[str, Any]) -> tuple[float, float]:
    """What a result spans with twice its doubt, on either side."""
    low: float = result["value"] - 2 * result["below"]
    high: float = result["value"] + 2 * result["above"]
    return low, high


def test_a_heating_value_without_its_reference_is_doubted_towards_the_other_reading(clock: Asked) -> None:
    # 830 Btu/ft3 at 6,000 ft may be the gas as metered there: then nothing is to be corrected
    high = {"heating_value": "830Btu/ft3", "altitude": "6000ft", "plate": "90kBtu/h", "altitude_rule": "none"}
    unsaid, said = clock(**high), clock(**high, heating_reference="60F")
    local = clock(**high, heating_reference="as metered", meter_pressure=None, meter_temperature=None)
    other = results(local)["fuel_input"]["value"]
    assert codes(unsaid)["heat-reference-unsaid"] == "open"
    assert spans(results(unsaid)["fuel_input"])[1] > other > spans(results(said)["fuel_input"])[1]
    assert results(unsaid)["fuel_input"]["below"] == pytest.approx(results(said)["fuel_input"]["below"])
    assert "heat-reference-unsaid" not in {**codes(said), **codes(local)}
    assert "heat-reference-unsaid" not in codes(clock()), "at 300 ft both readings are one"
    cleared = {**high, "jurisdiction": "US-CA", "plate": "150kBtu/h"}
    assert codes(clock(**cleared))["us-ca-input-over"] == "open"


def test_a_meter_that_nobody_vouches_for_widens_and_clears_nothing(clock: Asked) -> None:
    billing, nobody = clock(), clock(meter=None)
    own = clock(meter=None, meter_accuracy="0.5%")
    doubts = [results(one)["fuel_input"]["above"] for one in (own, billing, nobody)]
    assert doubts == sorted(doubts)
    assert codes(nobody)["meter-not-vouched"] == "open"
    assert "meter-not-vouched" not in {**codes(billing), **codes(own)}


def test_an_assumed_correction_advises_and_what_no_assumption_explains_acts(clock: Asked) -> None:
    unread: dict[str, str | None] = {"meter_temperature": None, "meter_pressure": None}
    assert codes(clock())["gas-input-over"] == "act"
    assert codes(clock(**unread, plate="100kBtu/h"))["gas-input-over"] == "advise"
    assert codes(clock(altitude=None, plate="100kBtu/h"))["gas-input-over"] == "advise"
    assert codes(clock(compensated=None, meter_temperature="20F"))["gas-input-over"] == "advise"
    assert codes(clock(**unread, plate="80kBtu/h"))["gas-input-over"] == "act"


def test_minnesota_gives_two_per_cent_below_and_none_above(clock: Asked) -> None:
    found = codes(clock(plate="120kBtu/h", jurisdiction="US-MN"))
    assert found["us-mn-input-over"] in ("open", "fine")
    assert found["us-mn-input-under"] == "advise"


def test_a_coarse_count_says_how_long_to_go_on(clock: Asked) -> None:
    # practice P23: 0.076 m3 with a step of 0.01 m3 is 13 %
    answer = clock(dial=None, volume="0.076m3", step="10L", time="120s", time_step="0s", plate="25kW")
    assert codes(answer)["count-too-coarse"] == "open"
    assert results(answer)["count_resolution"]["value"] == pytest.approx(13.16, abs=0.01)
    assert answer["parts"][0]["seconds_to_go"] == pytest.approx(120 * 13.158 - 120, abs=1.0)
    lead = next(f["lead"] for f in answer["findings"] if f["code"] == "count-too-coarse")
    assert "go on counting for 1459 more seconds" in lead


def test_others_burning_make_the_input_at_most(clock: Asked) -> None:
    answer = clock(others="water heater on")
    assert codes(answer)["others-on"] == "open"
    assert codes(answer)["gas-input-over"] == "open"
    assert codes(clock(others=None))["others-not-listed"] == "open"
    alone = clock("--alone", others=None)
    assert not {"others-on", "others-not-listed"} & set(codes(alone))


def test_a_meter_that_makes_up_is_not_corrected_again(clock: Asked) -> None:
    cold = {"meter_temperature": "32F"}
    plain, twice = clock(**cold), clock(**cold, compensated="temperature")
    ratio = results(plain)["fuel_input"]["value"] / results(twice)["fuel_input"]["value"]
    assert ratio == pytest.approx(519.67 / 491.67, rel=1e-6)
    assert codes(twice)["double-correction"] == "open"
    once = results(clock(meter_temperature=None, compensated="temperature"))["fuel_input"]["value"]
    assert once == pytest.approx(results(twice)["fuel_input"]["value"], rel=1e-12)


def test_a_factor_beside_a_temperature_is_refused(clock: Asked) -> None:
    answer = clock(factor="1.02264")
    assert results(answer)["fuel_input"]["value"] is None
    assert "one way" in results(answer)["fuel_input"]["refused"]
    assert codes(answer) == {"double-correction": "open"}
    good = clock(factor="1.02264", meter_pressure=None, meter_temperature=None)
    assert results(good)["volume_correction"]["value"] == pytest.approx(1.02264)


def test_a_heating_value_as_metered_is_not_corrected(clock: Asked) -> None:
    # service.md 3.1: 0.1 m3 in 180 s at 9.5 kWh/m3 as metered is 19.0 kW net
    answer = clock(
        "--units=si", dial=None, volume="0.1m3", time="180s", plate=None, heating_value="9.5kWh/m3",
        heating_basis="net", heating_reference="as metered", meter_pressure=None, meter_temperature=None,
    )  # fmt: skip
    assert results(answer)["fuel_input_net"]["value"] == pytest.approx(19.0, rel=1e-9)
    assert results(answer)["input_of_plate"]["value"] is None
    assert any("plate" in words for words in answer["cannot_tell"])


def test_an_unknown_compensation_widens_and_is_said(clock: Asked) -> None:
    cold = {"meter_temperature": "32F"}
    known, unknown = clock(**cold), clock(**cold, compensated=None)
    assert codes(unknown)["compensation-unknown"] == "open"
    assert results(unknown)["fuel_input"]["uncertainty"] > results(known)["fuel_input"]["uncertainty"]


def test_at_a_height_the_gas_is_thinner_and_the_plate_lower(clock: Asked) -> None:
    high = {"altitude": "5280ft", "plate": "100kBtu/h", "jurisdiction": "US", "dial": "2ft3", "time": "75s"}
    answer = clock(**high)
    found = results(answer)
    assert found["derated_input"]["value"] == pytest.approx(78.88, abs=0.01)
    assert found["volume_correction"]["value"] < 0.85
    assert codes(answer)["height-rule-open"] == "open"
    stated = clock(**high, altitude_rule="us-4-percent")
    assert "height-rule-open" not in codes(stated)
    none = clock(**high, altitude_rule="none")
    assert "derated_input" not in results(none)


def test_over_an_assumed_height_rule_alone_is_no_reason_to_leave_it_off(clock: Asked) -> None:
    high = {"altitude": "5280ft", "plate": "100kBtu/h", "jurisdiction": "US", "dial": "2ft3", "time": "66s"}
    assert codes(clock(**high))["gas-input-over"] == "advise"
    assert codes(clock(**high, altitude_rule="us-4-percent"))["gas-input-over"] == "act"


def test_without_a_height_a_barometer_of_the_lowland_will_do(clock: Asked) -> None:
    assert codes(clock(altitude=None))["height-not-said"] == "open"
    assert "height-not-said" not in codes(clock(altitude=None, barometer="1005hPa"))
    assert codes(clock(altitude=None, barometer="850hPa"))["height-not-said"] == "open"


def test_a_maker_s_table_wins_and_is_not_carried_on(clock: Asked) -> None:
    table = {"altitude_table": "0ft=100%; 2000ft=93.6%; 6000ft=84.4%", "plate": "100kBtu/h", "jurisdiction": "US"}
    found = results(clock(**table, altitude="3000ft"))
    assert found["derated_input"]["value"] == pytest.approx(91.3, abs=0.01)
    beyond = clock(**table, altitude="7000ft")
    assert codes(beyond) == {"gas-input-not-worked-out": "open"}


def test_manifold_and_orifices_stand_beside_the_meter(clock: Asked) -> None:
    answer = clock(manifold="4.0inwc", manifold_plate="3.5inwc", orifice="#42", orifices="3")
    found = codes(answer)
    assert found["gas-manifold-high"] == "advise"
    assert found["meter-and-orifice-apart"] == "open"
    over = next(f for f in answer["findings"] if f["code"] == "gas-input-over")
    assert any("3.50" in do for do in over["do_next"])
    assert over["cautions"]


def test_oil_has_no_meter_of_cubic_feet(clock: Asked) -> None:
    answer = clock(fuel="oil-no-2", plate=None, heating_value=None)
    assert codes(answer) == {"gas-input-not-worked-out": "open"}
