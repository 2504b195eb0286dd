"""A recorded trace watched as if it came in now: the same rows, the same sentences."""

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from fluewright.evidence.finding import ORDER
from fluewright.evidence.trace.spool import Sample as Row
from fluewright.evidence.trace.trace import Trace, step_of
from fluewright.live.channel import TELLABLE, Channel, channel
from fluewright.live.event import Event
from fluewright.live.marks import Mark
from fluewright.live.ruled import Moment
from fluewright.live.steady import Standing
from fluewright.live.watch import Watch
from fluewright.quantity import show


@dataclass(frozen=True, slots=True)
class Stood:
    """A time during which one kind of steady held: first and last row, s."""

    kind: str
    start: float
    end: float


@dataclass(frozen=True, slots=True)
class Seen:
    """What a watch of a whole trace saw.

    events  each once, as it was told last, in order of time
    stood   times of each kind of steady, as they would have been shown while it ran
    left    standings at the end
    tick    s from row to row
    rare    whether rows lie farther apart than the instrument answers
    then    standings at the moment asked for, and what the steady of a rule hung on then
    """

    events: tuple[Event, ...]
    stood: tuple[Stood, ...]
    left: tuple[Standing, ...]
    tick: float
    rare: bool
    then: tuple[tuple[Standing, ...], Moment | None] = ((), None)

    @property
    def grave(self) -> bool:
        """Whether something was to be stopped or acted on."""
        return any(event.grade in ("stop", "act") for event in self.events)


def channels_of(trace: Trace, *, instrument_class: str, responses: Mapping[str, float]) -> dict[int, Channel]:
    """The channels of a trace that sentences know, by their place in its rows.

    instrument_class  for least step and response
    responses         T90 in s by registry name, where somebody said
    """
    return {
        place: channel(
            trace.subject, "", one.name, "", t90=responses.get(one.name, 0.0), instrument_class=instrument_class
        )
        for place, one in enumerate(trace.channels)
        if one.quantity and one.name in TELLABLE
    }


def _rows(trace: Trace, places: Sequence[int]) -> Iterator[Row]:
    """The rows with those channels only."""
    for row in trace:
        above = sum(1 << new for new, old in enumerate(places) if row.above >> old & 1)
        below = sum(1 << new for new, old in enumerate(places) if row.below >> old & 1)
        edges = dict(row.bounds)
        bounds = tuple((new, edges[old]) for new, old in enumerate(places) if old in edges)
        values = tuple(edges.get(old, row.values[old]) for old in places)
        yield Row(row.time, row.row, values, above, below, bounds)


def watched(
    trace: Trace, *, marks: Sequence[Mark] = (), instrument_class: str = "service",
    responses: Mapping[str, float] | None = None, system: show.System = "si", asked: float = math.nan,
) -> Seen:  # fmt: skip
    """Watch a recorded trace from its first row to its last.

    marks             what was done, on the clock of the trace
    instrument_class  for least step and response of what nobody said
    responses         T90 in s by registry name
    system            us or si, for the words
    asked             s, time of the row at which it is asked how steady it was
    -> Seen; memory stays constant but for the events themselves
    """
    chosen = channels_of(trace, instrument_class=instrument_class, responses=responses or {})
    watch = Watch(tick=step_of(trace).seconds or 1.0, instrument_class=instrument_class, system=system)
    waiting = sorted(marks, key=lambda mark: mark.at)
    events: dict[int, Event] = {}
    stood: list[Stood] = []
    open_since: dict[str, float] = {}
    then: tuple[tuple[Standing, ...], Moment | None] = ((), None)
    for row in _rows(trace, tuple(chosen)):
        while waiting and waiting[0].at <= row.time:
            watch.mark(waiting.pop(0))
        for event in watch.row(row, tuple(chosen.values())):
            events[event.number] = event
        _note(watch.standings(), row.time, open_since, stood)
        if row.time == asked:
            then = watch.standings(), watch.moment()
    _note((), watch.now, open_since, stood)
    for one in watch.watched.values():
        events.update({event.number: event for event in one.meaning.current()})
    found = sorted(events.values(), key=lambda event: (event.start, ORDER.index(event.grade)))
    rare = watch.tick > max((one.t90 for one in chosen.values()), default=math.inf)
    return Seen(tuple(found), tuple(stood), watch.standings(), watch.tick, rare, then)


def _note(standings: Sequence[Standing], at: float, since: dict[str, float], stood: list[Stood]) -> None:
    """Open and close the times of each kind."""
    holding = {one.kind: one.since for one in standings if one.holds}
    for kind in [kind for kind in since if kind not in holding]:
        stood.append(Stood(kind, since.pop(kind), at))
    for kind, start in holding.items():
        since.setdefault(kind, at if start is None or math.isnan(start) else start)
