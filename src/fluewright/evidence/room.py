"""The air of a room: people first, then what was read, against its limits, over time, and beside the air outdoors."""

import math
from dataclasses import dataclass, replace
from typing import Literal

from fluewright.evidence import moving, room_means, room_people
from fluewright.evidence.finding import PHYSICS, WRONG, Finding
from fluewright.evidence.limits import Question, all_answered, answered, rules_for
from fluewright.evidence.monoxide import as_read, speaking
from fluewright.evidence.origins import class_for
from fluewright.evidence.part import Derived, Part, Piece, Seen, SoFar, Statement
from fluewright.evidence.reading import Account, Reading
from fluewright.evidence.reckon import Reckoning, refused
from fluewright.evidence.result import Result
from fluewright.evidence.room_means import Mean, Timed
from fluewright.evidence.room_people import MEDICAL, Alarm, Symptoms
from fluewright.evidence.trust import beyond
from fluewright.kernel import ops
from fluewright.quantity.room_names import PERIODS

WORD = "room air"
ROOM = "carbon_monoxide_room"
Zero = Literal["", "outdoors", "doorway", "inside"]
Place = Literal["dwelling", "work space", "parking garage", "outdoors"]
RECORDED = "from the trace"
"""Source of a reading that came from a recorded trace."""
ENTRY = "entry"
WORN = "personal"


@dataclass(frozen=True, slots=True)
class RoomGiven:
    """What was asked, seen and read about the air of a room.

    symptoms       whether anybody feels unwell
    entry          read on coming in, before anything was run or opened
    readings       with their times
    outdoor        read outdoors, with the same instrument
    personal       on a second meter, worn and independent
    zero           where the instrument was zeroed; that of the visit when empty
    personal_zero  where the worn meter was zeroed
    alarms         carbon monoxide alarms
    without_alarm  whether somebody looked and there is none
    where          what kind of place it is, for the limits that speak there
    """

    symptoms: Symptoms = "not asked"
    entry: Reading | None = None
    readings: tuple[Timed, ...] = ()
    outdoor: Reading | None = None
    personal: Reading | None = None
    zero: Zero = ""
    personal_zero: Zero = ""
    alarms: tuple[Alarm, ...] = ()
    without_alarm: bool = False
    where: Place = "dwelling"

    @property
    def late(self) -> bool:
        """It waits for nothing."""
        return False

    def worked(self, so_far: SoFar) -> Part:
        """People, readings, means, and what they say."""
        return _Room(self, so_far.account).part()


def _key(index: int) -> str:
    return f"reading {index}"


