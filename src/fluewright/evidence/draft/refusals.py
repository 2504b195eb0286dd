"""What no flue, house or chimney can be: readings that nothing honest can be worked out from."""

from collections.abc import Iterable

from fluewright.errors import PhysicsRefused
from fluewright.evidence.reading import Reading

MOST = 250.0
"""Pa, 1 in w.c.: no flue that is made to pull stands so far from the room (common practice, no source)."""
MOST_PUSHED = 2500.0
"""Pa, 10 in w.c.: no fired vessel is blown harder (common practice, no source)."""
COLDEST, HOTTEST = 200.0, 1300.0
"""K, about air and flue gas anywhere."""


def too_far(reading: Reading, *, pushes_by_design: bool) -> bool:
    """Whether a draft is beyond what such a vent can have."""
    most = MOST_PUSHED if pushes_by_design else MOST
    return any(
        abs(end) > most for end in (reading.typed.value, reading.typed.low, reading.typed.high) if end is not None
    )


def need_a_flue(readings: Iterable[Reading], *, pushes_by_design: bool) -> None:
    """Drafts that a flue can have; 20 typed for 0.02 in w.c. is none."""
    most = MOST_PUSHED if pushes_by_design else MOST
    for reading in readings:
        if not too_far(reading, pushes_by_design=pushes_by_design):
            continue
        raise PhysicsRefused(
            code="FW-K-070",
            read=f"a draft of {reading.typed.text}, understood as {reading.typed.unit}",
            expected=f"at most {most:.0f} Pa ({most / 249.09:.0f} in w.c.) either way, commonly -0.01 to -0.10 in w.c.",
            matters="no such vent stands so far from the room; a slipped decimal mark or unit would be judged",
            do="type it with its unit as the gauge showed it, such as -0.02 in w.c. or -5 Pa",
        )


def need_a_climate(*temperatures: Reading) -> None:
    """Temperatures that air and flue gas have."""
    for reading in temperatures:
        if COLDEST <= (reading.figure or 0.0) <= HOTTEST:
            continue
        raise PhysicsRefused(
            code="FW-K-071",
            read=f"a temperature of {reading.typed.text}",
            expected="one figure between -73 and 1027 °C (-100 and 1880 °F)",
            matters="the pull of a chimney hangs on it",
            do="check the unit",
        )


def need_leaks(flow: float) -> None:
    """A house has leaks: without any, a fan would empty it."""
    if flow > 0.0:
        return
    raise PhysicsRefused(
        code="FW-K-072",
        read="a leakage test of nothing",
        expected="flow and pressure of the leakage test above zero",
        matters="a house without leaks would be drawn down without end",
        do="give the flow at the test pressure, or air changes at 50 Pa and the volume",
    )


def need_order(*, flue: float, diluted: float, room: float) -> None:
    """Flue gas mixed with room air lies between the two."""
    if room < diluted <= flue:
        return
    raise PhysicsRefused(
        code="FW-K-073",
        read=f"{flue - 273.15:.0f} °C before, {diluted - 273.15:.0f} °C after, room {room - 273.15:.0f} °C",
        expected="after between before and room",
        matters="mixing cannot heat the gas nor cool it below the air let in",
        do="check which probe stood where",
    )


def need_thinner(*, before: float, after: float, air: float) -> None:
    """Room air brings oxygen, and never as much as there is in it."""
    if before <= after + 0.002 and after < air - 0.002:
        return
    raise PhysicsRefused(
        code="FW-K-074",
        read=f"oxygen {before * 100.0:.1f} % before and {after * 100.0:.1f} % after the hood",
        expected="more after than before, and less than the room has",
        matters="room air only adds oxygen; gas that is nearly room air says nothing",
        do="check which point was read first and that the probe stood in the gas",
    )
