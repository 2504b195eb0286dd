"""One sample of one channel on the one clock of the hub."""

from dataclasses import dataclass
from typing import Literal

Trust = Literal["known", "unknown"]
"""known: its sender proved who it is, or a wire of this machine brought it; unknown: anybody could have sent it."""

Bound = Literal["", "at least", "at most"]
"""Whether a sample is the edge of a range; empty for a value."""


@dataclass(frozen=True, slots=True)
class Sample:
    """One value that was read; where nothing was read there is no sample, and never a zero.

    source      name of the source that brought it, as in its mapping
    instrument  word for the instrument, as in its mapping
    quantity    registry name such as oxygen_dry
    point       sampling point, empty where the mapping names none
    at          s since 1970 on the one clock of the hub
    value       canonical unit of the registry: mol/mol, K, Pa
    seq         number of the message within its source, 1 and up as received; samples of one message share it
    appliance   word for the appliance, empty where there is one only
    stamped     s since 1970 by the source's own clock; None where it sent none
    typed       text as it came, with the unit of the mapping; what is kept is this, never a rounding of it
    step        least step that this channel shows, canonical unit; 0 where nobody said
    t90         s until the channel shows 90 % of a step; 0 where nobody said
    bound       at least or at most where the instrument was at the end of its range
    trust       grade of the source: unknown may alarm and never clears
    late        whether it came after a later one of the same channel
    """

    source: str
    instrument: str
    quantity: str
    point: str
    at: float
    value: float
    seq: int
    appliance: str = ""
    stamped: float | None = None
    typed: str = ""
    step: float = 0.0
    t90: float = 0.0
    bound: Bound = ""
    trust: Trust = "unknown"
    late: bool = False

    @property
    def channel(self) -> tuple[str, str, str, str]:
        """What its values belong together by: source, appliance, quantity and point."""
        return (self.source, self.appliance, self.quantity, self.point)
