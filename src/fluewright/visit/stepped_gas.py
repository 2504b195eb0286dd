"""The response time of a channel from a recorded step of gas."""

import math
from pathlib import Path

from fluewright.errors import TraceError
from fluewright.evidence.step_response import Response, response_of
from fluewright.evidence.trace import read


def response_in(path: Path, *, channel: str, began: float | None = None) -> Response:
    """The time to nine tenths of the step that a trace holds.

    path     CSV or Parquet
    channel  registry name of its column
    began    s from its first row until the gas was put on; None for the first movement
    -> response with its doubt; TraceError where the channel is not there or holds no clear step
    """
    with read.read(path) as trace:
        index = trace.index(channel)
        if index < 0:
            raise TraceError(
                code="FW-T-096",
                where=path.name,
                read=f"no channel {channel}",
                expected=f"one of {', '.join(trace.names)}",
                matters="the step of another channel says nothing of this cell",
                do="name the channel, or map its column",
            )
        samples = [(each.time, each.values[index]) for each in trace if not math.isnan(each.values[index])]
    start = samples[0][0] if samples else 0.0
    return response_of([(time - start, value) for time, value in samples], began=began)


def words_of(found: Response) -> str:
    """How a response was read, in words for its entry."""
    since = "from the moment said" if found.said else "from the first movement, without dead time"
    return f"recorded step, {found.seconds:.1f} s ± {2.0 * found.spread:.1f} s, {since}"
