"""Causes weighed: whichever readings there are, what they cannot show is said, and nothing dangerous is lost."""

import json
import random

import pytest
from benchmarks import causes

from fluewright.diagnose.apart import observable
from fluewright.diagnose.asked import Asked, asked_of
from fluewright.diagnose.clues import clues
from fluewright.diagnose.diagnosis import Diagnosis, diagnosed
from fluewright.diagnose.table import HEALTHY, looks, page
from fluewright.errors import PhysicsRefused, UseError
from fluewright.evidence.reading import Reading
from fluewright.quantity.parse import parse
from fluewright.simulate.designs import designs
from fluewright.simulate.faults import faults

FLUE = {"oxygen_dry": 0.08, "carbon_monoxide_dry": 20e-6, "flue_temperature": 460.0, "air_temperature": 293.0}
OVER = FLUE | {"oxygen_dry": 0.03, "carbon_monoxide_dry": 300e-6, "flue_temperature": 500.0, "gas_pressure": 1350.0}
PLATE = {"gas_pressure": 872.0, "fuel_input": 30_000.0}


def first(said: Diagnosis) -> str:
    """The likeliest cause."""
    return next(iter(said.inside.each()))


def boiler(read: dict[str, float], **more: object) -> Diagnosis:
    """A boiler with a draft hood."""
    return diagnosed(Asked("natural-draft-boiler", read, plate=PLATE, **more))  # type: ignore[arg-type]


def test_a_high_pressure_with_little_oxygen_is_over_gassed_and_says_why() -> None:
    said = boiler(OVER)
    assert said.causes[0].name == "gas-pressure-high"
    assert any("gas pressure" in one.words and "above the plate" in one.words for one in said.causes[0].because)
    assert {each.name for each in said.struck} >= {"gas-pressure-low", "sampled-after-hood"}


def test_readings_as_they_should_be_are_quiet_and_stop_nobody() -> None:
    said = boiler(FLUE | {"gas_pressure": 872.0, "draft": -5.0, "fuel_input": 30_000.0})
    assert said.quiet
    assert not said.stop
    assert not said.moved


def test_oxygen_and_carbon_dioxide_alone_do_not_tell_leak_from_air() -> None:
    read = {"oxygen_dry": 0.10, "carbon_dioxide_dry": 0.082}
    said = diagnosed(Asked("oil-burner", read))
    groups = [line for line in said.unknown if "cannot tell apart" in line]
    assert any("hose" in line and "air" in line for line in groups)


def test_a_hose_test_strikes_the_hose_or_makes_it_first() -> None:
    read = {"oxygen_dry": 0.10, "flue_temperature": 495.0, "air_temperature": 293.0}
    leaks = diagnosed(Asked("oil-burner", read, seen={"hose": True}))
    tight = diagnosed(Asked("oil-burner", read, seen={"hose": False}))
    assert first(leaks) == "hose-leaks"
    assert tight.inside.of("hose-leaks") < 0.1 * leaks.inside.of("hose-leaks")


def test_a_heat_exchanger_is_only_ever_to_be_inspected() -> None:
    read = FLUE | {"oxygen_blower_step": 0.012, "carbon_monoxide_dry": 80e-6}
    said = diagnosed(Asked("induced-draft", read))
    named = [cause for cause in said.causes if cause.name == "exchanger-breached"]
    assert named
    assert named[0].words == "inspect the heat exchanger"
    assert named[0].because
    assert any("no reading proves it whole" in line for line in said.unknown)


def test_an_inch_of_water_typed_as_millibar_is_found() -> None:
    said = boiler(FLUE | {"gas_pressure": 350.0, "fuel_input": 30_000.0})
    assert first(said) == "pressure-in-other-unit"


def test_fahrenheit_typed_as_celsius_is_found() -> None:
    said = boiler(FLUE | {"flue_temperature": 273.15 + 370.0, "gas_pressure": 872.0, "fuel_input": 30_000.0})
    assert first(said) == "flue-read-in-fahrenheit"


def test_a_figure_from_outside_the_list_is_not_forced_into_it() -> None:
    said = boiler(FLUE | {"oxygen_dry": 0.001, "carbon_monoxide_dry": 2e-6, "flue_temperature": 320.0, "draft": -90.0})
    assert said.inside.of("none of these") > 0.3


def test_a_dangerous_cause_that_cannot_be_seen_stays_in_view() -> None:
    said = boiler({"oxygen_dry": 0.08})
    hidden = {danger.name for danger in said.dangers if not danger.seen}
    assert {"flue-blocked", "monoxide-cell-weak"} <= hidden
    assert all(danger.close for danger in said.dangers)


def test_no_sentence_has_a_percentage_of_a_cause() -> None:
    said = boiler(OVER)
    lines = [*said.unknown, *(line for cause in said.causes for line in (cause.words, cause.do))]
    told = [one for cause in said.causes for one in (*cause.because, *cause.against)] + [
        each.because for each in said.struck
    ]
    lines += [one.words for one in told]
    assert not [line for line in lines if "probab" in line or "likel" in line or "odds" in line]
    assert not [line for line in lines if "%" in line and "oxygen" not in line and "carbon dioxide" not in line]


