"""What the readings of one appliance point to.

What cannot be known stands before what is inferred. A dangerous cause stays in view until a test strikes it. There are
no percentages in any sentence; the probabilities inside are for ordering, for tests and for the reliability table.
"""

from collections.abc import Mapping
from dataclasses import dataclass

from fluewright.diagnose import refusals
from fluewright.diagnose.apart import alike, observable
from fluewright.diagnose.asked import USUAL, Asked, sized
from fluewright.diagnose.clues import KINDS, clues
from fluewright.diagnose.next_test import Round, of_page, proposed
from fluewright.diagnose.table import HEALTHY, NONE, Look, Page, looks, page
from fluewright.diagnose.told import Moved, Sentence, Telling, moved, speaks_against, speaks_for
from fluewright.diagnose.weigh import Weighed, weighed
from fluewright.quantity.names import of
from fluewright.simulate.faults import faults
from fluewright.words import number, say, spoken

LEFT = 0.02
"""Probability from which a cause counts as left; judgement."""
IN_VIEW = 0.0002
"""Probability under which a dangerous cause that the readings could show leaves view; judgement."""
STRUCK = 0.006
STOP = 0.9
"""Probability of some dangerous cause from which the sentence is to stop and prove it first; judgement."""
_BREACH = "exchanger-breached"
_NO_LOOK = Look("", "", 0.0, (), "", "", {}, 0.0)


@dataclass(frozen=True, slots=True)
class Cause:
    """One cause that is left.

    because   what speaks for it, in sentences
    against   what speaks against it
    danger    why nobody may lose sight of it, or empty
    do        what mends it, once it is proved
    """

    name: str
    words: str
    because: tuple[Sentence, ...]
    against: tuple[Sentence, ...]
    danger: str
    do: str


@dataclass(frozen=True, slots=True)
class Struck:
    """A cause that the readings exclude, and by what."""

    name: str
    words: str
    because: Sentence


@dataclass(frozen=True, slots=True)
class Danger:
    """A dangerous cause that is still in view, and what closes it before the seal.

    seen      whether the readings at hand could show it at all
    close     the test that closes it, with its minutes
    because   what speaks for it
    standing  whether something is amiss and it is left among the causes, or the readings could not show it and it is
              likely enough to be: to be closed before the visit is sealed
    """

    name: str
    words: str
    why: str
    seen: bool
    close: str
    because: tuple[Sentence, ...] = ()
    standing: bool = False


@dataclass(frozen=True, slots=True)
class Diagnosis:
    """Everything that is said.

    design   virtual appliance that stood for it
    unknown  what these readings cannot show, in sentences; comes first
    moved    what moved and which way, farthest first
    quiet    whether nothing in the list is likelier than a healthy appliance
    causes   left, likeliest first
    struck   excluded, each with its reason
    dangers  in view, to be closed at the seal: tested out, made safe, or handed on by name
    stop     whether a dangerous cause is likely: stop and prove it first
    next     the best test and what belongs on the same walk; None where nothing is open
    inside   probabilities, never printed
    """

    design: str
    unknown: tuple[str, ...]
    moved: tuple[Moved, ...]
    quiet: bool
    causes: tuple[Cause, ...]
    struck: tuple[Struck, ...]
    dangers: tuple[Danger, ...]
    stop: bool
    next: Round | None
    inside: Weighed


def words_of(cause: str) -> str:
    """A cause as it is said; an open heat exchanger is only ever something to inspect."""
    if cause == HEALTHY:
        return say("nothing wrong that these readings show")
    if cause == NONE:
        return say("something that is not in the list")
    return say("inspect the heat exchanger") if cause == _BREACH else spoken(faults()[cause].words)


def in_minutes(look: Look) -> str:
    """A test with the minutes it takes."""
    return say("{test} ({minutes} min)", test=spoken(look.words), minutes=number(look.minutes, ".0f"))


def _closing(found: Page, cause: str) -> str:
    best = max(looks().values(), key=lambda look: look.shows.get(cause, 0.0) if of_page(found, look) else 0.0)
    return in_minutes(best) if best.shows.get(cause, 0.0) > 0.0 else spoken(faults()[cause].do)


def _dangers(telling: Telling, could: frozenset[str], *, amiss: bool) -> tuple[Danger, ...]:
    """Dangerous causes that nothing has struck; one that no reading could show stands as long as something is amiss."""
    result = telling.weighed
    shares, found = result.each(), []
    for name in telling.page.rows:
        if name == HEALTHY or not faults()[name].danger:
            continue
        share = max(shares.get(name, 0.0), result.wary.get(name, 0.0))
        if name not in could or share > IN_VIEW:
            because = speaks_for(telling, name) if name in could else ()
            standing = amiss and shares.get(name, 0.0) >= LEFT
            why, close = spoken(faults()[name].danger), _closing(telling.page, name)
            found.append((share, Danger(name, words_of(name), why, name in could, close, because, standing)))
    return tuple(danger for _, danger in sorted(found, key=lambda pair: -pair[0]))


