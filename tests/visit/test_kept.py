"""A visit worked in a journal: what goes in comes back, what is struck out counts no more."""

from collections.abc import Iterator
from pathlib import Path

import pytest
from visit_door import DOOR

from fluewright.errors import EntryError, FluewrightError, Problems
from fluewright.record.fold import current
from fluewright.record.journal import Journal
from fluewright.record.opening import made
from fluewright.record.settings import Settings
from fluewright.record.today import not_kept
from fluewright.report.text import text
from fluewright.visit import adding, as_entries, changing, file, from_entries, kept, work
from fluewright.visit.source import Source, tree_of

HERE = Path(__file__).parent
FILES = [*sorted(HERE.glob("*.toml")), *sorted((HERE / "classes").glob("*.toml"))]


@pytest.fixture
def journal(tmp_path: Path) -> Iterator[Journal]:
    found = made(Settings(str(tmp_path / "journal.db")), device_name="test")
    yield found
    found.store.close()


def as_texts(value: object) -> object:
    """Tables with dates and numbers as texts and papers as one text: what an entry keeps of a value."""
    if isinstance(value, dict):
        return {key: as_texts(each) for key, each in value.items()}
    if isinstance(value, list):
        plain = [as_texts(each) for each in value]
        return ", ".join(map(str, plain)) if plain and all(isinstance(each, str) for each in plain) else plain
    return value if isinstance(value, bool) else str(as_entries.plain(value))


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.stem)
def test_a_file_comes_back_from_its_entries_table_for_table(path: Path) -> None:
    tree = tree_of(path)
    entries = current(not_kept(file.entries_of(path)))
    assert as_texts(from_entries.tree_of(entries, file.FORM)) == as_texts(dict(tree))


@pytest.mark.parametrize("name", ["whole.toml", "common-flue.toml", "oil-cleaning.toml", "adjusting.toml"])
def test_a_kept_visit_gives_the_sheet_of_its_file(journal: Journal, name: str) -> None:
    entry = kept.brought_in(journal, HERE / name)
    from_file = text(work.judged(file.read(HERE / name)).sheet(), plain=True)
    from_journal = text(work.judged(kept.account_of(journal, entry.id)).sheet(), plain=True)
    cut = from_file.index("Not kept in a journal")
    assert from_journal[:cut] == from_file[:cut]
    anchor = journal.anchors()[0].printed()
    assert anchor in " ".join(from_journal[cut:].split())


def test_every_quantity_read_is_kept_as_typed_and_as_understood() -> None:
    path = HERE / "whole.toml"
    read = Source(path, tree_of(path))
    file.taken(read)
    drafts = as_entries.drafts_of(read, file.FORM)
    readings = [draft.body["value"] for draft in drafts if draft.kind == "reading"]
    assert len(readings) == 10
    assert all({"typed", "quantity", "figure", "unit"} <= set(value) for value in readings)
    stack = next(value for value in readings if value["typed"] == "402 F")
    assert abs(float(stack["figure"]) - 478.7055555555) < 1e-6
    assert stack["unit"] == "K"
    understood = [key for draft in drafts if draft.kind == "line" for key in draft.body.get("understood", {})]
    assert len(understood) > 80


def test_what_people_said_is_no_plain_text_in_the_chain(journal: Journal) -> None:
    entry = kept.brought_in(journal, HERE / "whole.toml")
    kept_texts = [read.entry.text() for read in journal.of_subject(entry.id)]
    for secret in ("Ms. Madeup-Owner", "Made-up Street", "T. Placeholder", "dryer next to the boiler", "roof was iced"):
        assert not any(secret in each for each in kept_texts)
        assert any(secret in str(read.body) for read in journal.of_subject(entry.id))


def test_a_visit_worked_line_by_line(journal: Journal) -> None:
    visit = kept.begun(journal, DOOR).id
    adding.added(journal, visit, "o2 4.3 co 38 stack 385F air 66F at the flue")
    adding.added(journal, visit, "room co 2 at hall")
    changing.stepped(journal, visit, "air band closed a quarter turn", meant="less air")
    adding.added(journal, visit, "o2 5 co 20 stack 380 F air 66F steady 90 s")
    account = kept.account_of(journal, visit)
    assert [stretch.word for stretch in account.stretches] == ["as found", "as left"]
    assert account.stretches[1].steady == "steady for 90 s"
    assert account.stretches[0].readings["flue_temperature"].typed.text == "385F"
    assert len(account.parts) == 1
    assert work.judged(account).told[1][1] is not None