class _Room:
    """One room being worked out."""

    def __init__(self, given: RoomGiven, account: Account) -> None:
        self.given, self.account = given, account
        self.zero = given.zero or account.instrument.zero
        self.reckon = Reckoning(account)
        self.seen: dict[str, Reading] = {} if given.entry is None else {ENTRY: given.entry}
        self.seen |= {_key(index): timed.reading for index, timed in enumerate(given.readings, 1)}
        self.floor = self.zero == "inside"

    def part(self) -> Part:
        """The part of the job."""
        means = room_means.highest(self.given.readings, self.reckon, floor=self.floor)
        results = self._results(means)
        findings = [*self._of_people(), *self._of_level(), *self._of_moving()]
        findings += [*self._of_rise(results), *self._of_means(means)]
        read = any(reading.figure is not None for reading in self.seen.values())
        return Part(
            WORD,
            "The air of the room",
            "room",
            (*self._statements(), *self._derived(results)),
            results,
            tuple(findings),
            self._cannot_tell(means, results),
            note=MEDICAL,
            answers=frozenset({"room air"} if read else ()),
            data={"symptoms": self.given.symptoms, "zero": self.zero, "where": self.given.where},
        )

    def _results(self, means: dict[str, Mean]) -> dict[str, Result]:
        results: dict[str, Result] = {}
        top = self._top()
        if top is not None:
            results |= self._highest(top) | self._rise(top)
        if len(room_means.by_place(self.given.readings)) and len(self.given.readings) > 1:
            breathed = room_means.exposure(self.given.readings, self.reckon, floor=self.floor)
            results[breathed.name] = breathed
        for mean in means.values():
            if mean.whole:
                results[mean.result.name] = mean.result
                results[mean.mass.name] = mean.mass
        return results

    def _top(self) -> str | None:
        """Key of the highest reading with a figure; of two alike the one that is only a floor."""
        figured = {key: reading for key, reading in self.seen.items() if reading.figure is not None}
        if not figured:
            return None
        return max(figured, key=lambda key: (figured[key].figure or 0.0, figured[key].bound == "at least"))

    def _doubt(self) -> str:
        """Why these readings clear nothing; empty when they may."""
        instrument, day = self.account.instrument, self.account.day
        why = (
            (self.given.symptoms == "yes", "These readings stand beside somebody who feels unwell"),
            (self.given.symptoms == "not asked", "Nobody was asked how they feel, and these readings do not say it"),
            (self.zero == "inside", "These readings rest on a zero taken indoors"),
            (not self.zero, "These readings rest on a zero that nobody has named"),
            (instrument.due is not None and instrument.due < day, "These readings come from an instrument out of date"),
            (any(one.rising for one in self.seen.values()), "These readings were still rising"),
            (self._meters_differ(), "These readings do not agree with the worn meter"),
        )
        return next((words for true, words in why if true), "")

    def _meters_differ(self) -> bool:
        """Whether the worn meter shows more than both can err."""
        top = self._top()
        if top is None or self.given.personal is None:
            return False
        one, two = as_read(self.seen[top], self.account), as_read(self.given.personal, self.account, name=ROOM)
        if one is None or two is None or one.value is None or two.value is None:
            return False
        return two.value - one.value > 2.0 * math.hypot(one.above, two.below)

    def _of_people(self) -> list[Finding]:
        given, account = self.given, self.account
        unwell = room_people.unwell(given.symptoms, account)
        of_alarms = [found for alarm in given.alarms for found in room_people.of_alarm(alarm, account)]
        missing = [room_people.no_alarm()] if given.without_alarm else []
        return [*([] if unwell is None else [unwell]), *of_alarms, *missing]

    def _of_level(self) -> list[Finding]:
        """The highest reading, and the worn meter, against the limits of a room."""
        found: list[Finding] = []
        top = self._top()
        if top is not None:
            result = as_read(self.seen[top], self.account, name=ROOM, bound="at least" if self.floor else "")
            if result is not None:
                found += all_answered(result, WORD, self.account, doubt=self._doubt(), key=top)
                found += self._ceilings(result, top)
        if self.floor and self.given.personal is not None and not self._doubt_of_worn():
            found = [one for one in found if one.grade in WRONG]  # the second meter answers what a floor leaves open
        worn = None if self.given.personal is None else as_read(self.given.personal, self.account, name=ROOM)
        if worn is not None:
            words = "carbon monoxide on the worn meter"
            found += all_answered(worn, WORD, self.account, doubt=self._doubt_of_worn(), key=WORN, words=words)
        return [*speaking(found), *self._of_zero()]

    def _of_moving(self) -> list[Finding]:
        """What rose while it was read, also where nobody wrote down a figure."""
        worn = {} if self.given.personal is None else {WORN: self.given.personal}
        return moving.breathed({**self.seen, **worn}, WORD, code="room-rising", where="The air of the room")

    def _ceilings(self, result: Result, key: str) -> list[Finding]:
        """Ceilings of work spaces, which nobody may be above at any moment."""
        if self.given.where not in ("work space", "parking garage"):
            return []
        highest = replace(result, name="carbon_monoxide_highest")
        rules = rules_for(highest.name, self.account)
        asked = (Question(rule, highest, WORD, self.account, self._doubt(), key=key) for rule in rules)
        return [found for one in asked if (found := answered(one, over=one.rule.severity)) is not None]

    def _doubt_of_worn(self) -> str:
        if self.given.symptoms == "yes":
            return "The readings of the worn meter stand beside somebody who feels unwell"
        if self.given.personal_zero in ("outdoors", "doorway"):
            return ""
        zero = "a zero taken indoors" if self.given.personal_zero else "a zero that nobody has named"
        return f"The readings of the worn meter rest on {zero}"

    def _of_zero(self) -> list[Finding]:
        """An inside zero cannot clear the room."""
        if not self.floor or not self.seen:
            return []
        second = self.given.personal is not None and self.given.personal_zero in ("outdoors", "doorway")
        also = " The worn meter was zeroed outdoors and speaks for itself." if second else ""
        return [
            Finding(
                "room-zero-inside",
                "open",
                "The instrument was zeroed in this air, so its readings here are floors.",
                f"Whatever the air held then is missing from every reading: a true 9 ppm reads as nothing.{also}",
                tuple((WORD, key) for key in self.seen),
                PHYSICS,
                do_next=("zero it outdoors and read the room again, or use a second meter that was zeroed there",),
            )
        ]

    def _highest(self, top: str) -> dict[str, Result]:
        name, reading = "carbon_monoxide_highest", self.seen[top]
        figures = [one.figure for one in self.seen.values() if one.figure is not None]
        moved = len(figures) > 1 and max(figures) > min(figures)
        kind = class_for(ROOM, self.account.instrument)
        slow = "" if kind is None else f", nor in less than the {kind.channels[0].t90:.0f} s the cell needs"
        floor = "at least" if (moved or self.floor) and reading.bound != "at most" else ""
        result = as_read(reading, self.account, name=name, bound=floor)
        assert result is not None
        shown = reckon_top(self.reckon, reading, slow, count=len(figures))
        return {name: replace(result, working=shown.working)}

    def _rise(self, top: str) -> dict[str, Result]:
        name, outdoor = "carbon_monoxide_rise", self.given.outdoor
        if outdoor is None:
            return {}
        if outdoor.figure is None:
            return {name: refused(name, "outdoors only a word was read")}
        inside = self.reckon.read(self.seen[top], words="highest in the room")
        number = inside - self.reckon.read(outdoor, words="carbon monoxide outdoors")
        one, two = (self.seen[top].figure or 0.0) * 1e6, outdoor.figure * 1e6
        return {
            name: self.reckon.result(
                name,
                number,
                formula="highest in the room - outdoors",
                substitution=f"{one:.3g} - {two:.3g} = {one - two:.3g} ppm",
                source="difference of two readings; nothing is taken off the room's reading before a limit",
                holds="same cell, minutes apart; their doubts are taken as independent, which is wide",
            )
        }

    def _of_rise(self, results: dict[str, Result]) -> list[Finding]:
        rise = results.get("carbon_monoxide_rise")
        odds = None if rise is None or rise.value is None else beyond(rise, 0.0)
        if odds is None or odds < 0.975:
            return []
        return [
            Finding(
                "room-rise",
                "advise",
                "The air in here holds more carbon monoxide than the air outdoors.",
                "Something in the building makes it or lets it in: outdoor air alone cannot. That it is more than "
                "outdoors is practically certain.",
                ((WORD, "carbon_monoxide_rise"),),
                PHYSICS,
                odds=odds,
                do_next=("run the appliances one by one and read the room beside each; look into a garage too",),
            )
        ]

    def _of_means(self, means: dict[str, Mean]) -> list[Finding]:
        return room_means.answers(means, self.account, where=self.given.where, doubt=self._doubt(), word=WORD)

    def _statements(self) -> tuple[Statement, ...]:
        given = self.given
        people = room_people.statements(given.symptoms, given.alarms, without_alarm=given.without_alarm)
        said: list[Statement] = list(people)
        if given.entry is not None:
            said.append(Statement(("on coming in the room held ", Seen(ENTRY, given.entry), ".")))
        if given.personal is not None:
            zero = {"": "zeroed nobody knows where"}.get(given.personal_zero, f"zeroed {given.personal_zero}")
            said.append(Statement((f"the worn meter, {zero}, showed ", Seen(WORN, given.personal), ".")))
        if given.outdoor is not None:
            said.append(Statement(("outdoors there was ", Seen("outdoor", given.outdoor), ".")))
        said += self._told()
        if not self.seen:
            said.append(Statement(("the air of the room was not read.",), "unknown"))
        elif self.zero:
            said.append(Statement((f"the instrument was zeroed {self.zero}.",)))
        return tuple(said)

    def _told(self) -> list[Statement]:
        """Readings one by one; of a recorded series only the first, the highest and the last."""
        readings = list(enumerate(self.given.readings, 1))
        recorded = [timed for _, timed in readings if timed.reading.source == RECORDED]
        if not recorded:
            return [
                Statement(
                    (f"{timed.place}: " if timed.place else "the room held ", Seen(_key(index), timed.reading), "."),
                    time=timed.words,
                )
                for index, timed in readings
            ]
        start, top = recorded[0].seconds, self._top()
        length = (recorded[-1].seconds - start) / 60.0
        said = [Statement((f"{len(recorded)} readings were recorded over {length:.0f} min.",))]
        for index, timed in readings:
            if index in (1, len(readings)) or _key(index) == top:
                pieces = (f"after {(timed.seconds - start) / 60.0:.0f} min the room held ",
                          Seen(_key(index), timed.reading), ".")  # fmt: skip
                said.append(Statement(pieces))
        return said

    def _derived(self, results: dict[str, Result]) -> tuple[Statement, ...]:
        heads = {
            "carbon_monoxide_highest": "highest in the room: ",
            "carbon_monoxide_rise": "above the air outdoors: ",
            "carbon_monoxide_exposure": "breathed by somebody beside the instrument: ",
        }
        said = [Statement((head, Derived(key), "."), "derived") for key, head in heads.items() if _there(results, key)]
        for end, (words, _) in PERIODS.items():
            ppm, mass = f"carbon_monoxide_mean_{end}", f"carbon_monoxide_mass_mean_{end}"
            if _there(results, ppm):
                pieces: tuple[Piece, ...] = (f"highest mean over {words}: ", Derived(ppm), ", ", Derived(mass), ".")
                said.append(Statement(pieces, "derived"))
        return tuple(said)

    def _cannot_tell(self, means: dict[str, Mean], results: dict[str, Result]) -> tuple[str, ...]:
        said: list[str] = []
        if not any(reading.figure is not None for reading in self.seen.values()):
            said.append("Carbon monoxide in the room: no figure was read, and absence of a reading is never safe.")
        elif not self.zero:
            said.append("What the room held: nobody has said where the instrument was zeroed.")
        if self.given.outdoor is None and self.seen:
            said.append("Whether it comes from indoors: the air outdoors was not read.")
        rise = results.get("carbon_monoxide_rise")
        if rise is not None and rise.value is not None and not self._of_rise(results):
            said.append("Whether something indoors makes carbon monoxide: the rise is within what the cell can tell.")
        short = [PERIODS[end][0] for end, mean in means.items() if not mean.whole]
        if short:
            said.append(f"Means over {', '.join(short)}: less than three quarters of each were read.")
        return (*said, *room_means.gaps(self.given.readings))


def _there(results: dict[str, Result], key: str) -> bool:
    return key in results and results[key].value is not None


def reckon_top(reckon: Reckoning, reading: Reading, slow: str, *, count: int) -> Result:
    """The highest of some readings with its working."""
    number = reckon.read(reading, words="highest reading")
    return reckon.result(
        "carbon_monoxide_highest",
        number,
        formula="the highest of all readings",
        substitution=f"highest of {count}: {float(ops.value_of(number)) * 1e6:.3g} ppm",
        source="as read",
        holds=f"what the air held at these moments; what came between them nobody saw{slow}",
    )
