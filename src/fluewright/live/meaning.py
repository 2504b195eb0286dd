"""Changes that belong together, held against what was done, as one event with its sentence."""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from fluewright.evidence.finding import ORDER
from fluewright.evidence.limits import CAUTION
from fluewright.evidence.moving import STAY_OUT
from fluewright.evidence.trace.read import span
from fluewright.live import told
from fluewright.live.about import About
from fluewright.live.changes import Change
from fluewright.live.channel import GUSTS, Channel, amount
from fluewright.live.event import Event, moved_words
from fluewright.live.marks import Mark

TOGETHER = 20.0
"""s within which changes are taken as one event, or the slowest response where that is longer."""
AFTER, BEFORE = 30.0, 5.0
"""s after and before a mark within which what moves is held against it: hands and clocks differ (no source)."""
GUESSED = 60.0
"""The same before a lighting that only the channels told of: they tell it late."""
FRESH = 0.185
"""Oxygen from which on it is fresh air that a cell still creeps up to (common practice, no source)."""
AIR = 0.2095
ALIKE, THINNED, GONE, ENOUGH = 0.05, 0.97, 0.3, 20e-6
"""Shares that count as one; above which nothing was thinned, below which the flame may be gone; monoxide that tells."""
SEEN = 0.75
"""Responses after which the shares are looked at: a flame that went out has left less than `GONE` by then."""
GRAVE = ("stop", "act")
BY_WIND = "draft-moved"
"""The sentence that a gust would otherwise bring."""
MARKS, EVENTS = 50, 8
"""Marks and events kept in mind."""


@dataclass(slots=True)
class _Together:
    """One event in the making."""

    number: int
    start: float
    changes: dict[str, Change] = field(default_factory=dict)
    said: dict[str, float] = field(default_factory=dict)
    last: Event | None = None
    row: told.Row | None = None

    def under(self, group: str) -> list[Change]:
        return [one for one in self.changes.values() if told.group_of(one.channel) == group]


