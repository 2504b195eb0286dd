"""Appliances that give their gas to the room: heaters without a flue, ovens, heaters that blow it out with the air."""

from dataclasses import dataclass, replace
from typing import Literal

from fluewright.evidence import moving
from fluewright.evidence.finding import PRACTICE, WRONG, Finding, clause_of
from fluewright.evidence.flue import AIR_FREE_LIMIT
from fluewright.evidence.limits import CAUTION, Question, all_answered, answered, rules_for
from fluewright.evidence.monoxide import as_read, speaking
from fluewright.evidence.part import Derived, Part, Seen, SoFar, Statement
from fluewright.evidence.reading import Account, Reading
from fluewright.evidence.reckon import Reckoning
from fluewright.evidence.result import Result
from fluewright.evidence.trust import beyond
from fluewright.kernel import dilution, ops
from fluewright.rules import bans, currency
from fluewright.rules.schema import Limit

Kind = Literal["unvented heater", "oven", "direct-fired air heater"]
KINDS: tuple[Kind, ...] = ("unvented heater", "oven", "direct-fired air heater")
Building = Literal["", "dwelling", "manufactured home", "voucher housing", "other"]
BUILDINGS: tuple[Building, ...] = ("", "dwelling", "manufactured home", "voucher housing", "other")
HOMES = ("dwelling", "manufactured home", "voucher housing")
Moment = Literal["at temperature", "cold start", ""]
MOMENTS: tuple[Moment, ...] = ("", "at temperature", "cold start")

RULE_OXYGEN = 0.209
"""mol/mol of fresh air in US rules."""
LITTLE_MONOXIDE = 9e-6
"""mol/mol as read: below this an air-free figure is mostly the doubt of the cell (common practice, no source)."""
FREE = "carbon_monoxide_air_free"
RISE = "carbon_monoxide_rise"
PER_INPUT = "room_volume_per_input"


@dataclass(frozen=True, slots=True)
class UnventedGiven:
    """One appliance without a flue, or one reading moment of it.

    kind         key of the rows in the rule books
    words        what it is called here
    moment       cold start for the peak after lighting, at temperature with the burner on, empty when not said
    monoxide     in its own gas, where it leaves
    oxygen       beside it, at the same moment
    room_before  of the room, before it was lit
    room_after   of the room, after it ran
    delivered    in the air that a direct-fired heater delivers
    building     where it stands, for laws that forbid it there; empty when not said
    inputs       heat input of everything without a flue in this room, together
    room_volume  of the room it stands in
    """

    kind: Kind
    words: str = ""
    moment: Moment = ""
    monoxide: Reading | None = None
    oxygen: Reading | None = None
    room_before: Reading | None = None
    room_after: Reading | None = None
    delivered: Reading | None = None
    building: Building = ""
    inputs: Reading | None = None
    room_volume: Reading | None = None

    @property
    def late(self) -> bool:
        """It waits for nothing."""
        return False

    @property
    def word(self) -> str:
        """By which evidence refers to it."""
        name = self.words or self.kind
        return f"{name}, {self.moment}" if self.moment else name

    def worked(self, so_far: SoFar) -> Part:
        """Gas and room, each against its own limit."""
        return _Unvented(self, so_far.account).part()


