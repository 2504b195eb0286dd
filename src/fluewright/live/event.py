"""One event: when, what moved, how much with doubt, which sentence, and what to do."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

from fluewright.evidence.finding import PRACTICE, Finding, Grade
from fluewright.live.changes import Change
from fluewright.live.channel import amount
from fluewright.quantity import show


@dataclass(frozen=True, slots=True)
class Event:
    """Something that happened while it was watched. Its grade is never fine: that nothing moved clears nothing.

    number     of the watch, 1 and up; the same event may be told again as more of it is known
    key        which sentence
    grade      stop, act, advise or open
    start      s, when it began
    told       s, when this sentence was first said
    until      s, up to when it is known
    open       whether it still goes on
    appliance  which, empty where there is one
    lead, why  the sentences
    moved      the changes it is made of
    mark       what was done shortly before, empty when nothing was
    do_now, do_next, cautions  as in findings
    people_out people have to get out before anything is touched
    """

    number: int
    key: str
    grade: Grade
    start: float
    told: float
    until: float
    open: bool
    appliance: str
    lead: str
    why: str
    moved: tuple[Change, ...] = ()
    mark: str = ""
    do_now: tuple[str, ...] = ()
    do_next: tuple[str, ...] = ()
    cautions: tuple[str, ...] = ()
    people_out: bool = False
    evidence: tuple[str, ...] = field(default=())

    @property
    def finding(self) -> Finding:
        """The same as a finding, for whoever judges."""
        names = tuple(change.channel.quantity for change in self.moved) or self.evidence
        return Finding(
            f"live-{self.key}",
            self.grade,
            self.lead,
            self.why,
            tuple(("live", name) for name in names),
            PRACTICE,
            do_now=self.do_now,
            do_next=self.do_next,
            cautions=self.cautions,
            people_out=self.people_out,
        )

    def as_data(self) -> Mapping[str, Any]:
        """Plain data for a page or a program, canonical units."""
        return {
            "number": self.number,
            "key": self.key,
            "grade": self.grade,
            "start": self.start,
            "told": self.told,
            "until": self.until,
            "open": self.open,
            "appliance": self.appliance,
            "cautions": list(self.cautions),
            "lead": self.lead,
            "why": self.why,
            "mark": self.mark,
            "do_now": list(self.do_now),
            "do_next": list(self.do_next),
            "people_out": self.people_out,
            "moved": [moved_as_data(change) for change in self.moved],
        }


def moved_as_data(change: Change) -> dict[str, Any]:
    """One change as plain data."""
    return {
        "channel": change.channel.key,
        "quantity": change.channel.quantity,
        "point": change.channel.point,
        "start": change.start,
        "found": change.found,
        "way": change.way,
        "before": change.before,
        "after": change.after,
        "farthest": change.farthest,
        "amount": change.amount,
        "doubt": change.doubt,
        "words": moved_words(change),
        "open": change.open,
    }


def moved_words(change: Change, system: show.System = "si") -> str:
    """How much, with twice its doubt: "+0.8 % (± 0.1 %)"; so far while it goes on, the peak where it came back."""
    quantity = change.channel.quantity
    if change.way == "back":
        return f"{amount(quantity, change.farthest - change.before, system)} and back"
    doubt = 2.0 * change.doubt
    with_doubt = f" (± {amount(quantity, doubt, system, signed=False)})" if 0.0 < doubt < float("inf") else ""
    return f"{amount(quantity, change.amount, system)}{with_doubt}{' so far' if change.open else ''}"
