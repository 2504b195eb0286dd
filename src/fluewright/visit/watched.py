"""The traces of a visit watched row by row: what changed when, and which kinds of steady a kept stretch had.

Steps and events of the visit are what changes are held against. All of it is remembered by what lies in the file, so
that a sheet that is looked at many times watches each trace once.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache

from fluewright.evidence.happened import Happened, changes_of
from fluewright.evidence.limits import rules_for
from fluewright.evidence.reading import Account, Instrument, Stretch, TraceFile
from fluewright.evidence.trace import readings
from fluewright.evidence.trace.times import Form
from fluewright.evidence.trace.trace import Trace
from fluewright.live.event import Event
from fluewright.live.marks import Mark
from fluewright.live.on_trace import on_trace
from fluewright.live.recorded import Seen, watched
from fluewright.live.ruled import as_the_rule_says, averaging_seconds
from fluewright.live.steady import Standing
from fluewright.quantity import show
from fluewright.rules.schema import NOT_SAID, Limit
from fluewright.visit import traces

BY_THE_MINUTE = 60.0
"""s by which a time of hours and minutes may lie before what was done."""

OF_INSTRUMENT = ("air-let-in", "stuck", "cell-asleep", "cell-soaked", "sample-slow")
"""Sentences that tell of the instrument and not of the appliance."""

LATER = (*OF_INSTRUMENT, "flame-out")
"""Sentences whose first steps were for that moment: they make nobody leave an appliance off afterwards."""

JUDGED_BY = ("loss_siegert", "loss_net", "carbon_monoxide_dry", "carbon_monoxide_air_free",
             "carbon_monoxide_mass_concentration", "co_co2_ratio")  # fmt: skip
"""Quantities of a flame whose limits may ask for a steady of their own."""

MOST_RULES = 3
"""Rules whose own steady a line names."""

Marked = tuple[str, str, str]
"""Time as typed, what was done in a word that sentences know, and as a person said it."""


@dataclass(frozen=True, slots=True)
class Watched:
    """What came of one trace: what changed, how steady the kept stretch was, and s from row to row."""

    happened: tuple[Happened, ...]
    seen: Seen


def marks_of(account: Account) -> tuple[Marked, ...]:
    """What was done on a visit, by the clock: what burner and fans did, and every step of adjusting."""
    done = [(each.time, str(each.word), "") for each in account.events if each.time]
    return (*done, *((each.time, "step", each.word) for each in account.steps if each.time))


def marks_on(marks: Sequence[Marked], form: Form, *, start: float, end: float) -> tuple[Mark, ...]:
    """Those of them that were done while a trace was recorded; none where it has no clock."""
    if form.order == "elapsed seconds":
        return ()
    found = [_mark(each, form, start) for each in marks]
    return tuple(each for each in found if each is not None and start - each.unsure <= each.at <= end)


def _mark(marked: Marked, form: Form, start: float) -> Mark | None:
    time, word, note = marked
    at = on_trace(time, form, start)
    unsure = BY_THE_MINUTE if time.count(":") < 2 else 0.0
    return None if at is None else Mark(at, word, note=note, unsure=unsure)


def watch(
    file: TraceFile, instrument: Instrument, marks: Sequence[Marked], *, until: float, system: show.System
) -> Watched:
    """A trace of a visit watched from its first row to its last.

    file        trace and mapping
    instrument  that recorded it
    marks       what was done that day
    until       s, last row of the stretch that the visit keeps
    system      us or si, for the words
    -> what changed and how steady it was
    """
    contents = traces.contents_of(file)
    form, start, end = _clock(file, contents)
    done = marks_on(marks, form, start=start, end=end)  # others change nothing, and what is remembered stays
    return _watch(file, instrument.accuracy, done, until, system, contents)


@lru_cache(maxsize=traces.REMEMBERED)
def _clock(file: TraceFile, contents: str) -> tuple[Form, float, float]:
    """How a trace writes its times, and its first and last row, s."""
    with traces.opened(file) as trace:
        times = [row.time for row in trace]
        return trace.form, times[0], times[-1]


@lru_cache(maxsize=traces.REMEMBERED)
def _watch(
    file: TraceFile, accuracy: str, marks: tuple[Mark, ...], until: float, system: show.System, contents: str
) -> Watched:
    with traces.opened(file) as trace:
        start = next(iter(trace)).time
        seen = watched(trace, marks=marks, instrument_class=accuracy, system=system, asked=until)
        if seen.rare:
            return Watched((), seen)
        told = [each for each in seen.events if each.grade != "open" or each.mark]
        return Watched(tuple(_happened(each, trace, start=start, until=until) for each in told), seen)


def _happened(event: Event, trace: Trace, *, start: float, until: float) -> Happened:
    """An event as a visit tells it afterwards."""
    finding = replace(event.finding, evidence=())
    if event.key in LATER:
        finding = replace(finding, do_now=(), do_next=(*event.do_now, *event.do_next))
    if event.key == "flame-out" and event.start >= until:  # how every recording ends: burner off, or the probe is out
        finding = replace(finding, grade="open", do_next=())
    at = readings.clock(trace, event.start).partition(".")[0]
    word = event.key.replace("-", " ")
    return Happened(at, word, event.start - start, finding, event.mark, event.key in OF_INSTRUMENT)


def told(account: Account, ends: Mapping[str, float]) -> Account:
    """A visit with what its traces showed: what changed, and how steady each kept stretch was.

    ends  s, last row of the stretch kept of each trace, by the word of the stretch
    -> the visit, as it was where it has no trace
    """
    if not ends:
        return account
    marks = marks_of(account)
    rules = _own_steady(account)
    stretches = []
    for each in account.stretches:
        if each.word not in ends:
            stretches.append(each)
            continue
        file, until = account.traces[each.word], ends[each.word]
        found = watch(file, account.instrument, marks, until=until, system=account.system)
        stretches.append(_with(each, found, rules))
    return replace(account, stretches=tuple(stretches), parts=(*account.parts, *changes_of(stretches)))


def _with(stretch: Stretch, found: Watched, rules: Sequence[Limit]) -> Stretch:
    kinds = kinds_of(found.seen, rules)
    steady = f"{stretch.steady}. {kinds}" if stretch.steady and kinds else stretch.steady
    return replace(stretch, steady=steady, happened=found.happened)


def _own_steady(account: Account) -> list[Limit]:
    """The limits of this place whose text says when, or as a mean over what, a flame is to be read."""
    chosen = [
        rule
        for name in JUDGED_BY
        for rule in rules_for(name, account)
        if averaging_seconds(rule) is not None
        or any(letter.isdigit() for letter in rule.since_lit)
        or rule.steady == "appliance steady"
    ]
    return list({(rule.citation.document, rule.citation.clause): rule for rule in chosen}.values())[:MOST_RULES]


def kinds_of(seen: Seen, rules: Sequence[Limit]) -> str:
    """The kinds of steady that a kept stretch had at its end, each with its reason; empty where nobody watched then.

    seen   what the watch of the whole trace saw
    rules  limits that ask for a steady of their own
    """
    standings, moment = seen.then
    if len(standings) < 2 or moment is None:
        return ""
    settled, steady = standings[0], standings[1]
    own = [as_the_rule_says(rule, moment, settled=settled, steady=steady, tick=seen.tick) for rule in rules]
    words = "; ".join(_kind(each) for each in (settled, steady, *own))
    more = "" if own else f"; as the rule says ({NO_RULE})"
    return f"Three kinds of steady: {words}{more}"


NO_RULE = "no limit here asks for a steady of its own"


def _kind(one: Standing) -> str:
    why = one.why.removesuffix(f"; averaging: {NOT_SAID}")
    missing = f", missing: {one.missing}" if one.missing else ""
    return f"{one.kind}{'' if one.holds else ', no'} ({why}{missing})"
