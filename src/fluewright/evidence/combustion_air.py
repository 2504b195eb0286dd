"""Air for burning: what was seen of room, openings, appliances and fans, worked out and judged."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal

from fluewright.evidence import combustion_air_said
from fluewright.evidence.combustion_air_balance import Balance, balanced
from fluewright.evidence.combustion_air_forms import Standing, stand
from fluewright.evidence.part import Part, SoFar
from fluewright.evidence.reading import Account, Reading
from fluewright.evidence.reckon import Reckoning
from fluewright.evidence.result import Result
from fluewright.evidence.sizes import Size, need

WORD = "air for burning"

OpeningKind = Literal["outdoors", "outdoors by upright duct", "outdoors by level duct", "indoors"]
Grille = Literal["none", "wood", "metal"]
Height = Literal["", "low", "high"]
Draws = Literal["natural", "fan-assisted", "sealed"]
"""How an appliance gets its air: from the room, from the room by a fan of its own, through a duct of its own."""
HowKnown = Literal["assumed", "stated", "measured"]


VOLUME = Size("volume of the room", "rules count air by the room, and no room of a house is larger", most=1e5)
AIR_CHANGES = Size("air changes", "no room changes its air faster by itself", most=100.0 / 3600.0, above=False)
PRESSURE = Size(
    "pressure that drives air in", "air comes in only where the room lies below outdoors", 0.0, 250.0, False
)
AREA = Size("free area of an opening", "an opening of nothing lets nothing in", most=100.0)
SIDE = Size("side of an opening", "an opening of nothing lets nothing in", most=30.0)


@dataclass(frozen=True, slots=True)
class AirOpening:
    """One opening into the room.

    words        where it is
    area         of the hole, None when nobody measured it
    side         its shortest side
    grille       what lies over it
    free_share   stated by the maker of the grille
    height       low or high in the room, empty when not said
    blocked      whether it was found covered, stuffed or painted shut
    can_be_shut  whether a flap or slide can close it
    """

    words: str
    kind: OpeningKind = "outdoors"
    area: Reading | None = None
    side: Reading | None = None
    grille: Grille = "none"
    free_share: Reading | None = None
    height: Height = ""
    blocked: bool = False
    can_be_shut: bool = False

    @property
    def counts(self) -> bool:
        """Whether it may be counted at all."""
        return self.area is not None and self.area.figure is not None and not self.blocked and not self.can_be_shut


@dataclass(frozen=True, slots=True)
class AirAppliance:
    """One fuel-burning appliance in the room.

    input          gross heat input of its plate, None when not read
    output         nominal heat output of its plate
    over_pressure  whether its flue stands above the pressure of the room
    """

    words: str
    draws: Draws = "natural"
    input: Reading | None = None
    output: Reading | None = None
    over_pressure: bool = False


@dataclass(frozen=True, slots=True)
class Exhaust:
    """One fan that takes air out of the room or the house; flow None when nobody knows it."""

    words: str
    flow: Reading | None = None


@dataclass(frozen=True, slots=True)
class AirForBurning:
    """What was seen of the air that flames get.

    volume            of the room
    joined_volume     of rooms behind the indoor openings
    air_changes       with outdoor air
    air_changes_known how they are known; assumed ones settle nothing
    window            whether the room has a door or an opening window to outdoors
    tight_house       whether the house was built very tight
    manufactured_home whether it is one
    pressure          that drives air in, for the balance; 4 Pa when not given
    supply_fan        air that a fan brings from outdoors
    no_exhausts       whether somebody looked and no fan, dryer or hood takes air out
    """

    appliances: tuple[AirAppliance, ...]
    openings: tuple[AirOpening, ...] = ()
    exhausts: tuple[Exhaust, ...] = ()
    volume: Reading | None = None
    joined_volume: Reading | None = None
    air_changes: Reading | None = None
    air_changes_known: HowKnown = "assumed"
    window: bool | None = None
    tight_house: bool | None = None
    manufactured_home: bool = False
    pressure: Reading | None = None
    supply_fan: Reading | None = None
    no_exhausts: bool = False

    def __post_init__(self) -> None:
        """Refuse rooms, holes and pressures that nothing can be reckoned with."""
        need(self.volume, VOLUME)
        need(self.joined_volume, VOLUME)
        need(self.air_changes, AIR_CHANGES)
        need(self.pressure, PRESSURE)
        for one in self.openings:
            need(one.area, AREA)
            need(one.side, SIDE)

    @property
    def late(self) -> bool:
        """It rests on no other part."""
        return False

    @property
    def open_fires(self) -> tuple[AirAppliance, ...]:
        """Appliances that burn the air of the room."""
        return tuple(one for one in self.appliances if one.draws != "sealed")

    @property
    def leakage_known(self) -> bool:
        """Whether the air changes may settle anything."""
        return self.air_changes is not None and self.air_changes_known != "assumed"

    def worked(self, so_far: SoFar) -> Part:
        """Work it out and judge it."""
        account = so_far.account
        reckoning = Reckoning(account)
        standings = stand(self, account, reckoning) if self.open_fires else ()
        balance = balanced(self, account, reckoning) if self.open_fires else None
        said = combustion_air_said.said(self, account, standings, balance)
        return Part(
            WORD,
            "Air for burning",
            "room",
            said.statements,
            _results(standings, balance),
            said.findings,
            said.cannot_tell,
            data=_data(self, account, standings),
        )


def _results(standings: tuple[Standing, ...], balance: Balance | None) -> Mapping[str, Result]:
    """The results by their keys: of other places only those that stand beside the ones of this."""
    told = [one for one in standings if one.here or combustion_air_said.beside(one)]
    found = {key: result for one in told for key, result in one.results().items()}
    return {**found, **(balance.results if balance else {})}


def _data(given: AirForBurning, account: Account, standings: tuple[Standing, ...]) -> Mapping[str, object]:
    """How each form stands, as plain data."""
    return {
        "jurisdiction": account.jurisdiction,
        "air_changes_known": given.air_changes_known if given.air_changes else "not said",
        "forms": [
            {
                "rule": one.rule.id,
                "form": one.rule.form,
                "jurisdiction": one.rule.jurisdiction,
                "of_this_place": one.here,
                "stands": one.stands,
                "odds_short": one.odds,
                "why": one.why,
            }
            for one in standings
        ],
    }
