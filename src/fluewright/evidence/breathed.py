"""What was breathed, as an expert asks: carbon monoxide in blood as the equation has it, and backwards from a sample.

An indication of exposure and never a diagnosis. It never stands in a visit: a visit shows concentration times minutes.
"""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from itertools import pairwise
from typing import Any, Literal

from fluewright.errors import PhysicsRefused
from fluewright.evidence.finding import PRACTICE, Finding
from fluewright.evidence.limits import CAUTION
from fluewright.evidence.part import Derived, Part, Seen, SoFar, Statement, Voiced
from fluewright.evidence.reading import Account, Reading
from fluewright.evidence.reckon import Reckoning, refused
from fluewright.evidence.result import Result
from fluewright.kernel import exposure, ops
from fluewright.kernel.exposure import DRY_BODY, RESTING_BODY, SHEET_BODY
from fluewright.kernel.ops import Number

WORD = "exposure"
Set = Literal["criteria document", "calculation sheet"]
SETS: Mapping[str, tuple[Mapping[str, exposure.Activity], str]] = {
    "criteria document": (exposure.ACTIVITIES, "NIOSH criteria document 1972, from memory"),
    "calculation sheet": (exposure.SHEET_ACTIVITIES, "public model of the OSHA calculation sheet, read"),
}
"""Activity sets by name, each with its source: they differ, so every result says which one it used."""

PERSON_SPREAD = 0.33
"""How far people lie from the average body: half-life on oxygen 74 +/- 25 min (Weaver 2000, as quoted, read)."""
START_SPREAD = 0.0025
"""Standard uncertainty of an assumed share at the start: 0.4 to 0.8 % without smoking (WHO Europe, NRC, read)."""
SHEET_BACKGROUND = 0.0015
"""m3 of carbon monoxide in a m3 of blood before: 0.75 % taken, within the 0.5 to 0.8 % of people who do not smoke."""
CURVE_ENDS = 0.6
"""Share of the haemoglobin beyond which no living person was measured (common practice, no source)."""
SHORT_FORM_ENDS = 0.1
"""Share beyond which the short form, turned round, gives a level more than a tenth too low (computed)."""
EQUATION = "Coburn, Forster and Kane, J Clin Invest 1965"
PERSON = "one grown person of 70 kg breathing one level all the time"


def _resistance(active: exposure.Activity, pressure: Number, reckon: Reckoning) -> Number:
    """What holds carbon monoxide back, with how far people differ."""
    person = reckon.assumed("body_factor", 1.0, PERSON_SPREAD, source="Weaver 2000: 74 ± 25 min on oxygen, as quoted")
    return person * exposure.uptake_resistance(
        diffusing_capacity=active.diffusing_capacity,
        ventilation=active.ventilation,
        pressure=pressure,
        vapour_pressure=RESTING_BODY.vapour,
    )


def _need(reading: Reading, words: str) -> float:
    if reading.figure is not None and reading.figure >= 0.0:
        return reading.figure
    raise PhysicsRefused(
        code="FW-K-024",
        read=f"{words}: {reading.typed.text}",
        expected="a figure, nothing or more",
        matters="what was breathed is level times time, and a word or less than nothing is neither",
        do="type the level or the time that was read, with its unit",
    )


def _need_share(reading: Reading, words: str) -> None:
    """A share of the haemoglobin that leaves some for oxygen."""
    ends = (reading.figure, reading.typed.low, reading.typed.high)
    if all(0.0 <= end < 1.0 for end in ends if end is not None):
        return
    raise PhysicsRefused(
        code="FW-K-025",
        read=f"{words} {reading.typed.text}",
        expected="a share of the haemoglobin from 0 to less than 100 %",
        matters="with all of it taken the equation has nothing left to divide by",
        do="read the laboratory's sheet again; a start may be left out",
    )


@dataclass(frozen=True, slots=True)
class ExposureGiven:
    """One level breathed for a time.

    monoxide   in the air
    duration   of breathing it
    activity   key of the set
    set_name   which set of activities
    start      carboxyhaemoglobin before, None for somebody who does not smoke
    cigarettes a day, for a start out of the table; None when not said
    """

    monoxide: Reading
    duration: Reading
    activity: str = "light"
    set_name: Set = "criteria document"
    start: Reading | None = None
    cigarettes: int | None = None

    def __post_init__(self) -> None:
        """Refuse what is no level and no time."""
        _need(self.monoxide, "carbon monoxide")
        _need(self.duration, "time")
        if self.start is not None:
            _need_share(self.start, "a start of")

    @property
    def late(self) -> bool:
        """It waits for nothing."""
        return False

    def worked(self, so_far: SoFar) -> Part:
        """The estimate, with everything it rests on."""
        reckon = Reckoning(so_far.account)
        results = _forward(self, reckon)
        pressure = so_far.account.surroundings.pressure / 100.0
        _, source = SETS[self.set_name]
        statements = (
            Statement(
                ("the air held ", Seen("monoxide", self.monoxide), " for ", Seen("duration", self.duration), ".")
            ),
            Statement(
                (f"breathing as in {self.activity} activity ({source}), barometer {pressure:.0f} hPa.",), "plate"
            ),
            Statement((f"before: {self._start_words()}.",), "plate"),
            *_said(results),
        )
        return _part("Exposure to carbon monoxide", statements, results, so_far.account)

    def _start_words(self) -> str:
        if self.start is not None:
            return f"{self.start.typed.text} as given"
        if self.cigarettes is not None:
            return f"about {_of_smoker(self.cigarettes) * 100:.2g} %, for {self.cigarettes} cigarettes a day"
        return f"{exposure.BASELINE * 100:g} %, as in somebody who does not smoke"

    def initial(self, reckon: Reckoning) -> Number:
        """Share of the haemoglobin taken before, with its doubt."""
        if self.start is not None:
            return reckon.read(self.start, words="carboxyhaemoglobin before")
        value, spread, source = exposure.BASELINE, START_SPREAD, "WHO Air Quality Guidelines for Europe, read"
        if self.cigarettes is not None:
            value = _of_smoker(self.cigarettes)
            spread, source = 0.3 * value, "public model of the OSHA calculation sheet, read; doubt assumed"
        return reckon.assumed("carboxyhaemoglobin", value, spread, source=source, words="carboxyhaemoglobin before")


