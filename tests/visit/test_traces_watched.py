"""Traces of a visit watched on its way to the sheet: events as findings, marks from its steps, kinds of steady."""

import tomllib
from collections.abc import Callable
from pathlib import Path

import pytest

from fluewright.evidence import happened
from fluewright.evidence.finding import Finding
from fluewright.report.text import text
from fluewright.visit import file, hand_over, watched, work
from fluewright.visit.source import Source
from fluewright.visit.work import Verdict

VISIT = """
[visit]
title = "Invented"
site = "Made-up Street 1"
date = 2026-11-25
jurisdiction = "{law}"
units = "si"
invented = true

[appliance]
words = "invented boiler"
burner = "induced draft"
output = "20 kW"

[fuel]
name = "natural-gas"

[instrument]
words = "analyser NOT-REAL"
accuracy = "statutory"
calibration_due = 2027-03-03
zero = "outdoors"

{more}
[[stretch]]
word = "as left"
time = "10:00"
trace = "run.csv"
"""

Level = Callable[[int], float]
Rows = dict[str, Level]


def constant(value: float) -> Level:
    return lambda _: value


def stepped(at: int, before: float, after: float) -> Level:
    return lambda second: before if second < at else after


QUIET: Rows = {"O2 (%)": constant(5.0), "CO (ppm)": constant(30.0), "flue temperature (°C)": constant(180.0),
               "air temperature (°C)": constant(20.0)}  # fmt: skip


def trace(rows: Rows, seconds: int = 900, *, clock: bool = True) -> str:
    """A trace of a row a second from 10:00:00 on, each value with a little invented flicker."""
    lines = [",".join(["time" if clock else "seconds", *rows])]
    for second in range(seconds):
        hour, rest = divmod(second, 3600)
        at = f"2026-11-25 {10 + hour}:{rest // 60:02d}:{rest % 60:02d}" if clock else f"{second}"
        flicker = [0.0, 0.3, -0.2, 0.1, -0.3, 0.2][second * 7 % 6]
        values = [f"{level(second) + flicker * (0.1 if '%' in name else 1.0):.2f}" for name, level in rows.items()]
        lines.append(",".join([at, *values]))
    return "\n".join(lines) + "\n"


def judged(folder: Path, rows: Rows, more: str = "", law: str = "US-MN", **about: bool) -> Verdict:
    """The visit with such a trace, judged."""
    (folder / "run.csv").write_text(trace(rows, **about), encoding="utf-8")
    (folder / "visit.toml").write_text(VISIT.format(more=more, law=law), encoding="utf-8")
    return work.judged(file.read(folder / "visit.toml"))


def found(verdict: Verdict, code: str) -> list[Finding]:
    """Findings by code."""
    return [one for one in verdict.judged.findings if one.code == code]


def words(verdict: Verdict) -> str:
    """The sheet with its strips as one line of words."""
    said = text(hand_over.sheet_of(verdict), plain=True).replace("|", " ").replace("\u202f", " ")
    return " ".join(said.split())


def test_a_quiet_trace_adds_nothing_to_the_sheet(tmp_path: Path) -> None:
    verdict = judged(tmp_path, QUIET)
    assert not [one for one in verdict.judged.findings if one.code.startswith("live-")]
    assert happened.WORD not in {part.word for part in verdict.parts}
    assert "What changed when" not in words(verdict)


BLOWER: Rows = {**QUIET, "O2 (%)": stepped(640, 5.0, 6.2)}


@pytest.mark.parametrize("time", ["10:10", "10:10:32"])
def test_what_moved_after_a_blower_is_a_finding_of_the_visit(tmp_path: Path, time: str) -> None:
    """Also where only the minute was written down."""
    verdict = judged(tmp_path, BLOWER, f'[[event]]\ntime = "{time}"\nword = "blower on"\n')
    (one,) = found(verdict, "live-exchanger")
    assert one.grade == "act"
    assert "inspect the heat exchanger" in one.lead
    said = words(verdict)
    assert "What changed when" in said
    assert "after: blower on" in said
    assert "Not to be left running like this" in said
    figure = next(each for each in hand_over.sheet_of(verdict).figures if each.kind == "strip")
    assert {"exchanger"} <= {word for _, word in figure.data.steps}


