"""The hub: rows of all sources on one clock, on the disk before they are acknowledged or shown, then in the journal.

A row goes this way: it comes, copies of it are told apart, it is set on the one clock, it is flushed to the daybook,
its sender is answered, it is shown to all who look on. From time to time the daybook becomes trace blocks of the
journal. In memory there are only rows on their way, and the last frames for a page that comes back.
"""

import asyncio
import random
import time
from collections import deque
from collections.abc import Callable, Coroutine, Sequence
from contextlib import suppress
from dataclasses import dataclass, field
from functools import partial
from pathlib import Path
from typing import Any

from fluewright import clock
from fluewright.errors import NotAllowed
from fluewright.live import blocks
from fluewright.live.again import Seen, mark_of
from fluewright.live.daybook import Daybook, lines_in
from fluewright.live.decode import Decoder
from fluewright.live.mapping import Mapping
from fluewright.live.oneclock import SetClock
from fluewright.live.row import Lost, Row, Source
from fluewright.live.sample import Sample, Trust
from fluewright.live.subscriber import MOST, Frame, Subscriber
from fluewright.record.journal import Journal
from fluewright.record.practice import is_practice

BLOCK = 120.0
"""s of rows in one block."""

ON_THE_WAY = 2000
"""Rows between coming and being kept; beyond that a source waits, and its sender with it."""

BACK = 2000
"""Frames that are kept for pages that come back."""

LONGEST_CELL = 60
"""Signs of a cell that are kept."""

REST = 0.001
"""s that the making of blocks stands back after each bit of it, so that what comes meanwhile is shown without delay."""

FIRST_PAUSE, LONGEST_PAUSE = 0.2, 30.0
"""s between attempts to reach a source, doubled each time."""


@dataclass(slots=True)
class Stream:
    """One source with all that is known of it.

    rows      kept, since the journal was begun
    practice  whether the journal is for practice, where all is invented and nobody need be proven
    refused  rows that were not kept: copies and used-up numbers are counted by `seen`
    said     what happened to it, in words, the last of it
    """

    mapping: Mapping
    source: Source
    decoder: Decoder
    seen: Seen = field(default_factory=Seen)
    clock: SetClock = field(default_factory=SetClock)
    rows: int = 0
    practice: bool = False
    said: deque[str] = field(default_factory=lambda: deque(maxlen=20))
    lost: int = 0

    @property
    def real(self) -> bool:
        """Whether an instrument stands behind it."""
        return self.source.real and not self.mapping.practice

    @property
    def grade(self) -> tuple[Trust, str]:
        """How far it is believed, and why: one that is not known may alarm and clears nothing."""
        if self.practice:
            return "known", "for practice"
        if not self.real:
            return "unknown", "no instrument stands behind it"
        if self.seen.replayed:
            return "unknown", "a stretch of it repeats an earlier one row by row"
        if self.source.wire:
            return "known", "it comes over a wire of this machine"
        if self.mapping.key_file is not None:
            return "known", "every message is signed by its key and counted"
        return "unknown", "anybody could have sent it"


def stream(mapping: Mapping, source: Source) -> Stream:
    """A source with its mapping."""
    return Stream(mapping, source, Decoder(mapping))


