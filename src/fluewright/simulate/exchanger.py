"""Heat from the flame to water or air: effectiveness by transfer units, with fouling on either side."""

import math
from dataclasses import dataclass

from fluewright.simulate.burned import Burned
from fluewright.simulate.condition import Condition, Constants, Design, Site

_DEW = 328.0
"""K, below which flue gas of natural gas gives off water; `_BAND` further down nearly all of it has fallen out."""
_BAND = 38.0


@dataclass(frozen=True, slots=True)
class Exchanged:
    """Flue temperature in K, useful share of gross heat, temperature rise of water or air in K, condensed share."""

    flue: float
    useful: float
    rise: float
    condensed: float


def _units(*, design: Design, site: Site, condition: Condition, constants: Constants, flow: float) -> float:
    """Transfer units now: fouling and scale add resistance, more gas spends less time."""
    lag = 1.0 + condition.fouling + condition.scale
    carried = math.pow(condition.carrier * site.rise, 0.25 if design.carrier == "air" else 0.05)
    return design.transfer * site.surface * carried / (lag * math.pow(max(flow, 0.15), constants.gather))


def exchanged(
    *,
    burned: Burned,
    design: Design,
    site: Site,
    condition: Condition,
    constants: Constants,
    heat: float,
    air_ratio: float,
    intake: float,
) -> Exchanged:
    """What leaves and what stays, for a heat in W at an air ratio with air of `intake` K."""
    flame = burned.flame(air_ratio=air_ratio, temperature=intake)
    flow = heat * burned.dry_at(air_ratio) / (design.input * burned.dry_at(design.air_ratio))
    units = _units(design=design, site=site, condition=condition, constants=constants, flow=flow)
    base = site.returning
    rise, useful, flue, condensed = design.rise, 0.85, 420.0, 0.0
    for _ in range(3):
        sink = base + rise * (0.1 if design.transfer > 4.0 else 0.5)
        flue = sink + (flame - sink) * math.exp(-units)
        condensed = 0.0 if flue > _DEW else min(1.0, (_DEW - flue) / _BAND)
        sensible = burned.net * min(1.0, air_ratio) * (flue - intake) / max(flame - intake, 1.0)
        useful = 1.0 - sensible - (1.0 - burned.net) * (1.0 - condensed) - 0.01
        useful -= max(0.0, 1.0 - air_ratio)
        carried = condition.carrier * site.rise
        rise = design.rise * max(0.05, useful) / 0.84 * heat / design.input / carried
    return Exchanged(flue, useful, rise, condensed)