class _Unvented:
    """One such appliance being worked out."""

    def __init__(self, given: UnventedGiven, account: Account) -> None:
        self.given = given
        self.account = replace(account, appliance=replace(account.appliance, burner=given.kind))
        self.reckon = Reckoning(account)
        named = ("monoxide", "oxygen", "room_before", "room_after", "delivered", "inputs", "room_volume")
        self.seen: dict[str, Reading] = {
            name: reading for name in named if (reading := getattr(given, name)) is not None
        }

    def part(self) -> Part:
        """The part of the job."""
        free, rise = self._free(), self._rise()
        room = self._room_for_it()
        made = {FREE: free, RISE: rise, PER_INPUT: room}
        results = {key: result for key, result in made.items() if result is not None}
        why = self._why_meaningless()
        over_free = ([] if free is None else self._of_free(free, why)) or self._of_floor()
        if free is not None and why and not over_free:
            results[FREE] = replace(free, value=None, working=None, bound="", refused=why)
        findings = [
            *self._forbidden(),
            *over_free,
            *([] if over_free else self._not_judged(free, why)),
            *self._of_room(rise),
            *self._of_loading(room),
            *self._of_delivered(),
            *self._of_moving(),
        ]
        kind = self.given.words or self.given.kind
        return Part(
            self.given.word,
            f"Gas into the room: {self.given.word}",
            "room",
            (*self._statements(kind), *self._derived(results)),
            results,
            tuple(findings),
            self._cannot_tell(),
            note="What such an appliance makes, people in the room breathe: the room is read as well as the gas.",
            answers=frozenset({"room air"} if self._read_in_room() else ()),
            data={"kind": self.given.kind, "moment": self.given.moment},
        )

    def _read_in_room(self) -> bool:
        room = (self.given.room_before, self.given.room_after)
        return any(reading is not None and reading.figure is not None for reading in room)

    def _why_meaningless(self) -> str:
        """Why a figure free of air says nothing here; empty when it does."""
        oxygen, monoxide = self.given.oxygen, self.given.monoxide
        if oxygen is not None and (oxygen.figure or 0.0) > AIR_FREE_LIMIT:
            return f"above {AIR_FREE_LIMIT * 100:.0f} % oxygen free of air means nothing; use it as read, and the room"
        if monoxide is not None and (monoxide.figure or 0.0) < LITTLE_MONOXIDE and monoxide.bound != "at least":
            little = LITTLE_MONOXIDE * 1e6
            return f"below {little:.0f} ppm as read, free of air means nothing; use it as read, and the room"
        return ""

    def _free(self) -> Result | None:
        monoxide, oxygen = self.given.monoxide, self.given.oxygen
        if monoxide is None or oxygen is None or monoxide.figure is None or oxygen.figure is None:
            return None
        if oxygen.figure >= RULE_OXYGEN - 0.001:
            return Result(FREE, None, 0.0, 0.0, None, refused="the oxygen is that of fresh air")
        number = dilution.at_reference_oxygen(
            fraction=self.reckon.read(monoxide),
            oxygen_dry_fraction=self.reckon.read(oxygen),
            air_oxygen_fraction=RULE_OXYGEN,
        )
        ppm, percent = monoxide.figure * 1e6, oxygen.figure * 100.0
        return self.reckon.result(
            FREE,
            number,
            formula="carbon monoxide x 20.9 / (20.9 - oxygen)",
            substitution=f"{ppm:.4g} x 20.9 / (20.9 - {percent:.4g}) = {float(ops.value_of(number)) * 1e6:.4g} ppm",
            source="mixing, with the 20.9 % of US rules",
            holds="gas of this flame alone, thinned with room air",
        )

    def _rules(self) -> list[Limit]:
        """Limits of gas free of air for this kind."""
        return [rule for rule in rules_for(FREE, self.account) if self.given.kind in rule.applies.appliances]

    def _of_free(self, free: Result, why: str) -> list[Finding]:
        """Gas free of air against the limit of this kind; where it means nothing it can still alarm."""
        doubt = why or (
            "" if self.given.moment == "at temperature" else "These readings were not said to be at temperature"
        )
        if self.given.moment == "cold start":
            doubt = "These readings are of a cold start, and the limit is for an appliance at temperature"
        asked = (Question(rule, free, self.given.word, self.account, doubt) for rule in self._rules())
        found = [one for each in asked if (one := answered(each, over=each.rule.severity)) is not None]
        if self.given.moment == "cold start":
            return [self._peak(one) for one in found if one.grade in WRONG]
        if why:
            return [one for one in found if one.grade in WRONG and (one.odds or 0.0) >= 0.975]
        return found

    def _of_floor(self) -> list[Finding]:
        """Carbon monoxide as read where it could not be freed of air: there is at least as much, so it can alarm."""
        monoxide = self.given.monoxide
        if monoxide is None or monoxide.bound == "at most":
            return []
        least = as_read(monoxide, self.account, name=FREE, bound="at least")
        if least is None:
            return []
        asked = (Question(rule, least, self.given.word, self.account, key="monoxide") for rule in self._rules())
        found = [one for each in asked if (one := answered(each, over=each.rule.severity)) is not None]
        over = [one for one in found if one.grade in WRONG]
        return [self._peak(one) for one in over] if self.given.moment == "cold start" else over

    def _not_judged(self, free: Result | None, why: str) -> list[Finding]:
        """Its gas was read and yet not judged: that clears nothing, and what to read instead is said."""
        given = self.given
        if given.monoxide is None or (free is not None and free.value is not None and not why):
            return []
        reason = why or ("" if free is None else free.refused) or "no figure of oxygen was read beside it"
        if given.monoxide.figure is None:
            reason = "carbon monoxide was a word and no figure"
        return [
            Finding(
                "unvented-not-judged",
                "open",
                f"{given.word[:1].upper()}{given.word[1:]}: its gas was read, but this cannot clear it.",
                f"{reason[:1].upper()}{reason[1:]}. As read, thinned by room air, it can raise an alarm and no more.",
                ((given.word, "monoxide"),),
                PRACTICE,
                do_next=(
                    "at temperature, read oxygen and carbon monoxide together where its gas is thickest, before it "
                    "meets the room; then read the room after it ran",
                ),
            )
        ]

    def _of_moving(self) -> list[Finding]:
        """What climbed, in its gas or in the air, with a figure or without."""
        named = ("monoxide", "room_after", "delivered")
        where = f"{self.given.word[:1].upper()}{self.given.word[1:]}"
        read = {key: self.seen[key] for key in named if key in self.seen}
        return moving.breathed(read, self.given.word, code="unvented-rising", where=where)

    def _peak(self, finding: Finding) -> Finding:
        """Over the limit right after lighting: told, and judged again at temperature."""
        body = f"{finding.body} It was read right after lighting: read again at temperature with the burner on."
        return replace(finding, code=f"{finding.code}-cold", grade="advise", body=body, do_now=())

    def _rise(self) -> Result | None:
        before, after = self.given.room_before, self.given.room_after
        if before is None or after is None or before.figure is None or after.figure is None:
            return None
        number = self.reckon.read(after, words="room after") - self.reckon.read(before, words="room before")
        one, two = after.figure * 1e6, before.figure * 1e6
        return self.reckon.result(
            RISE,
            number,
            formula="room after - room before",
            substitution=f"{one:.3g} - {two:.3g} = {one - two:.3g} ppm",
            source="difference of two readings",
            holds="nothing else ran or was opened between; it goes on rising while the appliance runs",
        )

    def _of_room(self, rise: Result | None) -> list[Finding]:
        found: list[Finding] = []
        read = {key: self.seen[key] for key in ("room_after", "room_before") if key in self.seen}
        for key in sorted(read, key=lambda one: -(read[one].figure or 0.0)):
            result = as_read(read[key], self.account, name="carbon_monoxide_room")
            if result is not None:
                doubt = "These readings are of a few minutes, and the room goes on rising while it runs"
                found += speaking(all_answered(result, self.given.word, self.account, doubt=doubt, key=key))
                break
        odds = None if rise is None or rise.value is None else beyond(rise, 0.0)
        if odds is not None and odds >= 0.975:
            found.append(self._raised(odds))
        return found

    def _raised(self, odds: float) -> Finding:
        return Finding(
            "unvented-rise",
            "advise",
            f"{self.given.word[:1].upper()}{self.given.word[1:]} puts carbon monoxide into the room.",
            "The room held more after it ran than before; that is practically certain, and people breathe it.",
            ((self.given.word, RISE),),
            PRACTICE,
            odds=odds,
            do_now=("air the room, and turn it off until its flame was looked at",),
            do_next=(
                "clean and set the burner, then read gas and room again; a vented appliance is the lasting answer",
            ),
            cautions=CAUTION,
        )

    def _forbidden(self) -> list[Finding]:
        """Laws that forbid it where it stands, before any reading."""
        found: list[Finding] = []
        for ban in bans.speaking(kind=self.given.kind, jurisdiction=self.account.jurisdiction, day=self.account.day):
            at_home = "dwelling" in ban.buildings and self.given.building in HOMES
            there, unsaid = at_home or self.given.building in ban.buildings, not self.given.building
            if not there and not unsaid:
                continue
            where = " or ".join(ban.buildings)
            name = f"{self.given.word[:1].upper()}{self.given.word[1:]}"
            lead = f"{name}: the law read does not allow it here." if there else f"{name}: not allowed in a {where}."
            unsure = "" if currency.stands(ban.current) else f" {currency.why_not(ban.current)}."
            asked = "" if there else " Nobody has said what kind of building this is."
            found.append(
                Finding(
                    ban.id,
                    ban.severity if there else "open",
                    lead,
                    f"{ban.text} For: {ban.only}.{unsure}{asked} No reading makes good what the law forbids.",
                    (),
                    clause_of(ban),
                    do_now=("leave it off until the authority of the place has been asked",) if there else (),
                    do_next=("ask the authority which text binds today, and have a vented appliance put in",),
                )
            )
        return found

    def _room_for_it(self) -> Result | None:
        """Room for each unit of heat input that goes into it unvented."""
        inputs, volume = self.given.inputs, self.given.room_volume
        if inputs is None or volume is None or not inputs.figure or not volume.figure:
            return None
        return self.reckon.result(
            PER_INPUT,
            self.reckon.read(volume) / self.reckon.read(inputs),
            formula="volume of the room / heat input",
            substitution=f"{volume.figure:.4g} m3 / {inputs.figure / 1e3:.4g} kW = "
            f"{volume.figure / inputs.figure * 1e3:.4g} m3/kW",
            source="division",
            holds="heat input of everything without a flue in this room, together",
        )

    def _of_loading(self, room: Result | None) -> list[Finding]:
        return [] if room is None else all_answered(room, self.given.word, self.account)

    def _of_delivered(self) -> list[Finding]:
        reading = self.given.delivered
        if reading is None:
            return []
        found: list[Finding] = []
        delivered = as_read(reading, self.account, name="carbon_monoxide_delivered")
        if delivered is not None:
            found += all_answered(delivered, self.given.word, self.account, key="delivered")
            room = replace(delivered, name="carbon_monoxide_room")
            words = "the air it delivers"
            found += all_answered(room, self.given.word, self.account, key="delivered", words=words)
        return speaking(found)

    def _statements(self, kind: str) -> tuple[Statement, ...]:
        moment = {"": "at a moment nobody named"}.get(self.given.moment, self.given.moment)
        heads = {
            "monoxide": f"where the gas of the {kind} leaves, {moment}, there was ",
            "oxygen": "oxygen beside it was ",
            "room_before": "before it was lit the room held ",
            "room_after": "after it ran the room held ",
            "delivered": "the air it delivers held ",
            "inputs": "everything without a flue in this room burns ",
            "room_volume": "the room holds ",
        }
        return tuple(Statement((heads[key], Seen(key, reading), ".")) for key, reading in self.seen.items())

    def _derived(self, results: dict[str, Result]) -> tuple[Statement, ...]:
        heads = {
            FREE: "carbon monoxide free of air: ",
            RISE: "the room rose by ",
            PER_INPUT: "room for each unit of heat input: ",
        }
        return tuple(
            Statement((head, Derived(key), "."), "derived")
            for key, head in heads.items()
            if key in results and results[key].value is not None
        )

    def _cannot_tell(self) -> tuple[str, ...]:
        said: list[str] = []
        after = self.given.room_after
        if self.given.kind != "direct-fired air heater" and self.given.monoxide is None:
            said.append(f"How the {self.given.kind} burns: carbon monoxide in its gas was not read.")
        if after is None or after.figure is None:
            said.append(f"What the {self.given.kind} does to the room: the room was not read after it ran.")
        delivered = self.given.delivered
        if self.given.kind == "direct-fired air heater" and (delivered is None or delivered.figure is None):
            said.append("Whether the delivered air is fit to breathe: its limit lies there, and it was not read there.")
        if self.given.kind == "oven" and self.given.moment != "at temperature":
            said.append("How the oven burns at temperature: a cold start shows a peak of its own.")
        return tuple(said)
