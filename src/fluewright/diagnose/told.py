"""Sentences about what moved, what speaks for and against a cause, and what would have been seen. No percentages."""

import math
from collections.abc import Callable, Mapping
from dataclasses import dataclass

from fluewright.diagnose.clues import KINDS, Clue
from fluewright.diagnose.table import HEALTHY, Look, Page, looks
from fluewright.diagnose.weigh import Weighed
from fluewright.quantity import show
from fluewright.quantity.names import of
from fluewright.quantity.show import System
from fluewright.words import english, say, spoken

MOVED = 1.7
"""Spreads of a healthy appliance from which a reading is said to have moved; judgement."""
FAR = 3.5
_FITS = 1.6
_OUT = 2.2

_BACK: Mapping[str, tuple[str, Callable[[float], float]]] = {
    "oxygen": ("oxygen_dry", lambda value: min(0.2095, max(0.0, value / 100.0))),
    "monoxide": ("carbon_monoxide_air_free", lambda value: max(0.0, math.exp(value) - 8.0) * 1e-6),
    "draft": ("draft", lambda value: 3.0 * math.sinh(value)),
    "over_fire": ("draft_over_fire", lambda value: 3.0 * math.sinh(value)),
    "room": ("carbon_monoxide_room", lambda value: max(0.0, math.exp(value) - 3.0) * 1e-6),
    "smoke": ("smoke_spot", lambda value: min(9.0, max(0.0, value))),
}
"""Clues whose usual band can be said as a reading."""


@dataclass(frozen=True, slots=True)
class Moved:
    """A reading that is not as it should be: which way, and how far in words.

    off  spreads of a healthy appliance, with its sign; for machines
    """

    reading: str
    sentence: str
    way: str
    off: float


@dataclass(frozen=True, slots=True)
class Sentence:
    """One sentence for or against a cause.

    words  without full stop
    rests  registry name of the reading, or name of the look, that it rests on
    """

    words: str
    rests: str


@dataclass(frozen=True, slots=True)
class Telling:
    """All that sentences are made from.

    read  registry name to value in canonical unit
    """

    page: Page
    weighed: Weighed
    clues: Mapping[str, Clue]
    read: Mapping[str, float]
    seen: Mapping[str, bool]
    system: System

    def spread(self, clue: str) -> float:
        """Spread of a clue of a healthy appliance with its own doubt."""
        place = self.page.clues.index(clue)
        own = self.page.rows[HEALTHY].spreads[0][place]
        return math.sqrt(own**2 + self.page.widened[place] ** 2 + self.clues[clue].doubt ** 2)

    def off(self, clue: str) -> float:
        """How far a clue lies from that of a healthy appliance, in spreads."""
        place = self.page.clues.index(clue)
        return (self.clues[clue].value - self.page.rows[HEALTHY].means[0][place]) / self.spread(clue)

    def off_cause(self, cause: str, clue: str) -> tuple[float, float]:
        """How far a clue lies from what a cause makes it, in its spreads; and how far the cause moves it."""
        place = self.page.clues.index(clue)
        row, parts = self.page.rows[cause], self.weighed.parts[cause]
        best = max(range(len(parts)), key=lambda part: parts[part])
        spread = math.sqrt(row.spreads[best][place] ** 2 + self.page.widened[place] ** 2 + self.clues[clue].doubt ** 2)
        moved = (row.means[-1][place] - self.page.rows[HEALTHY].means[0][place]) / self.spread(clue)
        return (self.clues[clue].value - row.means[best][place]) / spread, moved

    def said(self, clue: str) -> str:
        """The reading with its name and value."""
        reading = KINDS[clue].reading
        value = show.shown(self.read[reading], quantity=reading, system=self.system)
        return say("{name} {value}", name=spoken(of(reading).words), value=value)

    def way(self, clue: str, off: float) -> str:
        """Words for the way in which a clue lies off."""
        return spoken(KINDS[clue].up if off > 0.0 else KINDS[clue].down)


