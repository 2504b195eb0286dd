"""Twenty scenes, each with what truly happens and when: the first moment is what the delay is counted from."""

import math
from collections.abc import Callable
from dataclasses import dataclass

from live_cells import Cell, cell, plus, step, still, times

from fluewright.live.marks import Mark

AIR = 0.209


@dataclass(frozen=True)
class Scene:
    """One scene.

    key      the sentence that has to be told
    at       s, when it can be known at the earliest
    response s, T90 of the slowest channel that the sentence needs
    cells    the instrument
    marks    what was done
    seconds  how long it is watched
    """

    name: str
    key: str
    at: float
    response: float
    cells: list[Cell]
    marks: tuple[Mark, ...] = ()
    seconds: int = 900
    on_flue: tuple[str, ...] = ()
    adjusting: str = ""


def run(oxygen: Cell | None = None, monoxide: Cell | None = None, flue: Cell | None = None) -> list[Cell]:
    """The usual three channels, burning quietly but for those that are given."""
    return [
        oxygen or cell("oxygen_dry", still(0.055)),
        monoxide or cell("carbon_monoxide_dry", still(40e-6)),
        flue or cell("flue_temperature", still(450.0)),
    ]


def puffs(spans: list[tuple[float, float]], height: float) -> Callable[[float], float]:
    """A puff of carbon monoxide of four seconds at each lighting."""
    return times([(start, start + 4.0) for start, _ in spans], height, 0.0)


FIRED = [(60.0, 260.0), (360.0, 560.0), (660.0, 860.0)]
SHORT = [(60.0, 180.0), (300.0, 420.0), (540.0, 660.0)]
LATE = [(300.0, 1200.0)]


def scenes() -> list[Scene]:
    """All of them."""
    return [*_burner(), *_air(), *_instrument()]


def _burner() -> list[Scene]:
    at = 400.0
    lit = times(LATE, 0.055, AIR)
    many = times(SHORT, 0.055, AIR)
    return [
        Scene("blower, oxygen up 0.8", "exchanger", at, 20.0, run(cell("oxygen_dry", step(at, 0.055, 0.063))),
              (Mark(at, "blower on"),)),
        Scene("blower, carbon monoxide up 30", "exchanger", at, 40.0,
              run(monoxide=cell("carbon_monoxide_dry", step(at, 40e-6, 70e-6))), (Mark(at - 3.0, "blower on"),)),
        Scene("a step of the screw", "after-step", at, 20.0, run(cell("oxygen_dry", step(at, 0.055, 0.045))),
              (Mark(at, "step"),)),
        Scene("lighting puff", "ignition-peak", 300.0, 40.0,
              run(cell("oxygen_dry", lit),
                  cell("carbon_monoxide_dry", plus(puffs(LATE, 900e-6), times(LATE, 5e-6, 0.0))),
                  cell("flue_temperature", times(LATE, 300.0, 295.0))), (Mark(300.0, "lit"),)),
        Scene("cycling", "cycling", 540.0, 20.0, run(cell("oxygen_dry", many),
              cell("carbon_monoxide_dry", times(SHORT, 30e-6, 0.0)), cell("flue_temperature", still(430.0))), (), 700),
        Scene("carbon monoxide climbs through a run", "monoxide-up", at + 75.0, 40.0,
              run(monoxide=cell("carbon_monoxide_dry", step(at, 40e-6, 160e-6, within=900.0))), (), 1500),
        Scene("flame gone", "flame-out", at, 30.0, run(cell("oxygen_dry", step(at, 0.055, AIR)),
              cell("carbon_monoxide_dry", step(at, 40e-6, 0.0)),
              cell("flue_temperature", step(at, 450.0, 340.0, within=300.0)))),
        Scene("flame pushed off by the blower", "roll-out", at, 40.0,
              [*run(monoxide=cell("carbon_monoxide_dry", step(at, 40e-6, 400e-6))),
               cell("flame_current", step(at, 4e-6, 1.5e-6))], (Mark(at, "blower on"),)),
        Scene("hot in front of the burner", "roll-out", at, 8.0,
              [*run(), cell("temperature", step(at, 300.0, 380.0, within=30.0), point="burner front")]),
    ]  # fmt: skip


