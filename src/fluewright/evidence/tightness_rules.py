"""A tightness test against the texts that ask for one: which speak here, whether it was their test, and how it went."""

from collections.abc import Iterator
from dataclasses import dataclass, replace

from fluewright.evidence import limits, tightness_medium
from fluewright.evidence.finding import PRACTICE, Finding, clause_of
from fluewright.evidence.gas_lines import gas_of
from fluewright.evidence.gas_words import OTHER_TEST, SHUT, TEST_AGAIN, of_gas
from fluewright.evidence.limits import EUROPEAN_UNION, Question, answered
from fluewright.evidence.reading import Account
from fluewright.evidence.result import Result
from fluewright.quantity import show
from fluewright.rules.applies import Applies
from fluewright.rules.schema import Known, Limit
from fluewright.rules.tightness_tests import TightnessTest, tests

_SURENESS: tuple[Known, ...] = ("read", "second-hand", "from memory", "common practice, no source")


@dataclass(frozen=True, slots=True)
class Tried:
    """How a test was done; Pa, s, m3, as in TightnessTest."""

    purpose: str
    pressure: float
    settled: float | None
    duration: float
    step: float
    volume: float | None
    pipes: str
    appliances: str
    dwelling: str
    meter: str
    working: float | None
    medium: str = ""


@dataclass(frozen=True, slots=True)
class Answer:
    """Findings of every text that speaks, and what keeps others from speaking."""

    findings: tuple[Finding, ...]
    cannot_tell: tuple[str, ...] = ()


def _at_home(test: TightnessTest, account: Account) -> bool:
    """Whether a text speaks at this place, on this day, of this gas."""
    code = account.jurisdiction.upper()
    country = code.split("-")[0]
    here = {"everywhere", code, country} | ({"EU"} if country in EUROPEAN_UNION else set())
    begun = test.valid_from is None or test.valid_from <= account.day
    gas = gas_of(account.fuel)
    of_gas_here = not test.gases or (gas or account.fuel.name) in test.gases or account.fuel.name in test.gases
    ended = test.valid_until is not None and account.day > test.valid_until
    return test.jurisdiction in here and begun and not ended and of_gas_here


def _either(asked: str, given: str) -> bool:
    return asked == "any" or asked == given


def _of_working_pressure(test: TightnessTest, working: float | None) -> bool:
    """Whether a text speaks of a line that works at this; one for higher pressures needs it to be known."""
    if working is None:
        return test.working_over is None
    return (test.working_over or -1.0) < working <= (test.working_to or float("inf"))


def _of_section(test: TightnessTest, tried: Tried) -> bool:
    """Whether a text speaks of this section; one bound to a volume or a meter needs that to be known."""
    if not (_either(test.pipes, tried.pipes) and _either(test.appliances, tried.appliances)):
        return False
    if (test.dwellings and tried.dwelling not in test.dwellings) or (test.meters and tried.meter not in test.meters):
        return False
    if not _of_working_pressure(test, tried.working):
        return False
    if test.volume_over is None and test.volume_to is None:
        return True
    if tried.volume is None:
        return False
    return test.of_volume(tried.volume)


def speaking(tried: Tried, account: Account) -> tuple[TightnessTest, ...]:
    """The texts that speak of this test."""
    return tuple(
        test
        for test in tests()
        if test.purpose == tried.purpose and _at_home(test, account) and _of_section(test, tried)
    )


def _unmet(test: TightnessTest, tried: Tried, account: Account) -> Iterator[str]:
    """What keeps this from having been the test of the text."""

    def said(value: float, quantity: str) -> str:
        return show.shown(value, quantity=quantity, system=account.system)

    if not tried.medium:
        yield f"nobody wrote down what was in the pipe, where {test.medium} is asked"
    elif not tightness_medium.fits(tried.medium, test.medium):
        yield f"tested with {tried.medium} where {test.medium} is asked"
    slack = 0.5 * tried.step
    least, most = test.pressure_least(tried.working), test.pressure_to
    if least is not None and tried.pressure < least - slack:
        yield f"{said(tried.pressure, 'test_pressure')} where at least {said(least, 'test_pressure')} is asked"
    if most is not None and tried.pressure > most + slack:
        yield f"{said(tried.pressure, 'test_pressure')} where at most {said(most, 'test_pressure')} is asked"
    if test.times_working and tried.working is None:
        yield "nobody typed the working pressure that the test pressure goes by"
    asked = test.duration_for(tried.volume)
    if tried.duration < asked - 1.0:
        times = [said(each, "minutes_since_lit") for each in (tried.duration, asked)]
        yield f"{times[0]} where {times[1]} are asked"
    if test.duration_volume is not None and tried.volume is None:
        yield "nobody knows the volume that the time goes by"
    if test.settle and (tried.settled is None or tried.settled < test.settle - 1.0):
        yield f"not left to settle for {said(test.settle, 'minutes_since_lit')} before, or nobody wrote it down"
    if test.gauge_step is not None and tried.step > 1.01 * test.gauge_step:
        yield f"a gauge that shows {said(test.gauge_step, 'pressure_fall')} is asked"


def _limit(test: TightnessTest, quantity: str) -> Limit:
    """What the gauge may do, in the form of a limit."""
    known = max(test.known, test.times_known, key=_SURENESS.index)  # the less sure of the two
    return Limit(
        id=test.id,
        layer=test.layer,
        jurisdiction=test.jurisdiction,
        quantity=quantity,
        basis="gauge",
        sense="at most",
        limit=max(test.fall, test.perceptible),
        unit="Pa",
        applies=Applies(only=test.only),
        place="section under test",
        state="settled",
        averaging="none",
        rounding="none",
        decision="plus uncertainty",
        citation=test.citation,
        known=known,
        current=test.current,
        valid_from=test.valid_from,
        valid_until=test.valid_until,
        text=test.text,
        severity=test.severity,
    )


