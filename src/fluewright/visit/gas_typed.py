"""Gas pressures, pipes and rooms in pipes from what was typed, for visit files and the command line alike."""

import re
from collections.abc import Iterable
from dataclasses import dataclass

from fluewright.errors import PhysicsRefused
from fluewright.evidence.reading import Reading
from fluewright.kernel import pipe_sizes, tightness
from fluewright.quantity import parse

NEAR_THE_AIR = 0.05
"""Share of the barometer within which a gauge reading is the air itself, typed by mistake."""
NOTHING = -125.0
"""Pa below which a gas line is said to pull: half an inch of water beyond a drifting zero."""
HOLLOW = re.compile(r"\b(?:rising|climbing|falling|dropping|hunting|swinging|steady|stable|over|above|under|below|more|"
                    r"less|than|at|least|most|to)\b", re.IGNORECASE)  # fmt: skip
"""Words of a reading that are no unit."""


@dataclass(frozen=True, slots=True)
class Pipe:
    """One size of one kind of pipe.

    inner_diameter, roughness  m
    source                     of the diameter
    size                       of schedule 40 steel, empty for any other
    """

    words: str
    inner_diameter: float
    roughness: float
    source: str
    size: str = ""


def _named() -> dict[str, Pipe]:
    found = {}
    for series, kind in pipe_sizes.SERIES.items():
        for size, inner in kind.diameters.items():
            name = f"{series.removesuffix(' DN')} {size}"
            size_of_law = size if series == "steel" else ""
            found[name] = Pipe(f"{name}, {kind.words}", inner, kind.roughness, kind.source, size_of_law)
    return found


PIPES = _named()
"""Every pipe on file by the name it is typed with: "steel 3/4", "copper 15 mm", "copper L 1/2", "steel DN 20", ..."""


def pipe_named(text: str) -> Pipe | None:
    """The pipe a person means; None when none on file has this name."""
    plain = " ".join(text.replace('"', " ").replace("inch", " ").split())
    plain = re.sub(r"(?<=\d) ?in$", "", plain)
    plain = re.sub(r"(?<=\d) ?mm$", " mm", plain)
    return {name.lower(): pipe for name, pipe in PIPES.items()}.get(plain.lower())


def pipe_of(inner_diameter: float) -> Pipe:
    """A pipe of which only the inside is known; its wall is taken as that of steel."""
    return Pipe(f"inside {inner_diameter * 1e3:.1f} mm", inner_diameter, pipe_sizes.STEEL_ROUGHNESS, "typed")


def unitless(text: str) -> bool:
    """Whether a pressure was typed as a bare number: inches of water and millibar differ by two and a half times."""
    return re.search(r"[a-z\"'″”]", HOLLOW.sub("", text), re.IGNORECASE) is None and re.search(r"\d", text) is not None


def line_reading(text: str, *, barometer: float, quantity: str = "line_pressure") -> Reading:
    """A gauge pressure of a gas line.

    text       as typed, with its unit
    barometer  Pa at the place
    quantity   registry name
    -> reading; PhysicsRefused FW-K-052 for the air itself, FW-K-053 for suction, QuantityError as parse()
    """
    typed = parse.parse(text, quantity=quantity)
    values = [value for value in (typed.value, typed.low, typed.high) if value is not None]
    gauge = typed.unit in ("psig", "barg") or quantity == "test_pressure"  # a load test stands at 1 bar
    if not gauge and any(abs(value - barometer) < NEAR_THE_AIR * barometer for value in values):
        raise PhysicsRefused(
            code="FW-K-052",
            read=f"{text} as a gas pressure",
            expected="a gauge pressure, counted from the room: some inches of water, some millibar, or a few psi",
            matters="that is the pressure of the air itself, so gauge and absolute were confused or a unit slipped",
            do="read the gauge again; if the line really stands so far above the room, write psig or barg",
        )
    if any(value < NOTHING for value in values):
        raise PhysicsRefused(
            code="FW-K-053",
            read=f"{text} as a gas pressure",
            expected="a pressure above that of the room",
            matters="a gas line that pulls would draw air in; more likely the hoses of the gauge are swapped",
            do="zero the gauge with both hoses open, swap them if need be, and read again",
        )
    return Reading(quantity, typed)


@dataclass(frozen=True, slots=True)
class Run:
    """A length of one pipe, for the room in it; m."""

    inner_diameter: float
    length: float


def volume_reading(runs: Iterable[Run], *, fittings_share: float, meter_volume: float) -> Reading:
    """The room in an installation from its pipes.

    runs            each size with its length
    fittings_share  m3/m3 of the pipes
    meter_volume    m3, 0 for none
    -> reading, worked out and not read
    """
    pipes = sum(tightness.pipe_volume(inner_diameter=run.inner_diameter, length=run.length) for run in runs)
    whole = tightness.installation_volume(pipe_volume=pipes, fittings_share=fittings_share, meter_volume=meter_volume)
    typed = parse.parse(f"{float(whole) * 1e3:.4g} L", quantity="pipe_volume")
    return Reading("pipe_volume", typed, "worked out from the pipes")
