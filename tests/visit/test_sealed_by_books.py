"""Seal, page, paper and check are of one judgement: the one by the books of the shop, which the seal names."""

from collections.abc import Iterator
from pathlib import Path

import pytest
from visit_door import DOOR

from fluewright.cli.main import main
from fluewright.errors import EntryError
from fluewright.record import seal
from fluewright.record.journal import Journal
from fluewright.record.keys_ed25519 import FileKey, made_in
from fluewright.record.opening import made
from fluewright.record.seal import Judged, Signer
from fluewright.record.settings import Settings
from fluewright.report.text import text
from fluewright.rules.shop import PROGRAM
from fluewright.visit import adding, changing, closing, kept, own_books, sealed_sheet, sealing, shown

ME = Signer(who="", recognised="sat before this machine", name="T. Placeholder (invented)")
HOUSE = Path(__file__).parent.parent / "museum" / "rules" / "house-good.toml"


@pytest.fixture
def place(tmp_path: Path) -> Iterator[tuple[Journal, FileKey]]:
    settings = Settings(str(tmp_path / "journal.db"))
    key = made_in(settings.keys_folder())
    journal = made(settings, device_name="test", key=key.public)
    yield journal, key
    journal.store.close()


@pytest.fixture
def books(tmp_path: Path) -> Path:
    """A folder with a house book that was taken."""
    folder = tmp_path / "books"
    own_books.take(own_books.found_at(HOUSE), HOUSE, folder)
    return folder


def worked(journal: Journal) -> str:
    visit = kept.begun(journal, DOOR).id
    adding.added(journal, visit, "o2 4.3 co 38 stack 385F air 66F")
    return visit


def on_paper(journal: Journal, visit: str, books: Path | None) -> str:
    return " ".join(text(shown.sheet_of(journal, visit, books=books), plain=True).split())


def test_what_is_sealed_is_what_the_page_shows(place: tuple[Journal, FileKey], books: Path) -> None:
    journal, key = place
    visit = worked(journal)
    entry = sealing.sealed(journal, visit, key=key, signer=ME, books=books)
    shop = own_books.of_journal(journal, books)
    assert entry.body["books"]["house book"] == shop.stamps["house book"]
    (found,) = sealed_sheet.compared(journal, visit, shop)
    assert found.same and not found.otherwise
    paper = on_paper(journal, visit, books)
    assert f"sha256:{entry.body['report'][:16]}; judged again, its entries say the same" in paper
    assert shop.stamps["house book"] in paper


def test_another_book_than_under_the_seal_is_named(place: tuple[Journal, FileKey], books: Path) -> None:
    journal, key = place
    visit = worked(journal)
    sealing.sealed(journal, visit, key=key, signer=ME, books=books)
    (found,) = sealed_sheet.compared(journal, visit, PROGRAM)
    assert found.otherwise == ("the book house book",) and not found.contradicts
    if not found.same:
        assert "This is not that sheet" in on_paper(journal, visit, None)


def test_what_changed_after_the_seal_is_said_where_the_seal_is(place: tuple[Journal, FileKey]) -> None:
    journal, key = place
    visit = worked(journal)
    reading = next(each for each in kept.entries_of(journal, visit) if each.body.get("name") == "oxygen_dry")
    sealing.sealed(journal, visit, key=key, signer=ME)
    assert "After the seal" not in on_paper(journal, visit, None)
    changing.amended(journal, visit, reading.read.entry.id, {"value": "5.3 %"}, because="misread by one")
    paper = on_paper(journal, visit, None)
    assert "After the seal: 1 change (amendment). What stands here is not all signed." in paper
    assert "judged again, its entries say the same" in paper  # those that were signed, without the amendment
    sealing.counter_sealed(journal, visit, key=key, signer=ME, meaning="seen with its amendment")
    assert "After the seal" not in on_paper(journal, visit, None)


def test_a_line_that_comes_while_it_is_judged_is_not_signed_unseen(
    place: tuple[Journal, FileKey], monkeypatch: pytest.MonkeyPatch
) -> None:
    journal, key = place
    visit = worked(journal)
    before = closing.need_closed

    def slow(*given: object) -> None:
        before(*given)  # type: ignore[arg-type]
        adding.added(journal, visit, "room co 400")

    monkeypatch.setattr(closing, "need_closed", slow)
    with pytest.raises(EntryError, match="FW-J-036"):
        sealing.sealed(journal, visit, key=key, signer=ME)
    assert not sealing.checked(journal, visit).seals


def test_a_seal_over_another_sheet_is_found(place: tuple[Journal, FileKey], capsys: pytest.CaptureFixture[str]) -> None:
    journal, key = place
    visit = worked(journal)
    honest = sealing._judged(journal, visit, None)
    forged = Judged(report="0" * 64, books=honest.books, engine=honest.engine)
    seal.sealed(journal, visit, key=key, signer=ME, meaning="all is well", judged=forged)
    assert sealing.checked(journal, visit).holds  # the signature is sound; only what it says of the sheet is not
    assert "nothing explains why" in on_paper(journal, visit, None)
    assert main(["visit", "seal", visit, "--check", "--journal", journal.store.settings.database]) == 4
    assert "nothing explains why" in capsys.readouterr().out
