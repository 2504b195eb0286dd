"""The house as a rival of the chimney: pressure of the room with fans off and on, and what fans and leaks make it."""

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from typing import Literal

from fluewright.evidence.draft import small
from fluewright.evidence.draft.baseline import Baseline, spread_of
from fluewright.evidence.draft.refusals import need_leaks
from fluewright.evidence.finding import Finding
from fluewright.evidence.limits import Question, rules_for
from fluewright.evidence.part import Derived, Part, Piece, Seen, SoFar, Statement, Voiced
from fluewright.evidence.reading import Account, Reading
from fluewright.evidence.reckon import Reckoning, refused
from fluewright.evidence.result import Result
from fluewright.evidence.sizes import Size, need
from fluewright.kernel import combustion_air, house_pressure, ops
from fluewright.kernel.ops import Number

WORD = "house pressure"
Zone = Literal[
    "",
    "natural-draft water heater alone",
    "natural-draft water heater with natural-draft furnace",
    "natural-draft furnace or boiler alone",
    "natural-draft water heater with fan-assisted furnace",
    "fan-assisted alone",
    "power or direct vent",
]
"""Which appliances burn in the zone, as the limits of depressurisation tell them apart."""
ZONES: Mapping[str, Zone] = {
    "water-heater": "natural-draft water heater alone",
    "common": "natural-draft water heater with natural-draft furnace",
    "furnace-or-boiler": "natural-draft furnace or boiler alone",
    "induced-common": "natural-draft water heater with fan-assisted furnace",
    "induced": "fan-assisted alone",
    "power": "power or direct vent",
}
"""Zones by a short name for one line of typing."""
TEST_PRESSURE = 50.0
"""Pa at which leakage is commonly tested."""
EXPONENT_SPREAD = 0.05
"""Standard uncertainty of an exponent nobody measured (common practice, no source)."""


EXPONENT = Size("exponent of the leaks", "holes give 0.5 and fine cracks 1, and no leak lies beyond", 0.5, 1.0, False)
APART = Size("distance of the openings", "warmth pulls over a height", most=500.0)


@dataclass(frozen=True, slots=True)
class Fan:
    """A fan that takes air out of the house; flow None when nobody knows it."""

    words: str
    flow: Reading | None = None


@dataclass(frozen=True, slots=True)
class Leaks:
    """How leaky the house is: a flow at a pressure, or air changes at that pressure and a volume."""

    flow: Reading | None = None
    pressure: Reading | None = None
    air_changes: Reading | None = None
    volume: Reading | None = None
    exponent: Reading | None = None

    @property
    def known(self) -> bool:
        """Whether there is enough to reckon with."""
        return self.flow is not None or (self.air_changes is not None and self.volume is not None)

    def need(self) -> None:
        """Leaks above zero, at a pressure; PhysicsRefused FW-K-072 otherwise."""
        if self.flow is not None:
            need_leaks(self.flow.figure or 0.0)
        elif self.air_changes is not None and self.volume is not None:
            need_leaks((self.volume.figure or 0.0) * (self.air_changes.figure or 0.0))
        if self.known and self.pressure is not None:
            need_leaks(abs(self.pressure.figure or 0.0))
        need(self.exponent, EXPONENT)


@dataclass(frozen=True, slots=True)
class Warmth:
    """The house as a chimney of its own: heights of its low and high openings, and temperatures."""

    distance: Reading
    outdoors: Reading
    room: Reading
    low: Reading | None = None
    high: Reading | None = None

    def __post_init__(self) -> None:
        """Refuse openings that lie at one height, or the wrong way round."""
        need(self.distance, APART)


@dataclass(frozen=True, slots=True)
class HousePressure:
    """Pressure of the room against outdoors.

    off     with fans off: the baseline
    on      with every fan on, None when nobody read it
    zone    which appliances burn there
    fans    for the reckoning
    leaks   for the reckoning
    warmth  for the stack effect
    """

    on: Reading | None = None
    off: Baseline = field(default_factory=Baseline)
    zone: Zone = ""
    fans: tuple[Fan, ...] = ()
    leaks: Leaks = field(default_factory=Leaks)
    warmth: Warmth | None = None

    @property
    def late(self) -> bool:
        """It rests on no other part."""
        return False

    def worked(self, so_far: SoFar) -> Part:
        """Work it out and judge it."""
        told = of_house(self, Reckoning(so_far.account), WORD)
        return Part(
            WORD,
            "The house against the chimney",
            "draft",
            told.statements,
            told.results,
            told.findings,
            told.cannot_tell,
            "Counted from outdoors: below zero the room is drawn down.",
        )


@dataclass(frozen=True, slots=True)
class Told:
    """What the house has to say, for a part of its own or within the worst case."""

    statements: tuple[Statement, ...]
    results: Mapping[str, Result]
    findings: tuple[Finding, ...]
    cannot_tell: tuple[str, ...]


