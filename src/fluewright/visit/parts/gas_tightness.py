"""The tables about tightness of the gas pipes, and the look over the gas lines."""

from collections.abc import Mapping
from typing import Any, cast, get_args

from fluewright.evidence.gas_survey import Answer, GasSurvey, How, Look
from fluewright.evidence.part import Measured
from fluewright.evidence.reading import Reading
from fluewright.evidence.tightness import Tightness
from fluewright.evidence.tightness_given import Creep, Purpose, Section, Standstill
from fluewright.evidence.tightness_medium import MEDIA, Medium
from fluewright.rules.tightness_tests import Appliances, Pipes
from fluewright.visit import gas_typed
from fluewright.visit.parts.gas_pipes import DWELLINGS, pipe, pressure
from fluewright.visit.shape import Form
from fluewright.visit.source import Source

FORM = Form(
    tables={
        "tightness": ("volume", "meter_volume", "fittings_share", "pipes", "appliances", "dwelling", "meter",
                      "working_pressure", "pipe", "test", "meter_watch"),
        "tightness.pipe": ("pipe", "inner_diameter", "length"),
        "tightness.test": ("purpose", "start", "end", "duration", "settled", "temperature_start", "temperature_end",
                           "barometer_start", "barometer_end", "temperature_drift", "gauge_step", "medium", "time"),
        "tightness.meter_watch": ("counted", "dial", "duration", "pressure", "time"),
        "gas_survey": ("what", "where", "answer", "how", "because", "time"),
    },
    required={
        "tightness.pipe": ("length",),
        "tightness.test": ("start", "end", "duration"),
        "tightness.meter_watch": ("counted", "dial", "duration"),
        "gas_survey": ("what", "answer"),
    },
    lists=("tightness.pipe", "tightness.test", "gas_survey"),
)  # fmt: skip
METERS = ("", "none", "G4", "U6", "E6", "other")
USUAL_FITTINGS = 0.10
"""Share of the pipes that fittings add, where nobody said (IGEM/UP/1B as a pocket guide has it, read)."""
Table = Mapping[str, Any]


def _volume(file: Source, table: Table) -> tuple[Reading | None, str]:
    """The room in the section, typed or from its pipes, and how it is known."""
    typed = file.reading("tightness", table, "volume", "pipe_volume")
    rows = file.rows("pipe", table, "tightness")
    if typed is not None or not rows:
        return typed, "as typed" if typed is not None else ""
    runs = []
    for place, row in rows:
        known, length = pipe(file, place, row), file.single(place, row, "length", "length")
        if known is not None and length is not None:
            runs.append(gas_typed.Run(known.inner_diameter, length))
    share = file.single("tightness", table, "fittings_share", "share")
    meter = file.single("tightness", table, "meter_volume", "pipe_volume")
    if len(runs) != len(rows):
        return None, ""
    share = USUAL_FITTINGS if share is None else share
    found = gas_typed.volume_reading(runs, fittings_share=share, meter_volume=meter or 0.0)
    return found, f"from its pipes with {share * 100:g} % for fittings" + (" and the meter" if meter else "")


def _pair(file: Source, place: str, row: Table, key: str, quantity: str) -> tuple[Reading, Reading] | None:
    """Two readings that only mean something together."""
    found = [file.reading(place, row, f"{key}_{end}", quantity) for end in ("start", "end")]
    if found[0] is not None and found[1] is not None:
        return found[0], found[1]
    if any(f"{key}_{end}" in row for end in ("start", "end")):
        file.gathered.add(
            code="FW-V-057",
            place=f"{place}, {key}",
            read="one reading of two",
            expected=f"{key}_start and {key}_end, or neither",
            matters="only the change between the two readings of the gauge counts",
            do="write both, or leave it out and let its drift be reckoned with",
        )
    return None


def _figures(file: Source, place: str, *readings: Reading) -> bool:
    """Whether a time, a dial or a first pressure is above zero; noted when it is not."""
    wrong = next((one for one in readings if one.figure is not None and one.figure <= 0.0), None)
    return wrong is None or file.above_nothing(
        place,
        wrong.figure,
        f"{wrong.typed.text!r}",
        code="FW-V-058",
        matters="a leak is what is lost in a time of the pressure there was",
        do="write the pressure it began at, how long it was watched, and the turn of the dial",
    )


