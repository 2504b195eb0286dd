"""Events and times of standing still of a recorded trace: what was marked, what moved, what it means."""

import textwrap
from collections import Counter
from collections.abc import Sequence
from typing import Any

from fluewright.errors import UseError
from fluewright.evidence.finding import ORDER
from fluewright.evidence.trace.read import span
from fluewright.evidence.trace.times import Form
from fluewright.evidence.trace.trace import Trace
from fluewright.live import marks
from fluewright.live.event import Event
from fluewright.live.marks import Mark
from fluewright.live.on_trace import on_trace
from fluewright.live.recorded import Seen

WIDTH = 96
MOST = 10
"""Events of a kind that are printed; --json has all of them."""
FEW = 12
"""Times of standing still up to which each is printed."""
QUIET = {
    "moved": "moved, and nothing was marked", "load-changed": "the firing rate changed",
    "flue-hotter": "flue temperature rose", "lit": "lit", "flame-out": "went off",
    "ignition-rise": "carbon monoxide rose at lighting", "ignition-peak": "carbon monoxide peaked at lighting",
    "saturated": "at the end of the range",
}  # fmt: skip
"""Events of which many are usual, in words."""
KINDS = ("instrument settled", "appliance steady")


def marked(texts: Sequence[str], trace: Trace, start: float) -> list[Mark]:
    """Marks from the command line, on the clock of the trace.

    texts  such as "14:03:20 blower on", "2026-11-25 14:03 step" or "125 s lit"
    start  s, first row: a time of day without a day is the first one from there on
    -> marks; FW-U-216 where a text is none
    """
    return [_one(text, trace.form, start) for text in texts]


def _one(text: str, form: Form, start: float) -> Mark:
    words = text.split()
    for parts in (2, 1):
        at = on_trace(" ".join(words[:parts]), form, start) if len(words) > parts else None
        if at is not None:
            return Mark(at, " ".join(words[parts:]).lower())
    raise UseError(
        code="FW-U-216",
        read=f"--mark {text}",
        expected=f'a time and what was done, such as "14:03:20 blower on"; known: {", ".join(marks.WORDS)}',
        matters="what moved is held against what was done shortly before",
        do="write the time as the trace shows it, then the words",
    )


def stop_lines(seen: Seen | None) -> list[str]:
    """The sentences of what has to stop, for before everything else."""
    stops = [event for event in seen.events if event.grade == "stop"] if seen else []
    lines = [*dict.fromkeys(caution for event in stops for caution in event.cautions)]
    lines += [f"STOP: {event.lead}" for event in stops]
    return [row for line in lines for row in textwrap.wrap(line, WIDTH)] + ([""] if lines else [])


def lines(seen: Seen, trace: Trace) -> list[str]:
    """What was told, gravest kinds each by itself and the rest counted; then how long each kind of steady held."""
    found = [f"{len(seen.events)} events; that nothing moved clears nothing"]
    if seen.rare:
        found += _wrapped(
            f"one row every {span(seen.tick)} is rarer than the instrument answers: a puff, a lost draft or a start "
            "within a row is not seen here, and what is told is how the means moved", "  ", "  ",
        )  # fmt: skip
    told = [event for event in seen.events if event.grade != "open" or event.mark]
    for grade, key in sorted({(ORDER.index(event.grade), event.key) for event in told}):
        alike = [event for event in told if (ORDER.index(event.grade), event.key) == (grade, key)]
        found += _of_a_kind(alike, trace)
    found.append("")
    others = Counter(event.key for event in seen.events if event not in told)
    found += [f"  {QUIET.get(key, key)}: {times} times" for key, times in others.most_common()]
    for kind in KINDS:
        times_of = [one for one in seen.stood if one.kind == kind]
        total = sum(one.end - one.start for one in times_of)
        found.append(f"{kind}: {len(times_of)} times, {span(total)} in all, as it would have been shown live")
        if 0 < len(times_of) <= FEW:
            found += [f"  {trace.shown(one.start)} to {trace.shown(one.end)}" for one in times_of]
    return found


def _of_a_kind(events: Sequence[Event], trace: Trace) -> list[str]:
    """Events that say the same: when and how much of each, and once why and what to do."""
    found = [""]
    for event in events[:MOST]:
        after = f" (after: {event.mark})" if event.mark else ""
        found += _wrapped(f"{trace.shown(event.start)}  {event.grade}  {event.lead}{after}", "  ", "      ")
    found += [f"  {len(events) - MOST} more like these: --json has all of them"] if len(events) > MOST else []
    found += _wrapped(events[0].why, "      ", "      ")
    for step in (*events[0].do_now, *events[0].do_next):
        found += _wrapped(step, "      - ", "        ")
    return found


def _wrapped(text: str, first: str, rest: str) -> list[str]:
    return textwrap.wrap(text, WIDTH, initial_indent=first, subsequent_indent=rest)


def data(seen: Seen, trace: Trace) -> dict[str, Any]:
    """The same for a program."""
    return {
        "events": [{**event.as_data(), "at": trace.shown(event.start)} for event in seen.events],
        "stood": [
            {"kind": one.kind, "start": trace.shown(one.start), "end": trace.shown(one.end)} for one in seen.stood
        ],
    }
