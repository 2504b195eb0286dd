"""What the drawings are drawn from: the path of the flame, where the heat went, what the trace did."""

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import lru_cache

from fluewright.evidence.delivered import inputs_in
from fluewright.evidence.flue import Worked
from fluewright.evidence.flue_section import FlueSection, Way
from fluewright.evidence.limits import seen
from fluewright.evidence.part import Part
from fluewright.evidence.reading import Account, Stretch
from fluewright.evidence.result import Result
from fluewright.kernel import analysis, balance, ops
from fluewright.kernel.air import DRY_AIR
from fluewright.kernel.analysis import Prepared
from fluewright.quantity import names, show, units
from fluewright.report import phrase
from fluewright.report.drawing import (
    Branch,
    Case,
    Firing,
    House,
    Knot,
    LossCurve,
    Pin,
    Plane,
    PressureSection,
    Ribbon,
    Shed,
    Window,
    twin,
)
from fluewright.report.pen import plate_words, sides
from fluewright.report.tree import Figure, Section
from fluewright.solve import root
from fluewright.tune.walked import WORD as CURVE

CELL_FLOOR = 5.0
"""ppm: two steps of a cell that shows 1 ppm with a class of 3 ppm below 20 (read: training page cited in classes)."""

REMEMBERED = 64
"""Planes whose curves are kept, since a sheet is looked at after every line."""

Told = Sequence[tuple[Stretch, Worked | None]]


def _loss_at(prepared: Prepared, oxygen: float, air_free: float, hot: float, cold: float) -> float:
    """Gross loss for an oxygen and an air-free CO, if the flue temperature stayed."""
    fresh = DRY_AIR.oxygen
    found = analysis.analyse(
        prepared=prepared,
        oxygen_dry_fraction=oxygen,
        flue_temperature=hot,
        air_temperature=cold,
        carbon_monoxide_dry_fraction=air_free * (fresh - oxygen) / fresh,
    )
    return float(found.loss_gross)


def loss_curve(prepared: Prepared, *, percent: float, hot: float, cold: float, most_oxygen: float) -> LossCurve:
    """Where on the plane the stack loss would be this many per cent, searched along the oxygen axis."""
    points = []
    for step in range(31):
        ppm = 5.0 * (400.0 ** (step / 30.0))

        def short(oxygen: float, free: float = ppm * 1e-6) -> float:
            return _loss_at(prepared, oxygen, free, hot, cold) - percent / 100.0

        if short(0.0002) > 0.0:
            break
        if short(most_oxygen) < 0.0:
            continue
        points.append((100.0 * root.between(short, low=0.0002, high=most_oxygen, within=1e-9), ppm))
    return LossCurve(percent, tuple(points))


@lru_cache(maxsize=REMEMBERED)
def _loss_curves(prepared: Prepared, hot: float, cold: float, limit: float) -> tuple[LossCurve, ...]:
    least = _loss_at(prepared, 0.0005, 5e-6, hot, cold) * 100.0
    most = _loss_at(prepared, limit / 100.0, 5e-6, hot, cold) * 100.0
    step = 1.0 if most - least < 6.0 else 2.0
    first = int(least / step) + 1
    wanted = [first * step + i * step for i in range(6) if first * step + i * step < most]
    curves = (loss_curve(prepared, percent=p, hot=hot, cold=cold, most_oxygen=limit / 100.0) for p in wanted)
    return tuple(curve for curve in curves if len(curve.points) > 3)


def excess_ticks(prepared: Prepared, limit: float) -> tuple[tuple[float, float], ...]:
    """(excess air %, oxygen %) for the upper edge of the plane, up to its limit of oxygen."""
    ticks = []
    for percent in (5.0, 10.0, 20.0, 30.0, 40.0, 60.0, 80.0, 100.0, 150.0, 200.0):
        flue = balance.from_air_ratio(fuel=prepared.fuel, air=prepared.air, air_ratio=1.0 + percent / 100.0)
        oxygen = 100.0 * float(flue.oxygen / flue.dry)
        if oxygen < limit:
            ticks.append((percent, oxygen))
    return tuple(ticks)


