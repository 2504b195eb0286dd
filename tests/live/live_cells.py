"""Made-up instruments on made-up appliances whose truth is known: cells with lag, drift, noise and rounding."""

import math
import random
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field

from fluewright.live.sample import Sample

Truth = Callable[[float], float]


@dataclass(frozen=True)
class Cell:
    """One channel of a made-up instrument.

    truth  what is there, canonical unit, over seconds
    t90    s
    noise  standard deviation of one row, white
    step   rounding
    waver  standard deviation of noise whose neighbours resemble each other, with correlation `alike` from row to row
    drift  canonical unit per second
    stuck  s, from when it shows its last value, never when infinite
    top    end of range
    """

    quantity: str
    truth: Truth
    t90: float
    noise: float
    step: float
    point: str = "flue"
    appliance: str = ""
    waver: float = 0.0
    alike: float = 0.9
    drift: float = 0.0
    stuck: float = math.inf
    top: float = math.inf
    slower: float = 1.0
    slower_from: float = math.inf
    deaf_from: float = math.inf
    keeps: float = 0.0


@dataclass
class _State:
    shown: float
    wavered: float = 0.0
    held: float = math.nan
    soaked: float = field(default=0.0)


def lagged(cell: Cell, seconds: int) -> list[float]:
    """What the cell shows each second without noise."""
    shown, found = cell.truth(0.0), []
    for second in range(seconds):
        t90 = cell.t90 * (cell.slower if second >= cell.slower_from else 1.0)
        target = min(cell.truth(float(second)), 1e9) if second < cell.deaf_from else 0.0
        shown += (target - shown) * (1.0 - 10.0 ** (-1.0 / t90))
        found.append(shown + cell.drift * second)
    return found


def samples(cells: list[Cell], seconds: int, seed: int) -> Iterator[Sample]:
    """A sample of each cell a second."""
    chance = random.Random(seed)
    shown = [lagged(cell, seconds) for cell in cells]
    states = [_State(one[0], chance.gauss(0.0, cell.waver)) for one, cell in zip(shown, cells, strict=True)]
    for second in range(seconds):
        for cell, values, state in zip(cells, shown, states, strict=True):
            rest = math.sqrt(1.0 - cell.alike * cell.alike)
            state.wavered = cell.alike * state.wavered + rest * chance.gauss(0.0, cell.waver)
            value = values[second] + state.wavered + chance.gauss(0.0, cell.noise)
            value = round(value / cell.step) * cell.step
            if cell.quantity.startswith(("carbon_monoxide", "oxygen")):
                value = max(value, 0.0)
            if second >= cell.stuck:
                value = state.held
            state.held = value
            at_top = value >= cell.top
            yield Sample(
                "made", "made", cell.quantity, cell.point, float(second), min(value, cell.top), second + 1,
                appliance=cell.appliance, step=cell.step, t90=cell.t90, bound="at least" if at_top else "",
                trust="known",
            )  # fmt: skip


def step(at: float, before: float, after: float, *, within: float = 0.0) -> Truth:
    """One value until a moment, another from then on, along a line in between."""

    def truth(time: float) -> float:
        share = min(max((time - at) / within, 0.0), 1.0) if within else float(time >= at)
        return before + (after - before) * share

    return truth


def still(value: float) -> Truth:
    """One value all the time."""
    return lambda time: value


def times(spans: list[tuple[float, float]], inside: float, outside: float) -> Truth:
    """One value inside spans of time, another outside."""
    return lambda time: inside if any(start <= time < end for start, end in spans) else outside


def plus(*parts: Truth) -> Truth:
    """The sum of several."""
    return lambda time: math.fsum(part(time) for part in parts)


O2 = {"t90": 20.0, "noise": 0.0003, "step": 0.001}
CO = {"t90": 40.0, "noise": 0.8e-6, "step": 1e-6}
FLUE = {"t90": 30.0, "noise": 0.25, "step": 0.1}
DRAFT = {"t90": 2.0, "noise": 0.25, "step": 0.1}
SUPPLY = {"t90": 2.0, "noise": 4.0, "step": 1.0}
ROOM = {"t90": 40.0, "noise": 0.4e-6, "step": 1e-6}
HEAT = {"t90": 8.0, "noise": 0.15, "step": 0.1}
KINDS: Mapping[str, Mapping[str, float]] = {
    "oxygen_dry": O2, "carbon_monoxide_dry": CO, "carbon_dioxide_dry": O2, "flue_temperature": FLUE, "draft": DRAFT,
    "line_pressure": SUPPLY, "carbon_monoxide_room": ROOM, "temperature": HEAT,
    "flame_current": {"t90": 2.0, "noise": 5e-8, "step": 1e-8},
    "return_water_temperature": {"t90": 10.0, "noise": 0.1, "step": 0.1},
}  # fmt: skip


def cell(quantity: str, truth: Truth, **other: object) -> Cell:
    """A cell of the usual kind for its quantity."""
    return Cell(quantity, truth, **{**KINDS[quantity], **other})  # type: ignore[arg-type]
