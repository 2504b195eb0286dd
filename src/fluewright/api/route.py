"""One thing that a program may ask, and how its right is asked."""

from collections.abc import Awaitable, Callable
from dataclasses import dataclass
from typing import Any

from fastapi import Request

from fluewright.record.callers import NOBODY, need
from fluewright.record.people import Action


@dataclass(frozen=True, slots=True)
class Route:
    """A path with what answers it.

    method   GET or POST
    path     below the prefix
    handler  answers
    right    that it asks for
    answer   model of the answer; none for a file
    status   of a good answer
    """

    method: str
    path: str
    handler: Callable[..., Any]
    right: Action
    answer: Any = None
    status: int = 200


def needed(right: Action) -> Callable[[Request], Awaitable[None]]:
    """What a route depends on: that the caller has its right."""

    async def asked(request: Request) -> None:
        need(getattr(request.state, "caller", NOBODY), right)

    return asked
