"""What everything that watches one appliance has to know beside its channels."""

from collections.abc import Callable
from dataclasses import dataclass

from fluewright.quantity import show


@dataclass(frozen=True, slots=True)
class About:
    """One appliance being watched.

    appliance  its word, empty where there is one
    tick       s from row to row
    number     gives each event its number
    system     us or si, for the words
    """

    appliance: str
    tick: float
    number: Callable[[], int]
    system: show.System = "si"
