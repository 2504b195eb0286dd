"""Registry entries for what is measured and worked out about the air of a room."""

from fluewright.quantity.meaning import Quantity

ROOM: tuple[Quantity, ...] = ()
