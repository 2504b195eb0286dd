"""What to do next: the test whose answer, whatever it is, leaves the least open for each minute it takes."""

import math
from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass

from fluewright.diagnose.clues import KINDS
from fluewright.diagnose.table import HEALTHY, NONE, Look, Page, looks
from fluewright.diagnose.weigh import FREEDOM, Causes, Weighed

_KEPT = 16
_LEAST = 0.003
_SET_UP = 6.0
"""Minutes added to every test before gains are divided by minutes: walking and finding tools; judgement."""
_POINTS = ((-1.3, 0.3), (0.0, 0.4), (1.3, 0.3))
_SMALLEST = 0.02
"""Gain in bits under which a test is not worth naming."""
_ENOUGH = 0.07
"""Share of what is open that may be left, on the average, after a round."""
_MOST, _WAITING = 8, 16
"""Tests in a round at most; looks that are tried for a place in it."""
_RARE = 2e-3
"""Probability of a set of answers under which it is left out."""


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


def _asked(states: Sequence[Sequence[float]], odds: Sequence[float]) -> list[list[float]]:
    """What is open after one more look: each state split by its two answers, what hardly ever comes left out."""
    split = []
    for shares in states:
        found = [share * odd for share, odd in zip(shares, odds, strict=True)]
        missed = [share - each for share, each in zip(shares, found, strict=True)]
        split += [each for each in (found, missed) if sum(each) > _RARE]
    return split


def _open(states: Sequence[Sequence[float]]) -> float:
    """Entropy on the average over all answers."""
    return sum(sum(shares) * _entropy(shares) for shares in states)


def _odds(found: Sequence[tuple[Causes, float]], look: Look) -> list[float]:
    return [look.odds(causes) for causes, _ in found]


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


def _after_reading(page: Page, weighed: Weighed, found: Sequence[tuple[Causes, float]], place: int) -> float:
    """Entropy left on the average after one reading."""
    clouds = [_expected(page, weighed, causes, place) for causes, _ in found]
    power, left = -0.5 * (FREEDOM + 1.0), 0.0
    for (_, share), (middle, spread) in zip(found, clouds, strict=True):
        for step, weight in _POINTS:
            value = middle + step * spread
            shares = [
                chance / width * (1.0 + ((value - centre) / width) ** 2 / FREEDOM) ** power
                for (_, chance), (centre, width) in zip(found, clouds, strict=True)
            ]
            left += share * weight * _entropy(shares)
    return left


def _unread(page: Page, look: Look, read: Collection[str]) -> list[int]:
    """Places of the clues that the readings of a test would give."""
    wanted = [name for name in look.reads if name not in read]
    if "rise" in wanted:
        wanted += [name for name in ("air_rise", "water_rise") if name not in read]
    return [place for place, clue in enumerate(page.clues) if KINDS[clue].reading in wanted]


def of_page(page: Page, look: Look) -> bool:
    """Whether a look can find anything in such an appliance."""
    return any(cause in page.rows for cause in look.shows)


def _singly(
    page: Page, weighed: Weighed, found: Sequence[tuple[Causes, float]], read: Collection[str], seen: Collection[str]
) -> list[tuple[Look, float]]:
    """Every test that is still to be done, with the entropy that it leaves on the average."""
    alone, made = [[share for _, share in found]], []
    for look in looks().values():
        if look.reads:
            places = _unread(page, look, read)
            if places:
                made.append((look, min(_after_reading(page, weighed, found, place) for place in places)))
        elif look.name not in seen and of_page(page, look):
            made.append((look, _open(_asked(alone, _odds(found, look)))))
    return made


@dataclass(slots=True)
class _Waiting:
    """A look that may join a round: odds by hypothesis, and what it was worth when last tried."""

    look: Look
    odds: list[float]
    gain: float

    @property
    def rate(self) -> float:
        """Bits for each minute."""
        return self.gain / (self.look.minutes + _SET_UP)


def _best(
    waiting: list[_Waiting], states: Sequence[Sequence[float]], *, share: float, left: float
) -> tuple[float, int]:
    """The look that is worth most for its minutes: those that were worth less before are not tried again."""
    waiting.sort(key=lambda each: -each.rate)
    best = -1
    for place, each in enumerate(waiting):
        if best >= 0 and each.rate <= waiting[best].rate:
            break
        each.gain = left - share * _open(_asked(states, each.odds))
        if best < 0 or each.rate > waiting[best].rate:
            best = place
    return waiting[best].gain, best


def _round(
    found: Sequence[tuple[Causes, float]], made: Sequence[tuple[Look, float]], first: Look, start: float
) -> Round:
    """The first test and what is worth doing on the same walk, until on the average little is open."""
    taken, states = [first], [[share for _, share in found]]
    share = next(left for look, left in made if look is first) / start if first.reads else 1.0
    if not first.reads:
        states = _asked(states, _odds(found, first))
    left = share * _open(states)
    others = sorted((pair for pair in made if not pair[0].reads and pair[0] is not first), key=lambda pair: pair[1])
    waiting = [_Waiting(look, _odds(found, look), start) for look, _ in others[:_WAITING]]
    while left > _ENOUGH * start and waiting and len(taken) < _MOST:
        gain, place = _best(waiting, states, share=share, left=left)
        if gain < _SMALLEST:
            break
        taken.append(waiting[place].look)
        states = _asked(states, waiting.pop(place).odds)
        left -= gain
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
    start = _entropy([share for _, share in found])
    if len(found) < 2:
        return None
    made = _singly(page, weighed, found, read, seen)
    worth = [((start - left) / (look.minutes + _SET_UP), look) for look, left in made if start - left > _SMALLEST]
    if not worth:
        return None
    return _round(found, made, max(worth, key=lambda pair: pair[0])[1], start)
