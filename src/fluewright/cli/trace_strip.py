"""A trace of any length as the data of a strip drawing: lowest and highest value of each interval, gaps left open."""

from collections.abc import Sequence
from datetime import UTC, datetime

from fluewright.evidence.trace import measure, times
from fluewright.evidence.trace.survey import Survey
from fluewright.evidence.trace.trace import Trace
from fluewright.evidence.trace.worked import Worked
from fluewright.report.drawing import Channel, Strip

INTERVALS = 1500
"""Intervals that keep a lowest and a highest value each: more than any paper has columns."""
NUMBERED = 12
"""Most stretches whose numbers still find room above them."""
WANTED = (
    "flue_temperature",
    "oxygen_dry",
    "carbon_monoxide_dry",
    "oxygen_wet",
    "carbon_dioxide_dry",
    "firing_rate",
    "draft",
)
NAMES = {
    "flue_temperature": "flue", "oxygen_dry": "oxygen, dry", "carbon_monoxide_dry": "carbon monoxide",
    "oxygen_wet": "oxygen, wet", "carbon_dioxide_dry": "carbon dioxide", "firing_rate": "firing rate", "draft": "draft",
}  # fmt: skip


class _Lane:
    """One channel thinned while the rows go by."""

    def __init__(self, index: int) -> None:
        self.index = index
        self.times: list[float] = []
        self.values: list[float | None] = []
        self._low: tuple[float, float] | None = None
        self._high: tuple[float, float] | None = None

    def add(self, time: float, value: float) -> None:
        if self._low is None or value < self._low[1]:
            self._low = (time, value)
        if self._high is None or value > self._high[1]:
            self._high = (time, value)

    def end(self) -> None:
        """Close an interval: its lowest and highest value in the order in which they came."""
        for time, value in sorted({point for point in (self._low, self._high) if point}):
            self.times.append(time)
            self.values.append(value)
        self._low = self._high = None

    def gap(self, time: float) -> None:
        """Break the line."""
        self.end()
        if self.values and self.values[-1] is not None:
            self.times.append(time)
            self.values.append(None)


def strip_of(trace: Trace, seen: Survey, rows: Sequence[Worked], system: str) -> Strip:
    """At most three channels of a trace, in the units of the reader, with its steady stretches.

    rows  the stretches to hatch
    -> Strip
    """
    names = [name for name in WANTED if (one := seen.seen(name)) is not None and one.count][:3]
    lanes = [_Lane(trace.index(name)) for name in names]
    width = (seen.end - seen.start) / INTERVALS or 1.0
    interval, last = 0, seen.start
    for sample in trace:
        now = int((sample.time - seen.start) / width)
        broken = sample.time - last > seen.step.gap
        for lane in lanes:
            if broken:
                lane.gap(last)
            elif now != interval:
                lane.end()
            value = sample.values[lane.index]
            if value == value:
                lane.add(sample.time, value)
        interval, last = now, sample.time
    channels = tuple(_channel(name, lane, seen, system) for name, lane in zip(names, lanes, strict=True))
    numbered = len(rows) <= NUMBERED
    hatches = tuple(
        (r.stretch.start - seen.start, r.stretch.end - seen.start, str(r.stretch.number) if numbered else "")
        for r in rows
    )
    return Strip(channels=channels, stretches=hatches, zero=_zero(trace, seen))


def _channel(name: str, lane: _Lane, seen: Survey, system: str) -> Channel:
    lane.end()
    unit, scale, offset = measure.display(name, system)
    values = [None if value is None else value * scale + offset for value in lane.values]
    numbers = [value for value in values if value is not None]
    low, high = min(numbers), max(numbers)
    low = min(low, 0.0) if unit in {"%", "ppm"} else low
    return Channel(
        NAMES[name], unit, [time - seen.start for time in lane.times], values, low, high if high > low else low + 1.0
    )


def _zero(trace: Trace, seen: Survey) -> datetime | None:
    if trace.form.order in {"elapsed seconds", "clock"}:
        return None
    return datetime.fromtimestamp(seen.start, tz=times.zone_of(trace.form.zone) or UTC)
