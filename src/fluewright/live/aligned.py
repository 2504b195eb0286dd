"""Channels of different response brought to the slowest one, before any ratio is made of them."""

import math
from collections.abc import Mapping

from fluewright.kernel import dilution
from fluewright.live.steady import E_FOLD

MOST_OXYGEN = 0.19
"""Above it air-free says nothing (kernel.dilution)."""


class Aligned:
    """Slows every channel down to the response of the slowest, so that the values of one row are of one moment.

    A first-order channel of time constant a, passed through (1 + a s) / (1 + b s), answers as one of time constant b.
    That is a / b of what it shows and the rest of a running mean of it: nothing is sharpened, noise only falls.

    responses  T90 in s by name

    Holds   first-order channels on one hose, a row a tick
    Fails   hoses of different length: their dead time is not known
    Source  transfer function of a first-order lag; practice P11
    """

    def __init__(self, responses: Mapping[str, float]) -> None:
        self.slowest = max(responses.values(), default=0.0)
        self._share = {name: t90 / self.slowest for name, t90 in responses.items()}
        self._slow: dict[str, float] = {}
        self._last = math.nan

    def step(self, at: float, values: Mapping[str, float]) -> dict[str, float]:
        """One row.

        at      s
        values  canonical unit by name; nan where nothing was read
        -> values as they would be if every channel were as slow as the slowest
        """
        passed = at - self._last
        self._last = at
        keep = math.exp(-E_FOLD * passed / self.slowest) if passed == passed else 0.0
        found = {}
        for name, value in values.items():
            if value != value:
                found[name] = math.nan
                continue
            slow = self._slow.get(name, value)
            slow += (value - slow) * (1.0 - keep)
            self._slow[name] = slow
            found[name] = self._share[name] * value + (1.0 - self._share[name]) * slow
        return found


def air_free(values: Mapping[str, float], *, air_oxygen: float = 0.2095) -> float | None:
    """Air-free carbon monoxide of aligned values; None without both gases or with nearly fresh air.

    values      aligned, mol/mol dry: oxygen_dry and carbon_monoxide_dry
    air_oxygen  constant of the rule
    -> mol/mol dry, air-free
    """
    oxygen, monoxide = values.get("oxygen_dry", math.nan), values.get("carbon_monoxide_dry", math.nan)
    if oxygen != oxygen or monoxide != monoxide or oxygen > MOST_OXYGEN:
        return None
    return float(
        dilution.at_reference_oxygen(fraction=monoxide, oxygen_dry_fraction=oxygen, air_oxygen_fraction=air_oxygen)
    )
