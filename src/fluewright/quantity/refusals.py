"""The refusals of this room, each with its four parts; one function a code, so that the wording stays in one place."""

from collections.abc import Sequence

from fluewright.errors import QuantityError
from fluewright.quantity.meaning import Quantity

_EVIDENCE = "a reading is evidence, so nothing is guessed in the technician's place"
_UNIT = "the same figure in another unit is another reading"


def _listed(items: Sequence[str]) -> str:
    return items[0] if len(items) == 1 else f"{', '.join(items[:-1])} or {items[-1]}"


_EXAMPLES = {
    "%": "4.3 %",
    "ppm": "50 ppm",
    "°F": "385 °F",
    "in w.c.": "-0.02 in w.c.",
    "inHg": "29.92 inHg",
    "kBtu/h": "100 kBtu/h",
    "gph": "0.65 gph",
    "psi": "140 psi",
    "ft": "1500 ft",
    "µA": "3.2 µA",
}


def _example(quantity: Quantity) -> str:
    if quantity.name == "gas_pressure":
        return "3.5 in w.c."
    unit = quantity.shown_us
    return _EXAMPLES.get(unit, "2" if unit == "1" else f"12 {unit}")


def _a(noun: str) -> str:
    return f"{'an' if noun[0] in 'aeiou' else 'a'} {noun}"


def unknown_quantity(name: str, known: Sequence[str]) -> QuantityError:
    """FW-Q-012: nobody knows a quantity of this name."""
    import difflib

    near = difflib.get_close_matches(name.lower(), known, n=3, cutoff=0.5)
    return QuantityError(
        code="FW-Q-012",
        read=f'"{name}" as the name of a quantity',
        expected=f"a name such as {_listed(near or ['oxygen_dry', 'flue_temperature', 'draft'])}",
        matters="a number without its meaning cannot be checked, converted or used",
        do="spell the name as in docs/quantities.md, or use a trade name such as o2, co, stack, draft",
    )


def empty(quantity: Quantity) -> QuantityError:
    """FW-Q-001: nothing was typed."""
    return QuantityError(
        code="FW-Q-001",
        read=f"nothing, where {quantity.words} is asked for",
        expected=f"a value such as {_example(quantity)}",
        matters="a missing reading is not a zero, and never counts as safe",
        do="type the value, or leave the reading out and say why it was not possible",
    )


def too_long(length: int, quantity: Quantity) -> QuantityError:
    """FW-Q-014: far more text than any value needs."""
    return QuantityError(
        code="FW-Q-014",
        read=f"{length} characters, where {quantity.words} is asked for",
        expected=f"a value such as {_example(quantity)}, at most 80 characters",
        matters="text of that length holds more than one reading",
        do="type one value; put remarks into the note",
    )


def no_number(text: str, quantity: Quantity) -> QuantityError:
    """FW-Q-002: no number at the place where one belongs."""
    return QuantityError(
        code="FW-Q-002",
        read=f'"{text}" for {quantity.words}',
        expected=f"a number first, such as {_example(quantity)}, a range 40..120, a bound >2000, or rising",
        matters=_EVIDENCE,
        do="type the figure the instrument shows; if it shows over range, type > and the top of its range",
    )


def not_finite(text: str, quantity: Quantity) -> QuantityError:
    """FW-Q-006: not a number, or one without end."""
    return QuantityError(
        code="FW-Q-006",
        read=f'"{text}" for {quantity.words}',
        expected=f"a finite number such as {_example(quantity)}",
        matters="results from a number without end would look like results and mean nothing",
        do="type what the instrument shows; if it shows over range, type > and the top of its range",
    )


def unknown_unit(text: str, quantity: Quantity, fitting: Sequence[str]) -> QuantityError:
    """FW-Q-003: a unit nobody knows."""
    return QuantityError(
        code="FW-Q-003",
        read=f'unit "{text}" for {quantity.words}',
        expected=f"{_a(quantity.dimension)} in {_listed(fitting)}",
        matters=_UNIT,
        do=f"write the unit as listed, or leave it out to mean {quantity.shown_us}",
    )


def wrong_dimension(text: str, dimension: str, quantity: Quantity, fitting: Sequence[str]) -> QuantityError:
    """FW-Q-004: a known unit of something else."""
    do = "check that the value stands on the right line, then write it with one of these units"
    if quantity.name == "fuel_input" and dimension in ("volume flow", "mass flow"):
        do = "write a flow of fuel as oil_flow, gas_flow or fuel_mass_flow, or as the input of a plate in a visit file"
    return QuantityError(
        code="FW-Q-004",
        read=f'"{text}", a unit of {dimension}, for {quantity.words}',
        expected=f"{_a(quantity.dimension)} in {_listed(fitting)}",
        matters=f"{_a(dimension)} does not turn into {_a(quantity.dimension)}, so the value belongs elsewhere",
        do=do,
    )


def two_values(text: str, quantity: Quantity) -> QuantityError:
    """FW-Q-005: more than one value."""
    return QuantityError(
        code="FW-Q-005",
        read=f'"{text}" for {quantity.words}, which holds more than one value',
        expected=f"one value such as {_example(quantity)}, or a range with two dots such as 40..120",
        matters=_EVIDENCE,
        do="type one value, or join lowest and highest with two dots; doubt comes from the instrument, not from here",
    )


def absolute_zero(text: str, quantity: Quantity) -> QuantityError:
    """FW-Q-007: colder than cold can be."""
    return QuantityError(
        code="FW-Q-007",
        read=f'"{text}" for {quantity.words}',
        expected="a temperature above absolute zero, -459.67 °F or -273.15 °C",
        matters="nothing can be that cold, so the figure is not what the instrument measured",
        do="check sign and unit, and whether the probe is connected",
    )


