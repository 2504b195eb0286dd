"""What a finding says to somebody who lives in the house: no word of the trade, and who has to do what."""

import re
from collections.abc import Mapping, Sequence
from functools import cache

from fluewright.evidence.finding import Finding, Judged
from fluewright.evidence.flue import Worked
from fluewright.evidence.reading import Account, Stretch
from fluewright.evidence.result import Result
from fluewright.quantity import show
from fluewright.report.pen import sides
from fluewright.report.words import adjusting, burning_air, delivered, draft, flue, house, room, supply, together
from fluewright.report.words.words import CLEAR_AIR, LEAVE_OFF, OFF, READ_AGAIN, Words
from fluewright.rules import load

Told = Sequence[tuple[Stretch, Worked | None]]
GRAVE = ("stop", "act", "advise")

ROOM = "carbon_monoxide_room"
FREE = "carbon_monoxide_air_free"
READ_AS = dict.fromkeys((ROOM, FREE), ("carbon_monoxide_dry", "carbon_monoxide_wet"))
"""What the probe read, where a finding speaks of the room or of gas free of air: there is at least as much of that."""
CARBON_MONOXIDE = ("carbon_monoxide_air_free", "carbon_monoxide_dry", "carbon_monoxide_wet", "co_co2_ratio")
LOSSES = ("loss_siegert", "loss_net", "loss_gross")


BY_CODE = {
    "air-short": Words(
        "The flame gets less air than it should.",
        "The flame was getting less air than it should.",
        "find what keeps air from the flame, and give it air",
        CLEAR_AIR,
    ),
    "no-air-left": Words(
        "The flame has hardly any air to spare.",
        "The flame had hardly any air to spare.",
        "find what keeps air from the flame, and give it air",
        CLEAR_AIR,
    ),
    "air-generous": Words(
        "The flame gets more air than it needs, and the surplus carries heat up the flue.",
        "The flame was getting more air than it needs, and the surplus carried heat up the flue.",
        "look for places where air leaks in, then set the flame with less air",
    ),
    "condensing": Words(
        "Water forms in the flue. This appliance is not made for that: the water is sour and eats metal and chimney.",
        "Water was forming in the flue. This appliance is not made for that: the water is sour and eats metal.",
        "look for rust and blocked ways, and set the appliance warmer",
        LEAVE_OFF,
    ),
    "near-dew-point": Words(
        "The flue gas is so cool that the chimney may get wet inside.",
        "The flue gas was so cool that the chimney could get wet inside.",
        "look into the chimney for damp, and set the appliance warmer if there is any",
    ),
    "saturated-cell": Words(
        "There was more carbon monoxide in the flue than our instrument can count.",
        "There was more carbon monoxide in the flue than our instrument can count.",
        "let the instrument recover outdoors and test again",
        LEAVE_OFF,
    ),
    "intake-smoke": Words(
        "The burner breathes in its own flue gas.",
        "The burner was breathing in its own flue gas.",
        "open the joints of the vent and find the leak",
        LEAVE_OFF,
    ),
    "intake-starved": Words(
        "The air that the burner draws in is full of flue gas, or we read the wrong pipe.",
        "The air that the burner drew in was full of flue gas, or we read the wrong pipe.",
        "open the joints of the vent, find the leak and test again",
        LEAVE_OFF,
    ),
    "still-moving": Words(
        "Carbon monoxide was still climbing when we stopped reading. What it would have come to, nobody saw.",
        "Carbon monoxide was still climbing when we stopped reading.",
        "read it again until it stands still",
        LEAVE_OFF,
    ),
    "not-worked-out": Words(
        "Some readings could not be used, so part of the test is missing.",
        "Some readings could not be used.",
        READ_AGAIN,
    ),
    "made-to-condense": Words(
        "The flue gas is so cool that water may form in the flue. Whether it is made for that, we must look up.",
        "The flue gas was so cool that water could form in the flue.",
        "look up whether the appliance is made to condense",
    ),
    "out-of-date": Words(
        "Our instrument was due to be checked before this visit. It can raise an alarm; "
        "it cannot say that all is well.",
        "Our instrument was due to be checked before this visit.",
        "have the instrument checked and test again",
    ),
    "inside-zero": Words(
        "Our instrument was started indoors, so it may show less carbon monoxide than there is. It can raise an alarm; "
        "it cannot say that all is well.",
        "Our instrument was started indoors, so it may have shown less carbon monoxide than there was.",
        "start the instrument outdoors and test again",
    ),
}
BY_CODE |= burning_air.WORDS | room.WORDS | supply.WORDS | draft.WORDS | flue.WORDS | delivered.WORDS | house.WORDS
BY_CODE |= adjusting.WORDS | together.WORDS
OF_THE_FLAME = Words(
    "The flame makes more carbon monoxide than it should",
    "The flame was making more carbon monoxide than it should",
    "find why the flame makes carbon monoxide, mend it and test again",
    LEAVE_OFF,
)
OF_THE_ROOM = Words(
    "There is carbon monoxide in the air of the room",
    "There was carbon monoxide in the air of the room",
    "find where the carbon monoxide in the air comes from, stop it, and test the air again",
    ("stay out of these rooms until we have tested the air again", OFF),
)
BY_QUANTITY = {
    **dict.fromkeys((ROOM, "carbon_monoxide_highest"), OF_THE_ROOM),
    **dict.fromkeys(CARBON_MONOXIDE, OF_THE_FLAME),
    **dict.fromkeys(
        LOSSES,
        Words(
            "More heat goes up the flue than the limit allows",
            "More heat was going up the flue than the limit allows",
            "clean and set the appliance, and test again",
        ),
    ),
    "smoke_spot": Words(
        "The flame makes soot", "The flame was making soot", "clean it, set the flame without soot, and test again"
    ),
    "draft": Words(
        "The chimney does not draw as it should",
        "The chimney was not drawing as it should",
        "find what stops the chimney from drawing, and test again",
        LEAVE_OFF,
    ),
}


