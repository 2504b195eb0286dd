"""Trust test 17: what is exported from one kind of store and imported into the other is the same to the byte."""

from pathlib import Path

from on_store import whole_of

from fluewright.record.amend import amended, struck
from fluewright.record.erase import erased
from fluewright.record.export import ENTRIES, PEOPLE, exported
from fluewright.record.files import added
from fluewright.record.journal import Draft, Journal
from fluewright.record.kinds import KINDS
from fluewright.record.opening import made, opened
from fluewright.record.take_in import taken_in
from postgres import NewPlace
from trust import told

ODD = ["", " ", "'\";--", "\\u0000", "\t\n\r", "\u2028\u2029", "ÅÄÖ ß ſ", "e\u0301 é", "\U0001f525" * 9, "x" * 5000]
"""Texts that stores are known to treat differently."""


def filled(journal: Journal) -> Journal:
    """A journal with odd texts, large figures, amendments, an erasure and a photo."""
    for text in ODD:
        journal.add(Draft("note", {"visit": journal.device, "word": f"said {text}"}))
        journal.add(Draft("settings", {"name": f"odd {text}", "value": "1"}))
    journal.add(
        Draft("line", {"visit": journal.device, "table": "x", "typed": {"n": 2**53 - 1, "m": -1, "l": [True, None]}})
    )
    customer = journal.add(Draft("customer", {"name": "Invented Person", "street": "1 Nowhere Road"})).id
    amended(journal, customer, {"street": "2 Nowhere Road"}, because="moved")
    struck(journal, journal.add(Draft("due", {"what": "sweep", "due": "2026-12-01"})).id, because="done")
    added(journal, bytes(range(256)), type="image/png")
    gone = journal.add(Draft("customer", {"name": "Another Invented"})).id
    erased(journal, gone, because="asked for")
    return journal


def test_out_of_one_store_into_the_other(on_sqlite: NewPlace, on_postgres: NewPlace, tmp_path: Path) -> None:
    entries = 0
    for there, here in ((on_sqlite, on_postgres), (on_postgres, on_sqlite)):
        source, target = filled(made(there(), device_name="a")), made(here(), device_name="b")
        first, second = tmp_path / source.device, tmp_path / target.device
        exported(source, first)
        taken_in(target, first)
        own = [end for end in target.anchors() if end.device == source.device]
        assert own == source.anchors() and not opened(target.store.settings).wrong
        taken_in(source, exported(target, second).folder)
        assert whole_of(source) == whole_of(target)
        third = tmp_path / f"{source.device} again"
        exported(source, third)
        for name in (ENTRIES, PEOPLE):
            assert (third / name).read_bytes() == (second / name).read_bytes()
        entries += whole_of(source).count(b"\n")
    told(17, "SQLite = PostgreSQL, export from one into the other", acknowledged=entries, lost=0, kinds=len(KINDS))
