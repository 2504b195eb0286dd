"""Exports: readable and checkable without this program, and taken in again under equal hashes (trust test 24)."""

import csv
import json
import shutil
import sqlite3
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

import pytest
from made import PEOPLE, exchanged, new_journal, reading, visit_in
from shop import NAMES, PHOTO, shop_in

from fluewright.errors import EntryError, NotAllowed, RecordDamaged
from fluewright.record.amend import amended, struck
from fluewright.record.check import every
from fluewright.record.erase import erased
from fluewright.record.erased import left_in
from fluewright.record.export import Export, exported, of_visit, of_year
from fluewright.record.journal import Draft, Journal
from fluewright.record.keys import revoked
from fluewright.record.opening import opened
from fluewright.record.seal_check import verified
from fluewright.record.settings import Settings
from fluewright.record.sheets import PIVOT, CsvSheets, ParquetSheets, laid_out, safe
from fluewright.record.store import Store
from fluewright.record.take_in import taken_in
from trust import told


def ran(folder: Path, program: str = "verify_journal.py") -> tuple[int, str]:
    """What a bare Python says of an export: no packages, no paths but its own."""
    command = [sys.executable, "-I", "-S", str(folder / program)]
    done = subprocess.run(command, capture_output=True, text=True, cwd="/", check=False, timeout=60)
    return done.returncode, done.stdout + done.stderr


def bare(tmp_path: Path, name: str = "bare") -> Journal:
    """A journal that has not even its own device in it."""
    store = Store(Settings(str(tmp_path / name / "journal.db")))
    store.make()
    return Journal(store, "01980000-0000-7000-8000-000000000001")


def test_an_export_is_checked_by_a_bare_python_and_taken_in_under_equal_hashes(tmp_path: Path) -> None:
    """Trust test 24, and the half of 17 that needs no server."""
    journal, key = new_journal(tmp_path)
    shop = shop_in(journal, key)
    made = exported(journal, tmp_path / "out")
    code, said = ran(made.folder)
    assert code == 0, said
    assert f"entries {made.entries}, devices 1, texts about people {made.values} of {made.values}, files 2" in said
    assert ran(made.folder, "verify_seals.py") == (0, seal_line(journal, shop.visit))

    other = bare(tmp_path)
    taken = taken_in(other, made.folder)
    assert (taken.entries, taken.values, taken.files) == (made.entries, made.values, 2) and not taken.left
    again = exported(other, tmp_path / "again")
    for name in ("journal.jsonl", "people.jsonl", "anchors.txt"):
        assert (made.folder / name).read_bytes() == (again.folder / name).read_bytes()
    assert every(other.store).wrong == [] and verified(other, shop.visit).holds
    assert taken_in(other, made.folder).already == made.entries
    told(24, "complete copy", entries=made.entries, hashes_equal=taken.entries, values=taken.values)


def seal_line(journal: Journal, visit: str) -> str:
    """What the program says of the seal."""
    seal = verified(journal, visit).seals[0].entry
    return f"seal {seal.id} of visit {visit}: holds ({seal.body['meaning']})\n"


def test_without_people_nothing_about_them_goes_along_and_all_still_verifies(tmp_path: Path) -> None:
    journal, key = new_journal(tmp_path)
    shop = shop_in(journal, key)
    made = exported(journal, tmp_path / "out", people=False)
    words = [word.encode() for word in (*NAMES, "Torvald", "Barnaby")]
    assert not [path for path in made.folder.rglob("*") if path.is_file() and left_in(path, words)]
    assert made.files == 1 and not (made.folder / "people.jsonl").exists()
    assert ran(made.folder)[0] == 0 and ran(made.folder, "verify_seals.py")[0] == 0
    other = bare(tmp_path)
    taken_in(other, made.folder)
    assert other.entry(shop.customer).body["name"] == "(erased)"  # type: ignore[union-attr]
    assert verified(other, shop.visit).holds


def changed_word(folder: Path) -> None:
    path = folder / "journal.jsonl"
    path.write_text(path.read_text("utf-8").replace('"4.3 %"', '"4.1 %"', 1), "utf-8")


def lines_of(folder: Path, change: Callable[[list[str]], list[str]]) -> None:
    path = folder / "journal.jsonl"
    path.write_text("".join(change(path.read_text("utf-8").splitlines(keepends=True))), "utf-8")


def with_people(folder: Path, old: str, new: str) -> None:
    path = folder / "people.jsonl"
    path.write_text(path.read_text("utf-8").replace(old, new), "utf-8")


