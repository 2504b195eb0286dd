"""Findings that meet: raised, never lowered, and every code that a row names is one that the program can say."""

import re
from fnmatch import fnmatchcase
from itertools import product
from pathlib import Path

import pytest

from fluewright.errors import RuleError
from fluewright.evidence.finding import ORDER, PRACTICE, Finding, Grade
from fluewright.evidence.together import together
from fluewright.report.plain import BY_CODE
from fluewright.report.words.together import WORDS
from fluewright.rules import load
from fluewright.rules.together import rows, rows_of

SOURCE = Path(__file__).parents[2] / "src" / "fluewright"


def finding(code: str, grade: Grade) -> Finding:
    return Finding(code, grade, f"{code} was found.", "", (("as found", code),), PRACTICE)


def example(pattern: str) -> str:
    return pattern.replace("*", "x")


def test_they_raise_and_never_lower() -> None:
    grades: tuple[Grade, ...] = ("stop", "act", "advise", "open", "cured", "fine")
    for row in rows():
        sides = [example(family[0]) for family in row.families]
        for pair in product(grades, repeat=2):
            made = [each for each in together([*map(finding, sides, pair)]) if each.code == row.id]
            wrong = all(grade in ("stop", "act", "advise") for grade in pair)
            graver = all(ORDER.index(grade) > ORDER.index(row.severity) for grade in pair)
            assert bool(made) == (wrong and graver), (row.id, pair)
            assert all(each.grade == row.severity for each in made)


def test_carbon_monoxide_with_spillage_is_a_stop_with_all_its_evidence() -> None:
    made = together([finding("practice-co-advise", "advise"), finding("spills-alone", "act"), finding("other", "act")])
    assert [(each.code, each.grade) for each in made] == [("monoxide-spills", "stop")]
    assert made[0].evidence == (("as found", "practice-co-advise"), ("as found", "spills-alone"))
    assert "practice-co-advise was found; spills-alone was found" in made[0].body
    assert made[0].cautions and made[0].do_now


def test_one_finding_alone_meets_nothing() -> None:
    for row in rows():
        for family in row.families:
            assert not together([finding(example(family[0]), "advise")])


def test_every_code_named_is_one_that_the_program_says() -> None:
    texts = "".join(path.read_text(encoding="utf-8") for path in (SOURCE / "evidence").rglob("*.py"))
    known = set(re.findall(r'"([a-z]+(?:-[a-z0-9]+)+)"', texts)) | {rule.id for rule in load.limits()}
    house = (SOURCE / "appliance" / "house.toml").read_text(encoding="utf-8")
    known |= {f"house-{key}" for key in re.findall(r'key = "([^"]+)"', house)}
    known |= set(BY_CODE) - set(WORDS)
    for row in rows():
        for pattern in (each for family in row.families for each in family):
            assert any(fnmatchcase(code, pattern) for code in known), pattern


def test_each_has_words_for_the_house() -> None:
    assert set(WORDS) == {row.id for row in rows()}


@pytest.mark.parametrize(
    ("was", "now"),
    [('severity = "act"', 'severity = "loud"'), ('families = ["a", "b"]', 'families = ["a", "c"]'),
     ('families = ["a", "b"]', 'families = ["a"]'), ('next = []', 'then = []')],
)  # fmt: skip
def test_a_row_that_does_not_hold_is_refused(was: str, now: str) -> None:
    text = '[families]\na = ["x"]\nb = ["y"]\n[[together]]\nid = "r"\nfamilies = ["a", "b"]\nseverity = "act"\n'
    text += 'lead = "l"\ntext = "t"\nnext = []\n'
    assert rows_of(text=text, file="x.toml")[0].id == "r"
    with pytest.raises(RuleError):
        rows_of(text=text.replace(was, now), file="x.toml")
