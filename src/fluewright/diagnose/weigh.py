"""How well each hypothesis foretells the clues at hand, whichever they are.

A hypothesis is a few clouds of clues, one for each third of severity, taken as Student clouds: their tails are heavy,
so that one odd reading does not decide. Two faults at once move the middle by the sum of what each moves.
"""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from operator import mul
from typing import TypeVar

from fluewright.diagnose.clues import KINDS, Clue
from fluewright.diagnose.table import HEALTHY, NONE, Page, Row, looks, weights

FREEDOM = 12.0
"""Degrees of freedom of the clouds: judgement; 12 puts a reading five spreads off at three in ten thousand."""
_PARENTS = 4
_PAIRS = 36
Causes = tuple[str, ...]
_Key = TypeVar("_Key")


@dataclass(frozen=True, slots=True)
class Chosen:
    """The clues at hand in the order of the page: their places, values, doubts squared."""

    places: tuple[int, ...]
    values: tuple[float, ...]
    squares: tuple[float, ...]


@dataclass(frozen=True, slots=True)
class Weighed:
    """What came out.

    share   probability of every hypothesis that was looked at, by its causes
    parts   probability of each part of severity within a single cause
    wary    probability of single causes where only half as much is believed: for what must not be lost sight of
    chosen  the clues that were weighed
    """

    share: Mapping[Causes, float]
    parts: Mapping[str, tuple[float, ...]]
    wary: Mapping[str, float]
    chosen: Chosen

    def of(self, cause: str) -> float:
        """Probability that this is among the causes."""
        return sum(share for causes, share in self.share.items() if cause in causes)

    def each(self) -> dict[str, float]:
        """Probability of every cause, alone or with another, likeliest first."""
        found: dict[str, float] = {}
        for causes, share in self.share.items():
            for cause in causes:
                found[cause] = found.get(cause, 0.0) + share
        return dict(sorted(found.items(), key=lambda item: -item[1]))


def chosen(page: Page, clues: Mapping[str, Clue]) -> Chosen:
    """The clues that the page knows, in its order."""
    places = tuple(place for place, name in enumerate(page.clues) if name in clues)
    found = [clues[page.clues[place]] for place in places]
    squares = tuple(page.widened[place] ** 2 + clue.doubt**2 for place, clue in zip(places, found, strict=True))
    return Chosen(places, tuple(clue.value for clue in found), squares)


def _constant(count: int) -> float:
    half = 0.5 * (FREEDOM + count)
    return math.lgamma(half) - math.lgamma(0.5 * FREEDOM) - 0.5 * count * math.log(math.pi * FREEDOM)


def cloud(*, off: Sequence[float], spreads: Sequence[float], squares: Sequence[float], row: Row, at: Chosen) -> float:
    """Logarithm of the density of a Student cloud, without its constant.

    off      clue less middle
    spreads  of the hypothesis
    squares  variances to be added
    row      whose correlations count
    at       which clues
    """
    below: list[list[float]] = []
    turned: list[float] = []
    volume, places = 1.0, at.places
    for i, place in enumerate(places):
        together, spread = row.together[place], spreads[i]
        line: list[float] = []
        for j in range(i):
            other = below[j]
            line.append((together[places[j]] * spread * spreads[j] - sum(map(mul, line, other))) / other[j])
        left = max(spread * spread + squares[i] - sum(map(mul, line, line)), 1e-3 * squares[i])
        root = left**0.5
        turned.append((off[i] - sum(map(mul, line, turned))) / root)
        line.append(root)
        below.append(line)
        volume *= left
    distance = sum(map(mul, turned, turned))
    return -0.5 * math.log(max(volume, 1e-300)) - 0.5 * (FREEDOM + len(places)) * math.log1p(distance / FREEDOM)


def _part(row: Row, part: int, at: Chosen) -> tuple[list[float], list[float]]:
    means, spreads = row.means[part], row.spreads[part]
    return (
        [value - means[place] for value, place in zip(at.values, at.places, strict=True)],
        [spreads[place] for place in at.places],
    )


def _singles(page: Page, at: Chosen) -> dict[str, list[float]]:
    """Logarithm of the density of each part of every single hypothesis."""
    found = {}
    for name, row in page.rows.items():
        each = []
        for part in range(len(row.means)):
            off, spreads = _part(row, part, at)
            each.append(cloud(off=off, spreads=spreads, squares=at.squares, row=row, at=at))
        found[name] = each
    return found


def _summed(logs: Sequence[float]) -> float:
    top = max(logs)
    return top + math.log(sum(math.exp(each - top) for each in logs))


def _near(off: Sequence[float], spreads: Sequence[float], squares: Sequence[float]) -> float:
    return sum(o * o / (s * s + q) for o, s, q in zip(off, spreads, squares, strict=True))


