"""What was erased survives nowhere: not in an index, not after a kill in the middle, not in what was left over."""

import unicodedata
from pathlib import Path

import pytest
from made import Watch, new_journal, seal_of, visit_in
from test_erase import found_in

from fluewright.errors import EntryError
from fluewright.record import erased as erased_module
from fluewright.record import sync as sync_module
from fluewright.record.beside import named_in
from fluewright.record.check import every
from fluewright.record.erase import erased, held, lifted
from fluewright.record.erased import left_in, obeyed
from fluewright.record.journal import Draft, Journal
from fluewright.record.sync import answered, synced
from fluewright.record.views.catching_up import catch_up

NAMES = [f"{first}{second}üsch {third}ñedo" for first in ("Quo", "Vel", "Zam", "Ji") for second in ("ba", "do", "xu")
         for third in ("Kapo", "Lira", "Wemo", "Tuvi", "Nasy")]  # fmt: skip


def meet(one: Journal, other: Journal) -> None:
    """An exchange with nothing between the two."""
    synced(one, lambda request: answered(other, request))


def bare(text: str) -> bytes:
    """Small letters without accents, as an index has them."""
    apart = unicodedata.normalize("NFD", text.casefold())
    return "".join(sign for sign in apart if not unicodedata.combining(sign)).encode()


def test_no_word_is_left_in_the_form_in_which_it_was_looked_for(tmp_path: Path) -> None:
    journal, _ = new_journal(tmp_path)
    customers = []
    for number, name in enumerate(NAMES * 5):
        one = f"{name}{number:03} Str{number:03}ße"
        customers.append((journal.add(Draft("customer", {"name": one, "note": one * (number % 7)})).id, one))
        if number % 40 == 0:
            catch_up(journal.store)
    catch_up(journal.store)
    for customer, one in customers[::11]:
        erased(journal, customer, because="asked for")
        words = [part for word in one.split()[:2] for part in (word.encode(), bare(word))]
        assert found_in(tmp_path / "shop", [word for word in words if word[-2:].isdigit()]) == {}, one


def test_erasing_that_was_killed_before_the_bytes_were_gone_is_brought_to_its_end(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    journal, _ = new_journal(tmp_path)
    customer = journal.add(Draft("customer", {"name": "Wendeline Ashgrove"})).id
    catch_up(journal.store)

    def killed(*_: object) -> None:
        raise KeyboardInterrupt

    with monkeypatch.context() as patch:
        patch.setattr(erased_module, "FORGETTING", (killed,))
        with pytest.raises(KeyboardInterrupt):
            erased(journal, customer, because="asked for")
    assert found_in(tmp_path / "shop", [b"Wendeline", b"wendeline"]) != {}
    assert any("erasing" in sentence for sentence in every(journal.store).unknown)
    obeyed(journal)
    assert found_in(tmp_path / "shop", [b"Wendeline", b"wendeline"]) == {}
    assert not any("erasing" in sentence for sentence in every(journal.store).unknown)


def test_an_erasure_that_came_before_a_kill_is_obeyed_at_the_next_exchange(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    one, _ = new_journal(tmp_path, "one")
    other, _ = new_journal(tmp_path, "other")
    customer = one.add(Draft("customer", {"name": "Wendeline Ashgrove"})).id
    meet(one, other)
    erased(one, customer, because="asked for")

    def killed(*_: object) -> None:
        raise KeyboardInterrupt

    with monkeypatch.context() as patch:
        patch.setattr(sync_module, "obeyed", killed)
        with pytest.raises(KeyboardInterrupt):
            meet(other, one)
    assert left_in(other.store.settings.path().with_name("journal.db-wal"), [b"Wendeline"])
    assert any("erasure names" in sentence for sentence in every(other.store).unknown)
    meet(other, one)
    assert found_in(tmp_path / "other", [b"Wendeline"]) == {}


def test_what_a_hold_kept_goes_when_it_is_lifted(tmp_path: Path) -> None:
    one, _ = new_journal(tmp_path, "one")
    other, _ = new_journal(tmp_path, "other")
    customer = one.add(Draft("customer", {"name": "Wendeline Ashgrove"})).id
    meet(one, other)
    hold = held(other, customer, because="asked for by a court")
    erased(one, customer, because="asked for")
    meet(other, one)
    assert found_in(tmp_path / "other", [b"Wendeline"]) != {}
    lifted(other, hold.id, because="over")
    assert found_in(tmp_path / "other", [b"Wendeline"]) == {}


def test_a_reader_in_the_way_is_told_and_the_erasing_ends_later(tmp_path: Path) -> None:
    journal, _ = new_journal(tmp_path)
    customer = journal.add(Draft("customer", {"name": "Wendeline Ashgrove"})).id
    with journal.store.reading() as connection:
        connection.exec_driver_sql("SELECT count(*) FROM entry").scalar()
        with pytest.raises(EntryError, match="another program"):
            erased(journal, customer, because="asked for")
    obeyed(journal)
    assert found_in(tmp_path / "shop", [b"Wendeline"]) == {}


def test_a_seal_and_an_erasure_are_named_beside_the_journal_at_once(tmp_path: Path) -> None:
    journal, key = new_journal(tmp_path, now=Watch())
    visit = visit_in(journal)
    seal_of(journal, visit, key)
    assert named_in(journal.store.side_file()) == journal.anchors()
    erased(journal, journal.add(Draft("customer", {"name": "Wendeline"})).id, because="asked for")
    assert named_in(journal.store.side_file()) == journal.anchors()


def test_an_amendment_written_past_its_own_verb_keeps_no_name_in_the_open(tmp_path: Path) -> None:
    journal, _ = new_journal(tmp_path)
    customer = journal.add(Draft("customer", {"name": "Ashgrove"})).id
    for of in (customer, "01980000-0000-7000-8000-00000000aaaa"):
        told = journal.add(Draft("amendment", {"of": of, "fields": {"name": "Wendeline"}, "because": "typed wrong"}))
        assert journal.entry(told.id).body["fields"] == {"name": "Wendeline"}  # type: ignore[union-attr]
        assert "Wendeline" not in told.text()
    erased(journal, customer, because="asked for")
    with journal.store.reading() as connection:
        assert connection.exec_driver_sql("SELECT count(*) FROM secret WHERE value = 'Wendeline'").scalar() == 1