class Hub:
    """Keeps the rows of many sources in one journal.

    journal  that they are kept in
    folder   of the daybook, used by one hub at a time
    block    s of rows in one trace block
    now      the one clock, s since 1970
    """

    def __init__(
        self, journal: Journal, folder: Path, *, block: float = BLOCK, now: Callable[[], float] = clock.seconds
    ) -> None:
        self.journal = journal
        self.daybook = Daybook(folder)
        self.now = now
        self.number = 0
        self.streams: dict[str, Stream] = {}
        self.places: dict[str, str] = {}
        self.said: deque[str] = deque(maxlen=20)
        self._block = block
        self._state: dict[str, Any] = {}
        self._left: list[tuple[Path, int]] = []
        self._waiting: asyncio.Queue[tuple[Stream, Row] | None] = asyncio.Queue(ON_THE_WAY)
        self._turn, self._stop = asyncio.Lock(), asyncio.Event()
        self._back: deque[Frame] = deque(maxlen=BACK)
        self._looking: set[Subscriber] = set()

    # before anything comes

    def open(self) -> None:
        """Take the folder and put into the journal what an earlier run left; where it stood is taken up again."""
        self.daybook.take()
        for path in self.daybook.left():
            for held in lines_in(path):
                self._took_up(held or {})
            self._left.append((path, blocks.cut(self.journal, path)))

    def _took_up(self, held: dict[str, Any]) -> None:
        """One line of an earlier run: where the counting stood, and what would be a copy."""
        self.number = max(self.number, int(held.get("number", 0)))
        self._state |= held.get("state", {})
        if "source" in held:
            told = self._state.setdefault(held["source"], {})
            told["rows"] = max(int(told.get("rows", 0)), int(held["seq"]))
            told["place"] = held.get("place") or told.get("place", "")
            for one, many in (("key", "keys"), ("mark", "marks")):
                if held.get(one) not in (None, ""):
                    told[many] = [*told.get(many, []), held[one]]

    def _gone(self, path: Path, damaged: int) -> None:
        """Let a daybook go whose rows are in the journal, once another one says where the counting stands."""
        if damaged:
            self.said.append(
                f"{damaged} lines of {path.name} are damaged; what is whole was kept, the file is put aside"
            )
        self.daybook.gone(path, damaged=damaged)

    def place_of(self, name: str) -> str:
        """How far a source was read by an earlier run; empty where it was not, or cannot be said."""
        return str(self._state.get(name, {}).get("place", ""))

    def add(self, found: Stream) -> None:
        """Take a source in, before the hub runs; NotAllowed for one of practice in a journal of real visits."""
        found.practice = is_practice(self.journal)
        if not found.real and not found.practice:
            raise _for_practice(found.mapping.name)
        name = found.mapping.name
        told = self._state.get(name, {})
        found.seen.restore(told)
        found.rows = int(told.get("rows", 0))
        self.places[name] = self.place_of(name)
        self.streams[name] = found

    def _head(self) -> dict[str, Any]:
        """The first line of a daybook."""
        state = dict(self._state)
        sources = {}
        for name, one in self.streams.items():
            state[name] = {**one.seen.state(), "rows": one.rows, "place": self.places[name]}
            trust, why = one.grade
            sources[name] = blocks.about(one.mapping, trust=trust, why=why)
        return {"number": self.number, "state": state, "sources": sources}

    # running

    async def run(self) -> None:
        """Listen until every source has ended or the task is cancelled; what came is then in the journal."""
        self.daybook.begin(self._head())
        for path, damaged in self._left:
            self._gone(path, damaged)
        listening = [asyncio.create_task(self._listened(each)) for each in self.streams.values()]
        keeping, cutting = asyncio.create_task(self._keeping()), asyncio.create_task(self._cutting())
        try:
            going = {*listening, keeping, cutting}
            while not keeping.done() and not cutting.done() and not all(task.done() for task in listening):
                ended, going = await asyncio.wait(going, return_when=asyncio.FIRST_COMPLETED)
                if any(task.exception() is not None for task in ended if not task.cancelled()):
                    break
        finally:
            await _whole(self._ended(listening, keeping, cutting))

    async def _ended(
        self, listening: Sequence[asyncio.Task[None]], keeping: asyncio.Task[None], cutting: asyncio.Task[None]
    ) -> None:
        """Stop listening, keep what had come, and put it into the journal; an error of any of them goes on."""
        self._stop.set()
        for task in listening:
            task.cancel()
        found = await asyncio.gather(*listening, return_exceptions=True)
        if not keeping.done():
            await self._waiting.put(None)
        found += await asyncio.gather(keeping, cutting, return_exceptions=True)
        await self._over()
        for error in found:
            if isinstance(error, Exception):
                raise error

    async def _over(self) -> None:
        for each in self.streams.values():
            await each.source.close()
        for one in self._looking:
            one.end()
        await self.cut()
        self.daybook.close()

    async def _listened(self, one: Stream) -> None:
        """All rows of one source; a lost one is tried again after a pause that doubles."""
        pause = FIRST_PAUSE
        while not self._stop.is_set():
            try:
                row = await one.source.next()
            except Lost as error:
                one.lost += 1
                one.said.append(f"lost: {error}; tried again in {pause:.1f} s")
                await asyncio.sleep(pause * random.uniform(0.7, 1.0))
                pause = min(LONGEST_PAUSE, 2.0 * pause)
                continue
            if row is None:
                return
            pause = FIRST_PAUSE
            await self._waiting.put((one, row))

    async def _keeping(self) -> None:
        """Keep what waits, all that has come meanwhile in one flush; then answer, then show."""
        going = True
        while going:
            came = [await self._waiting.get()]
            while not self._waiting.empty():
                came.append(self._waiting.get_nowait())
            going = None not in came
            async with self._turn:
                frames = await self._kept([each for each in came if each is not None])
            for frame in frames:
                self._show(frame)

    async def _kept(self, came: Sequence[tuple[Stream, Row]]) -> list[Frame]:
        """Rows on the disk and their senders answered; -> what is to be shown of them."""
        taken = [found for one, row in came if (found := self._taken(one, row)) is not None]
        if taken:
            await asyncio.to_thread(self.daybook.keep, [line for line, _ in taken])
        for _, row in came:
            row.kept()
        return [frame for _, frame in taken]

    async def _cutting(self) -> None:
        while not self._stop.is_set():
            with suppress(TimeoutError):
                await asyncio.wait_for(self._stop.wait(), self._block)
                return
            await self.cut()

    async def cut(self) -> None:
        """Put all that was kept so far into the journal as blocks; rows go on coming meanwhile."""
        async with self._turn:
            before = await asyncio.to_thread(self.daybook.begin, self._head())
        if before is not None:
            rest = blocks.at_once if self._stop.is_set() else partial(time.sleep, REST)
            self._gone(before, await asyncio.to_thread(blocks.cut, self.journal, before, rest))

    def _taken(self, one: Stream, row: Row) -> tuple[dict[str, Any], Frame] | None:
        """The line of the daybook and the frame of a row; None where it is a copy or used up."""
        mark = mark_of(row.number, row.cells, proven=row.proven)
        found = one.seen.found(key=row.key, again=row.again, mark=mark)
        if found != "new":
            if found == "used up":
                one.said.append(f"number {row.number} had been used up: somebody sends what was recorded")
            return None
        one.seen.keep(key=row.key, mark=mark)
        cells = {
            each.come_from: row.cells[each.come_from] for each in one.mapping.channels if each.come_from in row.cells
        }
        if one.seen.look(cells):
            one.said.append("a stretch repeats an earlier one row by row: from here on it clears nothing")
        at, late = row.at, False
        if row.stamped is not None:
            at, late = one.clock.at(stamped=row.stamped, arrived=row.at)
        one.rows += 1
        self.number += 1
        self.places[row.source] = row.place or self.places[row.source]
        trust, why = one.grade
        samples = one.decoder.samples(row, at=at, seq=one.rows, late=late, trust=trust)
        texts = [None if (text := cells.get(each.come_from)) is None else text[:LONGEST_CELL]
                 for each in one.mapping.channels]  # fmt: skip
        line = {"number": self.number, "source": row.source, "seq": one.rows, "at": round(at, 3), "cells": texts,
                "trust": trust, "why": why, "key": row.key, "mark": mark, "place": row.place}  # fmt: skip
        return {name: value for name, value in line.items() if value not in ("", None)}, Frame(
            self.number, shown(samples)
        )

    # looking on

    def _show(self, frame: Frame) -> None:
        self._back.append(frame)
        for one in self._looking:
            one.show(frame)

    def subscribe(self, *, after: int | None = None, most: int = MOST) -> Subscriber:
        """Look on from now, or from behind a frame that was seen last.

        after  id of that frame, as a page sends it when it comes back; what is no longer there counts as lost
        most   frames that may wait
        """
        one = Subscriber(most)
        if after is not None and after < self.number:
            behind = [frame for frame in self._back if frame.id > after]
            one.lost += (behind[0].id if behind else self.number + 1) - after - 1
            for frame in behind:
                one.show(frame)
        self._looking.add(one)
        return one

    def leave(self, one: Subscriber) -> None:
        """Look on no more."""
        self._looking.discard(one)


