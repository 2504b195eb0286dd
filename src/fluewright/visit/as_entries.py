"""A visit described in tables, as entries for the journal: each line of the sheet becomes one."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date, datetime, time
from typing import Any

from fluewright import clock
from fluewright.evidence import papers
from fluewright.quantity.meaning import Typed
from fluewright.quantity.names import of
from fluewright.record.draft import Draft
from fluewright.record.entry import Source as From
from fluewright.record.personal import Private
from fluewright.visit import as_checks
from fluewright.visit.shape import Form
from fluewright.visit.source import Source

VISIT = {"customer": "customer_name", "site": "site_words", "technician": "technician_name", "date": "day"}
"""Keys of the table about the visit that have another name in the journal; the others keep theirs."""

PLAIN = ("step", "note", "event", "stretch")
"""Tables that have a kind of entry of their own."""

SENTENCES = ("done", "next")
"""Lists of sentences at the top of a visit."""

ABOUT_PEOPLE = frozenset({"because", "note", "symptoms", "told", "by_whom", "person"})
"""Keys of lines that hold what people said or are; kept as commitments that can be erased."""

CONDITION = (
    "words", "accuracy", "calibration_due", "zero", "hydrogen_compensated", "oxygen_cell", "over_range", "trap",
)  # fmt: skip
"""What is frozen of an instrument into every reading taken with it."""


def understood(typed: Typed) -> dict[str, str]:
    """A reading as it was understood, as texts: figures in the canonical unit, shortest form that reads back."""
    figures = {"figure": typed.value, "least": typed.low, "most": typed.high}
    held = {name: repr(float(value)) for name, value in figures.items() if value is not None}
    words = {"kind": typed.kind, "unit": of(typed.quantity).unit, "typed_unit": typed.unit, "trend": typed.trend}
    return {"quantity": typed.quantity, **held, **{name: word for name, word in words.items() if word}}


def value_of(text: str, typed: Typed | None, name: str) -> dict[str, str]:
    """A reading for the journal: the text byte for byte, beside what it was understood as."""
    return {"typed": text, **(understood(typed) if typed is not None else {"quantity": name})}


def plain(value: Any) -> Any:
    """A value of a visit file as the journal keeps it: dates and fractions as text, everything else as it is."""
    if isinstance(value, datetime | date | time):
        return value.isoformat()
    if isinstance(value, float):
        return repr(value)
    if isinstance(value, Mapping):
        return {key: plain(each) for key, each in value.items()}
    if isinstance(value, list | tuple):
        return [plain(each) for each in value]
    return value


@dataclass(slots=True)
class Making:
    """Entries of one visit in the making.

    file    the visit as it was read; it knows which values were understood as what
    form    which of its tables come several times
    source  typed, from paper, imported
    about   ids of customer, site, appliance and instrument, as far as they are known
    visit   id of the visit
    """

    file: Source
    form: Form
    source: From
    about: Mapping[str, str] = field(default_factory=dict)
    visit: str = field(default_factory=clock.new_id)

    def drafts(self) -> Iterator[Draft]:
        """All entries, the visit itself first."""
        tree = self.file.tree
        opened = {VISIT.get(key, key): _text(value) for key, value in tree["visit"].items()}
        about: dict[str, Any] = {kind: self.about[kind] for kind in ("customer", "site") if kind in self.about}
        about |= {"appliances": [self.about["appliance"]]} if "appliance" in self.about else {}
        yield self._draft("visit", {**opened, **about}, of_visit=False, entry_id=self.visit)
        for name, found in tree.items():
            if name in SENTENCES:
                rows = found if isinstance(found, list) else [found]
                yield from (self._draft(name, {"word": str(row)}) for row in rows)
            elif name == "stretch":
                yield from (each for row in found for each in self._stretch(row))
            elif name in PLAIN:
                yield from (self._draft(name, {key: _text(value) for key, value in row.items()}) for row in found)
            elif name != "visit":
                yield from self._table(name, found, "")

    def _draft(self, kind: str, body: Mapping[str, Any], *, of_visit: bool = True, entry_id: str = "") -> Draft:
        whole = {"visit": self.visit, **body} if of_visit else dict(body)
        return Draft(kind, whole, source=self.source, id=entry_id or clock.new_id())

    def _condition(self) -> dict[str, Any]:
        """What the instrument was when it read."""
        table = self.file.table("instrument")
        return {key: plain(table[key]) for key in CONDITION if key in table}

    def _stretch(self, row: Mapping[str, Any]) -> Iterator[Draft]:
        """A stretch, then its readings."""
        own = {key: _text(value) for key, value in row.items() if key != "readings"}
        made = self._draft("stretch", own)
        yield made
        condition = self._condition()
        readings = row.get("readings", {})
        for key, value in readings.items():
            text = papers.listed(value) if isinstance(value, list) else str(plain(value))
            body = {"stretch": made.id, "name": key, "value": value_of(text, self._typed(readings, key), key)}
            body |= {"instrument": self.about["instrument"]} if "instrument" in self.about else {}
            yield self._draft("reading", body | ({"condition": condition} if condition else {}))

    def _typed(self, table: Mapping[str, Any], key: str) -> Typed | None:
        return self.file.read_as.get((id(table), key))

    def _table(self, name: str, found: Any, under: str) -> Iterator[Draft]:
        """A table, or every table of a list, with those inside it."""
        rows = found if name in self.form.lists else [found]
        if name == as_checks.TABLE:
            yield from map(self._check, rows)
            return
        for row in rows:
            inner = {k: v for k, v in row.items() if f"{name}.{k}" in self.form.tables and not self._free(name, k)}
            own = {key: value for key, value in row.items() if key not in inner}
            entry_id = under
            if own or name in self.form.lists or not inner:
                made = self._line(name, row, own, under)
                entry_id = made.id
                yield made
            for key, value in inner.items():
                yield from self._table(f"{name}.{key}", value, entry_id)

    def _check(self, row: Mapping[str, Any]) -> Draft:
        """What was tried on the instrument, an entry of its own kind."""
        which = self.about.get("instrument") or clock.new_id()  # of a visit that is not kept
        plain_row = {key: plain(value) for key, value in row.items()}
        body = as_checks.body_of(plain_row, lambda key: self._typed(row, key), value_of, instrument=which)
        return self._draft("check", body)

    def _free(self, name: str, key: str) -> bool:
        return f"{name}.{key}" in self.form.free

    def _line(self, name: str, row: Mapping[str, Any], own: Mapping[str, Any], under: str) -> Draft:
        typed = {key: Private(value) if _personal(key, value) else plain(value) for key, value in own.items()}
        known = {key: understood(found) for key in own if (found := self._typed(row, key)) is not None}
        body: dict[str, Any] = {"table": name, "typed": typed}
        body |= {"understood": known} if known else {}
        body |= {"instrument": self.about["instrument"]} if name == "instrument" and "instrument" in self.about else {}
        return self._draft("line", body | ({"under": under} if under else {}))


def _personal(key: str, value: Any) -> bool:
    return key in ABOUT_PEOPLE and isinstance(value, str) and value != ""


def _text(value: Any) -> Any:
    """A field of an entry of its own kind: texts, and flags as they are."""
    return value if isinstance(value, bool) else str(plain(value))


def drafts_of(
    file: Source, form: Form, *, source: From = "typed", about: Mapping[str, str] | None = None, visit: str = ""
) -> Sequence[Draft]:
    """A visit read from a file, as entries.

    file    read without a problem
    form    form of the whole file
    source  typed, from paper, imported
    about   ids of customer, site, appliance and instrument, where the visit is kept among others
    visit   its id, where it was chosen beforehand
    -> drafts, the visit's own first
    """
    return list(Making(file, form, source, about or {}, visit or clock.new_id()).drafts())
