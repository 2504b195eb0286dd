"""What the air side says: sentences, findings against the plate, and what stays open."""

from collections.abc import Iterator, Mapping
from typing import TYPE_CHECKING

from fluewright.evidence.delivered import AIR, AgainstPlate, HeatCarried, against_plate
from fluewright.evidence.finding import PHYSICS, Finding, Grade
from fluewright.evidence.limits import seen
from fluewright.evidence.origins import spread_of
from fluewright.evidence.part import Derived, Piece, Seen, Statement, Voiced
from fluewright.evidence.reading import Account
from fluewright.evidence.result import Result
from fluewright.quantity import names, show

if TYPE_CHECKING:
    from fluewright.evidence.delivered_air import AirSide

Results = Mapping[str, Result]

DROPS = ("filter_drop", "coil_drop", "supply_drop", "return_drop")
HOLDS_ITS_OWN = ("constant torque", "constant airflow")
_LOOK = "look at filter, coil, registers and wheel; read the static pressures"


def _plate(low: float | None, high: float | None, quantity: str, account: Account) -> str:
    """The plate beside a line, empty when it was not read."""
    ends = [show.shown(v, quantity=quantity, system=account.system) for v in (low, high) if v is not None]
    return f"plate {' to '.join(ends)}" if ends else ""


def _warmth(given: "AirSide", results: Results, account: Account) -> Iterator[Statement]:
    cool, warm = (given.readings.get(f"{place}_air_temperature") for place in ("return", "supply"))
    pieces: list[Piece] = []
    for reading in (cool, warm):
        if reading is not None:
            pieces += [
                *([", "] if pieces else []),
                f"{names.of(reading.quantity).words} ",
                Seen(reading.quantity, reading),
            ]
    if not pieces:
        return
    if "air_rise" in results:
        pieces += [": a rise of ", Derived("air_rise")]
    plate = _plate(given.plate.rise_least, given.plate.rise_most, "air_rise", account)
    compared = "thermometers compared first" if given.compared else ""
    yield Statement((*pieces, "."), margin="; ".join(words for words in (plate, compared) if words))


def _pressures(given: "AirSide", results: Results, account: Account) -> Iterator[Statement]:
    pieces: list[Piece] = []
    for name in ("supply_static", "return_static"):
        if name in given.readings:
            pieces += [", " if pieces else "static pressure of the "]
            pieces += [f"{name.removesuffix('_static')} ", Seen(name, given.readings[name])]
    if "external_static" in results:
        pieces += [", against the room: ", Derived("external_static"), " in all"]
    if pieces:
        yield Statement((*pieces, "."), margin=_plate(None, given.plate.static, "external_static", account))
    drops: list[Piece] = []
    for name in DROPS:
        if name in given.readings:
            words = names.of(name).words
            drops += [*([", "] if drops else []), f"{words} ", Seen(name, given.readings[name])]
    if "static_unexplained" in results:
        drops += ["; ", Derived("static_unexplained"), " is left over"]
    if drops:
        yield Statement((*drops, "."))
    if given.motor != "not said":
        yield Statement((f"the blower's motor: {given.motor}.",))


def _flows(given: "AirSide", results: Results, carried: HeatCarried | None) -> Iterator[Statement]:
    if given.table is not None:
        tap = Voiced(given.table.tap or "tap not named", "plate")
        yield Statement(("by the blower table, ", tap, ": ", Derived("air_flow_by_table"), "."), mark="derived")
    if given.traverse is not None and "duct_velocity" in results:
        count = len(given.traverse.readings)
        yield Statement(
            (
                f"a traverse of {count} points over ",
                Seen("duct_area", given.traverse.area),
                ": ",
                Derived("duct_velocity"),
                ", so ",
                Derived("air_flow_by_traverse"),
                "; the 4005 form for standard air gives ",
                Derived("duct_velocity_handbook"),
                ".",
            ),
            margin=f"points: {given.traverse.method}",
        )
    if carried is not None and "air_flow" in results:
        heat: Piece = Seen("heat_output", carried.typed) if carried.typed is not None else carried.figures
        words: tuple[Piece, ...] = ("to carry ", heat, f", {carried.words}, at this rise takes ", Derived("air_flow"))
        plane = f"at the {given.plane}"
        beside: tuple[Piece, ...] = (f" {plane}; the 1.08 form gives ", Derived("air_flow_handbook"), ".")
        yield Statement((*words, *beside), mark="derived")


def _heat(given: "AirSide", results: Results) -> Iterator[Statement]:
    if "air_factor" in results:
        yield Statement(
            (f"each volume of air at the {given.plane} carries ", Derived("air_factor"), "."), mark="derived"
        )
    power = given.readings.get("blower_power")
    if power is not None:
        where = {"yes": "its heat is in the rise", "no": "its heat is not in the rise"}.get(given.blower_between, "")
        said = where or "nobody said whether its heat is in the rise"
        yield Statement(("the blower takes ", Seen("blower_power", power), f"; {said}."))
    if "heat_output" in results and not results["heat_output"].refused:
        yield Statement(("the air took up ", Derived("heat_output"), " at this moment."), mark="derived")


def statements(
    given: "AirSide", results: Results, carried: HeatCarried | None, account: Account
) -> tuple[Statement, ...]:
    """The air side in sentences."""
    return (
        *_warmth(given, results, account),
        *_pressures(given, results, account),
        *_flows(given, results, carried),
        *_heat(given, results),
    )


