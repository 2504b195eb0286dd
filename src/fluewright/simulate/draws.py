"""Days, places, units and constants drawn at random, so that the same appliance is never met twice."""

import random
from dataclasses import replace

from fluewright.simulate.condition import Constants, Design, Site


def _about(noise: random.Random, share: float) -> float:
    """A factor about 1 with a relative spread, within two and a half spreads."""
    return 1.0 + share * max(-2.5, min(2.5, noise.gauss(0.0, 1.0)))


def random_site(*, noise: random.Random, design: Design, width: float = 1.0) -> Site:
    """A day and a place.

    noise   source of chance
    design  what stands there
    width   factor on how far units of one design lie apart
    -> site
    """
    warm = 4.0 if design.carrier == "air" else 7.0
    tuned = {"premix": 0.035, "power": 0.05, "oil": 0.05, "wood": 0.12}.get(design.family, 0.07)
    return Site(
        outdoor=noise.uniform(258.0, 297.0),
        room=noise.uniform(287.0, 298.0),
        barometer=noise.uniform(94_500.0, 103_000.0),
        returning=design.returning + warm * max(-2.0, min(2.0, noise.gauss(0.0, 1.0))),
        factory=_about(noise, tuned * width),
        surface=_about(noise, 0.06 * width),
        evenness=_about(noise, 0.15 * width),
        chimney=noise.uniform(5.0, 10.0),
        changes=noise.uniform(0.4, 3.0),
        play=_about(noise, 0.02 * width),
        rise=_about(noise, 0.1 * width),
        current=_about(noise, 0.2 * width),
    )


_SHARES = {"drawn": 0.2, "gather": 0.2, "chilled": 0.5, "floor": 0.5, "soot": 0.6, "viscosity": 0.3, "hood": 0.5,
           "rich": 0.4}  # fmt: skip
"""How far another model may lie from ours, relative: judgement."""


def random_constants(*, noise: random.Random, width: float = 1.0) -> Constants:
    """Constants of a model that is not ours, `width` times as far off as judged likely."""
    middle = Constants()
    drawn = {
        name: float(getattr(middle, name)) * max(0.2, _about(noise, share * width)) for name, share in _SHARES.items()
    }
    return replace(middle, burn_out=min(0.995, middle.burn_out * _about(noise, 0.008 * width)), **drawn)
