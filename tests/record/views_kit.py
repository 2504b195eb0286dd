"""What tests of views share: a journal that is filled, its rows, and moving entries to another store in any order."""

from pathlib import Path
from typing import Any

from sqlalchemy import insert, select

from fluewright.record.journal import Draft, Journal
from fluewright.record.opening import made
from fluewright.record.settings import Settings
from fluewright.record.tables import ENTRY, SECRET
from fluewright.record.views.catching_up import looked_at
from fluewright.record.views.frame import STATE, VIEWS


def new_journal(folder: Path, name: str = "journal") -> Journal:
    return made(Settings(str(folder / f"{name}.db")), device_name="a device of the tests")


def rows(journal: Journal) -> dict[str, list[tuple[Any, ...]]]:
    """All rows of all views but their state, without what differs from store to store: the numbers of arrival."""
    with looked_at(journal.store) as connection:
        words = {row.number: row.word for row in connection.execute(select(VIEWS.tables["view_word"]))}
        doc = VIEWS.tables["view_doc"]
        docs = {row.arrival: row.id for row in connection.execute(select(doc))}
        found = {}
        for name, table in VIEWS.tables.items():
            if name == STATE.name:
                continue
            columns = [column for column in table.columns if column.name not in ("arrival", "number", "words")]
            if name == "view_held":
                rest: list[Any] = [(words[w], docs[d]) for w, d in connection.execute(select(*table.columns))]
            elif name == "view_gram":
                rest = [(gram, words[word]) for gram, word in connection.execute(select(*table.columns))]
            else:
                columns += [table.c.words] if "words" in table.c and name != "view_doc" else []
                rest = [tuple(row) for row in connection.execute(select(*columns))]
            found[name] = sorted(rest, key=repr)
    return found


def copied(journal: Journal, into: Journal, order: list[int]) -> None:
    """Put the entries of a journal into another store, in some order of their arrival, and their secrets."""
    with journal.store.reading() as connection:
        entries = [row._asdict() for row in connection.execute(select(ENTRY).order_by(ENTRY.c.arrival))]
        secrets = [row._asdict() for row in connection.execute(select(SECRET))]
    for entry in entries:
        del entry["arrival"]
    with into.store.writing() as connection:
        connection.execute(insert(ENTRY), [entries[at] for at in order])
        if secrets:
            connection.execute(insert(SECRET), secrets)


def change(of: str, because: str = "seen again", **fields: Any) -> Draft:
    """An amendment, or a strike-out when no fields are given."""
    body = {"of": of, "because": because}
    return Draft("amendment", {**body, "fields": fields}) if fields else Draft("struck out", body)
