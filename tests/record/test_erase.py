"""Erasing: no byte about a person is left anywhere, every chain still holds, what is held stays."""

import sqlite3
from datetime import UTC, date, datetime, timedelta
from pathlib import Path

import pytest
from made import PEOPLE, Watch, new_journal, seal_of, visit_in
from shop import NAMES, OTHERS, PHOTO, shop_in

from fluewright.errors import EntryError, NotAllowed
from fluewright.record import erased as erased_module
from fluewright.record.backup import backed_up
from fluewright.record.check import every
from fluewright.record.erase import backups_before, erased, held, holds_in_force, lifted
from fluewright.record.erased import left_in, obeyed
from fluewright.record.files import digest_of, kept_in, named_in, path_of
from fluewright.record.journal import Draft
from fluewright.record.reach import reach
from fluewright.record.retention import laws, standing_against
from fluewright.record.seal_check import verified
from fluewright.record.settings import Settings
from fluewright.record.sync import answered, synced
from trust import told

NEEDLES = [word.encode() for word in NAMES]
REASON = "asked for by letter of 2026-11-25"


def found_in(folder: Path, needles: list[bytes]) -> dict[str, set[bytes]]:
    """Which of the words stand in any byte of any file below a folder, or in its name."""
    found = {}
    for path in folder.rglob("*"):
        if path.is_file():
            seen = left_in(path, needles) | {each for each in needles if each in path.name.encode()}
            if seen:
                found[path.relative_to(folder).as_posix()] = seen
    return found


def test_a_dictionary_of_all_names_and_streets_finds_nothing(tmp_path: Path) -> None:
    journal, key = new_journal(tmp_path)
    shop = shop_in(journal, key)
    photo_hash = next(each.name for each in named_in(journal) if each.private)
    needles = [*NEEDLES, photo_hash.encode(), photo_hash[:2].encode() + b"/" + photo_hash[2:].encode()]
    before = set().union(*found_in(tmp_path / "shop", needles).values())
    assert before == {*NEEDLES, photo_hash.encode()}
    assert path_of(journal.store.settings.files_folder(), photo_hash).read_bytes() == PHOTO

    gone = erased(journal, shop.customer, because=REASON)

    assert gone.values >= 15 and gone.files == 1
    assert found_in(tmp_path / "shop", needles) == {}
    assert not path_of(journal.store.settings.files_folder(), photo_hash).exists()
    kept = set().union(*found_in(tmp_path / "shop", [each.encode() for each in OTHERS]).values())
    assert kept == {each.encode() for each in OTHERS}
    assert every(journal.store).wrong == []
    assert verified(journal, shop.visit).holds
    assert journal.entry(shop.customer).body["name"] == "(erased)"  # type: ignore[union-attr]
    assert journal.entry(shop.visit).body["technician_name"] == PEOPLE["technician"]  # type: ignore[union-attr]
    assert journal.entry(shop.other).body["name"] == "Barnaby Elsewhere-Test"  # type: ignore[union-attr]
    later = backed_up(journal, tmp_path / "later")
    assert found_in(later.path, needles) == {} and later.files == 1
    told(26, "a person is erased", values=gone.values, files=gone.files, words_asked=len(needles), words_left=0)


@pytest.mark.parametrize("mode", ["wal", "delete", "truncate"])
def test_nothing_is_left_in_a_store_that_has_grown_and_shrunk(tmp_path: Path, mode: str) -> None:
    """Rows that were shifted between pages leave copies in the slack, which only a search of all bytes finds."""
    from fluewright.record.opening import made

    settings = Settings(str(tmp_path / mode / "journal.db"), mode=mode)  # type: ignore[arg-type]
    journal = made(settings, device_name="grown", now=Watch())
    drafts = [Draft("customer", {"name": f"Grown Person-{n:05}", "street": f"{n} Slack Street " * (n % 7 + 1)})
              for n in range(600)]  # fmt: skip
    customers = [entry.id for entry in journal.add_all(drafts)]
    wanted = [f"Grown Person-{n:05}".encode() for n in range(0, 600, 7)]
    assert set().union(*found_in(tmp_path / mode, wanted).values()) == set(wanted)
    for customer in customers[::7][:5]:
        erased(journal, customer, because=REASON)
    assert found_in(tmp_path / mode, wanted[:5]) == {}
    assert set().union(*found_in(tmp_path / mode, wanted).values()) == set(wanted[5:])


