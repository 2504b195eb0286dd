"""What a visit gives to the weighing of causes, and what came of it, as its class of appliance may be told."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from fluewright.diagnose.asked import Asked, asked_of
from fluewright.diagnose.diagnosis import Diagnosis, diagnosed, readings_weighed
from fluewright.diagnose.looked import WORD as LOOKS
from fluewright.diagnose.looked import Looked
from fluewright.diagnose.standing import standing
from fluewright.evidence.draft.spillage import WORD as SPILLAGE
from fluewright.evidence.draft.spillage import Spillages
from fluewright.evidence.fitting import refused_in
from fluewright.evidence.gas_input import GasInput
from fluewright.evidence.house import House
from fluewright.evidence.part import Part
from fluewright.evidence.reading import Account, Reading, Stretch
from fluewright.evidence.trust import fresh_air
from fluewright.report.cause_lines import Causes
from fluewright.simulate.designs import design_of_kind
from fluewright.words import spoken

if TYPE_CHECKING:
    from fluewright.appliance.record import ApplianceClass
    from fluewright.visit.work import Verdict

ELSEWHERE = ("draft_above_hood", "draft_common_flue")
ANYWHERE = ("carbon_monoxide_room", "oxygen_intake", "oxygen_outdoor", "draft", *ELSEWHERE)
"""Readings that mean the same in whatever stretch they stand."""
BY_PART: Mapping[tuple[str, str], str] = {
    ("room air", "reading"): "carbon_monoxide_room",
    ("gas input", "manifold_pressure"): "gas_pressure",
    ("gas supply", "everything on at appliance"): "line_pressure",
    ("oil supply", "pump_pressure"): "oil_pressure",
    ("oil supply", "breech_draft"): "draft",
    ("oil supply", "over_fire_draft"): "draft_over_fire",
    ("draft", "above hood"): "draft",
    ("heat delivered, water", "return_water_temperature"): "return_water_temperature",
    ("smoke", "papers"): "smoke_spot",
}
"""What a part of the job has read for the weighing: its word and the beginning of its key; the last one counts."""
HOUSE_LOOKS: Mapping[str, str] = {
    "exchanger-seen": "exchanger-seen",
    "trap-primed": "trap-seen",
    "vent-joints": "joints-searched",
    "arrestor-and-screen": "arrestor-seen",
    "inner-pipe": "terminals-seen",
}
"""Lines about the house that answer a look: sound is that nothing was found."""
OVER_FIRE = "over fire"


@dataclass(frozen=True, slots=True)
class _Read:
    """One reading that goes into the weighing, and the evidence it stands for."""

    reading: Reading
    evidence: tuple[str, str]


def _main(account: Account) -> Stretch | None:
    """The last stretch of undiluted flue gas with oxygen in it."""
    found = [
        stretch
        for stretch in account.stretches
        if stretch.point.kind == "undiluted"
        and stretch.point.point_class.name != OVER_FIRE
        and "oxygen_dry" in stretch.readings
        and fresh_air(stretch) is None
    ]
    return found[-1] if found else None


def _of_stretches(account: Account, main: Stretch) -> Iterator[_Read]:
    """The readings of the stretch, and of the others what means the same there; after a step nothing from before it."""
    weighed, others = set(readings_weighed()), [each for each in account.stretches if each is not main]
    if account.steps:
        others = list(account.stretches[account.stretches.index(main) + 1 :])
    for stretch in others:
        for name, reading in stretch.readings.items():
            if name in ANYWHERE:
                yield _Read(reading, (stretch.word, name))
            elif stretch.point.point_class.name == OVER_FIRE and name in ("oxygen_dry", "draft"):
                read_as = "oxygen_at_flame" if name == "oxygen_dry" else "draft_over_fire"
                yield _Read(replace(reading, quantity=read_as), (stretch.word, name))
    for name, reading in main.readings.items():
        if name in weighed or name in ANYWHERE:
            yield _Read(reading, (main.word, name))


def _of_parts(parts: Sequence[Part]) -> Iterator[_Read]:
    for part in parts:
        for key, reading in part.readings().items():
            name = next((q for (word, start), q in BY_PART.items() if part.word == word and key.startswith(start)), "")
            if name and reading.source != "from the plate":
                yield _Read(replace(reading, quantity=name), (part.word, key))


def _plate(account: Account) -> dict[str, float]:
    """What the plate says of readings."""
    found = {} if account.appliance.plate_input is None else {"fuel_input": account.appliance.plate_input}
    for part in account.parts:
        figure = part.manifold.plate.figure if isinstance(part, GasInput) and part.manifold.plate is not None else None
        if figure is not None:
            found["gas_pressure"] = figure
    return found


def _seen(account: Account) -> dict[str, tuple[bool, tuple[str, str]]]:
    """Looks that were answered, each with the evidence: asked as such, or by another part of the job."""
    found: dict[str, tuple[bool, tuple[str, str]]] = {}
    for part in account.parts:
        if isinstance(part, House):
            for answer in part.answers:
                look = HOUSE_LOOKS.get(answer.line)
                if look and answer.answer != "not reachable":
                    found[look] = (answer.answer == "bad", ("", ""))
        elif isinstance(part, Spillages):
            found |= _spills(part, account)
        elif isinstance(part, Looked):
            found |= {answer.name: (answer.found, (LOOKS, answer.name)) for answer in part.answers}
    return found


def _spills(part: Spillages, account: Account) -> dict[str, tuple[bool, tuple[str, str]]]:
    """Whether it spills: a hood on the same flue that does is enough, and only its own one can say that it does not."""
    keyed = [(one, (SPILLAGE, f"{one.words} {index}")) for index, one in enumerate(part.watched, 1)]
    for one, evidence in keyed:
        if one.goes_on:
            return {"spills": (True, evidence)}
    for one, evidence in keyed:
        own = one.words.lower() in account.appliance.words.lower()
        if own and one.stopped is not None and one.stopped.figure == 0.0 and not one.started_by:
            return {"spills": (False, evidence)}
    return {}


def _asked(account: Account, verdict: "Verdict") -> tuple[Asked, Mapping[str, tuple[str, str]]] | None:
    """The question, and which evidence each of its readings and looks stands for; None where there is too little."""
    main = _main(account)
    if main is None or design_of_kind(account.appliance.kind) is None:
        return None
    read = [*_of_parts(verdict.parts), *_of_stretches(account, main)]
    seen = _seen(account)
    asked = asked_of(
        kind=account.appliance.kind,
        readings=[each.reading for each in read],
        plate=_plate(account),
        seen={name: found for name, (found, _) in seen.items()},
    )
    worked = next((worked for stretch, worked in verdict.told if stretch is main), None)
    most = worked.results["carbon_dioxide_dry_max"].value if worked is not None else None
    origins = {each.reading.quantity: each.evidence for each in read}
    drafts = [origins[name] for name in ("draft", *ELSEWHERE) if name in origins]
    origins |= {"draft": drafts[0]} if drafts else {}
    origins |= {name: evidence for name, (_, evidence) in seen.items() if evidence[0]}
    return replace(asked, most=most, system=account.system), origins


def _for_class(said: Diagnosis, of_class: "ApplianceClass | None") -> Diagnosis:
    """The same without any advice that the class never gives."""
    if of_class is None:
        return said

    def fit(sentence: str) -> str:
        advice = refused_in(sentence, of_class)
        return sentence if advice is None else spoken(advice.instead)

    causes = tuple(replace(cause, do=fit(cause.do)) for cause in said.causes)
    dangers = tuple(replace(danger, close=fit(danger.close)) for danger in said.dangers)
    tests = () if said.next is None else said.next.tests
    walk = tuple(look for look in tests if refused_in(look.words, of_class) is None)
    after = None if said.next is None or not walk else replace(said.next, tests=walk)
    return replace(said, causes=causes, dangers=dangers, next=after)


def causes_of(verdict: "Verdict") -> Causes | None:
    """What causes a visit leaves standing.

    verdict  the visit, worked out
    -> causes with their evidence; None where no virtual appliance stands for its class or too little was read
    """
    account = verdict.account
    found = _asked(account, verdict)
    if found is None:
        return None
    asked, origins = found
    said = _for_class(diagnosed(asked), account.appliance.of_class)
    return Causes(said, origins, standing(said, account.closings))
