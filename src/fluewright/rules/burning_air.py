"""What rules ask for so that flames get their air: each form of each jurisdiction with its figures and citation."""

import datetime
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from typing import Any, Literal, get_args

from fluewright.quantity import units
from fluewright.rules import cited, currency
from fluewright.rules.schema import Citation, Known, Layer

Form = Literal[
    "room volume",
    "room volume by air changes",
    "two indoor openings",
    "two outdoor openings",
    "two outdoor openings by horizontal duct",
    "one outdoor opening",
    "room and outdoor openings together",
    "air by fan",
    "opening in one or two parts",
    "low and high openings",
    "vent by input",
    "grilles",
    "joined rooms",
    "sealed only",
    "no figures known",
]
"""Ways in which a rule counts air for burning."""

Counted = Literal["gross input", "net input", "output", "none"]
"""What of the appliances a rule counts in kW or Btu/h."""

FIGURES: Mapping[str, str] = {
    "room_volume_per_input": "room_volume_per_input",
    "fewest_air_changes": "air_changes",
    "most_air_changes": "air_changes",
    "air_per_heat": "air_per_heat",
    "air_per_heat_fan_assisted": "air_per_heat",
    "opening_per_input": "opening_per_input",
    "opening_base": "opening_area",
    "opening_least": "opening_area",
    "opening_side": "opening_side",
    "free_input": "fuel_input",
    "input_above": "fuel_input",
    "input_to": "fuel_input",
    "wood": "free_share",
    "metal": "free_share",
}
"""Figures that a rule may carry, each with the quantity it is typed as."""

_SHAPE = cited.Shape(
    rows="rules",
    required=("form", "counted", "fuels", "figures", "only"),
    choices={
        "form": get_args(Form),
        "counted": get_args(Counted),
    },
)


_WITHIN = dict.fromkeys(("GB", "GB-ENG", "GB-WLS"), "GB-EAW")
"""Places that stand under the text of a larger one; Scotland and Northern Ireland have texts of their own."""


@dataclass(frozen=True, slots=True)
class AirRule:
    """One form of one jurisdiction.

    counted           what of the appliances it counts
    current           whether the text read is the one in force
    fuels             groups it speaks of, none for every fuel
    figures           canonical units, keys of FIGURES
    printed           the same as printed
    only              conditions that a person has to judge, empty for none
    text              what it asks for, in words of our own
    """

    id: str
    form: Form
    jurisdiction: str
    layer: Layer
    counted: Counted
    fuels: tuple[str, ...]
    figures: Mapping[str, float]
    printed: Mapping[str, str]
    only: str
    text: str
    citation: Citation
    known: Known
    current: currency.Current
    valid_from: datetime.date | None
    valid_until: datetime.date | None

    def clears(self) -> bool:
        """Whether meeting it may be called fine: text of the place in force that somebody has read."""
        return self.known == "read" and self.layer == "law" and currency.stands(self.current)


def _figure(key: str, text: object, where: str) -> float:
    """A printed figure in its canonical unit."""
    if key not in FIGURES:
        raise cited.problem(where=where, read=f"the figure {key!r}", expected="one of " + ", ".join(FIGURES))
    value, _, unit = str(text).partition(" ")
    try:
        return units.to_canonical(float(value), unit=unit, quantity=FIGURES[key])
    except ValueError as error:
        raise cited.problem(where=where, read=f"{key} = {text!r}", expected="a number and a unit") from error


def of_row(row: Mapping[str, Any]) -> AirRule:
    """A rule from its row; RuleError for a figure that is none."""
    made = {name: row[name] for name in AirRule.__dataclass_fields__ if name in row}
    made["fuels"] = tuple(row["fuels"])
    made["printed"] = {key: str(text) for key, text in row["figures"].items()}
    made["figures"] = {key: _figure(key, text, str(row["id"])) for key, text in row["figures"].items()}
    return AirRule(**made)


def rules_of(*, text: str, file: str) -> tuple[AirRule, ...]:
    """The rules of one file."""
    return tuple(of_row(row) for row in cited.rows_of(text=text, file=file, shape=_SHAPE))


@cache
def rules() -> tuple[AirRule, ...]:
    """Every rule that came with the program."""
    return tuple(of_row(row) for row in cited.shipped("air", _SHAPE))


def rule(id: str) -> AirRule:
    """One rule by its id; RuleError FW-B-011 when there is none."""
    found = {each.id: each for each in rules()}
    if id not in found:
        raise cited.unknown(id=id, known=sorted(found))
    return found[id]


def grilles(place: str) -> AirRule | None:
    """What rules of a place say of louvres whose free share nobody stated; None where no text of it is known.

    place  jurisdiction, such as US, US-CA, DE-NI; that of its country where it has none of its own
    """
    known = {each.jurisdiction: each for each in rules() if each.form == "grilles"}
    return known.get(place.upper(), known.get(place.upper().split("-")[0]))


def speaking(*, jurisdiction: str, fuel: str, day: datetime.date) -> tuple[AirRule, ...]:
    """The rules that speak at a place, the more particular instead of the general where both have one form.

    jurisdiction  such as US, US-CA, DE-NI, GB; GB alone is taken as England and Wales
    fuel          group: gas, oil, solid
    day           on which they must be in force
    -> rules, none where the place has none here
    """
    place = jurisdiction.upper()
    places = {place, place.split("-")[0], _WITHIN.get(place, place)}
    chosen: dict[tuple[str, str], AirRule] = {}
    for each in sorted(rules(), key=lambda one: len(one.jurisdiction)):
        begun = each.valid_from is None or each.valid_from <= day
        in_force = begun and (each.valid_until is None or day <= each.valid_until)
        if each.jurisdiction in places and in_force and (not each.fuels or fuel in each.fuels):
            chosen[(each.form, each.printed.get("input_above", ""))] = each
    return tuple(chosen.values())
