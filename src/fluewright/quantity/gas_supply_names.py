"""Registry entries for gas supply: meter, pipe, regulator, orifice."""

from fluewright.quantity.gas_input_names import GAS_INPUT
from fluewright.quantity.meaning import Quantity

GAS_SUPPLY: tuple[Quantity, ...] = (*GAS_INPUT,)
