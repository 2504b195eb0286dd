"""Burning or not: a stated rule on whichever channels exist. A channel without a reading abstains."""

import math
from dataclasses import dataclass
from typing import Protocol

from fluewright.evidence.trace.spool import Sample

FIRING_RATE = 0.01
"""Share of full input; below it a burner is off or purging (common practice, no source)."""
OXYGEN = 0.18
"""Share of dry gas; a burner that fires leaves less, fresh air shows 0.209 (common practice, no source)."""
CARBON_DIOXIDE = 0.01
"""Share of dry gas; fresh air shows 0.0004 (common practice, no source)."""
FLUE_RISE = 20.0
"""Kelvin above the combustion air, or above 25 C where the air was not measured (common practice, no source).

Less than that, but warmer than the air, says nothing: a condensing appliance may burn with a flue at 30 C.
"""
ROOM = 298.15


@dataclass(frozen=True, slots=True)
class Vote:
    """What the channels of one row say. yes: names that say burning; no: names that say not."""

    yes: tuple[str, ...]
    no: tuple[str, ...]

    @property
    def burning(self) -> bool:
        """All that can tell say so, and at least one can."""
        return bool(self.yes) and not self.no


class Named(Protocol):
    """Rows whose values have names: a recorded trace, or what comes in live."""

    def index(self, name: str) -> int:
        """Where a channel stands in the values of a row, -1 where there is none."""
        ...


class Rule:
    """The rule for one trace: which channels vote and at what limit."""

    def __init__(self, trace: Named) -> None:
        limits = (
            ("firing_rate", FIRING_RATE, 1.0),
            ("oxygen_dry", OXYGEN, -1.0),
            ("oxygen_wet", OXYGEN, -1.0),
            ("carbon_dioxide_dry", CARBON_DIOXIDE, 1.0),
        )
        self._voters = tuple(
            (trace.index(name), name, limit, sign) for name, limit, sign in limits if trace.index(name) >= 0
        )
        self._flue = trace.index("flue_temperature")
        self._air = trace.index("air_temperature")

    def words(self) -> str:
        """The rule as a sentence."""
        parts = [
            f"{name.replace('_', ' ')} {'above' if sign > 0 else 'below'} {100.0 * limit:g} %"
            for _, name, limit, sign in self._voters
        ]
        if self._flue >= 0:
            beyond = "the combustion air" if self._air >= 0 else "25 °C"
            parts.append(f"flue temperature at least {FLUE_RISE:g} K above {beyond} (less: it abstains; colder: no)")
        if not parts:
            return "no channel can tell whether it burns: every row is taken as burning"
        return f"burning when all that were read agree: {', '.join(parts)}"

    def vote(self, sample: Sample) -> Vote:
        """What each channel of this row says."""
        yes: list[str] = []
        no: list[str] = []
        for index, name, limit, sign in self._voters:
            value = sample.values[index]
            if value == value:
                (yes if (value - limit) * sign > 0 else no).append(name)
        if self._flue >= 0 and not math.isnan(sample.values[self._flue]):
            air = sample.values[self._air] if self._air >= 0 else math.nan
            rise = sample.values[self._flue] - (ROOM if math.isnan(air) else air)
            if rise >= FLUE_RISE or rise <= 0.0:
                (yes if rise > 0.0 else no).append("flue_temperature")
        return Vote(tuple(yes), tuple(no))

    def burning(self, sample: Sample) -> bool:
        """Whether this row burns; every row when no channel can tell."""
        if not self._voters and self._flue < 0:
            return True
        return self.vote(sample).burning
