"""From a visit that was worked out and judged to the tree that every printing reads."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from types import MappingProxyType
from typing import Any

from fluewright.evidence.finding import Finding, Judged, currency_of
from fluewright.evidence.flue import Worked
from fluewright.evidence.judge import AirWindow
from fluewright.evidence.limits import CAUTION, LEAVE_OFF
from fluewright.evidence.lit import burning
from fluewright.evidence.part import Part
from fluewright.evidence.reading import Account, Reading, Stretch
from fluewright.evidence.result import Result
from fluewright.report import cause_lines, flame_lines, lines, part_lines, phrase, pictures, plain
from fluewright.report.cause_lines import Causes
from fluewright.report.customer import carbon_monoxide_read, customer
from fluewright.report.drawing import Window
from fluewright.report.notices import Place, notice_stop, sentence_of
from fluewright.report.pen import Pen, day_words, plate_words
from fluewright.report.tree import Figure, Found, Line, Section, Sheet, Span, Stop
from fluewright.rules import consent
from fluewright.words import spoken

Told = Sequence[tuple[Stretch, Worked | None]]

DISCLAIMER = (
    "The maker's instructions, the local code and the licensed person decide. This is a calculation aid, not a "
    "permission to operate; limits are cited with edition and jurisdiction."
)
PRACTICE = "PRACTICE, not a real visit"
"""At the head of every page of a sheet from a journal for practice."""

INVENTED = " People, place, appliance and readings are invented."


def _lede(account: Account) -> tuple[Span, ...]:
    appliance = account.appliance
    if not appliance.words:
        return ()
    spans = [Span(f"{appliance.words[:1].upper()}{appliance.words[1:]}")]
    if appliance.plate_input is not None:
        plate = plate_words(appliance.plate_input, "fuel_input", account.system)
        spans += [Span(", plate input "), Span(plate, "plate")]
    if appliance.output is not None:
        plate = plate_words(appliance.output, "heat_output", account.system)
        spans += [Span(", plate output "), Span(plate, "plate")]
    if appliance.serial:
        spans += [Span(", number "), Span(appliance.serial, "hand")]
    spans.append(Span("."))
    return tuple(spans)


def _stops(judged: Judged, told: Told, account: Account) -> tuple[Stop, ...]:
    """One stop sentence for all that stops, in its fixed order: get out, what, what to do, care, why."""
    grave = plain.breathed_first([finding for finding in judged.findings if finding.grade == "stop"])
    if not grave:
        return _left_off(judged, told, account)
    what = dict.fromkeys(plain.sentence(finding, told, account) for finding in grave)
    why: dict[str, list[str]] = {}
    for finding in grave:
        why.setdefault(phrase.authority(finding.clause), []).append(finding.body)
    out = [finding for finding in grave if finding.people_out]
    return (
        Stop(
            order="Stop. Get everybody out." if out else "Stop. Shut it down, and keep people out.",
            what=" ".join(what),
            do=_people_out(out, account) if out else (*_care(grave), *_shut_down(account)),
            why=" ".join(f"{' '.join(bodies)} {authority}" for authority, bodies in why.items()),
        ),
    )


def _open(account: Account) -> tuple[Stop, ...]:
    """A stop sentence for each notice that is still open."""
    there = Place(account.emergency, account.supplier, account.jurisdiction, account.day)
    return tuple(notice_stop(one, there) for one in account.notices)


NOT_KEPT = "Not kept in a journal, and not sealed."


def _care(grave: Sequence[Finding]) -> tuple[str, ...]:
    """Cautions and first steps that are not those of every flue: gas, fans, a vent; they come before the usual ones."""
    own = [(*finding.cautions, *finding.do_now) for finding in grave]
    usual = {*CAUTION, *LEAVE_OFF}
    return tuple(map(sentence_of, dict.fromkeys(each for steps in own for each in steps if each not in usual)))


def _shut_down(account: Account) -> tuple[str, ...]:
    """What to do where the appliance is the danger."""
    return (
        "Shut the appliance down and close its fuel valve; tag it.",
        "Everybody out of the rooms it serves if carbon monoxide is in the air, or nobody has measured it. Doors open.",
        f"From outside call {account.emergency}, then {account.supplier}.",
        "Anybody with a headache, dizziness or sickness needs medical care, even if they feel better outdoors.",
        *_asking(account),
    )


def _asking(account: Account) -> tuple[str, ...]:
    """What is asked before anything is turned off, as the place has it."""
    steps = consent.speaking(answer="before", jurisdiction=account.jurisdiction, day=account.day)
    return tuple(spoken(one.text) for one in steps)


def _people_out(out: Sequence[Finding], account: Account) -> tuple[str, ...]:
    """What to do where people have to be out before anything is touched: the finding's own steps, cautions first."""
    steps = dict.fromkeys(each for finding in out for each in (*finding.cautions, *finding.do_now))
    said = any(account.emergency in step for step in steps)
    call = () if said else (f"From outside call {account.emergency}, then {account.supplier}.",)
    return (*map(sentence_of, steps), *call, *_asking(account))


