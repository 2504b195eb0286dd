"""Registry entries for gas supply: meter, pipe, regulator, orifice."""

from fluewright.quantity.meaning import Quantity

GAS_SUPPLY: tuple[Quantity, ...] = ()
