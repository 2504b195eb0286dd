"""What an instrument shows of itself while it is watched: stuck, at the end of its range, soaked, asleep, slow."""

import math
from collections import deque
from collections.abc import Mapping, Sequence

from fluewright.evidence.finding import Grade
from fluewright.evidence.limits import CAUTION
from fluewright.evidence.trace.read import span
from fluewright.evidence.trace.spool import Sample as Row
from fluewright.live import told
from fluewright.live.about import About
from fluewright.live.changes import Change
from fluewright.live.channel import Channel, amount
from fluewright.live.event import Event
from fluewright.live.meaning import AIR, FRESH
from fluewright.live.steady import E_FOLD

HELD = 20
"""Rows of one value from which on a channel that lived before may be stuck (common practice, no source)."""
LIVELY = 10
"""Times that it had changed its value before, in as many times ten rows."""
WAIT = 1.5
"""Responses after which a channel that had to move is judged: a good one has shown 97 % then (computed)."""
LEFT, FLOOR = 0.15, 20e-6
"""Share of carbon monoxide, and mol/mol, that a good cell has let go of by then (common practice, no source)."""
WIDE = 0.08
"""Oxygen step that tells the response of the sample path: lighting or shutting off."""
SLOWER = 1.8
"""Times its own response from which on a sample path counts as slow (common practice, no source)."""
PUFF = 50e-6
"""mol/mol of a lighting that a cell cannot miss (common practice, no source)."""
GASES = ("oxygen", "monoxide", "dioxide")


class _One:
    """The memory of one channel."""

    def __init__(self, channel: Channel, tick: float) -> None:
        self.channel = channel
        self.value = math.nan
        self.since = math.nan
        self.held = 0
        self.turns: deque[int] = deque([0] * (10 * LIVELY), maxlen=10 * LIVELY)
        self.lively = False
        self.beyond = 0
        self.rows: deque[tuple[float, float]] = deque(maxlen=max(int(2.0 * channel.t90 / tick) + 2, 8))
        self.highest = 0.0

    def step(self, at: float, value: float, bound: bool) -> None:
        if value != value:
            return
        if value == self.value:
            self.held += 1
        else:
            self.lively = sum(self.turns) >= LIVELY
            self.value, self.since, self.held = value, at, 1
        self.turns.append(self.held == 1)
        self.beyond = self.beyond + 1 if bound or value >= self.channel.top - 0.5 * self.channel.step else 0
        self.rows.append((at, value))
        self.highest = max(self.highest, value)


