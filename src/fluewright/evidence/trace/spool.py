"""Parsed rows kept as packed numbers: in memory while few, in a nameless temporary file when many.

A trace is parsed once; every later pass (order, survey, stretches, comparison) reads the spool at the speed of the
disk and in constant memory. The file has no name, so that nothing is left behind whatever happens.
"""

import heapq
import math
import struct
import tempfile
from collections.abc import Iterator, Sequence
from itertools import pairwise
from typing import IO, NamedTuple

IN_MEMORY = 8 * 1024 * 1024
"""Bytes kept in memory before the spool moves to disk (about 100,000 rows of eight channels)."""
_RUN = 50_000  # rows sorted in memory at a time when a trace is out of order


class Sample(NamedTuple):
    """One row of a trace. time: seconds (UTC when known). row: line in the file. values: nan for a gap or a bound.

    above, below  bit i set: the cell of channel i was a bound such as >2000 or <1
    bounds        the number of each such bound, by channel index
    """

    time: float
    row: int
    values: tuple[float, ...]
    above: int = 0
    below: int = 0
    bounds: tuple[tuple[int, float], ...] = ()


class Spool:
    """A growing list of samples of one width; append, then read from the start as often as wanted."""

    def __init__(self, width: int) -> None:
        self.width = width
        self.count = 0
        self._packer = struct.Struct(f"<dqQQ{width}d")
        self._file: IO[bytes] = tempfile.SpooledTemporaryFile(max_size=IN_MEMORY)  # noqa: SIM115 closed by close()
        self._waiting: list[bytes] = []

    def append(self, time: float, row: int, values: Sequence[float], above: int = 0, below: int = 0) -> None:
        """Add one sample. A channel whose bit is set in above or below holds the number of the bound."""
        self._waiting.append(self._packer.pack(time, row, above, below, *values))
        self.count += 1
        if len(self._waiting) >= 1024:
            self._flush()

    def _flush(self) -> None:
        if self._waiting:
            self._file.seek(0, 2)
            self._file.write(b"".join(self._waiting))
            self._waiting.clear()

    def packed(self, start: int = 0) -> Iterator[tuple[float, ...]]:
        """The samples as flat tuples: time, row, above, below, values. Several readers may run at once."""
        self._flush()
        size, at = self._packer.size, start * self._packer.size
        while True:
            self._file.seek(at)
            block = self._file.read(size * 2048)
            if not block:
                return
            at += len(block)
            yield from self._packer.iter_unpack(block)

    def close(self) -> None:
        """Let the temporary file go."""
        self._file.close()


def opened(flat: tuple[float, ...], edges: Sequence[float] = ()) -> Sample:
    """A flat tuple as a sample: bounds are taken out of the values.

    edges  by channel, what stands for a bound without a figure (infinite); nan makes it a gap
    """
    above, below = int(flat[2]), int(flat[3])
    if not above and not below:
        return Sample(flat[0], int(flat[1]), flat[4:])
    mask = above | below
    values = tuple(math.nan if mask >> i & 1 else value for i, value in enumerate(flat[4:]))
    known = ((i, edges[i] if edges and value == math.inf else value) for i, value in enumerate(flat[4:]))
    bounds = tuple((i, value) for i, value in known if mask >> i & 1 and value == value)
    with_edge = sum(1 << i for i, _ in bounds)
    above, below = above & with_edge, below & with_edge
    return Sample(flat[0], int(flat[1]), values, above, below, bounds)


def edges_of(spool: Spool) -> tuple[float, ...]:
    """The highest figure of each channel, read or named by a bound such as >2000; nan for a channel without one."""
    highest = [-math.inf] * spool.width
    for flat in spool.packed():
        below = int(flat[3])
        for i, value in enumerate(flat[4:]):
            if highest[i] < value < math.inf and not below >> i & 1:
                highest[i] = value
    return tuple(value if value > -math.inf else math.nan for value in highest)


def in_order(spool: Spool) -> Spool:
    """The same samples in order of time, equal times in order of row; sorted in runs and merged, in constant memory."""
    runs = Spool(spool.width)
    bounds: list[int] = [0]
    waiting: list[tuple[float, ...]] = []
    for flat in spool.packed():
        waiting.append(flat)
        if len(waiting) == _RUN:
            _write_run(runs, waiting, bounds)
    _write_run(runs, waiting, bounds)
    if len(bounds) <= 2:
        spool.close()
        return runs
    merged = Spool(spool.width)
    streams = [_slice(runs, first, last) for first, last in pairwise(bounds)]
    for flat in heapq.merge(*streams, key=lambda flat: (flat[0], flat[1])):
        merged.append(flat[0], int(flat[1]), flat[4:], int(flat[2]), int(flat[3]))
    runs.close()
    spool.close()
    return merged


def _write_run(runs: Spool, waiting: list[tuple[float, ...]], bounds: list[int]) -> None:
    waiting.sort(key=lambda flat: (flat[0], flat[1]))
    for flat in waiting:
        runs.append(flat[0], int(flat[1]), flat[4:], int(flat[2]), int(flat[3]))
    waiting.clear()
    bounds.append(runs.count)


def _slice(spool: Spool, first: int, last: int) -> Iterator[tuple[float, ...]]:
    for number, flat in enumerate(spool.packed(first), start=first):
        if number >= last:
            return
        yield flat