def test_bytes_left_in_the_slack_make_the_file_be_written_anew(tmp_path: Path) -> None:
    journal, _ = new_journal(tmp_path)
    customer = journal.add(Draft("customer", {"name": PEOPLE["name"]})).id
    path = journal.store.settings.path()
    with sqlite3.connect(path) as raw:  # another program without secure_delete leaves its old rows behind
        raw.execute("PRAGMA secure_delete = OFF")
        raw.execute("CREATE TABLE scribble (word TEXT)")
        raw.executemany("INSERT INTO scribble VALUES (?)", [(str(PEOPLE["name"]),)] * 50)
        raw.execute("DELETE FROM scribble")
        raw.commit()
        raw.execute("PRAGMA wal_checkpoint(TRUNCATE)")
    assert left_in(path, [b"Wendeline"])
    erased(journal, customer, because=REASON)
    assert not left_in(path, [b"Wendeline"])
    assert every(journal.store).wrong == []


def test_a_reader_that_holds_old_pages_is_told_and_the_same_erasure_finishes(tmp_path: Path) -> None:
    journal = new_journal(tmp_path)[0]
    journal.store.settings = Settings(journal.store.settings.database, wait=0.2)
    customer = journal.add(Draft("customer", {"name": PEOPLE["name"]})).id
    path = journal.store.settings.path()
    with sqlite3.connect(path) as reader:
        reader.execute("BEGIN")
        reader.execute("SELECT count(*) FROM entry").fetchone()
        with pytest.raises(EntryError, match="FW-J-045"):
            erased(journal, customer, because=REASON)
        reader.execute("ROLLBACK")
    assert journal.entry(customer).body["name"] == "(erased)"  # type: ignore[union-attr]
    erased(journal, customer, because=REASON)
    assert found_in(tmp_path, [b"Wendeline"]) == {}


def test_what_is_held_is_not_erased_until_the_hold_is_lifted(tmp_path: Path) -> None:
    journal, key = new_journal(tmp_path)
    shop = shop_in(journal, key)
    for subject in (shop.customer, shop.site, shop.visit):
        hold = held(journal, subject, because="a claim of 2026 is open", by="a court")
        for asked in (shop.customer, shop.visit):
            with pytest.raises(NotAllowed, match="a claim of 2026 is open"):
                erased(journal, asked, because=REASON)
        lifted(journal, hold.id, because="settled")
    assert set().union(*found_in(tmp_path / "shop", NEEDLES).values()) == set(NEEDLES)
    assert not holds_in_force(journal, date(2026, 11, 25))
    erased(journal, shop.customer, because=REASON)
    assert found_in(tmp_path / "shop", NEEDLES) == {}


def test_a_hold_on_a_visit_keeps_the_name_of_who_worked_there(tmp_path: Path) -> None:
    journal, key = new_journal(tmp_path)
    shop = shop_in(journal, key)
    hold = held(journal, shop.visit, because="a claim is open")
    with pytest.raises(NotAllowed, match="FW-N-036"):
        erased(journal, shop.technician, because=REASON)
    erased(journal, shop.other, because=REASON)  # has nothing to do with it
    lifted(journal, hold.id, because="settled")
    erased(journal, shop.technician, because=REASON)
    assert found_in(tmp_path / "shop", [b"Torvald", b"Sootsby", b"Barnaby"]).keys() <= {"journal.db"}
    seal = next(each for each in journal.of_subject(shop.visit) if each.entry.kind == "seal")
    assert journal.entry(shop.visit).body["technician_name"] == "(erased)"  # type: ignore[union-attr]
    assert seal.entry.body["who"] == journal.device and verified(journal, shop.visit).holds


def test_a_hold_ends_by_itself_after_its_last_day(tmp_path: Path) -> None:
    watch = Watch(datetime(2026, 11, 25, tzinfo=UTC))
    journal, key = new_journal(tmp_path, now=watch)
    shop = shop_in(journal, key)
    held(journal, shop.customer, because="until the guarantee is over", until=date(2026, 12, 31))
    with pytest.raises(NotAllowed, match="FW-N-036"):
        erased(journal, shop.customer, because=REASON)
    watch.at += timedelta(days=37)
    assert erased(journal, shop.customer, because=REASON).values


