"""Journals, visits and entries of every kind for the tests of the room: all invented."""

from collections.abc import Mapping
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any

from fluewright import clock
from fluewright.record.journal import Draft, Journal
from fluewright.record.keys_ed25519 import FileKey, key_of
from fluewright.record.kinds import KINDS
from fluewright.record.opening import made
from fluewright.record.reading import rows_of
from fluewright.record.seal import Judged, Signer, sealed
from fluewright.record.settings import Settings
from fluewright.record.shape import Field
from fluewright.record.tables import SECRET

PEOPLE = {
    "name": "Wendeline Ashgrove-Test",
    "street": "14 Inventive Lane, Nowhereham",
    "phone": "555-0100-4711",
    "email": "wendeline@nowhere.example",
    "note": "the dog Quibblesnout bites strangers",
    "technician": "Torvald Sootsby-Test",
    "told": "Mirabel Tenantson-Test",
    "photo": b"\x89 not a real photo, but bytes about Wendeline " * 40,
}
"""Everything about people in the invented shop."""


class Watch:
    """A clock that is set by hand and goes on by a second at each look."""

    def __init__(self, start: datetime | None = None) -> None:
        self.at = start or datetime(2026, 11, 25, 9, 0, tzinfo=UTC)

    def __call__(self) -> datetime:
        self.at += timedelta(seconds=1)
        return self.at


def new_journal(folder: Path, name: str = "shop", now: Watch | None = None) -> tuple[Journal, FileKey]:
    """A journal with a key in a folder of its own."""
    settings = Settings(str(folder / name / "journal.db"))
    key = key_of(settings)
    return made(settings, device_name=name, key=key.public, now=now or Watch()), key


def visit_in(journal: Journal, **body: Any) -> str:
    """A visit with two readings; its id."""
    visit = journal.add(Draft("visit", {"title": "yearly test", "day": "2026-11-25", "invented": True, **body})).id
    for typed in ("4.3 %", "38 ppm"):
        reading(journal, visit, typed)
    return visit


def reading(journal: Journal, visit: str, typed: str, id: str = "") -> str:
    """A reading of a visit; its id."""
    value = {"typed": typed, "quantity": "oxygen_dry_fraction", "si": "0.043"}
    return journal.add(Draft("reading", {"visit": visit, "name": "oxygen_dry_fraction", "value": value}, id=id)).id


def seal_of(journal: Journal, visit: str, key: FileKey, *, meaning: str = "tested and left so", of: str = "") -> str:
    """A seal on a visit; its id."""
    signer = Signer(who=journal.device, recognised="own device", name=PEOPLE["technician"])  # type: ignore[arg-type]
    judged = Judged(report="ab" * 32, books={"us-household": "2026-1"}, engine="0.1.0")
    return sealed(journal, visit, key=key, signer=signer, meaning=meaning, judged=judged, of=of).id


def exchanged(one: Journal, other: Journal) -> None:
    """Both journals know all that either knew: rows and values copied as they are, nothing checked."""
    for source, target in ((one, other), (other, one)):
        with source.store.reading() as read, target.store.writing() as written:
            for anchor in source.anchors():
                last = next((a.sequence for a in target.anchors() if a.device == anchor.device), 0)
                for row in rows_of(read, anchor.device, after=last):
                    copied(written, row.text)
            known = {row.commitment for row in written.execute(SECRET.select())}
            for secret in read.execute(SECRET.select()):
                if secret.commitment not in known:
                    written.execute(SECRET.insert().values(secret._asdict()))


def copied(connection: Any, text: str) -> None:
    """One entry of another device kept as it is."""
    from fluewright.record.entry import entry_from
    from fluewright.record.journal import keep

    keep(connection, entry_from(text))


def value_for(field: Field) -> Any:
    """Some value that fits a field."""
    return {
        "text": "some words",
        "person": "words about a person",
        "persons": ["one person", "another person"],
        "whole": 7,
        "flag": True,
        "day": "2026-11-25",
        "moment": "2026-11-25T10:20:00-06:00",
        "id": clock.new_id(),
        "word": next(iter(field.words), ""),
        "value": {"typed": "4.3 %", "quantity": "oxygen_dry_fraction"},
        "table": {"some": "thing"},
        "list": ["some", "things"],
        "hash": "ab" * 32,
    }[field.type]


def body_of(kind: str, *, every: bool = True) -> Mapping[str, Any]:
    """A body with every field of a kind, or only those it needs."""
    return {field.name: value_for(field) for field in KINDS[kind].fields if every or field.required}
