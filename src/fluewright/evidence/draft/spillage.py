"""Spillage at a hood: how long it lasted, on a warm or a cold vent, with which fans, and what started it."""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import Literal, get_args

from fluewright.evidence.draft.readings import Fans, State
from fluewright.evidence.finding import PHYSICS, Finding, clause_of
from fluewright.evidence.limits import CAUTION, LEAVE_OFF, Question, answered, canonical, rules_for
from fluewright.evidence.part import Part, Piece, Seen, SoFar, Statement, Topic, Voiced
from fluewright.evidence.reading import Account, Reading
from fluewright.evidence.reckon import Reckoning, refused
from fluewright.evidence.result import Result
from fluewright.quantity import show

WORD = "spillage"
Warm = Literal["", "warm", "cold"]
WARMTHS = get_args(Warm)
AIR_THE_ROOM = ("shut every fan off and open doors and windows",)
FIND_IT = (
    "look for a blocked or cold vent, a missing cap, a connector that falls, too little air",
    "test again with every fan on",
)


@dataclass(frozen=True, slots=True)
class Spillage:
    """One appliance watched at its hood.

    words       which appliance
    stopped     time from lighting until it no longer spilled, 0 where it never did; a bound where it went on
    warm        whether its vent was warm or cold when it was lit
    started_by  fan that made it spill, empty for none
    how         mirror, smoke, or what was used
    """

    words: str
    stopped: Reading | None = None
    warm: Warm = ""
    fans: Fans = "as it stands"
    state: State = "burner on"
    started_by: str = ""
    how: str = ""
    time: str = ""

    @property
    def goes_on(self) -> bool:
        """Whether it was still spilling when somebody stopped looking."""
        return self.stopped is not None and self.stopped.bound == "at least"


@dataclass(frozen=True, slots=True)
class Spillages:
    """Every hood that was watched."""

    watched: tuple[Spillage, ...]

    @property
    def late(self) -> bool:
        """It rests on no other part."""
        return False

    def worked(self, so_far: SoFar) -> Part:
        """Judge each, and each against itself with other fans."""
        account, reckoning = so_far.account, Reckoning(so_far.account)
        keyed = {f"{one.words} {index}": one for index, one in enumerate(self.watched, 1)}
        results = {key: _result(one, key, reckoning) for key, one in keyed.items()}
        findings = [found for key, one in keyed.items() for found in _judged(key, one, results[key], account)]
        findings += _by_fan(keyed, account)
        full = any(one.fans == "every fan on" and one.stopped is not None for one in self.watched)
        topics: tuple[Topic, ...] = ("venting",)
        return Part(
            WORD,
            "Spillage",
            "draft",
            tuple(_said(key, one) for key, one in keyed.items()),
            results,
            tuple(findings),
            tuple(_cannot_tell(self, account, findings)),
            "Seconds from lighting until no gas came out of the hood.",
            frozenset(topics if full else ()),
        )


def _result(one: Spillage, key: str, reckoning: Reckoning) -> Result:
    if one.stopped is None or one.stopped.figure is None:
        return refused("spill_time", "nobody timed it")
    return reckoning.result(
        "spill_time",
        reckoning.read(one.stopped, words=f"time, {key}"),
        formula="time from lighting until nothing spilled",
        substitution=one.stopped.typed.text,
        source="watched",
        holds="this day, these fans",
    )


def _said(key: str, one: Spillage) -> Statement:
    about = [f"{one.warm} vent" if one.warm else "", one.fans, one.state, one.how]
    pieces: list[Piece] = [Voiced(one.words), f" ({', '.join(each for each in about if each)}) "]
    if one.stopped is None:
        pieces += [Voiced("was not timed", "unknown")]
    elif one.stopped.figure == 0.0 and not one.stopped.bound:
        pieces += ["did not spill: ", Seen(key, one.stopped)]
    else:
        pieces += ["was still spilling after " if one.goes_on else "stopped spilling after ", Seen(key, one.stopped)]
    if one.started_by:
        pieces += ["; it began to spill when ", Voiced(one.started_by), " was started"]
    return Statement((*pieces, "."), mark="measured" if one.stopped else "unknown", time=one.time)