def _of_smoker(cigarettes: int) -> float:
    """Straight between the rows of the table, and no further than its ends."""
    rows = [(0, exposure.BASELINE), *sorted(exposure.SMOKERS.items())]
    for (fewer, low), (more, high) in pairwise(rows):
        if cigarettes <= more:
            return low + (high - low) * (max(cigarettes, 0) - fewer) / (more - fewer)
    return rows[-1][1]


def _forward(given: ExposureGiven, reckon: Reckoning) -> dict[str, Result]:
    """Share taken now, in the end, its half-life, the short form beside it, and level times time."""
    activities, _ = SETS[given.set_name]
    active = activities[given.activity]
    around = reckon.account.surroundings
    pressure = reckon.assumed("barometer", around.pressure, around.pressure_spread, source=around.pressure_source)
    resistance = _resistance(active, pressure, reckon)
    level = reckon.read(given.monoxide)
    minutes = reckon.read(given.duration, words="time", spread=0.0)
    air: dict[str, Any] = {
        "carbon_monoxide_room_fraction": level,
        "pressure": pressure,
        "uptake_resistance": resistance,
    }
    over = {"duration": minutes, "initial_carboxyhaemoglobin": given.initial(reckon)}
    share = exposure.carboxyhaemoglobin(body=RESTING_BODY, **air, **over)
    end = exposure.equilibrium_carboxyhaemoglobin(body=RESTING_BODY, **air)
    short = exposure.linear_carboxyhaemoglobin(body=DRY_BODY, **air, **over)
    half = exposure.half_life(body=RESTING_BODY, uptake_resistance=resistance)
    figures = f"{(given.monoxide.figure or 0.0) * 1e6:.4g} ppm, {(given.duration.figure or 0.0) / 60.0:.4g} min"
    numbers = {
        "carbon_monoxide_exposure": (level * minutes, "level x time", 1.0 / 6e-5, "ppm min"),
        "carboxyhaemoglobin": (share, "full equation, oxygen given up as carbon monoxide is taken", 100.0, "%"),
        "carboxyhaemoglobin short form": (short, "short form: oxygen on the blood held, no vapour", 100.0, "%"),
        "carboxyhaemoglobin_steady": (end, "r / (1 + r), r = affinity x CO pressure / O2 pressure", 100.0, "%"),
        "carboxyhaemoglobin_half_life": (half, "ln 2 x blood x resistance / slope, breathing air", 1 / 60.0, "min"),
    }
    made = {
        key: reckon.result(
            key.removesuffix(" short form"),
            number,
            formula=formula,
            substitution=f"{figures}: {float(ops.value_of(number)) * scale:.3g} {unit}",
            source=EQUATION if key.startswith("carboxy") else "time integral",
            holds=f"{PERSON}; blood in an arm lags by minutes",
        )
        for key, (number, formula, scale, unit) in numbers.items()
    }
    return {key: _within_curve(key, result) for key, result in made.items()}


def _within_curve(key: str, result: Result) -> Result:
    """A share of the haemoglobin as far as anybody was measured; beyond it no figure is printed."""
    share = result.name in ("carboxyhaemoglobin", "carboxyhaemoglobin_steady")
    if not share or result.value is None or result.value <= CURVE_ENDS:
        return result
    if key.endswith("short form"):
        return refused(result.name, "the short form leaves its range so high; the full equation speaks")
    edge = f"{CURVE_ENDS * 100:.0f} %"
    return refused(result.name, f"it comes to more than {edge}, where no living person was measured: a deadly exposure")


