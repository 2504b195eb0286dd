"""The words of customers, sites, appliances, instruments and visits, each word kept once.

Own tables, not the engine's full-text index: that one keeps copies which an erasure does not reach. Here a word goes
with the last entry that held it, and the same statements run on every store.
"""

from collections.abc import Iterable, Mapping, Sequence
from typing import Any

from sqlalchemy import Column, Table, delete, func, insert, select
from sqlalchemy.engine import Connection

from fluewright.record.views.frame import NUMBER, VIEWS, WORD, Taken, Unit, parts, replaced, text, view
from fluewright.record.views.words import all_words_of, grams

NAME = "search"
VERSION = 2

DOC = view(
    "view_doc", text("id", index=True), text("kind"), text("title"), text("place"), text("day"),
    text("customer", index=True), text("site", index=True), text("words"),
)  # fmt: skip
"""What can be found; its number is the arrival of its entry. `words` are the numbers of its words."""

KEPT = Table("view_word", VIEWS, Column("number", NUMBER, primary_key=True, autoincrement=False),
             Column("word", WORD, nullable=False, unique=True))  # fmt: skip
GRAM = Table("view_gram", VIEWS, Column("gram", WORD, primary_key=True),
             Column("word", NUMBER, primary_key=True, autoincrement=False), sqlite_with_rowid=False)  # fmt: skip
HELD = Table("view_held", VIEWS, Column("word", NUMBER, primary_key=True, autoincrement=False),
             Column("doc", NUMBER, primary_key=True, autoincrement=False), sqlite_with_rowid=False)  # fmt: skip
"""Which word stands where."""

TABLES = (DOC, KEPT, GRAM, HELD)

SAID: Mapping[str, tuple[str, ...]] = {
    "customer": ("name", "street", "phone", "email", "reference", "note"),
    "site": ("address", "reference", "note"),
    "appliance": ("words", "class", "serial"),
    "space": ("name",),
    "flue group": ("words",),
    "vent": ("words",),
    "instrument": ("words", "serial"),
    "visit": ("title", "customer_name", "site_words", "technician_name"),
}
"""By kind the fields whose words are looked for; the first names the thing."""

BESIDE: Mapping[str, str] = {
    "note": "word",
    "done": "word",
    "next": "word",
    "step": "word",
    "notice": "words",
    "not measured": "what",
}
"""Entries of a visit whose words are looked for as the visit's."""

PLACES = {"customer": "street", "visit": "site_words"}
KINDS = frozenset({*SAID, *BESIDE})


def _doc(each: Taken, beside: Iterable[str]) -> tuple[dict[str, Any], list[str]]:
    """A row, and the words of the thing."""
    fields = SAID[each.kind]
    said = [each.words(field) for field in fields]
    customer = each.id if each.kind == "customer" else each.words("customer")
    row = {"arrival": each.arrival, "id": each.id, "kind": each.kind, "title": said[0],
           "place": each.words(PLACES.get(each.kind, "")), "day": each.words("day"), "customer": customer,
           "site": each.id if each.kind == "site" else each.words("site")}  # fmt: skip
    return row, all_words_of("\n".join([*said, *beside]))


def _docs(units: Sequence[Unit]) -> list[tuple[dict[str, Any], list[str]]]:
    found = []
    for unit in units:
        beside = [each.words(BESIDE[each.kind]) for each in unit.counting(*BESIDE)]
        found += [_doc(each, beside if each.kind == "visit" else ()) for each in unit.counting(*SAID)]
    return found


def _numbers(connection: Connection, words: Sequence[str]) -> dict[str, int]:
    """Numbers of words; new ones are kept."""
    found: dict[str, int] = {}
    for some in parts(words):
        rows = connection.execute(select(KEPT.c.number, KEPT.c.word).where(KEPT.c.word.in_(some)))
        found.update({row.word: int(row.number) for row in rows})
    new = [word for word in words if word not in found]
    if new:
        first = int(connection.scalar(select(func.max(KEPT.c.number))) or 0) + 1
        found.update({word: number for number, word in enumerate(new, first)})
        connection.execute(insert(KEPT), [{"number": found[word], "word": word} for word in new])
        connection.execute(insert(GRAM), [{"gram": gram, "word": found[word]} for word in new for gram in grams(word)])
    return found


def _withdrawn(connection: Connection, units: Sequence[Unit]) -> set[int]:
    """Take away where words of these units stand; -> the words."""
    words: set[int] = set()
    old = [arrival for unit in units if unit.again for arrival in unit.arrivals]
    for some in parts(old):
        for row in connection.execute(select(DOC.c.arrival, DOC.c.words).where(DOC.c.arrival.in_(some))).all():
            held = [int(word) for word in row.words.split()]
            words.update(held)
            for each in parts(held):
                connection.execute(delete(HELD).where(HELD.c.doc == row.arrival, HELD.c.word.in_(each)))
    return words


def _drop_unused(connection: Connection, words: Iterable[int]) -> None:
    """Take away words that nothing holds any more."""
    for some in parts(sorted(words)):
        held = set(connection.scalars(select(HELD.c.word).where(HELD.c.word.in_(some)).distinct()))
        unused = [number for number in some if number not in held]
        rows = connection.execute(select(KEPT.c.number, KEPT.c.word).where(KEPT.c.number.in_(unused))).all()
        for row in rows:
            connection.execute(delete(GRAM).where(GRAM.c.gram.in_(grams(row.word)), GRAM.c.word == row.number))
        connection.execute(delete(KEPT).where(KEPT.c.number.in_(unused)))


def take(connection: Connection, units: Sequence[Unit]) -> None:
    """Fold units into the tables."""
    docs = _docs(units)
    withdrawn = _withdrawn(connection, units)
    numbers = _numbers(connection, list(dict.fromkeys(word for _, words in docs for word in words)))
    held = [[numbers[word] for word in words] for _, words in docs]
    rows = [{**row, "words": " ".join(map(str, words))} for (row, _), words in zip(docs, held, strict=True)]
    replaced(connection, DOC, units, rows)
    places = [{"word": word, "doc": row["arrival"]} for row, words in zip(rows, held, strict=True) for word in words]
    if places:
        connection.execute(insert(HELD), sorted(places, key=lambda place: (place["word"], place["doc"])))
    _drop_unused(connection, withdrawn - set(numbers.values()))
