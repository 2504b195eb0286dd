"""Finds customers, sites, appliances, instruments and visits by words, also mistyped ones."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from sqlalchemy import BindParameter, Integer, bindparam, case, func, select
from sqlalchemy.engine import Connection

from fluewright.record.views.frame import parts
from fluewright.record.views.search import DOC, GRAM, HELD, KEPT, SAID
from fluewright.record.views.words import grams, joined_in, near, slips, words_of

MOST_WORDS = 300
"""Kept words that one typed word may stand for."""
MOST_TYPED = 8
"""Typed words that are heeded."""
MOST_DOCS = 400
"""Things looked at for one typed word, the newest first; beyond it only those that hold all words are looked for."""
FEW = 5
"""Hits below which words are also taken as mistyped."""

_END = "\U0010ffff"


def _numbers(name: str) -> BindParameter[int]:
    """Whole numbers written into the statement itself, however many: they are our own."""
    return bindparam(name, expanding=True, literal_execute=True, type_=Integer)


_HELD = HELD.c.word.in_(_numbers("words"))
_BEGINNING = (
    select(KEPT.c.number)
    .where(KEPT.c.word >= bindparam("first"), KEPT.c.word < bindparam("end"))
    .order_by(KEPT.c.word)
    .limit(MOST_WORDS)
)
_SHARE = (
    select(GRAM.c.word, func.count().label("shared"))
    .where(GRAM.c.gram.in_(bindparam("runs", expanding=True)))
    .group_by(GRAM.c.word)
    .having(func.count() >= bindparam("need"))
    .order_by(func.count().desc(), GRAM.c.word)
    .limit(MOST_WORDS)
    .subquery()
)
_SIMILAR = select(KEPT.c.number, KEPT.c.word).join(_SHARE, _SHARE.c.word == KEPT.c.number)
_DOCS = select(HELD.c.doc).where(_HELD).order_by(HELD.c.doc.desc()).limit(MOST_DOCS + 1)
_HEADS = select(DOC.c.id, DOC.c.kind).where(DOC.c.arrival.in_(_numbers("docs")), DOC.c.kind.in_(("customer", "site")))
_BELONGING = {
    kind: select(DOC.c.arrival)
    .where(column.in_(bindparam("ids", expanding=True)))
    .order_by(DOC.c.arrival.desc())
    .limit(MOST_DOCS)
    for kind, column in (("customer", DOC.c.customer), ("site", DOC.c.site))
}
_HOLDING = select(HELD.c.doc).where(_HELD, HELD.c.doc.in_(_numbers("docs")))
_BELONGS = select(DOC.c.arrival, DOC.c.customer, DOC.c.site).where(DOC.c.arrival.in_(_numbers("docs")))
_HOLDING_HEADS = (
    select(DOC.c.id)
    .join(HELD, HELD.c.doc == DOC.c.arrival)
    .where(DOC.c.id.in_(bindparam("ids", expanding=True)), _HELD)
    .distinct()
)
_RANK = case({kind: place for place, kind in enumerate(SAID)}, value=DOC.c.kind, else_=len(SAID))
_BEST = (
    select(DOC.c.kind, DOC.c.id, DOC.c.title, DOC.c.place, DOC.c.day, DOC.c.customer, DOC.c.site)
    .where(DOC.c.arrival.in_(_numbers("docs")))
    .order_by(_RANK, DOC.c.day.desc(), DOC.c.arrival.desc())
    .limit(bindparam("most"))
)


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
    return list(connection.scalars(_BEGINNING, {"first": typed, "end": typed + _END}))


def _similar(connection: Connection, typed: str) -> list[int]:
    """Words that hold the typed one, or that it may have been meant for."""
    if len(typed) < 3:
        return []
    inner = max(1, len(typed) - 2)
    need = max(1, inner - 3 * slips(typed)) if slips(typed) else inner
    words = {row.word: int(row.number) for row in connection.execute(_SIMILAR, {"runs": grams(typed), "need": need})}
    return [words[word] for word in near(typed, words)]


def _of_them(connection: Connection, docs: Sequence[int]) -> set[int]:
    """Things, and what belongs to the customers and sites among them."""
    found = set(docs)
    heads = connection.execute(_HEADS, {"docs": docs}).all()
    for kind, statement in _BELONGING.items():
        ids = [row.id for row in heads if row.kind == kind]
        if ids:
            found.update(connection.scalars(statement, {"ids": ids}))
    return found


def _held_by(connection: Connection, docs: set[int], words: Sequence[int]) -> set[int]:
    """Those of some things that hold one of these words, themselves or by their customer or site."""
    asked = {"docs": sorted(docs), "words": words}
    found = set(connection.scalars(_HOLDING, asked))
    heads: dict[str, set[int]] = {}
    for row in connection.execute(_BELONGS, {"docs": sorted(docs - found)}):
        for head in (row.customer, row.site):
            if head:
                heads.setdefault(head, set()).add(int(row.arrival))
    for several in parts(sorted(heads)):
        for head in connection.scalars(_HOLDING_HEADS, {"ids": several, "words": words}):
            found |= heads[head]
    return found


def _everywhere(connection: Connection, several: Sequence[Sequence[int]]) -> set[int]:
    """Things that hold all words themselves, where each word alone is too common; the newest."""
    first, *others = several
    also = [
        select(each.c.doc).where(each.c.word.in_(words), each.c.doc == HELD.c.doc).exists()
        for words, each in ((words, HELD.alias()) for words in others)
    ]
    asked = select(HELD.c.doc).where(HELD.c.word.in_(first), *also).order_by(HELD.c.doc.desc()).limit(MOST_DOCS)
    return {int(doc) for doc in connection.scalars(asked)}


def _all_of(connection: Connection, several: Sequence[Sequence[int]]) -> set[int]:
    """Things that hold a word of each group."""
    if not all(several):
        return set()
    by_word = [(words, list(connection.scalars(_DOCS, {"words": words}))) for words in several]
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
    if not docs:
        return []
    best = connection.execute(_BEST, {"docs": sorted(docs), "most": most}).all()
    heads = named(connection, {head for row in best for head in (row.customer, row.site)})
    return [Hit(row.kind, row.id, row.title, _place(row, heads), row.day) for row in best]


def named(connection: Connection, ids: set[str]) -> dict[str, str]:
    """What things are called, by id; those that are not here are left out."""
    found: dict[str, str] = {}
    for some in parts(sorted(ids - {""})):
        asked = select(DOC.c.id, DOC.c.title).where(DOC.c.id.in_(some))
        found.update({row.id: row.title for row in connection.execute(asked)})
    return found


def whereabouts(connection: Connection, ids: set[str]) -> dict[str, str]:
    """By id what a thing is called and where it is; a visit by its customer and site where these are known."""
    found: dict[str, str] = {}
    for some in parts(sorted(ids - {""})):
        rows = connection.execute(select(DOC).where(DOC.c.id.in_(some))).all()
        heads = named(connection, {head for row in rows for head in (row.customer, row.site)})
        for row in rows:
            place = _place(row, heads)
            shown = [place] if row.kind == "visit" and place else [row.title, place]
            found[row.id] = ", ".join(part for part in shown if part)
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
    -> first what holds them as typed; where that is little, then what holds words that are a slip or two away
    """
    hits: list[Hit] = []
    seen: set[int] = set()
    for words in dict.fromkeys((tuple(words_of(typed)[:MOST_TYPED]), tuple(words_of(joined_in(typed))[:MOST_TYPED]))):
        begun = [_beginning(connection, word) for word in words]
        for wider in (False, True):
            if not words or len(hits) >= min(most, FEW):
                break
            groups = [
                sorted({*these, *_similar(connection, word)}) if wider else these
                for these, word in zip(begun, words, strict=True)
            ]
            new = _all_of(connection, groups) - seen
            hits += _hits(connection, new, most - len(hits))
            seen |= new
    return hits
