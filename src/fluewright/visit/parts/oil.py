"""The tables of a visit file about oil: supply, nozzles, start, tank; smoke papers and the curve against air."""

from collections.abc import Callable, Mapping
from typing import Any, cast, get_args

from fluewright.evidence import papers
from fluewright.evidence.nozzle import nozzle_of
from fluewright.evidence.oil import OilSupply
from fluewright.evidence.oil_given import Fitted, FittedWord, OilGiven, Pipes, Tank
from fluewright.evidence.part import Measured
from fluewright.evidence.reading import Reading
from fluewright.evidence.smoke import Colour, Head, Smoke
from fluewright.evidence.smoke_curve import CurvePoint
from fluewright.visit.shape import Form
from fluewright.visit.source import Source

READINGS: Mapping[str, str] = {
    "pump_pressure": "oil_pressure",
    "pressure_held": "oil_pressure",
    "measured_flow": "oil_flow",
    "vacuum": "suction_vacuum",
    "lift": "suction_lift",
    "run": "oil_line_length",
    "bore": "oil_line_bore",
    "pump_flow": "oil_flow",
    "oil_temperature": "oil_temperature",
    "coldest_oil": "oil_temperature",
    "warmest_oil": "oil_temperature",
    "tuned_oxygen": "oxygen_dry",
    "lit_after": "ignition_time",
    "lock_out": "lock_out_time",
    "lock_out_plate": "lock_out_time",
    "over_fire_oxygen": "oxygen_dry",
    "breech_oxygen": "oxygen_dry",
    "over_fire_draft": "draft",
    "breech_draft": "draft",
}
"""Keys of [oil_supply] that are readings, with the quantity each is of."""

OF_SMOKE: Mapping[str, str] = {
    "since_lit": "minutes_since_lit",
    "water": "supply_water_temperature",
    "transmission": "smoke_transmission",
    "reflectance": "smoke_reflectance",
}
"""Keys of [smoke] that are readings, papers apart."""

FORM = Form(
    tables={
        "oil_supply": (*READINGS, "pipes", "tank", "nozzle"),
        "oil_supply.nozzle": ("word", "stamp", "time"),
        "smoke": (*OF_SMOKE, "papers", "head", "built", "changed", "colour", "wet", "uneven", "point"),
        "smoke.point": ("co2", "o2", "papers"),
    },
    required={"oil_supply.nozzle": ("word", "stamp"), "smoke.point": ("papers",)},
    lists=("oil_supply.nozzle", "smoke.point"),
)


def _readings(file: Source, place: str, table: Mapping[str, Any], keys: Mapping[str, str]) -> dict[str, Reading]:
    read = {key: file.reading(place, table, key, quantity) for key, quantity in keys.items()}
    return {key: reading for key, reading in read.items() if reading is not None}


def _nozzles(file: Source, table: Mapping[str, Any]) -> tuple[Fitted, ...]:
    found = []
    for place, row in file.rows("nozzle", table, "oil_supply"):
        word = file.choice(place, row, "word", get_args(FittedWord))
        stamp = file.text(place, row, "stamp")
        nozzle = file.asked(f"{place}, stamp", lambda stamp=stamp: nozzle_of(stamp))  # type: ignore[misc]
        if nozzle is not None:
            found.append(Fitted(cast(FittedWord, word), nozzle, file.clock(place, row)))
    return tuple(found)


def _supply(file: Source) -> tuple[Measured, ...]:
    table = file.table("oil_supply")
    if not table:
        return ()
    given = OilGiven(
        nozzles=_nozzles(file, table),
        pipes=cast(Pipes, file.choice("oil_supply", table, "pipes", get_args(Pipes))),
        tank=cast(Tank, file.choice("oil_supply", table, "tank", get_args(Tank))),
        **_readings(file, "oil_supply", table, READINGS),
    )
    return (OilSupply(given),)


def _papers(file: Source, place: str, table: Mapping[str, Any]) -> Reading | None:
    """Papers as a list or as one text; None when absent or not understood."""
    if "papers" not in table:
        return None
    text = papers.listed(table["papers"])
    return file.asked(f"{place}, papers", lambda: papers.reading_of(text))


def _year(file: Source, table: Mapping[str, Any]) -> int | None:
    year = table.get("built")
    if year is None or (isinstance(year, int) and not isinstance(year, bool) and 1850 <= year <= 2200):
        return year
    file.gathered.add(
        code="FW-V-067",
        place="smoke, built",
        read=f"{year!r}",
        expected="the year the burner was built, such as 1986, without quotes",
        matters="an old burner may keep an older limit",
        do="read the year off its plate, or leave it out",
    )
    return None


def _point(file: Source, place: str, row: Mapping[str, Any]) -> CurvePoint | None:
    """One point of the curve, by carbon dioxide or by oxygen."""
    by = [key for key in ("co2", "o2") if key in row]
    if len(by) != 1:
        file.gathered.add(
            code="FW-V-068",
            place=place,
            read="both carbon dioxide and oxygen" if by else "neither carbon dioxide nor oxygen",
            expected='one of them, such as co2 = "11.5 %"',
            matters="a curve is drawn against one of them, the same at every point",
            do="keep the one that the instrument reads",
        )
        return None
    air = file.reading(place, row, by[0], {"co2": "carbon_dioxide_dry", "o2": "oxygen_dry"}[by[0]])
    smoke = _papers(file, place, row)
    return None if air is None or smoke is None else CurvePoint(air, smoke)


def _points(file: Source, table: Mapping[str, Any]) -> tuple[CurvePoint, ...]:
    rows = file.rows("point", table, "smoke")
    found = [point for place, row in rows if (point := _point(file, place, row)) is not None]
    if len({point.air.quantity for point in found}) > 1:
        file.gathered.add(
            code="FW-V-069",
            place="smoke, point",
            read="points by oxygen and points by carbon dioxide in one curve",
            expected="one of the two at every point",
            matters="they run opposite ways, and a knee between them would be none",
            do="write the whole curve by one of them",
        )
        return ()
    return tuple(found)


def _smoke(file: Source) -> tuple[Measured, ...]:
    table = file.table("smoke")
    if not table:
        return ()
    return (
        Smoke(
            papers=_papers(file, "smoke", table),
            head=cast(Head, file.choice("smoke", table, "head", get_args(Head))),
            built=_year(file, table),
            changed=file.flag("smoke", table, "changed"),
            colour=cast(Colour, file.choice("smoke", table, "colour", get_args(Colour))),
            wet=bool(file.flag("smoke", table, "wet")),
            uneven=bool(file.flag("smoke", table, "uneven")),
            points=_points(file, table),
            **_readings(file, "smoke", table, OF_SMOKE),
        ),
    )


def read(file: Source) -> tuple[Measured, ...]:
    """Oil supply and smoke, as far as the file tells of them."""
    readers: tuple[Callable[[Source], tuple[Measured, ...]], ...] = (_supply, _smoke)
    return tuple(measured for reader in readers for measured in reader(file))
