"""The day and the place, and the jacket, from what was typed: one figure each, within sense."""

from datetime import date

from fluewright.errors import UseError
from fluewright.evidence.reading import Surroundings
from fluewright.kernel.air import DRY_AIR, pressure_at_altitude
from fluewright.quantity import parse

MOST_JACKET = 0.30
"""Fraction of gross heat: more than this through the jacket is a plate misread (common practice, no source)."""


LOWEST, HIGHEST = -500.0, 6000.0
"""m above sea level: below the lowest shore and above the highest lasting settlements (from memory)."""


FIRST_YEAR, LAST_YEAR = 1900, 2199
"""No appliance, instrument or duty of today has a date outside them; a slip of the finger has."""


def day_of(value: object) -> date | None:
    """A date, or a text in ISO form, as a day; None where it is none, or one that no visit can have."""
    try:
        day = value if isinstance(value, date) else date.fromisoformat(str(value))
    except ValueError:
        return None
    return day if FIRST_YEAR <= day.year <= LAST_YEAR else None


def figure(text: str, quantity: str) -> float:
    """One figure in its canonical unit; QuantityError for a range, a bound or a word."""
    return float(parse.single(text, quantity=quantity).value or 0.0)


def surroundings_of(
    *, altitude: str | None = None, barometer: str | None = None, humidity: str | None = None
) -> Surroundings:
    """Pressure and humidity of the day from what was typed.

    altitude   height above sea level, when nobody read a barometer
    barometer  read at the place
    humidity   relative humidity of the combustion air
    -> surroundings; UseError when altitude and barometer were both given
    """
    if altitude is not None and barometer is not None:
        raise UseError(
            code="FW-U-003",
            read=f"both an altitude ({altitude}) and a barometer ({barometer})",
            expected="one of them",
            matters="they may disagree, and then the dew point has two answers",
            do="keep the barometer if it was read at the place",
        )
    damp = None if humidity is None else figure(humidity, "relative_humidity")
    if barometer is not None:
        return Surroundings(figure(barometer, "barometer"), 100.0, "typed", damp)
    if altitude is not None:
        height = figure(altitude, "altitude")
        _need_ground(height, altitude)
        return Surroundings(float(pressure_at_altitude(altitude=height)), 1_000.0, "from the altitude", damp, height)
    return Surroundings(relative_humidity=damp)


def _need_ground(height: float, typed: str) -> None:
    if LOWEST <= height <= HIGHEST:
        return
    raise UseError(
        code="FW-U-009",
        read=f"an altitude of {typed}",
        expected=f"{LOWEST:.0f} to {HIGHEST:.0f} m above sea level",
        matters="the pressure of the air is reckoned from it",
        do="check the unit, or give the barometer",
    )


def jacket_of(text: str) -> float:
    """The jacket loss from what was typed, fraction of gross heat; UseError when no jacket loses that."""
    share = figure(text, "loss_jacket")
    if 0.0 <= share <= MOST_JACKET:
        return share
    raise UseError(
        code="FW-U-007",
        read=f"a jacket loss of {text}",
        expected=f"0 to {MOST_JACKET * 100:.0f} % of the gross heat",
        matters="it is taken off the efficiency as it stands",
        do="read the plate again, or leave it out",
    )


def need_less_oxygen(*, reference: float, fresh: float | None) -> None:
    """A concentration can only be carried to less oxygen than fresh air has."""
    most = DRY_AIR.oxygen if fresh is None else fresh
    if reference < most:
        return
    raise UseError(
        code="FW-U-008",
        read=f"a reference of {reference * 100:g} % oxygen",
        expected=f"less than the {most * 100:g} % of fresh air",
        matters="nothing burns to that, so no concentration can be carried there",
        do="look the reference up in the rule: often 3 % for gas and oil",
    )