BENT: dict[str, tuple[Callable[[Path], None], str]] = {
    "a figure changed": (changed_word, "does not follow the entry before it"),
    "an entry taken out": (lambda f: lines_of(f, lambda x: x[:5] + x[6:]), "entries 6 to 6 are missing"),
    "two swapped": (lambda f: lines_of(f, lambda x: [*x[:5], x[6], x[5], *x[7:]]), "entries 6 to 6 are missing"),
    "an entry twice": (lambda f: lines_of(f, lambda x: [*x[:6], x[5], *x[6:]]), "its number was there before"),
    "the end cut": (lambda f: lines_of(f, lambda x: x[:-3]), "anchor: entry"),
    "spaces put in": (lambda f: lines_of(f, lambda x: [x[0].replace(",", ", ", 1), *x[1:]]), "not in canonical form"),
    "half a line": (lambda f: lines_of(f, lambda x: [*x[:-1], x[-1][:40]]), "cannot be read"),
    "a value changed": (lambda f: with_people(f, "Wendeline", "Gwendolyn"), "no entry committed to this value"),
    "a photo changed": (lambda f: next((f / "files").rglob("*/*")).write_bytes(b"x") and None, "not the file"),
    "a foreign anchor": (lambda f: (f / "anchors.txt").open("a").write(f"other 7 {'0' * 64}\n") and None, "anchor"),
}  # fmt: skip


@pytest.mark.parametrize("name", BENT)
def test_a_bent_export_is_noticed_by_a_bare_python_and_not_taken_in_as_whole(tmp_path: Path, name: str) -> None:
    journal, key = new_journal(tmp_path)
    shop_in(journal, key)
    made = exported(journal, tmp_path / "out")
    bend, words = BENT[name]
    bend(made.folder)
    code, said = ran(made.folder)
    assert code == 1 and "NOT WHOLE. First: " in said and words in said
    other = bare(tmp_path)
    try:
        taken = taken_in(other, made.folder)
    except RecordDamaged:
        assert every(other.store).entries == 0
    else:
        assert taken.entries <= made.entries and every(other.store).wrong == []
        assert "Gwendolyn" not in json.dumps([read.body for read in other.of_kind("customer")], default=str)


@pytest.mark.parametrize("where", ["reading", "signature", "meaning"])
def test_a_bent_seal_is_noticed_by_a_bare_python(tmp_path: Path, where: str) -> None:
    journal, key = new_journal(tmp_path)
    shop = shop_in(journal, key)
    made = exported(journal, tmp_path / "out")
    seal = verified(journal, shop.visit).seals[0].entry
    signature = str(seal.body["signature"])
    old, new = {
        "reading": ('"4.3 %"', '"4.1 %"'),
        "signature": (signature, ("0" if signature[0] != "0" else "1") + signature[1:]),
        "meaning": ("tested and left so", "tested and left sad"),
    }[where]
    path = made.folder / "journal.jsonl"
    path.write_text(path.read_text("utf-8").replace(old, new), "utf-8")
    assert ran(made.folder, "verify_seals.py")[0] == 1


def test_one_visit_and_one_year_can_be_checked_for_themselves(tmp_path: Path) -> None:
    journal, key = new_journal(tmp_path)
    shop = shop_in(journal, key)
    for part in (of_visit(journal, shop.visit), of_year(2026)):
        made = exported(journal, tmp_path / part.words.split()[0], part=part)
        code, said = ran(made.folder)
        assert code == 0 and part.words in said
        assert ran(made.folder, "verify_seals.py") == (0, seal_line(journal, shop.visit))
        with pytest.raises(EntryError, match="FW-J-051"):
            taken_in(bare(tmp_path, part.words[:4]), made.folder)
    held = (tmp_path / "visit" / "journal.jsonl").read_text("utf-8")
    assert shop.customer in held and shop.site in held and shop.other_visit not in held
    assert "Barnaby" not in (tmp_path / "visit" / "people.jsonl").read_text("utf-8")
    assert exported(journal, tmp_path / "1999", part=of_year(1999)).entries == 2  # the keys