class Signs:
    """The signs of one appliance's channels; each is told once until it has gone.

    about     the appliance
    channels  all channels of the rows
    places    those of this appliance
    """

    def __init__(self, about: About, channels: Sequence[Channel], places: Sequence[int]) -> None:
        self.about = about
        self._memory = {place: _One(channels[place], about.tick) for place in places}
        self._told: set[str] = set()
        self._wide: Change | None = None
        self._left_at: tuple[float, float] | None = None
        self._peaks: list[float] = []
        self._lit: float | None = None

    def step(self, row: Row, changes: Mapping[str, Change], aligned: Mapping[str, float]) -> list[Event]:
        """Take one row.

        changes  the latest change of each channel, open or ended, by channel key
        aligned  gases of this row, brought to one response
        -> signs seen at this row
        """
        for place, one in self._memory.items():
            if place < len(row.values):
                one.step(row.time, row.values[place], bool(row.above >> place & 1))
        found = []
        for one in self._memory.values():
            found += self._saturated(row.time, one) + self._stuck(row.time, one, changes)
        return found + self._at_wide_steps(row.time, changes, aligned)

    def lit(self, at: float) -> None:
        """It was lit: from now on a cell has to show the puff that it showed before."""
        for one in self._memory.values():
            if told.group_of(one.channel) == "monoxide":
                one.highest, self._lit = 0.0, at

    def _event(
        self, key: str, grade: Grade, at: float, start: float, channel: Channel, lead: str, why: str,
        next_: tuple[str, ...], *, cautions: bool = False,
    ) -> list[Event]:  # fmt: skip
        if f"{key}/{channel.key}" in self._told:
            return []
        self._told.add(f"{key}/{channel.key}")
        return [
            Event(self.about.number(), key, grade, start, at, at, True, self.about.appliance,
                  lead[:1].upper() + lead[1:], why, do_next=next_,
                  cautions=CAUTION if cautions else (), evidence=(channel.quantity,))
        ]  # fmt: skip

    def _gone(self, key: str, one: _One) -> None:
        self._told.discard(f"{key}/{one.channel.key}")

    def _saturated(self, at: float, one: _One) -> list[Event]:
        if one.beyond < 3:
            if one.beyond == 0:
                self._gone("saturated", one)
            return []
        if told.group_of(one.channel) == "oxygen" and one.value >= FRESH:
            return []  # the end of that range is fresh air
        toxic = one.channel.quantity.startswith("carbon_monoxide")
        edge = amount(one.channel.quantity, one.value, self.about.system, signed=False)
        return self._event(
            "saturated", "act" if toxic else "open", at, at - 3 * self.about.tick, one.channel,
            f"{one.channel.short}: at the end of its range, at least {edge}.",
            "Any amount above it looks the same. What is read for some minutes afterwards is too high as well.",
            ("take the probe out, let it breathe fresh air until it reads nothing, and zero it again",),
            cautions=toxic,
        )  # fmt: skip

    def _stuck(self, at: float, one: _One, changes: Mapping[str, Change]) -> list[Event]:
        if one.held < HELD:
            self._gone("stuck", one)
            return []
        if not one.lively or told.group_of(one.channel) not in (*GASES, "flue") or one.value <= 0.0:
            return []  # nothing, rounded, is one figure too
        others = [
            change
            for key, change in changes.items()
            if key != one.channel.key and told.group_of(change.channel) in GASES and change.start >= one.since
        ]
        waited = [change for change in others if at - change.start >= WAIT * one.channel.t90]
        if not waited:
            return []
        what = waited[-1].channel.short
        return self._event(
            "stuck", "advise", at, one.since, one.channel,
            f"{one.channel.short}: exactly one value for {span(at - one.since)} while {what} moved.",
            "A channel that lived before and shows one figure to the last digit is held, frozen or no longer sent.",
            ("look at the display itself, then at wire, radio and cell", "strike what was read of it since"),
        )  # fmt: skip

    def _at_wide_steps(self, at: float, changes: Mapping[str, Change], aligned: Mapping[str, float]) -> list[Event]:
        """Lighting and shutting off move every gas: what a cell does then tells how it is."""
        oxygen = next((one for one in self._memory.values() if told.group_of(one.channel) == "oxygen"), None)
        monoxide = next((one for one in self._memory.values() if told.group_of(one.channel) == "monoxide"), None)
        step = changes.get(oxygen.channel.key) if oxygen else None
        if oxygen is None or step is None or abs(step.farthest - step.before) < WIDE:
            return []
        if self._wide is None or self._wide.number != step.number:
            self._wide, self._left_at = step, None
            self._gone("sample-slow", oxygen)
            if monoxide is not None:
                self._gone("cell-soaked", monoxide)
                self._gone("cell-asleep", monoxide)
        found = self._slow(at, oxygen, step)
        if monoxide is not None:
            found += self._soaked(at, monoxide, step, aligned) + self._asleep(at, monoxide, step)
        return found

    def _slow(self, at: float, oxygen: _One, step: Change) -> list[Event]:
        """How fast oxygen goes to its new value: three means in a row fall off by one factor."""
        response = oxygen.channel.t90
        if not WAIT * response <= at - step.start < WAIT * response + 2.0 * self.about.tick:
            return []
        third = WAIT * response / 3.0
        parts = [
            [value for time, value in oxygen.rows if step.start + k * third < time <= step.start + (k + 1) * third]
            for k in range(3)
        ]
        if not all(parts):
            return []
        first, second, last = (math.fsum(part) / len(part) for part in parts)
        if (second - first) * (last - second) <= 0.0:
            return []
        ratio = (last - second) / (second - first)
        took = math.inf if ratio >= 1.0 else E_FOLD * third / -math.log(ratio)
        if took < SLOWER * response:
            return []
        says = f"some {took:.0f} s" if took < 20.0 * response else "much longer"
        return self._event(
            "sample-slow", "advise", at, step.start, oxygen.channel,
            f"The sample comes slowly: oxygen took {says} to 90 % of its step, {response:g} s is its own.",
            "A blocked filter, water in the hose or a tired pump lets less gas to the cells; every reading lags more, "
            "and a short one never gets there.",
            ("look at filter, water trap and hose, and hold the probe tip: the pump has to labour",),
        )  # fmt: skip

    def _soaked(self, at: float, monoxide: _One, step: Change, aligned: Mapping[str, float]) -> list[Event]:
        """A cell that keeps its carbon monoxide in fresh air."""
        if step.farthest < step.before or step.before > FRESH:
            return []
        if self._left_at is None:
            self._left_at = (step.start, _before(monoxide, step.start))
        level = self._left_at[1]
        if level < ENOUGH_LEFT or not WAIT * monoxide.channel.t90 <= at - step.start:
            return []
        left = (AIR - aligned.get(step.channel.quantity, math.nan)) / (AIR - step.before)
        if not monoxide.value > level * (max(left, 0.0) + LEFT) + FLOOR:
            return []
        shown = amount(monoxide.channel.quantity, monoxide.value, self.about.system, signed=False)
        return self._event(
            "cell-soaked", "advise", at, step.start, monoxide.channel,
            f"Carbon monoxide does not come down in fresh air: still {shown}.",
            "A cell that was given too much, or other gases, lets go slowly; what it reads next is too high, and its "
            "zero and its gain are in doubt.",
            ("breathe fresh air until it reads nothing, zero it outdoors, and check it with a known gas",),
        )  # fmt: skip

    def _asleep(self, at: float, monoxide: _One, step: Change) -> list[Event]:
        """A cell that no longer shows the puff of lighting that it showed before."""
        if step.farthest > step.before or self._lit is None or at - self._lit < WAIT * monoxide.channel.t90:
            return []
        height, self._lit = monoxide.highest, None
        usual, before = min(self._peaks, default=0.0), len(self._peaks)
        self._peaks = [*self._peaks[-5:], height] if height > PUFF else self._peaks
        if before < 2 or height > 0.1 * usual:
            return []
        had = amount(monoxide.channel.quantity, usual, self.about.system, signed=False)
        return self._event(
            "cell-asleep", "advise", at, step.start, monoxide.channel,
            f"Carbon monoxide did not move at this lighting; at those before it showed at least {had}.",
            "A cell that has been poisoned or is worn out reads low, and zero looks like a clean flame.",
            ("check it with a known gas before any reading of it clears anything",),
        )  # fmt: skip


ENOUGH_LEFT = 50e-6
"""mol/mol of carbon monoxide before, from which on a cell's way down tells anything."""


def _before(one: _One, start: float) -> float:
    """What it read when something began."""
    earlier = [value for time, value in one.rows if time <= start]
    return earlier[-1] if earlier else 0.0
