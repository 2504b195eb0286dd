"""Response time from a recorded step: gas put to the probe, and how long until nine tenths of it are shown."""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from statistics import fmean, pstdev

from fluewright.errors import TraceError

PART = 0.9
ENDS = 0.2
"""Share of the record at each end that counts as standing still before and after the step."""
CLEAR = 10.0
"""Times the scatter by which a step has to stand out."""
LEFT = 0.05
"""Share of the step by which the end may still move and count as arrived."""


@dataclass(frozen=True, slots=True)
class Response:
    """What a step showed.

    seconds  from the step to nine tenths of it
    spread   standard uncertainty, s: rows a while apart at both ends, and scatter over the slope where it crosses
    height   of the step, canonical unit
    began    when, s in the time of the record
    said     whether the moment of the step was said, else it is that of the first movement, without dead time
    """

    seconds: float
    spread: float
    height: float
    began: float
    said: bool


def _refused(read: str, expected: str, do: str) -> TraceError:
    return TraceError(
        code="FW-T-095",
        read=read,
        expected=expected,
        matters="a response time read off anything else would call a slow cell quick",
        do=do,
    )


def response_of(samples: Sequence[tuple[float, float]], *, began: float | None = None) -> Response:
    """Time to nine tenths of a step.

    samples  time in s and reading, canonical unit, in order of time
    began    when the gas was put on, s; the last row before the first movement when not said
    -> response; TraceError where there is no clear step, or its end was not waited for
    """
    if len(samples) < 10:
        raise _refused(
            f"{len(samples)} rows", "ten rows or more, the first and last of them standing still", "record on"
        )
    tail = samples[-max(3, int(len(samples) * ENDS)) :]
    last = fmean(value for _, value in tail)
    half = len(tail) // 2
    moving = abs(fmean(v for _, v in tail[half:]) - fmean(v for _, v in tail[:half]))
    scatter = pstdev([value for _, value in tail])
    first = _before(samples, last, scatter, began)
    height = last - first
    if abs(height) <= CLEAR * scatter or not height:
        raise _refused("no step that stands out of the scatter", "gas put on after a while in clean air", "try again")
    if moving > LEFT * abs(height):
        raise _refused("a reading that was still moving at the end", "a step waited for to its end", "wait longer")
    start, start_gap = _start(samples, first, height, scatter, began)
    crossing, gap, slope = _crossing(samples, first + PART * height, height, start)
    if began is not None and not samples[0][0] <= began < crossing:
        raise _refused(
            "a step said to begin outside the record", "a moment before the reading moved", "look at it again"
        )
    doubt = math.sqrt(gap**2 / 12.0 + start_gap**2 / 12.0 + (scatter / slope) ** 2)
    return Response(crossing - start, doubt, height, start, began is not None)


def _before(samples: Sequence[tuple[float, float]], last: float, scatter: float, began: float | None) -> float:
    """The reading before the step: of all rows up to it, or up to the first that moved."""
    early = fmean(value for _, value in samples[:3])
    edge = max(3.0 * scatter, 0.02 * abs(last - early))
    moved = next((i for i, (_, value) in enumerate(samples) if abs(value - early) > edge), len(samples))
    still = [value for i, (time, value) in enumerate(samples) if i < moved and (began is None or time <= began)]
    if len(still) < 3:
        raise _refused("no rows before the step", "three rows or more in clean air first", "record from before it")
    return fmean(still)


def _start(
    samples: Sequence[tuple[float, float]], first: float, height: float, scatter: float, began: float | None
) -> tuple[float, float]:
    """When the step began, and how far apart the rows lie there."""
    if began is not None:
        return began, 0.0
    edge = max(3.0 * scatter, 0.02 * abs(height))
    index = next(i for i, (_, value) in enumerate(samples) if abs(value - first) > edge)
    before = max(0, index - 1)
    return samples[before][0], samples[index][0] - samples[before][0]


def _crossing(
    samples: Sequence[tuple[float, float]], level: float, height: float, start: float
) -> tuple[float, float, float]:
    """When a level is first reached, how far apart the rows lie there, and how steeply it is crossed."""
    side = 1.0 if height > 0.0 else -1.0
    for (t0, v0), (t1, v1) in pairwise(samples):
        if t1 > start and (v1 - level) * side >= 0.0:
            part = 0.0 if v1 == v0 else min(1.0, max(0.0, (level - v0) / (v1 - v0)))
            slope = abs(v1 - v0) / (t1 - t0)
            return t0 + part * (t1 - t0), t1 - t0, max(slope, abs(height) / (samples[-1][0] - samples[0][0]))
    raise _refused("a step that never came to nine tenths", "a step waited for to its end", "wait longer")
