"""Whether the readings can be believed: instrument, place, and whether they fit each other.

A doubtful reading can raise an alarm, but never clear one. Nothing here judges the appliance.
"""

from datetime import date

from fluewright.evidence.boundary import mixed_boundary
from fluewright.evidence.finding import PHYSICS, PRACTICE, Finding, unsettled
from fluewright.evidence.flue import Worked, most_condensed
from fluewright.evidence.intake import breathes_its_own, intake_starved
from fluewright.evidence.origins import HYDROGEN_FUEL, at_its_end, hydrogen_share
from fluewright.evidence.reading import Instrument, Reading, Stretch
from fluewright.evidence.result import Result
from fluewright.fuels.record import FuelRecord
from fluewright.kernel import dual, odds, ops
from fluewright.quantity import names

NEAR_FRESH = 0.205
"""mol/mol: oxygen from here up is fresh air within the error of a cell (20.95 % less two times 0.2 points)."""

NO_CARBON_DIOXIDE = 0.003
"""mol/mol above fresh air: less than this is within the error of an instrument (0.3 points)."""


def read_of(stretch: Stretch, *gases: str) -> Reading | None:
    """The first of some readings that was taken, with or without a figure."""
    return next((stretch.readings[gas] for gas in gases if gas in stretch.readings), None)


def monoxide_of(stretch: Stretch) -> Reading | None:
    """Carbon monoxide as it was read in the sample."""
    return read_of(stretch, "carbon_monoxide_dry", "carbon_monoxide_wet")


def fresh_air(stretch: Stretch) -> Finding | None:
    """Oxygen of fresh air in the flue, or no carbon dioxide: the probe is not in flue gas, or the burner is off."""
    reading = read_of(stretch, "oxygen_dry", "oxygen_wet")
    figure = None if reading is None else reading.figure
    burned = read_of(stretch, "carbon_dioxide_dry", "carbon_dioxide_wet")
    plenty = burned is not None and (burned.figure or 0.0) > 2.0 * NO_CARBON_DIOXIDE
    fresh = figure is not None and figure >= NEAR_FRESH and not plenty
    if figure is None:
        reading = read_of(stretch, "carbon_dioxide_dry", "carbon_dioxide_wet")
        figure = None if reading is None else reading.figure
        fresh = figure is not None and figure < NO_CARBON_DIOXIDE
    if reading is None or not fresh:
        return None
    return Finding(
        "fresh-air",
        "open",
        f"{stretch.word.capitalize()}: the probe saw fresh air, not flue gas.",
        f"{names.of(reading.quantity).words.capitalize()} {reading.typed.text} is that of the room. Nothing about the "
        "flame can be worked out from it: look for a probe outside the flue, a hose off, or a burner that was not lit.",
        ((stretch.word, reading.quantity),),
        PHYSICS,
        do_next=("put the probe into the gas, check the hose, read again",),
    )


STILL_MOVING = "still-moving"
"""Code of carbon monoxide that moved: the one doubt that is also a fault, and can be cured."""


def still_moving(stretch: Stretch) -> Finding | None:
    """Carbon monoxide that rose or swung while it was read: the figure is a moment, and the truth may be higher."""
    read = (monoxide_of(stretch), stretch.readings.get("carbon_monoxide_room"))
    reading = next((one for one in read if one is not None and one.rising), None)
    if reading is None:
        return None
    return Finding(
        STILL_MOVING,
        "act",
        f"{stretch.word.capitalize()}: carbon monoxide was {reading.typed.trend} when it was read.",
        f"The reading {reading.typed.text} is one moment of a flame that was changing. Nothing is cleared by it: what "
        "it would have come to, nobody saw.",
        ((stretch.word, reading.quantity),),
        PHYSICS,
        do_now=("stay beside it and read on until it stands still; if it goes on rising, shut the burner off",),
        do_next=("find why it moves before the burner is left running",),
        cautions=(
            "Carbon monoxide that keeps rising can reach danger within minutes: stay beside it, or shut it off.",
        ),
    )


def off_the_line(worked: Worked, stretch: Stretch, record: FuelRecord) -> Finding | None:
    """Oxygen and carbon dioxide that do not fit this fuel."""
    if worked.residual is None:
        return None
    difference, spread = worked.residual
    if abs(difference) <= 2.0 * spread:
        return None
    side = "more" if difference > 0 else "less"
    return unsettled(
        "off-the-line",
        stretch,
        f"{stretch.word.capitalize()}: oxygen and carbon dioxide do not belong to one flame of {record.words}.",
        f"There is {abs(difference) * 100:.1f} points {side} carbon dioxide than the oxygen allows, doubt "
        f"± {2 * spread * 100:.1f}. Another fuel, a sick sensor, or carbon dioxide from elsewhere can do that. "
        f"A leak or "
        "dilution cannot: fuel, air and leak lie on one line, so this test never sees them.",
        "oxygen_dry",
        "carbon_dioxide_dry",
    )


