"""Trust test 12: twenty broken journals. Each opens for reading only or says why it cannot; what is sound is read."""

import contextlib
import os
import sqlite3
import struct
from collections.abc import Callable
from pathlib import Path

import pytest

from fluewright.cli.main import main
from fluewright.errors import NotAllowed, RecordDamaged
from fluewright.record.chain import Break
from fluewright.record.check import every
from fluewright.record.opening import made, opened
from fluewright.record.salvage import sound_rows, sound_secrets
from fluewright.record.store import Store
from record_example import journal_in, reading, settings_in
from trust import told

ENTRIES = 120
COUNTS: dict[str, int] = {}
PAGE = 4096


def written(path: Path, at: int, data: bytes) -> None:
    with path.open("r+b") as file:
        file.seek(at)
        file.write(data)


def by_sql(path: Path, *statements: str) -> None:
    with contextlib.closing(sqlite3.connect(path)) as raw:
        for (name,) in raw.execute("SELECT name FROM sqlite_master WHERE type = 'trigger'").fetchall():
            raw.execute(f"DROP TRIGGER {name}")
        for statement in statements:
            raw.execute(statement)
        raw.commit()


def leaf(path: Path, kind: int = 13, which: int = 3) -> int:
    """Where the n-th page of a kind begins, the first page aside."""
    data = path.read_bytes()
    found = [at for at in range(PAGE, len(data), PAGE) if data[at] == kind]
    return found[min(which, len(found) - 1)]


def of_entries(path: Path) -> int:
    """Where a leaf with entries begins."""
    data = path.read_bytes()
    return next(
        at for at in range(PAGE * 3, len(data), PAGE) if data[at] == 13 and b'{"author"' in data[at : at + PAGE]
    )


BROKEN: dict[str, tuple[Callable[[Path], object], int]] = {
    "the first byte": (lambda path: written(path, 0, b"X"), ENTRIES),
    "the whole header": (lambda path: written(path, 0, bytes(100)), ENTRIES),
    "the page size": (lambda path: written(path, 16, b"\x00\x07"), ENTRIES),
    "the first page": (lambda path: written(path, 0, bytes(PAGE)), ENTRIES),
    "a page of entries, zeroed": (lambda path: written(path, of_entries(path), bytes(PAGE)), ENTRIES - 9),
    "a page of entries, noise": (lambda path: written(path, of_entries(path), os.urandom(PAGE)), ENTRIES - 9),
    "the kind of a page of entries": (lambda path: written(path, of_entries(path), b"\x05"), ENTRIES),
    "the count on a page of entries": (lambda path: written(path, of_entries(path) + 3, b"\xff\xff"), ENTRIES),
    "the table of contents of a page": (lambda path: written(path, of_entries(path) + 8, bytes(8)), ENTRIES),
    "an inner page": (lambda path: written(path, leaf(path, 5), bytes(PAGE)), ENTRIES),
    "an index": (lambda path: written(path, leaf(path, 10), bytes(PAGE)), ENTRIES),
    "the second half cut off": (lambda path: os.truncate(path, path.stat().st_size // 2 // PAGE * PAGE), 20),
    "half a page cut off": (lambda path: os.truncate(path, path.stat().st_size - PAGE // 2), ENTRIES - 9),
    "emptied": (lambda path: os.truncate(path, 0), 0),
    "another kind of file": (lambda path: path.write_bytes(b"%PDF-1.7 not a journal at all" * 300), 0),
    "an entry changed": (lambda path: by_sql(path, "UPDATE entry SET text = replace(text, '4.3', '0.1') "
                                                   "WHERE sequence = 110", "UPDATE entry SET text = 'x' "
                                                   "WHERE sequence = 111"), ENTRIES - 2),
    "an entry taken out": (lambda path: by_sql(path, "DELETE FROM entry WHERE sequence = 100"), ENTRIES - 1),
    "a table taken away": (lambda path: by_sql(path, "DROP TABLE secret"), ENTRIES),
    "the marks taken away": (lambda path: by_sql(path, "DROP TABLE mark"), ENTRIES),
    "the file taken away": (lambda path: path.unlink(), 0),
}  # fmt: skip


@pytest.mark.parametrize("name", BROKEN)
def test_a_broken_journal_is_told_read_and_never_replaced(
    tmp_path: Path, name: str, capsys: pytest.CaptureFixture[str]
) -> None:
    journal = journal_in(tmp_path, ENTRIES)
    journal.store.close()
    settings, harm, least = settings_in(tmp_path), *BROKEN[name]
    path = settings.path()
    harm(path)
    before = path.read_bytes() if path.exists() else None
    refusals = 0
    try:
        found = opened(settings)
        assert (found.wrong and found.journal.store.settings.read_only) or not every(Store(settings)).holds()
        if found.wrong:
            with pytest.raises(NotAllowed):
                found.journal.add(reading())
        found.journal.store.close()
    except RecordDamaged as error:
        refusals = 1
        assert error.exit_code == 4
    with pytest.raises(NotAllowed):
        made(settings, device_name="another")
    assert main(["journal", "check", "--all", "--journal", str(path)]) == 4
    assert path.name in "".join(capsys.readouterr())
    store, skipped = Store(settings), list[Break]()
    rows = list(sound_rows(store, skipped))
    secrets = list(sound_secrets(store)) if name != "a table taken away" else []
    store.close()
    assert least <= len(rows) <= ENTRIES and len({row.sequence for row in rows}) == len(rows)
    assert all(secret.holds() for secret in secrets)
    assert (path.read_bytes() if path.exists() else None) == before, "it was written to"
    for word, count in {"journals": 1, "not_to_be_opened": refusals, "entries": ENTRIES, "saved": len(rows)}.items():
        COUNTS[word] = COUNTS.get(word, 0) + count
    told(12, "broken journals", **COUNTS, replaced=0)


def test_an_entry_larger_than_a_page_is_read_without_the_engine(tmp_path: Path) -> None:
    from fluewright.record.journal import Draft

    journal = journal_in(tmp_path, 5)
    many = ["a long list of openings"] * 900
    entry = journal.add(Draft("space", {"name": "boiler room", "openings": many}))
    journal.store.close()
    written(journal.store.settings.path(), 0, b"not SQLite")
    rows = list(sound_rows(Store(settings_in(tmp_path))))
    assert [row.hash for row in rows][-1] == entry.hash() and len(rows) == 6


def test_an_erased_text_is_not_read_back_from_the_pages(tmp_path: Path) -> None:
    from fluewright.record.journal import Draft
    from fluewright.record.personal import commitments_in
    from fluewright.record.tables import SECRET

    journal = journal_in(tmp_path, 30)
    name = journal.add(Draft("customer", {"name": "Quentin Nowhere"}))
    gone = commitments_in(name.body)
    with journal.store.writing() as connection:
        connection.execute(SECRET.delete().where(SECRET.c.commitment.in_(gone)))
    journal.add(Draft("erasure", {"commitments": gone, "because": "asked for"}))
    path = journal.store.settings.path()
    main_file, ahead = path.read_bytes(), Path(f"{path}-wal").read_bytes()
    journal.store.close()
    path.write_bytes(b"gone" + main_file[4:])
    Path(f"{path}-wal").write_bytes(ahead)
    assert struct.unpack(">I", ahead[:4])[0] in (0x377F0682, 0x377F0683)
    saved = list(sound_secrets(Store(settings_in(tmp_path))))
    assert len(saved) > 3 and "Quentin Nowhere" not in {secret.value for secret in saved}
