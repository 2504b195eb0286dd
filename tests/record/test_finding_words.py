"""Search: by beginnings, without accents, with a slip or two, in any order, across a visit and its customer."""

from collections.abc import Callable
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as some
from views_kit import change, new_journal

from fluewright.record.journal import Draft, Journal
from fluewright.record.personal import Private
from fluewright.record.views import looking_up
from fluewright.record.views.catching_up import looked_at
from fluewright.record.views.words import all_words_of, distance, slips, words_of

Find = Callable[[str], list[str]]


@pytest.fixture
def journal(tmp_path: Path) -> Journal:
    return new_journal(tmp_path)


@pytest.fixture
def find(journal: Journal) -> Find:
    """A shop of three customers, and what is found in it, by title."""
    people = (
        ("Zubba Müllerquam", "7 Wugtock Lane"),
        ("Ogrolli Vexnix", "12 Yabgasp Row"),
        ("Søren Łukdorf", "3 Plimm Weg"),
    )
    for number, (name, street) in enumerate(people):
        customer = journal.add(Draft("customer", {"name": name, "street": street}))
        site = journal.add(Draft("site", {"address": street, "customer": customer.id}))
        journal.add(Draft("appliance", {"words": "oil boiler", "site": site.id, "serial": f"HX-{number}407/20"}))
        visit = journal.add(Draft("visit", {"title": f"visit {number} service", "day": f"2026-0{number + 1}-10",
                                            "customer": customer.id, "site": site.id}))  # fmt: skip
        word = ("soot at the draft hood", "condensate trap frozen", "soot in the cellar")[number]
        journal.add(Draft("note", {"visit": visit.id, "word": word}))

    def titles(typed: str) -> list[str]:
        with looked_at(journal.store) as connection:
            return [hit.title for hit in looking_up.found(connection, typed)]

    return titles


@pytest.mark.parametrize(
    ("typed", "first"),
    [
        ("müllerquam", "Zubba Müllerquam"),
        ("MULLER", "Zubba Müllerquam"),
        ("mullr", "Zubba Müllerquam"),
        ("mulelrquam", "Zubba Müllerquam"),
        ("vexnxi", "Ogrolli Vexnix"),
        ("soto", "visit 0 service"),
        ("ogroly vexnix", "Ogrolli Vexnix"),
        ("soren lukdorf", "Søren Łukdorf"),
        ("gasp yab", "12 Yabgasp Row"),
        ("condensat", "visit 1 service"),
        ("kondensate", "visit 1 service"),
        ("hx-1407", "oil boiler"),
        ("HX140720", "oil boiler"),
        ("1407", "oil boiler"),
        ("frozen vexnix", "visit 1 service"),
        ("soot zubba", "visit 0 service"),
    ],
)
def test_what_was_meant_is_found(find: Find, typed: str, first: str) -> None:
    assert first in find(typed)


def test_all_words_must_be_there(find: Find) -> None:
    assert find("soot vexnix") == []
    assert find("") == [] and find("  ?! ") == []
    assert find("zzzzzzzz") == []


def test_a_customer_brings_what_belongs_to_it_and_stands_first(find: Find) -> None:
    assert find("vexnix") == ["Ogrolli Vexnix", "12 Yabgasp Row", "visit 1 service"]
    assert find("soot") == ["visit 2 service", "visit 0 service"]


def test_a_figure_is_taken_as_it_is(find: Find) -> None:
    assert "12 Yabgasp Row" in find("12 yabgasp") and "7 Wugtock Lane" not in find("12")


def test_new_words_replace_old_ones(journal: Journal, find: Find) -> None:
    (customer,) = [read.entry.id for read in journal.of_kind("customer") if "Vexnix" in read.body["name"]]
    journal.add(change(customer, name=Private("Ogrolli Trellbury")))
    assert find("vexnix") == [] and find("trellbury")[0] == "Ogrolli Trellbury"
    journal.add(change(customer))
    assert "Ogrolli Trellbury" not in find("trellbury")


def test_words_common_to_thousands_are_found_together(journal: Journal, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(looking_up, "MOST_DOCS", 5)
    drafts = [
        Draft("visit", {"title": f"cellar {'soot' if n % 3 else 'rust'} {n}", "day": "2026-01-01"}) for n in range(60)
    ]
    journal.add_all(drafts)
    with looked_at(journal.store) as connection:
        hits = looking_up.found(connection, "cellar rust", 4)
    assert [hit.title for hit in hits] == ["cellar rust 57", "cellar rust 54", "cellar rust 51", "cellar rust 48"]


def test_the_words_of_a_serial() -> None:
    assert words_of("Hx-1407/20") == ["hx", "1407", "20"]
    assert all_words_of("Hx-1407/20, ÅÄß") == ["hx", "1407", "20", "aass", "hx140720"]


@given(some.text("abcd", min_size=1, max_size=9), some.text("abcd", max_size=9))
def test_distance_by_its_own_meaning(typed: str, kept: str) -> None:
    assert distance(typed, typed + kept, 2) == 0
    assert distance(typed, kept, 3) <= max(0, len(typed))
    at = len(typed) // 2
    assert distance(typed, typed[:at] + "z" + typed[at + 1 :], 2) <= 1
    assert distance(typed, typed[:at] + typed[at + 1 :], 2) <= 1
    swapped = typed[:at] + typed[at : at + 2][::-1] + typed[at + 2 :]
    assert distance(typed, swapped, 2) <= 1
    assert slips("abc") == 0 and slips("abcd") == 1 and slips("a1407") == 0
