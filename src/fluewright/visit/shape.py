"""The form of a visit file: which tables and keys it may hold, and errors that say where something else stands."""

import difflib
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

from fluewright.errors import FluewrightError, VisitError

FLAME: Mapping[str, Sequence[str]] = {
    "": ("visit", "appliance", "fuel", "instrument", "place", "stretch", "step", "note", "event", "done", "next"),
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
    "appliance": (
        "words",
        "burner",
        "condensing",
        "serial",
        "input",
        "input_net",
        "output",
        "carrier",
        "jacket",
        "class",
    ),
    "fuel": ("name", "composition", "file", "by", "moisture"),
    "instrument": (
        "words",
        "accuracy",
        "calibration_due",
        "zero",
        "hydrogen_compensated",
        "oxygen_cell",
        "over_range",
        "trap",
        "check",
    ),
    "place": ("altitude", "barometer", "humidity"),
    "stretch": (
        "word",
        "time",
        "point",
        "point_kind",
        "point_class",
        "steady",
        "note",
        "boundary",
        "basis",
        "air_at",
        "flue_at",
        "readings",
        "trace",
        "mapping",
        "stream",
    ),
    "step": ("time", "word", "meant"),
    "note": ("time", "word"),
    "event": ("time", "word"),
}
"""Keys of the tables about visit, appliance and flame."""


@dataclass(frozen=True, slots=True)
class Form:
    """What the tables of one part of the job may hold.

    tables    keys by table; a table inside another is named with a dot, such as draft.appliance, and is a key there too
    required  keys without which a table says nothing
    lists     tables that come several times
    free      tables whose keys a person chooses, such as readings by name
    """

    tables: Mapping[str, Sequence[str]]
    required: Mapping[str, Sequence[str]] = field(default_factory=dict)
    lists: Sequence[str] = ()
    free: Sequence[str] = ()


REQUIRED: Mapping[str, Sequence[str]] = {
    "": ("visit", "appliance", "fuel"),
    "visit": ("title", "date"),
    "appliance": ("words",),
    "stretch": ("word",),
    "step": ("time", "word"),
    "note": ("word",),
    "event": ("time", "word"),
}
"""Keys without which a visit cannot be judged."""

LISTS = ("stretch", "step", "note", "event")


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


def form_of(forms: Sequence[Form]) -> Form:
    """The form of the whole file: the flame's tables and those of every part of the job."""
    top = [name for form in forms for name in form.tables if "." not in name]
    return Form(
        tables={**FLAME, **{k: v for form in forms for k, v in form.tables.items()}, "": (*FLAME[""], *top)},
        required={**REQUIRED, **{k: v for form in forms for k, v in form.required.items()}},
        lists=(*LISTS, *(name for form in forms for name in form.lists)),
        free=tuple(name for form in forms for name in form.free),
    )


@dataclass(frozen=True, slots=True)
class _Check:
    """One comparison of a tree with a form."""

    form: Form
    gathered: Gathered

    def table(self, name: str, place: str, table: Any) -> None:
        """One table, its keys, and the tables inside it."""
        known = self.form.tables[name]
        if not isinstance(table, Mapping):
            self.gathered.add(
                code="FW-V-002",
                place=place,
                read=f"{place} is {type(table).__name__}, not a table",
                expected=f"a table with {', '.join(known)}",
                matters="its values cannot be told apart",
                do=f"write [{name}] and one key a line below it",
            )
            return
        for key in table:
            if key not in known:
                self.gathered.add(
                    code="FW-V-003",
                    place=place or "top level",
                    read=f"the key {key!r}",
                    expected=_near(str(key), known),
                    matters="a key nobody reads would be a reading lost",
                    do="correct its spelling or take it out",
                )
        for key in self.form.required.get(name, ()):
            if key not in table:
                self.gathered.add(
                    code="FW-V-004",
                    place=place or "top level",
                    read=f"no {key!r}",
                    expected=f"{key!r} in every {name or 'visit file'}",
                    matters="the record would not say what it is about",
                    do=f"add {key}",
                )
        for key in table:
            inner = f"{name}.{key}" if name else str(key)
            if inner in self.form.tables and inner not in self.form.free:
                self.inner(inner, f"{place}, {key}" if place else str(key), table[key])

    def inner(self, name: str, place: str, found: Any) -> None:
        """A table, or each table of a list."""
        if name not in self.form.lists:
            self.table(name, place, found)
            return
        if not isinstance(found, list):
            self.gathered.add(
                code="FW-V-005",
                place=place,
                read=f"{place} is {type(found).__name__}, not a list",
                expected=f"one [[{name}]] for each",
                matters="their order is the order of the work",
                do=f"write [[{name}]] with two brackets",
            )
            return
        for index, row in enumerate(found, 1):
            self.table(name, f"{place} {index}", row)


def check(tree: Mapping[str, Any], gathered: Gathered, forms: Sequence[Form] = ()) -> None:
    """Compare a visit tree with the form; problems go into `gathered`."""
    _Check(form_of(forms), gathered).table("", "", tree)


def check_part(tree: Mapping[str, Any], gathered: Gathered, form: Form) -> None:
    """Compare the tables of one part alone with its form; problems go into `gathered`."""
    one = _Check(form, gathered)
    for name, table in tree.items():
        one.inner(name, name, table)