def _left_off(judged: Judged, told: Told, account: Account) -> tuple[Stop, ...]:
    """The sentence for what must not be left running, where nothing asks for people to get out."""
    grave = plain.breathed_first([f for f in judged.findings if f.grade == "act" and f.do_now])
    if not grave:
        return ()
    what = dict.fromkeys(plain.sentence(finding, told, account) for finding in grave)
    do = dict.fromkeys(each for finding in grave for each in (*finding.do_now, *finding.cautions))
    why = dict.fromkeys(f"{finding.body} {phrase.authority(finding.clause)}" for finding in grave)
    return (
        Stop(
            order="Not to be left running like this: mend it first, or leave it off.",
            what=" ".join(what),
            do=tuple(map(sentence_of, do)),
            why=" ".join(why),
        ),
    )


def _letters() -> list[str]:
    single = [chr(65 + i) for i in range(26)]
    return single + [a + b for a in single for b in single]


def _line_of(pen: Pen, evidence: tuple[str, str]) -> int | None:
    """The line that a piece of evidence stands in, under its own name or as the probe read it."""
    word, name = evidence
    same = (name, *plain.READ_AS.get(name, ()))
    return next((pen.where[word, each] for each in same if (word, each) in pen.where), None)


def _found(judged: Judged, pen: Pen) -> tuple[Found, ...]:
    letters = iter(_letters())
    found = []
    for finding in judged.findings:
        rests = {line for evidence in finding.evidence if (line := _line_of(pen, evidence)) is not None}
        found.append(Found(next(letters), finding, tuple(sorted(rests))))
    return tuple(found)


def _with_danger(section: Section, dangerous: frozenset[int]) -> Section:
    marked = tuple(
        Line(one.number, "danger" if one.number in dangerous else one.mark, one.time, one.spans, one.margin)
        for one in section.lines
    )
    return Section(section.number, section.title, marked, section.note)


def _as_data(result: Result) -> dict[str, Any]:
    return {"value": result.value, "below": result.below, "above": result.above, "refused": result.refused}


def _typed_data(reading: Reading) -> dict[str, Any]:
    """A reading as plain data in canonical units."""
    typed = reading.typed
    return {"typed": typed.text, "value": typed.value, "low": typed.low, "high": typed.high, "unit": typed.unit,
            "source": reading.source}  # fmt: skip


def _part_data(part: Part) -> dict[str, Any]:
    """One part of the job as plain data."""
    return {
        "word": part.word,
        "readings": {key: {"quantity": one.quantity, **_typed_data(one)} for key, one in part.readings().items()},
        "results": {key: {"quantity": one.name, **_as_data(one)} for key, one in part.results.items()},
        **part.data,
    }


