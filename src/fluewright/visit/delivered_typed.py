"""Heat delivered from what was typed: blower tables, traverses, flue readings for a balance. Both doors meet here."""

from collections.abc import Mapping, Sequence
from typing import get_args

from fluewright.errors import VisitError
from fluewright.evidence.air_ways import BlowerTable, Method, Traverse
from fluewright.evidence.reading import Reading
from fluewright.kernel.constants import PI
from fluewright.quantity import parse

METHODS: tuple[Method, ...] = get_args(Method)

AIR_READINGS: Mapping[str, str] = {
    "return_air": "return_air_temperature",
    "supply_air": "supply_air_temperature",
    "supply_static": "supply_static",
    "return_static": "return_static",
    "filter": "filter_drop",
    "coil": "coil_drop",
    "supply_ducts": "supply_drop",
    "return_ducts": "return_drop",
    "blower": "blower_power",
    "output": "heat_output",
}
"""Keys of the air side and the quantities they mean."""
WATER_READINGS: Mapping[str, str] = {
    "return": "return_water_temperature",
    "supply": "supply_water_temperature",
    "flow": "water_flow",
    "glycol": "glycol_share",
    "output": "heat_output",
}
CYCLING_READINGS: Mapping[str, str] = {
    "on": "burner_on_time",
    "off": "burner_off_time",
    "input": "fuel_input",
    "pilot": "pilot_input",
    "output": "heat_output",
    "idle_loss": "idle_loss",
}
BALANCE_READINGS: Mapping[str, str] = {
    "input": "fuel_input",
    "second_input": "fuel_input",
    "output": "heat_output",
}
BALANCE_KEYS: Mapping[str, str] = {
    "input": "fuel_input",
    "second_input": "second_input",
    "output": "heat_output",
}
"""Under which key the balance keeps each."""


def figure(text: str, quantity: str) -> float:
    """One figure in its canonical unit; QuantityError for a range, a bound or a word."""
    return float(parse.single(text, quantity=quantity).value or 0.0)


def reading(text: str, quantity: str) -> Reading:
    """One reading, ranges and bounds too."""
    return Reading(quantity, parse.parse(text, quantity=quantity))


def table_of(pairs: Sequence[tuple[str, str]], *, tap: str) -> BlowerTable:
    """A blower table from typed rows.

    pairs  static pressure and air flow of each row, as typed
    tap    words of the speed tap
    -> table, pressures rising; QuantityError for what cannot be read, VisitError when it is no table
    """
    rows = sorted((figure(low, "static_pressure"), figure(flow, "air_flow")) for low, flow in pairs)
    pressures = [each for each, _ in rows]
    if len(rows) < 2 or len(set(pressures)) < len(rows):
        raise VisitError(
            code="FW-V-080",
            read=f"a blower table of {len(rows)} row{'' if len(rows) == 1 else 's'}, "
            f"{len(set(pressures))} of them of a pressure of its own",
            expected="two rows or more, each static pressure once",
            matters="between fewer there is nothing to read, and of two flows at one pressure one is wrong",
            do="copy the rows of the tap in use from the maker's table",
        )
    return BlowerTable(tap, tuple(rows))


def pair_of(text: str) -> tuple[str, str]:
    """One row of a blower table, as static pressure = air flow; VisitError for another form."""
    pressure, sign, flow = text.partition("=")
    if not sign or not pressure.strip() or not flow.strip():
        raise VisitError(
            code="FW-V-081",
            read=f"the row {text!r} of a blower table",
            expected="static pressure = air flow, such as '0.5 inwc = 1200 cfm'",
            matters="without both, a row says nothing",
            do="write it as pressure, an equals sign, and flow",
        )
    return pressure.strip(), flow.strip()


def area_of(*, area: str, side: str, other_side: str, diameter: str) -> Reading:
    """The area of a duct as typed, or from its sides or its diameter.

    area                    such as 2.2 ft2, or empty
    side, other_side        of a rectangular duct, or empty
    diameter                of a round duct, or empty
    -> reading of duct_area; VisitError when not exactly one of the three ways was used
    """
    ways = [bool(area), bool(side and other_side), bool(diameter)]
    if sum(ways) != 1 or bool(side) != bool(other_side):
        raise VisitError(
            code="FW-V-082",
            read="no area of the duct, or several" if sum(ways) != 1 else "one side of a duct",
            expected="one of: area; both sides; diameter",
            matters="a flow is the velocity times this area",
            do="give the inside of the duct once, in one way",
        )
    if area:
        return reading(area, "duct_area")
    if diameter:
        size = PI / 4.0 * figure(diameter, "length") ** 2
    else:
        size = figure(side, "length") * figure(other_side, "length")
    typed = parse.parse(f"{size:.6g} m2", quantity="duct_area")
    return Reading("duct_area", typed)


def traverse_of(points: Sequence[str], *, area: Reading, method: Method) -> Traverse:
    """A traverse from typed velocity pressures; VisitError for fewer than four."""
    if len(points) < 4:
        raise VisitError(
            code="FW-V-083",
            read=f"a traverse of {len(points)} point{'' if len(points) == 1 else 's'}",
            expected="four points or more, 16 and more for a rectangular duct",
            matters="one point in the middle of a duct reads high, and nothing shows by how much",
            do="lay points out over the whole section, each for an equal area",
        )
    return Traverse(tuple(reading(each, "velocity_pressure") for each in points), area, method)


def range_of(text: str, quantity: str) -> tuple[float | None, float | None]:
    """What a plate allows, as 40..70 F, or as at most one figure."""
    typed = parse.parse(text, quantity=quantity)
    if typed.kind == "range":
        return typed.low, typed.high
    if typed.kind == "bound":
        return typed.low, typed.high
    return None, typed.value


def readings_of(typed: Mapping[str, str], meant: Mapping[str, str]) -> dict[str, Reading]:
    """Typed values by the registry name of what they mean; InputError for what cannot be understood."""
    return {meant[key]: reading(text, meant[key]) for key, text in typed.items()}
