"""Everything that is watched of one appliance, row by row."""

import math
from collections import deque
from collections.abc import Sequence
from dataclasses import replace

from fluewright.evidence.trace.spool import Sample as Row
from fluewright.evidence.trace.steady import APPLIANCE
from fluewright.live import told
from fluewright.live.about import About
from fluewright.live.aligned import Aligned, air_free
from fluewright.live.changes import Change, Moving
from fluewright.live.channel import Channel
from fluewright.live.danger import Draft
from fluewright.live.event import Event
from fluewright.live.marks import Burner, Mark
from fluewright.live.meaning import AFTER, GUESS, Meaning
from fluewright.live.rows import Names
from fluewright.live.signs import GASES, Signs
from fluewright.live.steady import LEAST, Standing, Standstill

MISSED = 10
"""Rows without a value after which a channel begins anew, or one response where that is longer."""
PATH = 300
"""Points of the line on the operating plane: five minutes of a row a second."""
CYCLES, WITHIN = 3, 900.0
"""Starts within so many seconds that are called cycling (common practice, no source)."""


class Watched:
    """One appliance: its channels, its burner, its changes and what they mean.

    about     its word, the time from row to row, numbers of events, units of words
    channels  all channels of the rows
    """

    def __init__(self, about: About, channels: Sequence[Channel]) -> None:
        self.about, self.word, self.tick = about, about.appliance, about.tick
        self.channels = list(channels)
        self.places = [place for place, one in enumerate(channels) if one.appliance == self.word]
        own = [channels[place] for place in self.places]
        self.burner = Burner(Names(channels, self.word))
        self.moving = {place: Moving(channels[place], tick=self.tick) for place in self.places}
        self.meaning = Meaning(about, own)
        self.signs = Signs(about, channels, self.places)
        self.draft = Draft(about, channels, self.places)
        gases = {one.quantity: one.t90 for one in own if told.group_of(one) in GASES}
        self.aligned = Aligned(gases)
        self.aligned_now: dict[str, float] = {}
        self.settled, self.steady = self._standstills(own)
        self.path: deque[tuple[float, float, float | None]] = deque(maxlen=PATH)
        self._last: dict[int, float] = {}
        self._latest: dict[str, Change] = {}
        self._cycled = -math.inf

    def _standstills(self, own: Sequence[Channel]) -> tuple[Standstill, Standstill]:
        deciding = [place for place in self.places if self.channels[place].quantity in LEAST]
        heat = [place for place in deciding if self.channels[place].quantity in APPLIANCE]
        slowest = max((self.channels[place].t90 for place in deciding), default=1.0)
        hot = max((self.channels[place].t90 for place in heat), default=slowest)
        return (
            Standstill("instrument settled", self.channels, deciding, slowest=slowest, tick=self.tick),
            Standstill("appliance steady", self.channels, heat, slowest=hot, tick=self.tick),
        )

    def mark(self, mark: Mark) -> None:
        """Something was done, to this appliance or to the house."""
        self.meaning.mark(mark)
        self.burner.mark(mark)
        for moving in self.moving.values():
            moving.mark(mark.at + mark.unsure + AFTER)
        if mark.word == "lit":
            self.signs.lit(mark.at)

    def step(self, row: Row, *, mark: Mark | None, burning: bool, adjusting: str) -> list[Event]:
        """Take one row.

        mark       the latest thing that was done anywhere
        burning    whether anything on the flue burns
        adjusting  word of the appliance that is being adjusted
        -> events that are new, told anew, or have ended
        """
        found = self.draft.step(row, burning=burning or self.burner.burning, mark=mark, adjusting=adjusting)
        found += self._burner(row)
        gases = {self.channels[place].quantity: row.values[place] for place in self.places
                 if told.group_of(self.channels[place]) in GASES}  # fmt: skip
        self.aligned_now = self.aligned.step(row.time, gases) if gases else {}
        self._walk(row.time)
        changes = [change for place in self.places if (change := self._change(row, place)) is not None]
        found += self.meaning.take(
            changes, at=row.time, burning=self.burner.burning or not self.burner.told, aligned=self.aligned_now
        )
        found += self.signs.step(row, self._latest, self.aligned_now)
        tremors = {place: moving.tremor for place, moving in self.moving.items()}
        self.settled.step(row, tremors)
        self.steady.step(row, tremors)
        return found

    def _walk(self, at: float) -> None:
        """One point of the line on the operating plane: oxygen and carbon monoxide, aligned."""
        oxygen = self.aligned_now.get("oxygen_dry", math.nan)
        monoxide = self.aligned_now.get("carbon_monoxide_dry", math.nan)
        if oxygen == oxygen:
            self.path.append((at, oxygen, monoxide if monoxide == monoxide else None))

    def _change(self, row: Row, place: int) -> Change | None:
        value = row.values[place]
        moving = self.moving[place]
        silent = row.time - self._last.get(place, row.time)
        change = None
        if silent > max(MISSED * self.tick, moving.channel.t90):
            change = moving.broken()
            self._last.pop(place, None)
        if value == value:
            self._last[place] = row.time
            change = moving.step(row.time, value) or change
        if change is not None:
            self._latest[change.channel.key] = change
        return change

    def _burner(self, row: Row) -> list[Event]:
        """Whether it was lit or went out by what its channels say, and whether that happens too often."""
        before = len(self.burner.starts), self.burner.starts[-1:]
        self.burner.step(row)
        if (len(self.burner.starts), self.burner.starts[-1:]) != before:
            self.meaning.mark(Mark(self.burner.starts[-1], "lit", self.word, GUESS))
            self.signs.lit(self.burner.starts[-1])
        recent = [at for at in self.burner.starts if row.time - at <= WITHIN]
        if len(recent) < CYCLES or row.time - self._cycled < WITHIN:
            return []
        self._cycled = row.time
        return [
            Event(
                self.about.number(), "cycling", "advise", recent[0], row.time, row.time, True, self.word,
                f"Lit {len(recent)} times in {(row.time - recent[0]) / 60.0:.0f} min: it cycles.",
                "No reading of a run that short is of a steady appliance, and each start costs heat and a puff of "
                "carbon monoxide.",
                do_next=("give it a load that keeps it burning while it is read", "look at control, size and flow"),
                evidence=("burner",),
            )
        ]  # fmt: skip

    def air_free(self) -> float | None:
        """Air-free carbon monoxide of this row, of channels brought to one response; None where there is none."""
        return air_free(self.aligned_now)

    def standings(self) -> tuple[Standing, Standing]:
        """Instrument settled and appliance steady; while nothing burns no appliance is steady."""
        steady = self.steady.standing()
        if steady.holds and self.burner.told and not self.burner.burning:
            steady = replace(steady, holds=False, why="nothing burns", since=None)
        return self.settled.standing(), steady