def _readings(account: Account, told: Told, parts: Sequence[Part], causes: Causes | None) -> dict[str, Any]:
    """All readings and results as plain data in canonical units, for the attachment."""
    stretches = []
    for stretch, worked in told:
        read = {name: _typed_data(reading) for name, reading in stretch.readings.items()}
        results = {n: _as_data(r) for n, r in worked.results.items()} if worked else {}
        stretches.append(
            {"word": stretch.word, "time": stretch.time, "point": stretch.point.name, "kind": stretch.point.kind,
             "basis": stretch.basis, "boundary": stretch.boundary, "steady": stretch.steady,
             "point_class": stretch.point.point_class.name, "seconds_since_lit": burning(stretch, account).seconds,
             "readings": read, "results": results}
        )  # fmt: skip
    return {
        "title": account.title,
        "date": account.day.isoformat(),
        "site": account.site,
        "appliance": account.appliance.words,
        "class": account.appliance.kind,
        "fuel": account.fuel.name,
        "instrument": account.instrument.words,
        "invented": account.invented,
        "units": "values in SI units, fractions mol/mol; uncertainties are standard",
        "open_notices": [{"words": one.words, "consent": one.consent, "told": one.told} for one in account.notices],
        "stretches": stretches,
        "parts": [_part_data(part) for part in parts],
        "events": [{"time": event.time, "word": event.word} for event in account.events],
        "steps": [{"time": step.time, "word": step.word, "meant": step.meant} for step in account.steps],
        "causes": causes.data() if causes is not None else {},
        "done": list(account.done),
        "next": list(account.next),
    }


def window_drawn(window: AirWindow | None, carbon_monoxide: float) -> Window | None:
    """The window of the rule book as the plane draws it."""
    if window is None:
        return None
    low, high, cited = window.low * 100.0, window.high * 100.0, window.rule.citation
    label = f"{low:g} to {high:g} %, at most {carbon_monoxide:g} ppm"
    known = window.rule.known
    current = currency_of(known, window.rule.current)
    source = (
        known
        if known.startswith("common practice")
        else ", ".join(part for part in (cited.document, current, known) if part)
    )
    return Window(low, high, carbon_monoxide, label, source)


ROOM_AIR = "room air"
"""The part of the job beside which room readings of the flame's stretches stand."""


@dataclass(frozen=True, slots=True)
class _Writing:
    """What the sections are written from."""

    told: Told
    judged: Judged
    extra: Mapping[str, Result]
    parts: Sequence[Part]
    causes: Causes | None = None


def _before_the_flame(pen: Pen, writing: _Writing, *, bare: bool) -> list[Section]:
    """Who came with what, the room, fuel supply and draft; bare: the parts alone."""
    sections: list[Section] = [] if bare else [lines.before_lighting(pen, 1)]
    parts = part_lines.at(writing.parts, part_lines.BEFORE_THE_FLAME)
    before = [part for part in parts if part.place == "before"]
    for part in before:
        sections.append(part_lines.section(pen, len(sections) + 1, part))
    stretches = [stretch for stretch, _ in writing.told]
    if all(part.word != ROOM_AIR for part in parts):
        room = lines.room_air(pen, len(sections) + 1, stretches)
        sections += [room] if room else []
    for part in parts[len(before) :]:
        section = part_lines.section(pen, len(sections) + 1, part)
        beside = lines.room_air(pen, section.number, stretches) if part.word == ROOM_AIR else None
        sections.append(replace(section, lines=(*section.lines, *beside.lines)) if beside else section)
    return sections


def _adjusting(pen: Pen, number: int, parts: Sequence[Part]) -> list[Section]:
    """What adjusting showed: curve, margin, next turn, each a section."""
    return [part_lines.section(pen, number + i, part) for i, part in enumerate(part_lines.at(parts, ("adjusting",)))]


