"""Samples that come at any time -> rows on one clock, one value of each channel a row, as a recorded trace has them."""

import math
from collections.abc import Iterator, Sequence

from fluewright.evidence.trace.spool import Sample as Row
from fluewright.live.channel import Channel, channel
from fluewright.live.sample import Sample

MOST_ROWS = 600
"""Empty rows made up for a pause at most; after a longer one the rows begin anew."""


class Names:
    """The channels of one appliance by quantity, for whoever asks by name; the first of a quantity answers."""

    def __init__(self, channels: Sequence[Channel], appliance: str) -> None:
        self._places: dict[str, int] = {}
        for place, one in enumerate(channels):
            if one.appliance == appliance:
                self._places.setdefault(one.quantity, place)

    def index(self, name: str) -> int:
        """Where a quantity stands in the values of a row, -1 where it is not read."""
        return self._places.get(name, -1)


class Gathered:
    """Rows of equal length in time, made of the samples that fall into each: their mean, nan where there was none.

    tick              s of one row
    instrument_class  for what nobody said of a channel
    """

    def __init__(self, *, tick: float, instrument_class: str = "service") -> None:
        self.tick, self._class = tick, instrument_class
        self.channels: list[Channel] = []
        self.latest: dict[int, Sample] = {}
        self._places: dict[tuple[str, str, str, str], int] = {}
        self._now: int | None = None
        self._held: dict[int, list[Sample]] = {}
        self.late = 0

    def take(self, sample: Sample) -> Iterator[Row]:
        """Take one sample.

        -> the rows that it brought to an end; a sample older than the row being made is counted as late and shown
           nowhere, because what was judged is not judged again
        """
        if not math.isfinite(sample.value):
            return
        slot = math.floor(sample.at / self.tick)
        if self._now is None:
            self._now = slot
        if slot < self._now:
            self.late += 1
            return
        yield from self.until(sample.at)
        place = self._place(sample)
        self.latest[place] = sample
        self._held.setdefault(place, []).append(sample)

    def until(self, at: float) -> Iterator[Row]:
        """The rows that have ended by a moment, though nothing may have come."""
        slot = math.floor(at / self.tick)
        if self._now is None:
            return
        if slot - self._now > MOST_ROWS:
            yield self._row()
            self._now = slot
        while self._now < slot:
            yield self._row()

    def _place(self, sample: Sample) -> int:
        place = self._places.get(sample.channel)
        if place is None:
            place = self._places[sample.channel] = len(self.channels)
            self.channels.append(
                channel(
                    sample.source, sample.appliance, sample.quantity, sample.point, instrument=sample.instrument,
                    step=sample.step, t90=sample.t90, instrument_class=self._class, trust=sample.trust,
                )
            )  # fmt: skip
        return place

    def _row(self) -> Row:
        """The row being made, ended; the next one begins."""
        assert self._now is not None
        values, above, below = [], 0, 0
        for place in range(len(self.channels)):
            held = self._held.get(place, ())
            values.append(math.fsum(one.value for one in held) / len(held) if held else math.nan)
            above |= (1 << place) if any(one.bound == "at least" for one in held) else 0
            below |= (1 << place) if any(one.bound == "at most" for one in held) else 0
        bounds = tuple((place, values[place]) for place in range(len(values)) if (above | below) >> place & 1)
        row = Row(self._now * self.tick, self._now, tuple(values), above, below, bounds)
        self._now, self._held = self._now + 1, {}
        return row
