"""Draft that is gone, on every appliance of a flue: said within seconds, without waiting for a change to be sure."""

import math
from collections import deque
from collections.abc import Sequence

from fluewright.evidence.flue_spilling import STOP_NOW
from fluewright.evidence.limits import CAUTION, in_words
from fluewright.evidence.trace.spool import Sample as Row
from fluewright.kernel import odds
from fluewright.live import told
from fluewright.live.about import About
from fluewright.live.channel import Channel, amount
from fluewright.live.event import Event
from fluewright.live.marks import Mark

ZERO_DOUBT = 1.0
"""Pa, standard uncertainty of the zero of a gauge (practice P20: 1 to 2 Pa)."""
AFTER_MARK = 60.0
"""s after a fan, a blower or a door within which two rows are enough (common practice, no source)."""
ROWS, MORE_ROWS = 2, 4
PULLED = -0.5
"""Pa: a draft that was never below this has not been lost now."""
PULLING = ("fan on", "blower on", "door shut", "other lit", "step")


class Draft:
    """Watches the drafts of one appliance.

    about      the appliance
    channels   all channels of the rows
    places     those of this appliance
    """

    def __init__(self, about: About, channels: Sequence[Channel], places: Sequence[int]) -> None:
        self.about = about
        self._read = {
            place: deque[float](maxlen=MORE_ROWS) for place in places if told.group_of(channels[place]) == "draft"
        }
        self._channels = channels
        self._pulled = dict.fromkeys(self._read, 0.0)
        self._gone: dict[int, bool] = dict.fromkeys(self._read, False)

    @property
    def watched(self) -> bool:
        """Whether any draft of it is read."""
        return bool(self._read)

    def step(self, row: Row, *, burning: bool, mark: Mark | None, adjusting: str) -> list[Event]:
        """Take one row.

        burning    whether anything on this flue burns
        mark       the latest thing that was done, None when nothing was
        adjusting  word of the appliance that is being adjusted, empty where nobody said
        -> a stop where a draft is gone, once until it is back
        """
        found = []
        for place, rows in self._read.items():
            value = row.values[place] if place < len(row.values) else math.nan
            if value != value:
                continue
            rows.append(value)
            self._pulled[place] += 0.1 * (value - self._pulled[place]) if value < 0.0 else 0.0
            after = mark is not None and mark.word in PULLING and 0.0 <= row.time - mark.at <= AFTER_MARK
            need = ROWS if after else MORE_ROWS
            latest = list(rows)[-need:]
            mean = math.fsum(latest) / len(latest)
            if self._gone[place]:
                self._gone[place] = mean > 0.25 * self._pulled[place]
                continue
            lost = len(latest) == need and min(latest) >= 0.0 and (not after or mean > 0.0)
            if lost and burning and self._pulled[place] < PULLED:
                self._gone[place] = True
                found.append(self._stop(row.time, self._channels[place], mean, mark if after else None, adjusting))
        return found

    def _stop(self, at: float, channel: Channel, mean: float, mark: Mark | None, adjusting: str) -> Event:
        who = f"{self.about.appliance}: " if self.about.appliance else ""
        after = f" {max(at - mark.at, 0.0):.0f} s after the {mark.word}" if mark else ""
        other = f", while the {adjusting} is adjusted" if adjusting and adjusting != self.about.appliance else ""
        lead = f"{who}the draft is gone{after}{other}: {amount(channel.quantity, mean, self.about.system).rstrip('.')}."
        likely = odds.beyond(value=mean, spread=ZERO_DOUBT, limit=0.0)
        return Event(
            number=self.about.number(),
            key="draft-gone",
            grade="stop",
            start=at - ROWS * self.about.tick,
            told=at,
            until=at,
            open=True,
            appliance=self.about.appliance,
            lead=lead[:1].upper() + lead[1:],
            why=f"A flue at or above the room lets its gas out where it can. At or above it: {in_words(likely)}, with "
            f"{ZERO_DOUBT:g} Pa for the zero of the gauge.",
            mark=mark.word if mark else "",
            do_now=STOP_NOW,
            do_next=("find what holds it: fan, door, cold flue, blockage", "try again with every fan on"),
            cautions=CAUTION,
            evidence=(channel.quantity,),
        )