def test_the_law_of_the_place_stands_against_it_until_it_is_said_not_to_apply(tmp_path: Path) -> None:
    journal, key = new_journal(tmp_path)
    shop = shop_in(journal, key, jurisdiction="GB-ENG")
    with pytest.raises(NotAllowed, match=r"36\(3\)\(c\).*2018/139.*read.*from memory") as refused:
        erased(journal, shop.customer, because=REASON)
    assert "--not-under gb-landlord-check --not-under gb-tax-records" in refused.value.do
    with pytest.raises(EntryError, match="FW-J-047"):
        erased(journal, shop.customer, because=REASON, not_under=["gb-landlord"])
    gone = erased(journal, shop.customer, because=REASON, not_under=["gb-landlord-check", "gb-tax-records"])
    assert gone.entry.body["law"] == "not under gb-landlord-check, gb-tax-records"


@pytest.mark.parametrize(
    ("place", "day", "today", "later", "ids"),
    [
        ("US", "2024-01-10", "2029-01-10", 0, {"us-area-source-boiler", "us-major-source-boiler"}),
        ("US-CO", "2024-01-10", "2029-01-11", 9, set()),
        ("DE", "2024-01-10", "2030-12-31", 0, {"de-business-letter", "de-voucher"}),
        ("DE-BY", "2024-01-10", "2031-01-01", 0, {"de-voucher"}),
        ("DE", "2024-01-10", "2035-01-01", 0, set()),
        ("GB", "2000-01-10", "2035-01-01", 1, {"gb-landlord-check"}),
        ("GB", "2000-01-10", "2035-01-01", 2, set()),
        ("USA", "2026-01-10", "2026-01-11", 0, set()),
        ("", "2026-01-10", "2026-01-11", 0, set()),
    ],
)
def test_how_long_each_law_asks(place: str, day: str, today: str, later: int, ids: set[str]) -> None:
    rows = standing_against(
        jurisdiction=place, day=date.fromisoformat(day), today=date.fromisoformat(today), later_visits=later
    )
    assert {law.id for law in rows} == ids


def test_each_row_of_law_says_where_it_stands_and_how_it_is_known() -> None:
    for law in laws():
        assert all((law.document, law.clause, law.edition, law.text, law.only)) and law.years > 0
        assert law.known in ("read", "second-hand", "from memory") and law.counted in ("day", "year")
        assert law.until(date(2024, 2, 29)) >= date(2026, 2, 28)


@pytest.mark.parametrize("because", ["", "   ", "Mrs WENDELINE ASHGROVE-TEST asked", "no more 555-0100-4711"])
def test_the_reason_neither_fails_nor_holds_what_it_erases(tmp_path: Path, because: str) -> None:
    journal, key = new_journal(tmp_path)
    shop = shop_in(journal, key)
    with pytest.raises(EntryError, match=r"FW-J-04[89]"):
        erased(journal, shop.customer, because=because)


def test_nobody_is_erased_who_is_not_here(tmp_path: Path) -> None:
    journal, _ = new_journal(tmp_path)
    with pytest.raises(EntryError, match="FW-J-046"):
        erased(journal, "01980000-0000-7000-8000-000000000000", because=REASON)
    with pytest.raises(EntryError, match="FW-J-050"):
        lifted(journal, "01980000-0000-7000-8000-000000000000", because="settled")


def test_an_erasure_written_elsewhere_is_obeyed_here(tmp_path: Path) -> None:
    """By the exchange that brings it: values, photo, every byte; what is held here stays until the hold is lifted."""
    watch = Watch()
    office, key = new_journal(tmp_path, "office", watch)
    phone, _ = new_journal(tmp_path, "phone", watch)
    shop = shop_in(office, key)
    synced(phone, lambda request: answered(office, request))
    photo = next(each.name for each in named_in(office) if each.private)
    kept_in(phone.store.settings.files_folder(), PHOTO)
    hold = held(phone, shop.visit, because="a claim that the office does not know of")
    erased(office, shop.customer, because=REASON)
    synced(phone, lambda request: answered(office, request))
    assert found_in(tmp_path / "phone", [b"Quibblesnout"]) == {}
    assert found_in(tmp_path / "phone", [b"Mirabel"])
    assert path_of(phone.store.settings.files_folder(), photo).exists()
    lifted(phone, hold.id, because="settled")
    assert obeyed(phone) == 0  # lifting has obeyed already
    assert found_in(tmp_path / "phone", [*NEEDLES, photo[2:].encode()]) == {}
    assert every(phone.store).wrong == every(office.store).wrong == []


