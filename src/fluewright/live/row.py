"""What came in at once, before anything of it is believed."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from typing import Protocol


def _nobody() -> None:
    """Nobody waits to hear that it was kept."""


@dataclass(frozen=True, slots=True)
class Row:
    """One message, poll or line.

    source   name of its source
    at       s since 1970 when it came
    cells    text by the name that the mapping knows it by; what is not there was not read
    stamped  s since 1970 by the sender's clock; None where it sent none
    number   the sender's own number of it; None where it has none
    key      what a second copy of it would share with it; empty where nothing would tell
    again    whether whoever brought it says that it may have been brought before
    proven   whether its sender proved who it is
    place    how far the source was read with it, for going on after a restart; empty where it cannot
    kept     told once it is on the disk: only then is it acknowledged
    """

    source: str
    at: float
    cells: Mapping[str, str]
    stamped: float | None = None
    number: int | None = None
    key: str = ""
    again: bool = False
    proven: bool = False
    place: str = ""
    kept: Callable[[], None] = field(default=_nobody, compare=False)


class Lost(Exception):
    """The source cannot be reached just now; it is tried again after a pause."""


class Source(Protocol):
    """Where rows come from.

    name      as in its mapping
    wire      whether it comes over a wire or a file of this machine that nobody else can write to
    real      whether an instrument stands behind it; a replay or a virtual appliance is not
    """

    @property
    def name(self) -> str: ...
    @property
    def wire(self) -> bool: ...
    @property
    def real(self) -> bool: ...

    async def next(self) -> Row | None:
        """The next row; None when there will be no more. Lost where it cannot be reached; its next call tries anew."""

    async def close(self) -> None:
        """Let go of ports and connections."""
