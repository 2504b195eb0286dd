"""Rows of a daybook as trace blocks of the journal: one for each source, kept once whatever happens in between."""

import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import UTC, datetime, tzinfo
from pathlib import Path
from typing import Any

from fluewright import clock
from fluewright.live.daybook import END, lines_in
from fluewright.live.mapping import Mapping as Said
from fluewright.record import blocks
from fluewright.record.blocks import Block, Channel
from fluewright.record.draft import Draft
from fluewright.record.files import kept_in
from fluewright.record.journal import Journal

ORDER = "known", "unknown"
"""Grades of trust, the better one first; a block has the worst of its rows."""


LINES, ENTRIES = 16, 4
"""Lines of a daybook that are read, and entries that are written, between two rests."""

Rest = Callable[[], None]


def at_once() -> None:
    """No rest: nothing else is waiting."""


def channel_name(quantity: str, point: str) -> str:
    """What a channel of a block is called: its quantity, and its sampling point where one is named."""
    return f"{quantity}@{point}" if point else quantity


def about(said: Said, *, trust: str, why: str) -> dict[str, Any]:
    """What a daybook has to say of a source, so that its rows can be read without its mapping.

    said   the mapping
    trust  its grade
    why    the grade in words
    """
    channels = [
        {"name": channel_name(each.quantity, each.point or said.point), "unit": each.unit} for each in said.channels
    ]
    return {
        "instrument": said.instrument,
        "appliance": said.appliance,
        "channels": channels,
        "trust": trust,
        "why": why,
    }


@dataclass(slots=True)
class _Growing:
    """The rows of one source."""

    about: Mapping[str, Any]
    times: list[float] = field(default_factory=list)
    cells: list[Sequence[str | None]] = field(default_factory=list)
    trust: str = "known"
    why: str = ""

    def add(self, row: Mapping[str, Any]) -> None:
        self.times.append(row["at"])
        self.cells.append(row["cells"])
        self.note(row["trust"], row.get("why", ""))

    def note(self, trust: str, why: str) -> None:
        if ORDER.index(trust) >= ORDER.index(self.trust):
            self.trust, self.why = trust, why or self.why


def block_of(
    heads: Sequence[Mapping[str, str]],
    times: Sequence[float],
    cells: Sequence[Sequence[str | None]],
    *,
    zone: tzinfo | None = UTC,
) -> Block:
    """A block from rows in any order.

    heads  name and unit of each channel
    times  s since 1970, one for each row
    cells  texts of each row as they came, in the order of heads; None where nothing was read
    zone   of the clock that its start is told by
    -> block whose channels share one column of times, in order
    """
    order = sorted(range(len(times)), key=times.__getitem__)
    start = int(times[order[0]])
    own = tuple(f"{times[at] - start:.3f}" for at in order)
    columns = [tuple(cells[at][lane] for at in order) for lane in range(len(heads))]
    channels = [Channel(head["name"], head["unit"], column, own) for head, column in zip(heads, columns, strict=True)]
    return Block(datetime.fromtimestamp(start, zone or UTC).isoformat(), "", tuple(channels))


def _sources(path: Path, rest: Rest) -> tuple[dict[str, _Growing], int]:
    """The rows of a daybook by source, and how many lines of it are damaged."""
    found: dict[str, _Growing] = {}
    damaged = 0
    for number, held in enumerate(lines_in(path)):
        if number % LINES == 0:
            rest()
        if held is None:
            damaged += 1
            continue
        found |= {name: _Growing(told) for name, told in held.get("sources", {}).items()}
        if held.get("source") in found:
            found[held["source"]].add(held)
    return {name: each for name, each in found.items() if each.times}, damaged


def drafts_of(path: Path, files: Path, rest: Rest = at_once) -> tuple[list[Draft], int]:
    """Trace blocks of all rows of a daybook, their files on the disk; the same daybook gives the same drafts.

    path   of the daybook
    files  folder of the journal's files
    rest   called every so often
    -> drafts, one for each source, and how many lines are damaged
    """
    drafts = []
    sources, damaged = _sources(path, rest)
    for name, found in sources.items():
        rest()
        block = block_of(found.about["channels"], found.times, found.cells)
        data = blocks.packed(block)
        kept_in(files, data)
        body = blocks.fields_of(block, data)
        body["end"] = datetime.fromtimestamp(math.ceil(max(found.times)), UTC).isoformat()
        told = {"instrument_words": found.about["instrument"], "appliance_words": found.about["appliance"]}
        body |= {"source": name, "trust": found.trust, "why": found.why}
        body |= {key: value for key, value in told.items() if value}
        entry = clock.derived_id(path.name.removesuffix(END), name)
        drafts.append(Draft("trace block", {k: v for k, v in body.items() if v != ""}, source="streamed", id=entry))
    return drafts, damaged


def cut(journal: Journal, path: Path, rest: Rest = at_once) -> int:
    """Put the rows of a daybook into the journal.

    Cut off in between, the same is done again and nothing is kept twice.

    journal  open for writing
    path     of the daybook, which nothing more is written to; it may go after that
    rest     called every so often, so that whoever does this beside other work lets that go on
    -> how many of its lines are damaged
    """
    drafts, damaged = drafts_of(path, journal.store.settings.files_folder(), rest)
    for start in range(0, len(drafts), ENTRIES):
        rest()
        journal.add_all(drafts[start : start + ENTRIES])
    return damaged
