"""The plan of a visit: which readings it needs and why, in walking order, and what of it is done so far.

It comes from the route, the class of the appliance, the rules of the place and day, and what was found so far or last
time.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from typing import TYPE_CHECKING

from fluewright.diagnose.standing import Stands
from fluewright.errors import Problems
from fluewright.evidence.asked import not_read
from fluewright.evidence.checked import BELIEVABLE
from fluewright.evidence.finding import WRONG, Finding
from fluewright.evidence.limits import rules_for
from fluewright.evidence.part import SoFar
from fluewright.evidence.reading import Account
from fluewright.evidence.room import RoomGiven
from fluewright.quantity import names
from fluewright.rules.schema import Limit
from fluewright.rules.visits import PEOPLE_FIRST, WALK, Reason, Stop, VisitStep, route
from fluewright.visit import file, kept
from fluewright.visit.causes import causes_of
from fluewright.visit.source import Source
from fluewright.visit.work import Verdict
from fluewright.words import marked, say, spoken

if TYPE_CHECKING:
    from fluewright.record.journal import Journal

READ_FOR: dict[str, tuple[str, ...]] = {
    "carbon_monoxide_air_free": ("carbon_monoxide_dry", "oxygen_dry"),
    "carbon_monoxide_dry": ("carbon_monoxide_dry",),
    "carbon_monoxide_mass_per_heat": ("carbon_monoxide_dry", "oxygen_dry"),
    "carbon_monoxide_room": ("carbon_monoxide_room",),
    "co_co2_ratio": ("carbon_monoxide_dry", "carbon_dioxide_dry"),
    "oxygen_dry": ("oxygen_dry",),
    "carbon_dioxide_dry": ("carbon_dioxide_dry",),
    "loss_net": ("oxygen_dry", "flue_temperature", "air_temperature"),
    "loss_siegert": ("oxygen_dry", "flue_temperature", "air_temperature"),
    "efficiency_gross": ("oxygen_dry", "flue_temperature", "air_temperature"),
    "smoke_spot": ("smoke_spot",),
    "nitrogen_oxides_dry": ("nitrogen_oxides_dry", "oxygen_dry"),
}
"""What has to be read for a limit of a quantity."""

STEP_FOR = {
    "spill_time": "spillage", "draft_above_hood": "draft", "draft_over_fire": "draft", "draft_breech": "draft",
    "house_pressure_change": "worst-case", "input_of_plate": "clocked", "line_pressure": "pressures",
    "leak_rate": "tightness", "room_volume_per_input": "air-opening",
}  # fmt: skip
"""Which step of a route reads for a limit of a quantity."""

_GROUPS = {"gas": "gas", "liquid": "oil", "solid": "solid"}
FLUE = marked("the flue")


@dataclass(frozen=True, slots=True)
class Why:
    """One reason for a line of the plan: a law, safety or diagnosis, in words."""

    kind: Reason
    words: str


@dataclass(frozen=True, slots=True)
class PlanLine:
    """One line of the plan.

    at    where on the walk
    what  to be read, asked or tried
    why   for which reasons, the law first
    done  whether this visit has it
    """

    key: str
    at: Stop
    what: str
    why: tuple[Why, ...]
    done: bool


@dataclass(frozen=True, slots=True)
class Plan:
    """The lines of a visit in walking order.

    route  by name
    lines  in order
    held   how many lines wait until people were asked, 0 when none does
    """

    route: str
    lines: tuple[PlanLine, ...]
    held: int = 0

    @property
    def next(self) -> PlanLine | None:
        """The first line that is not done."""
        return next((line for line in self.lines if not line.done), None)


@dataclass(frozen=True, slots=True)
class _Known:
    """What is known so far: the visit, and what came of it where it could be judged already."""

    account: Account
    verdict: Verdict | None

    @property
    def room(self) -> RoomGiven:
        return next((one for one in self.account.parts if isinstance(one, RoomGiven)), RoomGiven())

    def has_part(self, word: str) -> bool:
        """Whether a part of the job was measured."""
        return self.verdict is not None and any(part.word == word for part in self.verdict.parts)

    def answered(self, answer: str) -> bool:
        """Whether this visit answers a step."""
        if answer == "symptoms":
            return self.room.symptoms != "not asked"
        if answer == "alarm":
            return bool(self.room.alarms) or self.room.without_alarm
        if answer.startswith("part:"):
            word = answer.removeprefix("part:")
            return self.has_part(word) or (word == "smoke" and self.read("smoke_spot"))
        if answer.startswith("tried:"):
            return self.tried(answer.removeprefix("tried:"))
        return bool(answer) and getattr(self.room, answer, None) is not None

    def tried(self, what: str) -> bool:
        """Whether something was tried on the instrument and held; a zero indoors and a hose that leaks do not."""
        instrument = self.account.instrument
        held = any(one.what == what and one.place != "inside" and one.tight is not False for one in instrument.checks)
        return held or (what == "zero" and instrument.zero in BELIEVABLE)

    def read(self, quantity: str) -> bool:
        """Whether some stretch has a reading."""
        in_stretch = any(quantity in stretch.readings for stretch in self.account.stretches)
        return in_stretch or (quantity == "carbon_monoxide_room" and bool(self.room.readings or self.room.entry))


def _why_law(rule: Limit) -> Why:
    cited = rule.citation
    kind: Reason = "law" if rule.layer in ("law", "programme") else "diagnosis"
    named = cited.document if cited.clause == "none" else f"{cited.document}, {cited.clause}"
    return Why(kind, say("{rule} ({known})", rule=named, known=spoken(rule.known)))


def _rules(account: Account) -> Iterator[Limit]:
    """The limits of law and programme that a reading of this visit would answer."""
    for quantity in (*READ_FOR, *STEP_FOR):
        yield from (rule for rule in rules_for(quantity, account) if rule.layer in ("law", "programme"))


def _of_step(step: VisitStep, known: _Known, laws: Sequence[Limit]) -> PlanLine:
    asked = [_why_law(rule) for rule in laws if STEP_FOR.get(rule.quantity) == step.id]
    done = known.answered(step.answer)
    return PlanLine(
        step.id, step.at, spoken(step.what), (*dict.fromkeys(asked), Why(step.why, spoken(step.text))), done
    )


def _of_flame(known: _Known, laws: Sequence[Limit]) -> list[PlanLine]:
    """What is read of flame and room: lines of the class, and what a law asks beside them."""
    account = known.account
    for_law: dict[str, list[Why]] = {}
    for rule in laws:
        for quantity in READ_FOR.get(rule.quantity, ()):
            for_law.setdefault(quantity, []).append(_why_law(rule))
    of_class = account.appliance.of_class
    groups: dict[tuple[str, str], list[str]] = {}
    open_lines: set[tuple[str, str, str]] = set()
    if of_class is not None:
        parts = {part.word: part for part in known.verdict.parts} if known.verdict is not None else {}
        missing = not_read(of_class, SoFar(account, (), parts))
        open_lines = {(line.point, line.when, line.quantity) for line in missing}
        for line in of_class.lines:
            groups.setdefault((line.point, line.when), []).append(line.quantity)
    lines = []
    for (point, when), quantities in groups.items():
        why = [reason for name in quantities for reason in for_law.get(name, ())]
        usual = Why(
            "safety" if "carbon_monoxide_room" in quantities else "diagnosis", say("this kind of appliance asks it")
        )
        at: Stop = "room" if quantities == ["carbon_monoxide_room"] else "flame"
        done = not any((point, when, name) in open_lines for name in quantities)
        words = ", ".join(spoken(names.of(name).words) for name in quantities)
        what = say("{readings}: {point}, {when}", readings=words, point=spoken(point), when=spoken(when))
        lines.append(PlanLine(f"{point}, {when}", at, what, (*dict.fromkeys(why), usual), done))
    held = {name for quantities in groups.values() for name in quantities}
    for name, reasons in for_law.items():
        if name not in held:
            at = "room" if name == "carbon_monoxide_room" else "flame"
            why_all = tuple(dict.fromkeys(reasons))
            what = say("{reading}: {point}", reading=spoken(names.of(name).words), point=spoken(FLUE))
            lines.append(PlanLine(name, at, what, why_all, known.read(name)))
    return lines


def _of_proofs(known: _Known) -> list[PlanLine]:
    """Devices to prove and lines of the house that the class has."""
    of_class = known.account.appliance.of_class
    if of_class is None:
        return []
    data = {part.word: part.data for part in known.verdict.parts} if known.verdict is not None else {}
    devices, house = data.get("safety devices", {}).get("open"), data.get("the house", {}).get("open")
    unproved = devices if isinstance(devices, list) else [one.words for one in of_class.devices]
    unseen = house if isinstance(house, list) else [one.key for one in of_class.house]
    lines = []
    for one in of_class.devices:
        why = Why("safety", spoken(one.expected) or say("it must act"))
        what = say("prove the {device}", device=spoken(one.words))
        lines.append(PlanLine(f"device {one.key}", "after", what, (why,), one.words not in unproved))
    for line in of_class.house:
        why = Why("safety", spoken(line.bad))
        what = say("{part}: {ask}", part=spoken(line.words), ask=spoken(line.ask))
        lines.append(PlanLine(f"house {line.key}", "room", what, (why,), line.key not in unseen))
    return lines


def _of_findings(findings: Sequence[Finding], *, last: bool) -> list[PlanLine]:
    """What was found asks for more: today's findings with what to do next, and what was wrong last time."""
    lines = []
    for one in findings:
        if one.grade not in WRONG or (not last and not one.do_next):
            continue
        kind: Reason = "safety" if one.grade in ("stop", "act") else "diagnosis"
        if last:
            why = Why(kind, say("last time: {finding}", finding=spoken(one.lead)))
            what = say("read again: {finding}", finding=spoken(one.lead))
            lines.append(PlanLine(f"last {one.code}", "flame", what, (why,), False))
        else:
            what = "; ".join(map(spoken, one.do_next))
            lines.append(PlanLine(one.code, "after", what, (Why(kind, spoken(one.lead)),), False))
    return list({line.key: line for line in lines}.values())