def test_a_damaged_journal_gives_all_that_is_sound(tmp_path: Path) -> None:
    journal, key = new_journal(tmp_path)
    shop = shop_in(journal, key)
    whole = exported(journal, tmp_path / "whole")
    journal.store.close()
    with sqlite3.connect(journal.store.settings.path()) as raw:
        for (name,) in raw.execute("SELECT name FROM sqlite_master WHERE type = 'trigger'").fetchall():
            raw.execute(f"DROP TRIGGER {name}")
        raw.execute("UPDATE entry SET text = replace(text, '4.3 %', '4.1 %') WHERE text LIKE '%4.3 %%'")
    photo = next(path for path in journal.store.settings.files_folder().rglob("*/*") if path.read_bytes() == PHOTO)
    photo.write_bytes(b"scratched")
    found = opened(journal.store.settings)
    made = exported(found.journal, tmp_path / "out")
    assert made.entries == whole.entries - 1 and made.files == 1
    assert any("not the one that was kept" in each for each in made.skipped)
    assert json.loads((made.folder / "about.json").read_text("utf-8"))["skipped"] == made.skipped
    code, said = ran(made.folder)
    assert code == 1 and "are missing" in said
    other = bare(tmp_path)
    taken = taken_in(other, made.folder)
    assert taken.left and "and all after it" in taken.left[0] and every(other.store).wrong == []
    assert other.entry(shop.customer) is not None


def test_an_export_goes_into_an_empty_folder_only(tmp_path: Path) -> None:
    journal, _ = new_journal(tmp_path)
    exported(journal, tmp_path / "out")
    with pytest.raises(NotAllowed, match="FW-N-038"):
        exported(journal, tmp_path / "out")


@pytest.mark.parametrize("about", ["", "{}", "[]", '{"form": "another", "part": ""}'])
def test_what_is_no_export_is_told(tmp_path: Path, about: str) -> None:
    (tmp_path / "about.json").write_text(about)
    with pytest.raises(EntryError, match="FW-J-051"):
        taken_in(bare(tmp_path), tmp_path)


def test_two_journals_meet_by_their_exports(tmp_path: Path) -> None:
    one, key = new_journal(tmp_path, "one")
    other, _ = new_journal(tmp_path, "other")
    shop_in(one, key)
    visit = visit_in(other)
    taken_in(one, exported(other, tmp_path / "a").folder)
    taken_in(other, exported(one, tmp_path / "b").folder)
    lines = [exported(each, tmp_path / name).folder / "journal.jsonl" for each, name in ((one, "c"), (other, "d"))]
    assert lines[0].read_bytes() == lines[1].read_bytes()
    assert one.entry(visit) is not None
    assert every(one.store).wrong == every(other.store).wrong == []


def test_an_entry_that_contradicts_one_that_is_here_takes_nothing_in(tmp_path: Path) -> None:
    journal, _ = new_journal(tmp_path)
    visit = visit_in(journal)
    early = exported(journal, tmp_path / "early").folder
    copied = tmp_path / "copy"
    shutil.copytree(tmp_path / "shop", copied)
    fork = opened(Settings(str(copied / "journal.db"))).journal
    reading(journal, visit, "ours")
    reading(fork, visit, "theirs")
    with pytest.raises(RecordDamaged, match="FW-R-035"):
        taken_in(journal, exported(fork, tmp_path / "fork").folder)
    assert taken_in(journal, early).entries == 0 and every(journal.store).wrong == []


def test_what_was_erased_here_does_not_come_back_by_an_older_export(tmp_path: Path) -> None:
    journal, key = new_journal(tmp_path)
    shop = shop_in(journal, key)
    old = exported(journal, tmp_path / "old").folder
    erased(journal, shop.customer, because="asked for by letter")
    taken = taken_in(journal, old)
    assert journal.entry(shop.customer).body["name"] == "(erased)"  # type: ignore[union-attr]
    assert not [p for p in (tmp_path / "shop").rglob("*") if p.is_file() and left_in(p, [w.encode() for w in NAMES])]
    assert taken.values == 0


def test_a_revoked_key_is_told_by_a_bare_python(tmp_path: Path) -> None:
    journal, key = new_journal(tmp_path)
    shop_in(journal, key)
    revoked(journal, key.public, since=journal.now(), because="lost")
    _, said = ran(exported(journal, tmp_path / "out").folder, "verify_seals.py")
    assert f"key {key.public[:16]}... counts no more since" in said


@pytest.mark.parametrize(
    ("text", "cell"),
    [("=1+1", "'=1+1"), ("+1 555", "'+1 555"), ("-0.02", "-0.02"), ("-.02", "-.02"), ("-0.02 inwc", "'-0.02 inwc"),
     ("@SUM(A1)", "'@SUM(A1)"), ("\t=1", "'\t=1"), ("\r=1", "'\r=1"), ("plain", "plain"), ("", ""), ("+3e5", "+3e5"),
     ("-1+cmd|' /C calc'!A0", "'-1+cmd|' /C calc'!A0")],
)  # fmt: skip
def test_no_cell_is_taken_for_a_formula(text: str, cell: str) -> None:
    assert safe(text) == cell


