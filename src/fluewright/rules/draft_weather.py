"""Draft asked for by the temperature outdoors, as older tables have it."""

from dataclasses import dataclass
from functools import cache

from fluewright.kernel import draft
from fluewright.kernel.ops import Number
from fluewright.quantity import parse
from fluewright.rules import cited, currency
from fluewright.rules.schema import Citation, Known, Layer

_POINTS = {
    "cold_temperature": "outdoor_temperature",
    "cold_draft": "draft",
    "warm_temperature": "outdoor_temperature",
    "warm_draft": "draft",
}
_SHAPE = cited.Shape(rows="weather", required=tuple(_POINTS))


@dataclass(frozen=True, slots=True)
class DraftByWeather:
    """Two points of a table, K and Pa as a gauge reads them, with a straight line between."""

    id: str
    cold_temperature: float
    cold_draft: float
    warm_temperature: float
    warm_draft: float
    jurisdiction: str
    layer: Layer
    text: str
    citation: Citation
    known: Known
    current: currency.Current

    def draft_at(self, outdoor_temperature: Number) -> Number:
        """Draft asked for as a gauge reads it, Pa.

        outdoor_temperature  K
        """
        return draft.draft_from_outdoor_temperature(
            outdoor_temperature=outdoor_temperature,
            cold_temperature=self.cold_temperature,
            cold_draft=self.cold_draft,
            warm_temperature=self.warm_temperature,
            warm_draft=self.warm_draft,
        )


def _figure(row: str, key: str, text: str) -> float:
    """A printed figure in its canonical unit."""
    value = parse.single(text, quantity=_POINTS[key]).value
    if value is None:
        raise cited.problem(where=row, read=f"{key} = {text!r}", expected="a figure with its unit")
    return value


@cache
def tables() -> tuple[DraftByWeather, ...]:
    """Every table that came with the program."""
    return tuple(
        DraftByWeather(
            id=str(row["id"]),
            jurisdiction=str(row["jurisdiction"]),
            layer=row["layer"],
            text=str(row["text"]),
            citation=row["citation"],
            known=row["known"],
            current=row["current"],
            **{key: _figure(str(row["id"]), key, str(row[key])) for key in _POINTS},
        )
        for row in cited.shipped("drafts", _SHAPE)
    )


def table(id: str) -> DraftByWeather:
    """One table by id; RuleError FW-B-011 when there is none."""
    found = {one.id: one for one in tables()}
    if id not in found:
        raise cited.unknown(id=id, known=sorted(found))
    return found[id]