async def _whole(work: Coroutine[Any, Any, None]) -> None:
    """Do something to its end, even when whoever waits for it is told to stop meanwhile."""
    task = asyncio.ensure_future(work)
    stopped = False
    while not task.done():
        try:
            await asyncio.shield(task)
        except asyncio.CancelledError:
            stopped = True
    task.result()
    if stopped:
        raise asyncio.CancelledError


def _for_practice(name: str) -> NotAllowed:
    return NotAllowed(
        code="FW-N-113",
        where=name,
        read="a source behind which no instrument stands, for a journal of real visits",
        expected="a journal for practice",
        matters="samples of a virtual appliance or of a replay could be taken for those of a real one",
        do="begin one by `fluewright journal new --practice --journal practice.db` and name it with --journal",
    )


def shown(samples: Sequence[Sample]) -> dict[str, Any]:
    """The samples of a row as plain data for a page."""
    if not samples:
        return {}
    first = samples[0]
    told: dict[str, Any] = {
        "source": first.source,
        "instrument": first.instrument,
        "at": first.at,
        "trust": first.trust,
    }
    told |= {"appliance": first.appliance} if first.appliance else {}
    told |= {"late": True} if first.late else {}
    told |= {"stamped": first.stamped} if first.stamped is not None else {}
    told["samples"] = [
        {key: value for key, value in (("quantity", each.quantity), ("point", each.point), ("value", each.value),
                                       ("bound", each.bound), ("typed", each.typed)) if value != ""}
        for each in samples
    ]  # fmt: skip
    return told
