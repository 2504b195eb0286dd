"""The worst case for a flue as a route: what was done, what stopped it, what the house did, what was put back."""

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from itertools import pairwise

from fluewright.evidence import moving
from fluewright.evidence.draft.house import HousePressure, Told, of_house
from fluewright.evidence.finding import PRACTICE, Clause, Finding, currency_of
from fluewright.evidence.limits import CAUTION, LEAVE_OFF, Question, all_answered, answered
from fluewright.evidence.part import Part, Seen, SoFar, Statement, Topic, Voiced
from fluewright.evidence.reading import Account, Reading
from fluewright.evidence.reckon import Reckoning
from fluewright.evidence.result import Result
from fluewright.rules import routes
from fluewright.rules.routes import RouteStep

WORD = "worst case"
ROUTE = "worst-case"
CARBON_MONOXIDE = "room carbon monoxide"
BREAK_OFF = (
    "stop the test: every fan off, every burner off, doors and windows open",
    "everybody out of the room until a meter reads it clear",
)


@dataclass(frozen=True, slots=True)
class Done:
    """One step, or one thing put back.

    step     id in the route
    done     whether it was done
    because  why not, or why there is nothing to do
    """

    step: str
    done: bool
    because: str = ""
    seen: str = ""
    time: str = ""


@dataclass(frozen=True, slots=True)
class WorstCase:
    """The route as it was gone.

    steps       in the order in which they were done
    put_back    what was turned and shut for the test, and is as before
    room        highest carbon monoxide read in the room during the test
    flame_left  whether a flame left its burner; None when nobody said
    house       pressures of the room
    """

    steps: tuple[Done, ...]
    put_back: tuple[Done, ...] = ()
    room: Reading | None = None
    flame_left: bool | None = None
    house: HousePressure = field(default_factory=HousePressure)

    @property
    def late(self) -> bool:
        """It rests on no other part."""
        return False

    def worked(self, so_far: SoFar) -> Part:
        """What was done, what stopped it, what is still to be put back."""
        account, reckoning = so_far.account, Reckoning(so_far.account)
        told = of_house(self.house, reckoning, WORD)
        results: dict[str, Result] = dict(told.results)
        stopped = _stops(self, account, reckoning, results)
        halted = any(one.grade == "stop" for one in stopped)
        unfinished = [] if halted else _unfinished(self)
        findings = [*stopped, *_not_put_back(self), *unfinished, *_out_of_order(self), *told.findings]
        return Part(
            WORD,
            "Worst case for venting",
            "draft",
            tuple(_said(self, told)),
            results,
            tuple(findings),
            (*_cannot_tell(self, halted), *told.cannot_tell),
            "Made on purpose: it stops at 35 ppm in the room or when a flame leaves its burner, and all is put back.",
            _answers(self, halted),
            data={"steps_open": [one.id for one in _open(self)], "to_put_back": [one.id for one in _to_put_back(self)]},
        )


def _route() -> routes.Route:
    return routes.route(ROUTE)


def _gone(given: WorstCase) -> Mapping[str, Done]:
    return {one.step: one for one in given.steps}


def _open(given: WorstCase) -> list[RouteStep]:
    """Steps that are neither done nor, where there may be none, left out for a reason."""
    gone = _gone(given)
    missing = []
    for step in _route().steps:
        one = gone.get(step.id)
        left_out = one is not None and bool(one.because) and step.needed == "where there is one"
        if one is None or not (one.done or left_out):
            missing.append(step)
    return missing


def _to_put_back(given: WorstCase) -> list[RouteStep]:
    """What a step changed and nobody has said to be as before."""
    back = {one.step for one in given.put_back if one.done}
    return [step for step in _route().steps if step.put_back and step.id not in back and _changed(given, step)]


def _changed(given: WorstCase, step: RouteStep) -> bool:
    """Whether a step may have changed something: done, or nobody said that it was not."""
    one = _gone(given).get(step.id)
    return one is None or one.done


def _answers(given: WorstCase, halted: bool) -> frozenset[Topic]:
    """Venting by the whole route gone through, air of the room by a reading in it."""
    room: tuple[Topic, ...] = ("room air",) if given.room is not None and given.room.figure is not None else ()
    venting: tuple[Topic, ...] = () if halted or _open(given) else ("venting",)
    return frozenset((*room, *venting))


def _clause(step: RouteStep) -> Clause:
    cited = step.citation
    clause = "" if cited.clause == "none" else cited.clause
    current = currency_of(step.known, step.current)
    return Clause(cited.document, clause, cited.edition, "US", step.known, "programme", current)


def _said(given: WorstCase, told: Told) -> list[Statement]:
    found = [_step_said(one) for one in given.steps]
    if given.room is not None:
        found.append(
            Statement(("the highest carbon monoxide in the room was ", Seen(CARBON_MONOXIDE, given.room), "."))
        )
    if given.flame_left is not None:
        words = "a flame left its burner" if given.flame_left else "no flame left its burner"
        found.append(Statement((f"{words}.",)))
    found += told.statements
    found += [_back_said(one) for one in given.put_back]
    return found


