"""Finds customers, sites, appliances, instruments and visits by words, also mistyped ones."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from sqlalchemy import ColumnElement, and_, func, select
from sqlalchemy.engine import Connection

from fluewright.record.views.frame import parts
from fluewright.record.views.search import DOC, GRAM, HELD, KEPT, SAID
from fluewright.record.views.words import grams, joined_in, near, slips, words_of

MOST_WORDS = 300
"""Kept words that one typed word may stand for."""
MOST_TYPED = 8
"""Typed words that are heeded."""
MOST_DOCS = 2000
"""Things looked at for one typed word, the newest first; beyond it only those that hold all words are looked for."""

_END = "\U0010ffff"

_SHOWN = (DOC.c.arrival, DOC.c.kind, DOC.c.id, DOC.c.title, DOC.c.place, DOC.c.day, DOC.c.customer, DOC.c.site)


@dataclass(frozen=True, slots=True)
class Hit:
    """Something that was found.

    kind   customer, site, appliance, instrument or visit
    id     of its entry
    title  what it is called
    place  street, site or customer, as far as they are known
    day    of a visit
    """

    kind: str
    id: str
    title: str
    place: str
    day: str


def _beginning(connection: Connection, typed: str) -> list[int]:
    """Words that are the typed one or begin with it."""
    asked = select(KEPT.c.number).where(KEPT.c.word >= typed, KEPT.c.word < typed + _END)
    return [int(number) for number in connection.scalars(asked.order_by(KEPT.c.word).limit(MOST_WORDS))]


def _similar(connection: Connection, typed: str) -> list[int]:
    """Words that hold the typed one, or that it may have been meant for."""
    runs = grams(typed)
    if len(typed) < 3:
        return []
    inner = max(1, len(typed) - 2)
    need = max(1, inner - 3 * slips(typed)) if slips(typed) else inner
    share = (
        select(GRAM.c.word, func.count().label("shared"))
        .where(GRAM.c.gram.in_(runs))
        .group_by(GRAM.c.word)
        .having(func.count() >= need)
        .order_by(func.count().desc(), GRAM.c.word)
        .limit(MOST_WORDS)
        .subquery()
    )
    rows = connection.execute(select(KEPT.c.number, KEPT.c.word).join(share, share.c.word == KEPT.c.number)).all()
    words = {row.word: int(row.number) for row in rows}
    return [words[word] for word in near(typed, words)]


def _holding(words: Sequence[int]) -> ColumnElement[bool]:
    return HELD.c.word.in_(words)


def _docs(connection: Connection, words: Sequence[int]) -> list[int]:
    """Things that hold one of these words, the newest first, and one more than are looked at when there are more."""
    asked = select(HELD.c.doc).where(_holding(words)).order_by(HELD.c.doc.desc()).limit(MOST_DOCS + 1)
    return [int(doc) for doc in connection.scalars(asked)]


def _of_them(connection: Connection, docs: Sequence[int]) -> set[int]:
    """Things, and what belongs to the customers and sites among them."""
    found = set(docs)
    for some in parts(docs):
        heads = connection.execute(
            select(DOC.c.id, DOC.c.kind).where(DOC.c.arrival.in_(some), DOC.c.kind.in_(("customer", "site")))
        ).all()
        for kind, column in (("customer", DOC.c.customer), ("site", DOC.c.site)):
            ids = [row.id for row in heads if row.kind == kind]
            if ids:
                newest = select(DOC.c.arrival).where(column.in_(ids)).order_by(DOC.c.arrival.desc()).limit(MOST_DOCS)
                found.update(int(doc) for doc in connection.scalars(newest))
    return found


def _held_by(connection: Connection, docs: set[int], words: Sequence[int]) -> set[int]:
    """Those of some things that hold one of these words, themselves or by their customer or site."""
    found: set[int] = set()
    heads: dict[str, set[int]] = {}
    for some in parts(sorted(docs)):
        found.update(connection.scalars(select(HELD.c.doc).where(_holding(words), HELD.c.doc.in_(some))))
        for row in connection.execute(select(DOC.c.arrival, DOC.c.customer, DOC.c.site).where(DOC.c.arrival.in_(some))):
            for head in (row.customer, row.site):
                if head:
                    heads.setdefault(head, set()).add(int(row.arrival))
    for several in parts(sorted(heads)):
        of_heads = select(DOC.c.id).join(HELD, HELD.c.doc == DOC.c.arrival)
        for head in connection.scalars(of_heads.where(DOC.c.id.in_(several), _holding(words)).distinct()):
            found |= heads[head]
    return found


def _everywhere(connection: Connection, several: Sequence[Sequence[int]]) -> set[int]:
    """Things that hold all words themselves, where each word alone is too common; the newest."""
    first, *others = several
    also = [
        select(each.c.doc).where(each.c.word.in_(words), each.c.doc == HELD.c.doc).exists()
        for words, each in ((words, HELD.alias()) for words in others)
    ]
    asked = select(HELD.c.doc).where(and_(_holding(first), *also)).order_by(HELD.c.doc.desc()).limit(MOST_DOCS)
    return {int(doc) for doc in connection.scalars(asked)}


def _all_of(connection: Connection, several: Sequence[Sequence[int]]) -> set[int]:
    """Things that hold a word of each group."""
    if not all(several):
        return set()
    by_word = [(words, _docs(connection, words)) for words in several]
    by_word.sort(key=lambda each: len(each[1]))
    words, docs = by_word[0]
    if len(docs) > MOST_DOCS:
        return _everywhere(connection, several)
    found = _of_them(connection, docs)
    for words, _ in by_word[1:]:
        found = _held_by(connection, found, words)
    return found


def _hits(connection: Connection, docs: set[int], most: int) -> list[Hit]:
    """The best of what was found: what is named before what happened, the newest first."""
    order = list(SAID)
    rows = [
        row
        for some in parts(sorted(docs, reverse=True))
        for row in connection.execute(select(*_SHOWN).where(DOC.c.arrival.in_(some)))
    ]
    rows.sort(key=lambda row: (row.day, row.arrival), reverse=True)
    rows.sort(key=lambda row: order.index(row.kind))
    best = rows[:most]
    heads = named(connection, {head for row in best for head in (row.customer, row.site)})
    return [Hit(row.kind, row.id, row.title, _place(row, heads), row.day) for row in best]


def named(connection: Connection, ids: set[str]) -> dict[str, str]:
    """What things are called, by id; those that are not here are left out."""
    found: dict[str, str] = {}
    for some in parts(sorted(ids - {""})):
        asked = select(DOC.c.id, DOC.c.title).where(DOC.c.id.in_(some))
        found.update({row.id: row.title for row in connection.execute(asked)})
    return found


def _place(row: Any, heads: Mapping[str, str]) -> str:
    """Where it is: in words of its own, else its customer and site."""
    known = [row.place, *(heads.get(head, "") for head in (row.customer, row.site) if head != row.id)]
    return ", ".join(dict.fromkeys(word for word in known if word))


def found(connection: Connection, typed: str, most: int = 40) -> list[Hit]:
    """What holds all the typed words.

    connection  one in which the views are up to date
    typed       words or their beginnings, in any order, case and accents as they come
    most        how many at most
    -> first what holds them as typed, then what holds words that are a slip or two away
    """
    hits: list[Hit] = []
    seen: set[int] = set()
    for words in dict.fromkeys((tuple(words_of(typed)[:MOST_TYPED]), tuple(words_of(joined_in(typed))[:MOST_TYPED]))):
        begun = [_beginning(connection, word) for word in words]
        for wider in (False, True):
            if not words or len(hits) >= most:
                break
            groups = [
                sorted({*these, *_similar(connection, word)}) if wider else these
                for these, word in zip(begun, words, strict=True)
            ]
            new = _all_of(connection, groups) - seen
            hits += _hits(connection, new, most - len(hits))
            seen |= new
    return hits
