"""Each class of appliance by its invented visit: what it comes to, what it never says, what stays open."""

from dataclasses import replace
from pathlib import Path

import golden
import pytest

from fluewright.appliance import load
from fluewright.evidence.finding import PRACTICE, WRONG, Finding
from fluewright.evidence.fitting import fitted, refused_in
from fluewright.evidence.lit import burning_at
from fluewright.evidence.reading import Event
from fluewright.report.words.house import WORDS
from fluewright.visit import file, work

CLASSES = load.names_of_classes()
VISITS = {path.stem: path for path in golden.visits()}


def test_every_class_has_its_visit() -> None:
    assert len(CLASSES) >= 18
    assert set(CLASSES) == set(VISITS)


@pytest.mark.parametrize("name", CLASSES)
def test_the_visit_of_a_class_comes_to_what_was_reviewed(name: str) -> None:
    path = VISITS[name]
    assert golden.told(path) == path.with_suffix(".golden").read_text(encoding="utf-8")


@pytest.mark.parametrize("name", CLASSES)
def test_a_class_is_whole(name: str) -> None:
    one = load.load(name)
    assert one.points
    assert one.lines
    assert one.devices
    assert one.house
    assert {"bridge-safety"} <= set(one.never)
    assert any(line.quantity == "carbon_monoxide_room" for line in one.lines)
    assert len({each.key for each in one.devices}) == len(one.devices)
    assert all(device.sense == "act" or device.quantity for device in one.devices)


@pytest.mark.parametrize("name", CLASSES)
def test_what_a_class_never_advises_is_printed_nowhere(name: str) -> None:
    said = golden.printed(VISITS[name]).lower()
    one = load.load(name)
    for key in one.never:
        reasons = (one.never[key], load.advice()[key].words, load.advice()[key].instead)
        rest = said
        for known in reasons:
            rest = rest.replace(known.lower(), "")
        # the note above the devices says that none is bridged, and a guard at a hood is tried by its own test
        rest = rest.replace("never by a bridge", "").replace("vent blocked above the hood by a metal plate", "")
        assert not [phrase for phrase in load.advice()[key].says if phrase in rest], key


@pytest.mark.parametrize("key", load.advice())
@pytest.mark.parametrize("name", CLASSES)
def test_class_by_advice(name: str, key: str) -> None:
    """Every phrase of every kind of advice, in every class: gone where it is refused, left where it is not."""
    account = file.read(VISITS[name])
    one, advice = load.load(name), load.advice()[key]
    for phrase in advice.says:
        finding = Finding("made-up", "advise", "Lead.", "Body.", (), PRACTICE, do_now=(f"now {phrase} a little",),
                          do_next=(f"Then {phrase.upper()}",), cautions=(f"Careful: {phrase}.",))  # fmt: skip
        made = fitted(finding, account)
        words = " ".join((*made.do_now, *made.do_next, *made.cautions)).lower()
        refused = {each for each in one.never if any(said in phrase for said in load.advice()[each].says)}
        assert (phrase in words) == (not refused)
        if key in one.never:
            assert one.never[key] in made.body or (refused - {key})


@pytest.mark.parametrize("name", [n for n in CLASSES if "open-shutter" in load.load(n).never])
def test_no_sealed_class_is_told_to_open_a_shutter(name: str) -> None:
    assert {"vapour-resistant-water-heater", "condensing-boiler", "sealed-concentric", "two-pipe-plastic"} <= {
        n for n in CLASSES if "open-shutter" in load.load(n).never
    }
    assert refused_in("Open the air shutter a quarter turn", load.load(name)) is not None


def test_plastic_vents_get_no_hole() -> None:
    for name in ("two-pipe-plastic", "condensing-boiler", "condensing-furnace"):
        one = load.load(name)
        assert "drill-hole" in one.never
        assert {"port-closed", "trap-primed"} <= {line.key for line in one.house}
    assert "arrestor-and-screen" in {line.key for line in load.load("vapour-resistant-water-heater").house}


@pytest.mark.parametrize("name", CLASSES)
def test_untested_devices_and_lines_not_seen_are_open(name: str) -> None:
    account = replace(file.read(VISITS[name]), stretches=(), parts=file.read(VISITS[name]).parts)
    bare = tuple(replace(part, proofs=()) if hasattr(part, "proofs") else part for part in account.parts)
    bare = tuple(replace(part, answers=()) if hasattr(part, "answers") else part for part in bare)
    found = {one.code: one for one in work.parts_judged(replace(account, parts=bare)).judged.findings}
    one = load.load(name)
    assert found["safety-unproved"].grade == "open"
    for device in one.devices:
        assert device.words in found["safety-unproved"].body
    said = (found["house-open"].body + (found["duties-open"].body if "duties-open" in found else "")).lower()
    for line in one.house:
        assert line.words.lower() in said


