"""The tables of a visit file about safety devices and the house around the appliance."""

from collections.abc import Mapping
from typing import Any, cast, get_args

from fluewright.appliance import load
from fluewright.appliance.record import Device
from fluewright.evidence import asked, house, safety
from fluewright.evidence.house import Answer, Answered
from fluewright.evidence.part import Measured
from fluewright.evidence.reading import Reading
from fluewright.evidence.safety import Proof
from fluewright.visit.named_points import class_in
from fluewright.visit.shape import Form
from fluewright.visit.source import Source

Texts = Mapping[str, Any]

SEEN = ("", "acted", "did not act")

FORM = Form(
    tables={
        "safety": ("device", "stimulus", "seen", "seconds", "at", "plate", "not_tested_because", "time"),
        "house": ("line",),
        "house.line": ("line", "answer", "because", "place", "seen", "made", "tested", "time"),
    },
    required={"safety": ("device",), "house.line": ("line", "answer")},
    lists=("safety", "house.line"),
)


def _device(file: Source, name: str) -> Device | None:
    """The device of the class that is meant, by its key or its words."""
    of_class = class_in(file)
    listed = of_class.devices if of_class is not None else ()
    return next((each for each in listed if name in (each.key, each.words)), None)


def _figure(file: Source, place: str, row: Texts, key: str, quantity: str) -> Reading | None:
    if key not in row:
        return None
    text = file.text(place, row, key)
    return file.asked(f"{place}, {key}", lambda: safety.figure_of(text, quantity))


def _neither(file: Source, place: str, seen: str, why: str) -> None:
    """Note where a device was neither tried nor left untried for a reason, or both."""
    if bool(seen) != bool(why):
        return
    file.gathered.add(
        code="FW-V-093",
        place=place,
        read="both seen and not_tested_because" if seen else "neither seen nor not_tested_because",
        expected="one of them",
        matters="a device that nobody tried would look like one that works",
        do='write seen = "acted" or "did not act", or not_tested_because = "..."',
    )


def _proof(file: Source, place: str, row: Texts) -> Proof:
    name = file.text(place, row, "device")
    device = _device(file, name)
    seen, why = file.choice(place, row, "seen", SEEN), file.text(place, row, "not_tested_because")
    _neither(file, place, seen, why)
    if "seconds" in row and "at" in row:
        file.gathered.add(
            code="FW-V-094",
            place=place,
            read="both seconds and at",
            expected="the one figure that this device is set or timed by",
            matters="its plate has one figure, and only one of the two can be held against it",
            do="keep seconds for a time, at for a temperature or a pressure",
        )
    timed = "seconds" in row or (device is not None and device.quantity == "trip_time")
    quantity = "trip_time" if timed else device.quantity if device is not None else ""
    figure = _figure(file, place, row, "seconds" if "seconds" in row else "at", quantity)
    return Proof(
        device=device.key if device is not None else name,
        acted=None if not seen else seen == "acted",
        stimulus=file.text(place, row, "stimulus"),
        figure=figure,
        plate=_figure(file, place, row, "plate", quantity or (figure.quantity if figure is not None else "")),
        why=why,
        time=file.clock(place, row),
    )


def _year(file: Source, place: str, row: Texts) -> int | None:
    text = file.text(place, row, "made")
    if not text or (text.isdigit() and 1980 <= int(text) <= 2100):
        return int(text) if text else None
    file.gathered.add(
        code="FW-V-096",
        place=f"{place}, made",
        read=f"{text!r}",
        expected="the year of make, four digits",
        matters="an alarm wears out, and its age is reckoned from it",
        do="read the back of the alarm, or leave it out",
    )
    return None


def _answer(file: Source, place: str, row: Texts) -> Answer:
    answer = file.choice(place, row, "answer", get_args(Answered))
    because = file.text(place, row, "because")
    if answer != "sound" and not because:
        file.gathered.add(
            code="FW-V-097",
            place=place,
            read=f"{answer!r} without a reason",
            expected="because = the reason",
            matters="whoever comes next has to know what was wrong, or what was in the way",
            do="add because",
        )
    return Answer(
        line=file.choice(place, row, "line", tuple(load.house())),
        answer=cast(Answered, answer),
        because=because,
        place=file.text(place, row, "place"),
        seen=file.text(place, row, "seen"),
        made=_year(file, place, row),
        tested=file.text(place, row, "tested"),
        time=file.clock(place, row),
    )


def read(file: Source) -> tuple[Measured, ...]:
    """Safety devices and the house: asked wherever a class of appliance is said, told wherever they were looked at."""
    proofs = tuple(_proof(file, place, row) for place, row in file.rows("safety"))
    table = file.table("house")
    answers = tuple(_answer(file, place, row) for place, row in file.rows("line", table, "house"))
    of_class = class_in(file) is not None
    found: list[Measured] = [asked.Asked()] if of_class else []
    found += [safety.SafetyProofs(proofs)] if proofs or of_class else []
    return (*found, house.House(answers)) if answers or of_class else tuple(found)
