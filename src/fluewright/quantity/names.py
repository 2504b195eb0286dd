"""The registry of quantities: every name the program reads, works out or gives back, with what it means."""

from types import MappingProxyType

from fluewright.quantity import refusals
from fluewright.quantity.adjusting_names import ADJUSTING
from fluewright.quantity.burning_air_names import BURNING_AIR
from fluewright.quantity.cause_names import CAUSES
from fluewright.quantity.cost_names import COST
from fluewright.quantity.delivered_names import DELIVERED
from fluewright.quantity.draft_names import DRAFT
from fluewright.quantity.flue_group_names import FLUE_GROUP
from fluewright.quantity.flue_names import FLUE
from fluewright.quantity.gas_pipe_names import GAS_PIPE
from fluewright.quantity.gas_supply_names import GAS_SUPPLY
from fluewright.quantity.meaning import Quantity
from fluewright.quantity.oil_supply_names import OIL_SUPPLY
from fluewright.quantity.proof_names import PROOF
from fluewright.quantity.result_names import RESULTS
from fluewright.quantity.room_names import ROOM
from fluewright.quantity.site_names import SITE

__all__ = ["REGISTRY", "Quantity", "named", "of"]

_SUPPLY = GAS_SUPPLY + GAS_PIPE + OIL_SUPPLY
_BESIDE = ROOM + _SUPPLY + DRAFT + DELIVERED + COST + PROOF + BURNING_AIR + FLUE_GROUP + ADJUSTING + CAUSES

REGISTRY = MappingProxyType({quantity.name: quantity for quantity in FLUE + SITE + RESULTS + _BESIDE})
"""All quantities by name; the names are also the keys of every output."""

_ALIASES = {alias: quantity for quantity in REGISTRY.values() for alias in quantity.aliases}


def of(name: str) -> Quantity:
    """The quantity with exactly this registry name.

    name -> quantity; QuantityError FW-Q-012 when there is none
    """
    found = REGISTRY.get(name)
    if found is None:
        raise refusals.unknown_quantity(name, sorted(REGISTRY))
    return found


def meant(alias: str) -> Quantity | None:
    """The same as `named`, and None where it refuses: a line is tried word by word, and advice takes its time."""
    key = alias.strip().lower().replace(" ", "_").replace("-", "_")
    return REGISTRY.get(key) or _ALIASES.get(key)


def named(alias: str) -> Quantity:
    """The quantity a person means by a trade name, such as o2, stack or manifold.

    Case, spaces and hyphens do not matter; registry names count too.

    alias -> quantity; QuantityError FW-Q-012 when nobody in the trade would know
    """
    found = meant(alias)
    if found is None:
        raise refusals.unknown_quantity(alias, sorted({*REGISTRY, *_ALIASES}))
    return found
