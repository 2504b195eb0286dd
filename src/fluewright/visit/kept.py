"""Visits in a journal: begun, found again, read back, worked out. Every door calls these."""

from collections.abc import Mapping, Sequence
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING, Any

from fluewright.errors import EntryError, FluewrightError, Problems
from fluewright.evidence.reading import Account, Notice
from fluewright.record.draft import Draft
from fluewright.record.entry import Source as From
from fluewright.record.fold import Current, current, in_order
from fluewright.record.practice import is_practice
from fluewright.record.today import not_kept
from fluewright.visit import as_entries, file, from_entries, once
from fluewright.visit.belonging import belonging
from fluewright.visit.closed import closings_in
from fluewright.visit.held_files import need_held, need_none_named
from fluewright.visit.source import Source

if TYPE_CHECKING:
    from fluewright.record.entry import Entry
    from fluewright.record.journal import Journal

SHORTEST = 4
"""Digits at the end of an id that are enough to name a visit, when only one ends so."""

PRACTICE = "Practice, not a real visit"
"""In front of the title of every visit of a journal for practice."""

NO_FOLDER = Path("no folder of files")
"""Where the names of files lead while a change is only tried: nothing is read for it."""

NOTHING_YET = "FW-V-014"
"""The problem of a visit in which nothing was measured so far: no fault while it is being worked."""


def _no_visit(code: str, several: Sequence[str]) -> EntryError:
    return EntryError(
        code="FW-J-120",
        read=f"the visit {code!r}" + (f", by which {len(several)} visits may be meant" if several else ""),
        expected="the id of a visit in this journal, or so many of its last digits that only one ends so",
        matters="a reading put to another visit would be a false record of both",
        do="see `fluewright visit list`; nothing was kept",
    )


def found(journal: "Journal", code: str) -> str:
    """The id of a visit from its id or the end of it.

    journal  where it is kept
    code     whole id, or its last digits
    -> id; EntryError when none or several are meant
    """
    typed = code.strip().lower()
    if len(typed) == 36 and (read := journal.entry(typed)) is not None and read.entry.kind == "visit":
        return typed  # an entry of another kind under this name would be changed by the rights of visits
    from fluewright.record.views import visits
    from fluewright.record.views.catching_up import looked_at

    if len(typed) < SHORTEST:
        raise _no_visit(code, ())
    with looked_at(journal.store) as connection:
        ids = visits.ending(connection, typed)
    if len(ids) != 1:
        raise _no_visit(code, ids)
    return ids[0]


def entries_of(journal: "Journal", visit: str) -> tuple[Current, ...]:
    """All entries of a visit as they stand now, in an order that is the same on every device."""
    return current(in_order(journal.of_subject(visit)))


def problems_in(entries: Sequence[Current], name: str, files: Path | None = None) -> list[FluewrightError]:
    """What keeps a visit from being judged; that nothing was measured yet is not among it.

    files  folder of the journal's files, to look into traces too
    """
    try:
        file.account_of(entries, Path(name), files=files or NO_FOLDER)
    except Problems as error:
        return [each for each in error.errors if each.code != NOTHING_YET or "two stretches" in each.read]
    return []


def account_of(journal: "Journal", visit: str) -> Account:
    """The account of a kept visit, with where it is kept.

    -> account; Problems when what is there cannot be judged yet
    """
    return account_from(journal, visit, entries_of(journal, visit))


def account_from(journal: "Journal", visit: str, entries: Sequence[Current]) -> Account:
    """The account that some entries of a kept visit give, such as those below a seal; errors as of `account_of`."""
    account = file.account_of(entries, Path(f"visit {visit[-8:]}"), files=journal.store.settings.files_folder())
    ends = [each.printed() for each in journal.anchors() if each.device == journal.device]
    anchor = f"Kept as visit {visit}. Anchor: {ends[0]}." if ends else f"Kept as visit {visit}."
    told = replace(
        account,
        kept=(anchor, *seal_words(entries), *referred_words(entries)),
        notices=open_notices(entries),
        closings=closings_in(entries),
    )
    if not is_practice(journal):
        return told
    return replace(told, practice=True, invented=True, title=f"{PRACTICE}: {account.title}")


def open_notices(entries: Sequence[Current]) -> tuple[Notice, ...]:
    """Dangers told on a visit that nobody has closed; one that was struck out is still a danger."""
    return tuple(
        Notice(
            _with_first(each),
            each.body["consent"],
            told=each.body.get("told", ""),
            done=tuple(each.body.get("done", ())),
            calls=tuple(each.body.get("calls", ())),
            struck=not each.counts,
        )
        for each in notices_in(entries)
    )


def _with_first(notice: Current) -> str:
    """The words of a danger; where they or the consent were amended, with what was told first, which stays told."""
    first: dict[str, Any] = {}
    for change in notice.history:
        first = {name: old for name, old in change.before.items() if name in ("words", "consent")} | first
    other = [f"{name}: {old}" for name, old in sorted(first.items()) if old != notice.body[name]]
    words = str(notice.body["words"])
    return f"{words} (amended; told first as {'; '.join(other)})" if other else words


def notices_in(entries: Sequence[Current]) -> list[Current]:
    """The entries of those dangers."""
    closed = {each.body["of"] for each in entries if each.counts and each.read.entry.kind == "notice closed"}
    return [each for each in entries if each.read.entry.kind == "notice" and each.read.entry.id not in closed]


def technician_of(journal: "Journal", visit: str) -> str:
    """Who did a visit, as it was said when it was opened."""
    opened = next((each.body for each in entries_of(journal, visit) if each.read.entry.id == visit), {})
    return str(opened.get("technician_name", ""))


