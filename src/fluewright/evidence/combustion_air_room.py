"""One room whose air for burning is judged: heat that rules count, openings with their free area, volume."""

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

from fluewright.evidence.reading import Account, Reading
from fluewright.evidence.reckon import Reckoning
from fluewright.kernel import combustion_air, ops
from fluewright.kernel.ops import Number
from fluewright.rules import burning_air
from fluewright.rules.burning_air import AirRule

if TYPE_CHECKING:
    from fluewright.evidence.combustion_air import AirAppliance, AirForBurning, AirOpening

OUTDOOR_KINDS = ("outdoors", "outdoors by upright duct", "outdoors by level duct")


def exactly(reckoning: Reckoning, reading: Reading, words: str) -> Number:
    """A figure of a plate: exact, or as wide as its range."""
    return reckoning.read(reading, words=words, spread=reading.half_width / math.sqrt(3.0))


@dataclass(frozen=True)
class Room:
    """One room being put to the rules."""

    given: "AirForBurning"
    account: Account
    reckoning: Reckoning
    louvre: float | None = None
    """Free share tried for louvres whose share nobody stated and no text of the place gives."""

    def input_of(self, *draws: str) -> Number | None:
        """Sum of the gross inputs of some kinds of appliance; None when a plate was not read."""
        return self._sum("input", tuple(one for one in self.given.open_fires if not draws or one.draws in draws))

    def counted(self, rule: AirRule) -> Number | None:
        """The heat that a rule counts."""
        gross = self.input_of()
        if rule.counted == "output":
            output = self._sum("output", self.given.open_fires)
            return gross if output is None else output
        if rule.counted == "net input" and gross is not None:
            fuel = self.account.fuel.fuel
            return gross * float(ops.value_of(fuel.heating_value_net)) / float(ops.value_of(fuel.heating_value_gross))
        return gross

    def _sum(self, of: str, appliances: "tuple[AirAppliance, ...]") -> Number | None:
        total: Number = 0.0
        for one in appliances:
            reading: Reading | None = getattr(one, of)
            if reading is None or reading.figure is None:
                return None
            total = total + exactly(self.reckoning, reading, f"{of} of {one.words}")
        return total

    def unstated(self, opening: "AirOpening", place: str) -> bool:
        """Whether a louvre lies over it, nobody stated what it leaves, and no text of this place says so either."""
        stated = opening.free_share is not None and opening.free_share.figure is not None
        return opening.grille != "none" and not stated and burning_air.grilles(place) is None

    def free(self, opening: "AirOpening", place: str) -> Number:
        """Free area of one opening that counts, by what rules of a place say of louvres."""
        reading = opening.area
        if reading is None:
            return 0.0
        area = self.reckoning.read(reading, words=f"area of {opening.words}")
        return combustion_air.free_area_from_grille(opening_area=area, free_share=self._share(opening, place))

    def _share(self, opening: "AirOpening", place: str) -> Number:
        """Share of the hole that is free: as stated, else by the text of the place, else anything up to all of it."""
        if opening.free_share is not None and opening.free_share.figure is not None:
            return exactly(self.reckoning, opening.free_share, f"free share of {opening.words}")
        if opening.grille == "none":
            return 1.0
        known = burning_air.grilles(place)
        if known is not None:
            source = f"{known.citation.document} {known.citation.clause}, default"
            return self.reckoning.assumed("free_share", known.figures[opening.grille], 0.0, source=source)
        if self.louvre is not None:
            return self.louvre
        source = "nobody stated it: anything between nothing and all of the hole"
        return self.reckoning.assumed("free_share", 0.5, 0.5 / math.sqrt(3.0), source=source)

    def chosen(self, *kinds: str, side: float = 0.0) -> "list[AirOpening]":
        """The openings of some kinds that count and are wide enough."""
        return [
            one
            for one in self.given.openings
            if one.kind in kinds and one.counts and (one.side is None or (one.side.figure or 0.0) >= side)
        ]

    def areas(self, *kinds: str, place: str, side: float = 0.0, but: str = "") -> list[Number]:
        """Free areas of the openings of some kinds that count, the largest first; but: a height that does not."""
        chosen = [one for one in self.chosen(*kinds, side=side) if not but or one.height != but]
        return sorted((self.free(one, place) for one in chosen), key=lambda area: -float(ops.value_of(area)))

    def volume(self, *, joined: bool) -> Number | None:
        """Volume of the room, with that of rooms behind openings that join them."""
        reading = self.given.volume
        if reading is None or reading.figure is None:
            return None
        own = self.reckoning.read(reading)
        more = self.given.joined_volume
        if not joined or more is None or more.figure is None:
            return own
        return own + self.reckoning.read(more, words="volume of the rooms joined to it")
