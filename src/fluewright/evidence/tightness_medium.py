"""What was in the pipe when it was tested: air leaks otherwise than gas."""

import math
from collections.abc import Mapping
from typing import Literal, get_args

from fluewright.evidence.doubt import Origin
from fluewright.evidence.gas_lines import gas_of
from fluewright.evidence.reckon import Reckoning
from fluewright.kernel import tightness
from fluewright.kernel.gas_properties import gas_properties
from fluewright.kernel.ops import Number
from fluewright.kernel.pipe_sizes import LINE_GASES

Medium = Literal["", "gas", "air", "nitrogen", "carbon dioxide"]
"""Empty where nobody has said. Oxygen is none: with oil or grease in the pipe it burns and bursts."""
MEDIA: tuple[str, ...] = get_args(Medium)

_MEDIA: Mapping[str, tuple[float, float]] = {
    "air": (1.0, 1.82e-5),
    "nitrogen": (0.967, 1.76e-5),
    "carbon dioxide": (1.519, 1.47e-5),
}
"""Density relative to air, and Pa s at 20 C (handbooks, from memory)."""


def as_gas(medium: str, reckoning: Reckoning, *, leak: Number, exponent: Number) -> Number:
    """A leak of the medium as a leak of the gas; where nobody named the medium, with the doubt that it was air."""
    record = reckoning.account.fuel
    if medium == "gas" or record.mole_fractions is None:
        return leak
    density, viscosity = _MEDIA[medium or "air"]
    found = gas_properties(mole_fractions=record.mole_fractions, combustion="60F", metering="60F")
    its, thin = float(found.relative_density), LINE_GASES[gas_of(record) or "natural gas"].viscosity
    if medium:
        return tightness.leak_in_other_gas(
            leak_rate=leak,
            density=density,
            dynamic_viscosity=viscosity,
            new_density=its,
            new_dynamic_viscosity=thin,
            exponent=exponent,
        )
    ends = (math.sqrt(density / its), viscosity / thin)
    above, below = (max(0.0, end) / math.sqrt(3.0) for end in (max(ends) - 1.0, 1.0 - min(ends)))
    words = "whether air or gas was in the pipe"
    return leak * reckoning.ledger.number(Origin("share", words, 1.0, below, above, "not said"))


def fits(medium: str, asked: str) -> bool:
    """Whether a medium is one that a text asks for, such as "air, carbon dioxide or nitrogen"."""
    return medium in asked.partition(", never")[0].replace(" or ", ", ").split(", ")
