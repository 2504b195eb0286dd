"""Older forms of entries turned into today's, when they are read; what is kept stays as it is."""

from collections.abc import Callable, Mapping
from typing import Any

from fluewright.record.kinds import KINDS

Body = Mapping[str, Any]

STEPS: Mapping[tuple[str, int], Callable[[Body], Body]] = {}
"""By kind and version: how a body of that version becomes one of the next."""


def upcast(kind: str, version: int, body: Body) -> Body:
    """A body in the newest form of its kind.

    kind     one of `KINDS`
    version  the form it was written in, not newer than today's
    body     as it is kept
    -> the same fields in today's form
    """
    for step in range(version, KINDS[kind].version):
        body = STEPS[kind, step](body)
    return body
