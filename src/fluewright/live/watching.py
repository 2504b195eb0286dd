"""A hub and a watch in one process, for pages: what is kept is watched, and whoever looks on is told when it changed.

The hub runs in the loop of the server; pages ask from its threads. Everything between them is held by one lock, for
some milliseconds at a time, and is bounded.
"""

import asyncio
import threading
from collections.abc import Mapping
from contextlib import suppress
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Any

from fluewright.live import window
from fluewright.live.decode import Decoder
from fluewright.live.event import Event
from fluewright.live.hub import Hub
from fluewright.live.kept import Window
from fluewright.live.marks import Mark
from fluewright.live.payload import NotTaken
from fluewright.live.pulse import Pulse
from fluewright.live.push import HttpPush
from fluewright.live.row import Row
from fluewright.live.sample import Sample
from fluewright.live.subscriber import Frame
from fluewright.live.watch import Watch
from fluewright.quantity import show

if TYPE_CHECKING:
    from fluewright.live.turned import House

BEAT = 0.25
"""s after which the clock is looked at although nothing came."""

BEHIND = 0.3
"""s that a row waits for samples that are on their way."""

REMEMBERED = 600.0
"""s of what was kept before a restart that are watched again."""

WAITING = 4096
"""Frames that may wait for the watch; it takes hundreds of rows in the time of one."""

STOPS = 50
"""Stop sentences that nobody has said to have seen; the oldest of more is among the events."""


@dataclass(frozen=True, slots=True)
class Age:
    """How old what one source or channel shows is.

    words   the channel as a person says it, with its appliance
    source  name of its source
    last    s, latest sample; None where none has come
    silent  whether three of its intervals went by without one
    trust   grade of its sender
    why     why it has that grade
    """

    words: str
    source: str
    last: float | None
    silent: bool
    trust: str
    why: str


@dataclass(frozen=True, slots=True)
class Now:
    """Everything that a page shows, at one moment.

    version  rises with everything that changes
    upto     id of the last frame that is in it
    at       s, the one clock
    frame    of the watch, plain data
    ages     of each channel, and of sources that nothing came from
    stops    events that stop work and that nobody has said to have seen
    """

    version: int
    upto: int
    at: float
    frame: Mapping[str, Any]
    ages: tuple[Age, ...]
    stops: tuple[Event, ...]


