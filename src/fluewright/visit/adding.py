"""Readings and remarks added to a visit in a journal, one typed line at a time."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any

from fluewright import clock
from fluewright.errors import FluewrightError
from fluewright.evidence.draft.readings import SPOTS
from fluewright.quantity import bare, names
from fluewright.record.draft import Draft
from fluewright.record.entry import Source as From
from fluewright.record.fold import Current, current
from fluewright.record.today import not_kept
from fluewright.visit import as_checks, as_entries, file, kept, once, said
from fluewright.visit.shorthand import Said, Typing, understood

if TYPE_CHECKING:
    from fluewright.record.entry import Entry
    from fluewright.record.journal import Journal

FIRST = "as found"
AFTER_STEP = "as left"

IN_ROOM: Mapping[str, str] = {"carbon_monoxide_outdoor": "outdoor", "carbon_monoxide_personal": "personal"}
"""Readings of the air people breathe that stand once, by their key in the table about the room."""

STANDING: Mapping[str, str] = {"standing_pressure": "standing", "working_pressure": "everything on"}
"""What a trade name of a gas pressure says of what was burning."""


def _written(text: str) -> str | bool | list[str]:
    """A value of a line of a table as a visit file would write it: true, false, [several, values], or words."""
    if text in ("true", "false"):
        return text == "true"
    if text.startswith("[") and text.endswith("]"):
        return [each.strip() for each in text[1:-1].split(",") if each.strip()]
    return text


@dataclass(frozen=True, slots=True)
class Kept:
    """What one typed line came to.

    entries  what was kept
    echo     how each was understood, in words
    """

    entries: "tuple[Entry, ...]"
    echo: tuple[str, ...]


@dataclass(slots=True)
class _Adding:
    """Drafts of one line in the making."""

    visit: str
    before: Sequence[Current]
    source: From
    stretch: str
    time: str
    form: str = ""
    drafts: list[Draft] = field(default_factory=list)
    echo: list[str] = field(default_factory=list)

    def take(self, line: Said) -> None:
        """Drafts for all that a line says."""
        if line.kind == "line" and line.table == as_checks.TABLE:
            self._check(dict(line.fields))
        elif line.kind == "line":
            self._line(line.table, {key: _written(value) for key, value in line.fields})
        elif line.kind:
            body = {key: value for key, value in line.fields if value}
            if line.kind in ("event", "step", "note"):
                body.setdefault("time", self.time)
            self._draft(line.kind, body)
        flame = [each for each in line.readings if not self._elsewhere(each)]
        for point in dict.fromkeys(each.point for each in flame):
            self._readings(point, [each for each in flame if each.point == point], line.steady)

    def _draft(self, kind: str, body: Mapping[str, Any], within: str = "") -> Draft:
        chosen = once.derived(self.form, len(self.drafts)) if self.form else clock.new_id()
        made = Draft(kind, {"visit": self.visit, **body}, source=self.source, id=chosen)
        self.drafts.append(made)
        self.echo.append(said.words(kind, body, within=within))
        return made

    def _line(self, table: str, fields: dict[str, Any], typing: Typing | None = None, key: str = "") -> None:
        body: dict[str, Any] = {"table": table, "typed": fields}
        if typing is not None:
            body["understood"] = {key: as_entries.understood(typing.typed)}
        self._draft("line", body)

    def _check(self, row: dict[str, str]) -> None:
        """What was tried on the instrument, at the time of the line where it says none."""
        row, typed = {"time": self.time, **row}, as_checks.understood_in(row)
        which = str(self._instrument().get("instrument", ""))
        self._draft("check", as_checks.body_of(row, typed.get, as_entries.value_of, instrument=which))

    def _elsewhere(self, reading: Typing) -> bool:
        """Whether a reading has a table of its own; then it was written there."""
        name, alias = reading.typed.quantity, reading.name.lower().replace(" ", "_")
        if name == "carbon_monoxide_room":
            place = {"place": reading.point} if reading.point else {}
            self._line("room.reading", {"time": self.time, **place, "monoxide": reading.text}, reading, "monoxide")
        elif name in IN_ROOM:
            self._line("room", {IN_ROOM[name]: reading.text}, reading, IN_ROOM[name])
        elif alias in STANDING and reading.point:
            fields = {"at": reading.point, "with": STANDING[alias], "pressure": reading.text, "time": self.time}
            self._line("gas_supply.pressure", fields, reading, "pressure")
        elif name == "draft" and reading.point in SPOTS:
            fields = {"place": reading.point, "draft": reading.text, "time": self.time}
            self._line("draft.reading", fields, reading, "draft")
        else:
            return False
        return True

    def _readings(self, point: str, readings: Sequence[Typing], steady: str) -> None:
        stretch, word = self._stretch(point, readings, steady)
        instrument = self._instrument()
        for each in readings:
            value = as_entries.value_of(each.text, each.typed, each.name)
            body: dict[str, Any] = {"stretch": stretch, "name": names.named(each.name).name, "value": value}
            body |= instrument
            body |= {"because": each.because} if each.because else {}
            body |= {"point": point} if point else {}
            self._draft("reading", body, word)

    def _instrument(self) -> dict[str, Any]:
        """The instrument and what it is while it reads, frozen into the reading."""
        found: dict[str, Any] = {}
        which = ""
        for each in self.before:
            if each.counts and each.read.entry.kind == "line" and each.body["table"] == "instrument":
                found.update(each.body["typed"])
                which = str(each.body.get("instrument", which))
        condition = {key: found[key] for key in as_entries.CONDITION if key in found}
        return ({"condition": condition} if condition else {}) | ({"instrument": which} if which else {})

    def _stretch(self, point: str, readings: Sequence[Typing], steady: str) -> tuple[str, str]:
        """The stretch that these readings belong to, by id and word: the one at hand, or a new one."""
        held = [each for each in self.before if each.counts and each.read.entry.kind == "stretch"]
        taken = {each.body["word"] for each in held}
        last = next((each for each in reversed(held) if not self.stretch or each.body["word"] == self.stretch), None)
        if last is not None and not steady and self._fits(last, point, readings):
            return last.read.entry.id, str(last.body["word"])
        word = self.stretch or self._phase()
        if word in taken:
            word = next(new for n in range(2, len(taken) + 3) if (new := f"{word} {n}") not in taken)
        given = {"word": word, "time": self.time, "point": point, "steady": steady}
        made = self._draft("stretch", {key: value for key, value in given.items() if value})
        return made.id, word

    def _fits(self, stretch: Current, point: str, readings: Sequence[Typing]) -> bool:
        """Whether readings go into a stretch: same point, no step since, nothing read twice."""
        ids = [each.read.entry.id for each in self.before]
        since = self.before[ids.index(stretch.read.entry.id) :]
        if any(each.counts and each.read.entry.kind == "step" for each in since):
            return False
        inside = [e for e in since if e.counts and e.body.get("stretch") == stretch.read.entry.id]
        names_in = {names.named(e.body["name"]).name for e in inside}
        same_place = not point or point == stretch.body.get("point", "")
        return same_place and not names_in & {names.named(each.name).name for each in readings}

    def _phase(self) -> str:
        stepped = any(each.counts and each.read.entry.kind == "step" for each in self.before)
        return AFTER_STEP if stepped else FIRST


def tables() -> list[str]:
    """Names of the tables that a typed line may be written into."""
    return [name for name in file.FORM.tables if name]


def _understood(before: Sequence[Current], text: str) -> Said:
    """A line understood in the units that its visit is worked in."""
    said_units = next((each.body.get("units") for each in before if each.read.entry.kind == "visit"), None)
    system: bare.System | None = "us" if said_units == "us" else "si" if said_units == "si" else None
    with bare.stated(system):
        return understood(text, tables=tables())


@dataclass(frozen=True, slots=True)
class Tried:
    """A line that is still being typed.

    words  what is understood of it so far, in a sentence; empty for nothing
    rest   what is not understood yet
    """

    words: str
    rest: str


def tried(before: Sequence[Current], visit: str, text: str, *, stretch: str = "", time: str = "") -> Tried:
    """How a line would be understood; nothing is kept, and the end of a half-typed one is let stand.

    before   entries of the visit so far
    visit    its id
    text     what was typed so far
    stretch  word of the stretch it would belong to; the one at hand when not said
    time     as in `added`
    -> what is understood, and what is not yet
    """
    words = text.split()
    for end in range(len(words), 0, -1):
        making = _Adding(visit, before, "typed", stretch, time)
        try:
            making.take(_understood(before, " ".join(words[:end])))
        except FluewrightError:
            continue
        new = current(not_kept(making.drafts))
        return Tried(said.together((*before, *new), new, short=True), " ".join(words[end:]))
    return Tried("", text.strip())


def added(
    journal: "Journal",
    visit: str,
    text: str,
    *,
    source: From = "typed",
    stretch: str = "",
    time: str = "",
    form: str = "",
) -> Kept:
    """One typed line added to a visit; when this returns, it is on the disk.

    journal  where the visit is kept
    visit    its id
    text     trade shorthand, see `shorthand`
    source   typed, or from paper
    stretch  word of the stretch it belongs to; the one at hand when not said
    time     when it was read, such as 10:20; now when not said
    form     id under which it was sent: the same sent twice is kept once; each time anew when not said
    -> what was kept; VisitError, QuantityError or Problems when it cannot be, and then nothing was
    """
    before = kept.entries_of(journal, visit)
    return _taken(journal, visit, before, lambda: _understood(before, text), source, stretch, time, form)


def taken(
    journal: "Journal",
    visit: str,
    line: Said,
    *,
    source: From = "typed",
    stretch: str = "",
    time: str = "",
    form: str = "",
) -> Kept:
    """What a line says added to a visit, however it came: typed as shorthand, or given by its parts.

    line  what it says; the others as in `added`
    -> what was kept
    """
    return _taken(journal, visit, kept.entries_of(journal, visit), lambda: line, source, stretch, time, form)


def _taken(
    journal: "Journal",
    visit: str,
    before: Sequence[Current],
    line: Callable[[], Said],
    source: From,
    stretch: str,
    time: str,
    form: str,
) -> Kept:
    if form and (already := once.under(before, form)):
        return Kept(tuple(each.read.entry for each in already), said.each(before, already))
    making = _Adding(visit, before, source, stretch, time or journal.now().strftime("%H:%M"), form)
    making.take(line())
    kept.need_sound(before, making.drafts, f"visit {visit[-8:]}")
    return Kept(tuple(journal.add_all(making.drafts)), tuple(making.echo))
