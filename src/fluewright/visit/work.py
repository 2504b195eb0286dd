"""Works out, judges and sets one visit: the one path from readings to a sheet."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from types import MappingProxyType
from typing import TYPE_CHECKING

from fluewright.errors import PhysicsRefused
from fluewright.evidence import flue, judge
from fluewright.evidence.checked_doubts import doubts
from fluewright.evidence.finding import PHYSICS, WRONG, Finding, Judged, unsettled
from fluewright.evidence.fitting import fitted
from fluewright.evidence.flue import NOTHING, Worked
from fluewright.evidence.monoxide import AIR_PEOPLE_BREATHE, read_in_room
from fluewright.evidence.part import Part, SoFar, Statement, Voiced
from fluewright.evidence.reading import Account, Stretch
from fluewright.evidence.result import Result
from fluewright.evidence.room import WORN
from fluewright.evidence.together import together
from fluewright.evidence.trust import fresh_air
from fluewright.visit import emissions, short

if TYPE_CHECKING:
    from fluewright.report.tree import Figure, Sheet

NONE: Mapping[str, Result] = MappingProxyType({})

PLANE_CARBON_MONOXIDE = 100.0
"""ppm air-free at the top of the drawn window (common practice, no source)."""


@dataclass(frozen=True, slots=True)
class Verdict:
    """One visit worked out and judged.

    refused  why a stretch could not be worked out, the first such reason; None when all could
    parts    what was measured beside the flame, worked out
    """

    account: Account
    told: tuple[tuple[Stretch, Worked | None], ...]
    judged: Judged
    refused: PhysicsRefused | None = None
    parts: tuple[Part, ...] = ()

    def sheet(
        self, *, strips: "Sequence[Figure]" = (), brief: bool = False, forms: Mapping[str, Result] = NONE
    ) -> "Sheet":
        """The sheet of this visit; brief for a single reading, without drawings and customer page.

        strips  drawn traces
        brief   for a single reading
        forms   results in the forms of rules, for a section of their own
        """
        from fluewright.report import sheet  # drawings cost a third of the start; JSON needs none

        if brief:
            return sheet.build(self.account, self.told, self.judged, brief=True, extra=forms, parts=self.parts)
        window = sheet.window_drawn(judge.window_of(self.account), PLANE_CARBON_MONOXIDE)
        from fluewright.visit.causes import causes_of

        made, causes = forms or self._forms(), causes_of(self)
        return sheet.build(
            self.account,
            self.told,
            self.judged,
            window=window,
            strips=strips,
            extra=made,
            parts=self.parts,
            causes=causes,
        )

    def _forms(self) -> Mapping[str, Result]:
        """The last readings in the forms of rules, where more than oxygen and carbon monoxide was read for them."""
        worked = self.told[-1][1] if self.told else None
        if worked is None:
            return NONE
        if worked.taken.carbon_dioxide is None and set(worked.trace_gases) <= {"carbon_monoxide"}:
            return NONE
        return {**emissions.of_stretch(worked), **short.forms_of(worked)}


def _no_flame(stretch: Stretch) -> bool:
    """Whether the readings themselves say that there is no flue gas to work out."""
    return fresh_air(stretch) is not None or stretch.point.kind in AIR_PEOPLE_BREATHE


def _worked(account: Account, stretch: Stretch) -> tuple[Worked | None, PhysicsRefused | None]:
    """One stretch worked out, or why it could not be."""
    of_class = account.appliance.of_class
    if _no_flame(stretch) or (read_in_room(stretch) and len(stretch.readings) == 1):
        return None, None
    try:
        worked = flue.work(
            record=account.fuel,
            stretch=stretch,
            instrument=account.instrument,
            surroundings=account.surroundings,
            jacket_fraction=account.jacket,
            withheld=of_class.withheld() if of_class is not None else NOTHING,
        )
    except PhysicsRefused as error:
        return None, error
    except ArithmeticError:
        return None, _no_number()
    return worked, None


def _not_worked(stretch: Stretch, error: PhysicsRefused) -> Finding:
    """A stretch that could not be worked out, as a finding."""
    names = tuple(stretch.readings)
    lead = f"{stretch.word.capitalize()}: these readings cannot be worked out."
    do = error.do[:1].upper() + error.do[1:]
    body = f"Read: {error.read}. Expected: {error.expected}, because {error.matters}. {do}."
    return unsettled("not-worked-out", stretch, lead, body, *names)


def parts_of(
    account: Account, told: Sequence[tuple[Stretch, Worked | None]], *, alone: bool = False
) -> tuple[Part, ...]:
    """What was measured beside the flame, worked out; what rests on the rest comes last.

    A part that physics refuses is told as such and hides no other: alarms of the rest must come through. Asked alone,
    it is refused outright.
    """
    done: dict[str, Part] = {}
    for measured in sorted(account.parts, key=lambda one: one.late):
        try:
            part = measured.worked(SoFar(account, told, dict(done)))
        except (PhysicsRefused, ArithmeticError) as error:
            refused = error if isinstance(error, PhysicsRefused) else _no_number()
            if alone:
                raise refused from error
            part = _refused_part(len(done) + 1, refused)
        done[part.word] = part
    return tuple(done.values())


def _no_number() -> PhysicsRefused:
    """Figures that divide by nothing or run out of all bounds."""
    return PhysicsRefused(
        code="FW-K-010",
        read="figures that lead to no finite number",
        expected="sizes, flows and times of more than nothing, of the size that things of this kind have",
        matters="a formula divides by one of them, or they multiply beyond all bounds",
        do="look for a nought or a unit that slipped among the figures",
    )


def _believed(finding: Finding, account: Account, *, of_air: bool) -> Finding:
    """A finding as what it rests on allows: out of date or from unknown senders clears nothing, in doubt no air."""
    due, sent = account.instrument.due, {each.word for each in account.stretches if each.stream == "unknown"}
    late = due is not None and due < account.day
    if finding.grade not in ("fine", "cured"):
        return finding
    if any(word in sent for word, _ in finding.evidence):
        why = "It rests on samples that anybody could have sent: they can raise an alarm and clear nothing."
    elif finding.grade == "fine" and (late or (of_air and not _by_another_meter(finding) and doubts(account))):
        state = "out of date" if late else "in doubt"
        why = f"The instrument is {state}: it can raise an alarm and clears nothing."
    else:
        return finding
    return replace(finding, grade="open", body=f"{finding.body} {why}")


def _by_another_meter(finding: Finding) -> bool:
    """Whether it rests on a meter that somebody wears: what was tried on the analyser says nothing of that one."""
    return bool(finding.evidence) and all(name == WORN for _, name in finding.evidence)


def _refused_part(number: int, error: PhysicsRefused) -> Part:
    """A part of the job that cannot be worked out, with the reason; it stands open."""
    word = f"not worked out, {number}"
    said = f"Read: {error.read}. Expected: {error.expected}, because {error.matters}."
    do = error.do[:1].upper() + error.do[1:]
    finding = Finding(
        "not-worked-out",
        "open",
        "A part of this visit cannot be worked out.",
        f"{said} {do}.",
        ((word, "reason"),),
        PHYSICS,
    )
    return Part(
        word, "Not worked out", "proofs", (Statement((Voiced(said, "unknown"),), mark="unknown"),), {}, (finding,)
    )


def parts_judged(account: Account) -> Verdict:
    """What was measured beside the flame alone, worked out and judged: nothing is asked about a flame.

    -> verdict; PhysicsRefused when a law of nature refuses what was measured
    """
    parts = parts_of(account, (), alone=True)
    told = [fitted(finding, account) for part in parts for finding in part.findings]
    findings = judge.in_order([*together(told), *told])
    return Verdict(account, (), Judged(findings, tuple(w for part in parts for w in part.cannot_tell)), None, parts)


def flames_of(account: Account) -> tuple[tuple[Stretch, Worked | None], ...]:
    """Every stretch worked out and nothing judged; None for one that could not be, for whatever reason."""
    return tuple((stretch, _worked(account, stretch)[0]) for stretch in account.stretches)


def judged(account: Account) -> Verdict:
    """Work out and judge a visit.

    account  the visit
    -> verdict; PhysicsRefused when no stretch could be worked out and nothing in the readings is an alarm by itself
    """
    tried = [(stretch, *_worked(account, stretch)) for stretch in account.stretches]
    told = tuple((stretch, worked) for stretch, worked, _ in tried)
    errors = [(stretch, error) for stretch, _, error in tried if error is not None]
    parts = parts_of(account, told)
    found = judge.judge(account, told, frozenset(topic for part in parts for topic in part.answers))
    beside = tuple(
        _believed(finding, account, of_air=part.place == "room") for part in parts for finding in part.findings
    )
    alarm = any(finding.grade in WRONG and finding.evidence for finding in (*found.findings, *beside))
    if errors and not alarm and not parts and all(worked is None for _, worked in told):
        raise errors[0][1]
    refusals = tuple(_not_worked(stretch, error) for stretch, error in errors)
    all_told = [fitted(one, account) for one in (*found.findings, *beside, *refusals)]
    findings = judge.in_order([*together(all_told), *all_told])
    cannot_tell = (*found.cannot_tell, *(words for part in parts for words in part.cannot_tell))
    return Verdict(account, told, Judged(findings, cannot_tell), errors[0][1] if errors else None, parts)