def cannot_be(text: str, quantity: Quantity, bounds: str) -> QuantityError:
    """FW-Q-008: a value that cannot be."""
    zeroed = quantity.dimension in ("fraction", "mass per volume", "pressure")
    return QuantityError(
        code="FW-Q-008",
        read=f'"{text}" for {quantity.words}',
        expected=f"{quantity.words}, {bounds}",
        matters=quantity.cannot,
        do="check figure, sign and unit, then zero the instrument in fresh air and read again"
        if zeroed
        else "check figure, sign and unit, and read again",
    )


def two_numbers(text: str, quantity: Quantity, choices: Sequence[str]) -> QuantityError:
    """FW-Q-009: a comma or point that may be a decimal mark or may group thousands."""
    return QuantityError(
        code="FW-Q-009",
        read=f'"{text}" for {quantity.words}, which can mean {_listed(choices)}',
        expected="a number with one meaning; no comma or point before exactly three digits",
        matters="the two readings are a factor of a thousand apart",
        do=f"type {_listed(choices)}",
    )


def share_or_percent(text: str, quantity: Quantity, figure: float) -> QuantityError:
    """FW-Q-019: a bare figure below 1 that may be a share or a percentage."""
    choices = [f"{figure:g} %", f"{100.0 * figure:g} %"]
    return QuantityError(
        code="FW-Q-019",
        read=f'"{text}" for {quantity.words}, which can mean {_listed(choices)}',
        expected="a figure below 1 with its unit",
        matters="the two readings are a factor of a hundred apart",
        do=f"type {_listed(choices)}",
    )


def two_degrees(text: str, quantity: Quantity, figure: str) -> QuantityError:
    """FW-Q-020: a bare temperature, where nobody said which system of units is meant."""
    choices = [f"{figure} °F", f"{figure} °C"] if quantity.shown_si == "°C" else [f"{figure} °F", f"{figure} K"]
    return QuantityError(
        code="FW-Q-020",
        read=f'"{text}" for {quantity.words}, which can mean {_listed(choices)}',
        expected="a temperature with its unit, or a system of units stated for the whole",
        matters="both are believable here, and they are not the same reading",
        do=f"type {_listed(choices)}; or state the system: --units us or si, in a visit file units under [visit]",
    )


def muddled_number(text: str, quantity: Quantity) -> QuantityError:
    """FW-Q-013: digits and marks that make no number."""
    return QuantityError(
        code="FW-Q-013",
        read=f'"{text}" for {quantity.words}',
        expected="digits with one decimal mark; thousands grouped in threes or not at all",
        matters=_EVIDENCE,
        do=f"type the figure plainly, such as {_example(quantity)}",
    )


def two_units(text: str, quantity: Quantity, choices: Sequence[str]) -> QuantityError:
    """FW-Q-010: a spelling that two fitting units share."""
    return QuantityError(
        code="FW-Q-010",
        read=f'unit "{text}" for {quantity.words}, which can mean {_listed(choices)}',
        expected=f"one of {_listed(choices)}",
        matters=_UNIT,
        do=f"write {_listed(choices)}",
    )


def other_basis(text: str, typed: str, quantity: Quantity) -> QuantityError:
    """FW-Q-011: a basis in the unit that is not the one of the quantity."""
    kept = "no such basis" if quantity.basis == "none" else f"a value that is {quantity.basis}"
    return QuantityError(
        code="FW-Q-011",
        read=f'"{text}", a value that is {typed}, for {quantity.words}',
        expected=f"{kept}; the basis belongs to the quantity, not to the unit (NIST SP 811 7.4, 7.5)",
        matters="wet, dry and air-free figures of the same gas differ by a tenth to several times",
        do=f"type the value on the line for {typed} values, or change it to the basis asked for",
    )


def not_one_figure(text: str, kind: str, quantity: Quantity) -> QuantityError:
    """FW-Q-018: a range, a bound or a trend word where only one figure can be used."""
    what = {"range": "a range", "bound": "a bound", "trend": "a trend word without a figure"}[kind]
    return QuantityError(
        code="FW-Q-018",
        read=f'"{text}", {what}, for {quantity.words}',
        expected=f"one figure such as {_example(quantity)}",
        matters="results are worked out from it, and there is no telling which figure was meant",
        do="type one figure, such as the middle of what was seen",
    )


def unknown_class(name: str, known: Sequence[str]) -> QuantityError:
    """FW-Q-015: no instrument class of this name."""
    return QuantityError(
        code="FW-Q-015",
        read=f'"{name}" as an instrument accuracy class',
        expected=f"one of {_listed(known)}",
        matters="without a class the doubt of a reading is not known, and a limit cannot be judged",
        do="choose a listed class, or describe the instrument by its own data sheet",
    )


def no_channel(quantity: Quantity, name: str, known: Sequence[str]) -> QuantityError:
    """FW-Q-016: this instrument class does not read this quantity."""
    return QuantityError(
        code="FW-Q-016",
        read=f'{quantity.words} with the instrument class "{name}"',
        expected=f"a quantity this class reads: {_listed(known)}",
        matters="an accuracy borrowed from another channel would be an invented one",
        do="choose the class of the instrument that took this reading",
    )


def class_damaged(name: str, field: str) -> QuantityError:
    """FW-Q-017: a class file with a missing, unknown or unusable field."""
    return QuantityError(
        code="FW-Q-017",
        read=f'{field} in the instrument class "{name}"',
        expected="the fields described in docs/quantities.md, each with its citation and how it is known",
        matters="an accuracy without source cannot carry a verdict",
        do="mend the file and load it again",
    )
