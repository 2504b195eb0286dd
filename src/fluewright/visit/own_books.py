"""The books of a shop, from where they lie: its house book in a file, clauses it entered in the journal."""

import datetime
from collections.abc import Collection
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from fluewright.errors import FluewrightError, RuleError
from fluewright.record.draft import Draft
from fluewright.record.fold import current, in_order
from fluewright.record.keys_ed25519 import holds
from fluewright.rules import load, signed, stamps
from fluewright.rules.differences import Change, between
from fluewright.rules.entered import Clause, need_whole
from fluewright.rules.house import HOUSE, HouseBook, house_book_of
from fluewright.rules.shop import Shop
from fluewright.visit import once

if TYPE_CHECKING:
    from fluewright.record.entry import Entry
    from fluewright.record.journal import Journal

TAKEN = "house-book.taken"
"""Beside it: hash of the book that a person has seen and taken, so that no change takes effect unseen."""

KEYS = "rule-book-keys.txt"
"""Beside it: public keys whose books are taken without a word, one a line, words behind it."""


@dataclass(frozen=True, slots=True)
class Found:
    """A house book as it was found.

    content   its bytes
    book      read and sound
    standing  whether it is signed, and by whom
    """

    content: bytes
    book: HouseBook
    standing: signed.Standing

    @property
    def stamp(self) -> str:
        """Version and hash, as a seal keeps them."""
        return stamps.words_of(self.content, version=self.book.version)


def trusted_in(folder: Path) -> tuple[str, ...]:
    """The keys whose books are taken here without a word."""
    path = folder / KEYS
    lines = path.read_text(encoding="utf-8").splitlines() if path.exists() else []
    return tuple(line.split()[0] for line in lines if line.strip() and not line.startswith("#"))


def trust(folder: Path, key: str, *, words: str) -> None:
    """Take books of one more key without a word."""
    if key in trusted_in(folder):
        return
    folder.mkdir(parents=True, exist_ok=True)
    with (folder / KEYS).open("a", encoding="utf-8") as file:
        file.write(f"{key} {words}\n")


def standing_of(path: Path, content: bytes, trusted: Collection[str]) -> signed.Standing:
    """How a book stands to the signature beside it."""
    beside = path.with_name(path.name + signed.ENDING)
    text = beside.read_text(encoding="utf-8", errors="replace") if beside.exists() else None
    return signed.standing(content=content, signed=text, trusted=trusted, verify=holds, file=path.name)


def found_at(path: Path, *, trusted: Collection[str] = ()) -> Found:
    """A house book from its file.

    path     TOML
    trusted  keys that need no word
    -> book with its standing; RuleError or Problems where it does not hold, or was changed after it was signed
    """
    content = path.read_bytes()
    one = standing_of(path, content, trusted)
    signed.need_unchanged(one, file=path.name)
    try:
        text = content.decode("utf-8")
    except UnicodeDecodeError as error:
        raise RuleError(
            code="FW-B-055",
            where=path.name,
            read=f"bytes that are no UTF-8 text: {error.reason} at {error.start}",
            expected="a text file in UTF-8",
            matters="a limit read with the wrong letters is another limit",
            do="save the book as UTF-8",
        ) from error
    return Found(content, house_book_of(text=text, file=path.name, above=load.limits()), one)


def in_force(folder: Path) -> Found | None:
    """The house book in the folder of settings; None where there is none.

    -> book; RuleError FW-B-054 where it is not the one that was taken
    """
    path, taken = folder / HOUSE, folder / TAKEN
    if not path.exists():
        return None
    expected = taken.read_text(encoding="utf-8").strip() if taken.exists() else ""
    if expected != signed.hash_of(path.read_bytes()):
        raise RuleError(
            code="FW-B-054",
            where=str(path),
            read="a house book that was changed since it was taken"
            if expected
            else "a house book that nobody has taken",
            expected="the book that a person has seen and taken",
            matters="a change of the rules takes effect only once its difference was seen",
            do=f"see what it changes, and take it: `fluewright rules take {path}`",
        )
    return found_at(path, trusted=trusted_in(folder))


