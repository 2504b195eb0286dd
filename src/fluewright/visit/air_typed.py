"""Air for burning from what was typed on one line: appliances, openings and fans in short."""

from collections.abc import Mapping, Sequence
from typing import Any, cast, get_args

from fluewright.errors import UseError
from fluewright.evidence.combustion_air import (
    AirAppliance,
    AirForBurning,
    AirOpening,
    Draws,
    Exhaust,
    Grille,
    HowKnown,
    OpeningKind,
)
from fluewright.evidence.reading import Reading
from fluewright.quantity import parse
from fluewright.visit.parts.air_for_burning import area_of

KNOWN = get_args(HowKnown)
GRILLES = get_args(Grille)
APPLIANCES: Mapping[str, tuple[Draws, str]] = {
    "natural": ("natural", "each appliance that draws room air without a fan"),
    "fan-assisted": ("fan-assisted", "each that draws room air by a fan of its own"),
    "sealed": ("sealed", "each with a duct of its own for air"),
}
ROOM: Mapping[str, str] = {
    "volume": "of the room, such as 4800ft3",
    "joined-volume": "of rooms behind indoor openings",
    "air-changes": "with outdoor air, such as 0.35/h",
    "pressure": "that drives air in, such as 4Pa",
    "supply-fan": "air that a fan brings from outdoors",
}
OPENINGS: Mapping[str, tuple[OpeningKind, str]] = {
    "outdoors": ("outdoors", "each opening straight to outdoors"),
    "upright-duct": ("outdoors by upright duct", "each by an upright duct"),
    "level-duct": ("outdoors by level duct", "each by a level duct"),
    "indoors": ("indoors", "each opening to another room"),
}
_QUANTITIES = {
    "volume": "room_volume",
    "joined-volume": "room_volume",
    "air-changes": "air_changes",
    "pressure": "air_supply_pressure",
    "supply-fan": "room_air_supply",
}


def _reading(text: str, quantity: str, source: str = "typed") -> Reading:
    return Reading(quantity, parse.parse(text, quantity=quantity), source)


def _appliances(typed: Mapping[str, Any]) -> tuple[AirAppliance, ...]:
    found = []
    for option, (draws, _) in APPLIANCES.items():
        for number, text in enumerate(cast(Sequence[str], typed[option]), 1):
            heat, _, output = text.partition(",")
            found.append(
                AirAppliance(
                    f"{option} appliance {number}",
                    draws,
                    _reading(heat, "fuel_input", "from the plate"),
                    _reading(output, "heat_output", "from the plate") if output else None,
                )
            )
    if not found:
        raise UseError(
            code="FW-U-230",
            read="no appliance",
            expected="--natural, --fan-assisted or --sealed with the input of each",
            matters="the room is judged by what burns in it",
            do="such as --natural 100kBtu/h 40kBtu/h",
        )
    return tuple(found)


def _opening(text: str, words: str, kind: OpeningKind, grille: Grille) -> AirOpening:
    plain = text.strip()
    if plain[:1] in ("Ø", "ø"):
        made = area_of(width=None, height=None, diameter=_reading(plain[1:], "opening_side"))
    elif "x" in plain:
        first, _, second = plain.partition("x")
        unit = second.lstrip(" 0123456789.,/-")
        width = first if first.strip(" 0123456789.,/-") else f"{first}{unit}"
        made = area_of(width=_reading(width, "opening_side"), height=_reading(second, "opening_side"), diameter=None)
    else:
        return AirOpening(words, kind, _reading(plain, "opening_area"), grille=grille)
    if made is None:
        raise UseError(
            code="FW-U-231",
            read=f"an opening of {text}",
            expected="an area such as 100in2, two sides such as 10inx12in, or a diameter such as Ø150mm",
            matters="a range of sides gives no one area",
            do="give one figure for each side",
        )
    return AirOpening(words, kind, made[0], made[1], grille=grille)


def _exhaust(number: int, text: str) -> Exhaust:
    unknown = text.strip().lower() in ("unknown", "?")
    return Exhaust(f"fan {number}", None if unknown else _reading(text, "exhaust_flow"))


def given_from(typed: Mapping[str, Any]) -> AirForBurning:
    """What was typed, understood.

    typed  texts by option, without dashes in front
    -> what was seen; QuantityError for a value that is none, UseError FW-U-230 without an appliance
    """
    grille = cast(Grille, typed["grille"])
    read = {name: _reading(typed[name], of) for name, of in _QUANTITIES.items() if typed[name] is not None}
    openings = tuple(
        _opening(text, f"{option} opening {number}".replace("-", " "), kind, grille)
        for option, (kind, _) in OPENINGS.items()
        for number, text in enumerate(typed[option], 1)
    )
    return AirForBurning(
        appliances=_appliances(typed),
        openings=openings,
        exhausts=tuple(_exhaust(number, text) for number, text in enumerate(typed["exhaust"], 1)),
        volume=read.get("volume"),
        joined_volume=read.get("joined-volume"),
        air_changes=read.get("air-changes"),
        air_changes_known=typed["air-changes-known"],
        window=typed["window"],
        tight_house=typed["tight-house"],
        manufactured_home=typed["manufactured-home"],
        pressure=read.get("pressure"),
        supply_fan=read.get("supply-fan"),
        no_exhausts=typed["no-exhausts"],
    )
