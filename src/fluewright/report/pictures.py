"""What the drawings are drawn from: the path of the flame, where the heat went, what the trace did."""

from collections.abc import Sequence
from dataclasses import replace

from fluewright.evidence.flue import Worked
from fluewright.evidence.reading import Account, Stretch
from fluewright.evidence.result import Result
from fluewright.kernel import analysis, balance, ops
from fluewright.kernel.air import DRY_AIR
from fluewright.kernel.analysis import Prepared
from fluewright.quantity import names, show, units
from fluewright.report.drawing import Knot, LossCurve, Plane, Ribbon, Shed, Window, twin
from fluewright.report.tree import Figure

CELL_FLOOR = 5.0
"""ppm: two steps of a cell that shows 1 ppm with a class of 3 ppm below 20 (read: training page cited in classes)."""

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
    """Where on the plane the stack loss would be this many per cent, by halving along the oxygen axis."""
    points = []
    for step in range(31):
        ppm = 5.0 * (400.0 ** (step / 30.0))
        low, high = 0.0002, most_oxygen
        if _loss_at(prepared, low, ppm * 1e-6, hot, cold) > percent / 100.0:
            break
        if _loss_at(prepared, high, ppm * 1e-6, hot, cold) < percent / 100.0:
            continue
        for _ in range(30):
            middle = (low + high) / 2.0
            if _loss_at(prepared, middle, ppm * 1e-6, hot, cold) < percent / 100.0:
                low = middle
            else:
                high = middle
        points.append((50.0 * (low + high), ppm))
    return LossCurve(percent, tuple(points))


def _loss_curves(prepared: Prepared, hot: float, cold: float, limit: float) -> tuple[LossCurve, ...]:
    least = _loss_at(prepared, 0.0005, 5e-6, hot, cold) * 100.0
    most = _loss_at(prepared, limit / 100.0, 5e-6, hot, cold) * 100.0
    step = 1.0 if most - least < 6.0 else 2.0
    first = int(least / step) + 1
    wanted = [first * step + i * step for i in range(6) if first * step + i * step < most]
    curves = (loss_curve(prepared, percent=p, hot=hot, cold=cold, most_oxygen=limit / 100.0) for p in wanted)
    return tuple(curve for curve in curves if len(curve.points) > 3)


def _excess_ticks(prepared: Prepared, limit: float) -> tuple[tuple[float, float], ...]:
    ticks = []
    for percent in (5.0, 10.0, 20.0, 30.0, 40.0, 60.0, 80.0, 100.0, 150.0, 200.0):
        flue = balance.from_air_ratio(fuel=prepared.fuel, air=prepared.air, air_ratio=1.0 + percent / 100.0)
        oxygen = 100.0 * float(flue.oxygen / flue.dry)
        if oxygen < limit:
            ticks.append((percent, oxygen))
    return tuple(ticks)


def _knot(account: Account, stretch: Stretch, worked: Worked) -> Knot | None:
    free, oxygen = worked.results["carbon_monoxide_air_free"], worked.results["oxygen_dry"]
    if free.value is None or oxygen.value is None or stretch.point.kind != "undiluted":
        return None
    step = next((s.word for s in account.steps if s.time and s.time == stretch.time), "")
    note = ", ".join(part for part in (step, stretch.time) if part)
    return Knot(
        oxygen.value * 100.0,
        free.value * 1e6,
        oxygen.spread * 100.0,
        free.spread * 1e6,
        stretch.word,
        note,
        lingered=bool(stretch.steady),
        over_range=bool(free.bound),
    )


def plane(account: Account, told: Told, window: Window | None, section: int) -> Figure | None:
    """The operating plane with every undiluted stretch as a knot."""
    pairs = [(s, w) for s, w in told if w is not None]
    knots = tuple(k for k in (_knot(account, s, w) for s, w in pairs) if k is not None)
    if not knots:
        return None
    prepared = analysis.prepare(fuel=account.fuel.fuel, air=DRY_AIR)
    limit = min(18.0, max(11.0, 2.0 * round(max(k.oxygen for k in knots) / 2.0 + 1.0)))
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
        excess_air_ticks=_excess_ticks(prepared, limit),
        cell_floor_ppm=CELL_FLOOR,
        oxygen_limit=limit,
        co_limit=max(2000.0, *(2.0 * k.carbon_monoxide_air_free for k in knots)) if knots else 2000.0,
    )
    caption = "Oxygen against air-free carbon monoxide: the path of the flame."
    if window is not None:
        caption += f" Hatched: {window.citation}."
    if losses:
        caption += " Dotted: heat lost, if stack temperature stayed."
    return Figure("plane", drawing, caption, twin(drawing), section)


def _scale(account: Account) -> tuple[float, str, str]:
    """The width of a ribbon: the plate's input in the reader's unit, or a hundred; its unit and basis."""
    plate = account.appliance.plate_input
    if plate is None:
        return 100.0, "per 100 of fuel", "gross heat"
    unit = show.unit_of("fuel_input", account.system)
    quantity = names.of("fuel_input")
    wide = units.in_unit(plate, unit=units.unit_named(unit, quantity=quantity), quantity=quantity)
    return wide, unit, "gross heat, from the plate"


def _folded(worked: Worked) -> float:
    """Latent heat that weighed condensate gave back, fraction of gross."""
    condensed = worked.results["condensed_fraction"]
    if condensed.basis != "condensate weighed" or not condensed.value:
        return 0.0
    fuel = worked.taken.prepared.fuel
    net, gross = float(ops.value_of(fuel.heating_value_net)), float(ops.value_of(fuel.heating_value_gross))
    return (1.0 - net / gross) * condensed.value


def _shed(name: str, result: Result, scale: float) -> Shed:
    return Shed(
        name, scale * (result.value or 0.0), scale * result.spread, how="derived" if result.working else "unknown"
    )


def _ribbon(account: Account, stretch: Stretch, worked: Worked) -> Ribbon | None:
    results = worked.results
    if results["loss_gross"].value is None:
        return None
    scale, unit, basis = _scale(account)
    back = _folded(worked)
    vapour = replace(
        _shed("water vapour", results["loss_vapour"], scale),
        value=scale * ((results["loss_vapour"].value or 0.0) + back),
        folded=scale * back,
        note=_vapour_note(results["condensed_fraction"].high, back),
    )
    jacket = float(ops.value_of(worked.taken.jacket))
    sheds = (
        _shed("unburned gas", results["loss_carbon_monoxide"], scale),
        _shed("dry gas", results["loss_dry_gas"], scale),
        vapour,
        Shed("jacket", scale * jacket, how="plate" if jacket else "unknown", note="" if jacket else "not measured"),
    )
    useful = results["efficiency_gross"]
    return Ribbon(
        stretch.word.capitalize(),
        scale,
        unit,
        sheds,
        scale * (useful.value or 0.0),
        f"to the {account.appliance.carrier}",
        useful_spread=scale * useful.spread,
        basis=basis,
    )


def _vapour_note(most: float | None, back: float) -> str:
    if back:
        return "condensate weighed"
    return "some may have condensed" if most else "none of it condensed"


def ribbons(account: Account, told: Told) -> Figure | None:
    """Where the heat went, first and last stretch on one scale."""
    drawn = [r for r in (_ribbon(account, s, w) for s, w in told if w is not None) if r is not None]
    if not drawn:
        return None
    pair = (drawn[0],) if len(drawn) == 1 else (drawn[0], drawn[-1])
    caption = "Where the fuel's heat went at the moment of testing"
    caption += ", on one scale." if len(pair) == 2 else "."
    return Figure("ribbon", pair, caption, twin(pair), 0)