def colder_than_air(worked: Worked, stretch: Stretch) -> Finding | None:
    """Flue gas colder than the air that fed it."""
    if not worked.taken.colder_than_air:
        return None
    flue, air = stretch.readings["flue_temperature"], stretch.readings["air_temperature"]
    return unsettled(
        "colder-than-air",
        stretch,
        f"{stretch.word.capitalize()}: the flue reads colder than the air that fed the flame.",
        f"Flue {flue.typed.text}, air {air.typed.text}. The two may be swapped, the probe may be out of the "
        f"flue, or its "
        "thermocouple broken. Losses worked out from them mean nothing.",
        "flue_temperature",
        "air_temperature",
    )


def wet_probe(worked: Worked, stretch: Stretch) -> Finding | None:
    """A thermometer at the dew point may be wet, and then reads the dew point and not the gas."""
    dew = worked.results["water_dew_point"].value
    flue = stretch.readings.get("flue_temperature")
    if dew is None or flue is None or flue.figure is None or abs(flue.figure - dew) > 3.0:
        return None
    return unsettled(
        "wet-probe",
        stretch,
        f"{stretch.word.capitalize()}: the probe may have been wet.",
        f"The flue reads {flue.typed.text}, within 3 kelvins of the water dew point. A wet tip sits at the dew point "
        "whatever the gas does; dry it, let it warm, read again.",
        "flue_temperature",
        "water_dew_point",
    )


def too_much_collected(worked: Worked, stretch: Stretch) -> Finding | None:
    """More condensate weighed than gas leaving saturated at this flue temperature allows."""
    taken = worked.taken
    if taken.condensate is None or not taken.has_temperatures:
        return None
    weighed = float(ops.value_of(taken.condensate)) - 2.0 * float(dual.spread(taken.condensate))
    most, water = most_condensed(worked.flue, taken), float(ops.value_of(worked.flue.water))
    if weighed <= most:
        return None
    return unsettled(
        "too-much-collected",
        stretch,
        f"{stretch.word.capitalize()}: more condensate was weighed than gas this warm can have left behind.",
        f"{weighed / water * 100:.0f} % of the water at the least, where gas leaving saturated at the flue temperature "
        f"would have left {most / water * 100:.0f} %. The flue temperature, the mass or the gas burned in that time is "
        "wrong, or rain ran in.",
        "flue_temperature",
        "condensate_per_heat",
    )


def saturated_cell(stretch: Stretch, instrument: Instrument) -> Finding | None:
    """A carbon monoxide cell at its end."""
    reading = monoxide_of(stretch)
    if reading is None or not at_its_end(reading, instrument):
        return None
    return Finding(
        "saturated-cell",
        "act",
        f"{stretch.word.capitalize()}: carbon monoxide went past the end of the cell.",
        f"The reading {reading.typed.text} is a floor, not a value: there was at least that much. No mean is "
        f"made of it. "
        "A cell driven past its end can read low for hours: flush it outdoors and check its zero before it "
        "clears anything.",
        ((stretch.word, reading.quantity),),
        PHYSICS,
        do_now=("take the probe out of the gas and flush the cell in outdoor air",),
    )


def out_of_date(instrument: Instrument, day: date) -> Finding | None:
    """An instrument whose calibration has run out."""
    if instrument.due is None or instrument.due >= day:
        return None
    late = (day - instrument.due).days
    return Finding(
        "out-of-date",
        "advise",
        f"The calibration of {instrument.words} ran out {late} day{'' if late == 1 else 's'} before this visit.",
        f"It was due on {instrument.due.isoformat()}. Its readings can still raise an alarm; they cannot clear one.",
        (),
        PRACTICE,
        do_next=("have it calibrated, and ask what it was found at: past verdicts may change",),
    )


def inside_zero(instrument: Instrument) -> Finding | None:
    """A zero taken in the room, which hides whatever carbon monoxide the room had."""
    if instrument.zero != "inside":
        return None
    return Finding(
        "inside-zero",
        "advise",
        "The instrument was zeroed indoors.",
        "If there was carbon monoxide in that air, the room now reads that much too low, and so does every flue "
        "reading. "
        "This instrument cannot clear the room: zero it outdoors, or use a second meter that was.",
        (),
        PHYSICS,
        do_next=("zero again outdoors and read again",),
    )


def diluted(stretch: Stretch) -> Finding | None:
    """A sample behind the draft hood: what it still says and what not."""
    if stretch.point.kind != "diluted":
        return None
    got_in = "gas of another appliance" if _shared(stretch) else "room air"
    return unsettled(
        "diluted",
        stretch,
        f"{stretch.word.capitalize()}: “{stretch.point.name}” has {got_in} in it.",
        f"{_kept(stretch)}; excess air, dew point and any judgement of the burner are gone, because nothing shows how "
        f"much {got_in} got in. Carbon monoxide as read here is never compared with a limit for undiluted gas. Such "
        "readings raise an alarm and clear nothing.",
        "oxygen_dry",
        "carbon_monoxide_air_free",
    )


def _shared(stretch: Stretch) -> bool:
    """Whether the flue belongs to several appliances."""
    return stretch.point.worth("excess_air").reason.name == "shared"


