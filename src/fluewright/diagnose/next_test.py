"""What to do next: the test whose answer, whatever it is, leaves the least open for each minute it takes."""

import math
from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise

from fluewright.diagnose.clues import KINDS
from fluewright.diagnose.table import HEALTHY, NONE, Look, Page, looks
from fluewright.diagnose.weigh import Causes, Weighed

_KEPT = 16
_LEAST = 0.003
_SET_UP = 6.0
"""Minutes added to every test before gains are divided by minutes: walking and finding tools; judgement."""
_CUTS = (-0.7, 0.0, 0.7)
"""Edges of the bands that a reading may fall into, in spreads of what is expected: about a quarter in each."""
_ROOT = math.sqrt(2.0)
_SMALLEST = 0.02
"""Gain in bits under which a test is not worth naming."""
_ENOUGH = 0.05
"""Share of what is open that may be left, on the average, after a round."""
_MOST, _WAITING = 9, 16
"""Tests in a round at most; looks that are tried for a place in it."""
_RARE = 2e-3
"""Probability of a set of answers under which it is left out."""

Answers = list[list[float]]
"""Each answer that a test may have, with its probability under each hypothesis."""


@dataclass(frozen=True, slots=True)
class Round:
    """What to do on the next walk: the best test first.

    minutes  of all of it
    gain     bits that the answers take off what is open, on the average
    """

    tests: tuple[Look, ...]
    minutes: float
    gain: float


def _entropy(shares: Sequence[float]) -> float:
    total = sum(shares)
    return -sum(share / total * math.log2(share / total) for share in shares if share > 0.0) if total > 0.0 else 0.0


def candidates(weighed: Weighed) -> list[tuple[Causes, float]]:
    """The hypotheses that still count, likeliest first, their shares making one."""
    ranked = sorted(weighed.share.items(), key=lambda item: -item[1])[:_KEPT]
    kept = [(causes, share) for causes, share in ranked if share > _LEAST] or ranked[:1]
    total = sum(share for _, share in kept)
    return [(causes, share / total) for causes, share in kept]


def _asked(states: Sequence[Sequence[float]], answers: Answers) -> list[list[float]]:
    """What is open after one more test: each state split by its answers, what hardly ever comes left out."""
    split = []
    for shares in states:
        for odds in answers:
            each = [share * odd for share, odd in zip(shares, odds, strict=True)]
            if sum(each) > _RARE:
                split.append(each)
    return split


def _open(states: Sequence[Sequence[float]]) -> float:
    """Entropy on the average over all answers."""
    return sum(sum(shares) * _entropy(shares) for shares in states)


def _answers(found: Sequence[tuple[Causes, float]], look: Look) -> Answers:
    """How likely either answer of a look is under each hypothesis."""
    odds = [look.odds(causes) for causes, _ in found]
    return [odds, [1.0 - each for each in odds]]


def _expected(page: Page, weighed: Weighed, causes: Causes, place: int) -> tuple[float, float]:
    """Middle and spread of a clue that has not been read, under one hypothesis."""
    healthy = page.rows[HEALTHY]
    base, wide = healthy.means[0][place], page.widened[place]
    if causes == (NONE,):
        return base, KINDS[page.clues[place]].apart
    middle, square = base, wide * wide
    for cause in causes:
        row, parts = page.rows[cause], weighed.parts[cause]
        mean = sum(share * means[place] for share, means in zip(parts, row.means, strict=True))
        middle += mean - base
        square += sum(
            share * (spreads[place] ** 2 + (means[place] - mean) ** 2)
            for share, means, spreads in zip(parts, row.means, row.spreads, strict=True)
        )
    return middle, math.sqrt(square)