def test_what_was_derived_is_made_anew_after_every_erasure(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    journal, key = new_journal(tmp_path)
    shop = shop_in(journal, key)
    path = journal.store.settings.path()
    with sqlite3.connect(path) as raw:
        raw.execute("CREATE VIRTUAL TABLE found USING fts5(words)")
        raw.executemany("INSERT INTO found VALUES (?)", raw.execute("SELECT value FROM secret").fetchall())

    def index_again(store: object) -> None:
        with sqlite3.connect(path) as raw:
            raw.execute("DROP TABLE found")
            raw.execute("CREATE VIRTUAL TABLE found USING fts5(words)")
            raw.executemany("INSERT INTO found VALUES (?)", raw.execute("SELECT value FROM secret").fetchall())

    monkeypatch.setattr(erased_module, "FORGETTING", (index_again,))
    lower = [word.lower().encode() for word in ("Wendeline", "Quibblesnout", "Nowhereham", "Mirabel")]
    assert found_in(tmp_path / "shop", lower)
    erased(journal, shop.customer, because=REASON)
    assert found_in(tmp_path / "shop", [*NEEDLES, *lower]) == {}
    with sqlite3.connect(path) as raw:
        assert raw.execute("SELECT count(*) FROM found WHERE found MATCH 'barnaby'").fetchone()[0]


def test_a_place_that_has_another_customer_today_stays(tmp_path: Path) -> None:
    from fluewright.record.amend import amended

    journal, key = new_journal(tmp_path)
    shop = shop_in(journal, key)
    amended(journal, shop.site, {"customer": shop.other}, because="the house was sold")
    entries = {read.entry.id for read in reach(journal, shop.customer).entries}
    assert shop.site not in entries and shop.visit in entries
    erased(journal, shop.customer, because=REASON)
    assert journal.entry(shop.site).body["address"] == PEOPLE["street"]  # type: ignore[union-attr]


def test_a_photo_that_two_customers_share_stays_for_the_other(tmp_path: Path) -> None:
    from fluewright.record.files import added

    journal, key = new_journal(tmp_path)
    shop = shop_in(journal, key)
    added(journal, PHOTO, type="image/jpeg", visit=shop.other_visit)
    gone = erased(journal, shop.customer, because=REASON)
    assert gone.files == 0
    assert [each.private for each in named_in(journal)].count(True) == 1
    erased(journal, shop.other, because=REASON)
    assert not any(each.private for each in named_in(journal))
    assert digest_of(tmp_path / "shop" / "journal.db")


def test_backups_made_before_are_named(tmp_path: Path) -> None:
    journal, key = new_journal(tmp_path)
    shop = shop_in(journal, key)
    early = backed_up(journal, tmp_path / "stick")
    gone = erased(journal, shop.customer, because=REASON)
    assert gone.backups == (early.path.name,) == tuple(backups_before(journal))
    visit = visit_in(journal)
    seal_of(journal, visit, key)
    assert verified(journal, visit).holds


def test_an_erasure_that_broke_off_is_missed_loudly_and_finished_by_the_same_words(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    journal, key = new_journal(tmp_path)
    shop = shop_in(journal, key)

    def broken(*_: object) -> None:
        raise KeyboardInterrupt

    with monkeypatch.context() as inside:
        inside.setattr("fluewright.record.erase.taken_away", broken)
        with pytest.raises(KeyboardInterrupt):
            erased(journal, shop.customer, because=REASON)
    assert every(journal.store).wrong == [f"the file of entry {shop.photo} is not there"]
    assert journal.entry(shop.customer).body["name"] == PEOPLE["name"]  # type: ignore[union-attr]
    with monkeypatch.context() as inside:
        inside.setattr("fluewright.record.erase.forgotten", broken)
        with pytest.raises(KeyboardInterrupt):
            erased(journal, shop.customer, because=REASON)
    erased(journal, shop.customer, because=REASON)
    assert found_in(tmp_path / "shop", NEEDLES) == {}
    assert every(journal.store).wrong == []
