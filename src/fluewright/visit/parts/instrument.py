"""The tables [[instrument.check]]: zero, closing zero, leak check, response, another instrument beside it."""

from collections.abc import Mapping
from typing import Any, cast, get_args

from fluewright.evidence.checked import PLACES, TRIED, Check, What
from fluewright.evidence.checked_part import Tried
from fluewright.evidence.part import Measured
from fluewright.evidence.reading import Reading
from fluewright.quantity import names
from fluewright.visit.place import surroundings_of
from fluewright.visit.shape import Form
from fluewright.visit.source import Source

Texts = Mapping[str, Any]

TABLE = "instrument.check"
READ_AS = {
    "on": "time_between",
    "altitude": "altitude",
    "barometer": "barometer",
    "oxygen": "oxygen_outdoor",
    "monoxide": "carbon_monoxide_dry",
    "response": "time_between",
}
"""What the value of a key is; here and there are of the gas that is named, carbon monoxide when none is."""
BESIDE = ("here", "there")
USUAL_GAS = "carbon_monoxide_dry"
RESULTS = ("", "tight", "leaks")

FORM = Form(
    tables={TABLE: ("what", "time", "place", "result", "how", *READ_AS, "gas", *BESIDE, "other")},
    required={TABLE: ("what",)},
    lists=(TABLE,),
)

NEEDED: Mapping[str, tuple[str, ...]] = {
    "zero": ("place",),
    "closing zero": ("place", "monoxide"),
    "leak": ("result",),
    "response": ("response",),
    "cross-check": BESIDE,
}
"""Keys without which a try says nothing."""


def _whole(file: Source, place: str, what: str, row: Texts) -> None:
    for key in NEEDED[what]:
        if key not in row:
            file.gathered.add(
                code="FW-V-098",
                place=place,
                read=f"a {what} check without {key}",
                expected=f"{what}: {', '.join(NEEDED[what])}",
                matters="a check that does not say what it found would look like one that was passed",
                do=f"add {key}, or take the check out",
            )


def _pressure(file: Source, place: str, row: Texts) -> float | None:
    typed = {key: file.text(place, row, key) for key in ("altitude", "barometer") if key in row}
    for key in typed:
        file.single(place, row, key, READ_AS[key])
    found = file.asked(f"{place}, air", lambda: surroundings_of(**typed)) if typed else None
    return None if found is None else found.pressure


def _check(file: Source, place: str, row: Texts) -> Check:
    what = cast(What, file.choice(place, row, "what", get_args(What)))
    _whole(file, place, what, row)
    gas = names.named(file.text(place, row, "gas", USUAL_GAS)).name

    def seen(key: str, quantity: str = "") -> Reading | None:
        read = file.reading(place, row, key, quantity or READ_AS[key])
        return None if read is None else Reading(read.quantity, read.typed, TRIED)

    result = file.choice(place, row, "result", RESULTS)
    return Check(
        what=what,
        time=file.clock(place, row),
        place=file.choice(place, row, "place", ("", *PLACES)),
        tight=None if not result else result == "tight",
        how=file.text(place, row, "how"),
        on=seen("on"),
        pressure=_pressure(file, place, row),
        oxygen=seen("oxygen"),
        monoxide=seen("monoxide"),
        response=seen("response"),
        here=seen("here", gas),
        there=seen("there", gas),
        other=file.text(place, row, "other"),
    )


def checks_of(file: Source) -> tuple[Check, ...]:
    """What was tried on the instrument, in order; problems are noted in the source."""
    return tuple(_check(file, place, row) for place, row in file.rows("check", file.table("instrument"), "instrument"))


def read(file: Source) -> tuple[Measured, ...]:
    """The part about the instrument, where anything was tried on it; the account reads what."""
    return (Tried(),) if file.rows("check", file.table("instrument")) else ()
