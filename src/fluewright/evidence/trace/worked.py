"""What each steady stretch comes to: air ratio, losses and efficiency of its means, with the doubt of the means."""

import math
from collections.abc import Mapping
from dataclasses import dataclass

from fluewright.errors import PhysicsRefused
from fluewright.evidence.trace.stretch import Stretch
from fluewright.kernel import analysis, dual
from fluewright.kernel.analysis import Prepared

ASKED = (
    "air_ratio", "excess_air", "carbon_monoxide_air_free", "loss_dry_gas", "loss_vapour", "efficiency_gross",
    "efficiency_net",
)  # fmt: skip
WITHOUT_TEMPERATURE = ("air_ratio", "excess_air", "carbon_monoxide_air_free")
ROOM, ROOM_SPREAD = 298.15, 5.0
"""Combustion air where nobody said: 25 C, and it may as well have been 15 or 35 (common practice, no source)."""


@dataclass(frozen=True, slots=True)
class Air:
    """Combustion air: a temperature with its spread, or the name of a channel, and in words where it comes from."""

    words: str
    temperature: float = ROOM
    spread: float = ROOM_SPREAD
    channel: str = ""


@dataclass(frozen=True, slots=True)
class Worked:
    """Results of one stretch. values: name -> value and standard uncertainty, canonical. refused: why none."""

    stretch: Stretch
    values: Mapping[str, tuple[float, float]]
    air: str = ""
    refused: str = ""


def worked(stretch: Stretch, *, prepared: Prepared, air: Air) -> Worked:
    """The results of one stretch from its means.

    prepared  fuel and air
    air       where the temperature of the combustion air comes from
    -> Worked; without oxygen, or with oxygen that no flame leaves, the reason instead of values

    Holds   undiluted dry sample, one boundary
    Fails   as the kernel's analysis
    """
    means, spreads = stretch.means, stretch.spreads
    oxygen = means.get("oxygen_dry", math.nan)
    limit = prepared.air.oxygen
    if not -0.005 < oxygen < 0.98 * limit:
        reason = "no oxygen channel" if math.isnan(oxygen) else f"oxygen of {100.0 * oxygen:.2f} % is nearly fresh air"
        return Worked(stretch, {}, refused=reason)
    intake, spread = _intake(stretch, air)
    flue = means.get("flue_temperature", math.nan)
    warm = not math.isnan(flue)
    try:
        result = analysis.analyse(
            prepared=prepared,
            oxygen_dry_fraction=_number(stretch, "oxygen_dry", 0.0),
            carbon_monoxide_dry_fraction=_number(stretch, "carbon_monoxide_dry", 0.0),
            flue_temperature=dual.uncertain(flue, spread=spreads["flue_temperature"], name="flue_temperature")
            if warm
            else 450.0,
            air_temperature=dual.uncertain(intake, spread=spread, name="air_temperature"),
        )
    except (PhysicsRefused, ZeroDivisionError) as error:
        return Worked(stretch, {}, refused=str(error).splitlines()[0])
    names = ASKED if warm else WITHOUT_TEMPERATURE
    values = {
        name: _value(getattr(result, name))
        for name in names
        if name != "carbon_monoxide_air_free" or "carbon_monoxide_dry" in means
    }
    return Worked(stretch, values, air=air.words)


def _intake(stretch: Stretch, air: Air) -> tuple[float, float]:
    if air.channel and air.channel in stretch.means:
        return stretch.means[air.channel], stretch.spreads[air.channel]
    return air.temperature, air.spread


def _number(stretch: Stretch, name: str, otherwise: float) -> object:
    if name not in stretch.means:
        return otherwise
    return dual.uncertain(stretch.means[name], spread=stretch.spreads[name], name=name)


def _value(number: object) -> tuple[float, float]:
    if isinstance(number, dual.Dual):
        return float(number.value), float(dual.spread(number))
    return float(number), 0.0  # type: ignore[arg-type]
