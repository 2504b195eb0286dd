"""The tables of a visit file about air for burning: room, openings, appliances and fans."""

from collections.abc import Mapping
from dataclasses import replace
from typing import Any, get_args

from fluewright.evidence.combustion_air import (
    AirAppliance,
    AirForBurning,
    AirOpening,
    Draws,
    Exhaust,
    Grille,
    Height,
    HowKnown,
    OpeningKind,
)
from fluewright.evidence.part import Measured
from fluewright.evidence.reading import Reading
from fluewright.kernel.constants import PI
from fluewright.quantity.meaning import Typed
from fluewright.visit.shape import Form
from fluewright.visit.source import Source

TABLE = "air_for_burning"

FORM = Form(
    tables={
        TABLE: (
            "volume",
            "joined_volume",
            "air_changes",
            "air_changes_known",
            "window",
            "tight_house",
            "manufactured_home",
            "pressure",
            "supply_fan",
            "no_exhausts",
            "opening",
            "appliance",
            "exhaust",
        ),
        f"{TABLE}.opening": (
            "words",
            "kind",
            "area",
            "width",
            "height",
            "diameter",
            "side",
            "grille",
            "free_share",
            "place",
            "blocked",
            "can_be_shut",
        ),
        f"{TABLE}.appliance": ("words", "draws", "input", "output", "over_pressure"),
        f"{TABLE}.exhaust": ("words", "flow"),
    },
    required={f"{TABLE}.opening": ("words",), f"{TABLE}.appliance": ("words",), f"{TABLE}.exhaust": ("words",)},
    lists=(f"{TABLE}.opening", f"{TABLE}.appliance", f"{TABLE}.exhaust"),
)

ROUND = PI / 4.0
"""Area of a circle over that of the square around it, pi / 4."""


def area_of(
    *, width: Reading | None, height: Reading | None, diameter: Reading | None
) -> tuple[Reading, Reading] | None:
    """Area and shortest side of an opening from its sides or its diameter.

    width, height, diameter  readings of the shortest side as quantity; ranges give no area
    -> area and side, None when they give none
    """
    sides = [one for one in (width, height) if one is not None and one.typed.kind == "value"]
    if diameter is not None and diameter.typed.kind == "value":
        sides, share = [diameter, diameter], ROUND
    elif len(sides) == 2:
        share = 1.0
    else:
        return None
    one, two = (side.figure or 0.0 for side in sides)
    text = " x ".join(side.typed.text for side in (sides[:1] if share < 1.0 else sides))
    area = share * one * two
    typed = Typed(text, "opening_area", "value", area, None, None, "cm2", "", 0, 1e-4)
    return Reading("opening_area", typed), min(sides, key=lambda side: side.figure or 0.0)


def _opening(file: Source, place: str, row: Mapping[str, Any]) -> AirOpening:
    def side(key: str) -> Reading | None:
        return file.reading(place, row, key, "opening_side")

    made = area_of(width=side("width"), height=side("height"), diameter=side("diameter"))
    area = file.reading(place, row, "area", "opening_area")
    if area is not None and made is not None:
        file.gathered.add(
            code="FW-V-030",
            place=place,
            read="both an area and the sides it would follow from",
            expected="one of them",
            matters="they may disagree, and then nobody knows how large the opening is",
            do="keep the sides if they were measured",
        )
    opening = AirOpening(
        words=file.text(place, row, "words"),
        area=area,
        side=side("side"),
        free_share=file.reading(place, row, "free_share", "free_share"),
        blocked=bool(file.flag(place, row, "blocked")),
        can_be_shut=bool(file.flag(place, row, "can_be_shut")),
    )
    kind: Any = file.choice(place, row, "kind", get_args(OpeningKind))
    grille: Any = file.choice(place, row, "grille", get_args(Grille))
    height: Any = file.choice(place, row, "place", get_args(Height))
    opening = replace(opening, kind=kind, grille=grille, height=height)
    return opening if made is None else replace(opening, area=made[0], side=opening.side or made[1])


def _appliance(file: Source, place: str, row: Mapping[str, Any]) -> AirAppliance:
    draws: Any = file.choice(place, row, "draws", get_args(Draws))
    return AirAppliance(
        file.text(place, row, "words"),
        draws,
        _plate(file.reading(place, row, "input", "fuel_input")),
        _plate(file.reading(place, row, "output", "heat_output")),
        bool(file.flag(place, row, "over_pressure")),
    )


def _plate(reading: Reading | None) -> Reading | None:
    return None if reading is None else replace(reading, source="from the plate")


def read(file: Source) -> tuple[Measured, ...]:
    """The air for burning as the file tells it; nothing when the table is not there."""
    if TABLE not in file.tree:
        return ()
    table = file.table(TABLE)
    known: Any = file.choice(TABLE, table, "air_changes_known", get_args(HowKnown))

    def made() -> AirForBurning:
        return AirForBurning(
            appliances=tuple(_appliance(file, place, row) for place, row in file.rows("appliance", table, TABLE)),
            openings=tuple(_opening(file, place, row) for place, row in file.rows("opening", table, TABLE)),
            exhausts=tuple(
                Exhaust(file.text(place, row, "words"), file.reading(place, row, "flow", "exhaust_flow"))
                for place, row in file.rows("exhaust", table, TABLE)
            ),
            volume=file.reading(TABLE, table, "volume", "room_volume"),
            joined_volume=file.reading(TABLE, table, "joined_volume", "room_volume"),
            air_changes=file.reading(TABLE, table, "air_changes", "air_changes"),
            air_changes_known=known,
            window=file.flag(TABLE, table, "window"),
            tight_house=file.flag(TABLE, table, "tight_house"),
            manufactured_home=bool(file.flag(TABLE, table, "manufactured_home")),
            pressure=file.reading(TABLE, table, "pressure", "air_supply_pressure"),
            supply_fan=file.reading(TABLE, table, "supply_fan", "room_air_supply"),
            no_exhausts=bool(file.flag(TABLE, table, "no_exhausts")),
        )

    given = file.asked(TABLE, made)
    if given is None:
        return ()
    _need_appliance(file, given)
    _need_one_word(file, given)
    return (given,)


def _need_appliance(file: Source, given: AirForBurning) -> None:
    """A room without a flame needs no air."""
    if given.appliances:
        return
    file.gathered.add(
        code="FW-V-031",
        place=TABLE,
        read="no appliance",
        expected=f"an [[{TABLE}.appliance]] for each flame in the room, sealed ones too",
        matters="the room is judged by what burns in it, all of it together",
        do="write one for each, with words, draws and input",
    )


def _need_one_word(file: Source, given: AirForBurning) -> None:
    """Whether fans take air out; not both answers."""
    if not (given.no_exhausts and given.exhausts):
        return
    file.gathered.add(
        code="FW-V-039",
        place=f"{TABLE}, no_exhausts",
        read="no fan that takes air out, and one",
        expected="one of them",
        matters="a fan may take the air that the flames need",
        do="take out no_exhausts, or the fan that is not there",
    )
