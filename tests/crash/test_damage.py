"""Trust tests 5, 6, 7 and 11: flipped bits, a chain cut, swapped or made anew, changes by SQL, bare copies."""

import contextlib
import random
import shutil
import sqlite3
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from sqlalchemy import create_engine

from fluewright.errors import RecordDamaged
from fluewright.record import store as store_module
from fluewright.record.beside import EVERY
from fluewright.record.chain import Anchor
from fluewright.record.check import Checked, every, structure
from fluewright.record.opening import opened
from fluewright.record.salvage import sound_rows, sound_secrets
from fluewright.record.store import Store
from record_example import journal_in, note, reading, settings_in
from trust import told

FLIPS = 3000
ENTRIES = 60
AHEAD = 30
TABLES = ("entry", "secret", "anchor", "mark")


@pytest.fixture(autouse=True)
def statements_kept(monkeypatch: pytest.MonkeyPatch) -> None:
    """Thousands of stores are opened here; each would work out the words of its statements anew."""
    kept: dict[Any, Any] = {}

    def made(url: str, **more: Any) -> Any:
        return create_engine(url, execution_options={"compiled_cache": kept}, **more)

    monkeypatch.setattr(store_module, "create_engine", made)


def content(path: Path) -> dict[str, list[Any]] | None:
    """All that a reader would get from a file; None when it cannot be read."""
    try:
        with contextlib.closing(sqlite3.connect(f"file:{path}?immutable=1", uri=True)) as raw:
            raw.text_factory = bytes
            return {table: raw.execute(f"SELECT * FROM {table} ORDER BY 1").fetchall() for table in TABLES}
    except (sqlite3.DatabaseError, UnicodeError):
        return None


def first_changed(before: dict[str, list[Any]], after: dict[str, list[Any]]) -> int:
    """The number of the first entry whose row is not what it was, its place in the file aside; 0 when all are."""
    for number, (old, new) in enumerate(zip(before["entry"], after["entry"], strict=False), 1):
        if old[1:] != new[1:]:
            return number
    return 0 if len(before["entry"]) == len(after["entry"]) else min(len(before["entry"]), len(after["entry"])) + 1


def whole_file(folder: Path) -> tuple[Path, list[Anchor], bytes]:
    """A journal all in one file, with the anchors that others keep of it."""
    journal = journal_in(folder, ENTRIES)
    anchors = journal.anchors()
    journal.store.close()
    journal.store.side_file().unlink()
    path = journal.store.settings.path()
    return path, anchors, path.read_bytes()


def checked(path: Path, anchors: list[Anchor]) -> Checked:
    store = Store(settings_in(path.parent))
    found = every(store, anchors)
    store.close()
    return found


