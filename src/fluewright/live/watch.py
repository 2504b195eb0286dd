"""Everything that comes in, watched as it comes: what a page shows of it, what is told, and what is kept."""

import math
from collections import deque
from collections.abc import Collection, Iterable, Mapping, Sequence
from itertools import count
from typing import Any

from fluewright.evidence.trace.spool import Sample as Row
from fluewright.live.about import About
from fluewright.live.appliance import Watched
from fluewright.live.channel import Channel
from fluewright.live.event import Event
from fluewright.live.flue import on_flue
from fluewright.live.kept import Window, kept
from fluewright.live.marks import Mark
from fluewright.live.rows import Gathered
from fluewright.live.ruled import Moment, as_the_rule_says, averaging_seconds
from fluewright.live.sample import Sample
from fluewright.live.steady import Standing
from fluewright.quantity import show
from fluewright.rules.schema import Limit

TAIL = 600
"""Rows of the strip that a page is given: ten minutes of a row a second."""
EVENTS = 200
"""Events kept in mind; a journal keeps them all."""
STALE = 3.0
"""s beyond which a value is no longer of now, or twice the response of its channel where that is longer."""


class Watch:
    """Samples in; events, the three kinds of steady, windows to keep and frames for pages out. Bounded memory.

    tick              s of one row
    instrument_class  for what nobody said of a channel
    limits            rows of the rules whose own steady is asked for, by appliance ("" where there is one)
    on_flue           words of the appliances that hang on one flue
    adjusting         word of the one that is being adjusted
    keep_by_itself    whether a window is kept as soon as all three kinds of steady hold
    system            us or si, for the words
    """

    def __init__(
        self, *, tick: float = 1.0, instrument_class: str = "service", limits: Mapping[str, Limit] | None = None,
        on_flue: Sequence[str] = (), adjusting: str = "", keep_by_itself: bool = False, system: show.System = "si",
    ) -> None:  # fmt: skip
        self.tick, self.limits, self.on_flue, self.adjusting = tick, dict(limits or {}), tuple(on_flue), adjusting
        self.keep_by_itself, self.system = keep_by_itself, system
        self.confirmed: set[str] = set()
        self.marks: deque[Mark] = deque(maxlen=EVENTS)
        self.events: deque[Event] = deque(maxlen=EVENTS)
        self.by_itself: deque[tuple[str, Window]] = deque(maxlen=EVENTS)
        self.watched: dict[str, Watched] = {}
        self.gathered = Gathered(tick=tick, instrument_class=instrument_class)
        self.tail: deque[Row] = deque(maxlen=TAIL)
        self.now = math.nan
        self._numbers = count(1)
        self._channels: list[Channel] = []
        self._kept_from: dict[str, float] = {}

    def _number(self) -> int:
        return next(self._numbers)

    @property
    def channels(self) -> Sequence[Channel]:
        """The channels of the rows, in the order of their values."""
        return self._channels

    def take(self, samples: Iterable[Sample]) -> list[Event]:
        """Take samples as they come.

        -> events that are new, told anew, or have ended
        """
        found = []
        for sample in samples:
            for row in self.gathered.take(sample):
                found += self.row(row, self.gathered.channels)
        return found

    def until(self, at: float) -> list[Event]:
        """Time passes, though nothing may have come."""
        return [event for row in self.gathered.until(at) for event in self.row(row, self.gathered.channels)]

    def mark(self, mark: Mark) -> None:
        """Somebody did something."""
        self.marks.append(mark)
        for one in self.watched.values():
            if mark.appliance in ("", one.word):
                one.mark(mark)
            elif mark.word in ("lit", "off"):
                one.mark(Mark(mark.at, f"other {mark.word}", mark.appliance, mark.note))

    def row(self, row: Row, channels: Sequence[Channel]) -> list[Event]:
        """Take one row, recorded or just made; the channels may have become more."""
        if len(channels) != len(self._channels):
            self._more(channels)
        self.now = row.time
        self.tail.append(row)
        burning = any(one.burner.burning for one in self.watched.values())
        mark = self.marks[-1] if self.marks else None
        found = []
        for one in self.watched.values():
            found += one.step(row, mark=mark, burning=burning, adjusting=self.adjusting)
        self.events.extend(found)
        if self.keep_by_itself:
            self._keep_by_itself()
        return found

    def _more(self, channels: Sequence[Channel]) -> None:
        """A channel that was not there before: its appliance is watched anew, the others go on."""
        new = {one.appliance for one in channels[len(self._channels) :]}
        self._channels = list(channels)
        for word in new:
            self.watched[word] = Watched(About(word, self.tick, self._number, self.system), channels)
            for mark in self.marks:
                if mark.appliance in ("", word):
                    self.watched[word].mark(mark)

    def standings(self, appliance: str = "") -> tuple[Standing, ...]:
        """The kinds of steady of one appliance: two, and the rule's own where a rule was named."""
        one = self.watched.get(appliance)
        if one is None:
            return ()
        settled, steady = one.standings()
        limit = self.limits.get(appliance)
        if limit is None:
            return settled, steady
        moment = self._moment(one)
        return settled, steady, as_the_rule_says(limit, moment, settled=settled, steady=steady, tick=self.tick)

    def moment(self, appliance: str = "") -> Moment | None:
        """What the steady of any rule hangs on now; None where nothing of that appliance was read."""
        one = self.watched.get(appliance)
        return None if one is None else self._moment(one)

    def _moment(self, one: Watched) -> Moment:
        deciding = one.settled.places
        last = [self._read_at(place) for place in deciding]
        samples = one.settled.finder.window.samples
        read_for = (samples[-1].time - samples[0].time) if samples else 0.0
        held = one.settled.finder.open
        read_for = max(read_for, held[-1].time - held[0].time) if held else read_for
        lit = None if one.burner.since is None else self.now - one.burner.since
        points = {self._channels[place].point for place in deciding}
        apart = max(last) - min(last) if last else math.inf
        return Moment(lit, one.burner.burning, read_for, points, apart, self.confirmed)

    def _read_at(self, place: int) -> float:
        """When a channel was last read."""
        return next(
            (
                row.time
                for row in reversed(self.tail)
                if place < len(row.values) and row.values[place] == row.values[place]
            ),
            -math.inf,
        )

    def keep(self, appliance: str = "") -> Window | None:
        """The window as it stands: the steady rows, over the time that the rule asks for where it asks for one.

        appliance  which
        -> Window, which names the kinds of steady that it had; None where nothing was read
        """
        one = self.watched.get(appliance)
        if one is None:
            return None
        finder = one.settled.finder
        rows = list(finder.open or finder.window.samples)
        limit = self.limits.get(appliance)
        wanted = averaging_seconds(limit) if limit else None
        if wanted is not None and rows:
            rows = [row for row in rows if row.time > rows[-1].time - wanted - 0.5 * self.tick]
        if len(rows) < 2:
            return None
        return kept(rows, self._channels, one.places, self.standings(appliance))

    def _keep_by_itself(self) -> None:
        """One window for each time that all three hold."""
        for word in self.watched:
            standings = self.standings(word)
            if len(standings) < 3 or not all(one.holds for one in standings):
                continue
            since = standings[0].since or 0.0
            if self._kept_from.get(word) != since and (window := self.keep(word)) is not None:
                self._kept_from[word] = since
                self.by_itself.append((word, window))

    def confirm(self, rules: Collection[str]) -> None:
        """A person has seen to what no channel shows of these rows."""
        self.confirmed.update(rules)

    def fresh(self) -> dict[int, float]:
        """The latest value of each channel, of those that are still of now."""
        found = {}
        for place, one in enumerate(self._channels):
            read = self._read_at(place)
            if self.now - read <= max(STALE * self.tick, 2.0 * one.t90):
                found[place] = self._value_at(place, read)
        return found

    def _value_at(self, place: int, at: float) -> float:
        return next((row.values[place] for row in reversed(self.tail) if row.time == at), math.nan)

    def frame(self, *, rows: int = TAIL) -> dict[str, Any]:
        """What a page shows at this moment, as plain data in canonical units; SSE sends two a second at most.

        rows  how many of the strip, the latest
        """
        tail = list(self.tail)[-rows:]
        return {
            "now": None if math.isnan(self.now) else self.now,
            "channels": [self._channel(place) for place in range(len(self._channels))],
            "steady": {word: [_standing(one) for one in self.standings(word)] for word in self.watched},
            "air_free": {word: one.air_free() for word, one in self.watched.items()},
            "plane": {word: [list(point) for point in one.path] for word, one in self.watched.items()},
            "flue": [one.as_data() for one in on_flue(self.on_flue, self.watched, self.fresh())],
            "events": [event.as_data() for event in self._latest_events()],
            "marks": [{"at": mark.at, "word": mark.word, "appliance": mark.appliance} for mark in self.marks],
            "strip": {"at": [row.time for row in tail], "values": [_finite(row.values) for row in tail]},
            "late": self.gathered.late,
        }

    def _channel(self, place: int) -> dict[str, Any]:
        one, read = self._channels[place], self._read_at(place)
        known = read > -math.inf
        bound = next((row.above >> place & 1 for row in reversed(self.tail) if row.time == read), 0) if known else 0
        return {
            "key": one.key,
            "words": one.words,
            "quantity": one.quantity,
            "point": one.point,
            "appliance": one.appliance,
            "value": self._value_at(place, read) if known else None,
            "bound": "at least" if bound else "",
            "age": self.now - read if known else None,
            "t90": one.t90,
            "t90_said": one.said,
        }

    def _latest_events(self) -> list[Event]:
        """Each event once, as it was told last; the gravest of now first."""
        latest: dict[int, Event] = {}
        now = [event for one in self.watched.values() for event in one.meaning.current()]
        for event in (*self.events, *now):
            latest[event.number] = event
        order = {"stop": 0, "act": 1}
        return sorted(latest.values(), key=lambda one: (order.get(one.grade, 2) if one.open else 3, -one.told))


def _standing(one: Standing) -> dict[str, Any]:
    return {
        "kind": one.kind,
        "holds": one.holds,
        "why": one.why,
        "missing": one.missing,
        "seconds": one.seconds,
        "asks": list(one.asks),
        "since": one.since,
    }


def _finite(values: Sequence[float]) -> list[float | None]:
    return [value if math.isfinite(value) else None for value in values]