def test_a_finding_of_an_event_is_found_on_its_line(tmp_path: Path) -> None:
    verdict = judged(tmp_path, BLOWER, '[[event]]\ntime = "10:10:32"\nword = "blower on"\n')
    sheet = verdict.sheet()
    lettered = next(one for one in sheet.findings if one.finding.code == "live-exchanger")
    numbers = {line.number for each in sheet.sections if each.title == "What changed when" for line in each.lines}
    assert set(lettered.lines) <= numbers
    assert lettered.lines


def test_without_the_mark_nobody_is_blamed_and_a_trace_without_a_clock_takes_no_marks(tmp_path: Path) -> None:
    event = '[[event]]\ntime = "10:10:32"\nword = "blower on"\n'
    for verdict in (judged(tmp_path, BLOWER), judged(tmp_path, BLOWER, event, clock=False)):
        assert not found(verdict, "live-exchanger")
        assert [one.grade for one in found(verdict, "live-air-changed")] == ["advise"]


def test_a_step_explains_what_it_moved(tmp_path: Path) -> None:
    verdict = judged(tmp_path, BLOWER, '[[step]]\ntime = "10:10"\nword = "shutter opened"\n')
    assert not found(verdict, "live-air-changed")
    assert "After the step: oxygen" in words(verdict)
    figure = next(each for each in hand_over.sheet_of(verdict).figures if each.kind == "strip")
    assert "shutter opened" in {word for _, word in figure.data.steps}


PULLED: Rows = {**QUIET, "O2 (%)": stepped(840, 5.0, 20.9), "CO (ppm)": stepped(840, 30.0, 0.0)}


def test_the_probe_taken_out_at_the_end_is_no_alarm(tmp_path: Path) -> None:
    verdict = judged(tmp_path, PULLED)
    assert not [one for one in verdict.judged.findings if one.code == "live-flame-out"]


HOSE: Rows = {**QUIET, "O2 (%)": stepped(500, 5.0, 10.0), "CO (ppm)": stepped(500, 60.0, 41.1)}


def test_an_instrument_in_trouble_clears_nothing_and_leaves_nobody_off(tmp_path: Path) -> None:
    more = '[room]\nsymptoms = "no"\nentry = "0 ppm"\n'
    well, verdict = judged(tmp_path, QUIET, more, "DE"), judged(tmp_path, HOSE, more, "DE")
    (one,) = found(verdict, "live-air-let-in")
    assert one.grade == "act"
    assert not one.do_now
    assert any(each.grade == "fine" and each.evidence[0][0] == "as left" for each in well.judged.findings)
    assert not any(each.grade == "fine" and each.evidence[0][0] == "as left" for each in verdict.judged.findings)


def test_the_kinds_of_steady_are_named_with_their_reasons(tmp_path: Path) -> None:
    steady = judged(tmp_path, QUIET).account.stretches[0].steady
    assert "instrument settled (stood still for" in steady
    assert "appliance steady (stood still for" in steady
    assert watched.NO_RULE in steady


def test_a_rule_with_a_steady_of_its_own_is_named_with_what_is_missing(tmp_path: Path) -> None:
    steady = judged(tmp_path, QUIET, law="DE").account.stretches[0].steady
    assert "as the rule says, no (1. BImSchV" in steady
    assert "mark when it was lit" in steady


def test_a_trace_is_watched_once_while_nothing_of_it_changes(tmp_path: Path) -> None:
    judged(tmp_path, BLOWER)
    before = watched._watch.cache_info().misses
    file.read(tmp_path / "visit.toml")
    assert watched._watch.cache_info().misses == before
    judged(tmp_path, BLOWER, '[[step]]\ntime = "11:30"\nword = "long after"\n')
    assert watched._watch.cache_info().misses == before
    judged(tmp_path, {**BLOWER, "CO (ppm)": constant(31.0)})
    assert watched._watch.cache_info().misses == before + 1


def test_an_unknown_sender_may_alarm_and_clears_nothing(tmp_path: Path) -> None:
    (tmp_path / "run.csv").write_text(trace(BLOWER), encoding="utf-8")
    visit = VISIT.format(more='[[event]]\ntime = "10:10:32"\nword = "blower on"\n', law="DE") + 'stream = "unknown"\n'
    verdict = work.judged(file.taken(Source(tmp_path / "visit.toml", tomllib.loads(visit))))
    assert [one.grade for one in found(verdict, "live-exchanger")] == ["act"]
    assert not [one for one in verdict.judged.findings if one.grade in ("fine", "cured")]
