"""The next reading of a visit, proposed: from the plan, one thing at a time, each with what a tap or a number keeps.

A proposal is only a beginning of a typed line: what is kept went through `shorthand` as if all of it had been typed.
"""

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace

from fluewright.appliance.record import ApplianceClass
from fluewright.evidence.asked import not_read
from fluewright.evidence.part import SoFar
from fluewright.evidence.reading import Account
from fluewright.quantity import names, show
from fluewright.record.fold import Current
from fluewright.visit import trade
from fluewright.visit.plan import Plan, PlanLine, Why
from fluewright.visit.work import Verdict

REASONS = (
    "no hole to read it at",
    "it cannot be reached",
    "the instrument does not read it",
    "it was not running",
    "the owner would not have it",
    "it would not be safe",
)
"""Why something was not read, by tap (common practice, no source)."""

_BARE = re.compile(r"[-+<>=~.\d−–]")
_UNIT = re.compile(r"[A-Za-z%°\"µ]")
_TREND = re.compile(r"\s+(rising|falling|hunting|steady)\b")


@dataclass(frozen=True, slots=True)
class Tap:
    """An answer that needs no number.

    words  as it stands on its key
    line   what is typed by it
    whole  whether that can be kept as it stands; else something is still to be added
    """

    words: str
    line: str
    whole: bool = True


@dataclass(frozen=True, slots=True)
class Ask:
    """One thing to read, ask or look at next.

    key     tells it from the others of this visit
    words   in a few words
    at      where on the walk
    why     the first reason for it
    before  what is typed before the number; empty where no number answers it
    after   what is typed after it
    units   to choose among, the usual one first
    stated  whether a bare number would be understood in the first of them
    sign    whether it may lie below nothing
    last    what was read on the last visit, as it was typed
    taps    answers without a number
    """

    key: str
    words: str
    at: str
    why: str
    before: str = ""
    after: str = ""
    units: tuple[str, ...] = ()
    stated: bool = True
    sign: bool = False
    last: str = ""
    taps: tuple[Tap, ...] = ()


@dataclass(frozen=True, slots=True)
class Known:
    """What proposals are made from.

    account   the visit so far
    verdict   what came of it, None while nothing can be judged
    entries   of the visit
    earlier   last readings of the appliance on other visits by name and point, as typed
    """

    account: Account
    verdict: Verdict | None
    entries: Sequence[Current]
    earlier: Mapping[tuple[str, str], str] = field(default_factory=dict)

    @property
    def system(self) -> show.System:
        return self.account.system

    def lines(self, table: str) -> list[Mapping[str, object]]:
        """What was typed into a table so far."""
        return [each.body["typed"] for each in self.entries
                if each.counts and each.read.entry.kind == "line" and each.body["table"] == table]  # fmt: skip

    def set_aside(self) -> frozenset[str]:
        """What was said not to be measured, in the words in which it was proposed."""
        held = (each for each in self.entries if each.counts and each.read.entry.kind == "not measured")
        return frozenset(str(each.body["what"]) for each in held)

    def last_units(self) -> dict[str, str]:
        """Unit of the last reading by dimension."""
        found: dict[str, str] = {}
        for each in self.entries:
            if each.counts and each.read.entry.kind in ("reading", "line"):
                said = each.body.get("understood", {})
                told = [each.body["value"]] if each.read.entry.kind == "reading" else list(said.values())
                for value in told:
                    quantity = names.REGISTRY.get(str(value.get("quantity", "")))
                    if quantity is not None and value.get("typed_unit"):
                        found[quantity.dimension] = str(value["typed_unit"])
        return found


def composed(before: str, after: str, unit: str, typed: str) -> str:
    """The line that a number answers a proposal with.

    before, after  of the proposal
    unit           to be written where none was typed; empty where a bare number says enough
    typed          a number, with a unit or a trend word or a reason where one was typed
    -> the whole line; what is no number stands as it was typed
    """
    if not before or not _BARE.match(typed):
        return typed
    value, because, reason = typed.partition(" because ")
    trend = _TREND.search(value)
    figure = value[: trend.start()] if trend else value
    shown = f"{figure} {unit}" if unit and not _UNIT.search(figure) else figure
    gap, tail = "" if before.endswith("=") else " ", "" if not after or after.startswith(";") else " "
    return f"{before}{gap}{shown}{trend.group() if trend else ''}{tail}{after}{because}{reason}"


