"""Registry entries for safety devices and the house around the appliance."""

from fluewright.quantity.meaning import Quantity

PROOF: tuple[Quantity, ...] = ()