def rows_in(path: Path) -> list[dict[str, str]]:
    with path.open(encoding="utf-8-sig", newline="") as file:
        return list(csv.DictReader(file))


def filled(tmp_path: Path) -> tuple[Journal, str]:
    """A journal with amended, struck out and dangerous texts."""
    journal, key = new_journal(tmp_path)
    shop = shop_in(journal, key, seals=False)
    journal.add(Draft("customer", {"name": '=HYPERLINK("http://nowhere.example")', "phone": "+1 555 0100"}))
    readings = [each for each in journal.of_subject(shop.visit) if each.entry.kind == "reading"]
    amended(journal, readings[0].entry.id, {"point": "throat"}, because="said later")
    gone = reading(journal, shop.visit, "99 %")
    struck(journal, gone, because="probe out")
    value = {"typed": "-0.02 inwc", "quantity": "draft_pressure", "figure": "-4.98", "unit": "Pa"}
    journal.add(Draft("reading", {"visit": shop.visit, "name": "draft", "value": value, "point": "throat"}))
    return journal, shop.visit


def test_tables_for_a_spreadsheet_have_registry_names_and_no_formulas(tmp_path: Path) -> None:
    journal, visit = filled(tmp_path)
    laid_out(journal, CsvSheets(tmp_path / "tables"))
    customers = rows_in(tmp_path / "tables" / "customer.csv")
    assert {row["name"] for row in customers} >= {PEOPLE["name"], '\'=HYPERLINK("http://nowhere.example")'}
    assert {row["phone"] for row in customers} >= {"'+1 555 0100", "555-0100-4711 (Lettucefield)"}
    moments = rows_in(tmp_path / "tables" / f"{PIVOT.replace(' ', '-')}.csv")
    ours = [row for row in moments if row["visit"] == visit]
    assert {"oxygen_dry_fraction", "draft_pressure"} <= set(moments[0])
    assert [(row["oxygen_dry_fraction"], row["draft_pressure"]) for row in ours] == [("4.3 %", "-4.98")]
    readings = rows_in(tmp_path / "tables" / "reading.csv")
    assert [row["struck_out"] for row in readings].count("yes") == 1
    assert [row["amended"] for row in readings].count("yes") == 1
    assert {row["value_typed"] for row in readings} >= {"4.3 %", "'-0.02 inwc"}
    raw = (tmp_path / "tables" / "customer.csv").read_text("utf-8-sig")
    assert not [cell for row in csv.reader(raw.splitlines()) for cell in row if cell.startswith(("=", "@", "\t"))]


def test_tables_without_people_hold_nothing_about_them(tmp_path: Path) -> None:
    journal, _ = filled(tmp_path)
    laid_out(journal, CsvSheets(tmp_path / "tables"), people=False)
    words = [word.encode() for word in (*NAMES, "Barnaby", "HYPERLINK", "probe out")]
    assert not [path for path in (tmp_path / "tables").iterdir() if left_in(path, words)]
    assert {row["name"] for row in rows_in(tmp_path / "tables" / "customer.csv")} == {"(left out)"}


def test_tables_as_parquet_have_numbers_for_quantities(tmp_path: Path) -> None:
    parquet = pytest.importorskip("pyarrow.parquet")
    journal, visit = filled(tmp_path)
    laid_out(journal, ParquetSheets(tmp_path / "tables"))
    moments = parquet.read_table(tmp_path / "tables" / f"{PIVOT.replace(' ', '-')}.parquet").to_pylist()
    ours = [row for row in moments if row["visit"] == visit and row["draft_pressure"] is not None]
    assert [row["draft_pressure"] for row in ours] == [-4.98]
    names = parquet.read_table(tmp_path / "tables" / "customer.parquet").column("name").to_pylist()
    assert '=HYPERLINK("http://nowhere.example")' in names


def test_an_export_of_an_export_says_the_same(tmp_path: Path) -> None:
    journal, key = new_journal(tmp_path)
    shop_in(journal, key)
    other, _ = new_journal(tmp_path, "other")
    exchanged(journal, other)
    first: Export = exported(journal, tmp_path / "a")
    second = exported(other, tmp_path / "b")
    assert (first.folder / "journal.jsonl").read_bytes() == (second.folder / "journal.jsonl").read_bytes()
