"""Routes of a test that needs a fault: steps in their order, what stops it, what must be put back."""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from importlib import resources
from typing import Any, Literal, get_args

from fluewright.rules import cited, currency
from fluewright.rules.schema import Citation, Known

Stage = Literal["set up", "read", "fire", "stop"]
"""stop: not a step, but what breaks the test off."""

_SHAPE = cited.Shape(
    rows="steps",
    required=("stage", "what", "needed"),
    optional=("put_back", "limit"),
    choices={"stage": get_args(Stage), "needed": ("always", "where there is one")},
)


@dataclass(frozen=True, slots=True)
class RouteStep:
    """One step of a route, or one thing that stops it.

    what      in a few words
    needed    whether the test says nothing without it
    put_back  what must be put back after it, empty when nothing
    limit     limit of a book that stops the test, empty when it is no number
    """

    id: str
    stage: Stage
    what: str
    needed: str
    put_back: str
    limit: str
    text: str
    citation: Citation
    known: Known
    current: currency.Current


@dataclass(frozen=True, slots=True)
class Route:
    """A route by name, its steps in the order of the file."""

    name: str
    all: tuple[RouteStep, ...]

    @property
    def steps(self) -> tuple[RouteStep, ...]:
        """What is done, in order."""
        return tuple(one for one in self.all if one.stage != "stop")

    @property
    def stops(self) -> tuple[RouteStep, ...]:
        """What breaks the test off."""
        return tuple(one for one in self.all if one.stage == "stop")

    def step(self, id: str) -> RouteStep:
        """One step by id; RuleError FW-B-011 when there is none."""
        found = {one.id: one for one in self.all}
        if id not in found:
            raise cited.unknown(id=id, known=[one.id for one in self.steps])
        return found[id]


def _step(row: Mapping[str, Any], where: str) -> RouteStep:
    stage: Stage = row["stage"]
    if stage == "stop" and "put_back" in row:
        raise cited.problem(where=where, read=f"put_back in {row['id']!r}, which stops the test",
                            expected="put_back only in a step")  # fmt: skip
    return RouteStep(
        id=str(row["id"]),
        stage=stage,
        what=str(row["what"]),
        needed=str(row["needed"]),
        put_back=str(row.get("put_back", "")),
        limit=str(row.get("limit", "")),
        text=str(row["text"]),
        citation=row["citation"],
        known=row["known"],
        current=row["current"],
    )


def route_of(*, text: str, name: str) -> Route:
    """A route from its file, strictly read; RuleError for one problem, Problems for several.

    text  TOML: title, and a list `steps`
    name  of the route
    """
    file = f"rules/routes/{name}.toml"
    rows = cited.rows_of(text=text, file=file, shape=_SHAPE)
    return Route(name, tuple(_step(row, file) for row in rows))


@cache
def route(name: str) -> Route:
    """A route that came with the program."""
    entry = resources.files("fluewright.rules") / "routes" / f"{name}.toml"
    return route_of(text=entry.read_text(encoding="utf-8"), name=name)