class Watching:
    """What comes in, watched for the pages of one server.

    hub        with its sources, opened and not yet running
    system     us or si, for the words of events
    adjusting  word of the appliance that is being adjusted
    house      virtual appliances of a demonstration, which can be turned; None where instruments are real
    """

    def __init__(
        self, hub: Hub, *, system: show.System = "si", adjusting: str = "", house: "House | None" = None
    ) -> None:
        self.hub, self.house = hub, house
        words = tuple(dict.fromkeys(one.mapping.appliance for one in hub.streams.values()))
        self.appliances = words
        self.watch = Watch(on_flue=words if len(words) > 1 else (), adjusting=adjusting, system=system)
        self.over = False
        self.lookers = 0
        self.version, self.upto = 0, hub.number
        self._turn = threading.RLock()
        self._pulses: dict[tuple[str, str, str, str], Pulse] = {}
        self._stops: dict[int, Event] = {}

    # in the loop of the server

    async def run(self) -> None:
        """Listen, keep and watch until told to end; what came is then in the journal."""
        await asyncio.to_thread(self._remember)
        looking = self.hub.subscribe(most=WAITING)
        running = asyncio.create_task(self.hub.run())
        try:
            while not running.done():
                frames: list[Frame] = []
                with suppress(TimeoutError):
                    first = await asyncio.wait_for(looking.next(), BEAT)
                    frames = [] if first is None else [first, *looking.rest()]
                    if first is None:
                        break
                self._step(frames)
        finally:
            self.hub.leave(looking)
            running.cancel()
            with suppress(asyncio.CancelledError):
                await running

    def end(self) -> None:
        """No page is told anything more; each of their streams ends by itself."""
        self.over = True

    async def pushed(self, source: str, message: bytes) -> bool:
        """Take a message that was sent by HTTP.

        source   name of the source
        message  as it came
        -> whether it was taken, and then it is on the disk; KeyError where no source of that name is pushed to
        """
        one = self.hub.streams[source].source
        if not isinstance(one, HttpPush):
            raise KeyError(source)
        try:
            await one.pushed(message)
        except NotTaken:
            return False
        return True

    def _step(self, frames: list[Frame]) -> None:
        with self._turn:
            for frame in frames:
                self.upto = frame.id
                self._took(self._samples(frame.samples))
            before = self.watch.now
            self._told(self.watch.until(self.hub.now() - BEHIND))
            if frames or self.watch.now != before:
                self.version += 1

    def _took(self, samples: list[Sample]) -> None:
        for sample in samples:
            pulse = self._pulses.get(sample.channel)
            if pulse is None:
                self._pulses[sample.channel] = Pulse(sample.at, sample.trust)
            else:
                pulse.beat(sample.at, sample.trust)
        self._told(self.watch.take(samples))

    def _told(self, events: list[Event]) -> None:
        for event in events:
            if event.grade == "stop":
                self._stops[event.number] = event
                for number in list(self._stops)[:-STOPS]:
                    self._stops.pop(number)

    def _samples(self, told: Mapping[str, Any]) -> list[Sample]:
        """The samples of a frame, with what their mapping says of each channel."""
        if not told:
            return []
        mapping = self.hub.streams[told["source"]].mapping
        said = {(each.quantity, each.point or mapping.point): each for each in mapping.channels}
        found = []
        for each in told["samples"]:
            point = each.get("point", "")
            channel = said.get((each["quantity"], point))
            sample = Sample(
                told["source"], told["instrument"], each["quantity"], point, told["at"], each["value"], 0,
                told.get("appliance", ""), bound=each.get("bound", ""), trust=told["trust"],
                late=bool(told.get("late")),
            )  # fmt: skip
            found.append(sample if channel is None else replace(sample, step=channel.step, t90=channel.t90))
        return found

    def _remember(self) -> None:
        """Watch again what was kept in the last minutes before this run, so that a restart leaves no hole."""
        now = self.hub.now()
        found: list[Sample] = []
        for name, one in self.hub.streams.items():
            sent = window.sent(self.hub.journal, name, start=now - REMEMBERED, end=now)
            columns = [each.come_from for each in one.mapping.channels]
            if len(columns) != len(sent.heads):
                continue
            decoder = Decoder(one.mapping)
            for at, cells in zip(sent.times, sent.cells, strict=True):
                read = {column: text for column, text in zip(columns, cells, strict=True) if text is not None}
                trust = one.grade[0] if sent.trust == "known" else "unknown"
                found += decoder.samples(Row(name, at, read), at=at, seq=0, late=False, trust=trust)
        found.sort(key=lambda sample: sample.at)
        with self._turn:
            self._took(found)

    # from the threads of the pages

    def mark(self, word: str, *, appliance: str = "", note: str = "") -> None:
        """Somebody did something just now."""
        with self._turn:
            self.watch.mark(Mark(self.hub.now(), word, appliance, note))
            self.version += 1

    def keep(self, appliance: str) -> Window | None:
        """The window of an appliance as it stands; None where nothing was read."""
        with self._turn:
            return self.watch.keep(appliance)

    def see(self, number: int) -> Event | None:
        """Somebody has seen a stop; it stands among the events from now on. -> it, None where it was seen before."""
        with self._turn:
            self.version += 1
            return self._stops.pop(number, None)

    def stop(self, number: int) -> Event | None:
        """A stop that nobody has said to have seen."""
        with self._turn:
            return self._stops.get(number)

    def told(self, *, rows: int) -> Now:
        """What a page shows now; `rows` of the strip, the latest."""
        with self._turn:
            at = self.hub.now()
            return Now(
                self.version, self.upto, at, self.watch.frame(rows=rows), self._ages(at), tuple(self._stops.values())
            )

    def _ages(self, now: float) -> tuple[Age, ...]:
        found = []
        for channel in self.watch.channels:
            pulse = self._pulses[channel.source, channel.appliance, channel.quantity, channel.point]
            words = f"{channel.appliance}: {channel.words}" if channel.appliance else channel.words
            stream = self.hub.streams[channel.source]
            silent = pulse.silent(now)
            found.append(Age(words, channel.source, pulse.last, silent, pulse.trust, stream.grade[1]))
        heard = {channel.source for channel in self.watch.channels}
        for name, one in self.hub.streams.items():
            if name not in heard:
                said = one.said[-1] if one.said else "nothing has come from it yet"
                found.append(Age(one.mapping.instrument or name, name, None, True, one.grade[0], said))
        return tuple(found)