def _causes(telling: Telling, could: frozenset[str]) -> tuple[Cause, ...]:
    """Causes that are left, of those that the readings could show."""
    found = []
    for name, share in telling.weighed.each().items():
        if name in (HEALTHY, NONE) or name not in could or share < LEFT:
            continue
        fault = faults()[name]
        found.append(
            Cause(
                name=name,
                words=words_of(name),
                because=speaks_for(telling, name),
                against=speaks_against(telling, name),
                danger=spoken(fault.danger),
                do=spoken(fault.do),
            )
        )
    return tuple(found)


def _struck(telling: Telling, could: frozenset[str], dangers: tuple[Danger, ...]) -> tuple[Struck, ...]:
    """Causes that the readings exclude, each by the reading that does so most."""
    shares, kept = telling.weighed.each(), {danger.name for danger in dangers}
    found = []
    for name in telling.page.rows:
        if name == HEALTHY or name not in could or name in kept or shares.get(name, 0.0) >= STRUCK:
            continue
        reasons = speaks_against(telling, name)
        if reasons:
            found.append(Struck(name, words_of(name), reasons[0]))
    return tuple(found)


def _together(names: tuple[str, ...]) -> str:
    said = [words_of(name) for name in names]
    return say("{most} and {last}", most=", ".join(said[:-1]), last=said[-1])


def _unknown(telling: Telling, could: frozenset[str], asked: Asked, causes: tuple[Cause, ...]) -> tuple[str, ...]:
    """What these readings cannot show."""
    lines = []
    aside = (HEALTHY, _BREACH)
    hidden = tuple(name for name in telling.page.rows if name not in aside and name not in could)
    if hidden:
        told = [words_of(name) for name in hidden]
        lines.append(say("these readings cannot show, one way or the other: {causes}", causes="; ".join(told)))
    groups = alike(
        page=telling.page, weighed=telling.weighed, among=[cause.name for cause in causes], seen=list(asked.seen)
    )
    lines += [say("these readings cannot tell apart: {causes}", causes=_together(group)) for group in groups]
    if _BREACH in telling.page.rows:
        lines.append(say("whether a heat exchanger is open can only be seen by inspection; no reading proves it whole"))
    for name in asked.read:
        if sized(name) and name not in asked.plate:
            lines.append(say("{reading} says nothing without the plate beside it", reading=spoken(of(name).words)))
        elif name in USUAL and name not in asked.plate:
            lines.append(say("{reading} says little without the plate beside it", reading=spoken(of(name).words)))
    return tuple(lines)


def _telling(asked: Asked) -> Telling:
    """Clues and their weighing."""
    found = page(asked.design)
    formed = clues(
        read=asked.read,
        doubts=asked.doubts,
        plate=asked.plate,
        usual=asked.usual(found.plate),
        most=asked.most or found.most,
    )
    known = {name: clue for name, clue in formed.items() if name in found.clues}
    if not known and not asked.seen:
        raise refusals.nothing_read()
    result = weighed(page=found, clues=known, seen=asked.seen)
    return Telling(found, result, known, asked.read, asked.seen, asked.system)


def _likely_danger(shares: Mapping[str, float]) -> bool:
    """Whether some dangerous cause is likely."""
    return any(share >= STOP for name, share in shares.items() if name in faults() and faults()[name].danger)


def diagnosed(asked: Asked) -> Diagnosis:
    """What readings and looks point to.

    asked  class, readings, plate, answers
    -> diagnosis; UseError FW-U-310, FW-U-311, PhysicsRefused FW-K-100
    """
    asked = asked.checked()
    telling = _telling(asked)
    found, result = telling.page, telling.weighed
    could = observable(page=found, at=result.chosen, seen=list(asked.seen))
    shares = result.each()
    strayed = moved(telling)
    quiet = next(iter(shares)) == HEALTHY and not strayed
    causes, dangers = _causes(telling, could), _dangers(telling, could, amiss=not quiet)
    return Diagnosis(
        design=found.name,
        unknown=_unknown(telling, could, asked, causes),
        moved=strayed,
        quiet=quiet,
        causes=causes,
        struck=_struck(telling, could, dangers),
        dangers=dangers,
        stop=_likely_danger(shares),
        next=proposed(page=found, weighed=result, read=list(asked.read), seen=asked.seen),
        inside=result,
    )


def readings_weighed() -> tuple[str, ...]:
    """Registry names of every reading that can be weighed."""
    return tuple(sorted({kind.reading for kind in KINDS.values()} | {"air_temperature"}))
