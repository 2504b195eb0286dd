"""The heat input that a plate or a nozzle states: as a power, or as a flow of the fuel."""

from fluewright.errors import QuantityError
from fluewright.fuels import refusals
from fluewright.fuels.figures import figures
from fluewright.fuels.record import FuelRecord
from fluewright.fuels.reference import Reference
from fluewright.quantity import parse
from fluewright.quantity.meaning import Typed

CUBIC_FEET = ("cfh", "cfm")
GALLONS = ("gph", "gpm", "imp gal/h")
LITRES = ("L/s", "L/min", "L/h", "mL/min")

US_VOLUME, METRIC_VOLUME = Reference("60F", "60F"), Reference("15", "15")
"""What a cubic foot and a cubic metre on a plate are counted at (common practice, no source)."""

_PER_LIQUID = "heating_value_gross_per_liquid_volume"


def heat_input_from(text: str, record: FuelRecord) -> float:
    """The gross heat input that a plate states, in whichever way it states it.

    Oil plates and nozzles give gallons or litres an hour, gas plates cubic feet or metres, wood plates kilograms; the
    fuel's own heat turns them into a power.

    text    such as 100 kBtu/h, 24 kW, 0.85 gph, 97 cfh, 2.5 m3/h, 2.1 kg/h; a bare number counts kBtu/h
    record  fuel
    -> W, gross
    Holds   gas flows at 60 F (cfh) or 15 C (m3/h), dry, 101.325 kPa; gallons of a liquefied gas as liquid at 60 F;
            an oil nozzle's flow at its own pressure: 0.65 gph on the nozzle is more at a higher pump pressure
    Fails   QuantityError as parse.single(); FuelError FW-F-032 for a flow that this fuel is not measured in
    Source  the heating values of the fuel: fuels.figures
    """
    power = _read(text, "fuel_input")
    if power is not None:
        return float(power.value or 0.0)
    mass = _read(text, "fuel_mass_flow")
    if mass is not None:
        name = "heating_value_gross_per_mass" if record.kind == "gas" else "heating_value_gross"
        return float(mass.value or 0.0) * _heat(record, name, METRIC_VOLUME)
    volume = _read(text, "gas_flow" if record.kind == "gas" else "oil_flow")
    if volume is None:
        return float(parse.single(text, quantity="fuel_input").value or 0.0)
    return float(volume.value or 0.0) * _heat_per_volume(volume, record)


def heat_input_from_net(power: float, record: FuelRecord) -> float:
    """The gross heat input of a plate that states it net, as European ones do.

    power   W, net
    record  fuel
    -> W, gross
    Source  the heating values of the fuel: fuels.figures
    """
    gross, net = (_heat(record, f"heating_value_{basis}", METRIC_VOLUME) for basis in ("gross", "net"))
    return power * gross / net


def says_gross(text: str) -> bool:
    """Whether the way a plate states its input tells that it is gross: in Btu, or as a flow of fuel."""
    power = _read(text, "fuel_input")
    return power is None or "Btu" in power.unit


def is_flow(text: str) -> bool:
    """Whether a plate states its input as a flow of fuel, which only the fuel turns into heat."""
    return _read(text, "fuel_input") is None


def _read(text: str, quantity: str) -> Typed | None:
    """The text as this quantity; None when its unit measures something else."""
    try:
        return parse.single(text, quantity=quantity)
    except QuantityError as error:
        if error.code != "FW-Q-004":
            raise
        return None


def _heat_per_volume(flow: Typed, record: FuelRecord) -> float:
    """J/m3 of what the flow counts: liquid for oils and for gallons of liquefied gas, gas for any other."""
    stored = record.density is not None
    if record.kind == "gas" and flow.unit not in GALLONS and not (stored and flow.unit in LITRES):
        return _heat(record, "heating_value_gross", US_VOLUME if flow.unit in CUBIC_FEET else METRIC_VOLUME)
    if record.kind == "gas" and stored and flow.unit in GALLONS:
        return _heat(record, _PER_LIQUID, US_VOLUME)
    if record.kind == "liquid" and stored and flow.unit not in CUBIC_FEET:
        return _heat(record, _PER_LIQUID, METRIC_VOLUME)
    raise refusals.flow_of_another(flow.text, record.words, _measures(record))


def _measures(record: FuelRecord) -> str:
    """The flows that this fuel is measured in, with an example of each."""
    stored = record.density is not None
    if record.kind == "gas":
        return "97 cfh, 2.5 m3/h or 2.1 kg/h" + (", or gallons of its liquid such as 1.1 gph" if stored else "")
    return "0.85 gph, 3.2 L/h or 2.7 kg/h" if record.kind == "liquid" and stored else "2.7 kg/h or 6 lb/h"


def _heat(record: FuelRecord, name: str, reference: Reference) -> float:
    figure = figures(record, reference=reference)[name]
    if figure.value is None:
        raise refusals.lacking(figure.words, record.name)
    return figure.value