def _sections(pen: Pen, writing: _Writing, *, bare: bool) -> list[Section]:
    """The evidence in the order of the job; the room before the flame, steps between the first stretch and the rest."""
    sections = _before_the_flame(pen, writing, bare=bare)
    for index, (stretch, worked) in enumerate(writing.told):
        adjusting = lines.adjusting(pen, len(sections) + 1) if index == 1 else None
        sections += [adjusting] if adjusting else []
        sections += _adjusting(pen, len(sections) + 1, writing.parts) if index == 1 else []
        flame = flame_lines.flame(pen, len(sections) + 1, stretch, worked, writing.judged)
        sections += [flame] if flame.lines else []
    if writing.extra and writing.told:
        rules = lines.in_units_of_rules(pen, len(sections) + 1, writing.told[-1][0], writing.extra)
        sections += [rules] if rules else []
    sections += _adjusting(pen, len(sections) + 1, writing.parts) if len(writing.told) < 2 else []
    for part in part_lines.at(writing.parts, ("changes", "delivered", "proofs")):
        sections.append(part_lines.section(pen, len(sections) + 1, part))
    if writing.causes is not None and writing.causes.worth_saying:
        sections.append(cause_lines.section(pen, len(sections) + 1, writing.causes))
    return sections


def _unjudged(told: Told, judged: Judged, parts: Sequence[Part]) -> str:
    """Why there are no findings, as a sentence; empty where there are some."""
    if judged.findings:
        return ""
    if parts and not told:
        return "Nothing here is beyond a limit of the rule books, or they hold none for it."
    if not carbon_monoxide_read(told):
        return "Nothing could be judged: no carbon monoxide was read in the flue."
    return "Nothing could be judged: the rule books hold no limit for this fuel, appliance and place."


def _beside(told: Told, sections: Sequence[Section]) -> int:
    """The section of the last flame, where the plane stands."""
    flames = [section.number for section in sections if section.title.startswith("Flame")]
    return flames[-1] if told and flames else len(sections)


def _practice(account: Account) -> str:
    return PRACTICE if account.practice else ""


def build(
    account: Account,
    told: Told,
    judged: Judged,
    *,
    window: Window | None = None,
    strips: Sequence[Figure] = (),
    brief: bool = False,
    extra: Mapping[str, Result] = MappingProxyType({}),
    parts: Sequence[Part] = (),
    causes: Causes | None = None,
) -> Sheet:
    """The sheet of one visit.

    account  the visit
    told     each stretch with what was worked out of it, None where nothing could be
    judged   findings, gravest first, and what cannot be told
    window   region of the operating plane that the books state
    strips   drawings of traces, made where the traces were read
    brief    leave out drawings, customer page and seal: for a single reading
    extra    results of the last stretch in the forms that rules ask for, by registry name
    parts    what was measured beside the flame
    causes   what the readings point to; None where there is too little for it
    -> tree
    """
    pen = Pen(account)
    writing = _Writing(told, judged, extra, parts, causes)
    sections = _sections(pen, writing, bare=brief and not told)
    found = _found(judged, pen)
    dangerous = frozenset(n for f in found if f.finding.grade == "stop" for n in f.lines)
    plane = None if brief else pictures.plane(account, told, window, _beside(told, sections), parts)
    flue = pictures.pressure_section(account, parts, sections)
    figures = [flue] if brief else [plane, *strips, flue, pictures.ribbons(account, told, parts)]
    where = ", ".join(part for part in (account.site, account.appliance.words) if part)
    return Sheet(
        title=account.title,
        lede=_lede(account),
        running_left=where,
        running_right=" · ".join(filter(None, (_practice(account), account.route, day_words(account.day)))),
        disclaimer=DISCLAIMER + (INVENTED if account.invented else ""),
        stops=(*_stops(judged, told, account), *_open(account)),
        sections=tuple(_with_danger(section, dangerous) for section in sections),
        findings=found,
        cannot_tell=judged.cannot_tell,
        done=account.done,
        next=account.next,
        figures=tuple(figure for figure in figures if figure is not None),
        workings=tuple(pen.opened),
        closing=(*(account.kept or (NOT_KEPT,)), f"Worked by {account.technician or 'nobody named'}.")
        if not brief
        else ("One reading, kept nowhere.",),
        customer={} if brief else customer(account, told, judged, parts),
        readings=_readings(account, told, parts, causes),
        customer_title=f"{account.title}, {day_words(account.day)}",
        customer_to=", ".join(part for part in (account.customer, account.site, account.appliance.words) if part),
        date=account.day.isoformat(),
        invented=account.invented,
        system=account.system,
        unjudged=_unjudged(told, judged, parts),
        where=dict(pen.where),
    )
