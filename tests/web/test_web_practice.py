"""Pages of a journal for practice can not be taken for those of real visits."""

from pathlib import Path

from pages_kit import WHOLE, Pages

from fluewright.record.opening import made
from fluewright.record.settings import Settings

SAID = "PRACTICE, not a real visit"


def test_every_page_of_a_journal_for_practice_says_so(tmp_path: Path) -> None:
    made(Settings(str(tmp_path / "journal.db")), device_name="test", practice=True).store.close()
    found = Pages(tmp_path).come_in()
    visit = found.begin()
    found.keep(visit, WHOLE)
    of_visit = (f"/visit/{visit}{path}" for path in ("", "/step", "/notice", "/seal", "/entries"))
    for path in ("/", "/find", "/visit/new", "/look", *of_visit):
        assert SAID in found.get(path), path
    found.close()


def test_others_do_not(pages: Pages) -> None:
    assert SAID not in pages.get("/")