def _pairs(
    page: Page, at: Chosen, singles: Mapping[str, Sequence[float]], before: Mapping[str, float]
) -> dict[Causes, float]:
    """Logarithm of the density of the likeliest pairs of faults."""
    healthy = page.rows[HEALTHY]
    base = [healthy.means[0][place] for place in at.places]
    still = [healthy.spreads[0][place] for place in at.places]
    ranked = sorted((name for name in page.rows if name != HEALTHY), key=lambda n: -(before[n] + _summed(singles[n])))
    waiting = []
    for parent in ranked[:_PARENTS]:
        part = max(range(len(singles[parent])), key=lambda each: singles[parent][each])
        means, spreads = page.rows[parent].means[part], page.rows[parent].spreads[part]
        rest = [value - means[place] for value, place in zip(at.values, at.places, strict=True)]
        own = [spreads[place] for place in at.places]
        for name in page.rows:
            if name in (HEALTHY, parent):
                continue
            row = page.rows[name]
            for step in (0, len(row.means) - 1):
                moved = [row.means[step][place] - b for place, b in zip(at.places, base, strict=True)]
                off = [r - m for r, m in zip(rest, moved, strict=True)]
                added = [
                    q + max(0.0, row.spreads[step][place] ** 2 - s * s)
                    for q, place, s in zip(at.squares, at.places, still, strict=True)
                ]
                waiting.append((_near(off, own, added), parent, name, off, own, added))
    waiting.sort(key=lambda item: item[0])
    found: dict[Causes, float] = {}
    for _, parent, name, off, own, added in waiting[:_PAIRS]:
        density = cloud(off=off, spreads=own, squares=added, row=page.rows[parent], at=at) - math.log(2.0)
        key = (parent, name) if parent < name else (name, parent)
        found[key] = max(found.get(key, -1e300), density)
    return found


def _unlisted(page: Page, at: Chosen) -> float:
    """Logarithm of the density of something that is not in the list: it may lie anywhere within reason."""
    healthy, found = page.rows[HEALTHY], 0.0
    for value, place in zip(at.values, at.places, strict=True):
        wide = KINDS[page.clues[place]].apart
        off = (value - healthy.means[0][place]) / wide
        found -= math.log(wide) + 2.0 * math.log1p(off * off / 3.0)
    return found + len(at.places) * math.log(2.0 / (math.pi * 3.0**0.5))


def _answers(causes: Causes, seen: Mapping[str, bool]) -> float:
    """Logarithm of how likely the answers of the looks are."""
    found = 0.0
    for name, answer in seen.items():
        odds = looks()[name].odds(causes)
        found += math.log(odds if answer else 1.0 - odds)
    return found


def weighed(
    *, page: Page, clues: Mapping[str, Clue], seen: Mapping[str, bool], believed: float | None = None
) -> Weighed:
    """Probabilities of all hypotheses.

    page      of the design
    clues     at hand, any of them
    seen      answers of looks, by name
    believed  share of the logarithm of a likelihood that counts; the one of weights.toml when None
    -> weighed
    """
    at = chosen(page, clues)
    trust = weights()["believed"] if believed is None else believed
    constant = _constant(len(at.places))
    singles = _singles(page, at)
    before = {name: math.log(share) for name, share in page.before.items()}
    density = {name: _summed(each) - math.log(len(each)) + constant for name, each in singles.items()}
    logs: dict[Causes, float] = {}
    for name in singles:
        logs[(name,)] = before[name] + trust * density[name] + _answers((name,), seen)
    logs[(NONE,)] = before[NONE] + trust * _unlisted(page, at) + _answers((NONE,), seen)
    wary = _shares({name: before[name] + 0.5 * (logs[(name,)] - before[name]) for name in singles})
    guided = {name: before[name] + _answers((name,), seen) for name in singles}
    whole = math.log(sum(share for name, share in page.before.items() if name not in (HEALTHY, NONE)))
    two = math.log(2.0 * weights()["two"])
    for causes, paired in _pairs(page, at, singles, guided).items() if at.places or seen else ():
        ahead = two + before[causes[0]] + before[causes[1]] - 2.0 * whole
        logs[causes] = ahead + trust * (paired + constant) + _answers(causes, seen)
    return Weighed(_shares(logs), {name: _parted(each, trust) for name, each in singles.items()}, wary, at)


def _parted(logs: Sequence[float], trust: float) -> tuple[float, ...]:
    """Probability of each part of severity."""
    top = max(logs)
    raw = [math.exp(trust * (value - top)) for value in logs]
    return tuple(value / sum(raw) for value in raw)


def _shares(logs: Mapping[_Key, float]) -> dict[_Key, float]:
    """Probabilities from logarithms."""
    total = _summed(list(logs.values()))
    return {key: math.exp(each - total) for key, each in logs.items()}
