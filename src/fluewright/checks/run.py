"""Run the published values through the program and say how near it comes."""

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from typing import Any

from fluewright.checks import (
    air_for_burning_asks,
    appliance_asks,
    cost_asks,
    delivered_asks,
    doubt_asks,
    draft_asks,
    flame_asks,
    flue_asks,
    flue_flow_asks,
    fuel_asks,
    gas_input_asks,
    gas_pipe_asks,
    oil_asks,
    reading_asks,
    room_asks,
    rule_asks,
    units,
)
from fluewright.checks.rows import Row, not_met, rows

__all__ = ["Outcome", "Row", "Standing", "not_met", "outcome", "outcomes", "rows", "standings"]

ASKS: Mapping[str, Callable[[Row], Any]] = {
    **fuel_asks.ASKS,
    **flue_asks.ASKS,
    **reading_asks.ASKS,
    **rule_asks.ASKS,
    **doubt_asks.ASKS,
    **flame_asks.ASKS,
    **room_asks.ASKS,
    **air_for_burning_asks.ASKS,
    **gas_input_asks.ASKS,
    **gas_pipe_asks.ASKS,
    **oil_asks.ASKS,
    **draft_asks.ASKS,
    **flue_flow_asks.ASKS,
    **delivered_asks.ASKS,
    **cost_asks.ASKS,
    **appliance_asks.ASKS,
}
"""Every adapter by name: takes a row, calls the formula that a user calls, gives SI."""

EXACT = 1e-12
"""Relative; what a tolerance of 0 allows, the noise of binary numbers."""


@dataclass(frozen=True, slots=True)
class Outcome:
    """What the program found for one row.

    found               same unit and order as row.expected
    deviation           found minus expected, the largest of several by size
    share_of_tolerance  size of the deviation over what is allowed; 1 is the edge
    missed              beyond the edge
    """

    row: Row
    found: tuple[float, ...]
    deviation: float
    share_of_tolerance: float
    missed: bool


@dataclass(frozen=True, slots=True)
class Standing:
    """How one source stands: its rows, the worst of them, how its values are known, which were missed."""

    source: str
    document: str
    known: str
    count: int
    worst: float
    worst_id: str
    missed: tuple[str, ...]


def outcome(row: Row) -> Outcome:
    """Find one published value again."""
    answer = ASKS[row.asks](row)
    several = answer if isinstance(answer, list | tuple) else [answer]
    found = tuple(units.from_si(float(value), row.unit) for value in several)
    pairs = list(zip(found, row.expected, strict=True))
    deviation = max((one - other for one, other in pairs), key=abs)
    shares = [abs(one - other) / (row.tolerance or EXACT * max(abs(other), 1e-300)) for one, other in pairs]
    share = max(shares)
    return Outcome(row, found, deviation, share, not share <= 1.0 + 1e-9)


def outcomes(chosen: Iterable[Row] | None = None) -> tuple[Outcome, ...]:
    """Find the given rows again, or all of them."""
    return tuple(outcome(row) for row in (rows() if chosen is None else chosen))


def standings(found: Iterable[Outcome]) -> tuple[Standing, ...]:
    """The outcomes gathered by source, in the order in which the sources come."""
    gathered: dict[str, list[Outcome]] = {}
    for one in found:
        gathered.setdefault(one.row.source.key, []).append(one)
    return tuple(_standing(several) for several in gathered.values())


def _standing(several: list[Outcome]) -> Standing:
    source = several[0].row.source
    worst = max(several, key=lambda one: one.share_of_tolerance)
    return Standing(
        source=source.key,
        document=source.document,
        known=source.known,
        count=len(several),
        worst=worst.share_of_tolerance,
        worst_id=worst.row.id,
        missed=tuple(one.row.id for one in several if one.missed),
    )
