"""Registry entries for heat delivered by air and by water."""

from fluewright.quantity.meaning import Quantity

DELIVERED: tuple[Quantity, ...] = ()