def _strayed(telling: Telling, clue: str, way: str) -> str:
    """A reading with the way it moved, and the usual band where that can be said as a reading."""
    reading = telling.said(clue)
    if clue not in _BACK:
        return say("{reading}: {way}", reading=reading, way=way)
    quantity, back = _BACK[clue]
    place = telling.page.clues.index(clue)
    middle, spread = telling.page.rows[HEALTHY].means[0][place], telling.spread(clue)
    ends = sorted((back(middle - 1.5 * spread), back(middle + 1.5 * spread)))
    low, high = (show.shown(end, quantity=quantity, system=telling.system) for end in ends)
    if clue == "monoxide":
        return say(
            "{reading}: {way} (usual: {low} to {high}, free of air)", reading=reading, way=way, low=low, high=high
        )
    return say("{reading}: {way} (usual: {low} to {high})", reading=reading, way=way, low=low, high=high)


def moved(telling: Telling) -> tuple[Moved, ...]:
    """The readings that moved, farthest first."""
    found = []
    for clue in telling.clues:
        if clue not in telling.page.clues or clue == "returning":
            continue
        off = telling.off(clue)
        if abs(off) >= MOVED:
            way = telling.way(clue, off)
            if abs(off) >= FAR and not KINDS[clue].up.startswith(("a rise", "less", "more")):
                way = say("far {way}", way=way)
            found.append(Moved(KINDS[clue].reading, _strayed(telling, clue, way), way, off))
    return tuple(sorted(found, key=lambda each: -abs(each.off)))


def _by_weight(found: list[tuple[float, Sentence]]) -> list[Sentence]:
    """Sentences with what weighs most first, otherwise by their words."""
    return [sentence for _, sentence in sorted(found, key=lambda pair: (-pair[0], english(pair[1].words)))]


def speaks_for(telling: Telling, cause: str) -> tuple[Sentence, ...]:
    """What fits a cause and does not fit a healthy appliance."""
    found = []
    for clue in telling.clues:
        if clue in telling.page.clues:
            off, moves = telling.off_cause(cause, clue)
            own = telling.off(clue)
            if abs(own) >= MOVED - 0.4 and abs(off) <= _FITS and own * moves > 0.0 and abs(moves) > 1.0:
                reading, way = telling.said(clue), telling.way(clue, own)
                words = say("{reading} is {way}, as this makes it", reading=reading, way=way)
                found.append((abs(own), Sentence(words, KINDS[clue].reading)))
    lines = _by_weight(found)
    return (*_looked(telling, cause, True), *lines)


def answered(look: Look, found: bool) -> str:
    """A look with its answer."""
    return say("{look}: {answer}", look=spoken(look.words), answer=spoken(look.yes if found else look.no))


def _looked(telling: Telling, cause: str, answer: bool) -> tuple[Sentence, ...]:
    found = []
    for name, given in telling.seen.items():
        look = looks()[name]
        if given is answer and look.shows.get(cause, 0.0) >= 0.5:
            found.append(Sentence(answered(look, given), name))
    return tuple(found)


def speaks_against(telling: Telling, cause: str) -> tuple[Sentence, ...]:
    """What does not fit a cause."""
    found = []
    for clue in telling.clues:
        if clue in telling.page.clues:
            off, moves = telling.off_cause(cause, clue)
            own = telling.off(clue)
            if abs(off) < _OUT:
                continue
            if abs(own) < MOVED and abs(moves) > 1.0:
                reading, way = telling.said(clue), telling.way(clue, moves)
                words = say("{reading} is as usual; this would make it {way}", reading=reading, way=way)
            elif abs(own) >= MOVED:
                reading, way = telling.said(clue), telling.way(clue, own)
                words = say("{reading} is {way}, which this does not explain", reading=reading, way=way)
            else:
                continue
            found.append((abs(off), Sentence(words, KINDS[clue].reading)))
    lines = _by_weight(found)
    return (*_looked(telling, cause, False), *lines)
