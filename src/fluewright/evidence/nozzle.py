"""What is stamped on an oil nozzle, understood: 0.85 60B 140 psi; 2.1 L/h 60 S 10 bar.

Flow, angle and letters are kept as typed. What the letters say of the spray is a matter of each maker, so nothing is
made of them; two nozzles can be compared letter by letter.
"""

import re
from dataclasses import dataclass

from fluewright.errors import VisitError
from fluewright.quantity import parse
from fluewright.quantity.meaning import Typed
from fluewright.quantity.unit_table import HOUR, PSI, US_GALLON

GALLONS_RATED_AT = 100.0 * PSI
LITRES_RATED_AT = 1.0e6
"""Pa at which the stamped flow counts: 100 psi for gallons; 10 bar for litres and kilograms (EN 293). From memory."""

NARROWEST, WIDEST = 25, 120
"""Degrees; sprays of oil nozzles lie between (common practice, no source)."""
SMALLEST, LARGEST = 0.1, 60.0
"""Gallons an hour of one nozzle (common practice, no source)."""
WEAKEST, STRONGEST = 3.0e5, 4.0e6
"""Pa at which a pressure nozzle makes a spray (common practice, no source)."""

_NUMBER = r"\d*[.,]?\d+"
_FLOW = r"(?:us\s?)?gph|gal/hr?|us\s?gal/hr?|l/hr?|lph|ltr/h|kg/hr?|lbs?/hr?"
_PRESSURE = r"psi|bar|kpa|mpa"
_STAMP = re.compile(
    rf"^(?P<flow>{_NUMBER})\s*(?P<unit>{_FLOW})?"
    rf"(?:[\s/x,-]+(?:(?P<angle>\d{{1,3}})(?![\d.,])\s*(?:°|deg\b)?)?\s*(?P<letters>(?!(?:{_PRESSURE})\b)[a-z]{{1,3}})?)?"
    rf"(?:[\s,@-]*(?:at\s+)?(?P<pressure>{_NUMBER}\s*(?:{_PRESSURE})))?$",
    re.IGNORECASE,
)


@dataclass(frozen=True, slots=True)
class Nozzle:
    """One nozzle as it is stamped, and the pressure said with it.

    text      byte for byte as typed
    flow      oil_flow, or fuel_mass_flow where it is stamped in kilograms
    angle     degrees, None when not typed
    letters   as typed, for the shape of the spray
    pressure  of the pump, None when not typed
    """

    text: str
    flow: Typed
    angle: int | None
    letters: str
    pressure: Typed | None

    @property
    def rated_pressure(self) -> float:
        """Pa at which the stamped flow counts."""
        return GALLONS_RATED_AT if self.flow.unit in ("gph", "lb/h") else LITRES_RATED_AT

    @property
    def by_mass(self) -> bool:
        """Whether the flow is stamped by mass."""
        return self.flow.quantity == "fuel_mass_flow"


def _refused(code: str, read: str, expected: str, matters: str, do: str) -> VisitError:
    return VisitError(code=code, read=read, expected=expected, matters=matters, do=do)


def _flow(text: str, figure: str, unit: str | None, pressure: str | None) -> Typed:
    if unit is None and pressure is not None and not pressure.lower().endswith("psi"):
        raise _refused(
            "FW-V-062",
            f"the nozzle {text!r}, whose flow has no unit beside a pressure in {pressure[-3:]}",
            "gph, L/h or kg/h behind the flow",
            "a gallon is nearly four litres: the heat would be out by as much",
            f"write {figure} L/h, {figure} kg/h or {figure} gph, as it is stamped",
        )
    mass = unit is not None and unit.lower().startswith(("kg", "lb"))
    name = "fuel_mass_flow" if mass else "oil_flow"
    typed = parse.single(f"{figure} {unit or 'gph'}", quantity=name)
    gallons = (typed.value or 0.0) / (850.0 if mass else 1.0) * HOUR / US_GALLON
    if not SMALLEST <= gallons <= LARGEST:
        raise _refused(
            "FW-V-063",
            f"the nozzle {text!r} with a flow of {gallons:.3g} gallons an hour",
            f"{SMALLEST:g} to {LARGEST:g}, such as 0.85; was a decimal point left out?",
            "the heat input is worked out from it",
            "read the stamp again with a lens, and write the point: 0.85, not 85",
        )
    return typed


def _angle(text: str, figure: str | None) -> int | None:
    if figure is None or NARROWEST <= int(figure) <= WIDEST:
        return None if figure is None else int(figure)
    raise _refused(
        "FW-V-064",
        f"the nozzle {text!r} with an angle of {int(figure)} degrees",
        f"{NARROWEST} to {WIDEST} degrees; 45, 60, 70 and 80 are usual",
        "a spray of another angle wets the wall of the chamber or misses the air",
        "read the stamp again; flow comes first, then angle and letters, such as 0.85 60B",
    )


def _pressure(text: str, typed: str | None) -> Typed | None:
    if typed is None:
        return None
    found = parse.single(typed, quantity="oil_pressure")
    if WEAKEST <= (found.value or 0.0) <= STRONGEST:
        return found
    raise _refused(
        "FW-V-065",
        f"the nozzle {text!r} at a pressure of {typed}",
        "45 to 580 psi, 3 to 40 bar; 100 and 140 psi, or 7 to 14 bar, are usual",
        "too little makes no spray, and no pump of a house gives more",
        "read the gauge or the plate again",
    )


def nozzle_of(text: str) -> Nozzle:
    """A nozzle as a person writes it.

    text  flow, then angle and letters, then pump pressure: "0.85 60B 140 psi", "2.1 L/h 60 S 10 bar", "0.50 80 A"
    -> nozzle; VisitError FW-V-062 to FW-V-066 with what was expected
    """
    found = _STAMP.match(text.translate(parse.MARKS).strip()) if len(text) <= parse.LONGEST else None
    if found is None:
        raise _refused(
            "FW-V-066",
            f"the nozzle {text[: parse.LONGEST]!r}",
            "flow, angle, letters and pump pressure in this order, such as 0.85 60B 140 psi or 2.1 L/h 60 S 10 bar",
            "a figure taken for another would give a wrong heat input",
            "write it as it is stamped; leave out what is not",
        )
    flow = _flow(text, found["flow"], found["unit"], found["pressure"])
    angle, pressure = _angle(text, found["angle"]), _pressure(text, found["pressure"])
    return Nozzle(text, flow, angle, found["letters"] or "", pressure)
