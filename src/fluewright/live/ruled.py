"""The steady that one row of a rule book asks for, held against what is known at this moment."""

import re
from collections.abc import Collection
from dataclasses import dataclass

from fluewright.live.steady import Standing, seconds_more
from fluewright.rules.schema import NOT_SAID, Limit

_AVERAGE = re.compile(r"(\d+(?:\.\d+)?|half)[ -](s|second|min|minute|hour)s?\b")
_SECONDS = {"s": 1.0, "second": 1.0, "min": 60.0, "minute": 60.0, "hour": 3600.0}
_SILENT = (NOT_SAID, "none", "any", "any time", "steady", "settled reading", "one reading", "once", "readings settled",
           "worked out", "burner on, steady")  # fmt: skip


@dataclass(frozen=True, slots=True)
class Moment:
    """What a rule's steady hangs on.

    lit_for    s since the burner lit, None where nobody knows
    burning    whether it burns
    read_for   s for which the channels of the rule have been read without a gap
    points     sampling points of the channels that the rule needs
    apart      s, most by which their rows differ
    confirmed  ids of rows whose unseen part a person has seen to
    """

    lit_for: float | None
    burning: bool
    read_for: float
    points: Collection[str]
    apart: float
    confirmed: Collection[str] = ()


def averaging_seconds(limit: Limit) -> float | None:
    """How long a mean the row asks for, in seconds; None where its words name no time."""
    found = _AVERAGE.search(limit.averaging)
    if found is None:
        return None
    return (0.5 if found[1] == "half" else float(found[1])) * _SECONDS[found[2]]


def _since_lit(limit: Limit, moment: Moment) -> tuple[str, float | None]:
    """What is missing by the minutes since lighting; empty when nothing is."""
    words = limit.since_lit
    if words in ("any", NOT_SAID):
        return "", 0.0
    if words == "no flame":
        return ("burner off first", None) if moment.burning else ("", 0.0)
    numbers = [60.0 * int(text) for text in re.findall(r"\d+", words)]
    if not numbers:
        return "the time since lighting, as the test has it", None
    if moment.lit_for is None:
        return "mark when it was lit", None
    least = 0.0 if words.startswith("at most") else numbers[0]
    most = numbers[-1] if words.startswith("at most") or " to " in words else float("inf")
    if moment.lit_for > most:
        return f"light it again: {moment.lit_for / 60.0:.0f} min after lighting, {words} asked for", None
    wait = max(least - moment.lit_for, 0.0)
    return (f"{seconds_more(wait)} since lighting", wait) if wait > 0.0 else ("", 0.0)


def _together(limit: Limit, moment: Moment, tick: float) -> list[str]:
    missing = []
    if "at once" in limit.averaging and moment.apart > 1.5 * tick:
        missing.append(f"readings at the same moment, they lie {moment.apart:.0f} s apart")
    if "one point" in limit.averaging and len(set(moment.points)) > 1:
        missing.append(f"readings at one point, not at {' and '.join(sorted(set(moment.points)))}")
    return missing


def asks_of(limit: Limit) -> tuple[str, ...]:
    """What the row says of state, averaging and rate that no channel shows."""
    asks = []
    if limit.state not in _SILENT:
        asks.append(limit.state)
    if limit.averaging not in _SILENT and averaging_seconds(limit) is None:
        asks.append(limit.averaging)
    if limit.rate not in ("any", NOT_SAID):
        asks.append(f"burning at {limit.rate} rate")
    return tuple(asks)


def as_the_rule_says(limit: Limit, moment: Moment, *, settled: Standing, steady: Standing, tick: float) -> Standing:
    """Whether the state that a row of the rules asks for is there.

    limit    the row
    moment   what it hangs on
    settled  how the instrument stands
    steady   how the appliance stands
    tick     s from row to row
    -> Standing; what only a person can see is asked, and until that is confirmed it does not hold
    """
    missing, waits = [], [0.0]
    for words, wait in (_since_lit(limit, moment), _mean(limit, moment)):
        missing += [words] if words else []
        waits.append(float("inf") if wait is None else wait)
    if limit.steady in ("readings settled", "as the rule says", "not said") and not settled.holds:
        missing.append(f"settled readings, {settled.missing or settled.why}")
        waits.append(settled.seconds if settled.seconds is not None else float("inf"))
    if limit.steady == "appliance steady" and not steady.holds:
        missing.append(f"a steady appliance, {steady.missing or steady.why}")
        waits.append(steady.seconds if steady.seconds is not None else float("inf"))
    missing += _together(limit, moment, tick)
    asks = () if limit.id in moment.confirmed else asks_of(limit)
    holds = not missing and not asks
    seconds = max(waits)
    said = "; ".join(part for part in (f"since lighting: {limit.since_lit}", f"state: {limit.state}",
                                       f"averaging: {limit.averaging}") if NOT_SAID not in part)  # fmt: skip
    why = f"{limit.citation.document} {limit.citation.clause}: {said or 'the text read says nothing of it'}"
    if asks and not missing:
        missing.append(f"look yourself: {'; '.join(asks)}")
        seconds = float("inf")
    return Standing(
        "as the rule says", holds, why, "; ".join(missing), None if seconds == float("inf") else seconds, asks
    )


def _mean(limit: Limit, moment: Moment) -> tuple[str, float | None]:
    wanted = averaging_seconds(limit)
    if wanted is None or moment.read_for >= wanted:
        return "", 0.0
    wait = wanted - moment.read_for
    return f"{seconds_more(wait)} of readings for a mean over {wanted:g} s", wait
