"""What a source sent in a while: from the trace blocks of the journal, and from the rows that are not in one yet."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import datetime
from pathlib import Path
from typing import Any

from fluewright import clock
from fluewright.live.blocks import ORDER
from fluewright.live.daybook import END, lines_in
from fluewright.record import blocks
from fluewright.record.files import content_of
from fluewright.record.journal import Journal
from fluewright.record.settings import Settings


def folder_of(settings: Settings) -> Path:
    """Where the rows of a journal lie until they are blocks: beside its files."""
    return settings.files_folder().with_suffix(".live")


@dataclass(slots=True)
class Window:
    """Rows of one source, in any order.

    heads       name and unit of each channel
    times       s since 1970 on the one clock
    cells       texts of each row, in the order of heads; None where nothing was read
    trust, why  the worst grade among them, and its reason
    """

    heads: tuple[tuple[str, str], ...] = ()
    times: list[float] = field(default_factory=list)
    cells: list[Sequence[str | None]] = field(default_factory=list)
    trust: str = ORDER[0]
    why: str = ""
    instrument: str = ""

    def add(self, heads: tuple[tuple[str, str], ...], rows: Iterator[tuple[float, Sequence[str | None]]]) -> bool:
        """Take in rows; those of other channels than before begin anew. -> whether there was any."""
        found = list(rows)
        if found and heads != self.heads:
            self.heads, self.times, self.cells = heads, [], []
        self.times += [at for at, _ in found]
        self.cells += [cells for _, cells in found]
        return bool(found)

    def note(self, trust: str, why: str) -> None:
        """Grade of some of the rows; the worst counts."""
        if ORDER.index(trust) > ORDER.index(self.trust) or not self.why:
            self.trust, self.why = trust, why or self.why


def _of_block(block: blocks.Block) -> Iterator[tuple[float, Sequence[str | None]]]:
    start = datetime.fromisoformat(block.start).timestamp()
    times = block.channels[0].times or ()
    for number, at in enumerate(times):
        yield start + float(at), tuple(channel.values[number] for channel in block.channels)


def _between(
    rows: Iterator[tuple[float, Sequence[str | None]]], *, start: float, end: float
) -> Iterator[tuple[float, Sequence[str | None]]]:
    return (row for row in rows if start <= row[0] <= end)


def _meets(body: Mapping[str, Any], *, start: float, end: float) -> bool:
    """Whether the time of a block and the while that is asked for have a moment in common."""
    first, last = (datetime.fromisoformat(body[key]).timestamp() for key in ("start", "end"))
    return first <= end and start <= last


def _in_blocks(journal: Journal, source: str, found: Window, *, start: float, end: float) -> None:
    """Rows that are in blocks; those of a visit are copies of them."""
    folder = journal.store.settings.files_folder()
    for read in journal.of_kind("trace block"):
        body: Mapping[str, Any] = read.body
        if body.get("source") != source or body.get("visit") or not _meets(body, start=start, end=end):
            continue
        block = blocks.unpacked(content_of(folder, body["file"]), where=body["file"])
        heads = tuple((channel.name, channel.unit) for channel in block.channels)
        if found.add(heads, _between(_of_block(block), start=start, end=end)):
            found.note(body.get("trust", ORDER[-1]), body.get("why", ""))
            found.instrument = body.get("instrument_words", found.instrument)


def _in_daybooks(journal: Journal, folder: Path, source: str, found: Window, *, start: float, end: float) -> None:
    """Rows that are not in a block yet, also while another process is keeping them."""
    for path in sorted(folder.glob(f"*{END}")) if folder.is_dir() else ():
        if journal.entry(clock.derived_id(path.name.removesuffix(END), source)) is not None:
            continue
        heads: tuple[tuple[str, str], ...] = ()
        for held in lines_in(path):
            if held is None:
                continue
            if source in held.get("sources", {}):
                about = held["sources"][source]
                heads = tuple((each["name"], each["unit"]) for each in about["channels"])
                found.instrument = about["instrument"]
            if held.get("source") == source and found.add(
                heads, _between(iter([(held["at"], held["cells"])]), start=start, end=end)
            ):
                found.note(held["trust"], held.get("why", ""))


def sent(journal: Journal, source: str, *, start: float, end: float) -> Window:
    """What a source sent from one moment to another.

    journal     that it was kept in
    source      its name
    start, end  s since 1970
    -> its rows; none when nothing came
    """
    found = Window()
    _in_blocks(journal, source, found, start=start, end=end)
    _in_daybooks(journal, folder_of(journal.store.settings), source, found, start=start, end=end)
    return found
