"""Steady, three ways, each named with its reason and with what is still missing.

instrument settled  no gas or pressure drifts by a least step over three times the slowest T90, and the thermometers
                    follow: what their lag leaves is less than a least step
appliance steady    no temperature of flue, water or air drifts over that window, nor over two minutes
as the rule says    the words of one row of a rule book; ruled.py

The first two are the rule of recorded traces (evidence/trace/steady.py), row by row as they come, with noise as
learned so far.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from fluewright.evidence.trace.spool import Sample as Row
from fluewright.evidence.trace.steady import APPLIANCE, COUNTS, ENTER, RESPONSES, ROWS, Allowance, Criterion, Finder
from fluewright.live.channel import Channel
from fluewright.live.tremor import Tremor

Kind = Literal["instrument settled", "appliance steady", "as the rule says"]

LEAST = {
    **COUNTS, "carbon_monoxide_dry": 2e-6, "carbon_monoxide_wet": 2e-6, "draft": 1.0, "draft_over_fire": 1.0,
    "draft_breech": 1.0, "draft_above_hood": 1.0, "draft_common_flue": 1.0, "gas_pressure": 10.0,
    "line_pressure": 20.0,
}  # fmt: skip
"""Least step that counts, canonical unit: that of the display, and not less than this (common practice, no source)."""
MONOXIDE_SHARE = 0.04
"""Carbon monoxide may drift by this share of itself: a flame flickers (common practice, no source)."""
LONG = 120.0
"""s over which temperatures of the appliance have to stand, at least (common practice, no source)."""
E_FOLD = math.log(10.0)
"""T90 over time constant of a first-order channel, computed."""


@dataclass(frozen=True, slots=True)
class Standing:
    """One of the three kinds, at one moment.

    kind     which
    holds    whether it is so
    why      the reason, either way
    missing  what is still missing, such as "60 s more", empty when it holds or nobody can say
    seconds  the same as a number, None where nobody can say
    asks     what only a person can see, of a rule
    since    s, from when it holds, None while it does not
    """

    kind: Kind
    holds: bool
    why: str
    missing: str = ""
    seconds: float | None = None
    asks: tuple[str, ...] = ()
    since: float | None = None


def seconds_more(seconds: float, *, about: bool = False) -> str:
    """A time that is missing, in words, on whole five seconds."""
    whole = max(5 * math.ceil(seconds / 5.0), 5)
    return f"{'about ' if about else ''}{whole} s more"


class Standstill:
    """One kind of standing still for the channels of one appliance; bounded memory.

    kind       which
    channels   all channels of the rows; those that decide are named by place
    places     of the channels that decide
    slowest    s, T90 of the slowest channel of the instrument
    tick       s from row to row
    """

    def __init__(
        self, kind: Kind, channels: Sequence[Channel], places: Sequence[int], *, slowest: float, tick: float
    ) -> None:
        self.kind, self.places, self.slowest, self.tick = kind, tuple(places), slowest, tick
        self.channels = tuple(channels)
        window = RESPONSES * slowest
        if kind == "appliance steady":
            window = max(window, LONG)
        self._rows = max(ROWS, math.ceil(window / tick - 1e-9) + 1)
        self.window = (self._rows - 1) * tick
        self.finder = Finder(self._criterion({}, ()))
        self._count = 0

    def _criterion(self, tremors: dict[int, Tremor], means: Sequence[float]) -> Criterion:
        allowances = []
        for order, place in enumerate(self.places):
            one = self.channels[place]
            least = max(one.step, LEAST.get(one.quantity, 0.0))
            if one.quantity.startswith("carbon_monoxide") and means and means[order] == means[order]:
                least = max(least, MONOXIDE_SHARE * abs(means[order]))
            if self.kind == "instrument settled" and one.quantity in APPLIANCE:
                least *= self.window * E_FOLD / one.t90
            noise = tremors[place].row if place in tremors and tremors[place].ready else one.step / math.sqrt(12.0)
            slow = tremors[place].slow(self._rows // 4) if place in tremors else 0.0
            allowances.append(Allowance(one.quantity, place, least, noise, slow))
        gap = max(1.5 * self.tick, self.slowest / 2.0)
        return Criterion(self.window, self._rows, gap, self.slowest, tuple(allowances))

    def step(self, row: Row, tremors: dict[int, Tremor]) -> None:
        """Take one row."""
        samples = self.finder.window.samples
        if samples and row.time - samples[-1].time > self.finder.criterion.gap:
            self.finder.close("a gap in time")
        if self._count % 10 == 0:
            means = self.finder.window.means() if samples else ()
            self.finder.judge_by(self._criterion(tremors, means))
        self._count += 1
        if any(row.values[place] == row.values[place] for place in self.places):
            self._on(row)

    def _on(self, row: Row) -> None:
        """One row; where a drift ended what was held, the rows behind it still count for what begins."""
        ended = self.finder.step(row)
        if ended is not None and not self.finder.jumped:
            self.finder.window.clear()
            for earlier in (*ended.samples[-self._rows :], row):
                self.finder.window.push(earlier)

    def standing(self) -> Standing:
        """How it stands at the latest row."""
        if not self.places:
            return Standing(self.kind, False, "nothing was read that could tell")
        if self.finder.open:
            held = self.finder.open[-1].time - self.finder.open[0].time
            why = f"stood still for {held:.0f} s; {self.window:.0f} s are asked for"
            return Standing(self.kind, True, why, since=self.finder.open[0].time)
        left = self.window - self.finder.window.seconds
        if not self.finder.window.full():
            ended = f"; before that: {self.finder.why}" if self.finder.why else ""
            seconds = max(left, self.tick)
            why = f"watched for {self.finder.window.seconds:.0f} s of {self.window:.0f} s{ended}"
            return Standing(self.kind, False, why, seconds_more(seconds), seconds)
        seconds = self._foreseen()
        return Standing(self.kind, False, self.finder.why, seconds_more(seconds, about=True), seconds)

    def _foreseen(self) -> float:
        """When a drift will have died away, if it goes as a first-order channel goes: T90 for each tenth."""
        worst = 1.0
        for slope, allowance in zip(self.finder.window.slopes(), self.finder.criterion.allowances, strict=True):
            allowed = allowance.drift(rows=self._rows, errors=ENTER)
            worst = max(worst, abs(slope) * self.window / max(allowed, 1e-30))
        return max(self.slowest * math.log10(worst), self.tick)


def lag_left(channel: Channel, *, slope: float, doubt: float = 0.0) -> float:
    """The most that the lag of a first-order channel can still hide while it drifts at a slope: a bound, no correction.

    slope  canonical unit per second, of what it shows
    doubt  standard uncertainty of that slope
    -> canonical unit, 0 or more: time constant x (|slope| + 2 doubts)

    Holds   a first-order channel after a step or along a ramp: both lag by time constant x slope
    Fails   a puff that is over shows nothing of its height any more
    Source  dy/dt = (x - y) / tau; practice P11
    """
    return channel.t90 / E_FOLD * (abs(slope) + 2.0 * doubt)