def decade_top(*, least: float) -> float:
    """The next of 1, 2, 5 times a power of ten, so that an axis ends at a figure that can be said."""
    power = 10.0 ** math.floor(math.log10(least))
    return next(step * power for step in (1.0, 2.0, 5.0, 10.0) if step * power >= least * (1.0 - 1e-12))


def _knot(account: Account, stretch: Stretch, worked: Worked, *, first: bool) -> Knot | None:
    """A stretch on the plane, with the word of the step before it; before the first there was none."""
    free, oxygen = worked.results["carbon_monoxide_air_free"], worked.results["oxygen_dry"]
    if free.value is None or oxygen.value is None or stretch.point.kind != "undiluted":
        return None
    doubt = sides(below=free.below * 1e6, above=free.above * 1e6)
    steps = () if first else account.steps
    step = next((s.word for s in steps if s.time and s.time == stretch.time), "")
    note = ", ".join(part for part in (step, stretch.time) if part)
    return Knot(
        oxygen.value * 100.0,
        free.value * 1e6,
        oxygen.spread * 100.0,
        doubt.above,
        stretch.word,
        note,
        lingered=bool(stretch.steady),
        over_range=free.bound == "at least",
        spread_down=None if doubt.below == doubt.above else doubt.below,
    )


def _knee(parts: Sequence[Part]) -> tuple[float, float] | None:
    """Where the knee of the walked curve lies, of the way that needs more air; None where none was found."""
    curves = [part for part in parts if part.word == CURVE]
    bands = [part.results[key] for part in curves for key in ("knee_down", "knee_up") if key in part.results]
    found = [(100.0 * band.low, 100.0 * band.high) for band in bands if band.low is not None and band.high is not None]
    return max(found, key=lambda band: band[1], default=None)


def plane(
    account: Account, told: Told, window: Window | None, section: int, parts: Sequence[Part] = ()
) -> Figure | None:
    """The operating plane with every undiluted stretch as a knot, and the knee where a curve was walked."""
    pairs = [(s, w) for s, w in told if w is not None]
    drawn = (_knot(account, s, w, first=index == 0) for index, (s, w) in enumerate(pairs))
    knots = tuple(knot for knot in drawn if knot is not None)
    if not knots:
        return None
    prepared = analysis.prepare(fuel=account.fuel.fuel, air=DRY_AIR)
    knee = _knee(parts)
    widest = max(*(k.oxygen for k in knots), knee[1] if knee is not None else 0.0)
    limit = min(18.0, max(11.0, 2.0 * round(widest / 2.0 + 1.0)))
    last = pairs[-1][1].taken
    losses: tuple[LossCurve, ...] = ()
    if last.has_temperatures:
        hot, cold = float(ops.value_of(last.flue_temperature)), float(ops.value_of(last.air_temperature))
        if hot > cold:
            losses = _loss_curves(prepared, hot, cold, limit)
    drawing = Plane(
        knots,
        window=window,
        losses=losses,
        excess_air_ticks=excess_ticks(prepared, limit),
        cell_floor_ppm=CELL_FLOOR,
        oxygen_limit=limit,
        co_limit=decade_top(least=max(2000.0, *(2.0 * k.carbon_monoxide_air_free for k in knots))),
        knee=knee,
    )
    caption = "Oxygen against air-free carbon monoxide: the path of the flame."
    if window is not None:
        caption += f" Hatched: {window.citation}."
    if knee is not None:
        caption += " Band: where the knee of the walked curve lies."
    if losses:
        caption += " Dotted: heat lost, if stack temperature stayed."
    return Figure("plane", drawing, caption, twin(drawing), section)


PER_HUNDRED = "per 100 of fuel"
FINEST = 1.0e-3
"""Part of the fuel's heat below which a ribbon gives no digits: the balance leaves out as much (no source)."""


@dataclass(frozen=True, slots=True)
class _Scale:
    """What the whole width of a ribbon stands for."""

    wide: float
    unit: str
    basis: str


