"""Registry entries for emission factors, prices and savings."""

from fluewright.quantity.meaning import Quantity

COST: tuple[Quantity, ...] = ()
