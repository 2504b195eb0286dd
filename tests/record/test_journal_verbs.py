"""The questions of `fluewright journal` about copies, people and keys, as a person types them."""

import io
import json
from pathlib import Path

import pytest
from made import new_journal
from shop import NAMES, shop_in
from test_erase import found_in

from fluewright.cli.main import main
from fluewright.record.journal import Journal


@pytest.fixture
def shop(tmp_path: Path) -> tuple[Journal, list[str], str]:
    """A journal with a customer in it: journal, options that name it, id of the customer."""
    journal, key = new_journal(tmp_path)
    made = shop_in(journal, key)
    return journal, ["--journal", journal.store.settings.database], made.customer


def said(capsys: pytest.CaptureFixture[str], *words: str, code: int = 0) -> str:
    """What the program says to some words."""
    ended = main(["journal", *words])
    out, err = capsys.readouterr()
    assert ended == code, out + err
    return out + err


def test_a_new_journal_names_its_key(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    place = ["--journal", str(tmp_path / "n" / "journal.db")]
    made = json.loads(said(capsys, "new", *place, "--json"))
    keys = json.loads(said(capsys, "keys", *place, "--json"))
    assert [(each["key"], each["this device"], each["revoked since"]) for each in keys] == [(made["key"], True, "")]
    said(capsys, "new", *place, code=5)
    out = said(capsys, "revoke", made["key"][:16], "--because", "lost", *place)
    assert "what it signed before stays good" in out
    assert "counts no more since" in said(capsys, "keys", *place)


def test_backup_and_restore_with_words(
    tmp_path: Path, shop: tuple[Journal, list[str], str], capsys: pytest.CaptureFixture[str]
) -> None:
    journal, place, _ = shop
    made = json.loads(said(capsys, "backup", str(tmp_path / "stick"), "--words", *place, "--json"))
    assert made["backup"].endswith(".locked") and len(made["words"].split()) == 8
    (tmp_path / "words").write_text(made["words"])
    new = ["--journal", str(tmp_path / "n" / "journal.db")]
    assert "FW-J-043" in said(capsys, "restore", made["backup"], *new, "--no-input", code=3)
    anchor = ["--anchor", made["anchors"][0]]
    out = said(capsys, "restore", made["backup"], *new, "--words-from", str(tmp_path / "words"), *anchor)
    assert "as a new device" in out and journal.device in out
    assert "whole: nothing was found" in said(capsys, "check", "--all", *new)
    assert "FW-J-052" in said(capsys, "restore", str(tmp_path / "gone"), "--journal", str(tmp_path / "m.db"), code=3)
    plain = said(capsys, "backup", str(tmp_path / "stick"), *place)
    assert "proven" in plain and "words" not in plain


def test_words_are_taken_from_standard_input(
    tmp_path: Path, shop: tuple[Journal, list[str], str], capsys: pytest.CaptureFixture[str],
    monkeypatch: pytest.MonkeyPatch,
) -> None:  # fmt: skip
    words = "lusab babad gutih tugad gutuk bisog mudof sakat"
    for verb in (["backup", str(tmp_path / "stick"), *shop[1]],
                 ["restore", "", "--journal", str(tmp_path / "n" / "journal.db")]):  # fmt: skip
        monkeypatch.setattr("sys.stdin", io.StringIO(words.upper()))
        verb[1] = verb[1] or str(next((tmp_path / "stick").glob("*.locked")))
        out = said(capsys, *verb, "--words-from", "-")
        assert "lusab" not in out.lower()


def test_export_check_and_import(
    tmp_path: Path, shop: tuple[Journal, list[str], str], capsys: pytest.CaptureFixture[str]
) -> None:
    _, place, customer = shop
    out = said(capsys, "export", str(tmp_path / "out"), "--tables", "csv", *place)
    assert "verify_journal.py" in out and (tmp_path / "out" / "tables" / "customer.csv").exists()
    other = ["--journal", str(tmp_path / "n" / "journal.db")]
    assert json.loads(said(capsys, "import", str(tmp_path / "out"), *other, "--json"))["taken in"] == 16
    said(capsys, "export", str(tmp_path / "again"), "--without-people", *other)
    assert found_in(tmp_path / "again", [word.encode() for word in NAMES]) == {}
    part = said(capsys, "export", str(tmp_path / "year"), "--year", "2026", *place)
    assert "entries of 2026" in part and customer


def test_hold_erase_and_lift(
    tmp_path: Path, shop: tuple[Journal, list[str], str], capsys: pytest.CaptureFixture[str]
) -> None:
    _, place, customer = shop
    why = ["--because", "asked for by letter"]
    hold = json.loads(said(capsys, "hold", customer, "--because", "a claim", *place, "--json"))["hold"]
    assert "FW-U-611" in said(capsys, "hold", customer, "--because", "x", "--until", "soon", *place, code=2)
    shown = said(capsys, "erase", customer, *why, "--dry-run", *place)
    assert "held: a claim" in shown and "do not say where they were" in shown
    assert "FW-N-036" in said(capsys, "erase", customer, *why, *place, code=5)
    said(capsys, "backup", str(tmp_path / "stick"), *place)
    said(capsys, "lift", hold, "--because", "settled", *place)
    out = said(capsys, "erase", customer, *why, *place)
    assert "still holding it" in out and "journal_2026" in out
    assert found_in(tmp_path / "shop", [word.encode() for word in NAMES]) == {}
    assert "whole: nothing was found" in said(capsys, "check", "--all", *place)
