"""The tables [[gas_input]]: the meter clocked for one appliance."""

from collections.abc import Mapping
from typing import Any, Literal, cast

from fluewright.evidence.gas_count import Compensated, Count, Heat, HeatReference, Meter
from fluewright.evidence.gas_height import Derate
from fluewright.evidence.gas_input import GasInput, Other
from fluewright.evidence.gas_plate import Manifold
from fluewright.evidence.part import Measured
from fluewright.rules import altitude
from fluewright.visit.parts import gas_typed
from fluewright.visit.shape import Form
from fluewright.visit.source import Source

REFERENCES = ("", "60F", "15", "0", "20", "as metered")
METERS = ("", "billing")
COMPENSATED = ("unknown", "no", "temperature", "both")

FORM = Form(
    tables={
        "gas_input": (
            *("name", "plate", "plate_net", "plate_at_height", "altitude_rule", "altitude_table"),
            *("volume", "dial", "turns", "pulse", "pulses", "from", "to", "time", "step", "time_step"),
            *("meter_pressure", "meter_temperature", "compensated", "base", "factor", "meter", "meter_accuracy"),
            *("heating_value", "heating_basis", "heating_reference", "heating_by", "heating_when"),
            *("alone", "other", "manifold", "manifold_plate", "orifice", "orifices", "discharge"),
        ),
        "gas_input.other": ("words", "state"),
    },
    required={"gas_input": ("time",), "gas_input.other": ("words", "state")},
    lists=("gas_input", "gas_input.other"),
)
"""Keys of the tables about clocking the meter."""


def read(file: Source) -> tuple[Measured, ...]:
    """Every clocking of the file."""
    rows = file.rows("gas_input")
    if rows:
        gas_typed.need_height_with_unit(file)
    return tuple(found for place, row in rows if (found := _one(file, place, row)) is not None)


def _one(file: Source, place: str, row: Mapping[str, Any]) -> GasInput | None:
    volume = gas_typed.counted(file, place, row)
    duration = gas_typed.timed(file, place, row)
    meter, heat = _meter(file, place, row), _heat(file, place, row)
    caught = file.single(place, row, "time_step", "time_step")
    others = tuple(
        Other(file.text(at, other, "words"), file.choice(at, other, "state", ("not known", "off", "on")))
        for at, other in file.rows("other", row, place)
    )
    manifold = _manifold(file, place, row)
    derate = Derate(
        file.choice(place, row, "altitude_rule", ("", "none", *(rule.id for rule in altitude.rules()))),
        gas_typed.heights(file, place, row, "altitude_table"),
        gas_typed.plate_input(file, place, row, "plate_at_height"),
    )
    found = {
        "plate": gas_typed.plate_input(file, place, row, "plate"),
        "holes": gas_typed.holes(file, place, row),
        "alone": bool(file.flag(place, row, "alone")),
        "name": file.text(place, row, "name"),
    }
    if volume is None or duration is None:
        return None
    on = any(other.state == "on" for other in others)
    count = Count(volume, duration, 0.5 if caught is None else caught, meter, heat, on)
    return GasInput(count, derate=derate, manifold=manifold, others=others, **cast(dict[str, Any], found))


def _manifold(file: Source, place: str, row: Mapping[str, Any]) -> Manifold:
    """Manifold pressure as read and on the plate; a plate states one above nothing, and so does its burner."""
    plate = gas_typed.above_room(file, place, row, "manifold_plate")
    if plate is not None:
        return Manifold(gas_typed.above_room(file, place, row, "manifold"), plate)
    return Manifold(gas_typed.gauge(file, place, row, "manifold"), None)


def _meter(file: Source, place: str, row: Mapping[str, Any]) -> Meter:
    return Meter(
        pressure=gas_typed.above_room(file, place, row, "meter_pressure"),
        temperature=gas_typed.figured(file, place, row, "meter_temperature", "fuel_temperature"),
        compensated=cast(Compensated, file.choice(place, row, "compensated", COMPENSATED)),
        base=cast(HeatReference, file.choice(place, row, "base", REFERENCES[:-1])),
        factor=gas_typed.number(file, place, row, "factor"),
        step=file.single(place, row, "step", "volume_step") or 0.0,
        kind=cast(Literal["", "billing"], file.choice(place, row, "meter", METERS)),
        accuracy=file.single(place, row, "meter_accuracy", "meter_accuracy"),
    )


def _heat(file: Source, place: str, row: Mapping[str, Any]) -> Heat:
    basis = file.choice(place, row, "heating_basis", ("gross", "net"))
    quantity = f"heating_value_{basis}"
    return Heat(
        value=gas_typed.figured(file, place, row, "heating_value", quantity),
        basis="net" if basis == "net" else "gross",
        reference=cast(HeatReference, file.choice(place, row, "heating_reference", REFERENCES)),
        by=file.text(place, row, "heating_by"),
        when=file.text(place, row, "heating_when"),
    )