def test_a_second_reading_of_the_same_thing_replaces_nothing(journal: Journal) -> None:
    visit = kept.begun(journal, DOOR).id
    adding.added(journal, visit, "o2 4.3 co 38")
    adding.added(journal, visit, "o2 6.1")
    stretches = kept.account_of(journal, visit).stretches
    assert [s.readings["oxygen_dry"].typed.text for s in stretches] == ["4.3", "6.1"]
    assert [s.word for s in stretches] == ["as found", "as found 2"]


def test_what_is_struck_out_counts_no_more_and_stays_to_be_seen(journal: Journal) -> None:
    visit = kept.begun(journal, DOOR).id
    adding.added(journal, visit, "o2 4.3 co 38 stack 385F")
    wrong = adding.added(journal, visit, "co2 20").entries[-1]
    changing.struck_out(journal, visit, wrong.id[-10:], because="read off the wrong line")
    assert "carbon_dioxide_dry" not in kept.account_of(journal, visit).stretches[0].readings
    held = next(each for each in kept.entries_of(journal, visit) if each.read.entry.id == wrong.id)
    assert [strike.body["because"] for strike in held.struck] == ["read off the wrong line"]
    with pytest.raises(EntryError, match="because"):
        changing.struck_out(journal, visit, wrong.id, because="")


def test_what_does_not_fit_is_refused_and_nothing_is_kept(journal: Journal) -> None:
    visit = kept.begun(journal, DOOR | {"appliance": {"words": "boiler", "class": "natural-draft-boiler"}}).id
    before = journal.anchors()
    for line in ("o2 4.3 at cell 3", "o2 4.3 at 40", "draft.reading: place=nowhere; draft=-5 Pa", "event lit"):
        with pytest.raises(FluewrightError):
            adding.added(journal, visit, line)
    assert journal.anchors() == before


def test_a_door_that_does_not_say_the_fuel_opens_no_visit(journal: Journal) -> None:
    before = journal.anchors()
    with pytest.raises(Problems):
        kept.begun(journal, {key: table for key, table in DOOR.items() if key != "fuel"})
    assert journal.anchors() == before


def test_a_notice_says_whether_anybody_consented(journal: Journal) -> None:
    visit = kept.begun(journal, DOOR).id
    with pytest.raises(EntryError, match="consented"):
        changing.noticed(journal, visit, "spills into the room", consent=None)
    notice = changing.noticed(journal, visit, "spills into the room", consent="refused", told="the owner")
    closed = changing.notice_closed(journal, visit, notice.id, because="flue cleared, tested again")
    assert closed.body["of"] == notice.id


def test_a_visit_is_found_by_the_end_of_its_id(journal: Journal) -> None:
    visit = kept.begun(journal, DOOR).id
    assert kept.found(journal, visit[-6:]) == visit
    for code in ("", "zz", visit[-3:], "00000000"):
        with pytest.raises(EntryError):
            kept.found(journal, code)


def test_an_open_notice_leads_the_sheet_until_somebody_closes_it(journal: Journal) -> None:
    visit = kept.begun(journal, DOOR).id
    adding.added(journal, visit, "o2 6 co 20 stack 385F air 66F steady 90 s")

    def stops() -> list[str]:
        return [stop.what for stop in work.judged(kept.account_of(journal, visit)).sheet().stops]

    assert not stops()
    notice = changing.noticed(journal, visit, "smell of gas at the valve", consent="refused", calls=["made-up number"])
    assert stops() == ["Smell of gas at the valve."]
    sheet = text(work.judged(kept.account_of(journal, visit)).sheet(), plain=True)
    assert sheet.index("Smell of gas") < sheet.index("Before lighting")
    assert "Shutting down was refused" in sheet
    assert sheet.index("no switch, no flame") < sheet.index("Shutting down was refused")
    page = work.judged(kept.account_of(journal, visit)).sheet().customer
    assert "not over" in page["What is left, and who must act"][0]
    assert "What this did not buy" not in page
    changing.struck_out(journal, visit, notice.id, because="written in the wrong visit")
    assert stops() == ["Smell of gas at the valve."]
    changing.notice_closed(journal, visit, notice.id, because="valve renewed, tight")
    assert not stops()