def _air() -> list[Scene]:
    at = 400.0
    return [
        Scene("fan weakens the draft", "draft-lost-to-fan", at, 5.0,
              [*run(), cell("draft", step(at, -9.0, -3.5, within=3.0))], (Mark(at, "fan on"),)),
        Scene("door shut weakens the draft", "draft-lost-to-fan", at, 5.0,
              [*run(), cell("draft", step(at, -9.0, -4.5, within=1.0))], (Mark(at, "door shut"),)),
        Scene("fan turns the draft round", "draft-gone", at, 2.5,
              [*run(), cell("draft", step(at, -5.0, 3.0, within=1.0))], (Mark(at, "fan on"),)),
        Scene("draft goes by itself", "draft-gone", at + 3.5, 5.0,
              [*run(), cell("draft", step(at, -5.0, 4.0, within=6.0))]),
        Scene("another appliance takes the gas", "supply-falls", at, 5.0,
              [*run(), cell("line_pressure", step(at, 2000.0, 1650.0))], (Mark(at, "other lit"),)),
        Scene("spilling at the hood", "spills-at-hood", at, 8.0,
              [*run(), cell("temperature", step(at, 296.0, 335.0, within=20.0), point="draft hood")]),
        Scene("carbon monoxide in the room", "room-monoxide-up", at + 30.0, 40.0,
              [*run(), cell("carbon_monoxide_room", step(at, 1e-6, 26e-6, within=200.0), point="room")]),
        Scene("the flame loses its air", "air-short", at, 40.0,
              run(cell("oxygen_dry", step(at, 0.055, 0.025)), cell("carbon_monoxide_dry", step(at, 40e-6, 300e-6)))),
    ]  # fmt: skip


def _instrument() -> list[Scene]:
    at = 400.0

    def thinned(value: float, air: float) -> Callable[[float], float]:
        return lambda time: value if time < at else air + (value - air) * 0.7

    def soaking(time: float) -> float:
        return 0.0 if time < 100.0 else 900e-6 * math.exp(-max(time - 560.0, 0.0) / 400.0)

    three = times(FIRED, 0.055, AIR)
    warm = cell("flue_temperature", still(430.0))
    big = plus(puffs(FIRED, 900e-6), times(FIRED, 30e-6, 0.0))
    return [
        Scene("hose off", "air-let-in", at, 40.0,
              run(cell("oxygen_dry", thinned(0.055, AIR)), cell("carbon_monoxide_dry", thinned(90e-6, 0.0)))),
        Scene("oxygen stuck", "stuck", 402.0, 20.0,
              [*run(cell("oxygen_dry", step(402.0, 0.055, 0.035), stuck=380.0)),
               cell("carbon_dioxide_dry", step(402.0, 0.085, 0.099))]),
        Scene("beyond the range", "saturated", at, 40.0,
              run(monoxide=cell("carbon_monoxide_dry", step(at, 40e-6, 6000e-6), top=2000e-6))),
        Scene("cell poisoned", "cell-asleep", 660.0, 40.0,
              run(cell("oxygen_dry", three), cell("carbon_monoxide_dry", big, deaf_from=600.0), warm),
              tuple(Mark(start, "lit") for start, _ in FIRED)),
        Scene("cell soaked", "cell-soaked", 560.0, 40.0,
              run(cell("oxygen_dry", times([(100.0, 560.0)], 0.055, AIR)),
                  cell("carbon_monoxide_dry", soaking),
                  warm)),
        Scene("filter blocked", "sample-slow", 660.0, 20.0,
              run(cell("oxygen_dry", three, slower=3.5, slower_from=600.0),
                  cell("carbon_monoxide_dry", times(FIRED, 30e-6, 0.0), slower=2.0, slower_from=600.0), warm)),
    ]  # fmt: skip