def seal_words(entries: Sequence[Current]) -> tuple[str, ...]:
    """How a visit was sealed, in sentences."""
    seals = [each.body for each in entries if each.read.entry.kind in ("seal", "counter-seal")]
    return tuple(
        f"Sealed by {seal.get('name') or 'the device'}, {seal.get('when') or ''}: {seal['meaning']}." for seal in seals
    ) or ("Not sealed.",)


def referred_words(entries: Sequence[Current]) -> tuple[str, ...]:
    """What later found an instrument off and refers to this visit, in sentences."""
    changes = [change for each in entries for change in each.history if "referred" in change.after]
    return tuple(f"Referred to later: {change.read.body.get('because', '')}." for change in changes)


def need_sound(before: Sequence[Current], drafts: Sequence[Draft], name: str) -> None:
    """Refuse drafts that would bring a problem into a visit that it did not have.

    before  entries so far
    drafts  what is to be added
    name    of the visit, for the errors
    -> nothing; Problems with what is new, VisitError for a file that is not held
    """
    need_held(before, [draft.body for draft in drafts])
    need_no_worse(before, (*before, *current(not_kept(drafts))), name)


def need_no_worse(before: Sequence[Current], after: Sequence[Current], name: str, files: Path | None = None) -> None:
    """Refuse a change after which a visit has a problem that it did not have."""
    known = {each.sentence() for each in problems_in(before, name, files)}
    new = [each for each in problems_in(after, name, files) if each.sentence() not in known]
    if new:
        raise Problems(subject=name, errors=new)


def begun(
    journal: "Journal",
    tables: Mapping[str, Any],
    *,
    source: From = "typed",
    form: str = "",
    chosen: Mapping[str, str] | None = None,
) -> "Entry":
    """A new visit.

    journal  where it is kept
    tables   visit, appliance, fuel, and instrument and place where they are known; as in a visit file
    source   typed, or from paper
    form     id under which it was sent: the same sent twice is opened once
    chosen   ids of customer, site, appliance and instrument by kind, where the visit was begun from their page
    -> the entry of the visit; Problems when its tables do not hold together
    """
    visit, name = once.derived(form, 0) if form else "", "new visit"
    already = journal.entry(visit) if visit else None
    if already is not None:
        return already.entry
    need_none_named(tables)
    read = Source(Path(name), {**tables, **_from_shelf(journal, tables)})
    problems = problems_in(current(not_kept(as_entries.drafts_of(read, file.FORM, source=source))), name)
    if problems:
        raise Problems(subject=name, errors=problems)
    return _opened(journal, read, source, visit, chosen)


def _from_shelf(journal: "Journal", tables: Mapping[str, Any]) -> dict[str, Any]:
    """The table about the instrument, with what the shelf knows of it and nobody typed: the zero of the day too.

    It is written into the visit as it is today: what is learned of the instrument later leaves the visit as it was.
    """
    from fluewright.visit.day_zero import zeros_for  # these look into visits themselves
    from fluewright.visit.shelf import condition_of

    typed = tables.get("instrument", {})
    words, day = str(typed.get("words", "")), str(tables.get("visit", {}).get("date", ""))[:10]
    known: dict[str, Any] = dict(condition_of(journal, words)) if words else {}
    if words and "check" not in typed and "zero" not in typed and (zeros := zeros_for(journal, words, day)):
        known["check"] = zeros
    return {"instrument": {**known, **typed}} if known else {}


def _opened(
    journal: "Journal", read: Source, source: From, visit: str = "", chosen: Mapping[str, str] | None = None
) -> "Entry":
    """A visit entered with whom and what it is about, all in one."""
    about = belonging(journal, read.tree, source=source, chosen=chosen)
    drafts = as_entries.drafts_of(read, file.FORM, source=source, about=about.ids, visit=visit)
    beside = [_beside(journal, path, name, drafts[0].id) for name, path in file.files_of(read).items()]
    return journal.add_all([*about.drafts, *drafts, *beside])[len(about.drafts)]


def _beside(journal: "Journal", path: Path, name: str, visit: str) -> Draft:
    """A trace or another file that a visit names, kept beside the journal before the entry that names it."""
    from fluewright.record.files import kept_in

    content = path.read_bytes()
    held = kept_in(journal.store.settings.files_folder(), content)
    body = {"content": held, "type": "application/octet-stream", "bytes": len(content), "visit": visit, "place": name}
    return Draft("file", body, source="imported")


def brought_in(journal: "Journal", path: Path, *, source: From = "imported", form: str = "") -> "Entry":
    """A visit file taken into the journal, every line of it.

    form  id under which it was sent, from which that of the visit follows
    -> the entry of the visit; Problems with every fault found, and then nothing was kept
    """
    return _opened(journal, file.source_of(path), source, once.derived(form, 0) if form else "")


def tables_of(journal: "Journal", visit: str) -> Mapping[str, Any]:
    """A kept visit as the tables of a visit file."""
    return from_entries.tree_of(entries_of(journal, visit), file.FORM)


def latest(journal: "Journal", *, most: int) -> list[dict[str, str]]:
    """The latest visits in words: id, day, title, site, and whether they are open or sealed.

    most  how many
    -> latest first
    """
    from fluewright.record.views import visits
    from fluewright.record.views.catching_up import looked_at

    with looked_at(journal.store) as connection:
        rows = visits.newest(connection, most)
    return [
        {"id": row["id"], "day": row["day"], "title": row["title"], "site": row["site_words"], "state": row["state"]}
        for row in rows
    ]
