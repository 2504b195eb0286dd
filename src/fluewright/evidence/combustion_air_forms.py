"""How a room stands to each form in which rules ask for air for burning: what is asked, what is there, how surely."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from types import MappingProxyType
from typing import TYPE_CHECKING, Literal

from fluewright.evidence.combustion_air_room import OUTDOOR_KINDS, Room
from fluewright.evidence.finding import clause_of
from fluewright.evidence.limits import CERTAIN, HARDLY
from fluewright.evidence.reading import Account
from fluewright.evidence.reckon import Reckoning
from fluewright.evidence.result import Result
from fluewright.kernel import combustion_air, odds, ops
from fluewright.kernel.ops import Number
from fluewright.rules import burning_air
from fluewright.rules.burning_air import AirRule

if TYPE_CHECKING:
    from fluewright.evidence.combustion_air import AirForBurning

Stands = Literal["met", "close", "short", "open", "off"]
"""met; too close to call; short; open: not known; off: this way is not used here."""

_GROUPS = {"gas": "gas", "liquid": "oil", "solid": "solid"}


@dataclass(frozen=True, slots=True)
class Standing:
    """How the room stands to one rule.

    here  whether the rule speaks at the place
    odds  that there is less than asked, None where nobody can say
    why   why it is open or off, a sentence
    """

    rule: AirRule
    here: bool
    stands: Stands
    asked: Result | None = None
    there: Result | None = None
    odds: float | None = None
    why: str = ""

    @property
    def key(self) -> str:
        """Key of what is asked, in the results of the part."""
        return f"{self.rule.id} asks"

    def results(self) -> dict[str, Result]:
        """Its results by key."""
        pair = ((self.key, self.asked), (f"{self.rule.id} finds", self.there))
        return {key: result for key, result in pair if result is not None}


def _judged(room: Room, rule: AirRule, quantity: tuple[str, str], asked: Number, there: Number, words: str) -> Standing:
    """One rule with figures on both sides."""
    said = clause_of(rule).in_short
    printed = ", ".join(rule.printed.values())
    need = room.reckoning.result(
        quantity[0], asked, formula=words, substitution=printed or rule.text, source=said, holds=rule.only or rule.text
    )
    have = room.reckoning.result(
        quantity[1],
        there,
        formula="as measured, what does not count left out",
        substitution="sum of what counts",
        source="readings",
        holds="openings found open, without those that are blocked or can be shut",
    )
    chance, stands, why = _odds(room.reckoning, there - asked)
    return Standing(rule, True, stands, need, have, chance, why)


def _odds(reckoning: Reckoning, margin: Number) -> tuple[float | None, Stands, str]:
    """How likely a margin is below nothing, and what that says."""
    bound, value = reckoning.ledger.bound(margin), float(ops.value_of(margin))
    if bound:
        decided = (bound == "at least" and value >= 0.0) or (bound == "at most" and value < 0.0)
        stands: Stands = "open" if not decided else "met" if value >= 0.0 else "short"
        return None, stands, "" if decided else "it rests on a reading that is only a bound"
    below, above = reckoning.ledger.sides(margin)
    spread = below if value >= 0.0 else above
    chance = odds.below(value=value, spread=spread, limit=0.0) if spread > 0.0 else float(value < 0.0)
    return chance, "met" if chance < HARDLY else "short" if chance > CERTAIN else "close", ""


def _off(rule: AirRule, why: str) -> Standing:
    return Standing(rule, True, "off", why=why)


def _open(rule: AirRule, why: str) -> Standing:
    return Standing(rule, True, "open", why=why)


_NO_INPUT = "the input of an appliance was not read from its plate"
_NO_VOLUME = "nobody measured the room"
_ROOM = ("room_volume_needed", "room_volume")
_OPENING = ("opening_needed", "opening_area")


def _joined(room: Room, rule: AirRule) -> bool:
    """Whether the indoor openings make one room of several, by the rules of the place that this one is of."""
    for one in burning_air.rules():
        if one.jurisdiction == rule.jurisdiction and one.form in ("two indoor openings", "joined rooms"):
            return _standing(room, one).stands == "met"
    return False


_TOO_TIGHT = "the air changes are known to be fewer than this rule allows"


def _too_tight(room: Room, rule: AirRule) -> bool:
    """Whether the air changes are known, and may be fewer than a rule of so much room per heat counts with."""
    changes = room.given.air_changes
    least = rule.figures.get("fewest_air_changes", 0.0)
    return room.given.leakage_known and changes is not None and (changes.least or 0.0) < least


def _by_volume(room: Room, rule: AirRule) -> Standing:
    total, volume = room.counted(rule), room.volume(joined=_joined(room, rule))
    if total is None or volume is None:
        return _open(rule, _NO_INPUT if total is None else _NO_VOLUME)
    if rule.jurisdiction.startswith("DE") and room.given.window is not True:
        said = "it needs a door or an opening window to outdoors"
        return (
            _off(rule, said) if room.given.window is False else _open(rule, f"{said}, and nobody said whether it has")
        )
    if _too_tight(room, rule):
        return _off(rule, _TOO_TIGHT)
    asked = combustion_air.room_volume_from_input(
        fuel_input=total, room_volume_per_input=rule.figures["room_volume_per_input"]
    )
    return _judged(room, rule, _ROOM, asked, volume, "room asked for = heat input x room per heat input")


def _by_leakage(room: Room, rule: AirRule) -> Standing:
    natural, fanned = room.input_of("natural"), room.input_of("fan-assisted")
    volume, changes = room.volume(joined=_joined(room, rule)), room.given.air_changes
    if natural is None or fanned is None or volume is None:
        return _open(rule, _NO_VOLUME if volume is None else _NO_INPUT)
    if changes is None or not changes.figure:
        return _open(rule, "nobody knows the air changes")
    if not room.given.leakage_known:
        return _open(rule, "the air changes are assumed, and this rule counts only known ones")
    asked = combustion_air.room_volume_from_air_changes(
        fuel_input=natural,
        fuel_input_fan_assisted=fanned,
        air_per_heat=rule.figures["air_per_heat"],
        air_per_heat_fan_assisted=rule.figures["air_per_heat_fan_assisted"],
        air_changes=room.reckoning.read(changes),
        most_air_changes=rule.figures["most_air_changes"],
    )
    return _judged(room, rule, _ROOM, asked, volume, "room asked for = heat input x air per heat / air changes")


def _needed(rule: AirRule, total: Number) -> Number:
    return combustion_air.opening_from_input(
        fuel_input=total,
        opening_per_input=rule.figures.get("opening_per_input", 0.0),
        free_input=rule.figures.get("free_input", 0.0),
        opening_base=rule.figures.get("opening_base", 0.0),
        opening_least=rule.figures.get("opening_least", 0.0),
    )


def _by_opening(
    kinds: tuple[str, ...], least: int, chosen: Callable[[list[Number]], Number], none: str, *, but: str = ""
) -> Callable[[Room, AirRule], Standing]:
    """Rules that compare openings of some kinds: at least so many, what of them is compared, at which height none."""

    def standing(room: Room, rule: AirRule) -> Standing:
        total = room.counted(rule)
        if total is None:
            return _open(rule, _NO_INPUT)
        side = rule.figures.get("opening_side", 0.0)
        areas = room.areas(*kinds, place=rule.jurisdiction, side=side, but=but)
        if len(areas) < least:
            return _off(rule, none)
        heights = {one.height for one in room.chosen(*kinds, side=side)}
        if least == 2 and heights in ({"low"}, {"high"}):
            return _off(rule, "one opening has to be low and one high")
        words = "opening asked for = base + (heat input - part that is free) x opening per heat input"
        return _judged(room, rule, _OPENING, _needed(rule, total), chosen(areas), words)

    return standing


def _first(areas: list[Number]) -> Number:
    return areas[0]


def _second(areas: list[Number]) -> Number:
    return areas[1]


def _one_or_two(areas: list[Number]) -> Number:
    """One opening, or two of which each brings half."""
    if len(areas) < 2:
        return areas[0] if areas else 0.0
    return ops.maximum(areas[0], 2.0 * areas[1])


_indoor = _by_opening(("indoors",), 2, _second, "there are not two openings to another room")


def _mixed(room: Room, rule: AirRule) -> Standing:
    """Room and one outdoor opening together, the opening reduced by what the room brings."""
    by_room, single = (burning_air.rule(f"{rule.id.removesuffix('-mixed')}-{of}") for of in ("room", "outdoor-single"))
    total, volume = room.counted(by_room), room.volume(joined=_joined(room, rule))
    side = single.figures["opening_side"]
    areas = room.areas(*OUTDOOR_KINDS, place=rule.jurisdiction, side=side, but="low")
    if total is None or volume is None:
        return _open(rule, _NO_INPUT if total is None else _NO_VOLUME)
    if _too_tight(room, by_room):
        return _off(rule, _TOO_TIGHT)
    if not areas:
        return _off(rule, "there is no high opening to outdoors that counts")
    full = combustion_air.room_volume_from_input(
        fuel_input=total, room_volume_per_input=by_room.figures["room_volume_per_input"]
    )
    share = combustion_air.outdoor_share_from_volumes(room_volume=volume, room_volume_needed=full)
    words = "opening asked for = one outdoor opening x (1 - room / room asked for)"
    return _judged(room, rule, _OPENING, share * _needed(single, total), areas[0], words)


def _by_fan(room: Room, rule: AirRule) -> Standing:
    total, fan = room.counted(rule), room.given.supply_fan
    if fan is None or fan.figure is None:
        return _off(rule, "no fan brings air from outdoors")
    if total is None or any(one.flow is None or one.flow.figure is None for one in room.given.exhausts):
        return _open(rule, _NO_INPUT if total is None else "the flow of a fan that takes air out is not known")
    asked = combustion_air.air_flow_from_input(fuel_input=total, air_per_heat=rule.figures["air_per_heat"])
    for one in room.given.exhausts:
        if one.flow is not None:
            asked = asked + room.reckoning.read(one.flow, words=f"air taken by {one.words}")
    there = room.reckoning.read(fan, words="air that the fan brings")
    words = "air asked for = heat input x air per heat + air that fans take out"
    return _judged(room, rule, ("burning_air_flow", "room_air_supply"), asked, there, words)


def _low_and_high(room: Room, rule: AirRule) -> Standing:
    if not any(one.over_pressure for one in room.given.open_fires):
        return _off(rule, "no flue stands above the pressure of the room")
    return _by_opening(OUTDOOR_KINDS, 2, _second, "there are not two openings to outdoors")(room, rule)


def _vent(room: Room, rule: AirRule) -> Standing:
    if room.given.tight_house:
        return _off(rule, "in a very tight house this rule asks for more")
    return _by_opening(OUTDOOR_KINDS, 0, lambda areas: sum(areas, 0.0), "")(room, rule)


def _sealed_only(room: Room, rule: AirRule) -> Standing:
    if not room.given.manufactured_home:
        return _off(rule, "this is no manufactured home")
    return Standing(rule, True, "short", why="an appliance takes its air from the home")


def _no_figures(room: Room, rule: AirRule) -> Standing:
    tight = room.given.tight_house
    return _open(rule, rule.text) if tight else _off(rule, "the house was not built very tight")


_NO_OUTDOORS = "there are not two openings to outdoors of this kind"
_FORMS: Mapping[str, Callable[[Room, AirRule], Standing]] = MappingProxyType(
    {
        "room volume": _by_volume,
        "room volume by air changes": _by_leakage,
        "two indoor openings": _indoor,
        "two outdoor openings": _by_opening(OUTDOOR_KINDS[:2], 2, _second, _NO_OUTDOORS),
        "two outdoor openings by horizontal duct": _by_opening(OUTDOOR_KINDS[2:], 2, _second, _NO_OUTDOORS),
        "one outdoor opening": _by_opening(OUTDOOR_KINDS, 1, _first, "there is no high opening to outdoors", but="low"),
        "joined rooms": _by_opening(("indoors",), 1, _first, "no opening joins the room to another"),
        "room and outdoor openings together": _mixed,
        "air by fan": _by_fan,
        "opening in one or two parts": _by_opening(OUTDOOR_KINDS, 0, _one_or_two, ""),
        "low and high openings": _low_and_high,
        "vent by input": _vent,
        "sealed only": _sealed_only,
        "no figures known": _no_figures,
    }
)


_NO_SHARE = "what the louvre leaves free was not stated, and no text of this place says what to count"


def _standing(room: Room, rule: AirRule) -> Standing:
    """How the room stands to a rule; where a louvre's free share is not known, what holds whatever it leaves."""
    form = _FORMS[rule.form]
    counted = [one for one in room.given.openings if one.counts and room.unstated(one, rule.jurisdiction)]
    if not counted:
        return form(room, rule)
    least, most = (form(replace(room, louvre=share), rule) for share in (0.0, 1.0))
    if least.stands == most.stands:
        return least
    return _open(rule, _NO_SHARE)


def _in_band(room: Room, rule: AirRule) -> bool:
    """Whether the heat lies in the band that a rule speaks of; a band is not left for an unread plate."""
    total = room.counted(rule)
    if total is None:
        return True
    value = float(ops.value_of(total))
    above, upto = rule.figures.get("input_above"), rule.figures.get("input_to")
    return (above is None or value > above) and (upto is None or value <= upto)


def stand(given: "AirForBurning", account: Account, reckoning: Reckoning) -> tuple[Standing, ...]:
    """How the room stands to every rule whose band and fuel fit, those of the place first."""
    room = Room(given, account, reckoning)
    fuel = _GROUPS.get(account.fuel.kind, "")
    spoken = {one.id for one in burning_air.speaking(jurisdiction=account.jurisdiction, fuel=fuel, day=account.day)}
    found = []
    for rule in burning_air.rules():
        if rule.form == "grilles" or (rule.fuels and fuel not in rule.fuels) or not _in_band(room, rule):
            continue
        one = _standing(room, rule)
        here = rule.id in spoken
        found.append(Standing(rule, here, one.stands, one.asked, one.there, one.odds, one.why))
    return tuple(sorted(found, key=lambda one: not one.here))
