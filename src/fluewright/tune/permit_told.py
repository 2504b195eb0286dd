"""A permit run as sentences: fitness first, then checks and runs, then whether it stands and what the permit says."""

from collections.abc import Iterator
from dataclasses import dataclass

from fluewright.evidence.finding import PHYSICS, Clause, Finding
from fluewright.evidence.limits import HARDLY, in_words
from fluewright.evidence.limits import seen as seen_as
from fluewright.evidence.oil_noted import Noted
from fluewright.evidence.origins import spread_of
from fluewright.evidence.part import Derived, Part, Seen, SoFar, Voiced, in_pieces
from fluewright.evidence.reading import Reading
from fluewright.evidence.reckon import Reckoning
from fluewright.evidence.result import Result, Working
from fluewright.quantity import names, parse, show
from fluewright.rules.apply import Verdict
from fluewright.rules.schema import Decision, Rounding
from fluewright.tune import permit
from fluewright.tune.permit import Condition, GasCheck, Outcome, Run
from fluewright.words import marked, number, say, say_count, spoken

WORD = "permit run"
NEW_SOURCE = Clause(
    "New Mexico Environment Department, SOP for portable analyzers in performance tests",
    "opening",
    "v1.6, 25 Apr 1997",
    "US-NM",
    "read",
    "programme",
)
"""Excludes federal new-source tests; read in its opening."""


@dataclass(frozen=True, slots=True)
class CheckTyped:
    """One check with gas as typed; minute of the day, seconds to answer."""

    gas: Reading
    read: Reading
    minute: float | None = None
    response: float | None = None


@dataclass(frozen=True, slots=True)
class RunTyped:
    """One run as typed: means and its times in minutes of the day."""

    mean: Reading
    oxygen: Reading | None = None
    start: float | None = None
    end: float | None = None


@dataclass(frozen=True, slots=True)
class PermitGiven:
    """A permit run.

    quantity     registry name of the gas
    limit        as the permit states it
    document, clause, edition, initials   of the permit, and who read it; with all four it counts as read
    drift, error of a check, response     what the permit allows
    conditioning how the sample was dried, in words
    new_source   whether it is a federal new-source test
    """

    quantity: str
    limit: Reading
    before: tuple[CheckTyped, ...] = ()
    after: tuple[CheckTyped, ...] = ()
    runs: tuple[RunTyped, ...] = ()
    decision: Decision = "none"
    rounding: Rounding = "none"
    reference: Reading | None = None
    wanted: int = 1
    drift: Reading | None = None
    error: Reading | None = None
    response: float | None = None
    document: str = ""
    clause: str = ""
    edition: str = ""
    initials: str = ""
    conditioning: str = ""
    new_source: bool = False

    @property
    def late(self) -> bool:
        """It stands behind curve, margin and turn, which it may well come after."""
        return True

    @property
    def condition(self) -> Condition:
        """What the permit asks, as the reckoning takes it."""

        def figure(reading: Reading | None) -> float | None:
            return None if reading is None else reading.figure

        return Condition(
            self.limit.figure or 0.0, self.decision, figure(self.reference), self.wanted, figure(self.drift),
            self.response, figure(self.error), self.rounding,
        )  # fmt: skip

    def authority(self, jurisdiction: str) -> Clause:
        """The permit as an authority; read text only with document, clause, edition and initials."""
        read = all((self.document, self.clause, self.edition, self.initials))
        document = self.document or say("permit, not named")
        known = "read" if read else "from memory"
        return Clause(document, self.clause, self.edition, jurisdiction or "of the permit", known, "law")  # type: ignore[arg-type]

    def worked(self, so_far: SoFar) -> Part:
        """The run as sentences."""
        noted = Noted(WORD, so_far, Reckoning(so_far.account))
        found = self._outcome(noted)
        _fitness_told(noted, self)
        _checks_told(noted, self)
        _runs_told(noted, self, found)
        noted.findings += _findings(noted, self, found)
        if not self.conditioning:
            noted.cannot_tell.append(say("How the sample was dried and kept warm: nobody wrote it."))
        data = {
            "standing": found.standing,
            "reasons": list(found.reasons),
            "drift": found.drift,
            "fit": _fit(noted, self),
        }
        return Part(
            WORD, say("Adjusting: the permit run"), "adjusting", tuple(noted.statements), noted.results,
            tuple(noted.findings), tuple(noted.cannot_tell), data=data,
        )  # fmt: skip

    def _outcome(self, noted: Noted) -> Outcome:
        means = [run.mean.figure for run in self.runs if run.mean.figure is not None]
        near = max(means, default=self.limit.figure or 0.0)
        oxygen = [run.oxygen for run in self.runs if run.oxygen is not None]
        instrument = noted.account.instrument
        return permit.outcome(
            self.condition,
            before=_checks(self.before),
            after=_checks(self.after),
            runs=[
                Run(run.mean.figure, None if run.oxygen is None else run.oxygen.figure, run.start, run.end)
                for run in self.runs
                if run.mean.figure is not None and not run.mean.bound
            ],
            spread=_spread_at(noted, self.quantity, near),
            oxygen_spread=max((max(spread_of(one, instrument)) for one in oxygen), default=0.0),
        )