def _kept(stretch: Stretch) -> str:
    """What stays in a diluted sample, and how much doubt uneven mixing adds."""
    heat = stretch.point.worth("loss_gross").grade == "wide"
    stays = "Air-free carbon monoxide and the heat lost stay" if heat else "Air-free carbon monoxide stays"
    return f"{stays} right, with {stretch.point.point_class.mixing:.0%} more doubt".replace("%", " %")


def wide_edge(stretch: Stretch) -> Finding | None:
    """A point in undiluted gas whose reading speaks only roughly for the whole appliance."""
    point = stretch.point.point_class
    if point.kind != "undiluted" or not point.mixing:
        return None
    words = stretch.point.worth("carbon_monoxide_air_free").reason.words
    return unsettled(
        "wide-edge",
        stretch,
        f"{stretch.word.capitalize()}: “{stretch.point.name}” speaks only roughly for the whole appliance.",
        f"It is {point.words}: {words}. What is worked out from it carries {point.mixing * 100:.0f} % more doubt; it "
        "raises an alarm and clears nothing.",
        "oxygen_dry",
        "carbon_monoxide_air_free",
    )


def smoke_out_of_place(stretch: Stretch) -> Finding | None:
    """Smoke on paper that was drawn where it says nothing of what leaves the appliance."""
    cell = stretch.point.worth("smoke_spot")
    if "smoke_spot" not in stretch.readings or cell.grade != "refused":
        return None
    return unsettled(
        "smoke-not-here",
        stretch,
        f"{stretch.word.capitalize()}: smoke drawn at “{stretch.point.name}” is not judged.",
        f"The paper shows {stretch.readings['smoke_spot'].typed.text}, but at this point it is refused: "
        f"{cell.reason.words}. Draw it in undiluted flue gas.",
        "smoke_spot",
    )


def hydrogen_undecided(worked: Worked, stretch: Stretch, instrument: Instrument) -> Finding | None:
    """Hydrogen in the fuel or in a rich flame, and a cell that answers to it."""
    in_fuel = hydrogen_share(worked.taken.record)
    if (
        not worked.taken.has_carbon_monoxide
        or instrument.hydrogen == "yes"
        or (in_fuel < HYDROGEN_FUEL and worked.hydrogen <= 0.0)
    ):
        return None
    why = (
        f"{in_fuel * 100:.0f} % of the gas is hydrogen"
        if in_fuel >= HYDROGEN_FUEL
        else "a flame short of air makes hydrogen with its CO"
    )
    return unsettled(
        "hydrogen",
        stretch,
        f"{stretch.word.capitalize()}: the carbon monoxide cell may be counting hydrogen.",
        f"{why[0].upper()}{why[1:]}, and the cell's compensation is {instrument.hydrogen!r}. The error is "
        f"one-sided: the true "
        "carbon monoxide may be lower than read. A high reading alarms all the same until a compensated cell has read.",
        "carbon_monoxide_air_free",
    )


def unknown_sender(stretch: Stretch) -> Finding | None:
    """Samples that came in live and that anybody could have sent: they raise an alarm and clear nothing."""
    if stretch.stream != "unknown":
        return None
    return Finding(
        "unknown-sender",
        "open",
        f"{stretch.word.capitalize()}: nobody proved who sent these samples.",
        "They came in live, unsigned, or repeat an earlier stretch row by row. A figure that alarms is believed all "
        "the same; one that would clear is not, because whoever can reach the line can send it.",
        tuple((stretch.word, name) for name in stretch.readings),
        PHYSICS,
        do_next=("read it off the instrument and type it, or let the instrument sign what it sends",),
    )


def beyond(result: Result, limit: float) -> float | None:
    """Probability that a result lies above a limit, by the side of its doubt that faces the limit."""
    if result.value is None:
        return None
    if result.bound == "at least":
        return 1.0 if result.value >= limit else None
    if result.bound == "at most":
        return 0.0 if result.value <= limit else None
    spread = facing(result, limit)
    if spread <= 0.0:
        return 1.0 if result.value > limit else 0.0
    return odds.beyond(value=result.value, spread=spread, limit=limit)


def facing(result: Result, limit: float) -> float:
    """Standard uncertainty of a result on the side where the limit lies."""
    return result.above if (result.value or 0.0) < limit else result.below


def doubts(
    *, worked: Worked | None, stretch: Stretch, instrument: Instrument, record: FuelRecord
) -> tuple[Finding, ...]:
    """Every reason to mistrust one stretch of readings."""
    in_flue = stretch.point.kind in ("undiluted", "diluted")
    found = [
        fresh_air(stretch) if in_flue else None,
        saturated_cell(stretch, instrument),
        still_moving(stretch),
        intake_starved(stretch),
        diluted(stretch),
        unknown_sender(stretch),
    ]
    found += [wide_edge(stretch), smoke_out_of_place(stretch)]
    if worked is not None:
        found += [
            off_the_line(worked, stretch, record),
            colder_than_air(worked, stretch),
            wet_probe(worked, stretch),
            hydrogen_undecided(worked, stretch, instrument),
            mixed_boundary(worked, stretch),
            too_much_collected(worked, stretch),
            breathes_its_own(worked, stretch),
        ]
    return tuple(one for one in found if one is not None)
