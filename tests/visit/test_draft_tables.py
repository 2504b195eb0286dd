"""A visit file with tables about draft, worst case, spillage and vent: read, judged, and refused where it is broken."""

from pathlib import Path

import pytest

from fluewright.errors import Problems, RuleError, VisitError
from fluewright.evidence.finding import Finding
from fluewright.rules import routes
from fluewright.visit import file, work

HEAD = """
[visit]
title = "Made-up Street 7"
date = 2026-11-25
jurisdiction = "US"
[appliance]
words = "an invented water heater"
[fuel]
name = "natural-gas"
"""
PAGE = Path(__file__).resolve().parents[2] / "docs" / "method" / "draft.md"
TABLES = PAGE.read_text(encoding="utf-8").partition("```toml")[2].partition("```")[0]
STEPS = tuple(step.id for step in routes.route("worst-case").steps)


def judged(tmp_path: Path, text: str) -> work.Verdict:
    """A visit file, judged."""
    path = tmp_path / "visit.toml"
    path.write_text(HEAD + text, encoding="utf-8")
    return work.judged(file.read(path))


def problems(tmp_path: Path, text: str) -> dict[str, str]:
    """Codes and places of what is wrong with a visit file."""
    with pytest.raises((Problems, VisitError)) as caught:
        judged(tmp_path, text)
    return {error.code: error.where for error in getattr(caught.value, "errors", (caught.value,))}


def worst(*steps: str, back: tuple[str, ...] = (), more: str = "") -> str:
    """A worst case with some steps done, in this order, and some of it put back."""
    rows = [f'[[worst_case.step]]\nstep = "{step}"\ndone = true\n' for step in steps]
    rows += [f'[[worst_case.restore]]\nstep = "{step}"\ndone = true\n' for step in back]
    return f"[worst_case]\n{more}\n" + "".join(rows)


def grades(verdict: work.Verdict) -> dict[str, str]:
    """Grade of each finding by its code."""
    return {finding.code: finding.grade for finding in verdict.judged.findings}


def found(verdict: work.Verdict, code: str) -> Finding:
    """The finding of a code."""
    return next(finding for finding in verdict.judged.findings if finding.code == code)


BACK = tuple(step.id for step in routes.route("worst-case").steps if step.put_back)


def test_the_example_of_the_page_is_a_visit(tmp_path: Path) -> None:
    verdict = judged(tmp_path, TABLES)
    parts = {part.word: part for part in verdict.parts}
    assert list(parts)[:1] == ["draft"]
    assert set(parts) == {"draft", "chimney", "hood", "worst case", "spillage", "vent"}
    assert parts["worst case"].answers == {"room air", "venting"}
    said = grades(verdict)
    for code in ("spillage-goes-on", "spillage-by-fan", "vent-too-hot", "vent-trap-dry"):
        assert said[code] == "stop"
    assert said["worst-case-put-back"] == "open"
    assert verdict.judged.findings[0].grade == "stop"


def test_the_sheet_says_what_can_hurt_before_anything_else(tmp_path: Path) -> None:
    from fluewright.report.text import text

    said = " ".join(text(judged(tmp_path, TABLES).sheet(), plain=True).split())
    assert said.index("into the room and does not stop") < said.index("of pull at rest")


def test_a_worst_case_gone_through_answers_venting(tmp_path: Path) -> None:
    verdict = judged(tmp_path, worst(*STEPS, back=BACK))
    (part,) = verdict.parts
    assert "venting" in part.answers
    assert not [code for code in grades(verdict) if code.startswith("worst-case")]
    assert not any("every fan running" in words for words in verdict.judged.cannot_tell)


@pytest.mark.parametrize("missing", STEPS)
def test_each_step_left_out_is_named(tmp_path: Path, missing: str) -> None:
    verdict = judged(tmp_path, worst(*(step for step in STEPS if step != missing), back=BACK))
    assert verdict.parts[0].data["steps_open"] == [missing]
    assert "venting" not in verdict.parts[0].answers
    assert grades(verdict)["worst-case-unfinished"] == "open"


@pytest.mark.parametrize("missing", BACK)
def test_whatever_was_turned_stays_open_until_it_is_put_back(tmp_path: Path, missing: str) -> None:
    verdict = judged(tmp_path, worst(*STEPS, back=tuple(step for step in BACK if step != missing)))
    finding = found(verdict, "worst-case-put-back")
    assert routes.route("worst-case").step(missing).put_back in finding.body
    assert finding.cautions


def test_a_step_nobody_mentioned_may_have_changed_something(tmp_path: Path) -> None:
    verdict = judged(tmp_path, worst("baseline"))
    assert verdict.parts[0].data["to_put_back"] == list(BACK)


def test_the_order_matters(tmp_path: Path) -> None:
    turned = list(STEPS)
    turned[2], turned[3] = turned[3], turned[2]
    assert grades(judged(tmp_path, worst(*turned, back=BACK)))["worst-case-order"] == "open"
    assert "worst-case-order" not in grades(judged(tmp_path, worst(*STEPS, back=BACK)))


