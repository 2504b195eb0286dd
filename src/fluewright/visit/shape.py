"""The form of a visit file: which tables and keys it may hold, and errors that say where something else stands."""

import difflib
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

from fluewright.errors import FluewrightError, VisitError

TABLES: Mapping[str, Sequence[str]] = {
    "": ("visit", "appliance", "fuel", "instrument", "place", "stretch", "step", "note", "done", "next"),
    "visit": (
        "title",
        "customer",
        "site",
        "date",
        "technician",
        "jurisdiction",
        "route",
        "units",
        "invented",
        "emergency",
        "supplier",
    ),
    "appliance": ("words", "burner", "condensing", "serial", "input", "output", "carrier", "jacket"),
    "fuel": ("name", "composition", "file", "by", "moisture"),
    "instrument": ("words", "accuracy", "calibration_due", "zero", "hydrogen_compensated", "over_range", "trap"),
    "place": ("altitude", "barometer", "humidity"),
    "stretch": (
        "word",
        "time",
        "point",
        "point_kind",
        "steady",
        "note",
        "boundary",
        "basis",
        "air_at",
        "flue_at",
        "readings",
        "trace",
        "mapping",
    ),
    "step": ("time", "word", "meant"),
    "note": ("time", "word"),
}
"""Every key a visit file may hold, by table."""

REQUIRED: Mapping[str, Sequence[str]] = {
    "": ("visit", "appliance", "fuel", "stretch"),
    "visit": ("title", "date"),
    "appliance": ("words",),
    "stretch": ("word",),
    "step": ("time", "word"),
    "note": ("word",),
}
"""Keys without which a visit cannot be judged."""

LISTS = ("stretch", "step", "note")


@dataclass(slots=True)
class Gathered:
    """Errors found so far in one file, so that all can be shown together."""

    file: str
    errors: list[FluewrightError] = field(default_factory=list)

    def add(self, *, code: str, place: str, read: str, expected: str, matters: str, do: str) -> None:
        """Note one problem at a place in the file."""
        self.errors.append(
            VisitError(code=code, where=f"{self.file}: {place}", read=read, expected=expected, matters=matters, do=do)
        )

    def keep(self, place: str, error: FluewrightError) -> None:
        """Note an error of another room, with the place it came from."""
        error.where = f"{self.file}: {place}"
        self.errors.append(error)


def _near(key: str, known: Sequence[str]) -> str:
    close = difflib.get_close_matches(key, known, 1)
    return f"{close[0]!r} is near" if close else "one of " + ", ".join(known)


def _check_table(name: str, place: str, table: Any, gathered: Gathered) -> None:
    if not isinstance(table, Mapping):
        gathered.add(
            code="FW-V-002",
            place=place,
            read=f"{place} is {type(table).__name__}, not a table",
            expected=f"a table with {', '.join(TABLES[name])}",
            matters="its values cannot be told apart",
            do=f"write [{name}] and one key a line below it",
        )
        return
    for key in table:
        if key not in TABLES[name]:
            gathered.add(
                code="FW-V-003",
                place=place or "top level",
                read=f"the key {key!r}",
                expected=_near(str(key), TABLES[name]),
                matters="a key nobody reads would be a reading lost",
                do="correct its spelling or take it out",
            )
    for key in REQUIRED.get(name, ()):
        if key not in table:
            gathered.add(
                code="FW-V-004",
                place=place or "top level",
                read=f"no {key!r}",
                expected=f"{key!r} in every {name or 'visit file'}",
                matters="the record would not say what it is about",
                do=f"add {key}",
            )


def check(tree: Mapping[str, Any], gathered: Gathered) -> None:
    """Compare a visit tree with the form; problems go into `gathered`."""
    _check_table("", "", tree, gathered)
    for name in TABLES[""]:
        if name in ("done", "next") or name not in tree:
            continue
        if name not in LISTS:
            _check_table(name, name, tree[name], gathered)
            continue
        rows = tree[name]
        if not isinstance(rows, list):
            gathered.add(
                code="FW-V-005",
                place=name,
                read=f"{name} is {type(rows).__name__}, not a list",
                expected=f"one [[{name}]] for each",
                matters="their order is the order of the work",
                do=f"write [[{name}]] with two brackets",
            )
            continue
        for index, row in enumerate(rows, 1):
            _check_table(name, f"{name} {index}", row, gathered)
