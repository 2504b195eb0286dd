"""Dangerous causes of a kept visit closed: tested out, made safe, or handed on; and what is open before the seal."""

from collections.abc import Mapping, Sequence
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING, Any

from fluewright.errors import EntryError, NotAllowed, Problems
from fluewright.evidence.reading import How
from fluewright.record.draft import Draft
from fluewright.visit import kept, once
from fluewright.visit.closed import KIND, known_in

if TYPE_CHECKING:
    from fluewright.diagnose.standing import Stands
    from fluewright.record.entry import Entry
    from fluewright.record.journal import Journal

HOW: tuple[How, ...] = ("tested out", "made safe", "escalated")


def dangers_of(journal: "Journal", visit: str, books: Path | None = None) -> "tuple[Stands, ...]":
    """Dangerous causes of a visit that stand or were closed.

    books  folder where the shop's house book lies, by which its pages judge; None where it can have none
    -> likeliest first; none while too little was read
    """
    from fluewright.visit import causes, own_books, work

    try:
        account = replace(kept.account_of(journal, visit), shop=own_books.of_journal(journal, books))
        found = causes.causes_of(work.judged(account))
    except Problems as error:
        if any(one.code != kept.NOTHING_YET for one in error.errors):
            raise
        return ()
    return () if found is None else found.dangers


def need_closed(journal: "Journal", visit: str, books: Path | None = None) -> None:
    """Refuse to go on while a dangerous cause is open.

    -> nothing; NotAllowed that names each with what would close it
    """
    still = [each for each in dangers_of(journal, visit, books) if each.open]
    if not still:
        return
    named = "; ".join(f"{each.words} [{each.name}]" for each in still)
    tests = "; ".join(f"[{each.name}] {each.close}" for each in still)
    count = "one danger that is" if len(still) == 1 else f"{len(still)} dangers that are"
    say = "say with `fluewright visit close` how each was closed"
    raise NotAllowed(
        code="FW-N-107",
        read=f"a seal over {count} still open: {named}",
        expected="each of them tested out, made safe, or handed on to somebody by name",
        matters="whoever trusts the seal would go on living beside it, and nobody would know that it was left open",
        do=f"test each, and write down what was found: {tests}; or {say}",
    )


def _need_whole(how: str, words: str, to: str, when: str) -> None:
    if how not in HOW:
        raise EntryError(
            code="FW-J-127",
            read=f"a danger closed, and {how!r} as how",
            expected=f"one of {', '.join(HOW)}",
            matters="what was tested, mended or handed on is looked for in different places later",
            do="say which of them it was",
        )
    handed_on = how == "escalated"
    if words.strip() and (not handed_on or (to.strip() and when.strip())) and (handed_on or not (to or when)):
        return
    told = [f"{name} {text!r}" for name, text in (("words", words), ("to", to), ("when", when)) if text]
    raise EntryError(
        code="FW-J-125",
        read=f"a danger {how}, with {', '.join(told) or 'nothing more said'}",
        expected="the name of whoever took it over, when that was, and why"
        if handed_on
        else "in a few words which test excludes it, or what was done",
        matters="a danger is closed by what somebody can look up later, not by a word",
        do="add --to, --when and words" if handed_on else "add the words; --to and --when belong to --escalated",
    )


def _named(standing: "Sequence[Stands]", codes: Sequence[str]) -> list[str]:
    """The dangers that are meant, by name or words."""
    known = {each.name: each for each in standing}
    by_words = {each.words: each.name for each in standing}
    found = [by_words.get(code, code) for code in codes]
    missing = [code for code in found if code not in known]
    if not missing and found:
        return list(dict.fromkeys(found))
    raise EntryError(
        code="FW-J-126",
        read=f"{', '.join(map(repr, missing)) or 'no danger'} to be closed",
        expected=f"one of {', '.join(known)}" if known else "a danger of this visit, and none stands",
        matters="a closing of what does not stand would hide one that does",
        do="see `fluewright visit close VISIT` for those that stand",
    )


def closed(
    journal: "Journal",
    visit: str,
    dangers: Sequence[str],
    *,
    how: str,
    words: str,
    to: str = "",
    when: str = "",
    form: str = "",
    books: Path | None = None,
) -> "tuple[Entry, ...]":
    """Dangers closed, all of them in the same way; the entries say how, and what was known then.

    dangers  names or words, of those that stand
    how      tested out, made safe, escalated
    words    which test excludes it, what was done, or why it was handed on
    to       to whom it was handed on
    when     when that was
    form     id under which it was sent: the same sent twice is kept once
    books    as in `dangers_of`
    -> the entries; EntryError where a danger does not stand or something is left unsaid
    """
    entries = kept.entries_of(journal, visit)
    if form and (already := once.under(entries, form)):
        return tuple(each.read.entry for each in already)
    _need_whole(how, words, to, when)
    names = _named(dangers_of(journal, visit, books), dangers)
    said: Mapping[str, Any] = {key: value for key, value in (("to", to), ("when", when)) if value}
    body = {"visit": visit, "how": how, "words": words, **said, "knows": known_in(entries)}
    ids = [once.derived(form, place) if form else "" for place in range(len(names))]
    drafts = [Draft(KIND, {**body, "danger": name}, id=one) for name, one in zip(names, ids, strict=True)]
    return tuple(journal.add_all(drafts))
