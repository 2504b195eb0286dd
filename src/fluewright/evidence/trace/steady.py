"""Steady or not, by a stated statistical criterion on a window that slides over the burning rows.

A window is steady when, in every channel that counts,
    drift   |least-squares slope| x window length  <= the larger of 0.617 least counts (what the line shows of a last
            least count of lag) and K standard errors of that slope (noise x sqrt(12 / rows))
    spread  standard deviation about that line     <= the larger of the least count and twice the noise
with K = 2 to enter; to stay, K = 4 and a whole least count, so that chance does not chop a steady stretch. The window
is at least three times the slowest T90 (a first-order channel is then within 0.1 % of a step) and at least as many rows
as ROWS says. Noise is the robust difference of neighbours (survey.py). The rule is our own; it rests on slope and
scatter against noise, as in a control chart.
"""

import math
from collections import deque
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from fluewright.evidence.trace import measure
from fluewright.evidence.trace.burning import Rule
from fluewright.evidence.trace.spool import Sample
from fluewright.evidence.trace.survey import Survey, survey
from fluewright.evidence.trace.trace import Trace

RESPONSES = 3.0
"""Window in units of T90: what is left of a step is 10^-3 (first-order channel, computed)."""
ROWS = 5
"""Fewest rows in a window: a slope from fewer has no doubt worth the name (common practice, no source)."""
MOST = 20_000
"""Most rows in one stretch; then a new one begins, so that memory stays constant."""
ENTER, STAY = 2.0, 4.0
LAG_IN_LINE = 0.617
"""Part of a first-order approach that the least-squares line over 3 T90 shows: 12 (1/x^2 - 1/(2x)) at x = 3 ln 10, sign
dropped, with e^-x neglected (computed)."""
COUNTS = {
    "oxygen_dry": 0.001, "oxygen_wet": 0.001, "carbon_dioxide_dry": 0.001, "flue_temperature": 1.0, "firing_rate": 0.01,
    "air_temperature": 1.0, "supply_water_temperature": 1.0, "return_water_temperature": 1.0,
}  # fmt: skip
"""Channels that decide, with their least count as a share or in kelvin (common practice, no source).

Carbon monoxide does not decide: its scatter is a result, not a reason to wait. The water side tells of the appliance.
"""
APPLIANCE = ("flue_temperature", "supply_water_temperature", "return_water_temperature", "air_temperature")


@dataclass(frozen=True, slots=True)
class Allowance:
    """What one channel may do inside a window.

    least  its least count
    noise  standard deviation of one row
    slow   the same as independent rows would need it to waver as longer means do; 0 where nobody has learned that
    """

    name: str
    index: int
    least: float
    noise: float
    slow: float = 0.0

    def drift(self, *, rows: int, errors: float) -> float:
        """Largest drift of the line over the window that still counts as none: to enter (ENTER) or to stay (STAY).

        Noise whose neighbours resemble each other drifts by more than that of independent rows: what longer means
        waver by is allowed for too, up to a whole least count, above which a line is a drift whatever made it. Few long
        means are ever seen, so that half as much again is taken for their doubt (common practice, no source).
        """
        share = LAG_IN_LINE if errors == ENTER else 1.0
        error = math.sqrt(12.0 / rows)
        alike = min(1.5 * errors * self.slow * error, self.least)
        return max(share * self.least, errors * self.noise * error, alike)

    def words(self, change: float) -> str:
        """A change of this channel in words, such as "oxygen dry 0.5 %"."""
        unit, scale, _ = measure.display(self.name)
        return f"{self.name.replace('_', ' ')} {change * scale:.2g} {'K' if unit == '°C' else unit}"

    @property
    def spread(self) -> float:
        """Largest standard deviation about the line."""
        return max(self.least, 2.0 * self.noise)


@dataclass(frozen=True, slots=True)
class Criterion:
    """The whole rule for one trace: window, rows, the longest step that is no gap, and the channels that decide."""

    window: float
    rows: int
    gap: float
    response: float
    allowances: tuple[Allowance, ...]

    def words(self) -> str:
        """The rule as sentences."""
        parts = [a.words(a.drift(rows=self.rows, errors=ENTER)) for a in self.allowances]
        return (
            f"steady when over {self.window:g} s ({self.rows} rows, at least {RESPONSES:g} T90 of {self.response:g} s) "
            f"no channel drifts more than its least count or {ENTER:g} standard errors, "
            f"{', '.join(parts)}, and none scatters more than twice its noise"
        )


