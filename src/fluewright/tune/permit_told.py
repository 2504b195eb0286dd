"""A permit run as sentences: fitness first, then checks and runs, then whether it stands and what the permit says."""

from collections.abc import Iterator
from dataclasses import dataclass

from fluewright.evidence.finding import PHYSICS, Clause, Finding
from fluewright.evidence.limits import HARDLY, in_words
from fluewright.evidence.limits import seen as seen_as
from fluewright.evidence.oil_noted import Noted
from fluewright.evidence.origins import spread_of
from fluewright.evidence.part import Derived, Part, Seen, SoFar, Voiced
from fluewright.evidence.reading import Reading
from fluewright.evidence.reckon import Reckoning
from fluewright.evidence.result import Result, Working
from fluewright.quantity import names, parse, show
from fluewright.rules.apply import Verdict
from fluewright.rules.schema import Decision, Rounding
from fluewright.tune import permit
from fluewright.tune.permit import Condition, GasCheck, Outcome, Run

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
        document = self.document or "permit, not named"
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
            noted.cannot_tell.append("How the sample was dried and kept warm: nobody wrote it.")
        data = {
            "standing": found.standing,
            "reasons": list(found.reasons),
            "drift": found.drift,
            "fit": _fit(noted, self),
        }
        return Part(
            WORD, "Adjusting: the permit run", "adjusting", tuple(noted.statements), noted.results,
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
    words = names.of(given.quantity).words
    at = "" if given.reference is None else f" at {given.reference.typed.text} oxygen"
    noted.say(
        f"the permit asks for {words} of at most ", Voiced(f"{given.limit.typed.text}{at}", "plate"), ".", mark="plate"
    )
    spread = _spread_at(noted, given.quantity, given.limit.figure or 0.0)
    doubt = f"± {show.shown(2.0 * spread, quantity=given.quantity)}"
    can = "can decide it" if _fit(noted, given) else "cannot decide it"
    noted.say(f"at that figure the instrument reads within {doubt}, so it {can}.", mark="derived")


def _checks_told(noted: Noted, given: PermitGiven) -> None:
    for when, checks in (("before", given.before), ("after", given.after)):
        for i, check in enumerate(checks, 1):
            took = "" if check.response is None else f", answering in {check.response:.0f} s"
            gas, read = Voiced(check.gas.typed.text, "plate"), Seen(f"read_{when}_{i}", check.read)
            noted.say(f"check {when} the runs: ", gas, " was read as ", read, f"{took}.")
    if given.conditioning:
        noted.say(f"sample: {given.conditioning}.")


def _runs_told(noted: Noted, given: PermitGiven, found: Outcome) -> None:
    for i, run in enumerate(given.runs, 1):
        oxygen = () if run.oxygen is None else (" at oxygen ", Seen(f"oxygen_run_{i}", run.oxygen))
        noted.say(f"run {i}: ", Seen(f"run_{i}", run.mean), *oxygen, ".")
    if found.mean is None:
        return
    at = "" if given.reference is None else f" at {given.reference.typed.text} oxygen"
    each = ", ".join(f"{one * 1e6:.4g}" for one in found.means)
    holds = "what the checks were off is taken out along a straight line" + (
        ", then carried to the reference oxygen" if given.reference is not None else ""
    )
    working = Working(
        "mean of the runs", f"({each}) ppm", (), "docs/method/adjusting.md; Method 7E, from memory", holds
    )
    noted.keep("mean", Result(given.quantity, found.mean, found.spread, found.spread, working))
    runs = f"{len(found.means)} run{'' if len(found.means) == 1 else 's'}"
    noted.say(f"mean of {runs}{at}: ", Derived("mean"), ".", mark="derived")


def _findings(noted: Noted, given: PermitGiven, found: Outcome) -> Iterator[Finding]:
    authority = given.authority(noted.account.jurisdiction)
    seen = ((WORD, "mean"),) if "mean" in noted.results else ()
    if not _fit(noted, given):
        yield Finding(
            "instrument-cannot-decide", "open", "This instrument cannot decide this limit.",
            "Its own doubt at the limit takes more than half of it: whatever it shows, the truth may lie on either "
            "side. That is known before the run.",
            seen, PHYSICS, do_next=("use an instrument that reads closer in this range",),
        )  # fmt: skip
    if given.new_source:
        yield Finding(
            "not-for-new-source", "open", "A portable instrument is not for this test.",
            "It is told to be a federal new-source test, and the procedure read excludes those: the reference method "
            "of that rule decides.",
            seen, NEW_SOURCE, do_next=("have it tested by the method that the rule names",),
        )  # fmt: skip
    reasons = "; ".join(found.reasons)
    if found.standing != "stands":
        void = found.standing == "void"
        lead = "The runs are void." if void else "The runs have no standing: they show, and prove nothing."
        again = "make the runs again between two checks" if void else "bring what is missing, or make the runs again"
        yield Finding(
            "permit-run-void" if void else "permit-run-no-standing", "open", lead,
            f"{reasons[:1].upper()}{reasons[1:]}.", seen, authority, do_next=(again,),
        )  # fmt: skip
        return
    if _fit(noted, given) and not given.new_source and found.verdict is not None:
        said = seen_as(noted.results["mean"], noted.account)
        yield _verdict(given, found.verdict, authority, said)


def _verdict(given: PermitGiven, verdict: Verdict, authority: Clause, said: str) -> Finding:
    """What the permit says of runs that stand."""
    how = permit.DECISIONS[given.decision]
    body = f"{said} against at most {given.limit.typed.text}. {how} Beyond it: {in_words(verdict.odds)}."
    told = (((WORD, "mean"),), authority)
    head = f"{names.of(given.quantity).words.capitalize()} of the runs"
    edge = f"at most {given.limit.typed.text}"
    if verdict.passes == "beyond":
        do: tuple[str, ...] = ("tell the owner, who answers to the permit", "find why, mend it, make the runs again")
        return Finding(
            "permit-exceeded", "advise", f"{head} is over the permit.", body, *told, verdict.odds, edge, do_next=do
        )
    if verdict.passes == "undecided":
        do = ("make more runs, or read with a closer instrument",)
        return Finding(
            "permit-undecided", "open", f"{head}: too close to call.", body, *told, verdict.odds, edge, do_next=do
        )
    if not authority.clears:
        why = " Nobody has said where that permit says so, with page and initials: it can warn and not clear."
        lead = f"{head} is inside, but this cannot clear it."
        return Finding("permit-inside-not-read", "open", lead, body + why, *told, verdict.odds, edge)
    if given.decision == "none" and verdict.odds >= HARDLY:
        lead = f"{head} is inside by the bare result, but too close to be sure."
        return Finding("permit-inside-close", "open", lead, body, *told, verdict.odds, edge)
    return Finding("permit-kept", "fine", f"{head} is inside the permit.", body, *told, verdict.odds, edge)
