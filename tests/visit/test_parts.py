"""What is measured beside the flame: one form for sheet, record and judgement, whatever the part of the job."""

from dataclasses import dataclass, replace
from datetime import date

import pytest

from fluewright.errors import PhysicsRefused
from fluewright.evidence.finding import PRACTICE, Finding
from fluewright.evidence.part import Derived, Part, Seen, SoFar, Statement, Voiced
from fluewright.evidence.reading import Reading
from fluewright.evidence.reckon import Reckoning, refused
from fluewright.quantity import parse
from fluewright.visit import one_part, work

PRESSURE = Reading("gas_pressure", parse.parse("3.5 in w.c.", quantity="gas_pressure"))


@dataclass(frozen=True)
class Doubled:
    """An invented part: twice a pressure that was read, and something that cannot be had."""

    word: str = "invented part"
    late: bool = False
    grave: bool = False
    fine: bool = False

    def worked(self, so_far: SoFar) -> Part:
        reckoning = Reckoning(so_far.account)
        twice = 2.0 * reckoning.read(PRESSURE)
        result = reckoning.result(
            "gas_pressure", twice, formula="2 x pressure", substitution="2 x 3.5", source="this test", holds="always"
        )
        finding = Finding(
            "invented",
            "fine" if self.fine else "act",
            "It is doubled.",
            "By hand.",
            ((self.word, "doubled"),),
            PRACTICE,
        )
        return Part(
            word=self.word,
            title="An invented part",
            place="supply",
            statements=(
                Statement(
                    ("pressure ", Seen("pressure", PRESSURE), ", twice that ", Derived("doubled"), "."), time="09:00"
                ),
                Statement((Voiced("as the shop says"), "."), mark="plate", margin="a remark"),
            ),
            results={"doubled": result, "lost": refused("draft", "nobody read it")},
            findings=(finding,) if self.grave or self.fine else (),
            cannot_tell=(f"What came before: {sorted(so_far.parts)}.",),
        )


def test_a_part_is_printed_with_its_working_and_its_refusal() -> None:
    verdict = one_part.answered([Doubled()])
    sheet = verdict.sheet(brief=True)
    (section,) = sheet.sections
    words = ["".join(span.text for span in line.spans) for line in section.lines]
    assert words[0].startswith("Pressure 3.5")
    assert "twice that 7.0" in words[0]
    assert words[1] == "As the shop says."
    assert words[2].startswith("Refused: draft. Nobody read it.")
    (opened,) = sheet.workings
    assert opened.key == "invented-part-doubled"
    assert opened.line == section.lines[0].number
    assert opened.result.spread == pytest.approx(2.0 * 4.9, rel=0.6)


def test_findings_of_a_part_point_at_its_lines() -> None:
    sheet = one_part.answered([Doubled(grave=True)]).sheet(brief=True)
    (found,) = sheet.findings
    assert found.lines == (sheet.sections[0].lines[0].number,)


def test_what_rests_on_the_rest_is_worked_out_last() -> None:
    verdict = one_part.answered([Doubled(word="late", late=True), Doubled(word="early")])
    assert [part.word for part in verdict.parts] == ["early", "late"]
    assert verdict.judged.cannot_tell == ("What came before: [].", "What came before: ['early'].")


def test_the_record_holds_readings_and_results_of_a_part() -> None:
    (part,) = one_part.answered([Doubled()]).sheet(brief=True).readings["parts"]
    assert part["readings"]["pressure"]["typed"] == "3.5 in w.c."
    assert part["results"]["doubled"]["value"] == pytest.approx(2 * 3.5 * 249.08891)
    assert part["results"]["lost"]["refused"] == "nobody read it"


@dataclass(frozen=True)
class Impossible:
    """An invented part that no nature allows."""

    late: bool = False

    def worked(self, so_far: SoFar) -> Part:
        raise PhysicsRefused(code="FW-K-999", read="a wonder", expected="none", matters="nature", do="look again")


def test_a_part_that_physics_refuses_hides_no_other() -> None:
    account = one_part.answered([Doubled(grave=True)]).account
    verdict = work.judged(replace(account, parts=(Impossible(), Doubled(grave=True))))
    codes = [finding.code for finding in verdict.judged.findings]
    assert "invented" in codes
    assert "not-worked-out" in codes
    printed = [section.title for section in verdict.sheet(brief=True).sections]
    assert printed == ["An invented part", "Not worked out"]


def test_alone_it_is_refused_outright() -> None:
    with pytest.raises(PhysicsRefused):
        one_part.answered([Impossible()])


@dataclass(frozen=True)
class Endless:
    """An invented part whose figures divide by nothing."""

    late: bool = False

    def worked(self, so_far: SoFar) -> Part:
        raise ZeroDivisionError


def test_figures_that_lead_nowhere_are_refused_in_four_parts() -> None:
    with pytest.raises(PhysicsRefused) as caught:
        one_part.answered([Endless()])
    assert caught.value.code == "FW-K-010"
    assert all(part for key, part in caught.value.parts().items() if key != "where")
    account = one_part.answered([Doubled(grave=True)]).account
    codes = {f.code for f in work.judged(replace(account, parts=(Endless(), Doubled(grave=True)))).judged.findings}
    assert {"invented", "not-worked-out"} <= codes


def test_an_instrument_out_of_date_clears_nothing_beside_the_flame() -> None:
    account = one_part.answered([Doubled(fine=True)]).account
    late = replace(account, instrument=replace(account.instrument, due=date(2000, 1, 1)))
    (fresh,) = [f for f in work.judged(account).judged.findings if f.code == "invented"]
    (stale,) = [f for f in work.judged(late).judged.findings if f.code == "invented"]
    assert fresh.grade == "fine"
    assert stale.grade == "open"
    assert "out of date" in stale.body
