"""Which right each page asks for, and where it is asked."""

from collections.abc import Awaitable, Callable, Sequence
from typing import Any

from fastapi import Request

from fluewright.record.callers import NOBODY, need
from fluewright.record.guard import SAFE
from fluewright.record.people import Action

OPEN_TO_ALL = "open to all"
"""The right of a page that holds nothing of the journal."""

UNDECLARED: Action = "keep people"
"""The right that a change asks for when nobody said which: only an administrator has it, so that nothing is given away
by forgetting. A test names such a page."""


def right_of(route: Sequence[Any]) -> str:
    """The right of a route: its fourth member, or the default of one without.

    route  method, path, handler, right
    """
    if len(route) > 3:
        return str(route[3])
    return "read" if route[0] in SAFE else UNDECLARED


def needed(right: str) -> Callable[[Request], Awaitable[None]]:
    """What a route depends on: that the caller has its right."""

    async def asked(request: Request) -> None:
        if right != OPEN_TO_ALL:
            need(getattr(request.state, "caller", NOBODY), right)  # type: ignore[arg-type]

    return asked
