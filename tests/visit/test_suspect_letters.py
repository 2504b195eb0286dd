"""Letters drafted after a calibration: one for each customer, care first, words of a house, and nothing sent."""

import contextlib
import io
from collections.abc import Iterator
from datetime import timedelta
from pathlib import Path

import pytest
from doubted_shop import BACK, GOOD, drafts, tree

from fluewright.cli import main
from fluewright.errors import UseError
from fluewright.record.journal import Journal
from fluewright.record.opening import made as journal_made
from fluewright.record.settings import Settings
from fluewright.visit import reverse, shelf, suspect_letters


@pytest.fixture
def journal(tmp_path: Path) -> Iterator[Journal]:
    """A shop with three visits: two at one customer's, of which one may stop, and one that does not change."""
    found = journal_made(Settings(str(tmp_path / "journal.db")), device_name="test")
    meter = shelf.entered(found, "the grey meter").id
    shelf.calibrated(found, meter, day=GOOD.isoformat(), found={"carbon_monoxide": "-1 %"})
    for number, (monoxide, room) in enumerate(((285, 0), (70, 0), (5, 0), (3, 8))):
        told = tree(number, GOOD + timedelta(days=10 + number), monoxide, "5.0", room=room)
        told["visit"] |= {"customer": "Ms. Madeup (invented)" if number < 2 else f"customer {number} (invented)",
                          "site": "1 Nowhere Row" if number < 2 else f"{number} Nowhere Row",
                          "emergency": "999 (invented)"}  # fmt: skip
        found.add_all(drafts(number, told, meter))
    shelf.calibrated(found, meter, day=BACK.isoformat(), found={"carbon_monoxide": "100 ppm read 82 ppm"})
    yield found
    found.store.close()


def letters(journal: Journal, revisit: str = "") -> tuple[suspect_letters.Letter, ...]:
    meter = shelf.instrument_of(journal, "the grey meter", BACK).id
    return suspect_letters.drafted(journal, reverse.traced(journal, shelf.found_off(journal, meter)), revisit=revisit)


def test_one_letter_for_each_customer_and_none_for_whom_nothing_changed(journal: Journal) -> None:
    made = letters(journal)
    assert sorted(len(one.visits) for one in made) == [1, 2]
    assert any("Ms. Madeup (invented)" in one.to for one in made)
    assert not any("customer 2 (invented)" in one.text() for one in made)


def test_care_stands_before_everything_and_what_stops_is_left_off(journal: Journal) -> None:
    worst = next(one for one in letters(journal) if len(one.visits) == 2)
    said = " ".join(worst.text().split())
    assert worst.paragraphs[0].kind == "care"
    assert said.index("leave it off until one of us") < said.index("Carbon monoxide has no smell")
    assert said.index("call 999 (invented)") < said.index("18 parts in 100 too little carbon monoxide")
    assert "When that began nobody knows" in said
    assert "no permission to operate" in said
    assert all(len(line) <= 78 for line in worst.text().splitlines())


def test_the_words_are_those_of_a_house_and_the_trade_stands_behind_them(journal: Journal) -> None:
    room = next(one for one in letters(journal) if len(one.visits) == 1)
    listed = [sentence for each in room.paragraphs if each.kind == "list" for sentence in each.sentences]
    assert listed
    assert all(sentence.startswith("The carbon monoxide in the air of your rooms") for sentence in listed)
    assert not any("air-free" in sentence or "free of air" in sentence for sentence in listed)


def test_the_page_runs_nothing_and_shows_what_was_typed_as_typed(journal: Journal) -> None:
    page = suspect_letters.Letter("x", ("<script>a</script>",), ("v",), letters(journal)[0].paragraphs).html()
    assert "<script" not in page
    assert "&lt;script&gt;" in page
    assert "http" not in page


def test_letters_are_written_once_nothing_is_entered_and_nothing_replaced(journal: Journal, tmp_path: Path) -> None:
    before = sum(anchor.sequence for anchor in journal.anchors())
    out, arguments = io.StringIO(), ["instrument", "suspect", "the grey meter", "--letters", str(tmp_path / "letters")]
    with contextlib.redirect_stdout(out):
        assert main.main([*arguments, "--journal", str(tmp_path / "journal.db")]) == 1
    assert "2 letters drafted" in out.getvalue()
    assert "Nothing was sent" in out.getvalue()
    assert len(list((tmp_path / "letters").iterdir())) == 4
    assert sum(anchor.sequence for anchor in journal.anchors()) == before
    with pytest.raises(UseError, match="already there"):
        suspect_letters.written(letters(journal), tmp_path / "letters")