def _input_read(stretch: Stretch) -> float | None:
    """Heat input that was measured in this stretch, in W; a plate is no measurement."""
    reading = stretch.readings.get("fuel_input")
    return reading.typed.value if reading is not None and reading.source != "from the plate" else None


def _scale(account: Account, stretch: Stretch, absolute: bool) -> _Scale:
    """The measured input in the reader's unit where all ribbons have one, else a hundred."""
    put_in = _input_read(stretch)
    if not absolute or put_in is None:
        return _Scale(100.0, PER_HUNDRED, "gross heat")
    unit = show.unit_of("fuel_input", account.system)
    quantity = names.of("fuel_input")
    wide = units.in_unit(put_in, unit=units.unit_named(unit, quantity=quantity), quantity=quantity)
    return _Scale(wide, unit, "gross heat, measured")


def _folded(worked: Worked) -> float:
    """Latent heat that weighed condensate gave back, fraction of gross."""
    condensed = worked.results["condensed_fraction"]
    if condensed.basis != "condensate weighed" or not condensed.value:
        return 0.0
    fuel = worked.taken.prepared.fuel
    net, gross = float(ops.value_of(fuel.heating_value_net)), float(ops.value_of(fuel.heating_value_gross))
    return (1.0 - net / gross) * condensed.value


def _words(result: Result, scale: _Scale, back: float = 0.0) -> str:
    """How much it is: a band where only that is known, and no digits finer than a thousandth of the fuel's heat."""
    places = max(0, -math.floor(math.log10(scale.wide * FINEST) + 1e-9))
    value = result.value or 0.0
    if result.low is not None and result.high is not None:
        return f"{scale.wide * result.low:.{places}f} to {scale.wide * result.high:.{places}f}"
    if max(result.below, result.above) >= FINEST / 2.0:
        doubt = sides(below=scale.wide * result.below, above=scale.wide * result.above)
        return phrase.said_between(scale.wide * (value + back), doubt)
    if 0.0 < abs(value + back) < FINEST:
        return f"under {scale.wide * FINEST:.{places}f}"
    return f"{scale.wide * (value + back):.{places}f}"


def _shed(name: str, result: Result, scale: _Scale) -> Shed:
    """A strip as wide as what is known of it; a band at its widest."""
    known = result.working is not None and result.value is not None
    band = result.low is not None and result.high is not None
    return Shed(
        name,
        scale.wide * ((result.high if band else result.value) or 0.0),
        scale.wide * result.spread,
        how="band" if band else "derived" if known else "unknown",
        words=_words(result, scale) if known else "",
        least=scale.wide * result.low if band and result.low is not None else None,
    )


def _vapour(worked: Worked, scale: _Scale) -> Shed:
    """Water vapour with what folded back, or the band between nothing condensed and gas leaving saturated."""
    result, back = worked.results["loss_vapour"], _folded(worked)
    shed = _shed("water vapour", result, scale)
    if not back:
        return replace(shed, note=BAND_NOTE if shed.how == "band" else "none of it condensed")
    return replace(
        shed,
        value=shed.value + scale.wide * back,
        folded=scale.wide * back,
        note="condensate weighed",
        words=_words(result, scale, back),
    )


BAND_NOTE = "between nothing condensed and gas that leaves saturated"


def _ribbon(account: Account, stretch: Stretch, worked: Worked, absolute: bool) -> Ribbon | None:
    results = worked.results
    if results["loss_gross"].value is None:
        return None
    scale = _scale(account, stretch, absolute)
    jacket = float(ops.value_of(worked.taken.jacket))
    sheds = (
        _shed("unburned gas", results["loss_carbon_monoxide"], scale),
        _shed("dry gas", results["loss_dry_gas"], scale),
        _vapour(worked, scale),
        Shed(
            "jacket", scale.wide * jacket, how="plate" if jacket else "unknown", note="" if jacket else "not measured"
        ),
    )
    useful = results["efficiency_gross"]
    least = useful.value if useful.low is None else useful.low
    return Ribbon(
        stretch.word.capitalize(),
        scale.wide,
        scale.unit,
        sheds,
        scale.wide * (least or 0.0),
        f"to the {account.appliance.carrier}",
        useful_spread=scale.wide * useful.spread,
        basis=scale.basis,
        useful_words=_words(useful, scale),
    )


