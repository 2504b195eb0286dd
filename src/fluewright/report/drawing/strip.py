"""The strip: channels over time on at most three scales, steady stretches hatched, gaps left as gaps."""

from collections.abc import Iterator
from datetime import timedelta
from itertools import groupby, pairwise
from math import ceil, floor, log10

from fluewright.report.drawing.data import Channel, Strip
from fluewright.report.drawing.svg import Canvas, Point, breadth, hatched, polyline, rectangle
from fluewright.report.phrase import said
from fluewright.report.tree import Table

MINUTE, HOUR, DAY = 60, 3600, 86400
TICKS = (
    10, 30, MINUTE, 2 * MINUTE, 5 * MINUTE, 10 * MINUTE, 15 * MINUTE, 30 * MINUTE, HOUR, 2 * HOUR, 3 * HOUR,
    6 * HOUR, 12 * HOUR, DAY, 2 * DAY, 7 * DAY, 14 * DAY, 30 * DAY, 60 * DAY, 120 * DAY, 365 * DAY,
)  # fmt: skip


class Frame:
    """Where time and the lanes lie in a drawing of a given width."""

    def __init__(self, strip: Strip, width: float) -> None:
        self.strip = strip
        self.stacked = width < 520
        self.top, self.lane = 24.0, 84.0 if self.stacked else 66.0
        self.foot = self.top + self.lane * len(strip.channels)
        self.height = self.foot + 44.0
        scales = [tick for channel in strip.channels for tick in scale(channel)]
        names = [words for channel in strip.channels for words in (channel.name, channel.unit)]
        self.left = max(map(breadth, map(plain, scales)), default=20) + 12
        self.left += 0 if self.stacked else max(map(breadth, names), default=0) + 10
        self.right = width - (58.0 if any(channel.live for channel in strip.channels) else 14.0)
        ends = [time for channel in strip.channels if channel.times for time in (channel.times[0], channel.times[-1])]
        self.start, self.end = min(ends, default=0.0), max(ends, default=1.0)

    def x(self, time: float) -> float:
        """Across: time."""
        return self.left + (self.right - self.left) * (time - self.start) / max(self.end - self.start, 1e-9)

    def y(self, lane: int, value: float) -> float:
        """Up: the value within the lane of its channel, held at the lane's edge."""
        channel = self.strip.channels[lane]
        share = (value - channel.low) / ((channel.high - channel.low) or 1.0)
        low = self.top + self.lane * (lane + 1) - 9
        high = self.top + self.lane * lane + (26 if self.stacked else 8)
        return low - (low - high) * min(max(share, 0.0), 1.0)


def draw(strip: Strip, *, width: float) -> Canvas:
    """The strip at a width in px."""
    frame = Frame(strip, width)
    names = ", ".join(channel.name for channel in strip.channels)
    canvas = Canvas(width=width, height=frame.height, label=f"Strip over time: {names}")
    for start, end, word in strip.stretches:
        stretch(canvas, frame, start, end, word)
    for lane, channel in enumerate(strip.channels):
        axis(canvas, frame, lane, channel)
        for line, within in decimated(frame, lane, channel):
            canvas.path(polyline(line), "trace" if within else "curve")
        if channel.live:
            now(canvas, frame, lane, channel)
    last = -1e9
    for time, word in sorted(strip.steps):
        x = frame.x(time)
        canvas.line((x, frame.top - 2), (x, frame.foot), "step")
        if x > last:
            room_left = x + 4 + breadth(word, sans=True) > frame.right
            canvas.text(
                (x - 4 if room_left else x + 4, frame.foot - 5),
                word,
                "word halo",
                anchor="end" if room_left else "start",
            )
            last = x + 4 + breadth(word, sans=True)
    clock_axis(canvas, frame)
    return canvas


def stretch(canvas: Canvas, frame: Frame, start: float, end: float, word: str) -> None:
    """A steady stretch, hatched over all lanes, its word above where it fits."""
    left, right = frame.x(max(start, frame.start)), frame.x(min(end, frame.end))
    if right <= left:
        return
    canvas.path(hatched(rectangle(left, frame.top - 4, right, frame.foot), gap=6, angle=-55), "hatch")
    for edge in (left, right):
        canvas.line((edge, frame.top - 4), (edge, frame.foot), "faint")
    if breadth(word) <= max(right - left + 24, 40):
        half = breadth(word) / 2
        middle = min(max((left + right) / 2, half + 2), frame.right - half + 10)
        canvas.text((middle, frame.top - 9), word, "note halo", anchor="middle")


def axis(canvas: Canvas, frame: Frame, lane: int, channel: Channel) -> None:
    """Name, unit and the two ends of the channel's own scale."""
    low, high = (frame.y(lane, value) for value in (channel.low, channel.high))
    canvas.line((frame.left, low), (frame.left, high), "axis")
    for value in scale(channel):
        y = frame.y(lane, value)
        canvas.line((frame.left - 5, y), (frame.left, y), "axis")
        canvas.text((frame.left - 8, y + 5), plain(value), anchor="end")
    if frame.stacked:
        head = [(f"{channel.name}, ", ""), (channel.unit, "note")]
        canvas.runs((frame.left + 4, high - 10), head, "halo")
    else:
        middle = (low + high) / 2
        canvas.text((2, middle - 2), channel.name)
        canvas.text((2, middle + 15), channel.unit, "note")