def _kinds(one: Spillage) -> tuple[str, ...]:
    return (
        f"{one.warm} vent" if one.warm else "vent not said",
        *(("every fan on",) if one.fans == "every fan on" else ()),
    )


def _judged(key: str, one: Spillage, result: Result, account: Account) -> list[Finding]:
    """Against every time that a rule gives; still spilling at such a time is beyond it."""
    if result.value is None:
        return []
    rules = rules_for("spill_time", account, kinds=_kinds(one))
    passed = [rule for rule in rules if one.goes_on and rule.severity == "stop" and result.value >= canonical(rule)]
    if passed or (one.goes_on and not rules):
        return [_goes_on(key, one, result.value, account, passed[0].id if passed else "")]
    words = f"{one.words} ({one.fans}), time until it stopped,"
    asked = (Question(rule, result, WORD, account, key=key, words=words) for rule in rules)
    found = [each for question in asked if (each := answered(question, over=question.rule.severity)) is not None]
    return [replace(each, do_now=(*AIR_THE_ROOM, *each.do_now)) if each.grade == "stop" else each for each in found]


def _goes_on(key: str, one: Spillage, seconds: float, account: Account, rule: str) -> Finding:
    """An appliance that does not stop spilling."""
    clause = next(
        (clause_of(each) for each in rules_for("spill_time", account, kinds=_kinds(one)) if each.id == rule), None
    )
    after = show.shown(seconds, quantity="spill_time", system=account.system)
    return Finding(
        "spillage-goes-on",
        "stop",
        f"{one.words[:1].upper()}{one.words[1:]}: it does not stop spilling.",
        f"After {after} gas still came out of the hood, {one.fans}, {one.state}. What burns stays in the house.",
        ((WORD, key),),
        clause or PHYSICS,
        do_now=(*AIR_THE_ROOM, *LEAVE_OFF),
        do_next=FIND_IT,
        cautions=CAUTION,
    )


def _by_fan(keyed: Mapping[str, Spillage], account: Account) -> list[Finding]:
    """Spillage that a fan began: told so, or seen with every fan on and not without."""
    found = []
    quiet = {one.words for one in keyed.values() if one.fans != "every fan on" and _ended(one, account)}
    for key, one in keyed.items():
        turned = (
            one.fans == "every fan on" and one.words in quiet and one.stopped is not None and not _ended(one, account)
        )
        if not one.started_by and not turned:
            continue
        by = f"{one.started_by} was started" if one.started_by else "every fan ran, and without them it did not"
        found.append(
            Finding(
                "spillage-by-fan",
                "stop",
                f"{one.words[:1].upper()}{one.words[1:]}: a fan makes it spill.",
                f"It spilled when {by}. Whoever switches that fan on in daily life brings flue gas into the house.",
                ((WORD, key),),
                PHYSICS,
                do_now=(*AIR_THE_ROOM, *LEAVE_OFF),
                do_next=("bring more air, lead the fan's air back from outdoors, or take the appliance off that air; "
                         "then test again with every fan on",),
                cautions=CAUTION,
            )
        )  # fmt: skip
    return found


def _ended(one: Spillage, account: Account) -> bool:
    """Whether it stopped within every time that speaks of it, or at all where none does."""
    if one.stopped is None or one.goes_on or one.stopped.figure is None:
        return False
    alone = replace(one, fans="as it stands")
    return all(one.stopped.figure <= canonical(rule) for rule in rules_for("spill_time", account, kinds=_kinds(alone)))


def _cannot_tell(given: Spillages, account: Account, findings: list[Finding]) -> list[str]:
    found = []
    if not any(one.fans == "every fan on" for one in given.watched):
        found.append("Whether a hood spills with every fan on: nobody looked at it so.")
    if any(not one.warm for one in given.watched):
        found.append("Which time a hood had: whether its vent was warm or cold was not said.")
    if not findings:
        found.append("No limit for the time of spillage is known here for this place.")
    return found