def changes_of(new: Found, folder: Path) -> tuple[Change, ...]:
    """What taking a house book would change.

    new     the book
    folder  of settings
    -> differences from the book that was taken last, all rows where there is none
    """
    last = folder / f"{HOUSE}.before"
    old = last if last.exists() else folder / HOUSE
    try:
        before = found_at(old).book.limits if old.exists() and (folder / TAKEN).exists() else ()
    except FluewrightError:  # one that does not hold any more, as when a law it stood on was replaced
        before = ()
    return between(before, new.book.limits)


def take(new: Found, path: Path, folder: Path) -> None:
    """Make a house book the one in force: kept in the folder of settings with its signature and its hash."""
    folder.mkdir(parents=True, exist_ok=True)
    beside = path.with_name(path.name + signed.ENDING)
    signature = beside.read_bytes() if beside.exists() else None
    for name, content in ((HOUSE, new.content), (f"{HOUSE}.before", new.content)):
        (folder / name).write_bytes(content)
    kept = folder / f"{HOUSE}{signed.ENDING}"
    if signature is None:
        kept.unlink(missing_ok=True)
    else:
        kept.write_bytes(signature)
    (folder / f"{HOUSE}.before{signed.ENDING}").unlink(missing_ok=True)
    (folder / TAKEN).write_text(signed.hash_of(new.content) + "\n", encoding="utf-8")


def clauses_of(journal: "Journal") -> tuple[Clause, ...]:
    """The clauses that a shop entered, in their order, struck-out ones left out."""
    if next(journal.of_kind("clause"), None) is None:  # most shops have none, and changes may be many
        return ()
    kept = [each for each in current(in_order(journal.of_kind("clause", "struck out", "amendment"))) if each.counts]
    return tuple(
        Clause(
            **{
                name: str(each.body[name])
                for name in ("rule", "document", "edition", "clause", "page", "initials", "text")
            },
            day=datetime.datetime.fromisoformat(each.read.entry.entered).date(),
            law_in=str(each.body.get("jurisdiction", "")),
            limit=str(each.body.get("limit", "")),
            unit=str(each.body.get("unit", "")),
        )
        for each in kept
        if each.read.entry.kind == "clause"
    )


def enter(journal: "Journal", clause: Clause, *, form: str = "") -> "Entry":
    """Keep a clause that somebody of the shop read in its own code book.

    journal  of the shop
    clause   as typed
    form     id under which it was sent: the same sent twice is kept once
    -> the entry; RuleError where it leaves something out, or prints another figure than its row
    """
    need_whole(clause, load.limit(clause.rule))
    body = {name: getattr(clause, name) for name in
            ("rule", "document", "edition", "clause", "page", "initials", "text", "limit", "unit")}  # fmt: skip
    whole = {**body, **({"jurisdiction": clause.law_in} if clause.law_in else {})}
    return journal.add(Draft("clause", whole, id=once.derived(form, 0) if form else ""))


def of_journal(journal: "Journal", folder: Path | None) -> Shop:
    """The rules of the shop that a journal is of.

    journal  holds the clauses it entered
    folder   of settings, where its house book lies; None where it can have none
    -> shop; RuleError FW-B-054 where its house book was changed since it was taken
    """
    return shop_of(in_force(folder) if folder is not None else None, clauses_of(journal))


def shop_of(house: Found | None, clauses: tuple[Clause, ...] = ()) -> Shop:
    """The rules of a shop with what has to be told of its books.

    house    its house book, None where it has none
    clauses  that it entered
    -> shop, with a stamp of each book for the seal
    """
    held = {"house book": house.stamp} if house is not None else {}
    if clauses:
        text = "\n".join(map(repr, clauses)).encode("utf-8")
        held["clauses entered by the shop"] = f"{len(clauses)} {stamps.words_of(text, version=None)}"
    told = (house.standing.sentence,) if house is not None and house.standing.must_be_told else ()
    return Shop(house.book if house is not None else None, clauses, held, told)
