"""What is kept of a window: the mean of each channel with its doubt, and what its lag may still hide."""

import math
from collections.abc import Sequence
from dataclasses import dataclass

from fluewright.evidence.trace.edges import MOST_GAPS, Side, side_of, values_of
from fluewright.evidence.trace.spool import Sample as Row
from fluewright.evidence.trace.stretch import climb_of, mean_of
from fluewright.live.channel import Channel, amount
from fluewright.live.steady import Standing, lag_left
from fluewright.quantity import show


@dataclass(frozen=True, slots=True)
class Kept:
    """One channel over one window.

    channel   which
    mean      canonical unit, as read: the lag is never taken off it
    doubt     standard uncertainty of the mean from its scatter, neighbours that resemble each other counted as fewer;
              the accuracy of the instrument is not in it and is added where readings are judged
    scatter   standard deviation of the rows
    worth     rows that count as independent
    lag       the most that its lag can still hide, canonical unit, a bound beside the mean
    climb     how much it rose from first row to last beyond what its wavering explains, 0 where it did not
    side      at least or at most where rows were only bounds
    """

    channel: Channel
    mean: float
    doubt: float
    scatter: float
    worth: float
    lag: float
    climb: float
    side: Side

    def words(self, system: show.System = "si") -> str:
        """The mean as a sentence, with twice its doubt and what the lag of its channel can still hide."""
        name = self.channel.quantity
        mean = show.shown(self.mean, 2.0 * self.doubt or None, quantity=name, system=system)
        side = f"{self.side} " if self.side else ""
        hides = amount(name, self.lag, system, signed=False)
        return f"{self.channel.short} {side}{mean}; its lag, T90 {self.channel.t90:g} s, hides at most {hides}"


@dataclass(frozen=True, slots=True)
class Window:
    """What was kept of a window of rows.

    start, end  s, first and last row
    rows        how many
    kept        by channel
    left_out    channels without enough readings, in words
    standings   the three kinds of steady at its end
    """

    start: float
    end: float
    rows: int
    kept: tuple[Kept, ...]
    left_out: tuple[str, ...]
    standings: tuple[Standing, ...]

    @property
    def alarms_only(self) -> bool:
        """Whether anybody could have sent one of its channels: it may alarm then and clears nothing."""
        return any(one.channel.trust != "known" for one in self.kept)

    @property
    def words(self) -> str:
        """Which kinds of steady it had, as a visit says it."""
        had = [one.kind for one in self.standings if one.holds]
        kinds = " and ".join(had) if had else "not steady"
        return f"{kinds}, mean of {self.rows} rows over {self.end - self.start:.0f} s"


def kept(
    rows: Sequence[Row], channels: Sequence[Channel], places: Sequence[int], standings: Sequence[Standing]
) -> Window:
    """The means of a window.

    rows       of the window, at least two
    channels   of the rows
    places     of the channels to keep
    standings  the three kinds at its end; without them nothing is steady
    -> Window; a channel that more than a tenth of the rows lack has no mean, unless it read "more than"
    """
    found, left_out = [], []
    for place in places:
        one, values = channels[place], values_of(rows, place)
        above = sum(row.above >> place & 1 for row in rows)
        below = sum(row.below >> place & 1 for row in rows)
        if len(values) < 2 or (len(rows) - len(values) > MOST_GAPS * len(rows) and not above):
            left_out.append(f"{one.words}: {len(values)} of {len(rows)} rows were read")
            continue
        mean, scatter, doubt = mean_of(values)
        slope, unsure = _slope(rows, place, doubt)
        worth = (scatter / doubt) ** 2 if doubt > 0.0 else float(len(values))
        lag, climb = lag_left(one, slope=slope, doubt=unsure), climb_of(values)
        found.append(Kept(one, mean, doubt, scatter, worth, lag, climb, side_of(above, below)))
    return Window(rows[0].time, rows[-1].time, len(rows), tuple(found), tuple(left_out), tuple(standings))


def _slope(rows: Sequence[Row], place: int, doubt: float) -> tuple[float, float]:
    """Least-squares slope of one channel and its doubt, from the doubt of the mean: sqrt(12) of it over the length."""
    points = [(row.time, row.values[place]) for row in rows if row.values[place] == row.values[place]]
    if len(points) < 2:
        return 0.0, 0.0
    middle = math.fsum(time for time, _ in points) / len(points)
    level = math.fsum(value for _, value in points) / len(points)
    width = math.fsum((time - middle) ** 2 for time, _ in points)
    slope = math.fsum((time - middle) * (value - level) for time, value in points) / width
    return slope, math.sqrt(12.0) * doubt / (points[-1][0] - points[0][0])
