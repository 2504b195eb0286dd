"""Quiet traces: a burner that burns as it burns, with noise of many kinds, and nothing that happens."""

import math
import random

from live_cells import KINDS, Cell

HOURS = 5.0
KINDS_OF_NOISE = ((0.0, 0.0), (1.0, 0.5), (1.0, 0.9), (2.0, 0.97), (2.0, 0.99), (0.5, 0.8), (1.5, 0.95), (1.0, 0.7))
"""Noise whose neighbours resemble each other: size in units of the white noise, correlation from row to row."""
LEVELS = {
    "oxygen_dry": 0.055, "carbon_monoxide_dry": 45e-6, "flue_temperature": 450.0, "draft": -8.0,
    "line_pressure": 2000.0, "carbon_monoxide_room": 2e-6, "return_water_temperature": 330.0,
}  # fmt: skip


def quiet(seed: int) -> list[Cell]:
    """Seven channels of one quiet trace; the level of each swings slowly by two of its white deviations."""
    chance = random.Random(1000 + seed)
    size, alike = KINDS_OF_NOISE[seed % len(KINDS_OF_NOISE)]
    cells = []
    for quantity, level in LEVELS.items():
        kind = KINDS[quantity]
        period, phase = chance.uniform(1800.0, 7200.0), chance.uniform(0.0, 6.0)

        def truth(time: float, level: float = level, swing: float = 2.0 * kind["noise"], period: float = period,
                  phase: float = phase) -> float:  # fmt: skip
            return level + swing * math.sin(2.0 * math.pi * time / period + phase)

        drift = chance.uniform(-1.0, 1.0) * kind["noise"] / 3600.0
        cells.append(Cell(quantity, truth, kind["t90"], kind["noise"], kind["step"], waver=size * kind["noise"],
                          alike=alike, drift=drift))  # fmt: skip
    return cells