def _checks(typed: tuple[CheckTyped, ...]) -> list[GasCheck]:
    return [
        GasCheck(one.gas.figure, one.read.figure, one.minute, one.response)
        for one in typed
        if one.gas.figure is not None and one.read.figure is not None
    ]


def _spread_at(noted: Noted, quantity: str, value: float) -> float:
    """Standard uncertainty of the instrument at a value."""
    text = f"{value * 1e6:.6g} ppm"
    return max(spread_of(Reading(quantity, parse.parse(text, quantity=quantity)), noted.account.instrument))


def _fit(noted: Noted, given: PermitGiven) -> bool:
    limit = given.limit.figure or 0.0
    return permit.can_decide(limit=limit, spread=_spread_at(noted, given.quantity, limit))


def _fitness_told(noted: Noted, given: PermitGiven) -> None:
    gas, limit = spoken(names.of(given.quantity).words), given.limit.typed.text
    if given.reference is not None:
        limit = say("{limit} at {reference} oxygen", limit=limit, reference=given.reference.typed.text)
    asked = in_pieces("the permit asks for {gas} of at most {limit}.", gas=gas, limit=Voiced(limit, "plate"))
    noted.say(*asked, mark="plate")
    spread = _spread_at(noted, given.quantity, given.limit.figure or 0.0)
    doubt = f"± {show.shown(2.0 * spread, quantity=given.quantity)}"
    can = say("at that figure the instrument reads within {doubt}, so it can decide it.", doubt=doubt)
    cannot = say("at that figure the instrument reads within {doubt}, so it cannot decide it.", doubt=doubt)
    noted.say(can if _fit(noted, given) else cannot, mark="derived")


_CHECKED = {
    "before": marked("check before the runs: {gas} was read as {read}."),
    "after": marked("check after the runs: {gas} was read as {read}."),
}
_ANSWERED = {
    "before": marked("check before the runs: {gas} was read as {read}, answering in {seconds} s."),
    "after": marked("check after the runs: {gas} was read as {read}, answering in {seconds} s."),
}


def _checks_told(noted: Noted, given: PermitGiven) -> None:
    for when, checks in (("before", given.before), ("after", given.after)):
        for i, check in enumerate(checks, 1):
            gas, read = Voiced(check.gas.typed.text, "plate"), Seen(f"read_{when}_{i}", check.read)
            if check.response is None:
                noted.say(*in_pieces(_CHECKED[when], gas=gas, read=read))
            else:
                seconds = number(check.response, ".0f")
                noted.say(*in_pieces(_ANSWERED[when], gas=gas, read=read, seconds=seconds))
    if given.conditioning:
        noted.say(say("sample: {drying}.", drying=given.conditioning))


def _runs_told(noted: Noted, given: PermitGiven, found: Outcome) -> None:
    for i, run in enumerate(given.runs, 1):
        mean, nth = Seen(f"run_{i}", run.mean), str(i)
        if run.oxygen is None:
            noted.say(*in_pieces("run {nth}: {mean}.", nth=nth, mean=mean))
        else:
            oxygen = Seen(f"oxygen_run_{i}", run.oxygen)
            noted.say(*in_pieces("run {nth}: {mean} at oxygen {oxygen}.", nth=nth, mean=mean, oxygen=oxygen))
    if found.mean is None:
        return
    each = ", ".join(number(one * 1e6, ".4g") for one in found.means)
    holds = say("what the checks were off is taken out along a straight line")
    if given.reference is not None:
        holds = say("what the checks were off is taken out along a straight line, then carried to the reference oxygen")
    source = say("docs/method/adjusting.md; Method 7E, from memory")
    working = Working(say("mean of the runs"), f"({each}) ppm", (), source, holds)
    noted.keep("mean", Result(given.quantity, found.mean, found.spread, found.spread, working))
    runs = say_count("{count} run", "{count} runs", len(found.means))
    if given.reference is None:
        mean_of = in_pieces("mean of {runs}: {mean}.", runs=runs, mean=Derived("mean"))
    else:
        at = given.reference.typed.text
        mean_of = in_pieces("mean of {runs} at {at} oxygen: {mean}.", runs=runs, at=at, mean=Derived("mean"))
    noted.say(*mean_of, mark="derived")


