"""Registry entries for oil supply, nozzle and smoke."""

from fluewright.quantity.meaning import Quantity

OIL_SUPPLY: tuple[Quantity, ...] = ()
