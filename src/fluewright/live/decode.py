"""A row as samples: each cell a value, a bound, or nothing; what is not there is never zero."""

import math
from collections import Counter
from dataclasses import dataclass, field
from functools import partial

from fluewright.evidence.trace import measure
from fluewright.evidence.trace.cells import Cell, CellReader
from fluewright.live.mapping import Channel, Mapping
from fluewright.live.row import Row
from fluewright.live.sample import Bound, Sample, Trust

SIDES: dict[str, Bound] = {"above": "at least", "below": "at most"}


@dataclass(slots=True)
class _Lane:
    """One channel with what reads its cells."""

    channel: Channel
    reader: CellReader
    low: float
    high: float
    most: float = -math.inf


def _lane(channel: Channel, decimal: str) -> _Lane:
    scale, offset = measure.line(channel.quantity, channel.unit) or (1.0, 0.0)
    convert = partial(measure.line, channel.quantity)
    reader = CellReader(decimal=decimal, scale=scale, offset=offset, convert=convert)
    low, high, _, _ = measure.limits(channel.quantity)
    return _Lane(channel, reader, low, high)


@dataclass(slots=True)
class Decoder:
    """Reads the rows of one source by its mapping.

    left_out  how many cells were no reading, by why
    """

    mapping: Mapping
    left_out: Counter[str] = field(default_factory=Counter)
    _lanes: list[_Lane] = field(default_factory=list)

    def __post_init__(self) -> None:
        self._lanes = [_lane(channel, self.mapping.text.decimal) for channel in self.mapping.channels]

    def samples(self, row: Row, *, at: float, seq: int, late: bool, trust: Trust) -> list[Sample]:
        """The samples of one row.

        row    as it came
        at     s on the one clock
        seq    number of the row within its source
        late   whether it came after a later one
        trust  grade of its source
        -> one sample for each cell that is a reading
        """
        found = []
        for lane in self._lanes:
            text = row.cells.get(lane.channel.come_from)
            read = None if text is None else self._read(lane, text)
            if text is None or read is None:
                continue
            value, bound = read
            channel = lane.channel
            found.append(
                Sample(
                    row.source, self.mapping.instrument, channel.quantity, channel.point or self.mapping.point, at,
                    value, seq, self.mapping.appliance, row.stamped, text.strip(), channel.step, channel.t90, bound,
                    trust, late,
                )
            )  # fmt: skip
        return found

    def _read(self, lane: _Lane, text: str) -> tuple[float, Bound] | None:
        """Value and bound of a cell; None where it is no reading, which is counted."""
        cell: float | Cell = lane.reader.read(text)
        value = cell if isinstance(cell, float) else cell.value
        bound: Bound = ""
        if isinstance(cell, Cell):
            if cell.kind != "bound":
                self.left_out[cell.kind] += 1
                return None
            bound = SIDES[cell.side]
            if math.isinf(value):
                value = lane.channel.top if lane.channel.top is not None else lane.most
        if not lane.low <= value <= lane.high:
            self.left_out["no edge known" if math.isinf(value) else "cannot be"] += 1
            return None
        lane.most = max(lane.most, value)
        if lane.channel.top is not None and value >= lane.channel.top:
            bound = "at least"
        return value, bound
