"""What changes mean, as rows of data: which moved which way, after what, and the sentence for it."""

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from typing import Literal

from fluewright.evidence.finding import Grade
from fluewright.live.channel import Channel

Way = Literal["up", "down", "back", "away", "any"]

_GROUPS = {
    "oxygen_dry": "oxygen", "oxygen_wet": "oxygen", "carbon_monoxide_dry": "monoxide",
    "carbon_monoxide_wet": "monoxide", "carbon_dioxide_dry": "dioxide", "flue_temperature": "flue",
    "carbon_monoxide_room": "room", "flame_current": "current", "firing_rate": "rate",
    "gas_pressure": "supply", "line_pressure": "supply",
}  # fmt: skip
HOOD, FRONT = ("hood", "relief", "spill"), ("front", "vestibule")
"""Words in the name of a point that say where a thermometer hangs: at a relief opening, in front of the burner."""


def group_of(channel: Channel) -> str:
    """The group that sentences know a channel by; "other" for what they do not know."""
    if channel.quantity in ("temperature", "air_temperature", "diluted_temperature"):
        point = channel.point.lower()
        return next((name for name, words in (("hood", HOOD), ("front", FRONT)) if any(w in point for w in words)),
                    "other")  # fmt: skip
    if channel.quantity.startswith("draft") and channel.quantity != "draft_drop":
        return "draft"
    return _GROUPS.get(channel.quantity, "other")


@dataclass(frozen=True, slots=True)
class Row:
    """One row: what has to have moved, and the sentence. Fields as in told.toml."""

    key: str
    grade: Grade
    lead: str
    why: str
    all: Mapping[str, Way]
    any: Mapping[str, Way]
    still: tuple[str, ...]
    mark: tuple[str, ...]
    state: str
    fresh: str
    alike: bool
    now: tuple[str, ...]
    next: tuple[str, ...]
    least: Mapping[str, float]
    cautions: bool
    out: bool


@dataclass(frozen=True, slots=True)
class Case:
    """What is known of one event when its sentence is looked for.

    ways    by group, which ways its channels went
    read    groups that are read at all
    mark    what was done shortly before, empty when nothing was marked
    burning whether it burns
    fresh   "to" or "from" fresh air, by oxygen, else empty
    alike   whether every gas was thinned by one share
    levels  by group, the farthest that it went to, canonical unit
    """

    ways: Mapping[str, frozenset[str]]
    read: frozenset[str]
    mark: str
    burning: bool
    fresh: str
    alike: bool
    levels: Mapping[str, float]

    def went(self, group: str, way: Way) -> bool:
        """Whether a group went that way."""
        ways = self.ways.get(group, frozenset())
        if way == "away":
            return bool({"up", "down"} & ways)
        return bool(ways) if way == "any" else way in ways

    def fits(self, row: Row) -> bool:
        """Whether a row speaks of this."""
        return (
            all(self.went(group, way) for group, way in row.all.items())
            and (not row.any or any(self.went(group, way) for group, way in row.any.items()))
            and all(group in self.read and group not in self.ways for group in row.still)
            and (not row.mark or self.mark in row.mark)
            and (not row.state or (row.state == "burning") == self.burning)
            and (not row.fresh or row.fresh == self.fresh)
            and (self.alike or not row.alike)
            and all(self.levels.get(group, 0.0) >= level for group, level in row.least.items())
        )


@cache
def rows() -> tuple[Row, ...]:
    """All rows in the order of the file."""
    text = files("fluewright.live").joinpath("told.toml").read_text(encoding="utf-8")
    return tuple(
        Row(
            key=row["key"], grade=row["grade"], lead=row["lead"], why=row["why"], all=row.get("all", {}),
            any=row.get("any", {}), still=tuple(row.get("still", ())), mark=tuple(row.get("mark", ())),
            state=row.get("state", ""), fresh=row.get("fresh", ""), alike=row.get("alike", False),
            now=tuple(row.get("now", ())), next=tuple(row.get("next", ())), least=row.get("least", {}),
            cautions=row.get("cautions", False),
            out=row.get("out", False),
        )
        for row in tomllib.loads(text)["row"]
    )  # fmt: skip


def row_for(case: Case) -> Row:
    """The first row that fits; the last one fits everything that moved."""
    return next(row for row in rows() if case.fits(row))
