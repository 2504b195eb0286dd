"""Does it add up: what is found, what is told apart, and what is said to be out of sight."""

from collections.abc import Mapping

import pytest

import fluewright
from fluewright.evidence.closure import Closure
from fluewright.evidence.closure_words import CLOSURE
from fluewright.evidence.part import Part, SoFar
from fluewright.evidence.reading import Boundary, Instrument, Point, Reading, Stretch
from fluewright.evidence.result import Result
from fluewright.kernel import analysis, balance
from fluewright.kernel.air import DRY_AIR
from fluewright.visit import delivered_typed as typed
from fluewright.visit import one_part

FUEL = fluewright.load_fuel("natural-gas")
FINE = Instrument("analyser NOT-REAL-1", "statutory")


def on_the_line(oxygen: float, leak: float = 0.0) -> dict[str, str]:
    """Oxygen and carbon dioxide of this fuel, with a share of air leaked into the sample afterwards."""
    prepared = analysis.prepare(fuel=FUEL.fuel, air=DRY_AIR)
    flue = balance.from_dry_oxygen(fuel=prepared.fuel, air=prepared.air, oxygen_dry_fraction=oxygen)
    carbon = float(balance.carbon_dioxide_dry_fraction(flue=flue, air=prepared.air))
    mixed = (oxygen + leak * (DRY_AIR.oxygen - oxygen), carbon + leak * (DRY_AIR.carbon_dioxide - carbon))
    return {"o2": f"{mixed[0] * 100:.4f} %", "co2": f"{mixed[1] * 100:.4f} %"}


def closed(
    flue: Mapping[str, str], heats: Mapping[str, str] | None = None, boundary: Boundary = "appliance in room"
) -> Part:
    """The balance of these readings."""
    readings: dict[str, Reading] = fluewright.readings_of(flue)
    given = {typed.BALANCE_KEYS[k]: typed.reading(v, typed.BALANCE_READINGS[k]) for k, v in (heats or {}).items()}
    stretch = Stretch("this reading", "", Point("the flue"), readings, boundary=boundary) if readings else None
    (part,) = one_part.answered((Closure(given, stretch),), fuel=FUEL, instrument=FINE).parts
    assert part.word == CLOSURE
    return part


def weighed(part: Part) -> dict[str, object]:
    """The account of the reconciliation."""
    found = part.data["reconciled"]
    assert isinstance(found, dict)
    return found


@pytest.mark.parametrize("leak", [0.0, 0.05, 0.1, 0.2, 0.3, 0.4, 0.5])
def test_a_leak_never_shows_and_the_sheet_says_so(leak: float) -> None:
    # practice P2: fuel, air and leak lie on one line
    part = closed(on_the_line(0.05, leak))
    for one in weighed(part)["readings"]:  # type: ignore[attr-defined]
        assert abs(one["residual"]) < 1.0
    assert {finding.code for finding in part.findings} == {"adds-up"}
    assert {finding.grade for finding in part.findings} == {"open"}
    assert any(line.startswith("Cannot tell: air leaking into the sample") for line in part.cannot_tell)


def test_a_wrong_fuel_shows() -> None:
    part = closed({"o2": "5 %", "co2": "10.9 %"})  # propane's carbon dioxide
    (finding,) = part.findings
    assert finding.code == "does-not-add-up"
    assert "cannot tell which" in finding.body


HEATS = {"input": "100 kBtu/h", "second_input": "101 kBtu/h", "output": "79.5 kBtu/h"}
FLUE = {**on_the_line(0.05), "stack": "400 F", "air": "70 F"}


def test_sound_readings_agree_and_clear_nothing() -> None:
    part = closed(FLUE, HEATS)
    (finding,) = part.findings
    assert finding.code == "adds-up"
    assert finding.grade == "open"
    assert "clears nothing" in finding.lead
    assert weighed(part)["freedom"] == 3


@pytest.mark.parametrize(
    ("wrong", "typed_as", "said"),
    [
        ("second_input", "130 kBtu/h", "input by a second way"),
        ("input", "70 kBtu/h", "input as typed"),
        ("output", "40 kBtu/h", "heat delivered as typed"),
    ],
)
def test_the_odd_one_out_is_named(wrong: str, typed_as: str, said: str) -> None:
    (finding,) = closed(FLUE, {**HEATS, wrong: typed_as}).findings
    assert finding.code == "does-not-add-up"
    assert finding.grade == "open"
    if wrong == "output":  # nothing else reads what leaves the appliance, so the flue may be wrong as well
        assert said in finding.body
    else:
        assert f"odd one out is {said}" in finding.body


