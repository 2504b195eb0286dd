"""Every published value, one test each, and the form of the files that hold them."""

import ast
import importlib
import json
import re
from collections import Counter
from dataclasses import replace
from pathlib import Path

import pytest

from fluewright.checks import run
from fluewright.checks.rows import KNOWN, Row, Source, rows_of
from fluewright.errors import OurFault

ROWS = run.rows()
REFERENCE = Path(__file__).resolve().parents[2].parent / "shared" / "reference"
LISTS = {"combustion-checks.json": 554, "practice-checks.json": 75, "service-checks.json": 291}

IN_FIGURES = {
    "I": [1.0], "II": [2.0], "III": [3.0], "IV": [4.0],
    "March 1": [301.0], "2028-05-24": [20280524.0],
}  # fmt: skip
"""What a list says in words, as the row has it in figures."""


@pytest.mark.parametrize("row", ROWS, ids=lambda row: row.id)
def test_a_published_value_is_found_again(row: Row) -> None:
    outcome = run.outcome(row)
    explained = row.id in run.not_met()
    assert outcome.missed == explained, (
        f"{row.topic}: printed {row.expected} {row.unit} ± {row.tolerance}, found {outcome.found}"
        f" ({outcome.share_of_tolerance:.2f} of the tolerance); {row.source.document}, {row.source.place}"
    )


def test_there_are_enough_of_them() -> None:
    assert len(ROWS) >= 920
    assert len({row.source.key for row in ROWS}) >= 50


def test_every_row_says_where_it_comes_from_and_why_its_tolerance() -> None:
    for row in ROWS:
        assert row.source.known in KNOWN
        assert row.source.document.strip(), row.id
        assert row.source.edition.strip(), row.id
        assert row.source.place.strip(), row.id
        assert row.source.seen.strip(), row.id
        assert len(row.tolerance_reason) > 1, row.id
        assert row.topic.strip(), row.id


def test_no_two_rows_share_an_id() -> None:
    twice = [name for name, count in Counter(row.id for row in ROWS).items() if count > 1]
    assert not twice


def test_a_source_key_means_the_same_in_every_file() -> None:
    meaning: dict[str, Source] = {}
    for row in ROWS:
        assert meaning.setdefault(row.source.key, row.source) == row.source


def test_what_is_known_only_from_memory_says_so() -> None:
    for row in ROWS:
        if row.source.seen.startswith("not seen"):
            assert row.source.known == "from memory", row.source.key


def test_a_tolerance_of_zero_is_for_constants_and_decisions() -> None:
    exact = [row for row in ROWS if row.tolerance == 0.0]
    assert exact
    spoken = re.compile(r"constant|threshold|decision|limit|DIN 1333|normative|exact")
    assert not [row.id for row in exact if not spoken.search(row.tolerance_reason)]


def test_a_wrong_value_is_missed() -> None:
    row = next(row for row in ROWS if row.asks == "efficiency_gross" and row.tolerance > 0.0)
    wrong = replace(row, expected=(row.expected[0] + 3.0 * row.tolerance,))
    assert not run.outcome(row).missed
    assert run.outcome(wrong).missed
    constant = next(row for row in ROWS if row.tolerance == 0.0 and row.asks == "limit")
    assert run.outcome(replace(constant, expected=(constant.expected[0] * (1.0 + 1e-9),))).missed


def test_every_adapter_is_asked_and_every_question_has_an_adapter() -> None:
    asked = {row.asks for row in ROWS}
    assert asked == set(run.ASKS)


def test_no_two_adapters_share_a_name() -> None:
    files = Path(run.__file__).parent.glob("*_asks.py")
    names = [name for path in files for name in importlib.import_module(f"fluewright.checks.{path.stem}").ASKS]
    assert not [name for name, count in Counter(names).items() if count > 1]


def test_no_adapter_knows_an_expected_value() -> None:
    """Expected numbers of three digits and more stand in the data, never in the code that should find them."""
    written = set()
    for path in Path(run.__file__).parent.glob("*_asks.py"):
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(node, ast.Constant) and isinstance(node.value, float):
                written.add(node.value)
    printed = {
        value for row in ROWS for value in row.expected if len(f"{value:.12g}".strip("-0.").replace(".", "")) > 2
    }
    assert not written & printed


@pytest.mark.parametrize(("name", "count"), LISTS.items(), ids=LISTS)
def test_nothing_was_dropped_or_loosened(name: str, count: int) -> None:
    path = REFERENCE / name
    if not path.is_file():
        pytest.skip(f"the reference list {name} is not beside this checkout")
    listed = json.loads(path.read_text(encoding="utf-8"))
    assert len(listed) == count
    ours = {row.id: row for row in ROWS}
    for entry in listed:
        row = ours[entry["id"]]
        expected = entry["expected"]
        if isinstance(expected, str):
            assert list(row.expected) == IN_FIGURES[expected], row.id
        else:
            assert list(row.expected) == (expected if isinstance(expected, list) else [expected]), row.id
        assert row.tolerance <= entry["tolerance"], row.id
        assert row.source.known == entry["how"], row.id


GOOD = """
[sources.s]
document = "d"
edition = "e"
place = "p"
seen = "s"
known = "read"
[[rows]]
id = "X-1"
topic = "t"
asks = "limit"
expected = 1.0
unit = "%"
tolerance = 0.0
reason = "constant"
source = "s"
"""


def test_a_good_file_is_taken() -> None:
    (row,) = rows_of(text=GOOD, file="good.toml")
    assert row.expected == (1.0,)


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        ('place = "p"\n', "", "place"),
        ('known = "read"', 'known = "hearsay"', "hearsay"),
        ('reason = "constant"\n', "", "reason"),
        ('unit = "%"', 'unit = "furlong"', "furlong"),
        ('source = "s"', 'source = "other"', "other"),
        ("[[rows]]", "[[rose]]", "rose"),
        ("expected = 1.0", "expected = ", "line"),
    ],
    ids=["no place", "known how", "no reason", "unit", "source", "table", "not TOML"],
)
def test_a_broken_file_is_refused_with_what_is_wrong(old: str, new: str, said: str) -> None:
    with pytest.raises(OurFault) as caught:
        rows_of(text=GOOD.replace(old, new), file="broken.toml")
    assert said in caught.value.sentence()
    assert caught.value.where.startswith("broken.toml")


def test_the_efficiency_table_lies_below_first_principles_everywhere() -> None:
    """Steam Tip Sheet 4 is pessimistic by 0.3 to 0.8 points, more where it is hotter: one sign, no scatter."""
    found = [run.outcome(row) for row in ROWS if row.file == "doe-tip-sheet-4.toml" and row.asks == "efficiency_gross"]
    assert len(found) == 25
    assert all(0.25 < outcome.deviation < 0.8 for outcome in found)