def _against(given: "AirSide") -> Iterator[AgainstPlate]:
    """Everything a plate says, as questions."""
    plate, rise = given.plate, "Air: the temperature rise {} "
    rows: tuple[tuple[float | None, str, str, str, str, str], ...] = (
        (plate.rise_most, "air-rise-high", "air_rise", "at most", rise + "above the plate",
         "Too little air, or too much fire: the exchanger runs hot and the limit switch may trip."),
        (plate.rise_least, "air-rise-low", "air_rise", "at least", rise + "below the plate",
         "Too much air, or too little fire: flue gas may condense where it must not."),
        (plate.static, "static-over-plate", "external_static", "at most",
         "Air: the total external static pressure {} above the plate", "The blower moves less air than it should, or "
         "takes more power for it."),
        (plate.filter_drop, "filter-over-budget", "filter_drop", "at most", "Air: the filter {} taking more than "
         "planned", "What the filter takes is missing elsewhere."),
        (plate.coil_drop, "coil-over-budget", "coil_drop", "at most", "Air: the coil {} taking more than planned",
         "A dirty or undersized coil; its faces show which."),
    )  # fmt: skip
    for limit, code, key, sense, lead, matters in rows:
        if limit is not None:
            grade: Grade = "act" if code == "air-rise-high" else "advise"
            yield AgainstPlate(code, key, limit, sense, grade, lead, matters, (_LOOK,))


def _flow_wanted(given: "AirSide", results: Results, account: Account) -> Finding | None:
    """The air flow against the flow that the maker wants, by the best way there is."""
    key = next((k for k in ("air_flow_by_traverse", "air_flow_by_table", "air_flow") if k in results), None)
    if given.plate.flow is None or key is None:
        return None
    lead, why = "Air: the air flow {} lower than the maker wants", "Low air makes a high rise and a hot exchanger."
    asked = AgainstPlate("low-airflow", key, given.plate.flow, "at least", "advise", lead, why, (_LOOK,))
    return against_plate(asked, results[key], AIR, account)


def _wrong_sign(given: "AirSide") -> Finding | None:
    """A return that reads above the room."""
    back = given.readings.get("return_static")
    if back is None or back.figure is None or back.figure <= 0.0:
        return None
    return Finding(
        "return-above-room",
        "open",
        "Air: the return reads above the room.",
        f"{back.typed.text} without a minus: ahead of a blower the pressure lies below the room. With the sign lost, "
        "the total is too small by twice this reading. Taken as typed.",
        ((AIR, "return_static"),),
        PHYSICS,
        do_next=("look at the sign and the hoses, and read again",),
    )


def _left_over(results: Results, account: Account) -> Finding | None:
    """Drops that do not add up to the total."""
    left = results.get("static_unexplained")
    if left is None or left.value is None or abs(left.value) <= 2.0 * left.spread:
        return None
    return Finding(
        "static-left-over",
        "open",
        "Air: the pressure drops do not add up to the total.",
        f"{seen(left, account)} is left over. A drop that nobody read, a tap in a jet or an elbow, or readings at two "
        "speeds of the blower.",
        ((AIR, "static_unexplained"),),
        PHYSICS,
        do_next=("read all of them again at one speed, panels on",),
    )


def _no_rise(results: Results) -> Finding | None:
    """Supply air no warmer than return air."""
    rise = results.get("air_rise")
    if rise is None or rise.value is None or rise.value > 0.0:
        return None
    return Finding(
        "no-air-rise",
        "open",
        "Air: the supply is no warmer than the return.",
        "Either the burner was off or the two thermometers are swapped. No flow and no heat is worked out from it.",
        ((AIR, "air_rise"),),
        PHYSICS,
        do_next=("read again in steady burning",),
    )


def findings(given: "AirSide", results: Results, account: Account) -> Iterator[Finding]:
    """Everything the air side has to say."""
    measured = dict(results)
    for name in ("filter_drop", "coil_drop"):
        reading = given.readings.get(name)
        if reading is not None and reading.figure is not None and not reading.bound:
            below, above = spread_of(reading, account.instrument)
            measured[name] = Result(name, reading.figure, below, above, None)
    found = [against_plate(asked, measured.get(asked.key), AIR, account) for asked in _against(given)]
    found += [
        _flow_wanted(given, results, account),
        _wrong_sign(given),
        _left_over(results, account),
        _no_rise(results),
    ]
    yield from (one for one in found if one is not None)


def cannot_tell(given: "AirSide", results: Results) -> tuple[str, ...]:
    """What the air side leaves open."""
    said = []
    if given.motor in HOLDS_ITS_OWN:
        said.append(
            f"The motor holds {given.motor.removeprefix('constant ')}: more static pressure shows as power, not as "
            "less air, and the fan laws say nothing of it."
        )
    if "air_rise" in results and results.get("heat_output", None) is not None and results["heat_output"].refused:
        said.append("A rise alone tells neither air flow nor heat: much fire and much air look like little of both.")
    if "blower_power" in given.readings and given.blower_between == "not said":
        said.append("Whether the blower's heat lies between the two thermometers: nobody said, and it is left out.")
    return tuple(said)