def scale(channel: Channel) -> list[float]:
    """Two to four round values within the channel's range, as few as there can be."""
    reach = (channel.high - channel.low) or 1.0
    power = 10.0 ** floor(log10(reach))
    for step in (power * part for part in (5.0, 2.0, 1.0, 0.5, 0.2)):
        first = ceil(channel.low / step - 1e-9)
        values = [round(step * count, 10) for count in range(first, first + 8)]
        values = [value for value in values if value <= channel.high + 1e-9 * reach]
        if len(values) >= 2:
            break
    return values[::2] if len(values) > 4 else values


def plain(value: float) -> str:
    """A scale's number, with a true minus sign."""
    return f"{value:g}".replace("-", "−")


def decimated(frame: Frame, lane: int, channel: Channel) -> Iterator[tuple[list[Point], bool]]:
    """Unbroken lines, with at most the lowest and highest value of every pixel column, in their order of time.

    A missing value breaks the line. Nothing between two samples is invented, and no peak is lost. Where a value lies
    beyond the scale, the line runs along the edge of its lane and is told apart: (line, within the scale).
    """
    run: list[Point] = []
    inside = True
    for time, value in zip(channel.times, channel.values, strict=True):
        within = value is not None and channel.low <= value <= channel.high
        if run and (value is None or within != inside):
            yield thinned(run), inside
            run = [] if value is None else run[-1:]
        if value is not None:
            run.append((frame.x(time), frame.y(lane, value)))
            inside = within
    if run:
        yield thinned(run), inside


def thinned(run: list[Point]) -> list[Point]:
    """A line with at most two points in each pixel column; a single point becomes a short stroke."""
    line: list[Point] = []
    for _, column in groupby(run, key=lambda point: int(point[0])):
        line += extremes(list(column))
    return line if len(line) > 1 else [line[0], (line[0][0] + 1, line[0][1])]


def extremes(column: list[Point]) -> list[Point]:
    """The lowest and the highest point of one pixel column, in their order."""
    if len(column) < 3:
        return column
    return sorted({min(column, key=lambda point: point[1]), max(column, key=lambda point: point[1])})


def now(canvas: Canvas, frame: Frame, lane: int, channel: Channel) -> None:
    """The last sample of a live channel, in pen, with its value in the hand's face."""
    seen = [(time, value) for time, value in zip(channel.times, channel.values, strict=True) if value is not None]
    if seen:
        time, value = seen[-1]
        at = (frame.x(time), frame.y(lane, value))
        canvas.disc(at, 4, "knot live")
        canvas.text((at[0] + 8, at[1] + 5), channel.said or said(value), "word live")


def clock_axis(canvas: Canvas, frame: Frame) -> None:
    """Time below: the local clock when the strip knows it, else time since the start."""
    canvas.line((frame.left, frame.foot), (frame.right, frame.foot), "axis")
    room = max((frame.right - frame.left) / 76, 1.0)
    step = next((tick for tick in TICKS if (frame.end - frame.start) / tick <= room), TICKS[-1])
    zero = frame.strip.zero
    offset = (zero.hour * HOUR + zero.minute * MINUTE + zero.second) % step if zero else 0.0
    tick = ceil((frame.start + offset) / step) * step - offset
    while tick <= frame.end:
        x = frame.x(tick)
        canvas.line((x, frame.foot), (x, frame.foot + 5), "axis")
        words = clock(frame.strip, tick, step)
        half = breadth(words) / 2
        canvas.text((min(x, frame.right + 12 - half), frame.foot + 20), words, anchor="middle")
        tick += step
    if not zero:
        canvas.text((frame.right, frame.foot + 38), "since the start", "note", anchor="end")
    elif step < DAY:
        canvas.text(
            (frame.right, frame.foot + 38), f"local clock, {zero:%d} {zero:%b} {zero.year}", "note", anchor="end"
        )


def clock(strip: Strip, time: float, step: float) -> str:
    """A tick in words: clock time within a day, date beyond."""
    if strip.zero:
        moment = strip.zero + timedelta(seconds=time)
        if step >= DAY:
            return f"{moment.day} {moment:%b}"
        return f"{moment:%H:%M:%S}" if step < MINUTE else f"{moment:%H:%M}"
    if step >= DAY:
        return f"{time / DAY:g} d"
    return f"{time / HOUR:g} h" if step >= HOUR else f"{time / MINUTE:g} min"


def twin(strip: Strip) -> Table:
    """The strip as a table: the lowest, mean and highest of every channel, whole and per stretch."""
    rows = []
    ends = [time for channel in strip.channels if channel.times for time in (channel.times[0], channel.times[-1])]
    whole = (min(ends, default=0.0), max(ends, default=0.0), "whole")
    for start, end, word in (whole, *strip.stretches):
        when = f"{clock(strip, start, MINUTE)} to {clock(strip, end, MINUTE)}"
        for channel in strip.channels:
            held = [
                value
                for time, value in zip(channel.times, channel.values, strict=True)
                if value is not None and start <= time <= end
            ]
            figures = (min(held), sum(held) / len(held), max(held)) if held else ()
            shown = tuple(said(value) for value in figures) or ("no values",) * 3
            rows.append((word, when, f"{channel.name}, {channel.unit}", *shown, breaks(channel, start, end)))
    return Table(heads=("stretch", "when", "channel", "lowest", "mean", "highest", "gaps"), rows=tuple(rows))


def breaks(channel: Channel, start: float, end: float) -> str:
    """How many gaps lie in an interval of time."""
    inside = [value is None for time, value in zip(channel.times, channel.values, strict=True) if start <= time <= end]
    count = sum(one and not before for before, one in pairwise([False, *inside]))
    return str(count) if count else "none"
