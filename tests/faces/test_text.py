"""The sheet in a terminal: every sentence, no line too long, nothing that could act on the terminal."""

import re
from dataclasses import replace

import example
import pytest
from same import missing

from fluewright.report.text import text
from fluewright.report.text_parts import columns


def flowing(printed: str) -> str:
    """The text without gutters, so that broken sentences join again."""
    return "\n".join(re.sub(r"^.{12}[│|] ?", "", line) for line in printed.splitlines())


@pytest.mark.parametrize("sheet", [example.calm(), example.danger()], ids=["calm", "danger"])
def test_every_sentence_is_there(sheet: example.Sheet) -> None:
    printed = text(sheet, workings=True, width=99)
    tables = {cell for each in sheet.figures for row in each.twin.rows for cell in row} | {
        cell for each in sheet.figures for cell in each.twin.heads
    }
    lacking = [each for each in missing(sheet, printed + flowing(printed)) if each not in tables]
    narrow_cells = {"what the gas is made of", "0.000012 ± 0.000002", "94.9 % CH4, 3 % C2H6"}
    assert set(lacking) <= narrow_cells


@pytest.mark.parametrize("width", [40, 60, 72, 80, 100, 120, 300])
@pytest.mark.parametrize("plain", [False, True])
def test_no_line_is_longer_than_the_width(width: int, plain: bool) -> None:
    for sheet in (example.calm(), example.danger()):
        printed = text(sheet, width=width, plain=plain, workings=True)
        assert max(map(columns, printed.splitlines())) <= min(max(width, 60), 120)
        assert not any(line.endswith(" ") for line in printed.splitlines())


def test_plain_is_ascii_and_says_the_same_numbers() -> None:
    plain = text(example.calm(), plain=True, workings=True)
    assert plain.isascii()
    assert "?" not in plain
    assert "7.8 +/- 0.2 %" in plain
    assert "447 F" in plain


def test_marks_differ_without_colour() -> None:
    printed = text(example.calm())
    assert {"  1 ■ ", "  2 ▨ ", "  3 ┄ ", "  7 □ "} <= {line[:6] for line in printed.splitlines()}
    plain = text(example.calm(), plain=True)
    assert {"  1 # ", "  2 / ", "  3 . ", "  7 o "} <= {line[:6] for line in plain.splitlines()}


def test_colour_only_adds_codes() -> None:
    bare, dressed = text(example.calm()), text(example.calm(), colour=True)
    assert "\x1b[" not in bare
    assert re.sub(r"\x1b\[[\d;]*m", "", dressed) == bare


def test_a_stop_sentence_stands_first() -> None:
    printed = text(example.danger())
    assert printed.index("Everybody out now") < printed.index("CO alarm at Made-up Street 3")
    assert printed.index("Everybody out now") < printed.index("how much")


def test_a_typed_name_cannot_move_the_cursor() -> None:
    sheet = replace(example.calm(), title="\x1b[2J\x07boiler\u202e\r\nnext", customer_to="x" * 500)
    printed = text(sheet)
    assert "\x1b" not in printed
    assert "\x07" not in printed
    assert "\u202e" not in printed
    assert "boiler\ufffd next" in printed
    assert max(map(columns, printed.splitlines())) <= 80


def test_workings_come_on_request() -> None:
    assert "share of the doubt" not in text(example.calm())
    assert "share of the doubt" in text(example.calm(), workings=True)