def _bands(page: Page, weighed: Weighed, found: Sequence[tuple[Causes, float]], place: int) -> Answers:
    """How likely a reading falls into each of four bands under each hypothesis: bands about what is expected of all."""
    clouds = [_expected(page, weighed, causes, place) for causes, _ in found]
    middle = sum(share * centre for (_, share), (centre, _) in zip(found, clouds, strict=True))
    square = sum(
        share * (wide * wide + (centre - middle) ** 2) for (_, share), (centre, wide) in zip(found, clouds, strict=True)
    )
    below = [[0.0] * len(found)]
    for cut in _CUTS:
        edge = middle + cut * math.sqrt(square)
        below.append([0.5 * math.erfc((centre - edge) / (wide * _ROOT)) for centre, wide in clouds])
    below.append([1.0] * len(found))
    return [[high - low for low, high in zip(*pair, strict=True)] for pair in pairwise(below)]


def _unread(page: Page, look: Look, read: Collection[str]) -> list[int]:
    """Places of the clues that the readings of a test would give."""
    wanted = [name for name in look.reads if name not in read]
    if "rise" in wanted:
        wanted += [name for name in ("air_rise", "water_rise") if name not in read]
    return [place for place, clue in enumerate(page.clues) if KINDS[clue].reading in wanted]


def of_page(page: Page, look: Look) -> bool:
    """Whether a look can find anything in such an appliance."""
    return any(cause in page.rows for cause in look.shows)


@dataclass(slots=True)
class _Waiting:
    """A test that may join a round: its answers under each hypothesis, and what it was worth when last tried."""

    look: Look
    answers: Answers
    gain: float

    @property
    def rate(self) -> float:
        """Bits for each minute."""
        return self.gain / (self.look.minutes + _SET_UP)


def _waiting(
    page: Page, weighed: Weighed, found: Sequence[tuple[Causes, float]], read: Collection[str], seen: Collection[str]
) -> list[_Waiting]:
    """Every test that is still to be done, with the bits that it takes off what is open, on the average.

    A test that gives several readings counts by the one that tells most.
    """
    alone, made = [[share for _, share in found]], []
    start = _open(alone)
    for look in looks().values():
        ways: list[Answers] = []
        if look.reads:
            ways = [_bands(page, weighed, found, place) for place in _unread(page, look, read)]
        elif look.name not in seen and of_page(page, look):
            ways = [_answers(found, look)]
        if ways:
            gain, way = max(((start - _open(_asked(alone, way)), way) for way in ways), key=lambda pair: pair[0])
            if gain > _SMALLEST:
                made.append(_Waiting(look, way, gain))
    return sorted(made, key=lambda each: -each.rate)


def _best(waiting: list[_Waiting], states: Sequence[Sequence[float]], left: float) -> int:
    """The test that is worth most for its minutes: those that were worth less before are not tried again."""
    waiting.sort(key=lambda each: -each.rate)
    best = -1
    for place, each in enumerate(waiting):
        if best >= 0 and each.rate <= waiting[best].rate:
            break
        each.gain = left - _open(_asked(states, each.answers))
        if best < 0 or each.rate > waiting[best].rate:
            best = place
    return best


def _round(found: Sequence[tuple[Causes, float]], waiting: list[_Waiting]) -> Round:
    """The first test and what is worth doing on the same walk, until on the average little is open."""
    states: list[list[float]] = [[share for _, share in found]]
    start = left = _open(states)
    taken: list[Look] = []
    while left > _ENOUGH * start and waiting and len(taken) < _MOST:
        place = _best(waiting, states, left)
        if waiting[place].gain < _SMALLEST:
            break
        best = waiting.pop(place)
        taken.append(best.look)
        states = _asked(states, best.answers)
        left -= best.gain
    return Round(tuple(taken), sum(look.minutes for look in taken), start - left)


def proposed(*, page: Page, weighed: Weighed, read: Collection[str], seen: Mapping[str, bool]) -> Round | None:
    """The test that is worth most for each minute, and what else belongs on the same walk.

    page     of the design
    weighed  what the readings say so far
    read     registry names of what has been read
    seen     looks that have been answered
    -> the round, its first test first; None where nothing is open or nothing helps
    """
    found = candidates(weighed)
    if len(found) < 2:
        return None
    waiting = _waiting(page, weighed, found, read, seen)[:_WAITING]
    return _round(found, waiting) if waiting else None