def _findings(noted: Noted, given: PermitGiven, found: Outcome) -> Iterator[Finding]:
    authority = given.authority(noted.account.jurisdiction)
    seen = ((WORD, "mean"),) if "mean" in noted.results else ()
    if not _fit(noted, given):
        yield Finding(
            "instrument-cannot-decide", "open", say("This instrument cannot decide this limit."),
            say(
                "Its own doubt at the limit takes more than half of it: whatever it shows, the truth may lie on either "
                "side. That is known before the run."
            ),
            seen, PHYSICS, do_next=(say("use an instrument that reads closer in this range"),),
        )  # fmt: skip
    if given.new_source:
        yield Finding(
            "not-for-new-source", "open", say("A portable instrument is not for this test."),
            say(
                "It is told to be a federal new-source test, and the procedure read excludes those: the reference "
                "method of that rule decides."
            ),
            seen, NEW_SOURCE, do_next=(say("have it tested by the method that the rule names"),),
        )  # fmt: skip
    if found.standing != "stands":
        yield _no_standing(found, seen, authority)
    elif _fit(noted, given) and not given.new_source and found.verdict is not None:
        said = seen_as(noted.results["mean"], noted.account)
        yield _verdict(given, found.verdict, authority, said)


def _no_standing(found: Outcome, seen: tuple[tuple[str, str], ...], authority: Clause) -> Finding:
    """Runs that are void, or that show and prove nothing."""
    reasons = "; ".join(map(spoken, found.reasons))
    body = f"{reasons[:1].upper()}{reasons[1:]}."
    if found.standing == "void":
        do = say("make the runs again between two checks")
        return Finding("permit-run-void", "open", say("The runs are void."), body, seen, authority, do_next=(do,))
    lead = say("The runs have no standing: they show, and prove nothing.")
    do = say("bring what is missing, or make the runs again")
    return Finding("permit-run-no-standing", "open", lead, body, seen, authority, do_next=(do,))


def _verdict(given: PermitGiven, verdict: Verdict, authority: Clause, said: str) -> Finding:
    """What the permit says of runs that stand."""
    limit = given.limit.typed.text
    body = say(
        "{said} against at most {limit}. {how} Beyond it: {odds}.",
        said=said, limit=limit, how=spoken(permit.DECISIONS[given.decision]), odds=in_words(verdict.odds),
    )  # fmt: skip
    told = (((WORD, "mean"),), authority)
    gas, edge = spoken(names.of(given.quantity).words), say("at most {limit}", limit=limit)
    gas = f"{gas[:1].upper()}{gas[1:]}"
    if verdict.passes == "beyond":
        lead = say("{gas} of the runs is over the permit.", gas=gas)
        do = (say("tell the owner, who answers to the permit"), say("find why, mend it, make the runs again"))
        return Finding("permit-exceeded", "advise", lead, body, *told, verdict.odds, edge, do_next=do)
    if verdict.passes == "undecided":
        lead, more = (
            say("{gas} of the runs: too close to call.", gas=gas),
            say("make more runs, or read with a closer instrument"),
        )
        return Finding("permit-undecided", "open", lead, body, *told, verdict.odds, edge, do_next=(more,))
    return _inside(given, verdict, authority, (gas, body, edge))


def _inside(given: PermitGiven, verdict: Verdict, authority: Clause, words: tuple[str, str, str]) -> Finding:
    """Runs inside the permit: kept, or too close, or told by nobody who read it."""
    (gas, body, edge), seen = words, ((WORD, "mean"),)
    if not authority.clears:
        why = say("Nobody has said where that permit says so, with page and initials: it can warn and not clear.")
        lead = say("{gas} of the runs is inside, but this cannot clear it.", gas=gas)
        code, body = "permit-inside-not-read", f"{body} {why}"
    elif given.decision == "none" and verdict.odds >= HARDLY:
        lead = say("{gas} of the runs is inside by the bare result, but too close to be sure.", gas=gas)
        code = "permit-inside-close"
    else:
        lead = say("{gas} of the runs is inside the permit.", gas=gas)
        return Finding("permit-kept", "fine", lead, body, seen, authority, verdict.odds, edge)
    return Finding(code, "open", lead, body, seen, authority, verdict.odds, edge)
