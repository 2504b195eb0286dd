"""Registry entries for draft, vents and pressures of the house."""

from fluewright.quantity.meaning import Quantity

DRAFT: tuple[Quantity, ...] = ()
