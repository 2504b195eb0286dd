"""What a notice asks for by the answer about shutting down, by place: cited or marked, never silent."""

import datetime

import pytest

from fluewright.errors import RuleError
from fluewright.evidence.reading import Notice
from fluewright.report.notices import Place, notice_stop
from fluewright.rules import consent

DAY = datetime.date(2026, 11, 25)


@pytest.mark.parametrize("answer", ["before", "yes", "refused", "absent"])
@pytest.mark.parametrize("place", ["", "US", "US-CA", "GB", "DE", "NZ"])
def test_every_answer_has_a_step_everywhere(answer: consent.Consent, place: str) -> None:
    steps = consent.speaking(answer=answer, jurisdiction=place, day=DAY)
    assert steps
    assert all(one.authority for one in steps)


def test_a_refusal_has_its_own_steps_in_each_country() -> None:
    told = {
        place: [one.text for one in consent.speaking(answer="refused", jurisdiction=place, day=DAY)]
        for place in ("", "US", "GB", "DE")
    }
    for place in ("US", "GB", "DE"):
        assert told[place][-len(told[""]) :] == told[""], "steps of the place stand before those for everywhere"
        assert len(told[place]) > len(told[""])
    assert len({tuple(each) for each in told.values()}) == 4


def test_a_law_speaks_from_its_day_on_and_says_how_it_is_known() -> None:
    steps = consent.speaking(answer="refused", jurisdiction="GB", day=DAY)
    law = [one for one in steps if one.known == "read"]
    assert [one.authority for one in law] == ["Gas Safety (Installation and Use) Regulations 1998, 26(9), read"]
    before = consent.speaking(answer="refused", jurisdiction="GB", day=datetime.date(1990, 1, 1))
    assert not [one for one in before if one.known == "read"]


def test_only_read_texts_are_called_law() -> None:
    assert all(one.known in ("read", "common practice, no source") for one in consent.steps())


def test_the_notice_says_its_steps_after_what_keeps_people_safe() -> None:
    stop = notice_stop(Notice("spills", "refused", told="the owner"), Place(jurisdiction="GB", day=DAY))
    assert stop.do[0].startswith("Leave the appliance off")
    assert any("gas emergency service" in each for each in stop.do)
    assert "26(9), read" in stop.why
    assert "common practice, no source" in stop.why


def test_a_row_with_another_answer_is_refused() -> None:
    row = {"id": "x", "answers": ["maybe"]}
    with pytest.raises(RuleError, match="maybe"):
        consent.step_of(row)
