"""What a step was foreseen to do, beside what it did."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from fluewright.live.channel import amount
from fluewright.live.kept import Window
from fluewright.quantity import show

AGREES = 2.0
"""Standard uncertainties of the difference within which what came is what was foreseen."""


@dataclass(frozen=True, slots=True)
class Got:
    """One quantity after a step.

    quantity          registry name
    foreseen, doubt   canonical unit, and its standard uncertainty
    got, unsure       the mean that was kept, with its scatter and what its lag still hides
    agrees            whether the difference is no more than both doubts allow
    words             in one sentence
    """

    quantity: str
    foreseen: float
    doubt: float
    got: float
    unsure: float
    agrees: bool
    words: str


def beside(foreseen: Mapping[str, tuple[float, float]], window: Window, *, system: show.System = "si") -> Sequence[Got]:
    """Each quantity that was foreseen and that the window holds.

    foreseen  by registry name: figure and standard uncertainty, canonical unit, as tune/foreseen.py works them out
    window    kept after the step
    system    us or si
    -> one for each; a quantity that was not kept is left out, and nobody may say of it that it came as foreseen
    """
    found = []
    for one in window.kept:
        if one.channel.quantity not in foreseen:
            continue
        value, doubt = foreseen[one.channel.quantity]
        unsure = (one.doubt**2 + one.lag**2) ** 0.5
        off = one.mean - value
        agrees = abs(off) <= AGREES * (doubt**2 + unsure**2) ** 0.5 and not one.side
        name = one.channel.quantity
        then, now = show.shown(value, quantity=name, system=system), show.shown(one.mean, quantity=name, system=system)
        tail = "as foreseen" if agrees else f"{amount(name, off, system)} from what was foreseen"
        side = f"{one.side} " if one.side else ""
        words = f"{one.channel.words}: foreseen {then}, got {side}{now}, {tail}"
        found.append(Got(name, value, doubt, one.mean, unsure, agrees, words))
    return found