OF_THE_SHOP = Words(
    "We ask more of ourselves here than the law does, and this does not meet it yet",
    "This did not meet what we ask of ourselves beyond the law",
    "look at it again, and test again",
)
"""What only the shop's own house book does not let pass."""

BREATHED = ("room air", "worst case", "source in the room", "air changes")
"""Parts of the job whose upper limits are of the air people breathe, whatever the reading is called there."""


def words_of(finding: Finding) -> Words | None:
    """The words for this kind of finding; None when there are none and its own must do."""
    if finding.clause.of_the_house:
        return OF_THE_SHOP
    part, subject = finding.evidence[0] if finding.evidence else ("", "")
    breathed = OF_THE_ROOM if part in BREATHED and finding.limit.startswith("at most") else None
    limited = BY_QUANTITY.get(_limited().get(finding.code, ""))
    return BY_CODE.get(finding.code) or BY_QUANTITY.get(subject) or limited or breathed


@cache
def _limited() -> Mapping[str, str]:
    """Which quantity each rule limits: a part of the job has keys of its own for what it read."""
    return {rule.id: rule.quantity for rule in load.limits()}


def told_result(told: Told, word: str, name: str) -> Result | None:
    """A result of one stretch that has a value."""
    for stretch, worked in told:
        found = worked.results.get(name) if worked is not None and stretch.word == word else None
        if found is not None and found.value is not None:
            return found
    return None


def _parts(value: str, name: str) -> str:
    """A figure with its unit as people say it."""
    if name == "smoke_spot":
        return f"{value} on a scale of grey from 0, clean, to 9, black"
    if name.startswith("carbon_monoxide"):
        return f"{value} parts in a million"
    return f"{value} of each 100 parts of heat" if name in LOSSES else value


def about(told: Told, word: str, name: str, account: Account) -> str:
    """How much it was at that moment, rounded like on the sheet; empty when there is no figure."""
    result = told_result(told, word, name)
    if result is not None and result.value is not None:
        doubt = sides(below=result.below, above=result.above)
        figure = show.number(result.value, doubt, quantity=name, system=account.system)
        return f"{result.bound or 'about'} {figure}"
    for stretch, _ in told:
        peak = next((burst for burst in stretch.bursts if burst.words == word), None)
        if peak is not None:
            figure = show.number(peak.mean, peak.spread, quantity="carbon_monoxide_dry", system=account.system)
            return f"for {peak.seconds:.0f} seconds at least {figure}"
        if stretch.word != word:
            continue
        for same in (name, *READ_AS.get(name, ())):
            reading = stretch.readings.get(same)
            if reading is not None and reading.figure is not None:
                figure = show.number(reading.figure, quantity=same, system=account.system)
                floor = "at least" if name == FREE and same != FREE else "about"
                return f"{reading.bound or floor} {figure}"
    return ""


