"""Draft as it is typed: its sign and its unit are asked for where they may have slipped, and never turned round."""

import re
from collections.abc import Mapping
from typing import Any, cast

from fluewright.errors import UseError
from fluewright.evidence.draft.baseline import Baseline, Hose
from fluewright.evidence.draft.house import ZONES, Fan, HousePressure, Leaks, Warmth
from fluewright.evidence.draft.refusals import too_far
from fluewright.evidence.reading import Reading
from fluewright.quantity import parse

FINEST = 0.2
"""Pa: no gauge of the trade shows less, so that 0.02 Pa is a slipped unit."""
_BARE = re.compile(r"[-+−–\d.,/ ]+")
_UNIT = re.compile(r"[A-Za-z\"″].*$")


def asks_of(reading: Reading, *, pushes: bool, by_design: bool) -> Mapping[str, str]:
    """What to ask about a typed draft before it is taken: parts of an error, nothing when all is plain.

    reading    of the quantity draft
    pushes     whether somebody said that the gauge showed the flue pushing
    by_design  whether the vent is made to push
    """
    figure, typed = reading.figure, reading.typed
    if figure is None or too_far(reading, pushes_by_design=by_design):
        return {}
    ends = [abs(end) for end in (typed.value, typed.low, typed.high) if end]
    if typed.unit == "Pa" and ends and max(ends) < FINEST:
        return {
            "read": f"a draft of {typed.text}",
            "expected": "a figure that a gauge can show; -0.02 in w.c. is -5 Pa",
            "matters": "no gauge of the trade shows hundredths of a pascal; the unit may have slipped",
            "do": "type the unit that stood on the gauge",
        }
    lowest = min((end for end in (typed.value, typed.low, typed.high) if end is not None), default=figure)
    if lowest > 0.0 and not (pushes or by_design):
        return {
            "read": f"a draft of {typed.text}, above zero, at a flue that is made to pull",
            "expected": "a minus for suction, or word that the gauge showed the flue pushing",
            "matters": "with a plus the flue pushes gas into the room; only who stood at the gauge knows",
            "do": f"type -{typed.text.lstrip('+ ')} for suction; add pushes where it did push",
        }
    return {}


def asked_of(option: str, text: str, *, pushes: bool, by_design: bool) -> Reading:
    """A draft from the command line; UseError FW-U-270 where it has to be asked about.

    option  by which it came
    text    as typed
    """
    reading = Reading("draft", parse.parse(text, quantity="draft"))
    asks = asks_of(reading, pushes=pushes, by_design=by_design)
    if asks:
        raise UseError(
            code="FW-U-270",
            where=f"--{option}",
            read=asks["read"],
            expected=asks["expected"],
            matters=asks["matters"],
            do=asks["do"],
        )
    return reading


def several(option: str, text: str, quantity: str) -> tuple[Reading, ...]:
    """Values between semicolons; a bare one takes the unit of the last.

    option    by which they came
    text      such as "0; -1; -1; 0; -2 Pa"
    quantity  registry name
    """
    pieces = [piece.strip() for piece in text.split(";")]
    unit = _UNIT.search(pieces[-1])
    if not all(pieces):
        raise UseError(
            code="FW-U-271",
            where=f"--{option}",
            read=f"{text!r}, with nothing between two semicolons",
            expected="values between semicolons, such as '0; -1; -1; 0; -2 Pa'",
            matters="a value left out would make the scatter look smaller",
            do="type every value that was read",
        )
    whole = [f"{each} {unit[0]}" if unit and _BARE.fullmatch(each) else each for each in pieces]
    return tuple(Reading(quantity, parse.parse(each, quantity=quantity)) for each in whole)


def read(typed: Mapping[str, Any], option: str, quantity: str) -> Reading | None:
    """One option as a reading; None when it was not given."""
    text = typed.get(option.replace("-", "_"))
    return None if text is None else Reading(quantity, parse.parse(text, quantity=quantity))


def baseline_from(typed: Mapping[str, Any], quantity: str, option: str = "baseline") -> Baseline:
    """The options of a baseline, understood.

    typed     texts by option
    quantity  draft or house_pressure
    option    by which the values came
    """
    values = typed.get(option.replace("-", "_"))
    return Baseline(
        values=() if values is None else several(option, values, quantity),
        span=read(typed, "span", quantity),
        seconds=read(typed, "over", "duration"),
        doubt=read(typed, "doubt", quantity),
        hose=cast(Hose, typed.get("hose") or "not said"),
        gauge=typed.get("gauge") or "",
    )


def house_from(typed: Mapping[str, Any]) -> HousePressure:
    """The options of the house, understood; UseError FW-U-272 when they come to nothing.

    typed  texts by option
    """
    distance, outdoors, room = (
        read(typed, "distance", "chimney_height"),
        read(typed, "outdoors", "outdoor_temperature"),
        read(typed, "room", "room_temperature"),
    )
    warmth = None
    if distance is not None and outdoors is not None and room is not None:
        low, high = (read(typed, option, "opening_area") for option in ("low-opening", "high-opening"))
        warmth = Warmth(distance, outdoors, room, low, high)
    given = HousePressure(
        on=read(typed, "fans-on", "house_pressure"),
        off=baseline_from(typed, "house_pressure", "fans-off"),
        zone=ZONES[typed["zone"]] if typed.get("zone") else "",
        fans=tuple(_fan(number, text) for number, text in enumerate(typed.get("fan") or (), 1)),
        leaks=Leaks(
            flow=read(typed, "leakage", "leak_flow"),
            pressure=read(typed, "at", "depressurisation"),
            air_changes=read(typed, "air-changes", "tested_air_changes"),
            volume=read(typed, "volume", "room_volume"),
            exponent=read(typed, "exponent", "leakage_exponent"),
        ),
        warmth=warmth,
    )
    if given.on is None and not (given.fans and given.leaks.known) and warmth is None:
        raise UseError(
            code="FW-U-272",
            read="neither the room with its fans on, nor fans with leaks, nor openings with temperatures",
            expected="--fans-on with --fans-off, or --fan with --leakage, or --distance with --outdoors and --room",
            matters="one of the three has to be there to say anything",
            do="such as --fans-on=-4Pa --fans-off '0; -1; 0; 0; -1 Pa'",
        )
    return given


def _fan(number: int, text: str) -> Fan:
    unknown = text.strip().lower() in ("unknown", "?")
    flow = None if unknown else Reading("exhaust_flow", parse.parse(text, quantity="exhaust_flow"))
    return Fan(f"fan {number}", flow)
