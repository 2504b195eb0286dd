"""Routes of a visit as data: what each asks for, where, why, and by what it is answered, in walking order."""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from typing import Any, Literal, get_args

from fluewright.rules import cited
from fluewright.rules.schema import Citation, Known

Stop = Literal["people", "outdoors", "room", "supply", "draft", "flame", "delivered", "after"]
"""Where on the walk."""
WALK: tuple[Stop, ...] = get_args(Stop)
Reason = Literal["law", "safety", "diagnosis"]

PEOPLE_FIRST = "alarm answered"
"""The route on which nothing is read before people were asked."""

_SHAPE = cited.Shape(
    rows="steps",
    required=("routes", "at", "what", "why", "answer", "fuels"),
    choices={"at": WALK, "why": get_args(Reason)},
)


@dataclass(frozen=True, slots=True)
class VisitStep:
    """One thing that a route asks for.

    routes  names of the routes that ask it
    what    in a few words
    answer  what answers it: symptoms, alarm, a reading of the room by its key, `part:` and the word of a part,
            or `tried:` and what is tried on the instrument
    fuels   groups it is for, empty for any
    """

    id: str
    routes: tuple[str, ...]
    at: Stop
    what: str
    why: Reason
    answer: str
    fuels: tuple[str, ...]
    text: str
    citation: Citation
    known: Known


def _step(row: Mapping[str, Any]) -> VisitStep:
    made = {name: row[name] for name in VisitStep.__dataclass_fields__}
    for name in ("routes", "fuels"):
        if not isinstance(row[name], list):
            raise cited.problem(where=str(row["id"]), read=f"{name} = {row[name]!r}", expected="a list of words")
        made[name] = tuple(row[name])
    return VisitStep(**made)


def steps_of(*, text: str, file: str) -> tuple[VisitStep, ...]:
    """The steps of one file, strictly read, in walking order."""
    steps = [_step(row) for row in cited.rows_of(text=text, file=file, shape=_SHAPE)]
    return tuple(sorted(steps, key=lambda one: WALK.index(one.at)))


@cache
def steps() -> tuple[VisitStep, ...]:
    """Every step that came with the program, in walking order."""
    found = [_step(row) for row in cited.shipped("visits", _SHAPE)]
    return tuple(sorted(found, key=lambda one: WALK.index(one.at)))


def routes() -> tuple[str, ...]:
    """The names of all routes."""
    return tuple(dict.fromkeys(name for one in steps() for name in one.routes))


def route(name: str) -> tuple[VisitStep, ...]:
    """What a route asks for; RuleError FW-B-011 where there is no route of this name."""
    if name not in routes():
        raise cited.unknown(id=name, known=routes())
    return tuple(one for one in steps() if name in one.routes)