def criterion_of(trace: Trace, seen: Survey, *, response_seconds: float, least_rows: int = ROWS) -> Criterion:
    """The rule for this trace.

    response_seconds  T90 of the slowest sensor
    least_rows        fewest rows of a window
    -> Criterion; the window is whole steps of the trace and never shorter than 3 x T90
    """
    step = seen.step.seconds or 1.0
    rows = max(least_rows, math.ceil(RESPONSES * response_seconds / step - 1e-9) + 1)
    allowances = tuple(
        Allowance(name, trace.index(name), least, one.noise)
        for name, least in COUNTS.items()
        if (one := seen.seen(name)) is not None and one.count
    )
    return Criterion((rows - 1) * step, rows, seen.step.gap, response_seconds, allowances)


class _Line:
    """Running sums of one channel in a window: mean, slope and scatter about the line without a second pass."""

    def __init__(self) -> None:
        self.rows = 0
        self.t = self.tt = self.x = self.xx = self.tx = 0.0

    def add(self, time: float, value: float, sign: int = 1) -> None:
        self.rows += sign
        self.t += sign * time
        self.tt += sign * time * time
        self.x += sign * value
        self.xx += sign * value * value
        self.tx += sign * time * value

    def slope_and_scatter(self) -> tuple[float, float]:
        n = self.rows
        stt = self.tt - self.t * self.t / n
        sxx = max(self.xx - self.x * self.x / n, 0.0)
        stx = self.tx - self.t * self.x / n
        slope = stx / stt if stt > 0.0 else 0.0
        return slope, math.sqrt(max(sxx - slope * stx, 0.0) / max(n - 2, 1))


class Window:
    """The rows under judgement. Values are kept relative to the first row, so that the sums do not lose digits."""

    def __init__(self, criterion: Criterion) -> None:
        self.criterion = criterion
        self.samples: deque[Sample] = deque()
        self._origin: Sample | None = None
        self._lines = [_Line() for _ in criterion.allowances]
        self._slides = 0

    def push(self, sample: Sample) -> None:
        """Add the newest row; drop the oldest while the rest is still long enough."""
        if self._origin is None:
            self._origin = sample
        self.samples.append(sample)
        self._count(sample, 1)
        while len(self.samples) > self.criterion.rows and self._long(1):
            self._count(self.samples.popleft(), -1)
            self._slides += 1
        if self._slides > 500:
            self._again()

    def _long(self, skip: int) -> bool:
        return self.samples[-1].time - self.samples[skip].time >= self.criterion.window * (1.0 - 1e-9)

    def clear(self) -> None:
        """Forget all rows."""
        self.samples.clear()
        self._again()

    def _again(self) -> None:
        self._slides = 0
        self._origin = self.samples[0] if self.samples else None
        self._lines = [_Line() for _ in self.criterion.allowances]
        for sample in self.samples:
            self._count(sample, 1)

    def _count(self, sample: Sample, sign: int) -> None:
        origin = self._origin or sample
        for line, allowance in zip(self._lines, self.criterion.allowances, strict=True):
            value = sample.values[allowance.index]
            if value == value:
                base = origin.values[allowance.index]
                line.add(sample.time - origin.time, value - (base if base == base else 0.0), sign)

    def full(self) -> bool:
        """Long enough in time and in rows to be judged."""
        return len(self.samples) >= self.criterion.rows and self._long(0)

    @property
    def seconds(self) -> float:
        """How long the window is by now."""
        return self.samples[-1].time - self.samples[0].time if self.samples else 0.0

    def slopes(self) -> tuple[float, ...]:
        """Least-squares slope of each channel that decides, canonical unit per second; 0 from fewer than two rows."""
        return tuple(line.slope_and_scatter()[0] if line.rows > 1 else 0.0 for line in self._lines)

    def unsteady(self, errors: float) -> str:
        """Why this window is not steady, "" when it is."""
        for line, allowance in zip(self._lines, self.criterion.allowances, strict=True):
            if line.rows < 0.8 * len(self.samples):
                return f"{allowance.name.replace('_', ' ')} has gaps"
            slope, scatter = line.slope_and_scatter()
            drift = slope * (self.samples[-1].time - self.samples[0].time)
            if abs(drift) > allowance.drift(rows=line.rows, errors=errors):
                return f"{allowance.words(drift)} of drift in {self.seconds:g} s"
            if scatter > allowance.spread:
                return f"{allowance.words(scatter)} of scatter"
        return ""

    def means(self) -> tuple[float, ...]:
        """Mean of each channel that decides."""
        origin = self._origin
        return tuple(
            (line.x / line.rows if line.rows else math.nan)
            + (origin.values[a.index] if origin and origin.values[a.index] == origin.values[a.index] else 0.0)
            for line, a in zip(self._lines, self.criterion.allowances, strict=True)
        )


