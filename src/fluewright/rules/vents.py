"""Categories of vented appliances: from the pressure in the vent and whether condensate forms there."""

from dataclasses import dataclass
from functools import cache

from fluewright.rules import cited, currency
from fluewright.rules.schema import Citation, Known, Layer

_SHAPE = cited.Shape(
    rows="categories",
    required=("number", "roman", "vent_pressure", "condensate"),
    choices={"vent_pressure": ("non-positive", "positive"), "condensate": ("not condensing", "may condense")},
)


@dataclass(frozen=True, slots=True)
class Category:
    """One category of vented appliances.

    number  1 to 4
    roman   as plates print it
    """

    id: str
    number: int
    roman: str
    positive: bool
    condensing: bool
    jurisdiction: str
    layer: Layer
    text: str
    citation: Citation
    known: Known
    current: currency.Current


@cache
def categories() -> tuple[Category, ...]:
    """Every category, in order."""
    return tuple(
        Category(
            id=str(row["id"]),
            number=int(row["number"]),
            roman=str(row["roman"]),
            positive=row["vent_pressure"] == "positive",
            condensing=row["condensate"] == "may condense",
            jurisdiction=str(row["jurisdiction"]),
            layer=row["layer"],
            text=str(row["text"]),
            citation=row["citation"],
            known=row["known"],
            current=row["current"],
        )
        for row in cited.shipped("vents", _SHAPE)
    )


def category_of(*, positive: bool, condensing: bool) -> Category:
    """The category of an appliance.

    positive    whether the vent stands above the pressure of the room
    condensing  whether condensate may form in the vent
    -> category
    """
    return next(one for one in categories() if (one.positive, one.condensing) == (positive, condensing))


def named(roman: str) -> Category:
    """A category by the numeral on the plate; RuleError FW-B-011 when there is none."""
    found = {one.roman: one for one in categories()}
    if roman not in found:
        raise cited.unknown(id=roman, known=list(found))
    return found[roman]