def test_a_flame_that_leaves_stops_the_test_and_asks_for_no_step(tmp_path: Path) -> None:
    verdict = judged(tmp_path, worst(*STEPS[:4], more="flame_left_burner = true"))
    assert found(verdict, "worst-case-flame").cautions
    assert "worst-case-unfinished" not in grades(verdict)
    assert "venting" not in verdict.parts[0].answers


@pytest.mark.parametrize("place", ["US", "DE"])
def test_thirty_five_ppm_in_the_room_stops_it_anywhere(tmp_path: Path, place: str) -> None:
    text = worst(*STEPS, back=BACK, more='room_carbon_monoxide = "80 ppm"')
    path = tmp_path / "visit.toml"
    path.write_text(HEAD.replace('"US"', f'"{place}"') + text, encoding="utf-8")
    verdict = work.judged(file.read(path))
    finding = found(verdict, "us-test-stop-co")
    assert finding.grade == "stop"
    assert "stop the test" in finding.do_now[0]
    assert "venting" not in verdict.parts[0].answers


@pytest.mark.parametrize(
    ("old", "new", "code", "place"),
    [
        ('draft = "-4 Pa"', 'draft = "4 Pa"', "FW-V-070", "reading 1, draft"),
        ('draft = "-4 Pa"', 'draft = "0.02"', "FW-V-070", "reading 1, draft"),
        ('draft = "-4 Pa"', 'draft = "-0.02 Pa"', "FW-V-071", "reading 1, draft"),
        ('draft = "-4 Pa"', 'draft = "-20"', "FW-K-070", "reading 1, draft"),
        ('draft = "-4 Pa"', 'draft = "20"', "FW-K-070", "reading 1, draft"),
        ('place = "above hood"\ndraft = "-4 Pa"', 'place = "roof"\ndraft = "-4 Pa"', "FW-V-009", "reading 1, place"),
        ('draft = "-4 Pa"\n', "", "FW-V-004", "reading 1"),
        ('values = ["0 Pa", "-1 Pa", "0 Pa", "1 Pa", "-1 Pa"]', 'values = "0 Pa"', "FW-V-072", "baseline, values"),
        ('because = "the cellar door sticks"\n', "", "FW-V-073", "restore 4"),
        ('because = "the house has none"\n', "", "FW-V-073", "step 5"),
        ('step = "doors"\ndone = false', 'step = "baseline"\ndone = false', "FW-V-009", "restore 4, step"),
        ('flue = "250 F"', 'flue = "-250 F"', "FW-K-071", "chimney"),
        ('air_changes = "8 1/h"', 'air_changes = "0 1/h"', "FW-K-072", "leakage"),
        ('mixed = "377 F"', 'mixed = "477 F"', "FW-K-073", "hood"),
        ('oxygen_after = "10 %"', 'oxygen_after = "3 %"', "FW-K-074", "hood"),
        ('trap = "dry"', 'trap = "thirsty"', "FW-V-009", "vent, trap"),
        ('stopped_after = "24 s"', 'stopped_after = "24 spoons"', "FW-Q-003", "spillage 1"),
        ('category = "IV"', 'category = "5"', "FW-V-009", "vent, category"),
        ("done = true\ntime", 'done = "yes"\ntime', "FW-V-012", "step 1, done"),
    ],
)
def test_a_broken_table_names_the_place(tmp_path: Path, old: str, new: str, code: str, place: str) -> None:
    assert old in TABLES
    assert place in problems(tmp_path, TABLES.replace(old, new, 1))[code]


def test_a_table_with_nothing_in_it_is_refused(tmp_path: Path) -> None:
    assert "draft" in problems(tmp_path, '[draft]\noutdoors = "40 F"\n')["FW-V-074"]


GOOD_STEP = """
[[steps]]
id = "one"
stage = "set up"
what = "one"
needed = "always"
jurisdiction = "US"
layer = "house"
citation = { document = "a", clause = "b", edition = "c" }
known = "from memory"
current = "not known"
valid_from = "unknown"
valid_until = "open"
text = "Do one."
"""


@pytest.mark.parametrize(
    ("old", "new", "what"),
    [
        ('needed = "always"\n', "", "no needed"),
        ('stage = "set up"', 'stage = "dance"', "dance"),
        ('what = "one"', 'what = "one"\nwhy = "two"', "why"),
        ('stage = "set up"', 'stage = "stop"\nput_back = "all"', "put_back"),
    ],
)
def test_a_route_is_read_strictly(old: str, new: str, what: str) -> None:
    assert len(routes.route_of(text=f'title = "t"\n{GOOD_STEP}', name="t").steps) == 1
    with pytest.raises(RuleError, match=what):
        routes.route_of(text=f'title = "t"\n{GOOD_STEP.replace(old, new)}', name="t")
