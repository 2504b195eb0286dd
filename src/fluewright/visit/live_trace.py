"""A trace block as a trace: live samples then go the same way as a recorded file."""

import math
from datetime import datetime
from functools import partial
from pathlib import Path

from fluewright.evidence.trace import measure
from fluewright.evidence.trace.cells import Cell, CellReader
from fluewright.evidence.trace.spool import Spool, edges_of, in_order
from fluewright.evidence.trace.times import Form
from fluewright.evidence.trace.trace import Channel, Trace
from fluewright.record import blocks

BEGINS = blocks.MAGIC[:3]
"""What the file of a block begins with, and no trace file of another kind does."""


def is_block(path: Path) -> bool:
    """Whether a file is a trace block."""
    try:
        with path.open("rb") as file:
            return file.read(len(BEGINS)) == BEGINS
    except OSError:
        return False


class _Lane:
    """The cells of one channel."""

    def __init__(self, channel: blocks.Channel) -> None:
        self.name = channel.name.partition("@")[0]
        scale, offset = measure.line(self.name, channel.unit) or (math.nan, math.nan)
        convert = partial(measure.line, self.name)
        self.reader = CellReader(decimal=_decimal(channel), scale=scale, offset=offset, convert=convert)
        self.low, self.high, _, _ = measure.limits(self.name)
        self.values = channel.values

    def read(self, number: int) -> tuple[float, str]:
        """Value and side of a cell; nan where nothing was read."""
        text = self.values[number]
        cell = math.nan if text is None else self.reader.read(text)
        if not isinstance(cell, Cell):
            return (cell if self.low <= cell <= self.high else math.nan), ""
        return (cell.value, cell.side) if cell.kind == "bound" else (math.nan, "")


def _decimal(channel: blocks.Channel) -> str:
    """The decimal mark of a channel: a comma where figures have one and none has a point."""
    texts = [text for text in channel.values if text is not None]
    return "," if any("," in text for text in texts) and not any("." in text for text in texts) else "."


def trace_of(block: blocks.Block, *, subject: str) -> Trace:
    """A trace from a block; of a quantity read at several points the first channel.

    block    with one common column of times
    subject  its name, for errors
    -> trace whose times are of the clock of the block
    """
    chosen: dict[str, blocks.Channel] = {}
    for channel in block.channels:
        if measure.known(channel.name.partition("@")[0]):
            chosen.setdefault(channel.name.partition("@")[0], channel)
    lanes = [_Lane(channel) for channel in chosen.values()]
    start = datetime.fromisoformat(block.start)
    spool = Spool(len(lanes))
    for number, at in enumerate(block.channels[0].times or ()):
        read = [lane.read(number) for lane in lanes]
        above, below = (sum(1 << i for i, (_, side) in enumerate(read) if side == word) for word in ("above", "below"))
        spool.append(start.timestamp() + float(at), number + 1, [value for value, _ in read], above, below)
    ordered = in_order(spool)
    channels = [Channel(lane.name, measure.canonical(lane.name), lane.name) for lane in lanes]
    zone = start.strftime("%z")
    form = Form("epoch seconds", f"{zone[:3]}:{zone[3:5]}")
    return Trace(channels=channels, spool=ordered, form=form, subject=subject, edges=edges_of(ordered))


def opened(path: Path) -> Trace:
    """The trace in the file of a block; RecordDamaged when a byte differs from what was kept."""
    return trace_of(blocks.unpacked(path.read_bytes(), where=path.name), subject=path.name)
