"""A virtual appliance that burns while it is turned: that shows in the flame at once, and in the cells slowly.

The same laws as a run from cold (`running.py`); only that its condition may change between two samples.
"""

import math
import random
from collections.abc import Mapping
from dataclasses import dataclass, replace

from fluewright.simulate.condition import Condition, Design, Site
from fluewright.simulate.running import FILL, NEVER_BELOW, NOISE, T90, WARM, settled

AT_ONCE = ("oxygen_dry", "carbon_dioxide_dry", "carbon_monoxide_dry", "draft")
"""What follows the flame and the fans at once; the exchanger and the room take their time."""


@dataclass(frozen=True, slots=True)
class Lever:
    """One thing that can be turned.

    name    a field of Condition
    words   as a person says it
    least, most   how far it goes
    step    one turn of the hand
    unit    what its figure counts; empty for a share of what is right
    """

    name: str
    words: str
    least: float
    most: float
    step: float
    unit: str = ""


class Steered:
    """One appliance, warm and burning.

    design     what burns
    condition  its faults and settings as it is found
    seed       of the noise, so that a run can be repeated
    step       s from sample to sample
    """

    def __init__(self, design: Design, condition: Condition, *, seed: int, step: float = 1.0) -> None:
        self.design, self.condition, self.step = design, condition, step
        self._noise = random.Random(seed)
        self._goal = settled(design, condition, Site())
        self._there, self._cells = dict(self._goal), dict(self._goal)

    def turn(self, **settings: float) -> None:
        """Set fields of its condition, such as shutter=0.8; the flame answers with the next sample."""
        self.condition = replace(self.condition, **settings)
        self._goal = settled(self.design, self.condition, Site())

    def moment(self) -> Mapping[str, float]:
        """What the cells show one step later, canonical units by registry name."""
        shown = {}
        for name, goal in self._goal.items():
            lasts = FILL if name == "carbon_monoxide_room" else WARM
            share = 1.0 if name in AT_ONCE else 1.0 - math.exp(-self.step / lasts)
            self._there[name] += (goal - self._there[name]) * share
            self._cells[name] += (self._there[name] - self._cells[name]) * (1.0 - 10.0 ** (-self.step / T90[name]))
            read = self._cells[name] + self._noise.gauss(0.0, NOISE[name])
            shown[name] = max(0.0, read) if name in NEVER_BELOW else read
        return shown