def test_two_ways_alone_cannot_say_which_is_wrong() -> None:
    (finding,) = closed({}, {"input": "100 kBtu/h", "second_input": "150 kBtu/h"}).findings
    assert "input as typed" in finding.body
    assert "input by a second way" in finding.body
    assert "cannot tell which" in finding.body


def test_what_is_read_once_is_no_agreement() -> None:
    part = closed({"o2": "5 %", "stack": "400 F", "air": "70 F"}, {"input": "100 kBtu/h"})
    assert not part.findings
    assert any("that is not agreement" in line for line in part.cannot_tell)
    assert any("No other reading checks" in line for line in part.cannot_tell)
    nothing = closed({})
    assert nothing.data["reconciled"] is None
    assert any("not agreement" in line for line in nothing.cannot_tell)


def test_a_band_of_condensing_is_no_number() -> None:
    cold = {**on_the_line(0.045), "stack": "45 C", "air": "20 C"}
    part = closed(cold, {"input": "20 kW", "output": "18.2 kW"})
    gap = part.results["heat_gap"]
    assert gap.spread > 0.25 * 0.04 * 20e3  # the band alone is some 4 points wide
    assert any("How much water condensed" in line for line in part.cannot_tell)
    dry = closed(FLUE, HEATS)
    assert not any("How much water condensed" in line for line in dry.cannot_tell)


def test_mixed_boundaries_count_no_losses() -> None:
    part = closed({**FLUE, "air": "-10 C"}, HEATS)
    assert "heat_gap" not in part.results
    assert any("different boundaries" in line for line in part.cannot_tell)


def test_a_bound_is_not_weighed() -> None:
    part = closed(FLUE, {"input": ">100 kBtu/h", "output": "79 kBtu/h"})
    assert "heat_gap" not in part.results
    assert any("no figure to weigh" in line for line in part.cannot_tell)


def test_flue_readings_without_a_gas_do_not_end_the_balance() -> None:
    part = closed({"stack": "400 F", "air": "70 F"}, {"input": "100 kBtu/h", "second_input": "101 kBtu/h"})
    assert weighed(part)["freedom"] == 1
    assert any("cannot be worked out" in line for line in part.cannot_tell)


def test_no_word_of_a_season_or_of_money() -> None:
    part = closed(FLUE, HEATS)
    said = " ".join([*part.cannot_tell, part.note, *(f.lead + f.body for f in part.findings)])
    assert "no promise of a saving" in part.note
    assert "moment" in said
    for word in ("per year", "annual", "a year of", "you save"):
        assert word not in said


def test_a_heat_of_nothing_is_not_weighed() -> None:
    part = closed(FLUE, {"input": "100 kBtu/h", "output": "0 kBtu/h"})
    assert "heat_gap" not in part.results
    assert any("no figure to weigh" in line for line in part.cannot_tell)


def gas_input(word: str, watts: float, spread: float = 500.0) -> Part:
    """What another part of the job says of the input."""
    return Part(word, "Gas input", "supply", (), {"fuel_input": Result("fuel_input", watts, spread, spread, None)})


def test_the_input_of_another_appliance_is_no_second_way() -> None:
    account = one_part.answered((), fuel=FUEL).account
    parts = {part.word: part for part in (gas_input("gas input", 30e3), gas_input("gas input, heater", 9e3))}
    found = Closure({"second_input": typed.reading("101 kBtu/h", "fuel_input")}).worked(SoFar(account, (), parts))
    assert set(found.results) == {"input_gap"}
    assert found.results["input_gap"].value == pytest.approx(101e3 * 0.29307107 - 30e3, rel=1e-6)
    alone = {"gas input, heater": gas_input("gas input, heater", 9e3)}
    found = Closure({"second_input": typed.reading("101 kBtu/h", "fuel_input")}).worked(SoFar(account, (), alone))
    assert set(found.results) == {"input_gap"}
