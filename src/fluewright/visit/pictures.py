"""Photographs of a visit: taken in, shown without what a camera writes into them, beside those of the visit before."""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from io import BytesIO
from typing import TYPE_CHECKING, Any

from fluewright.errors import FluewrightError, UseError
from fluewright.record.draft import Draft
from fluewright.record.files import content_of, kept_in
from fluewright.record.fold import Current
from fluewright.record.personal import ERASED
from fluewright.visit import kept, once

if TYPE_CHECKING:
    from fluewright.record.entry import Entry
    from fluewright.record.journal import Journal

LONGEST = 16 * 1024 * 1024
"""Bytes of one photograph."""

MOST_DOTS = 64_000_000
"""Dots of one photograph: what unpacks to more is made to fill a machine, not to show an appliance."""

WIDEST = 1200
"""Dots of the longer side of what is shown."""

BEGINS = ((b"\xff\xd8\xff", "image/jpeg"), (b"\x89PNG\r\n\x1a\n", "image/png"), (b"RIFF", "image/webp"))
"""First bytes by type: the name of a file and what a browser says of it count for nothing."""

FORMATS = ("JPEG", "PNG", "WEBP")


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


def _unusable(read: str, matters: str) -> UseError:
    return UseError(
        code="FW-U-132",
        read=read,
        expected=f"a photograph as JPEG, PNG or WebP, at most {LONGEST // 2**20} MB",
        matters=matters,
        do="take the picture again, smaller or as JPEG; nothing was kept",
    )


def type_of(content: bytes) -> str:
    """The type of a photograph from its first bytes; UseError for anything else, and for more than is taken."""
    if len(content) > LONGEST:
        raise _unusable(f"{len(content):,} bytes", "a door that takes in everything can be filled up")
    for begins, name in BEGINS:
        if content.startswith(begins) and (name != "image/webp" or content[8:12] == b"WEBP"):
            return name
    raise _unusable("a file that is no photograph", "a file of another kind could act on whoever opens it")


def shown(content: bytes) -> bytes:
    """A photograph drawn anew for a page: upright, smaller, without place, time, maker or anything else beside it.

    -> JPEG; UseError when it cannot be drawn
    """
    from PIL import Image, ImageOps

    try:
        with Image.open(BytesIO(content), formats=FORMATS) as image:
            if image.width * image.height > MOST_DOTS:
                raise _unusable(f"{image.width} x {image.height} dots", "unpacked it would fill the memory")
            image.draft("RGB", (WIDEST, WIDEST))
            upright = ImageOps.exif_transpose(image).convert("RGB")
    except (OSError, ValueError, SyntaxError, Image.DecompressionBombError) as error:
        raise _unusable(f"a photograph that cannot be drawn: {error}", "a picture nobody can see proves nothing") from (
            error
        )
    upright.thumbnail((WIDEST, WIDEST))
    made = BytesIO()
    bare = Image.new("RGB", upright.size)
    bare.paste(upright)
    bare.save(made, "JPEG", quality=82, optimize=True)
    return made.getvalue()


@lru_cache(maxsize=24)
def _drawn(folder: str, name: str) -> bytes:
    from pathlib import Path

    return shown(content_of(Path(folder), name))


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
    kind = type_of(content)
    shown(content)
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
        raise _unusable(f"the photograph {code[-8:]!r}", "it is not here, was struck out, or was erased")
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