def test_no_flipped_bit_changes_a_value_unseen(in_memory: Path) -> None:
    path, anchors, sound = whole_file(in_memory)
    before = content(path)
    assert before is not None
    chance = random.Random(5)
    changed = found = named = harmless = salvaged = 0
    for _ in range(FLIPS):
        bit = chance.randrange(8 * len(sound))
        flipped = bytearray(sound)
        flipped[bit // 8] ^= 1 << bit % 8
        path.write_bytes(flipped)
        after = content(path)
        if after == before:
            harmless += 1
            continue
        changed += 1
        result = checked(path, anchors)
        found += not result.holds()
        number = first_changed(before, after) if after is not None else 0
        if after is not None and number and after["secret"] == before["secret"]:
            named += any(f"entry {number}" in sentence or f"entries {number}" in sentence for sentence in result.wrong)
            salvaged += 1
    told(5, "bits flipped", flipped=FLIPS, changed=changed, found=found, missed=changed - found, harmless=harmless,
         first_named=named)  # fmt: skip
    assert changed > FLIPS // 3 and found == changed
    assert named == salvaged


def test_flips_in_the_file_ahead_are_found_and_read_around(in_memory: Path) -> None:
    journal = journal_in(in_memory / "live", 10)
    for at in range(AHEAD):
        journal.add(reading(at))
    path = journal.store.settings.path()
    main, ahead = path.read_bytes(), Path(f"{path}-wal").read_bytes()
    chance, lost, found, saved = random.Random(6), 0, 0, 0
    copy = in_memory / "copy" / "journal.db"
    copy.parent.mkdir()
    for _ in range(FLIPS // 50):
        for old in list(copy.parent.iterdir()):
            old.unlink()
        flipped = bytearray(ahead)
        bit = chance.randrange(8 * len(flipped))
        flipped[bit // 8] ^= 1 << bit % 8
        copy.write_bytes(main)
        Path(f"{copy}-wal").write_bytes(flipped)
        store = Store(settings_in(copy.parent))
        found += not structure(store).holds()
        saved += len(list(sound_rows(store)))
        lost += (content_seen(store) or 0) != 10 + AHEAD
        store.close()
    tried = FLIPS // 50
    told(5, "bits flipped in the write-ahead file", flipped=tried, changed=lost, found=found,
         entries=tried * (10 + AHEAD), saved=saved)  # fmt: skip
    assert lost > 0 and found >= lost
    assert saved >= tried * (10 + AHEAD) - tried


def content_seen(store: Store) -> int:
    """Entries that the engine sees; 0 when it sees no table."""
    try:
        with store.reading() as connection:
            return int(connection.exec_driver_sql("SELECT count(*) FROM entry").scalar() or 0)
    except RecordDamaged:
        return 0


def without_guards(path: Path) -> sqlite3.Connection:
    """A connection of somebody who means harm and knows SQL."""
    raw = sqlite3.connect(path)
    for (name,) in raw.execute("SELECT name FROM sqlite_master WHERE type = 'trigger'").fetchall():
        raw.execute(f"DROP TRIGGER {name}")
    return raw


def with_guards_again(path: Path) -> None:
    from fluewright.record import tables

    with contextlib.closing(sqlite3.connect(path)) as raw:
        for guard in tables.guards().values():
            raw.execute(guard)


def cut(raw: sqlite3.Connection) -> None:
    raw.execute("DELETE FROM entry WHERE sequence > 40")


def swapped(raw: sqlite3.Connection) -> None:
    rows = dict(raw.execute("SELECT sequence, text FROM entry WHERE sequence IN (20, 21)").fetchall())
    hashes = dict(raw.execute("SELECT sequence, hash FROM entry WHERE sequence IN (20, 21)").fetchall())
    for to, source in ((20, 21), (21, 20)):
        raw.execute("UPDATE entry SET text = ?, hash = ? WHERE sequence = ?", (rows[source], hashes[source], to))


def inserted(raw: sqlite3.Connection) -> None:
    raw.execute("UPDATE entry SET sequence = -sequence - 1 WHERE sequence >= 30")
    raw.execute("UPDATE entry SET sequence = -sequence WHERE sequence < 0")
    raw.execute(
        "INSERT INTO entry (device, sequence, id, kind, subject, hash, text) SELECT device, 30, "
        "'01a213d2-495d-74f1-9525-a2871e6ec2be', kind, subject, hash, text FROM entry WHERE sequence = 29"
    )


def taken_out(raw: sqlite3.Connection) -> None:
    raw.execute("DELETE FROM entry WHERE sequence = 25")


def rewritten(raw: sqlite3.Connection) -> None:
    """One entry changed and every hash after it made anew: a chain that proves nothing by itself."""
    from fluewright.record.canonical import digest

    before = ""
    for device, sequence, text in raw.execute("SELECT device, sequence, text FROM entry ORDER BY 2").fetchall():
        if sequence == 10:
            text = text.replace('"typed":"', '"typed":"9')
        if before:
            start = text.index('"previous":"') + 12
            text = text[:start] + before + text[start + 64 :]
        if sequence >= 10:
            before = digest(text)
            raw.execute("UPDATE entry SET text = ?, hash = ? WHERE device = ? AND sequence = ?",
                        (text, before, device, sequence))  # fmt: skip


@pytest.mark.parametrize(
    ("harm", "alone"), [(cut, False), (swapped, True), (inserted, True), (taken_out, True), (rewritten, False)]
)
def test_a_changed_chain_is_found_with_an_anchor_and_without_one_says_what_it_cannot_tell(
    tmp_path: Path, harm: Callable[[sqlite3.Connection], None], alone: bool
) -> None:
    path, anchors, _ = whole_file(tmp_path)
    with contextlib.closing(without_guards(path)) as raw:
        harm(raw)
        raw.commit()
    with_guards_again(path)
    without = checked(path, [])
    assert without.holds() is not alone
    assert any(f"cannot tell whether anything came after entry {end.sequence}" in without.unknown[0]
               for end in without.ends)  # fmt: skip
    assert not checked(path, anchors).holds()
    told(6, f"chain {harm.__name__.replace('_', ' ')}", tried=1, found_with_anchor=1, found_without=int(alone))


def test_an_older_file_put_back_is_found_by_an_anchor_alone(tmp_path: Path) -> None:
    path, _, sound = whole_file(tmp_path)
    journal = opened(settings_in(tmp_path)).journal
    for at in range(7):
        journal.add(reading(at))
    anchors = journal.anchors()
    journal.store.close()
    journal.store.side_file().unlink()
    path.write_bytes(sound)
    assert checked(path, []).holds()
    assert checked(path, anchors).wrong == [
        f"7 entries short of the anchor: device {anchors[0].device} ends at {ENTRIES}, not {ENTRIES + 7}"
    ]
    told(6, "older file put back", tried=1, found_with_anchor=1, found_without=0)


SURFACE = (
    "UPDATE {t} SET {c} = {c}", "UPDATE OR REPLACE {t} SET {c} = 'x'",
    "UPDATE OR IGNORE {t} SET {c} = 'x' WHERE rowid = 3",
    "DELETE FROM {t}", "DELETE FROM {t} WHERE rowid = 5", "REPLACE INTO {t} SELECT * FROM {t}",
    "INSERT OR REPLACE INTO {t} ({all}) SELECT {changed} FROM {t} WHERE rowid = 4",
    "INSERT INTO {t} ({all}) SELECT {changed} FROM {t} WHERE 1 ON CONFLICT DO UPDATE SET {c} = 'x'",
    "WITH gone AS (SELECT rowid AS r FROM {t}) DELETE FROM {t} WHERE rowid IN (SELECT r FROM gone)",
    "UPDATE {t} SET rowid = rowid + 1000", "UPDATE {t} SET {c} = (SELECT {c} FROM {t} LIMIT 1) RETURNING {c}",
)  # fmt: skip


def test_no_statement_changes_what_was_entered(tmp_path: Path) -> None:
    from fluewright.record.tables import ANCHOR, ENTRY

    path, _, _ = whole_file(tmp_path)
    with contextlib.closing(sqlite3.connect(path, isolation_level=None)) as raw:
        raw.execute(
            "INSERT INTO anchor (device, sequence, hash, at, 'by') SELECT device, sequence, hash, 'x', 'y' FROM entry"
        )
    before = content(path)
    tried = refused = 0
    for table in (ENTRY, ANCHOR):
        names = [column.name for column in table.c]
        for column in names:
            changed = ", ".join("'changed'" if name == column else f'"{name}"' for name in names)
            for statement in SURFACE:
                text = statement.format(
                    t=table.name, c=f'"{column}"', all=", ".join(f'"{n}"' for n in names), changed=changed
                )
                with contextlib.closing(sqlite3.connect(path, isolation_level=None)) as raw:
                    tried += 1
                    try:
                        raw.execute(text).fetchall()
                    except sqlite3.DatabaseError:
                        refused += 1
                after = content(path)
                assert after is not None and before is not None
                kept = set(before[table.name])
                assert kept <= set(after[table.name]), text
                assert after == before or len(after[table.name]) > len(kept), text
                if after != before:
                    path.unlink()
                    pytest.fail(f"{text} put a row in beside the others")
    told(7, "statements that change or take away", tried=tried, refused=refused, changed=0)
    assert refused > tried * 0.8


def test_what_was_put_in_by_a_reader_of_the_store_is_refused(tmp_path: Path) -> None:
    from sqlalchemy import delete, insert, update

    from fluewright.errors import FluewrightError
    from fluewright.record.tables import ANCHOR, ENTRY, MARK, SECRET

    journal = journal_in(tmp_path, 10)
    statements: list[Any] = [make(table) for table in (ENTRY, ANCHOR) for make in (delete, insert)]
    statements += [delete(SECRET), delete(MARK)]
    statements += [
        insert(MARK).values(name="x", value="y"),
        update(ENTRY).values(text="x"),
        update(MARK).values(value="x"),
    ]
    for statement in statements:
        with pytest.raises(FluewrightError), journal.store.reading() as connection:
            connection.execute(statement)
    assert every(journal.store).holds()
    told(7, "writing through a reading connection", tried=len(statements), refused=len(statements))


def test_a_bare_copy_says_how_much_it_is_short_of_the_anchor(tmp_path: Path) -> None:
    journal = journal_in(tmp_path / "live", 30)
    journal.store.close()
    path = journal.store.settings.path()
    counts = []
    for at in range(400):
        journal.add(note(f"remark {at}") if at % 5 == 0 else reading(at))
        if at % 40 == 39:
            copy = tmp_path / f"copy {at}" / "journal.db"
            copy.parent.mkdir()
            shutil.copy(path, copy)
            there = opened(settings_in(copy.parent))
            last = there.journal.anchors()[0].sequence
            there.journal.store.close()
            short = journal.anchors()[0].sequence - last
            found = structure(Store(settings_in(copy.parent)), journal.anchors())
            assert any(s.startswith(f"{short} entries short of the anchor") for s in found.wrong) or short == 0
            shutil.copy(journal.store.side_file(), copy.parent)
            beside = opened(settings_in(copy.parent))
            assert beside.wrong or short < EVERY
            counts.append(short)
    told(11, "bare copies while writing", copies=len(counts), short=sum(counts), unnoticed=0)
    assert sum(counts) > 0


def test_of_a_damaged_store_every_sound_entry_and_text_is_read(in_memory: Path) -> None:
    path, _, sound = whole_file(in_memory)
    pages = len(sound) // 4096
    kept = total = 0
    for page in range(pages):
        broken = bytearray(sound)
        broken[page * 4096 : (page + 1) * 4096] = bytes(4096)
        path.write_bytes(broken)
        before = [row for row in texts_in(sound) if row in bytes(broken)]
        store = Store(settings_in(in_memory))
        rows = list(sound_rows(store))
        assert {row.text.encode() for row in rows} >= set(before), f"page {page + 1}"
        assert all(secret.holds() for secret in sound_secrets(store))
        kept, total = kept + len(rows), total + ENTRIES
        store.close()
    told(12, "each page of a file zeroed", pages=pages, entries=total, saved=kept)
    assert kept > total * 0.8


def texts_in(data: bytes) -> list[bytes]:
    """Texts of entries as they lie in a file."""
    import re

    return re.findall(rb'\{"author":"[^\x00]*?"version":1\}(?=[^}])', data)
