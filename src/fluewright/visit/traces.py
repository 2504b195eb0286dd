"""The last steady stretch of a recorded trace as readings of a visit, and its strip."""

import hashlib
import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import datetime
from functools import lru_cache
from pathlib import Path

from fluewright.errors import TraceError
from fluewright.evidence import origins
from fluewright.evidence.happened import Happened
from fluewright.evidence.reading import Basis, Burst, Instrument, Reading, TraceFile
from fluewright.evidence.trace import mapping as mappings
from fluewright.evidence.trace import peaks, read, readings, stretch
from fluewright.evidence.trace.spool import Sample
from fluewright.evidence.trace.stretch import Stretch
from fluewright.evidence.trace.survey import survey
from fluewright.evidence.trace.trace import Trace
from fluewright.live.on_trace import on_trace
from fluewright.quantity import names, show, units
from fluewright.report.drawing import Channel, Strip, twin
from fluewright.report.tree import Figure
from fluewright.visit import live_trace

RESPONSE = 40.0
"""s, T90 of the slowest cell where nobody has said (common practice, no source)."""

REMEMBERED = 64
"""Traces of which the outcome is kept, since a sheet is looked at many times and its traces stay."""

DRAWN = (("oxygen_dry", "oxygen"), ("carbon_monoxide_dry", "CO"), ("flue_temperature", "stack"))


@dataclass(frozen=True, slots=True)
class Steady:
    """What a trace gives to a visit: readings by registry name, how it was known to be steady, and what else it held.

    basis   wet where only undried oxygen was recorded
    bursts  carbon monoxide beyond all limits anywhere in the trace
    until   s, its last row, as the trace counts
    """

    readings: dict[str, Reading]
    steady: str
    basis: Basis
    bursts: tuple[Burst, ...]
    until: float


def _last(trace: Trace, path: Path) -> Stretch:
    found = stretch.stretches(trace, response_seconds=RESPONSE)
    if found:
        return found[-1]
    raise TraceError(
        code="FW-T-090",
        where=path.name,
        read="no steady stretch in which the burner was lit",
        expected=f"at least {3 * RESPONSE:.0f} s without drift",
        matters="a mean over a changing flame stands for no condition",
        do="record longer, or see fluewright trace for what moved",
    )


def opened(file: TraceFile) -> Trace:
    """The trace in a file or block, to be closed again."""
    if live_trace.is_block(Path(file.path)):
        return live_trace.opened(Path(file.path))
    kept = mappings.load(Path(file.mapping)) if file.mapping else None
    return read.read(Path(file.path), mapping=kept)


def contents_of(file: TraceFile) -> str:
    """A digest of what lies in the file and its mapping: what was worked out for it holds until either changes."""
    digest = hashlib.sha256()
    for path in filter(None, (file.path, file.mapping)):
        try:
            digest.update(Path(path).read_bytes())
        except OSError:  # reading it says so in four parts
            return ""
        digest.update(b"\0")
    return digest.hexdigest()


def last_steady(file: TraceFile, instrument: Instrument, *, system: show.System) -> Steady:
    """Readings of the last steady stretch of a trace.

    file        trace, CSV or Parquet, with the file that maps its columns, or none to guess them
    instrument  that recorded it
    system      us or si, for the words of the readings
    -> readings and how steady; TraceError or Problems when there is none
    """
    return _last_steady(file, instrument, system, contents_of(file))


@lru_cache(maxsize=REMEMBERED)
def _last_steady(file: TraceFile, instrument: Instrument, system: show.System, contents: str) -> Steady:
    def accuracy(name: str, value: float) -> float:
        return max(origins.spread_of(readings.reading(name, value), instrument))

    with opened(file) as trace:
        last = _last(trace, Path(file.path))
        read_ = readings.readings(last, trace, system=system)
        found = peaks.peaks(trace, survey(trace), response_seconds=RESPONSE)
        bursts = readings.bursts(found, trace, accuracy)
        return Steady(read_, readings.steady_words(last, trace), readings.basis_of(read_), bursts, last.end)


def _scale(values: list[float]) -> tuple[float, float]:
    """A scale that shows the steady part without filling the strip with its noise."""
    low, high = min(values), max(values)
    room = max(0.5 * (high - low), 0.05 * abs(high), 1.0)
    return max(0.0, low - room) if low >= 0.0 else low - room, high + room


def _zero(trace: Trace, start: float) -> datetime | None:
    """The moment a trace began; None where it knows no date."""
    try:
        return datetime.fromisoformat(trace.shown(start)[:19])
    except ValueError:
        return None


def _channels(trace: Trace, samples: list[Sample], start: float, begun: float, system: show.System) -> list[Channel]:
    """The drawn channels in the units of the sheet; one without a reading is left out."""
    found = []
    for name, words in DRAWN:
        index = trace.index(name)
        if index < 0:
            continue
        quantity = names.of(name)
        symbol = show.unit_of(quantity, system)
        unit = units.unit_named(symbol, quantity=quantity)
        values = [
            units.in_unit(s.values[index], unit=unit, quantity=quantity) if math.isfinite(s.values[index]) else None
            for s in samples
        ]
        shown = [v for v, s in zip(values, samples, strict=True) if v is not None and s.time >= begun]
        if shown:
            low, high = _scale(shown)
            found.append(Channel(words, symbol, [s.time - start for s in samples], values, low, high))
    return found


def strip(
    file: TraceFile, word: str, *, system: show.System, steps: Sequence[tuple[str, str]] = (),
    happened: Sequence[Happened] = (),
) -> Figure:  # fmt: skip
    """The strip of one trace: oxygen, carbon monoxide and stack temperature with steady stretches, steps and changes.

    file      trace and mapping
    word      of the stretch, for the caption
    system    us or si, for the units of the scales
    steps     what was done that day: time as typed, words
    happened  what changed while it was recorded
    -> figure
    """
    shown = tuple((one.seconds, one.word) for one in happened)
    return _strip(file, word, system, tuple(steps), shown, contents_of(file))


@lru_cache(maxsize=REMEMBERED)
def _strip(
    file: TraceFile, word: str, system: show.System, steps: tuple[tuple[str, str], ...],
    happened: tuple[tuple[float, str], ...], contents: str,
) -> Figure:  # fmt: skip
    with opened(file) as trace:
        samples = list(trace)
        found = stretch.stretches(trace, response_seconds=RESPONSE)
        start = samples[0].time
        begun = min((f.start for f in found), default=start)
        spans = tuple((f.start - start, f.end - start, f.kind) for f in found)
        marks = (*_on_strip(steps, trace, start=start, end=samples[-1].time), *happened)
        channels = tuple(_channels(trace, samples, start, begun, system))
        drawn = Strip(channels, spans, marks, zero=_zero(trace, start))
        about = " Upright: what was done, and what changed." if marks else ""
        return Figure("strip", drawn, f"The trace {word}. Hatched: steady.{about}", twin(drawn))


def _on_strip(
    steps: Sequence[tuple[str, str]], trace: Trace, *, start: float, end: float
) -> Iterator[tuple[float, str]]:
    """What was done while it was recorded, in seconds from its first row; nothing where the trace has no clock."""
    if trace.form.order == "elapsed seconds":
        return
    for time, word in steps:
        at = on_trace(time, trace.form, start)
        if at is not None and start <= at <= end:
            yield at - start, word