def _of_danger(one: Stands) -> str:
    return say("{cause}: {danger}", cause=one.words, danger=one.why)


def _of_dangers(verdict: Verdict) -> list[PlanLine]:
    """The tests of the dangers that stand; done where one was closed."""
    found = causes_of(verdict)
    dangers = () if found is None else found.dangers
    return [
        PlanLine(f"danger {one.name}", "flame", one.close, (Why("safety", _of_danger(one)),), not one.open)
        for one in dangers
        if one.close
    ]


def plan_of(account: Account, verdict: Verdict | None = None, *, earlier: Sequence[Finding] = ()) -> Plan:
    """The plan of a visit as it stands now.

    account  the visit, with what was read so far
    verdict  what came of it, None while nothing could be judged
    earlier  findings of the visit before, at the same appliance
    -> plan in walking order; on the route of an alarm nothing but people stands in it until they were asked
    """
    name, known = account.route or "annual", _Known(account, verdict)
    laws, group = list(_rules(account)), _GROUPS.get(account.fuel.kind, "")
    steps = [one for one in route(name) if not one.fuels or group in one.fuels]
    lines = [_of_step(one, known, laws) for one in steps] + _of_flame(known, laws) + _of_proofs(known)
    lines += _of_findings(earlier, last=True)
    if verdict is not None:
        lines += _of_findings(verdict.judged.findings, last=False) + _of_dangers(verdict)
    ordered = sorted((replace(one, why=_by_weight(one.why)) for one in lines), key=lambda one: WALK.index(one.at))
    unwell = known.room.symptoms == "yes"
    if unwell or (name == PEOPLE_FIRST and known.room.symptoms == "not asked"):
        people = [line for line in ordered if line.at == "people"]
        return Plan(name, tuple(people), len(ordered) - len(people))
    return Plan(name, tuple(ordered))


def account_so_far(journal: "Journal", visit: str) -> Account:
    """The account of a kept visit, also of one in which nothing was read yet.

    journal  where it is kept
    visit    id
    -> account; Problems where its entries do not hold together
    """
    try:
        return kept.account_of(journal, visit)
    except Problems as error:
        if any(one.code != kept.NOTHING_YET for one in error.errors):
            raise
    tables = {**kept.tables_of(journal, visit), "room": {"symptoms": "not asked"}}
    return replace(file.taken(Source(Path(f"visit {visit[-8:]}"), tables)), parts=())


def _by_weight(why: Sequence[Why]) -> tuple[Why, ...]:
    """Reasons with the law first, then safety, then diagnosis."""
    order: tuple[Reason, ...] = ("law", "safety", "diagnosis")
    return tuple(sorted(dict.fromkeys(why), key=lambda one: order.index(one.kind)))
