"""Sources behind which no instrument stands: a recorded trace played again, and a virtual appliance; for practice."""

import asyncio
import math
from collections.abc import Iterator, Sequence
from collections.abc import Mapping as Table
from dataclasses import dataclass, replace
from functools import partial

from fluewright import clock
from fluewright.evidence.trace import mapping as mappings
from fluewright.evidence.trace import measure, read
from fluewright.evidence.trace.trace import Trace
from fluewright.live.mapping import Channel, Mapping
from fluewright.live.row import Row
from fluewright.quantity import names, show
from fluewright.simulate import running

PLACES: Table[str, int] = {"%": 1, "ppm": 0, "°C": 1, "°F": 0, "Pa": 1, "inwc": 3}
"""Decimals that a display shows for a unit; three for any other."""


def shown(value: float, quantity: str) -> tuple[str, str]:
    """A figure as a display shows it, and its unit."""
    unit, scale, offset = measure.display(quantity)
    return f"{value * scale + offset:.{PLACES.get(unit, 3)}f}", unit


def channels_of(quantities: Sequence[str], t90: Table[str, float]) -> tuple[Channel, ...]:
    """Channels for quantities in the units they are shown in."""
    return tuple(Channel(name, name, show.unit_of(names.of(name), "si"), t90=t90.get(name, 0.0)) for name in quantities)


Moments = Iterator[tuple[float, dict[str, str]]]
"""s from the first one, and texts by channel."""


@dataclass(slots=True)
class Played:
    """Moments given out at their pace.

    speed  how many times faster than they happened; 0 for as fast as they are taken
    """

    name: str
    moments: Moments
    speed: float
    wire: bool = False
    real: bool = False
    _begun: float = math.nan

    async def next(self) -> Row | None:
        """The next moment when its time has come; None at the end."""
        found = next(self.moments, None)
        if found is None:
            return None
        after, cells = found
        if math.isnan(self._begun):
            self._begun = clock.seconds()
        if self.speed > 0.0:
            await asyncio.sleep(max(0.0, self._begun + after / self.speed - clock.seconds()))
        else:
            await asyncio.sleep(0)
        at = self._begun + after if self.speed == 0.0 else clock.seconds()
        return Row(self.name, at, cells)

    async def close(self) -> None:
        """Stop."""


def rows_of(trace: Trace) -> Moments:
    """The rows of a trace as texts; a gap has none."""
    known = [(index, each.name) for index, each in enumerate(trace.channels) if each.quantity]
    first = math.nan
    for sample in trace:
        first = sample.time if math.isnan(first) else first
        sides = dict(sample.bounds)
        cells = {}
        for index, name in known:
            value = sides.get(index, sample.values[index])
            if math.isfinite(value):
                sign = ">" if sample.above >> index & 1 else "<" if sample.below >> index & 1 else ""
                cells[name] = sign + shown(value, name)[0]
        yield sample.time - first, cells
    trace.close()


def replayed(mapping: Mapping) -> tuple[Mapping, Played]:
    """A recorded trace played again.

    -> the mapping with the channels that the trace has, and the source
    """
    told = mapping.connection
    said = mappings.load(mapping.path("mapping")) if "mapping" in told else None
    trace = read.read(mapping.path("file"), mapping=said)
    channels = channels_of([each.name for each in trace.channels if each.quantity], {})
    speed = float(told.get("speed", 1))
    return replace(mapping, channels=mapping.channels or channels), Played(mapping.name, rows_of(trace), speed)


def texts_of(moments: Iterator[running.Moment]) -> Moments:
    """The moments of a virtual appliance as texts, from its first one."""
    begun = math.nan
    for moment in moments:
        begun = moment.seconds if math.isnan(begun) else begun
        yield moment.seconds - begun, {name: shown(value, name)[0] for name, value in moment.shown.items()}


def appliance(mapping: Mapping) -> tuple[Mapping, Played]:
    """A virtual appliance that is lit after half a minute.

    -> the mapping with the channels that it shows, and the source
    """
    told = mapping.connection
    design = running.design_named(str(told["design"]))
    condition = running.with_faults(design, [str(each) for each in told.get("faults", [])])
    run = partial(running.running, design=design, condition=condition, seed=int(told.get("seed", 1)))
    channels = mapping.channels or channels_of(tuple(running.T90), running.T90)
    moments = texts_of(run(seconds=float(told.get("seconds", 3600))))
    return replace(mapping, channels=channels), Played(mapping.name, moments, float(told.get("speed", 1)))
