"""Seals, copies, exports and erasing on SQLite and on PostgreSQL alike, and from one to the other (trust test 17)."""

from pathlib import Path

import pytest
from made import Watch, seal_of
from shop import NAMES, shop_in
from test_erase import found_in

from fluewright.errors import NotAllowed, UseError
from fluewright.record.amend import amended, standing
from fluewright.record.backup import backed_up
from fluewright.record.check import every
from fluewright.record.erase import erased, held, lifted
from fluewright.record.erased import left_in
from fluewright.record.export import exported
from fluewright.record.files import content_of, named_in
from fluewright.record.journal import Journal
from fluewright.record.keys_ed25519 import FileKey, key_of
from fluewright.record.opening import made
from fluewright.record.restore import restored
from fluewright.record.seal_check import verified
from fluewright.record.settings import Settings
from fluewright.record.take_in import taken_in
from fluewright.record.words import new_words
from postgres import NewPlace, Server
from trust import told

NEEDLES = [word.encode() for word in NAMES]


def keyed(settings: Settings, name: str = "invented") -> tuple[Journal, FileKey]:
    """A journal with a key."""
    key = key_of(settings)
    return made(settings, device_name=name, key=key.public, now=Watch()), key


def test_a_visit_is_sealed_amended_and_proven(new_place: NewPlace) -> None:
    journal, key = keyed(new_place())
    shop = shop_in(journal, key)
    assert verified(journal, shop.visit).holds
    with pytest.raises(NotAllowed, match="FW-N-033"):
        seal_of(journal, shop.visit, key)
    amended(journal, shop.customer, {"phone": "none"}, because="cut off")
    assert standing(journal, shop.customer).body["phone"] == "none"  # type: ignore[union-attr]


@pytest.mark.parametrize("words", [True, False])
def test_a_backup_of_either_comes_back_on_either(
    new_place: NewPlace, on_sqlite: NewPlace, on_postgres: NewPlace, tmp_path: Path, words: bool
) -> None:
    journal, key = keyed(new_place())
    shop = shop_in(journal, key)
    locked = new_words() if words else ""
    copy = backed_up(journal, tmp_path / "stick", words=locked)
    before = exported(journal, tmp_path / "before").folder / "journal.jsonl"
    for number, place in enumerate((on_sqlite(), on_postgres())):
        found = restored(copy.path, place, words=locked, now=Watch()).journal
        after = exported(found, tmp_path / f"after {number}").folder / "journal.jsonl"
        ours = [line for line in after.read_bytes().splitlines() if found.device.encode() not in line]
        assert ours == before.read_bytes().splitlines()
        assert verified(found, shop.visit).holds and every(found.store).wrong == []
        assert [content_of(place.files_folder(), each.name) for each in named_in(found)]
        seal_of(found, shop.other_visit, key_of(place))
        with pytest.raises(NotAllowed, match="FW-N-035"):
            restored(copy.path, place, words=locked)


def test_an_export_of_one_is_taken_in_by_the_other_byte_for_byte(
    on_sqlite: NewPlace, on_postgres: NewPlace, tmp_path: Path
) -> None:
    """Trust test 17 for everything that leaves a journal: entries, values, anchors."""
    lines = 0
    for here, there in ((on_sqlite, on_postgres), (on_postgres, on_sqlite)):
        one, key = keyed(here(), "one")
        other, other_key = keyed(there(), "other")
        shop_in(one, key)
        shop_in(other, other_key)
        name = one.device
        taken_in(one, exported(other, tmp_path / f"{name} a").folder)
        taken_in(other, exported(one, tmp_path / f"{name} b").folder)
        folders = [exported(one, tmp_path / f"{name} c").folder, exported(other, tmp_path / f"{name} d").folder]
        for file in ("journal.jsonl", "people.jsonl", "anchors.txt"):
            found = [(folder / file).read_bytes() for folder in folders]
            assert found[0] == found[1]
            lines += found[0].count(b"\n")
    told(17, "export and import, both stores", lines_equal=lines, differing=0)


def test_a_person_is_erased(new_place: NewPlace, tmp_path: Path) -> None:
    settings = new_place()
    journal, key = keyed(settings)
    shop = shop_in(journal, key)
    hold = held(journal, shop.visit, because="a claim")
    with pytest.raises(NotAllowed, match="FW-N-036"):
        erased(journal, shop.customer, because="by letter")
    lifted(journal, hold.id, because="settled")
    erased(journal, shop.customer, because="by letter")
    assert every(journal.store).wrong == [] and verified(journal, shop.visit).holds
    assert journal.entry(shop.customer).body["name"] == "(erased)"  # type: ignore[union-attr]
    out, copy = exported(journal, tmp_path / "out").folder, backed_up(journal, tmp_path / "stick").path
    for folder in (out, copy, settings.files_folder()):
        assert found_in(folder, NEEDLES) == {}


def test_the_tables_of_a_server_hold_no_byte_of_an_erased_person(postgres: Server, on_postgres: NewPlace) -> None:
    settings = on_postgres()
    journal, key = keyed(settings)
    shop = shop_in(journal, key)
    postgres.said("CHECKPOINT")
    data = Path(str(postgres.said("SHOW data_directory")[0][0]))
    base = [path for path in (data / "base").rglob("*") if path.is_file()]
    assert any(left_in(path, [b"Quibblesnout"]) for path in base)
    erased(journal, shop.customer, because="by letter")
    postgres.said("CHECKPOINT")
    kept = [path for path in (data / "base").rglob("*") if path.is_file()]
    schema = settings.database.rpartition("%3D")[2]
    node = str(postgres.said(f"SELECT pg_relation_filepath('{schema}.secret')")[0][0])
    assert left_in(data / node, [b"Barnaby"])
    assert not any(left_in(path, [b"Quibblesnout"]) for path in kept if _of_this(path, postgres, schema))


def _of_this(path: Path, server: Server, schema: str) -> bool:
    """Whether a file of the server belongs to a table or index of one schema."""
    rows = server.said(
        "SELECT pg_relation_filepath(c.oid) FROM pg_class c JOIN pg_namespace n ON n.oid = c.relnamespace "
        f"WHERE n.nspname = '{schema}' AND pg_relation_filepath(c.oid) IS NOT NULL"
    )
    return path.name.split(".")[0] in {str(row[0]).rpartition("/")[2] for row in rows}


def test_a_journal_on_a_server_needs_its_folders_told() -> None:
    with pytest.raises(UseError, match="FW-U-612"):
        Settings("postgresql+psycopg://nowhere/journal").files_folder()