def limit_words(finding: Finding) -> str:
    """The figure of an upper limit alone, empty when there is none."""
    found = re.match(r"at most ([\d\u202f,.]+)", finding.limit)
    return found.group(1).strip() if found else ""


def moment(word: str) -> str:
    """A stretch inside a sentence: at a rate, or in a test of that name."""
    return f"at {word}" if word.lower().endswith(("rate", "fire", "load")) else f"in the test “{word}”"


def _when(word: str, account: Account) -> str:
    """The moment in front of a sentence: nothing where there is only one, or where it is no moment of the flame."""
    if len(account.stretches) < 2 or all(stretch.word != word for stretch in account.stretches):
        return ""
    lowered = word.lower()
    if lowered in ("as found", "as left"):
        return "when we came, " if lowered == "as found" else ""
    return f"{moment(word)}, "


def _amount(finding: Finding, told: Told, account: Account) -> str:
    """The figure and the limit it is held against, after a colon."""
    if finding.code in BY_CODE or not finding.evidence:
        return ""
    word, name = finding.evidence[0]
    figure, most = about(told, word, name, account), limit_words(finding)
    if not figure or name == "co_co2_ratio":
        return ""
    edge = f", where {most} is the most" if most else ""
    return f": {_parts(figure, name)}{edge}"


def _now(finding: Finding, told: Told, account: Account) -> str:
    """How much it is at the end, for what was cured."""
    name = finding.evidence[0][1] if finding.evidence else ""
    figure = about(told, told[-1][0].word, name, account) if told else ""
    return f": now {figure}" if figure and finding.code not in BY_CODE and name != "co_co2_ratio" else ""


def sentence(finding: Finding, told: Told, account: Account) -> str:
    """A finding as one or two plain sentences.

    finding  of grade stop, act, advise or cured
    told     each stretch with what was worked out of it
    account  the visit
    -> text  with the figure and the limit where it has them
    """
    words = words_of(finding)
    if words is None:
        return finding.lead
    word = finding.evidence[0][0] if finding.evidence else ""
    cured = finding.grade == "cured"
    lasting = words is OF_THE_ROOM and not cured  # nobody has shown that the air is good again
    when = "" if lasting or not word else _when(word, account)
    last = not told or word == told[-1][0].word
    said = words.before if cured or (when and not last) else words.now
    maybe = "it may be that " if " may be over " in finding.lead else ""
    lead = f"{when}{maybe}"
    text = f"{lead}{said[:1].lower()}{said[1:]}" if lead else said
    text = text if text.endswith(".") else f"{text}{_amount(finding, told, account)}."
    return f"{text[:1].upper()}{text[1:]}{_cure(finding, told, account) if cured else ''}"


def _cure(finding: Finding, told: Told, account: Account) -> str:
    """That it is so no longer; where its limit can clear nothing, not that all is well."""
    now = _now(finding, told, account)
    if finding.clause.clears:
        return f" It was cured today{now}."
    return f" When we left it was better{now}. That alone does not show that all is well."


def breathed_first(findings: Sequence[Finding]) -> list[Finding]:
    """The findings in their order, but first what asks for people to get out, then what they breathe."""

    def rank(one: Finding) -> int:
        if one.grade != "stop":
            return 2
        return 0 if one.people_out else 1 if words_of(one) is OF_THE_ROOM else 2

    return sorted(findings, key=rank)


def uncured(judged: Judged) -> list[Finding]:
    """What still has to be acted on, of any stretch, the gravest first."""
    return breathed_first([finding for finding in judged.findings if finding.grade in GRAVE])


def tasks(judged: Judged) -> tuple[list[str], list[str]]:
    """What we do and what the people of the house do, each once, in the order of the findings.

    judged  the findings of the visit
    -> ours, theirs
    """
    we: list[str] = []
    you: list[str] = []
    for finding in uncured(judged):
        words = words_of(finding)
        if words is None:
            we += [*finding.do_now, *finding.do_next]
            continue
        we.append(words.we)
        if finding.grade in ("stop", "act") or words is OF_THE_ROOM:
            you += words.you
    we += [READ_AGAIN for finding in judged.findings if finding.grade == "open" and finding.do_next]
    return [each for each in dict.fromkeys(we) if each], list(dict.fromkeys(you))