def _number(known: Known, line: PlanLine, name: str, point: str, **more: str) -> Ask:
    """A reading of the registry at a point."""
    quantity = names.of(name)
    units = trade.units(quantity, known.system, known.last_units())
    before = more.get("before") or trade.typed(name)
    return Ask(
        key=f"{name} {point}".strip(),
        words=trade.words(name) + (f", {point}" if point else ""),
        at=line.at,
        why=line.why[0].words if line.why else "",
        before=before,
        after=more.get("after", f"at {point}" if point else ""),
        units=units,
        stated=not units or (units[0] == show.unit_of(quantity, known.system) and "bare" not in more),
        sign=trade.may_be_negative(quantity) and name not in ("line_pressure", "flue_temperature"),
        last=known.earlier.get((name, point), known.earlier.get((name, ""), "")),
    )


def _of_class(known: Known, line: PlanLine, of_class: ApplianceClass) -> Iterator[Ask]:
    """The readings of one point that the class proposes and nobody took."""
    parts = {part.word: part for part in known.verdict.parts} if known.verdict is not None else {}
    for one in not_read(of_class, SoFar(known.account, (), parts)):
        if line.key == f"{one.point}, {one.when}":
            yield _number(known, line, one.quantity, one.point)


def _pressures(known: Known, line: PlanLine) -> Iterator[Ask]:
    """The two gas pressures that every flame is judged under."""
    had = {str(row.get("with", "")) for row in known.lines("gas_supply.pressure")}
    for alias, state, words in (
        ("standing_pressure", "standing", "gas pressure, standing"),
        ("working_pressure", "everything on", "gas pressure, everything on"),
    ):
        if state not in had:
            told = _number(known, line, "line_pressure", "", before=alias, after="at appliance", bare="no")
            yield replace(told, key=f"pressure {state}", words=words)


def _draft(known: Known, line: PlanLine) -> Iterator[Ask]:
    of_class = known.account.appliance.of_class
    hood = of_class is not None and of_class.point("above hood") is not None
    yield _number(known, line, "draft", "above hood" if hood else "breech")


def _spillage(known: Known, line: PlanLine) -> Iterator[Ask]:
    name = re.sub(r"[;=:]", " ", known.account.appliance.words)[:60].strip() or "appliance"
    told = _number(known, line, "spill_time", "", before=f"spillage: appliance={name}; stopped_after=", bare="no")
    yield replace(told, key="spillage", words="spillage: seconds until it stopped", sign=False)


def _counted(known: Known, line: PlanLine) -> Iterator[Ask]:
    """Gas counted by the meter: the dial has to be said, so it is begun and not kept."""
    tap = Tap("count it: dial, turns, seconds", "gas_input: dial=1 ft3; turns=1; time= s; compensated=no", whole=False)
    yield Ask(line.key, line.what, line.at, line.why[0].words, taps=(tap,))


_TAPS: Mapping[str, Sequence[Tap]] = {
    "people-asked": (
        Tap("nobody feels unwell", "room: symptoms=no"),
        Tap("somebody does", "room: symptoms=yes"),
    ),
    "air-opening": (Tap("seen, open and clear", "note openings for combustion air: seen, open and clear"),),
    "alarms": (
        Tap("works when tested", "room.alarm: place=in the home; tested=yes; sounded=no"),
        Tap("silent when tested", "room.alarm: place=in the home; tested=no; sounded=no"),
        Tap("it had sounded", "room.alarm: place=in the home; sounded=yes"),
    ),
    "smell": (
        Tap("no gas at joints and valve", "gas_survey: what=connector; answer=sound; how=gas sniffer"),
        Tap("gas", "gas_survey: what=connector; answer=gas; how=gas sniffer"),
    ),
    "closing-zero": (
        Tap("zero held", "note closing zero outdoors: held"),
        Tap("it had drifted", "note closing zero outdoors: drifted"),
    ),
}  # fmt: skip
_NUMBERS: Mapping[str, tuple[str, str]] = {
    "worn-meter": ("carbon_monoxide_personal", ""),
    "outdoor-air": ("carbon_monoxide_outdoor", ""),
    "entry": ("carbon_monoxide_room", "room: entry="),
    "smoke": ("smoke_spot", ""),
}
_MADE = {"pressures": _pressures, "draft": _draft, "spillage": _spillage, "clocked": _counted}