def _step_said(one: Done) -> Statement:
    step = _route().step(one.step)
    if one.done:
        seen = (": ", Voiced(one.seen)) if one.seen else ()
        return Statement((step.what, *seen, "."), time=one.time)
    return Statement((step.what, ": not done, because ", Voiced(one.because or "nobody said why"), "."), mark="unknown",
                     time=one.time)  # fmt: skip


def _back_said(one: Done) -> Statement:
    words = _route().step(one.step).put_back
    if one.done:
        seen = ("; seen: ", Voiced(one.seen)) if one.seen else ()
        return Statement(("put back: ", words, *seen, "."), time=one.time)
    because = (", because ", Voiced(one.because)) if one.because else ()
    return Statement(("not put back: ", words, *because, "."), mark="unknown", time=one.time)


def _stops(given: WorstCase, account: Account, reckoning: Reckoning, results: dict[str, Result]) -> list[Finding]:
    """What breaks the test off."""
    found = []
    if given.flame_left:
        step = _route().step("flame-leaves")
        found.append(
            Finding("worst-case-flame", "stop", "A flame left its burner: the test stops.",
                    "A burner that rolls out under suction can set fire to what is near and fills the room with carbon "
                    "monoxide.", (), _clause(step), do_now=(*BREAK_OFF, *LEAVE_OFF),
                    do_next=("find why the burner has no draft or no air before it is lit again",), cautions=CAUTION)
        )  # fmt: skip
    if given.room is not None:
        climbing = moving.breathed(
            {CARBON_MONOXIDE: given.room}, WORD, code="worst-case-rising", where="The air of the room"
        )
        found += [replace(one, grade="stop", do_now=(*BREAK_OFF, *one.do_now)) for one in climbing]
    if given.room is None or given.room.figure is None:
        return found
    result = reckoning.result(
        "carbon_monoxide_room", reckoning.read(given.room), formula="highest reading in the room during the test",
        substitution=given.room.typed.text, source="read", holds="where the meter was",
    )  # fmt: skip
    results[CARBON_MONOXIDE] = result
    rule = account.shop.limit(next(one.limit for one in _route().stops if one.limit))
    zero = account.instrument.zero
    doubt = "" if zero in ("outdoors", "doorway") else "Nobody has said that the meter was zeroed in clean air"
    judged = all_answered(result, WORD, account, doubt=doubt, key=CARBON_MONOXIDE)
    if all(one.code != rule.id for one in judged):
        elsewhere = "The text is of another place; the stop holds all the same"
        asked = answered(Question(rule, result, WORD, account, elsewhere, key=CARBON_MONOXIDE), over="stop")
        judged += [asked] if asked is not None else []
    return found + [replace(one, do_now=(*BREAK_OFF, *one.do_now)) if one.grade == "stop" else one for one in judged]


def _not_put_back(given: WorstCase) -> list[Finding]:
    """What the test changed in a house where people live on."""
    missing = _to_put_back(given)
    if not missing:
        return []
    return [
        Finding(
            "worst-case-put-back",
            "open",
            "Not everything that was turned or shut for the test is back as it was.",
            f"Open: {'; '.join(step.put_back for step in missing)}.",
            (),
            PRACTICE,
            do_next=tuple(f"put back {step.put_back}, and write it down" for step in missing),
            cautions=("A fan left on, a door left shut or a pilot left out goes on working after you have left.",),
        )
    ]


def _unfinished(given: WorstCase) -> list[Finding]:
    missing = _open(given)
    if not missing:
        return []
    return [
        Finding(
            "worst-case-unfinished",
            "open",
            "The worst case was not gone through to its end.",
            f"Not done: {'; '.join(step.what for step in missing)}. What was read so far can alarm and clears nothing.",
            (),
            _clause(missing[0]),
            do_next=tuple(step.text for step in missing),
        )
    ]


def _out_of_order(given: WorstCase) -> list[Finding]:
    """Steps done in another order than the route has them."""
    order = [step.id for step in _route().steps]
    done = [one.step for one in given.steps if one.done]
    late = next((b for a, b in pairwise(done) if order.index(a) > order.index(b)), None)
    if late is None:
        return []
    step = _route().step(late)
    return [
        Finding(
            "worst-case-order",
            "open",
            "The steps of the worst case were done in another order.",
            f"“{step.what}” came after a step that belongs behind it. A large appliance fired first warms the flue and "
            "hides what the small one does; a baseline taken with fans on is none.",
            (),
            _clause(step),
            do_next=("let the flue cool and go through it in order",),
        )
    ]


def _cannot_tell(given: WorstCase, halted: bool) -> list[str]:
    found = ["How the flue stands in the worst case: the test was broken off."] if halted else []
    if given.room is None or given.room.figure is None:
        found.append("Whether the room was safe during the test: carbon monoxide in it was not read.")
    if given.flame_left is None:
        found.append("Whether a flame left its burner: nobody said.")
    return found