def _test(file: Source, place: str, row: Table) -> Standstill | None:
    purpose = file.choice(place, row, "purpose", get_args(Purpose))
    start, end = (_gauge(file, place, row, key) for key in ("start", "end"))
    duration = file.reading(place, row, "duration", "minutes_since_lit")
    settled = file.single(place, row, "settled", "minutes_since_lit")
    temperatures = _pair(file, place, row, "temperature", "pipe_temperature")
    barometers = _pair(file, place, row, "barometer", "barometer")
    drift = file.single(place, row, "temperature_drift", "temperature_drift")
    step = pressure(file, place, row, "gauge_step", "gauge_step")
    if start is None or end is None or duration is None:
        return None
    if not (_figures(file, f"{place}, duration", duration) and _figures(file, f"{place}, start", start)):
        return None
    return Standstill(
        cast(Purpose, purpose),
        start,
        end,
        duration,
        settled,
        temperatures,
        barometers,
        drift,
        None if step is None else step.figure,
        file.clock(place, row),
        cast(Medium, file.choice(place, row, "medium", MEDIA)),
    )


def _gauge(file: Source, place: str, row: Table, key: str) -> Reading | None:
    """A reading of the gauge; in a test at a bar or more the air itself is no sign of a slip."""
    return pressure(file, place, row, key, "test_pressure")


def _creep(file: Source, table: Table) -> Creep | None:
    if "meter_watch" not in table:
        return None
    place, row = "tightness, meter_watch", file.table("meter_watch", table)
    counted = file.reading(place, row, "counted", "meter_creep")
    dial = file.reading(place, row, "dial", "meter_dial")
    duration = file.reading(place, row, "duration", "minutes_since_lit")
    gauge = pressure(file, place, row, "pressure")
    if counted is None or dial is None or duration is None or not _figures(file, place, dial, duration):
        return None
    return Creep(counted, dial, duration, gauge, file.clock(place, row))


def _tightness(file: Source) -> Tightness:
    table = file.table("tightness")
    volume, how = _volume(file, table)
    pipes = file.choice("tightness", table, "pipes", ("any", *get_args(Pipes)[:2]))
    appliances = file.choice("tightness", table, "appliances", ("any", *get_args(Appliances)[:2]))
    section = Section(
        volume,
        how,
        cast(Pipes, pipes),
        cast(Appliances, appliances),
        file.choice("tightness", table, "dwelling", DWELLINGS),
        file.choice("tightness", table, "meter", METERS),
        pressure(file, "tightness", table, "working_pressure"),
    )
    made = [_test(file, place, row) for place, row in file.rows("test", table, "tightness")]
    tests = tuple(one for one in made if one is not None)
    purposes = [one.purpose for one in tests]
    twice = next((one for one in purposes if purposes.count(one) > 1), None)
    if twice is not None:
        file.gathered.add(
            code="FW-V-059",
            place="tightness.test",
            read=f"two tests of purpose {twice!r}",
            expected="the one that counts",
            matters="a record with two answers to one question has none",
            do="keep the last, and write the earlier one as a note",
        )
    return Tightness(section, tests, _creep(file, table))


def _look(file: Source, place: str, row: Table) -> Look:
    return Look(
        file.text(place, row, "what"),
        file.text(place, row, "where"),
        cast(Answer, file.choice(place, row, "answer", get_args(Answer))),
        cast(How, file.choice(place, row, "how", get_args(How))),
        file.text(place, row, "because"),
        file.clock(place, row),
    )


def read(file: Source) -> tuple[Measured, ...]:
    """Tightness test and survey of a visit file; nothing where it has none."""
    found: list[Measured] = []
    if "tightness" in file.tree:
        found.append(_tightness(file))
    looks = tuple(_look(file, place, row) for place, row in file.rows("gas_survey"))
    if looks:
        found.append(GasSurvey(looks))
    return tuple(found)
