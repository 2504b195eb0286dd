"""Warm-ups of a made-up appliance, each with its own cells, noise and slowness, and what is truly so at each second."""

import math
import random
from dataclasses import dataclass

from live_cells import Cell, lagged

from fluewright.live.steady import LEAST

AIR = 0.209
LIT = 30.0


@dataclass(frozen=True)
class WarmUp:
    """One warm-up.

    cells    the instrument
    seconds  how long it is watched
    shown    what each cell shows without noise and drift
    slowest  s, T90 of the slowest cell
    heat     s, T90 of the slowest thermometer
    """

    cells: list[Cell]
    seconds: int
    shown: list[list[float]]
    slowest: float
    heat: float

    def settled_by_lag(self, second: int) -> bool:
        """Whether every cell shows what is there within its least step."""
        return all(
            abs(shown[second] - cell.truth(float(second))) <= least(cell, shown[second])
            for cell, shown in zip(self.cells, self.shown, strict=True)
        )

    def still(self, second: int, cells: list[int], window: int, share: float = 1.0) -> bool:
        """Whether no noise-free line over the window behind a second rises or falls by more than its least step."""
        if second < window:
            return False
        behind = {place: self.shown[place][second - window : second + 1] for place in cells}
        return all(abs(line(rows)) <= share * least(self.cells[place], rows[-1]) for place, rows in behind.items())


def least(cell: Cell, level: float) -> float:
    """The least step that counts of a cell."""
    share = 0.04 * level if cell.quantity.startswith("carbon_monoxide") else 0.0
    return max(cell.step, LEAST[cell.quantity], share)


def line(values: list[float]) -> float:
    """How much the least-squares line rises from first to last."""
    count = len(values)
    middle, mean = (count - 1) / 2.0, math.fsum(values) / count
    width = count * (count * count - 1.0) / 12.0
    return math.fsum((row - middle) * (value - mean) for row, value in enumerate(values)) / width * (count - 1)


def warm_up(seed: int) -> WarmUp:
    """One warm-up: lit after half a minute, flame at once, burner, exchanger and water each in their own time."""
    chance = random.Random(seed)
    oxygen, made = chance.uniform(0.03, 0.09), chance.uniform(5e-6, 120e-6)
    burner, exchanger, water = chance.uniform(10.0, 90.0), chance.uniform(30.0, 200.0), chance.uniform(60.0, 400.0)
    more, puff = chance.uniform(-0.008, 0.008), chance.uniform(0.5, 4.0) * made
    hot, warm = chance.uniform(350.0, 520.0), chance.uniform(300.0, 340.0)

    def goes(cold: float, start: float, end: float, slow: float) -> object:
        def truth(time: float) -> float:
            return cold if time < LIT else end + (start - end) * math.exp(-(time - LIT) / slow)

        return truth

    waver = chance.choice((0.0, 0.5, 1.0))
    alike = chance.choice((0.3, 0.7, 0.9))
    rows = (
        ("oxygen_dry", goes(AIR, oxygen + more, oxygen, burner), chance.uniform(15.0, 60.0), 0.0004, 0.001, 1e-7),
        ("carbon_monoxide_dry", goes(0.0, made + puff, made, burner), chance.uniform(30.0, 60.0), 0.8e-6, 1e-6, 1e-9),
        ("flue_temperature", goes(295.0, 320.0, hot, exchanger), chance.uniform(10.0, 60.0), 0.3, 0.1, 0.0),
        ("return_water_temperature", goes(warm, warm, warm + 20.0, water), chance.uniform(5.0, 20.0), 0.1, 0.1, 0.0),
    )  # fmt: skip
    cells = [
        Cell(quantity, truth, t90, noise, step, waver=waver * noise, alike=alike, drift=chance.uniform(-1, 1) * drift)  # type: ignore[arg-type]
        for quantity, truth, t90, noise, step, drift in rows
    ]
    seconds = int(LIT + 600 + 4.0 * max(exchanger, water))
    slowest = max(cell.t90 for cell in cells)
    return WarmUp(cells, seconds, [lagged(cell, seconds) for cell in cells], slowest, max(c.t90 for c in cells[2:]))
