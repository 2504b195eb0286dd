"""Carbon monoxide and soot of a flame whose air is unevenly spread: what rich pockets leave, and what is chilled.

The local air ratio is taken as normally spread about that of the whole. Where it falls below one, the pocket is
quenched with the monoxide that it has in equilibrium at 1500 K, nearly straight in the air ratio; the mean over all
pockets then has a closed form. Most of it burns on the way; what touches cold metal does not.
"""

import math

from fluewright.simulate.burned import Burned
from fluewright.simulate.condition import Condition, Constants, Design, Site

_ROOT = math.sqrt(2.0 * math.pi)
_SOOT_BELOW = 0.85
"""Local air ratio below which oil leaves soot (equilibrium soot line lies near 0.4; droplets begin far earlier)."""
_LEAN = 2.3
"""Air ratio above which a flame is cooled by its own air before monoxide is burned: invented."""
PRIMARY = 0.55
"""Share of the air needed that an open jet draws in a clean atmospheric burner (reference texts: 40 to 60 %)."""


def rich_share(*, mean: float, spread: float, below: float) -> float:
    """Mean of how far a normally spread air ratio lies under `below`."""
    step = (below - mean) / spread
    density = math.exp(-0.5 * step * step) / _ROOT
    return spread * density + (below - mean) * 0.5 * math.erfc(-step / math.sqrt(2.0))


def primary_air(*, condition: Condition, constants: Constants) -> float:
    """Primary air of an atmospheric burner as a share of the air needed."""
    open_way = condition.shutter * (1.0 - 0.7 * condition.burner_dirt) * (1.0 - 0.3 * condition.lint)
    return PRIMARY * open_way / math.pow(condition.orifice, constants.drawn)


def unevenness(*, design: Design, site: Site, condition: Condition, constants: Constants, speed: float) -> float:
    """Relative spread of the local air ratio; `speed` is the flow of air against that of the design."""
    spread = design.unevenness * site.evenness
    spread *= 1.0 + 0.9 * condition.burner_dirt + 1.3 * condition.misaligned + 1.2 * condition.spray
    spread *= 1.0 + 0.5 * condition.oil_air + 0.4 * condition.oil_water
    if design.family == "atmospheric":
        missing = max(0.0, 0.9 - primary_air(condition=condition, constants=constants) / PRIMARY)
        spread *= 1.0 + 1.1 * missing
    if design.family == "oil":
        drops = max(0.0, 1.0 - condition.pump * (1.0 - 0.5 * condition.strainer))
        cold = max(0.0, (285.0 - condition.oil_temperature) / 30.0)
        spread *= (1.0 + 2.2 * drops + 0.5 * cold) / max(0.6, min(speed, 1.15)) ** 0.5
    return spread


def monoxide(
    *, burned: Burned, design: Design, condition: Condition, constants: Constants, air_ratio: float, spread: float
) -> float:
    """Carbon monoxide in dry gas at the flame, mol/mol."""
    pockets = rich_share(mean=air_ratio, spread=spread * air_ratio, below=1.0)
    left = 1.0 - constants.burn_out * min(1.0, max(0.0, air_ratio - 0.9) / 0.25)
    made = constants.rich * burned.rich * pockets * left
    made += constants.chilled * condition.impinge
    made += 1.5e-3 * max(0.0, air_ratio - _LEAN) + constants.floor
    if design.family == "atmospheric":
        lifted = max(0.0, primary_air(condition=condition, constants=constants) / PRIMARY - 1.25)
        made += 2e-3 * lifted
    if design.family == "wood":
        made += 4e-4 + 0.02 * condition.moisture + 6e-4 * max(0.0, air_ratio - 2.2)
    return min(made, 0.08)


def smoke(*, design: Design, constants: Constants, air_ratio: float, spread: float) -> float:
    """Smoke number 0 to 9 of an oil flame."""
    if design.family != "oil":
        return 0.0
    pockets = rich_share(mean=air_ratio, spread=spread * air_ratio, below=_SOOT_BELOW)
    return 9.0 * (1.0 - math.exp(-constants.soot * pockets))