@dataclass(frozen=True, slots=True)
class Span:
    """The rows of one steady stretch, and what ended it."""

    samples: tuple[Sample, ...]
    ended: str


class Finder:
    """Walks over the rows once, recorded or as they come; holds one window and the stretch that is open.

    open  rows of the steady stretch, empty while nothing is steady
    why   why it is not steady at the latest row, "" when it is or while the window is too short to tell
    jumped  whether the latest stretch ended with a row far from it, and not by a drift
    """

    def __init__(self, criterion: Criterion) -> None:
        self.criterion = criterion
        self.window = Window(criterion)
        self.open: list[Sample] = []
        self.first: tuple[float, ...] = ()
        self.why = ""
        self.jumped = False

    def judge_by(self, criterion: Criterion) -> None:
        """Go on with the same window and channels, but with what is known by now of their noise."""
        self.criterion = self.window.criterion = criterion

    def step(self, sample: Sample) -> Span | None:
        """Take one row; the stretch that it ended, if any."""
        self.window.push(sample)
        if not self.open:
            full = self.window.full()
            self.why = self.window.unsteady(ENTER) if full else ""
            if full and not self.why:
                self.open = list(self.window.samples)
                self.first = self.window.means()
            return None
        left = self._left(sample)
        self.jumped = bool(left)
        why = self.window.unsteady(STAY) or self._wandered() or left
        if not why and len(self.open) < MOST:
            self.open.append(sample)
            return None
        span = self.close(why or f"{MOST} rows are the most in one stretch")
        self.window.push(sample)
        return span

    def _wandered(self) -> str:
        for now, then, allowance in zip(self.window.means(), self.first, self.criterion.allowances, strict=True):
            if abs(now - then) > 2.0 * allowance.drift(rows=self.criterion.rows, errors=ENTER):
                return f"{allowance.words(now - then)} away from the start"
        return ""

    def _left(self, sample: Sample) -> str:
        for mean, allowance in zip(self.window.means(), self.criterion.allowances, strict=True):
            away = sample.values[allowance.index] - mean
            if abs(away) > 4.0 * allowance.spread:
                return f"{allowance.words(away)} at once"
        return ""

    def close(self, why: str) -> Span | None:
        """The open stretch ends here; the window begins anew."""
        self.why = why
        span = Span(_trimmed(self.open, self.criterion), why) if self.open else None
        self.open = []
        self.window.clear()
        return span


def _trimmed(samples: Sequence[Sample], criterion: Criterion) -> tuple[Sample, ...]:
    """Without the last rows that already belong to what came next: those beyond the allowed spread of the middle."""
    last = len(samples)
    for allowance in criterion.allowances:
        values = sorted(
            s.values[allowance.index] for s in samples if s.values[allowance.index] == s.values[allowance.index]
        )
        middle = values[len(values) // 2] if values else 0.0
        while (
            last > criterion.rows and abs(samples[last - 1].values[allowance.index] - middle) > 2.0 * allowance.spread
        ):
            last -= 1
    return tuple(samples[:last])


def spans(trace: Trace, criterion: Criterion) -> Iterator[Span]:
    """The steady stretches of a trace, one after the other, in constant memory; never across a gap or a pause."""
    rule, finder = Rule(trace), Finder(criterion)
    last = math.nan
    for sample in trace:
        burning = rule.burning(sample)
        broken = not burning or sample.time - last > criterion.gap
        last = sample.time
        if broken:
            span = finder.close("not burning" if not burning else "a gap in time")
            if span:
                yield span
        if burning:
            span = finder.step(sample)
            if span:
                yield span
    span = finder.close("end of the trace")
    if span:
        yield span


def kind_of(criterion: Criterion) -> str:
    """Which steady it is: "steady" (instrument and appliance) when a temperature decided too, else "settled"."""
    return "steady" if any(a.name in APPLIANCE for a in criterion.allowances) else "settled"


__all__ = ["Allowance", "Criterion", "Span", "Survey", "criterion_of", "kind_of", "spans", "survey"]
