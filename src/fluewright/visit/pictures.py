"""Photographs of a visit: taken in, shown without what a camera writes into them, beside those of the visit before."""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import TYPE_CHECKING, Any

from fluewright.errors import FluewrightError, UseError
from fluewright.record.draft import Draft
from fluewright.record.files import content_of, kept_in
from fluewright.record.fold import Current
from fluewright.record.personal import ERASED
from fluewright.visit import kept, once, uploads

if TYPE_CHECKING:
    from fluewright.record.entry import Entry
    from fluewright.record.journal import Journal

WIDEST = 1200
"""Dots of the longer side of what is shown."""


@dataclass(frozen=True, slots=True)
class Picture:
    """One photograph as a page shows it.

    id       of its entry
    visit    that it belongs to
    place    what it shows
    time     when it was taken in
    day      of its visit
    before   the one of the same place on the visit before, None where there is none
    """

    id: str
    visit: str
    place: str
    time: str
    day: str
    before: "Picture | None" = None


def _not_here(code: str) -> UseError:
    return UseError(
        code="FW-U-132",
        read=f"the photograph {code[-8:]!r}",
        expected="one of the photographs of this visit",
        matters="it is not here, was struck out, or was erased",
        do="go back to the sheet, which shows those that are here",
    )


@lru_cache(maxsize=24)
def _drawn(folder: str, name: str) -> bytes:
    from pathlib import Path

    return uploads.shown(content_of(Path(folder), name), WIDEST).content


def taken(journal: "Journal", visit: str, content: bytes, *, place: str = "", form: str = "") -> "Entry":
    """A photograph kept: the original under its hash, and the entry that names it.

    content  its bytes, as the camera wrote them
    place    what it shows, in a few words
    form     id under which it was sent: the same sent twice is kept once
    -> the entry; UseError when it is no photograph
    """
    entries = kept.entries_of(journal, visit)
    if form and (already := once.under(entries, form)):
        return already[0].read.entry
    kind = uploads.picture_type(content)
    uploads.shown(content, WIDEST)
    name = kept_in(journal.store.settings.files_folder(), content)
    body: dict[str, Any] = {"content": name, "type": kind, "bytes": len(content), "visit": visit}
    body |= {"place": place} if place else {}
    appliance = _appliance(entries, visit)
    body |= {"appliance": appliance} if appliance else {}
    body["taken"] = journal.now().isoformat()
    return journal.add(Draft("file", body, id=once.derived(form, 0) if form else ""))


def _appliance(entries: Sequence[Current], visit: str) -> str:
    """The one appliance of a visit; empty where there are several or none."""
    opened = next((each.body for each in entries if each.read.entry.id == visit), {})
    several: Sequence[Any] = opened.get("appliances") or ()
    return str(several[0]) if len(several) == 1 else ""


def drawn(journal: "Journal", visit: str, code: str) -> bytes:
    """One photograph of a visit, for a page; UseError where there is none of this name any more."""
    held = {each.read.entry.id: each for each in _files(kept.entries_of(journal, visit))}
    if code not in held:
        raise _not_here(code)
    return _drawn(str(journal.store.settings.files_folder()), str(held[code].body["content"]))


def _files(entries: Sequence[Current]) -> list[Current]:
    return [
        each
        for each in entries
        if each.counts
        and each.read.entry.kind == "file"
        and str(each.body.get("type", "")).startswith("image/")
        and each.body.get("content") != ERASED
    ]


def _pictures(entries: Sequence[Current], visit: str) -> list[Picture]:
    day = next((str(each.body.get("day", "")) for each in entries if each.read.entry.id == visit), "")
    return [
        Picture(each.read.entry.id, visit, str(each.body.get("place", "")), each.read.entry.entered[11:16], day)
        for each in _files(entries)
    ]


def of_visit(journal: "Journal", visit: str, entries: Sequence[Current]) -> tuple[Picture, ...]:
    """The photographs of a visit, each with that of the same place on the visit before; nothing is read for none."""
    today = _pictures(entries, visit)
    if not today:
        return ()
    before = {each.place: each for each in _before(journal, visit, entries)}
    return tuple(
        Picture(each.id, each.visit, each.place, each.time, each.day, before.get(each.place) if each.place else None)
        for each in today
    )


def _before(journal: "Journal", visit: str, entries: Sequence[Current]) -> list[Picture]:
    """The photographs of the visit before, at the same appliance."""
    from fluewright.record.views import readings
    from fluewright.record.views.catching_up import looked_at

    appliance = _appliance(entries, visit)
    if not appliance:
        return []
    with looked_at(journal.store) as connection:
        rows = readings.last(connection, appliance, most=200)
    visits = [str(row._mapping["visit"]) for row in rows]
    earlier = next((each for each in visits if each != visit), "")
    try:
        return _pictures(kept.entries_of(journal, earlier), earlier) if earlier else []
    except FluewrightError:
        return []