def test_more_doubt_in_a_reading_makes_it_say_less() -> None:
    sharp, wide = boiler(OVER), boiler(OVER, doubts={"gas_pressure": 400.0, "oxygen_dry": 0.03})
    assert wide.inside.of("gas-pressure-high") < sharp.inside.of("gas-pressure-high")


def test_an_edge_a_range_and_a_trend_are_readings() -> None:
    typed = {"carbon_monoxide_dry": "> 2000 ppm", "oxygen_dry": "2..4 %"}
    readings = [Reading(name, parse(text, quantity=name)) for name, text in typed.items()]
    readings.append(Reading("carbon_monoxide_dry", parse("rising", quantity="carbon_monoxide_dry")))
    made = asked_of(kind="natural-draft-boiler", readings=readings, plate={}, seen={})
    assert made.read["carbon_monoxide_dry"] > 2000e-6
    assert made.doubts["oxygen_dry"] > 0.005
    assert made.seen["settled"]
    assert not diagnosed(made).quiet


def test_the_order_of_readings_does_not_matter() -> None:
    back = dict(reversed(list(OVER.items())))
    assert boiler(OVER).inside.each() == boiler(back).inside.each()


@pytest.mark.parametrize("design", designs())
def test_every_subset_of_readings_gives_probabilities_and_says_nothing_about_what_it_cannot_see(design: str) -> None:
    noise = random.Random(f"subsets of {design}")
    visits = [causes.visit(noise=noise) for _ in range(60)]
    for visit in [each for each in visits if each.design == design][:4]:
        names = noise.sample(sorted(visit.read), min(3, len(visit.read)))
        question = Asked(design, {name: visit.read[name] for name in names}, plate=page(design).plate)
        if not set(names) - {"air_temperature", "carbon_monoxide_dry", "carbon_dioxide_dry"}:
            continue
        said = diagnosed(question)
        assert sum(said.inside.share.values()) == pytest.approx(1.0)
        could = observable(page=page(design), at=said.inside.chosen, seen=[])
        assert causes.unobservable_statements(said, could) == 0


def test_a_class_without_a_virtual_appliance_is_refused() -> None:
    with pytest.raises(UseError) as caught:
        diagnosed(Asked("clothes-dryer", FLUE))
    assert caught.value.code == "FW-U-310"


def test_a_look_that_is_not_listed_is_refused() -> None:
    with pytest.raises(UseError) as caught:
        boiler(FLUE, seen={"crystal-ball": True})
    assert caught.value.code == "FW-U-311"


def test_nothing_read_is_refused() -> None:
    with pytest.raises(PhysicsRefused) as caught:
        diagnosed(Asked("oil-burner", {"fuel_input": 30_000.0}))
    assert caught.value.code == "FW-K-100"


def test_the_table_is_made_by_the_script_and_names_only_known_things() -> None:
    from fluewright.diagnose import table

    assert all(set(look.shows) <= set(faults()) for look in looks().values())
    for design in designs():
        found = page(design)
        assert set(found.rows) - {HEALTHY} <= set(faults())
        assert sum(found.before.values()) + table.weights()["two"] == pytest.approx(1.0)
    assert len(json.dumps(table._read())) < 1_000_000


def test_clues_of_a_diluted_sample_keep_the_air_free_monoxide() -> None:
    thick = {"oxygen_dry": 0.07, "carbon_monoxide_dry": 100e-6}
    thin = {"oxygen_dry": 0.14, "carbon_monoxide_dry": 100e-6 * (0.2095 - 0.14) / (0.2095 - 0.07)}
    made = [clues(read=read, doubts={}, plate={}, usual={}, most=0.118)["monoxide"].value for read in (thick, thin)]
    assert made[0] == pytest.approx(made[1])


def test_a_small_trial_reaches_what_the_large_one_is_to_show() -> None:
    tallies, halves = causes.trial(120, seed=7)
    ordinary, after = tallies["and ordinary looks"], tallies["after the round"]
    assert ordinary.first / ordinary.sick >= 0.55
    assert ordinary.three / ordinary.sick >= 0.80
    assert after.first / after.sick >= 0.75
    assert after.three / after.sick >= 0.90
    assert ordinary.in_view == ordinary.dangers
    assert ordinary.false_stop <= 1
    assert halves["round"].open / halves["round"].count >= 0.6


def test_nothing_is_called_quiet_where_a_reading_left_its_usual_range() -> None:
    read = {"carbon_monoxide_dry": 400e-6, "oxygen_dry": 0.028, "flue_temperature": 544.0, "air_temperature": 293.0}
    said = diagnosed(Asked("oil-burner", read))
    assert said.moved
    assert not said.quiet