def judged(tried: Tried, left: Result, raw: Result | None, *, account: Account, word: str, key: str) -> Answer:
    """One test against every text that speaks of it.

    tried  how it was done
    left   the movement that temperature and barometer leave, with all its doubt
    raw    the movement as the gauge showed it, None where that is the same
    word, key  where the result stands
    -> findings, one for each text; what could not be judged
    """
    found = [_by_text(test, tried, left, raw, account=account, word=word, key=key) for test in speaking(tried, account)]
    return Answer(tuple(one for one in found if one is not None), tuple(_silent(tried, account)))


def _silent(tried: Tried, account: Account) -> Iterator[str]:
    """Why a text of this place does not speak although it might."""
    if not account.jurisdiction:
        yield f"What the law says of this {tried.purpose} test: no country was named."
        return
    if speaking(tried, account):
        return
    near = [test for test in tests() if test.purpose == tried.purpose and _at_home(test, account)]
    if not near:
        yield f"What the rules of {account.jurisdiction} say of this {tried.purpose} test: none of them is on file."
        return
    wanted = []
    if any(test.volume_to is not None or test.volume_over is not None for test in near):
        wanted.append("the room in the pipes")
    wanted += ["the meter in the section"] if any(test.meters for test in near) else []
    wanted += ["the working pressure"] if any(test.working_over is not None for test in near) else []
    wanted += ["the kind of building"] if any(test.dwellings for test in near) else []
    hang = ", ".join(["whether the pipes are new", "whether appliances are connected", *wanted])
    yield (
        f"What the rules of {account.jurisdiction} say of this {tried.purpose} test: none on file fits what was typed. "
        f"They hang on {hang}."
    )


def _by_text(
    test: TightnessTest, tried: Tried, left: Result, raw: Result | None, *, account: Account, word: str, key: str
) -> Finding | None:
    """One test against one text."""
    unmet = tuple(_unmet(test, tried, account))
    why = f"This was not quite the test of the text ({'; '.join(unmet)}), so its readings stand under doubt"
    words = "rise of the gauge" if tried.purpose == "let-by" else "fall of the gauge, put right for temperature and air"
    rule = _limit(test, left.name)
    asked = Question(rule, left, word, account, why if unmet else "", key=key, words=f"{words} ({test.words})")
    found = answered(asked, over=test.severity)
    if found is None:
        return None
    if found.grade == "open" and unmet and "stand under doubt" not in found.body:
        found = replace(found, body=f"{found.body} {why}.")
    if found.grade == "open" and (found.do_next or unmet):
        found = replace(found, do_next=OTHER_TEST if unmet else TEST_AGAIN)
    if raw is None or found.grade not in ("open", "fine"):
        return of_gas(found, do=SHUT)
    return _on_the_gauge(test, found, raw, account)


def _on_the_gauge(test: TightnessTest, found: Finding, raw: Result, account: Account) -> Finding:
    """A text looks at the gauge alone: a fall that physics explains is no pass, and no leak."""
    allowed = max(test.fall, test.perceptible)
    if raw.value is None or raw.value <= allowed + 2.0 * raw.spread:
        return found
    return replace(
        found,
        grade="open",
        lead=f"{found.lead.split(':')[0]}: the gauge fell too far, and temperature and air account for it.",
        body=f"{found.body} The text looks at the gauge alone, which fell by {limits.seen(raw, account)}: the test is "
        "not passed, and it shows no leak either.",
        do_next=TEST_AGAIN,
    )


def meter_judged(
    leak: Result, *, turn: float, watched: float, visible: float, account: Account, word: str
) -> list[Finding]:
    """A meter watched with everything shut.

    leak     by the meter
    turn     m3 of the dial
    watched  s
    visible  m3/s below which no dial would have shown it
    -> one finding
    """
    if leak.value is None:
        return []
    spoken = [test for test in tests() if test.purpose == "meter" and _at_home(test, account)]
    fitting = [test for test in spoken if test.dial_to is not None and turn <= 1.01 * test.dial_to]
    test = min(fitting, key=lambda one: one.dial_to or 0.0) if fitting else None
    clause = replace(clause_of(test), clause="") if test is not None else PRACTICE
    code = test.id if test is not None else "meter-creep"
    evidence = ((word, "leak_rate_creep"),)
    seen = limits.seen(leak, account)
    if leak.value > 2.0 * leak.spread:
        lead = "The meter counts although everything is shut."
        body = f"That is {seen}. Either something is on that nobody thought of, a pilot above all, or gas escapes."
        return [of_gas(Finding(code, "act", lead, body, evidence, clause), do=SHUT)]
    figure = show.number(visible, 0.05 * visible, quantity="leak_rate_creep", system=account.system)
    least = f"{figure} {show.unit_of('leak_rate_creep', account.system)}"
    short = test is not None and watched < test.duration - 1.0
    asked = f" {test.text} Asked: {show.shown(test.duration, quantity='minutes_since_lit', system=account.system)}." \
        if test is not None else ""  # fmt: skip
    return [
        Finding(
            code,
            "open",
            "The meter stood still, which cannot clear small leaks.",
            f"A leak below {least} would not have moved the dial far enough to see.{asked}"
            + (" It was watched for less." if short else ""),
            evidence,
            clause,
            do_next=("watch the dial for longer, or test with a gauge",),
        )
    ]