class Meaning:
    """The events of one appliance.

    about     the appliance
    channels  those that are read of it
    """

    def __init__(self, about: About, channels: Sequence[Channel]) -> None:
        self.about = about
        self.channels = list(channels)
        self.marks: list[Mark] = []
        self._events: list[_Together] = []

    @property
    def _reach(self) -> float:
        return max([TOGETHER, *(one.t90 for one in self.channels)])

    def mark(self, mark: Mark) -> None:
        """Something was done."""
        self.marks = [*self.marks[-MARKS:], mark]

    def take(self, changes: Sequence[Change], *, at: float, burning: bool, aligned: Mapping[str, float]) -> list[Event]:
        """What these changes mean, with those that belong to them.

        changes  found, moved on or ended at this row
        at       s
        burning  whether it burns
        aligned  gases of this row, brought to one response, by registry name
        -> events that are new, or whose sentence is another one now, or that have ended
        """
        touched = []
        for change in changes:
            event = self._event_of(change)
            event.changes[f"{change.channel.key}#{change.number}"] = change
            touched += [event] if event not in touched else []
        found = []
        for event in touched:
            told_now = self._told(event, at, burning, aligned)
            found += [told_now] if told_now else []
        self._events = self._events[-EVENTS:]
        return found

    def _event_of(self, change: Change) -> _Together:
        key = f"{change.channel.key}#{change.number}"
        for event in reversed(self._events):
            if key in event.changes:
                return event
        for event in reversed(self._events):
            if abs(change.start - event.start) <= self._reach:
                event.start = min(event.start, change.start)
                return event
        self._events.append(_Together(self.about.number(), change.start))
        return self._events[-1]

    def _mark_of(self, start: float) -> Mark | None:
        """The mark that a change is held against: the nearest before it, of what fits in time."""

        def fits(mark: Mark) -> bool:
            early = GUESSED if mark.note == GUESS else BEFORE
            return -early <= start - mark.at <= AFTER + mark.unsure

        fitting = [mark for mark in self.marks if fits(mark)]
        return min(fitting, key=lambda mark: (mark.note == GUESS, abs(start - mark.at)), default=None)

    def _told(self, event: _Together, at: float, burning: bool, aligned: Mapping[str, float]) -> Event | None:
        mark = self._mark_of(event.start)
        ways: dict[str, set[str]] = {}
        for one in event.changes.values():
            if one.worth:
                ways.setdefault(told.group_of(one.channel), set()).add(one.way)
        case = told.Case(
            {group: frozenset(seen) for group, seen in ways.items()},
            frozenset(told.group_of(one) for one in self.channels),
            mark.word if mark else "",
            burning,
            _fresh(event),
            at - event.start >= SEEN * self._reach and _alike(event, aligned),
            {told.group_of(one.channel): max(one.farthest, one.after) for one in event.changes.values()},
        )
        row = told.row_for(case)
        if event.row is not None and event.row.grade in GRAVE and ORDER.index(event.row.grade) < ORDER.index(row.grade):
            row = event.row  # what was grave does not become less so because it went by
        event.row = row
        if row.key == BY_WIND and at - event.start < 2.0 * GUSTS and any(one.open for one in event.changes.values()):
            return None  # wind: told when it has lasted, or has stayed where it went
        now = self._as_event(event, row, mark, at)
        before = event.last
        event.last = now
        new = before is None or (before.key, before.grade, before.open) != (now.key, now.grade, now.open)
        return now if new else None

    def _as_event(self, event: _Together, row: told.Row, mark: Mark | None, at: float) -> Event:
        first = event.said.setdefault(row.key, at)
        going = any(one.open for one in event.changes.values())
        lead = row.lead.format_map(_Said(self._words(event, mark, at, going)))
        stops = row.grade == "stop" or row.cautions or row.out
        return Event(
            number=event.number,
            key=row.key,
            grade=row.grade,
            start=event.start,
            told=first,
            until=at,
            open=going,
            appliance=self.about.appliance,
            lead=lead[:1].upper() + lead[1:],
            why=row.why,
            moved=tuple(event.changes.values()),
            mark=_mark_words(mark),
            do_now=STAY_OUT if row.out else row.now,
            do_next=row.next,
            cautions=CAUTION if stops else (),
            people_out=row.out,
        )

    def _words(self, event: _Together, mark: Mark | None, at: float, going: bool) -> dict[str, str]:
        words: dict[str, str] = {}
        for one in event.changes.values():
            words.setdefault(told.group_of(one.channel), moved_words(one, self.about.system))
        lasted = at - event.start
        words["moved"] = ", ".join(
            f"{self._name(one.channel)} {moved_words(one, self.about.system)}" for one in event.changes.values()
        )
        words["lasted"] = span(lasted)
        words["still_going"] = ", and goes on" if going else ""
        words["mark"] = mark.word if mark else ""
        since = max(event.start - mark.at, 0.0) if mark else lasted
        words["seconds"] = f"{max(5 * math.ceil(since / 5.0), 5)} s"
        for one in event.under("monoxide"):
            words["peak"] = amount(one.channel.quantity, one.farthest, self.about.system, signed=False)
        return words

    def _name(self, channel: Channel) -> str:
        """Without the point where this quantity is read at one point only."""
        alone = sum(one.quantity == channel.quantity for one in self.channels) < 2
        return channel.short if alone else channel.words

    def current(self) -> list[Event]:
        """The events kept in mind, as they stand now."""
        return [event.last for event in self._events if event.last is not None]


def _mark_words(mark: Mark | None) -> str:
    """What was done, and whether only the channels said so."""
    if mark is None:
        return ""
    return f"{mark.word}, {mark.note}" if mark.note == GUESS else mark.word


GUESS = "by its channels"
"""Note of a mark that nobody made."""


class _Said(dict[str, str]):
    """Words by name; a group that did not move is left out."""

    def __missing__(self, key: str) -> str:
        return ""


def _fresh(event: _Together) -> str:
    """Whether oxygen went to or from fresh air."""
    for one in event.under("oxygen"):
        if one.before >= FRESH and one.farthest < one.before:
            return "from"
        if one.before < FRESH <= max(one.after, one.farthest):
            return "to"
    return ""


def _alike(event: _Together, aligned: Mapping[str, float]) -> bool:
    """Whether what is left of oxygen deficit and of carbon monoxide is one share, on aligned values.

    Both gases pass the same lag then, so that the shares are alike at every moment of a step, not only at its end.
    """
    oxygen = next(iter(event.under("oxygen")), None)
    monoxide = next(iter(event.under("monoxide")), None)
    if oxygen is None or monoxide is None or monoxide.before < ENOUGH or oxygen.before > FRESH:
        return False
    left = (AIR - aligned.get(oxygen.channel.quantity, math.nan)) / (AIR - oxygen.before)
    kept = aligned.get(monoxide.channel.quantity, math.nan) / monoxide.before
    unsure = 2.0 * math.hypot(oxygen.doubt / (AIR - oxygen.before), monoxide.doubt / monoxide.before)
    return GONE < left < THINNED and kept < THINNED and abs(left - kept) <= ALIKE + min(unsure, ALIKE)
