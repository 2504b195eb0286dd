"""A permit run between two checks of its instrument: whether it stands, what it comes to, how the permit decides.

A run counts only where the instrument was checked with gas before and after it, answered in time and did not drift
beyond what the permit allows. Whether the instrument can decide the limit at all is said before the run.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from statistics import fmean, stdev
from typing import Literal

from fluewright.errors import PhysicsRefused
from fluewright.kernel import dilution
from fluewright.rules import adjusting_figures as trade
from fluewright.rules import apply
from fluewright.rules.schema import Decision, Rounding
from fluewright.words import marked, number, say

Standing = Literal["stands", "no standing", "void"]
AIR_OXYGEN = 0.209
"""Oxygen of air in the correction to a reference (40 CFR 60 appendix A Method 20, from memory)."""


@dataclass(frozen=True, slots=True)
class Condition:
    """What the permit asks, mol/mol.

    limit            of the gas, at the reference oxygen where one is named
    decision         what the permit does with the uncertainty
    reference        oxygen that the limit is referred to, None for as read
    runs             how many runs its average is of
    drift            most that a check may have moved between before and after, None where nobody wrote it
    response         s within which the instrument has to answer, None where nobody wrote it
    error            most that a check may be off its gas, None where nobody wrote it
    """

    limit: float
    decision: Decision = "none"
    reference: float | None = None
    runs: int = 1
    drift: float | None = None
    response: float | None = None
    error: float | None = None
    rounding: Rounding = "none"


@dataclass(frozen=True, slots=True)
class GasCheck:
    """One check with a gas of known content.

    gas       mol/mol as certified; nothing for zero gas
    read      mol/mol as the instrument showed it
    minute    of the day, None when nobody wrote it
    response  s to answer, None when nobody timed it
    """

    gas: float
    read: float
    minute: float | None = None
    response: float | None = None

    @property
    def off(self) -> float:
        """What it reads above the gas."""
        return self.read - self.gas


@dataclass(frozen=True, slots=True)
class Run:
    """One run: means over its time, mol/mol, minutes of the day."""

    mean: float
    oxygen: float | None = None
    start: float | None = None
    end: float | None = None


@dataclass(frozen=True, slots=True)
class Outcome:
    """What a permit run comes to.

    standing  whether it counts
    reasons   why not, in sentences
    drift     largest movement of a check, mol/mol, None without a pair
    means     of each run as the permit counts it, mol/mol
    mean      of the runs
    spread    standard uncertainty of that mean
    verdict   by the decision rule, None where it has no standing or nothing to judge
    """

    standing: Standing
    reasons: tuple[str, ...]
    drift: float | None
    means: tuple[float, ...]
    mean: float | None
    spread: float
    verdict: apply.Verdict | None


def can_decide(*, limit: float, spread: float) -> bool:
    """Whether an instrument can decide a limit: its expanded uncertainty there takes no more than half of it.

    limit   mol/mol
    spread  standard uncertainty of a reading at the limit, mol/mol
    """
    return apply.COVERAGE * spread <= trade.practice("fit-to-decide") * limit


def _pairs(before: Sequence[GasCheck], after: Sequence[GasCheck]) -> Iterator[tuple[GasCheck, GasCheck]]:
    """Checks with the same gas before and after."""
    for one in before:
        same = [other for other in after if abs(other.gas - one.gas) <= 0.02 * max(one.gas, 1e-6)]
        if same:
            yield one, same[0]


def _not_bracketed(before: Sequence[GasCheck], after: Sequence[GasCheck], runs: Sequence[Run]) -> Iterator[str]:
    """Why the checks do not stand on both sides of the runs."""
    if not before:
        yield "no check with gas before the runs"
    if not after:
        yield "no check with gas after the runs"
    if before and after and not any(one.gas > 0.0 for one, _ in _pairs(before, after)):
        yield "no gas was read both before and after, zero gas aside"
    starts = [run.start for run in runs if run.start is not None]
    ends = [run.end for run in runs if run.end is not None]
    timed = all(one.minute is not None for one in (*before, *after))
    if not timed or len(starts) < len(runs) or len(ends) < len(runs):
        yield say("the times of checks and runs are not all written")
    late = [one.minute for one in before if one.minute is not None and starts and one.minute > min(starts)]
    early = [one.minute for one in after if one.minute is not None and ends and one.minute < max(ends)]
    if late:
        yield say("a check that should come before was made after the first run began")
    if early:
        yield say("a check that should come after was made before the last run had ended")


def _broken(asked: Condition, before: Sequence[GasCheck], after: Sequence[GasCheck]) -> Iterator[str]:
    """What voids the runs between the checks."""
    for one, other in _pairs(before, after):
        moved = abs(other.read - one.read)
        if asked.drift is not None and moved > asked.drift + 1e-12:
            yield say(
                "the check with {gas} ppm moved by {moved} ppm, {allowed} allowed",
                gas=number(one.gas * 1e6, "g"), moved=number(moved * 1e6, ".1f"),
                allowed=number(asked.drift * 1e6, "g"),
            )  # fmt: skip
    for check in (*before, *after):
        if asked.error is not None and abs(check.off) > asked.error + 1e-12:
            yield say(
                "{gas} ppm was read as {read}, {off} ppm off allowed",
                gas=number(check.gas * 1e6, "g"), read=number(check.read * 1e6, "g"),
                off=number(asked.error * 1e6, "g"),
            )  # fmt: skip
        if asked.response is not None and check.response is not None and check.response > asked.response:
            took, allowed = number(check.response, ".0f"), number(asked.response, ".0f")
            yield say("it answered in {took} s, {allowed} s allowed", took=took, allowed=allowed)


def _unsaid(
    asked: Condition, before: Sequence[GasCheck], after: Sequence[GasCheck], runs: Sequence[Run]
) -> Iterator[str]:
    """What is missing before a run can count."""
    if asked.drift is None:
        yield say("nobody wrote how far a check may drift by this permit")
    if asked.response is not None and all(check.response is None for check in (*before, *after)):
        yield say("nobody timed how fast it answers, and the permit asks for it")
    if len(runs) < asked.runs:
        yield say("{made} of {wanted} runs", made=len(runs), wanted=asked.runs)
    if asked.reference is not None and any(run.oxygen is None for run in runs):
        yield say("a run without oxygen, and the limit counts at a reference oxygen")


def corrected(mean: float, *, before: Sequence[GasCheck], after: Sequence[GasCheck]) -> float:
    """A mean with what the checks were off taken out: a straight line through zero gas and the gas, of both times.

    mean           mol/mol as read
    before, after  checks; without zero gas the zero counts as true
    -> mol/mol; the mean itself where no gas was read both times
    """
    pairs = list(_pairs(before, after))
    spans = [(one.gas, (one.read + other.read) / 2.0) for one, other in pairs if one.gas > 0.0]
    zeros = [(one.read + other.read) / 2.0 for one, other in pairs if one.gas == 0.0]
    if not spans:
        return mean
    gas, read = max(spans)
    zero = zeros[0] if zeros else 0.0
    if abs(read - zero) < 0.2 * gas:
        raise PhysicsRefused(
            code="FW-K-124", read=f"{gas * 1e6:g} ppm read as {read * 1e6:g}, and zero gas as {zero * 1e6:g}",
            expected="a cell that answers to its gas", matters="what is divided by so small an answer means nothing",
            do="mend or replace the cell, and make the runs again",
        )  # fmt: skip
    return (mean - zero) * gas / (read - zero)


def _referred(value: float, oxygen: float | None, asked: Condition) -> float:
    """A mean at the reference oxygen of the permit, where it names one."""
    if asked.reference is None or oxygen is None:
        return value
    referred = dilution.at_reference_oxygen(
        fraction=value,
        oxygen_dry_fraction=oxygen,
        reference_oxygen_fraction=asked.reference,
        air_oxygen_fraction=AIR_OXYGEN,
    )
    return float(referred)


def outcome(
    asked: Condition,
    *,
    before: Sequence[GasCheck],
    after: Sequence[GasCheck],
    runs: Sequence[Run],
    spread: float,
    oxygen_spread: float = 0.0,
) -> Outcome:
    """What the runs come to.

    asked   what the permit asks
    before, after  checks
    runs    in order
    spread  standard uncertainty of one reading near the mean, mol/mol
    oxygen_spread  the same of oxygen, mol/mol
    -> outcome; without standing it carries no verdict
    """
    open_ = [*_not_bracketed(before, after, runs), *_unsaid(asked, before, after, runs)]
    broken = list(_broken(asked, before, after))
    standing: Standing = "void" if broken else "no standing" if open_ else "stands"
    pairs = list(_pairs(before, after))
    drift = max((abs(other.read - one.read) for one, other in pairs), default=None)
    whole = [run for run in runs if asked.reference is None or run.oxygen is not None]
    means = tuple(_referred(corrected(run.mean, before=before, after=after), run.oxygen, asked) for run in whole)
    mean = fmean(means) if means else None
    times = means[0] / whole[0].mean if means and whole[0].mean > 0.0 else 1.0
    scatter = stdev(means) / len(means) ** 0.5 if len(means) > 1 else 0.0
    thin = max((run.oxygen or 0.0 for run in whole), default=0.0) if asked.reference is not None else 0.0
    by_oxygen = 0.0 if asked.reference is None else (mean or 0.0) * oxygen_spread / max(AIR_OXYGEN - thin, 0.01)
    doubt = ((times * spread) ** 2 + scatter**2 + by_oxygen**2) ** 0.5
    verdict = None
    if standing == "stands" and mean is not None:
        verdict = apply.verdict(
            value=mean * 1e6, spread=doubt * 1e6, limit=asked.limit * 1e6, decision=asked.decision,
            rounding=asked.rounding,
        )  # fmt: skip
    return Outcome(standing, (*broken, *open_), drift, means, mean, doubt, verdict)


DECISIONS: Mapping[Decision, str] = {
    "none": marked("The permit compares the bare result."),
    "minus uncertainty": marked("The permit deducts the uncertainty: the owner has the benefit of the doubt."),
    "plus uncertainty": marked("The permit adds the uncertainty, for safety."),
}