def _of_line(known: Known, line: PlanLine) -> Iterator[Ask]:
    """What one line of the plan comes to."""
    of_class, why = known.account.appliance.of_class, line.why[0].words if line.why else ""
    if line.key in _MADE:
        yield from _MADE[line.key](known, line)
    elif line.key in _NUMBERS:
        name, before = _NUMBERS[line.key]
        words = "carbon monoxide on entry" if line.key == "entry" else trade.words(name)
        yield replace(_number(known, line, name, "", before=before, after=""), key=line.key, words=words)
    elif line.key in _TAPS:
        yield Ask(line.key, line.what, line.at, why, taps=tuple(_TAPS[line.key]))
    elif line.key in names.REGISTRY:
        yield _number(known, line, line.key, "")
    elif line.key.startswith("device "):
        device = line.key.removeprefix("device ")
        taps = (Tap("acted", f"safety: device={device}; seen=acted"),
                Tap("did not act", f"safety: device={device}; seen=did not act"))  # fmt: skip
        yield Ask(line.key, line.what, line.at, why, taps=taps)
    elif line.key.startswith("house "):
        house = line.key.removeprefix("house ")
        taps = (Tap("sound", f"house.line: line={house}; answer=sound"),
                Tap("bad, because", f"house.line: line={house}; answer=bad; because=", whole=False))  # fmt: skip
        what, _, look = line.what.partition(": ")
        yield Ask(line.key, what, line.at, f"{look}. {why}" if look else why, taps=taps)
    elif of_class is not None and any(line.key == f"{one.point}, {one.when}" for one in of_class.lines):
        yield from _of_class(known, line, of_class)
    elif not line.key.startswith("last "):
        yield Ask(line.key, line.what, line.at, why)


def _answered(known: Known, ask: Ask) -> bool:
    """Whether a remark answers what the plan has no reading for."""
    lines = {tap.line for tap in ask.taps if tap.line.startswith("note ")}
    notes = (each for each in known.entries if each.counts and each.read.entry.kind == "note")
    return any(f"note {each.body['word']}" in lines for each in notes)


USUAL = ("oxygen_dry", "carbon_monoxide_dry", "flue_temperature", "air_temperature")
"""What is read of a flame where neither a class nor a law says what (common practice, no source)."""


def _usual(known: Known) -> Iterator[Ask]:
    read = {name for stretch in known.account.stretches for name in stretch.readings}
    line = PlanLine("flame", "flame", "the flame", (Why("diagnosis", "a flame is known by these"),), False)
    yield from (_number(known, line, name, "") for name in USUAL if name not in read)


def _registered(reading: Current) -> str:
    """The name of a reading in the registry; a visit file may name it as the trade does."""
    return names.named(str(reading.body["name"])).name


def _again(known: Known) -> Iterator[Ask]:
    """After a step: what was read before it, to be read once more."""
    counting = [each for each in known.entries if each.counts]
    steps = [index for index, each in enumerate(counting) if each.read.entry.kind == "step"]
    if not steps:
        return
    before, after = counting[: steps[-1]], counting[steps[-1] :]
    readings = [each for each in before if each.read.entry.kind == "reading"]
    last = readings[-1].body.get("stretch") if readings else None
    point = next((str(each.body.get("point", "")) for each in before if each.read.entry.id == last), "")
    had = {_registered(each) for each in after if each.read.entry.kind == "reading"}
    line = PlanLine("again", "flame", "after the step", (Why("diagnosis", "what the step did"),), False)
    for each in readings:
        name = _registered(each)
        if each.body.get("stretch") == last and name not in had:
            told = _number(known, line, name, point)
            yield replace(told, key=f"again {told.key}", last=f"before the step {each.body['value']['typed']}")


def proposed(plan: Plan, known: Known) -> tuple[Ask, ...]:
    """What is still to be read, in walking order.

    plan   of the visit as it stands
    known  what it was made from
    -> proposals; without what was said not to be measured, and the fields of one line one by one
    """
    aside = known.set_aside()
    found: dict[str, Ask] = {}
    open_to_all = not plan.held and all(line.at != "people" or line.done for line in plan.lines)
    if open_to_all:
        found |= {ask.key: ask for ask in _again(known) if ask.words not in aside}
    for line in plan.lines:
        begun = line.key == "pressures" and line.done and known.lines("gas_supply.pressure")
        if (begun or not line.done) and line.what not in aside:
            for ask in _of_line(known, line):
                if ask.words not in aside and not _answered(known, ask):
                    found.setdefault(ask.key, ask)
    if not plan.held and not any(line.at == "flame" for line in plan.lines):
        found |= {ask.key: ask for ask in _usual(known) if ask.words not in aside}
    return tuple(found.values())
