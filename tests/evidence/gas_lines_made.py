"""Invented gas lines, typed as a person would, and worked out alone."""

from datetime import date
from typing import Any

from fluewright.evidence.finding import Finding
from fluewright.evidence.gas_given import At, LinePressure, State
from fluewright.evidence.gas_pressures import GasSupply
from fluewright.evidence.part import Measured, Part
from fluewright.evidence.reading import Account, Appliance, Instrument, Reading, Surroundings
from fluewright.evidence.tightness import Tightness
from fluewright.evidence.tightness_given import Section, Standstill
from fluewright.fuels import load
from fluewright.quantity import parse
from fluewright.visit import work


def typed(text: str, quantity: str = "line_pressure") -> Reading:
    """One reading as typed."""
    return Reading(quantity, parse.parse(text, quantity=quantity))


def parts(*measured: Measured, country: str = "US", day: date | None = None, fuel: str = "natural-gas") -> list[Part]:
    """Parts of an invented visit."""
    account = Account(
        title="Invented",
        customer="",
        site="",
        day=day or date(2026, 11, 25),
        technician="",
        appliance=Appliance("invented appliance"),
        fuel=load.load(fuel),
        instrument=Instrument(),
        surroundings=Surroundings(),
        stretches=(),
        jurisdiction=country,
        parts=measured,
    )
    return list(work.parts_of(account, ()))


def supply(*read: tuple[At, State, str], **more: Any) -> GasSupply:
    """A gas supply from place, state and text."""
    pressures = tuple(LinePressure(at, state, typed(text)) for at, state, text in read)
    return GasSupply(pressures, **more)


def shut(start: str, end: str, duration: str = "10 min", **more: Any) -> Standstill:
    """A tightness test from its texts; more in the units of the program."""
    return Standstill(
        more.pop("purpose", "tightness"),
        typed(start, "test_pressure"),
        typed(end, "test_pressure"),
        typed(duration, "minutes_since_lit"),
        **more,
    )


def tightness(*tests: Standstill, volume: str | None = None, **section: Any) -> Tightness:
    """Tests of one section."""
    creep = section.pop("creep", None)
    room = None if volume is None else typed(volume, "pipe_volume")
    return Tightness(Section(volume=room, **section), tests, creep)


def codes(part: Part) -> dict[str, Finding]:
    """Findings by code."""
    return {finding.code: finding for finding in part.findings}
