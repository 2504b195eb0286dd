"""A name that was typed reads nothing of the disk."""

from pathlib import Path
from typing import Any

import pytest

from fluewright.errors import FluewrightError
from fluewright.record.journal import Journal
from fluewright.record.opening import made
from fluewright.record.settings import Settings
from fluewright.visit import adding, changing, kept

DOOR: dict[str, Any] = {
    "visit": {"title": "Made-up visit", "date": "2026-11-25"},
    "appliance": {"words": "boiler"},
    "fuel": {"name": "natural-gas"},
}
SECRET = "SECRET-OF-THE-SERVER"


@pytest.fixture
def journal(tmp_path: Path) -> Journal:
    (tmp_path / "secret.csv").write_text(f"{SECRET},a,b\n1,2,3\n", encoding="utf-8")
    return made(Settings(str(tmp_path / "journal.db")), device_name="a desk")


@pytest.mark.parametrize(
    "line", ["room: trace={file}", "room: mapping={file}", "fuel: file={file}", "room: trace=secret.csv"]
)
def test_a_typed_name_reads_nothing_of_the_disk(journal: Journal, tmp_path: Path, line: str) -> None:
    visit = kept.begun(journal, DOOR).id
    count = journal.arrived()
    with pytest.raises(FluewrightError, match="FW-V-160") as told:
        adding.added(journal, visit, line.format(file=tmp_path / "secret.csv"))
    assert SECRET not in str(told.value)
    assert journal.arrived() == count


def test_a_new_visit_names_no_file(journal: Journal, tmp_path: Path) -> None:
    for tables in (
        {"fuel": {"file": str(tmp_path / "secret.csv")}},
        {"stretch": [{"word": "x", "trace": "secret.csv"}]},
    ):
        with pytest.raises(FluewrightError, match="FW-V-160"):
            kept.begun(journal, {**DOOR, **tables})


def test_an_amendment_names_no_file(journal: Journal, tmp_path: Path) -> None:
    visit = kept.begun(journal, DOOR).id
    entry = adding.added(journal, visit, "room: symptoms=no").entries[0].id
    with pytest.raises(FluewrightError, match="FW-V-160"):
        changing.amended(journal, visit, entry, {"trace": str(tmp_path / "secret.csv")}, because="to see it")


def _photo(journal: Journal, visit: str, place: str) -> str:
    """A photograph whose words about itself are the name of a file of the server."""
    import io

    from PIL import Image

    from fluewright import clock
    from fluewright.visit import pictures

    made_of = io.BytesIO()
    Image.new("RGB", (8, 8)).save(made_of, "PNG")
    return pictures.taken(journal, visit, made_of.getvalue(), place=place, form=clock.new_id()).id


def test_the_words_of_a_photograph_hold_no_file(journal: Journal, tmp_path: Path) -> None:
    visit = kept.begun(journal, DOOR).id
    _photo(journal, visit, str(tmp_path / "secret.csv"))
    with pytest.raises(FluewrightError) as told:
        adding.added(journal, visit, f"room: trace={tmp_path / 'secret.csv'}")
    assert SECRET not in str(told.value)


def test_a_name_that_another_device_brought_leads_to_nothing_on_this_disk(journal: Journal, tmp_path: Path) -> None:
    from fluewright.record.draft import Draft

    visit = kept.begun(journal, DOOR).id
    adding.added(journal, visit, "o2 4.3 co 38 stack 385F air 66F")
    for name in (str(tmp_path / "secret.csv"), "../" * 20 + str(tmp_path / "secret.csv"), "..", ".", "a/"):
        journal.add(Draft("line", {"visit": visit, "table": "room", "typed": {"trace": name}}))
        with pytest.raises(FluewrightError) as told:
            kept.account_of(journal, visit)
        assert SECRET not in str(told.value)
