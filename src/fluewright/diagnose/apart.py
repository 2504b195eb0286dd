"""What the readings at hand cannot show: causes that would leave them as they are, and causes that look alike."""

from collections.abc import Sequence

from fluewright.diagnose.table import HEALTHY, Page, looks
from fluewright.diagnose.weigh import Causes, Chosen, Weighed

SEEN = 2.2
"""Squared distance, in spreads of a healthy appliance, from which a severe fault can be seen; judgement."""
_ALIKE = 2.0
"""Squared distance under which two causes cannot be told apart."""
_TELLS = 0.4


def _distance(
    *, off: Sequence[float], spreads: Sequence[float], squares: Sequence[float], page: Page, at: Chosen
) -> float:
    """Squared distance between two middles in spreads of a healthy appliance, clues going together as there."""
    below: list[list[float]] = []
    turned: list[float] = []
    together = page.rows[HEALTHY].together
    for i, place in enumerate(at.places):
        line: list[float] = []
        for j in range(i):
            link = together[place][at.places[j]] * spreads[i] * spreads[j]
            line.append((link - sum(a * b for a, b in zip(line, below[j], strict=False))) / below[j][j])
        root = max(spreads[i] ** 2 + squares[i] - sum(a * a for a in line), 1e-3 * squares[i]) ** 0.5
        turned.append((off[i] - sum(a * b for a, b in zip(line, turned, strict=True))) / root)
        below.append([*line, root])
    return sum(each * each for each in turned)


def _healthy_spreads(page: Page, at: Chosen) -> list[float]:
    return [page.rows[HEALTHY].spreads[0][place] for place in at.places]


def observable(*, page: Page, at: Chosen, seen: Sequence[str]) -> frozenset[str]:
    """The causes that the readings and looks at hand could show, if they were severe.

    page  of the design
    at    clues at hand
    seen  looks that have been answered
    -> names of causes
    """
    healthy, found = page.rows[HEALTHY], set()
    spreads = _healthy_spreads(page, at)
    for name, row in page.rows.items():
        if name == HEALTHY:
            continue
        if any(looks()[look].shows.get(name, 0.0) >= _TELLS for look in seen):
            found.add(name)
            continue
        off = [row.means[-1][place] - healthy.means[0][place] for place in at.places]
        if _distance(off=off, spreads=spreads, squares=at.squares, page=page, at=at) >= SEEN:
            found.add(name)
    return frozenset(found)


def _middle(page: Page, weighed: Weighed, name: str) -> list[float]:
    row, parts = page.rows[name], weighed.parts[name]
    best = max(range(len(parts)), key=lambda part: parts[part])
    return [row.means[best][place] for place in weighed.chosen.places]


def _told_by_a_look(one: str, other: str, seen: Sequence[str]) -> bool:
    return any(abs(looks()[look].odds((one,)) - looks()[look].odds((other,))) >= _TELLS for look in seen)


def alike(*, page: Page, weighed: Weighed, among: Sequence[str], seen: Sequence[str]) -> tuple[Causes, ...]:
    """Groups among some causes that the readings at hand cannot tell apart.

    among  causes that are left, likeliest first
    seen   looks that have been answered
    -> groups of two or more, each cause in one group at most
    """
    spreads = _healthy_spreads(page, weighed.chosen)
    middles = {name: _middle(page, weighed, name) for name in among}
    groups: list[list[str]] = []
    for name in among:
        for group in groups:
            off = [a - b for a, b in zip(middles[name], middles[group[0]], strict=True)]
            near = _distance(off=off, spreads=spreads, squares=weighed.chosen.squares, page=page, at=weighed.chosen)
            if near < _ALIKE and not _told_by_a_look(name, group[0], seen):
                group.append(name)
                break
        else:
            groups.append([name])
    return tuple(tuple(group) for group in groups if len(group) > 1)
