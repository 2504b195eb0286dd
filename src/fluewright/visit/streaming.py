"""A stretch of a live source taken into a visit, with the grade of trust of who sent it."""

from dataclasses import dataclass
from datetime import datetime
from typing import TYPE_CHECKING, Any

from fluewright import clock
from fluewright.errors import VisitError
from fluewright.live import window
from fluewright.live.blocks import block_of
from fluewright.record import blocks
from fluewright.record.draft import Draft
from fluewright.record.files import kept_in
from fluewright.record.fold import current
from fluewright.record.today import not_kept
from fluewright.visit import kept, once

if TYPE_CHECKING:
    from fluewright.record.entry import Entry
    from fluewright.record.journal import Journal


@dataclass(frozen=True, slots=True)
class While:
    """Which while of a source is meant, and what it stands for.

    source      its name
    start, end  moments with their offset
    word        of the stretch: as found, as left, low fire
    point       sampling point; that of the channels where they name one
    """

    source: str
    start: datetime
    end: datetime
    word: str
    point: str = ""


def _nothing(asked: While) -> VisitError:
    return VisitError(
        code="FW-V-090",
        where=asked.source,
        read=f"nothing from it between {asked.start:%H:%M:%S} and {asked.end:%H:%M:%S}",
        expected="samples of that source in this journal",
        matters="a stretch without samples would stand for a condition that nobody saw",
        do="see that `fluewright listen` heard it then, and how its mapping names it; nothing was kept",
    )


def _at_point(found: window.Window, point: str) -> list[int]:
    """The channels that belong to a point: those that name it, and those that name none; all where none is asked."""
    own = [name.partition("@")[2] for name, _ in found.heads]
    return [lane for lane, at in enumerate(own) if not point or at in ("", point)]


def taken(journal: "Journal", visit: str, asked: While, *, form: str = "") -> "tuple[Entry, ...]":
    """A while of a source as a stretch of a visit; it is worked out and judged like a recorded trace.

    journal  where both are kept
    visit    its id
    asked    which while
    form     id under which it was sent: the same sent twice is kept once
    -> the entries of stretch and block, on the disk; VisitError or Problems when it cannot be, and nothing was kept
    """
    stretch, of_block = (once.derived(form, n) if form else clock.new_id() for n in range(2))
    if already := [read.entry for each in (stretch, of_block) if (read := journal.entry(each)) is not None]:
        return tuple(already)
    found = window.sent(journal, asked.source, start=asked.start.timestamp(), end=asked.end.timestamp())
    lanes = _at_point(found, asked.point)
    if not found.times or not lanes:
        raise _nothing(asked)
    points = {name.partition("@")[2] for name, _ in (found.heads[lane] for lane in lanes)} - {""}
    heads = [{"name": found.heads[lane][0], "unit": found.heads[lane][1]} for lane in lanes]
    cells = [[row[lane] for lane in lanes] for row in found.cells]
    block = block_of(heads, found.times, cells, zone=asked.start.tzinfo)
    data, folder = blocks.packed(block), journal.store.settings.files_folder()
    kept_in(folder, data)
    first: dict[str, Any] = {"visit": visit, "word": asked.word, "time": f"{asked.end:%H:%M}", "trace_block": of_block}
    point = asked.point or (points.pop() if len(points) == 1 else "")
    second = {**blocks.fields_of(block, data), "visit": visit, "stretch": stretch, "source": asked.source,
              "trust": found.trust, "why": found.why, "instrument_words": found.instrument}  # fmt: skip
    drafts = [
        Draft("stretch", first | ({"point": point} if point else {}), source="streamed", id=stretch),
        Draft("trace block", {key: value for key, value in second.items() if value}, source="streamed", id=of_block),
    ]
    before = kept.entries_of(journal, visit)
    kept.need_no_worse(before, (*before, *current(not_kept(drafts))), f"visit {visit[-8:]}", folder)
    return tuple(journal.add_all(drafts))