@dataclass(frozen=True, slots=True)
class SampleGiven:
    """A blood sample, from which the level that was breathed is worked back: the regulator's sheet.

    share      carboxyhaemoglobin in the sample
    since      between leaving bad air and the sample
    breathing  what was breathed since, key of exposure.HALF_LIVES
    duration   of the exposure
    activity   key of the criteria document's set
    """

    share: Reading
    since: Reading
    duration: Reading
    breathing: str = "air"
    activity: str = "light"

    def __post_init__(self) -> None:
        """Refuse what is no share and no time."""
        _need(self.share, "carboxyhaemoglobin")
        _need_share(self.share, "a sample of")
        _need(self.since, "time since")
        if _need(self.duration, "time of exposure") > 0.0:
            return
        raise PhysicsRefused(
            code="FW-K-026",
            read=f"an exposure of {self.duration.typed.text}",
            expected="some minutes",
            matters="in no time at all no level could have done it",
            do="ask how long somebody was there; two answers, the shortest and the longest, make a range",
        )

    @property
    def late(self) -> bool:
        """It waits for nothing."""
        return False

    def worked(self, so_far: SoFar) -> Part:
        """The level that must have been breathed."""
        reckon = Reckoning(so_far.account)
        results = {"carbon_monoxide_breathed": _backward(self, reckon)}
        statements = (
            Statement(("a blood sample held ", Seen("share", self.share), ", taken ", Seen("since", self.since),
                       f" after leaving, breathing {self.breathing}.")),
            Statement(("the exposure had lasted ", Seen("duration", self.duration), ".")),
            Statement((f"breathing as in {self.activity} activity ({SETS['criteria document'][1]}).",), "plate"),
            *_said(results),
        )  # fmt: skip
        return _part("Back from a blood sample", statements, results, so_far.account)


def _backward(given: SampleGiven, reckon: Reckoning) -> Result:
    name, body = "carbon_monoxide_breathed", SHEET_BODY
    around = reckon.account.surroundings
    active = exposure.ACTIVITIES[given.activity]
    pressure = reckon.assumed("barometer", around.pressure, around.pressure_spread, source=around.pressure_source)
    leaving = exposure.carboxyhaemoglobin_at_leaving(
        carboxyhaemoglobin=reckon.read(given.share),
        duration=reckon.read(given.since, words="time since", spread=0.0),
        half_life=exposure.HALF_LIVES[given.breathing],
    )
    number = exposure.fraction_from_carboxyhaemoglobin(
        body=body,
        carboxyhaemoglobin=leaving,
        initial_carboxyhaemoglobin=SHEET_BACKGROUND / body.capacity,
        duration=reckon.read(given.duration, words="time of exposure", spread=0.0),
        pressure=pressure,
        uptake_resistance=_resistance(active, pressure, reckon),
    )
    value = float(ops.value_of(number)) * 1e6
    if value < 0.0:
        return refused(name, "the sample holds no more than the body makes and smoking brings")
    at = float(ops.value_of(leaving)) * 100.0
    if at >= 100.0:
        return refused(name, "on leaving the blood would have held more than all of it: a time or the sample is wrong")
    made = reckon.result(
        name,
        number,
        formula="short form backwards; on leaving, sample x 2^(time since / half-life)",
        substitution=f"{at:.3g} % on leaving, {(given.duration.figure or 0.0) / 60.0:.4g} min: {value:.3g} ppm",
        source="MIOSHA sheet of the Coburn equation, revision 1.0 (formula read in a public copy)",
        holds=f"{PERSON}; a mean level, whatever its course was; the more the blood held, the more too low",
    )
    if at <= SHORT_FORM_ENDS * 100.0 or made.bound == "at least":
        return made
    if made.bound:
        return refused(name, "a sample of at most so much, by a form that gives at least a level, bounds nothing")
    return replace(made, bound="at least")


def _said(results: Mapping[str, Result]) -> tuple[Statement, ...]:
    heads = {
        "carbon_monoxide_exposure": "level times time: ",
        "carboxyhaemoglobin": "by the full equation the blood then holds about ",
        "carboxyhaemoglobin short form": "by the short form behind the alarm standard: ",
        "carboxyhaemoglobin_steady": "if it were breathed without end: ",
        "carboxyhaemoglobin_half_life": "half of it leaves again, breathing air, in about ",
        "carbon_monoxide_breathed": "a level of about this must have been breathed: ",
    }
    return tuple(
        Statement((heads[key], Derived(key), "."), "derived")
        for key, result in results.items()
        if result.value is not None
    )


def _part(title: str, statements: tuple[Statement, ...], results: Mapping[str, Result], account: Account) -> Part:
    finding = Finding(
        "exposure-no-diagnosis",
        "advise",
        "If this is about a person: medical care first, arithmetic after.",
        "This is an exposure on paper. It says what one average body would take up, not what is in anybody's blood and "
        "not how anybody is. Only medical people, with a blood test, can say that; a low figure here keeps nobody from "
        "going.",
        tuple((WORD, key) for key in results),
        PRACTICE,
        do_now=(
            "get people out into fresh air",
            f"call {account.emergency} for whoever feels unwell or was found unwell",
        ),
        cautions=CAUTION,
    )
    left = (
        "What carbon monoxide has done to anybody: hearts, unborn children and old people bear less than any equation "
        "says.",
    )
    first = "people go to medical care first; what follows is an exposure on paper and no diagnosis."
    said = (Statement((Voiced(first, "strong"),)), *statements)
    return Part(WORD, title, "room", said, results, (finding,), left)