def of_house(given: HousePressure, reckoning: Reckoning, word: str) -> Told:
    """Work the house out.

    given      what was read
    reckoning  ledger of the part
    word       of the part that says it
    """
    results = {**_change(given, reckoning), **_by_fans(given, reckoning), **_by_warmth(given.warmth, reckoning)}
    findings = _judged(given, results, reckoning.account, word)
    return Told(
        (*_seen(given), *_said(results)), results, findings, tuple(_cannot_tell(given, results, reckoning.account))
    )


def _change(given: HousePressure, reckoning: Reckoning) -> dict[str, Result]:
    """What the fans changed, by reading."""
    if given.on is None:
        return {}
    zero = given.off.zero()
    if given.on.figure is None:
        return {"change": refused("house_pressure_change", f"“{given.on.typed.text}” is a word and no figure")}
    if not given.off.figures and given.off.span is None:
        return {"change": refused("house_pressure_change", "the room was not read with its fans off")}
    spread = spread_of(given.on, zero, reckoning.account.instrument)
    number = reckoning.read(given.on, words="pressure with every fan on", spread=spread) - zero.offset
    return {
        "change": reckoning.result(
            "house_pressure_change", number, formula="change = every fan on - fans off",
            substitution=f"{given.on.figure:.2f} Pa - {zero.offset:.2f} Pa", source=f"doubt: {zero.words}",
            holds="this wind and this weather; a frosty or windy day draws further",
        )
    }  # fmt: skip


def _out(given: HousePressure, reckoning: Reckoning) -> Number | None:
    """What the fans take out together; None where one is not known or there is none."""
    if not given.fans or any(one.flow is None or one.flow.figure is None for one in given.fans):
        return None
    flows = [reckoning.read(one.flow, words=f"air taken by {one.words}") for one in given.fans if one.flow is not None]
    total: Number = sum(flows[1:], flows[0])
    return total


def _leak_flow(leaks: Leaks, reckoning: Reckoning) -> Number:
    if leaks.flow is not None:
        return reckoning.read(leaks.flow)
    flow: Number = 0.0
    if leaks.volume is not None and leaks.air_changes is not None:
        flow = combustion_air.leakage_from_air_changes(
            room_volume=reckoning.read(leaks.volume),
            air_changes=reckoning.read(leaks.air_changes),
        )
    return flow


def _by_fans(given: HousePressure, reckoning: Reckoning) -> dict[str, Result]:
    """What the fans must draw the house down to, by its leaks."""
    out = _out(given, reckoning)
    given.leaks.need()
    if out is None or not given.leaks.known:
        return {}
    tested = given.leaks.pressure
    pressure = TEST_PRESSURE if tested is None or tested.figure is None else abs(tested.figure)
    said = given.leaks.exponent
    exponent = (
        reckoning.assumed("leakage_exponent", house_pressure.EXPONENT, EXPONENT_SPREAD,
                          source="common practice, no source")
        if said is None or said.figure is None
        else reckoning.assumed("leakage_exponent", said.figure, 0.0, source="typed")
    )  # fmt: skip
    flow = _leak_flow(given.leaks, reckoning)
    coefficient = house_pressure.leakage_coefficient(leak_flow=flow, test_pressure=pressure, exponent=exponent)
    down = house_pressure.depressurisation_from_flow(
        exhaust_flow=out, leakage_coefficient=coefficient, exponent=exponent
    )
    plain = [float(ops.value_of(one)) * 3600.0 for one in (out, flow)]
    return {
        "by fans": reckoning.result(
            "house_pressure_change", -down,
            formula="change = -(fans / coefficient)^(1/n); coefficient = leakage flow / test pressure^n",
            substitution=f"fans {plain[0]:.0f} m3/h, leaks {plain[1]:.0f} m3/h at {pressure:.0f} Pa, "
            f"n {float(ops.value_of(exponent)):.2f}",
            source="power law of leaks; docs/method/draft.md",
            holds="all doors inside open; a closed room with the fan in it is drawn down further",
        )
    }  # fmt: skip


def _by_warmth(warmth: Warmth | None, reckoning: Reckoning) -> dict[str, Result]:
    """What warmth alone does to the room at the low opening."""
    if warmth is None:
        return {}
    outdoors, room, distance = (reckoning.read(one) for one in (warmth.outdoors, warmth.room, warmth.distance))
    found: dict[str, Result] = {}
    height: Number = distance / 2.0
    how = "plane taken half way up"
    if warmth.low is not None and warmth.high is not None and warmth.low.figure and warmth.high.figure:
        height = house_pressure.neutral_plane_from_openings(
            low_opening_area=reckoning.read(warmth.low, words="low opening"),
            high_opening_area=reckoning.read(warmth.high, words="high opening"),
            distance=distance, outdoor_temperature=outdoors, room_temperature=room,
        )  # fmt: skip
        how = "two openings"
        found["neutral plane"] = reckoning.result(
            "chimney_height", height, formula="height = distance / (1 + (low / high)2 x T room / T outdoors)",
            substitution=f"{float(ops.value_of(height)):.2f} m over the low opening", source="mass in equals mass out",
            holds="two openings, no wind, no fans",
        )  # fmt: skip
    number = house_pressure.stack_pressure(
        height=-height, outdoor_temperature=outdoors, room_temperature=room,
        pressure=reckoning.account.surroundings.pressure,
    )  # fmt: skip
    found["by warmth"] = reckoning.result(
        "house_pressure", number, formula="pressure = 0.03416 K/m x barometer x height x (1/T outdoors - 1/T room)",
        substitution=f"{float(ops.value_of(height)):.2f} m below the plane, {how}",
        source="hydrostatics; docs/method/draft.md", holds="floors open to each other, no wind",
    )  # fmt: skip
    return found


