"""Gross or net: what the input on a plate is counted in, where nobody has said."""

import math

from fluewright.evidence.doubt import Origin
from fluewright.evidence.finding import PRACTICE, Finding
from fluewright.evidence.reading import Account
from fluewright.evidence.reckon import Reckoning
from fluewright.kernel.ops import Number

GROSS_PLATES = ("US", "CA")
"""Countries whose plates state gross input (common practice, no source)."""
TAKEN = "the plate's input is taken as gross and may be net"


def unsaid(account: Account) -> bool:
    """Whether the input of the appliance's plate may be gross or net."""
    appliance = account.appliance
    at_home = account.jurisdiction.upper().split("-")[0] in GROSS_PLATES
    return appliance.plate_input is not None and not appliance.plate_basis and not at_home


def doubted(share: Number, *, gross_net_ratio: float, reckoning: Reckoning) -> Number:
    """Input as a share of the plate, with the doubt, on one side, that the plate is net and the share smaller.

    share            of a plate taken as gross
    gross_net_ratio  of the fuel
    """
    if not unsaid(reckoning.account):
        return share
    smaller = (1.0 - 1.0 / gross_net_ratio) / math.sqrt(3.0)
    words = "whether the plate states gross or net input"
    return share * reckoning.ledger.number(Origin("gross_net_ratio", words, 1.0, smaller, 0.0, "not said"))


def question(word: str, gross_net_ratio: float) -> Finding:
    """The question which of the two the plate states."""
    less = f"{(1.0 - 1.0 / gross_net_ratio) * 100.0:.0f} %"
    return Finding(
        "plate-basis-unsaid",
        "open",
        f"{word[:1].upper()}{word[1:]}: whether the plate states gross or net input is not said.",
        f"It was taken as gross, as in North America. European plates state net input: then the share of the plate is "
        f"{less} smaller. The doubt covers both, and nothing is cleared.",
        ((word, "fuel_input"),),
        PRACTICE,
        do_next=("read on the plate or in its papers whether the input is net (Hi, NCV) or gross (Hs, GCV)",),
    )