def _plate(account: Account, plate: float) -> str:
    return f"plate {plate_words(plate, 'fuel_input', account.system)}"


def _of_input(account: Account, parts: Sequence[Part]) -> str:
    """What is known of the input where a ribbon counts by hundreds: metered apart, or of a plate alone."""
    plate = account.appliance.plate_input
    metered = inputs_in({part.word: part for part in parts})
    if metered:
        word, _, result = metered[0]
        of_plate = "" if plate is None else f", {_plate(account, plate)}"
        return f"; the {word} was measured apart from these readings, {seen(result, account)}{of_plate}."
    return "." if plate is None else f"; the input was not measured ({_plate(account, plate)})."


def _caption(account: Account, drawn: Sequence[Ribbon], parts: Sequence[Part]) -> str:
    caption = "Where the fuel's heat went at the moment of testing"
    caption += ", on one scale." if len(drawn) == 2 else "."
    if drawn[0].unit == PER_HUNDRED:
        caption += f" Per 100 of the fuel's gross heat{_of_input(account, parts)}"
    return caption


def ribbons(account: Account, told: Told, parts: Sequence[Part] = ()) -> Figure | None:
    """Where the heat went, first and last stretch on one scale; parts: for an input that was metered apart."""
    pairs = [(s, w) for s, w in told if w is not None and w.results["loss_gross"].value is not None]
    pairs = pairs if len(pairs) < 2 else [pairs[0], pairs[-1]]
    absolute = all(_input_read(stretch) is not None for stretch, _ in pairs)
    drawn = tuple(r for r in (_ribbon(account, s, w, absolute) for s, w in pairs) if r is not None)
    return Figure("ribbon", drawn, _caption(account, drawn, parts), twin(drawn), 0) if drawn else None


def pressure_section(account: Account, parts: Sequence[Part], sections: Sequence[Section]) -> Figure | None:
    """House, appliances and flue with the pressure beside them; None where no flue was worked out."""
    part = next((each for each in parts if isinstance(each.picture, FlueSection)), None)
    if part is None or not isinstance(part.picture, FlueSection):
        return None
    seen = part.picture
    drawn = PressureSection(
        House(
            ground=seen.building.ground,
            floors=seen.building.floors,
            eaves=seen.building.eaves or 0.6 * seen.top,
            ridge=seen.building.ridge or 0.85 * seen.top,
            foot=seen.building.foot,
            top=seen.top,
        ),
        tuple(Firing(one.words, 0.8 * one.outlet, one.outlet, one.joins, one.hood, one.lit) for one in seen.standing),
        tuple(
            Case(one.words, one.room, tuple(_branch(way, seen) for way in one.ways), one.flue)
            for one in seen.conditions
        ),
        tuple(Pin(one.height, one.pressure, one.spread, one.place, int(one.fans)) for one in seen.measured),
        feet=account.system == "us",
    )
    number = next((each.number for each in sections if each.title == part.title), 0)
    return Figure("section", drawn, _section_words(seen), twin(drawn), number)


def _branch(way: Way, seen: FlueSection) -> Branch:
    """The way of one appliance, open to the room only where it has a hood or a damper."""
    opens = any(one.hood for one in seen.standing if one.words == way.words)
    return Branch(way.words, way.places, way.spills, opens)


def _section_words(seen: FlueSection) -> str:
    """What the section shows, and how to read it."""
    words = ["Heavy: what buoyancy, losses and mixing predict for today's temperatures."]
    if len(seen.conditions) > 1:
        words.append("Broken: every fan on.")
    if seen.measured:
        words.append("Discs: measured, with their doubt.")
    words.append("Hatched: where gas comes out into the room; an appliance spills where its line stands right of it.")
    return " ".join(words)