def _seen(given: HousePressure) -> list[Statement]:
    found = given.off.said("house_pressure") if given.on is not None else []
    if given.on is not None:
        found.append(Statement(("with every fan on the room stands at ", Seen("fans on", given.on), ".")))
    for index, one in enumerate(given.fans, 1):
        flow: Piece = Seen(f"fan {index}", one.flow) if one.flow else Voiced("nobody knows how much", "unknown")
        mark: Literal["measured", "unknown"] = "measured" if one.flow else "unknown"
        found.append(Statement((Voiced(one.words), " takes out ", flow, "."), mark=mark))
    leaks, pieces = given.leaks, list[Piece]()
    if leaks.flow is not None:
        pieces = ["the house leaks ", Seen("leakage", leaks.flow)]
    elif leaks.air_changes is not None and leaks.volume is not None:
        pieces = ["the house changes its air ", Seen("air changes", leaks.air_changes), ", of ",
                  Seen("volume", leaks.volume)]  # fmt: skip
    if pieces:
        at: Piece = Seen("test pressure", leaks.pressure) if leaks.pressure else f"{TEST_PRESSURE:g} Pa"
        found.append(Statement((*pieces, ", at ", at, ".")))
    if given.warmth is not None:
        found += _warmth_seen(given.warmth)
    return found


def _warmth_seen(warm: Warmth) -> list[Statement]:
    pieces: list[Piece] = ["openings ", Seen("distance", warm.distance), " apart"]
    if warm.low is not None and warm.high is not None:
        pieces += [", low ", Seen("low", warm.low), ", high ", Seen("high", warm.high)]
    pieces += ["; outdoors ", Seen("outdoors", warm.outdoors), ", indoors ", Seen("room", warm.room), "."]
    return [Statement(tuple(pieces))]


def _said(results: Mapping[str, Result]) -> list[Statement]:
    words = {
        "change": "the fans change the pressure of the room by ",
        "by fans": "by their flows and the leaks the fans should change it by ",
        "neutral plane": "by warmth the house has the pressure of outdoors at a height over its low opening of ",
        "by warmth": "warmth alone sets the room at the low opening to ",
    }
    return [
        Statement((said, Derived(key), "."), mark="derived")
        for key, said in words.items()
        if key in results and results[key].value is not None
    ]


def _judged(given: HousePressure, results: Mapping[str, Result], account: Account, word: str) -> tuple[Finding, ...]:
    """The change against the limit of the zone; by reckoning only where nobody read it."""
    key = next((each for each in ("change", "by fans") if each in results and results[each].value is not None), "")
    if not key or not given.zone:
        return ()
    read = key == "change"
    doubt = "" if read else "It is reckoned and not read"
    rules = rules_for("house_pressure_change", account, kinds=(given.zone,))
    asked = (
        Question(rule if read else replace(rule, severity="advise"), results[key], word, account, doubt, key=key)
        for rule in rules
    )
    return tuple(
        small.told(
            asked,
            "The room, with every fan on," if read else "The room, by reckoning,",
            baseline=given.off.zero().taken,
        )
    )


def _cannot_tell(given: HousePressure, results: Mapping[str, Result], account: Account) -> list[str]:
    found = []
    if given.on is None and given.fans and "by fans" not in results:
        found.append("How far the fans draw the house down: a flow or the leakage is not known.")
    if given.on is not None and results["change"].value is None:
        found.append(f"How far the fans draw the room down: {results['change'].refused}.")
    if given.on is not None or results:
        found += _limit_open(given, account)
    if given.on is not None and given.off.figures and not given.off.zero().taken:
        found.append("The baseline is shorter than 5 values or 60 s: wind may hide or make the change.")
    return found


def _limit_open(given: HousePressure, account: Account) -> list[str]:
    """What keeps a change of pressure from being put to a limit, and what to say so that it can be."""
    head = "Whether the room is drawn down too far"
    found = [] if given.zone else [f"{head}: which appliances burn in it was not said."]
    if not account.jurisdiction:
        found.append(f"{head}: in which country or state the house stands was not said, and limits go by place.")
    elif given.zone and not rules_for("house_pressure_change", account, kinds=(given.zone,)):
        found.append(f"{head}: no limit of depressurisation is known here for {account.jurisdiction}.")
    return found
