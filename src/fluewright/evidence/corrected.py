"""A visit as it would have been read by a cell without a known error, and which of its verdicts are then other ones."""

from collections.abc import Mapping
from dataclasses import dataclass, fields, is_dataclass, replace
from typing import Any

from fluewright.evidence.checked import MONOXIDE, TRIED, cell_of
from fluewright.evidence.finding import ORDER, WRONG, Finding, Judged
from fluewright.evidence.monoxide import undecided
from fluewright.evidence.reading import Account, Burst, Reading

Errors = Mapping[str, float]
"""By cell: how much too high it reads, as a share of what is there; -0.18 where it shows 82 ppm of 100."""

NOT_READ = ("assumed", "from the plate", TRIED)
"""Sources of readings that no cell took on this appliance."""


def of_share(share: float) -> float:
    """What a reading is multiplied by to be what was there."""
    return 1.0 / (1.0 + share)


def _scaled(reading: Reading, factor: float) -> Reading:
    typed = reading.typed
    value, low, high = (None if end is None else end * factor for end in (typed.value, typed.low, typed.high))
    return replace(reading, typed=replace(typed, value=value, low=low, high=high))


def _without(thing: Any, errors: Errors) -> Any:
    """Anything that a visit holds, with its readings put right; the very same where nothing in it was wrong."""
    if isinstance(thing, Reading):
        share = errors.get(cell_of(thing.quantity), 0.0)
        return thing if not share or thing.source in NOT_READ else _scaled(thing, of_share(share))
    if isinstance(thing, Burst):
        share = errors.get(MONOXIDE, 0.0)
        factor = of_share(share)
        return replace(thing, mean=thing.mean * factor, spread=thing.spread * factor) if share else thing
    if type(thing) in (tuple, list):
        made = [_without(each, errors) for each in thing]
        same = all(new is old for new, old in zip(made, thing, strict=True))
        return thing if same else type(thing)(made)
    if isinstance(thing, Mapping):
        held = {key: _without(each, errors) for key, each in thing.items()}
        return thing if all(held[key] is each for key, each in thing.items()) else held
    if is_dataclass(thing) and not isinstance(thing, type):
        now = {each.name: getattr(thing, each.name) for each in fields(thing) if each.init}
        changed = {name: new for name, old in now.items() if (new := _without(old, errors)) is not old}
        return replace(thing, **changed) if changed else thing
    return thing


def corrected(account: Account, errors: Errors) -> Account:
    """A visit with every reading of a cell put right, in the flue and beside it.

    account  the visit as it was read
    errors   of its instrument
    -> the same with the figures that were there; the words that were typed stay
    """
    return replace(account, stretches=_without(account.stretches, errors), parts=_without(account.parts, errors))


@dataclass(frozen=True, slots=True)
class Change:
    """One limit that is answered otherwise.

    before, after  what is said of it as it was read, and put right; empty where nothing was
    limit          the limit, in words
    grade          after: stop, act, advise, open for too close to call, fine
    was            the same before
    code           of the rule
    word           the stretch or part it speaks of
    """

    before: str
    after: str
    limit: str
    grade: str
    was: str
    code: str
    word: str

    @property
    def weight(self) -> tuple[int, int]:
        """For sorting, the worst first: what gets worse before what gets better, then by how grave it is."""
        rank: dict[str, int] = {name: number for number, name in enumerate(ORDER)}
        now, then = rank.get(self.grade, len(rank)), rank.get(self.was, len(rank))
        return (0 if now < then else 1, now)


Key = tuple[str, str]


def _states(judged: Judged) -> dict[Key, tuple[str, Finding]]:
    """What is said of each limit in each stretch: its grade; of an open one whether it is too close to call."""
    found: dict[Key, tuple[str, Finding]] = {}
    for one in judged.findings:
        word = one.evidence[0][0] if one.evidence else ""
        state = "open" if undecided(one) else "" if one.grade == "open" else one.grade
        if one.code == "not-worked-out":
            state = "open"
        found.setdefault((word, one.code), (state, one))
    return found


def changes(before: Judged, after: Judged) -> tuple[Change, ...]:
    """The limits that two judgements of one visit answer differently, the worst first.

    Which of several limits that are kept is shown hangs on how near they are; that alone is no change.
    """
    old, new = _states(before), _states(after)
    found = []
    for key in dict.fromkeys((*new, *old)):
        was, said = old.get(key, ("", None))
        now, says = new.get(key, ("", None))
        if was == now or not {was, now} & {*WRONG, "open", "cured"}:
            continue
        either = says or said
        found.append(
            Change(
                before=said.lead if said is not None else "",
                after=says.lead if says is not None else "",
                limit=either.limit if either is not None else "",
                grade=now,
                was=was,
                code=key[1],
                word=key[0],
            )
        )
    graver = {one.word for one in found if one.after and one.weight[0] == 0}
    told = [one for one in found if one.after or one.word not in graver]  # a narrower limit that a wider one hides
    return tuple(sorted(told, key=lambda one: one.weight))