def test_what_can_hurt_is_said_with_every_line_that_shuts_down() -> None:
    assert all(line.caution and line.do_now for line in load.house().values() if line.grade == "act")


def test_every_bad_line_has_words_for_the_house() -> None:
    for line in load.house().values():
        assert f"house-{line.key}" in WORDS
    codes = {one.code for path in VISITS.values() for one in golden.verdict_on(path).judged.findings
             if one.grade in WRONG and one.code.startswith(("safety", "house", "air-not"))}  # fmt: skip
    assert codes <= set(WORDS)


def test_a_bad_line_reaches_the_page_for_the_customer() -> None:
    page = golden.verdict_on(VISITS["clothes-dryer"]).sheet().customer
    said = " ".join(paragraph for texts in page.values() for paragraph in texts)
    assert "The duct of the dryer is blocked" in said
    assert "leave the dryer off" in said


def test_a_guard_that_failed_stops_and_says_first_what_can_hurt(tmp_path: Path) -> None:
    text = VISITS["power-burner"].read_text(encoding="utf-8")
    text = text.replace('seen = "acted"\nseconds = "3 s"\nplate = "4 s"', 'seen = "did not act"')
    path = tmp_path / "visit.toml"
    path.write_text(text, encoding="utf-8")
    first = golden.verdict_on(path).judged.findings[0]
    assert (first.code, first.grade) == ("safety-failed-flame", "stop")
    assert "unburned gas" in first.cautions[0]
    sheet = golden.verdict_on(path).sheet()
    assert sheet.stops[0].order.startswith("Stop")


@pytest.mark.parametrize(
    ("at", "code"), [("206 F", "safety-late"), ("198 F", None), ("150 F", "safety-early"), ("200.2 F", "safety-late")]
)
def test_a_limit_against_its_plate(at: str, code: str | None, tmp_path: Path) -> None:
    text = VISITS["natural-draft-boiler"].read_text(encoding="utf-8").replace('at = "212 F"', f'at = "{at}"')
    path = tmp_path / "visit.toml"
    path.write_text(text, encoding="utf-8")
    codes = {one.code: one for one in golden.verdict_on(path).judged.findings if one.code.startswith("safety-")}
    found = sorted(set(codes) - {"safety-unproved"})
    if at == "198 F":
        assert all(codes[each].grade == "open" for each in found)
    else:
        assert found == [code]


# ------------------------------------------------------------------------------------------------ minutes since lit

EVENTS = (Event("23:50", "lit"), Event("23:52", "blower on"), Event("00:20", "off"), Event("00:30", "lit"))


@pytest.mark.parametrize(
    ("time", "words"),
    [
        ("23:49", "burner off"),
        ("23:51", "1 min after lighting"),
        ("00:02", "12 min after lighting, blower on"),
        ("00:25", "burner off"),
        ("00:37:30", "8 min after lighting, blower on"),
        ("", ""),
        ("soon", ""),
    ],
)
def test_minutes_since_lighting(time: str, words: str) -> None:
    assert burning_at(EVENTS, time).words == words
    assert burning_at((), time).words == ""


def test_every_stretch_and_every_proof_says_how_long_it_burned() -> None:
    said = golden.printed(VISITS["vapour-resistant-water-heater"])
    assert "Read below hood, left of baffle, 10 min after lighting" in said
    assert "25 min after lighting" in said


def test_what_was_read_with_the_burner_off_clears_nothing(tmp_path: Path) -> None:
    text = VISITS["tankless-water-heater"].read_text(encoding="utf-8")
    text = text.replace('word = "lit"\n', 'word = "lit"\n\n[[event]]\ntime = "09:50"\nword = "off"\n', 1)
    path = tmp_path / "visit.toml"
    path.write_text(text, encoding="utf-8")
    found = golden.verdict_on(path).judged.findings
    assert [one.evidence[0][0] for one in found if one.code == "burner-off"] == ["as left"]
    assert "fine" not in {one.grade for one in found}


def test_ranges_bounds_and_trend_words_are_readings_of_a_class() -> None:
    rising = {one.code: one for one in golden.verdict_on(VISITS["vapour-resistant-water-heater"]).judged.findings}
    assert "arrestor" in rising["still-moving"].do_next[-1]
    worked = golden.verdict_on(VISITS["two-pipe-plastic"]).told[1][1]
    assert worked is not None
    assert worked.results["carbon_monoxide_air_free"].bound == "at least"
