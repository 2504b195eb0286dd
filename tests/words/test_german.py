"""The rooms that speak German: diagnosis, causes on the sheet, consent, plan; and what is judged by words."""

import re
from pathlib import Path

import pytest

from fluewright import words
from fluewright.appliance import load
from fluewright.cli import main
from fluewright.diagnose.asked import asked_of
from fluewright.diagnose.diagnosis import diagnosed
from fluewright.errors import UseError
from fluewright.evidence.fitting import refused_in
from fluewright.evidence.reading import Notice
from fluewright.report.cause_lines import TITLE
from fluewright.report.notices import Place, notice_stop
from fluewright.simulate.designs import design_of_kind
from fluewright.simulate.faults import faults
from fluewright.visit import file, work
from fluewright.visit.causes import causes_of
from fluewright.visit.plan import plan_of
from fluewright.visit.source import Source

OVER = {"o2": "2.8 %", "co": "400 ppm", "stack": "520 F", "air": "68 F", "draft": "-0.01 inwc"}
ENGLISH = re.compile(r"\b(the|is|and|of|than|which|with|this|read|usual|look|because)\b")
READ = ("o2=2.1%", "co=420ppm", "flue=580F", "air=68F", "smoke_spot=4")
TYPED = ("diagnose", "--class", "oil-burner", "--read", *READ, "--units", "si", "--language")


def verdict(kind: str = "natural-draft-furnace") -> work.Verdict:
    tables = {
        "visit": {"title": "Made-up visit", "date": "2026-11-25", "jurisdiction": "DE"},
        "appliance": {"words": "erfundenes Gerät", "class": kind},
        "fuel": {"name": "natural-gas"},
        "stretch": [{"word": "as found", "time": "09:00", "readings": OVER}],
    }
    return work.judged(file.taken(Source(Path("visit.toml"), tables)))


def printed(capsys: pytest.CaptureFixture[str], language: str) -> str:
    main._dispatch([*TYPED, language])
    return capsys.readouterr().out


def test_the_diagnosis_is_german_from_head_to_foot(compiled: None, capsys: pytest.CaptureFixture[str]) -> None:
    said = printed(capsys, "de")
    assert said.startswith("Was sich nicht wissen lässt\n  diese Messwerte können weder zeigen noch ausschließen: ")
    assert "Rußzahl 4 ist mehr als üblich, wie es diese Ursache bewirkt" in " ".join(said.split())
    assert "Sauerstoff im trockenen Abgas 2,1\u202f%" in " ".join(said.split(" "))
    assert not ENGLISH.search(said)
    english = printed(capsys, "en")
    assert len(english.split("\n\n")) == len(said.split("\n\n"))


def test_a_language_changes_no_order_and_no_figure_inside(compiled: None) -> None:
    asked = asked_of(kind="oil-burner", readings=(), plate={}, seen={"hose": False, "flue-seen": True})
    plain = diagnosed(asked)
    with words.speaking("de"):
        said = diagnosed(asked)
    assert said.inside.each() == plain.inside.each()
    for mine, theirs in zip(said.causes, plain.causes, strict=True):
        assert words.english(mine.words) == theirs.words != mine.words
        assert words.english(mine.do) == theirs.do
        assert [words.english(each.words) for each in mine.because] == [each.words for each in theirs.because]
    assert [words.english(each.close) for each in said.dangers] == [each.close for each in plain.dangers]


def test_the_causes_of_the_sheet_are_german(german: None) -> None:
    sheet = verdict().sheet()
    section = next(each for each in sheet.sections if each.title == words.spoken(TITLE))
    lines = ["".join(span.text for span in line.spans) for line in section.lines]
    assert section.title == "Ursachen"
    kinds = {re.split("[:,]", line)[0] for line in lines}
    assert {"Hat sich bewegt", "Gefahr", "Bleibt stehen", "Durchgestrichen", "Nächste Prüfung"} <= kinds
    assert not [line for line in (*lines, section.note) if ENGLISH.search(line)]
    assert any(re.search(r"\(Zeile \d+\)", line) for line in lines)


@pytest.mark.parametrize("kind", [name for name in load.names_of_classes() if design_of_kind(name) is not None])
def test_what_a_class_never_hears_it_does_not_hear_in_german(german: None, kind: str) -> None:
    found = causes_of(verdict(kind))
    assert found is not None
    of_class = load.load(kind)
    said = [cause.do for cause in found.said.causes] + [danger.close for danger in found.said.dangers]
    assert said
    assert not [each for each in said if refused_in(words.english(each), of_class) or refused_in(each, of_class)]


def test_advice_is_refused_by_its_english(german: None) -> None:
    of_class = load.load("condensing-boiler")
    assert "cut-air" in of_class.never
    close = words.spoken(faults()["primary-air-open"].do)
    assert close == "die Luftklappe schließen, bis die Flamme ruhig sitzt"
    assert refused_in(close, of_class) is not None


def test_a_notice_says_consent_and_safety_in_german(german: None) -> None:
    notice = Notice(words="Abgas im Raum", consent="refused", told="")
    stop = notice_stop(notice, Place(jurisdiction="DE"))
    assert stop.order.startswith("Halt. Hier wurde eine Gefahr bemerkt")
    assert stop.do[0].startswith("Das Gerät ausgeschaltet lassen")
    assert any("bevollmächtigten Bezirksschornsteinfeger" in step for step in stop.do)
    assert not [step for step in stop.do if ENGLISH.search(step)]


def test_the_plan_is_german_and_laws_keep_their_names(german: None) -> None:
    found = verdict()
    own = list(plan_of(found.account).lines)
    assert not [line.what for line in own if ENGLISH.search(line.what)]
    reasons = [why for line in own for why in line.why]
    assert not [why.words for why in reasons if why.kind != "law" and ENGLISH.search(why.words)]
    with words.speaking("en"):
        plain = plan_of(found.account)
    assert [line.key for line in plain.lines] == [line.key for line in own]
    cited = [why.words.rsplit(" (", 1)[0] for line in plain.lines for why in line.why if why.kind == "law"]
    assert cited == [why.words.rsplit(" (", 1)[0] for why in reasons if why.kind == "law"]


@pytest.mark.parametrize("asked", [("visit", "add"), ("visit", "seal"), ("visit", "close"), ("instrument", "zero")])
def test_what_writes_into_a_journal_has_no_language(asked: tuple[str, str]) -> None:
    with pytest.raises(UseError):
        main.parser_of(asked[0]).parse_args([asked[1], "1", "--language", "de"])


def test_a_language_that_nobody_has_is_refused_at_the_door() -> None:
    with pytest.raises(UseError) as caught:
        main._dispatch([*TYPED, "xx"])
    assert caught.value.code == "FW-U-320"
