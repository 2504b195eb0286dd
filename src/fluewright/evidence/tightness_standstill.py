"""A gas pipe shut under pressure and read twice: what its gauge did, and what temperature and weather did to it."""

from dataclasses import dataclass, replace

from fluewright.evidence import limits, tightness_moving, tightness_rules, trust
from fluewright.evidence.finding import Finding
from fluewright.evidence.gas_words import GAS_LAW, SHUT, TEST_AGAIN, of_gas
from fluewright.evidence.part import Derived, Seen, Statement
from fluewright.evidence.part_at_work import AtWork
from fluewright.evidence.reading import Account
from fluewright.evidence.result import Result
from fluewright.evidence.tightness_given import (
    DRIFT,
    DRIFT_TIME,
    GUSTS,
    HOLDS,
    PLAIN,
    SAME_BAROMETER,
    SAME_THERMOMETER,
    SOURCE,
    STEP,
    WEATHER,
    WORD,
    Section,
    Standstill,
)
from fluewright.kernel import tightness
from fluewright.kernel.ops import Number

LIKELY = 0.75
"""Odds of a loss from which on a test that cannot tell is not left at that."""


@dataclass(frozen=True, slots=True)
class Fall:
    """One standstill worked out: both readings, what a tight pipe would show, what is left."""

    start: Number
    end: Number
    barometers: tuple[Number, Number]
    temperatures: tuple[Number, Number]
    duration: Number
    left: Number
    medium: str = ""


class StandstillAtWork(AtWork):
    """The tests of one section being worked out, as far as the gauge goes."""

    def __init__(self, section: Section, account: Account) -> None:
        super().__init__(account)
        self.section = section
        volume = section.volume
        known = volume is not None and volume.figure is not None
        self.volume = self.reckoning.read(volume) if known and volume is not None else None

    def keep(self, key: str, quantity: str, number: Number, formula: str, substitution: str) -> Result:
        made = self.reckoning.result(
            quantity, number, formula=formula, substitution=substitution, source=SOURCE, holds=HOLDS
        )
        self.results[key] = made
        return made

    def _settings(self, one: Standstill) -> tuple[tuple[Number, Number], tuple[Number, Number]]:
        """Temperatures and barometers of both readings, read or assumed with what they may have done."""
        reckoning, seconds = self.reckoning, one.duration.figure or 0.0
        if one.temperatures is not None and all(each.figure is not None for each in one.temperatures):
            first, second = (
                reckoning.read(each, words=f"temperature of the pipe, {which} reading", spread=SAME_THERMOMETER / PLAIN)
                for each, which in zip(one.temperatures, ("first", "second"), strict=True)
            )
        else:
            drift = one.drift if one.drift is not None else DRIFT * min(1.0, seconds / DRIFT_TIME)
            first = reckoning.assumed(
                "pipe_temperature", 288.15, 10.0 / PLAIN, source="assumed", words="temperature of the pipe"
            )
            second = first + reckoning.assumed(
                "temperature_difference",
                0.0,
                drift / PLAIN,
                source="typed" if one.drift is not None else "nobody read it; common practice",
                words="change of the pipe's temperature",
            )
        return (first, second), self._barometers(one, seconds)

    def _barometers(self, one: Standstill, seconds: float) -> tuple[Number, Number]:
        reckoning, place = self.reckoning, self.account.surroundings
        if one.barometers is not None and all(each.figure is not None for each in one.barometers):
            first, second = (
                reckoning.read(each, words=f"barometer, {which} reading", spread=SAME_BAROMETER / PLAIN)
                for each, which in zip(one.barometers, ("first", "second"), strict=True)
            )
            return first, second
        first = reckoning.assumed("barometer", place.pressure, place.pressure_spread, source=place.pressure_source)
        change = reckoning.assumed(
            "pressure_rise",
            0.0,
            max(GUSTS, WEATHER * seconds) / PLAIN,
            source="nobody read it; common practice",
            words="change of the barometer",
        )
        return first, first + change

    def standstill(self, one: Standstill) -> Fall | None:
        """Say one test, work out what its gauge did, and judge it; None where it has no figures."""
        self._say(one)
        moving = tightness_moving.seen(one, word=WORD)
        if moving is not None:
            self.findings.append(moving)
        if any(each.figure is None for each in (one.start, one.end, one.duration)):
            self.cannot_tell.append(f"What the {one.purpose} test came to: a reading is a word and no figure.")
            return None
        reckoning, step = self.reckoning, one.steps / STEP
        start = reckoning.read(one.start, words=f"first reading of the gauge, {one.purpose}", spread=step)
        end = reckoning.read(one.end, words=f"second reading of the gauge, {one.purpose}", spread=step)
        warm, air = self._settings(one)
        tight = tightness.gauge_when_tight(
            gauge_start=start,
            barometer_start=air[0],
            barometer_end=air[1],
            temperature_start=warm[0],
            temperature_end=warm[1],
        )
        duration = reckoning.read(one.duration, words=f"time between the readings, {one.purpose}")
        fall = Fall(start, end, air, warm, duration, tight - end, one.filled)
        if one.purpose == "let-by":
            self._rise(one, fall)
        else:
            self._gauge(one, fall, tight)
        return fall

    def _say(self, one: Standstill) -> None:
        name = {"tightness": "tightness test", "load": "load test", "let-by": "let-by of the shut valve"}[one.purpose]
        name += f" with {one.medium}" if one.medium else ""
        settled = "" if one.settled is None else f" after {self.shown(one.settled, 'minutes_since_lit')} to settle"
        pieces: tuple[str | Seen, ...] = (
            f"{name}: ", Seen(f"{one.purpose} start", one.start), f"{settled}, then ",
            Seen(f"{one.purpose} end", one.end), " after ", Seen(f"{one.purpose} time", one.duration),
        )  # fmt: skip
        pairs = (("pipe", one.temperatures), ("barometer", one.barometers))
        for words, pair in pairs:
            if pair is not None:
                pieces += (f"; {words} ", Seen(f"{one.purpose} {words} start", pair[0]), " then ",
                           Seen(f"{one.purpose} {words} end", pair[1]))  # fmt: skip
        typed = " · ".join(each.typed.text for each in (one.start, one.end, one.duration))
        self.statements.append(Statement((*pieces, "."), time=one.time, margin=typed))

    def _rise(self, one: Standstill, fall: Fall) -> None:
        key = f"{one.purpose} rise"
        self.keep(
            key,
            "pressure_rise",
            0.0 - fall.left,
            "second reading − what a tight pipe would show",
            f"{self.shown(fall.end, 'test_pressure')} − {self.shown(fall.left + fall.end, 'test_pressure')} = "
            f"{self.shown(0.0 - fall.left, 'pressure_rise')}",
        )
        self.statements.append(Statement(("the gauge rose by ", Derived(key), "."), mark="derived"))
        self._judge(one, key, self.results[key])

    def _gauge(self, one: Standstill, fall: Fall, tight: Number) -> None:
        """The fall as read, and what temperature and barometer leave of it."""
        raw, left = f"{one.purpose} fall", f"{one.purpose} fall left"
        self.keep(
            raw,
            "pressure_fall",
            fall.start - fall.end,
            "first reading − second reading",
            f"{self.shown(fall.start, 'test_pressure')} − {self.shown(fall.end, 'test_pressure')} = "
            f"{self.shown(fall.start - fall.end, 'pressure_fall')}",
        )
        self.keep(
            left,
            "pressure_fall_unexplained",
            fall.left,
            "(first reading + barometer) × T2/T1 − barometer later − second reading",
            f"{self.shown(tight, 'test_pressure')} − {self.shown(fall.end, 'test_pressure')} = "
            f"{self.shown(fall.left, 'pressure_fall')}",
        )
        self._moved(one, fall)
        self._judge(one, left, self.results[left])

    def _moved(self, one: Standstill, fall: Fall) -> None:
        """What the gauge did, in one sentence, with what a kelvin would do to it."""
        per_kelvin = tightness.pressure_per_kelvin(
            pressure=fall.start + fall.barometers[0], temperature=fall.temperatures[0]
        )
        self.keep(
            f"{one.purpose} per kelvin",
            "pressure_per_kelvin",
            per_kelvin,
            "absolute pressure/absolute temperature",
            f"{self.shown(per_kelvin, 'pressure_per_kelvin')} for each K",
        )
        self.statements.append(
            Statement(
                (
                    "fall of the gauge ",
                    Derived(f"{one.purpose} fall"),
                    "; temperature and barometer leave ",
                    Derived(f"{one.purpose} fall left"),
                    "; each kelvin would move it by ",
                    Derived(f"{one.purpose} per kelvin"),
                    ".",
                ),
                mark="derived",
            )
        )

    def _judge(self, one: Standstill, key: str, result: Result) -> None:
        """The test against every text that speaks of it, or against physics where none does."""
        asked = tightness_rules.Tried(
            purpose=one.purpose,
            pressure=one.start.figure or 0.0,
            settled=one.settled,
            duration=one.duration.figure or 0.0,
            step=one.steps,
            volume=None if self.section.volume is None else self.section.volume.figure,
            pipes=self.section.pipes,
            appliances=self.section.appliances,
            dwelling=self.section.dwelling,
            meter=self.section.meter,
            working=None if self.section.working is None else self.section.working.figure,
            medium=one.filled,
        )
        raw = self.results.get(f"{one.purpose} fall")
        found = tightness_rules.judged(asked, result, raw, account=self.account, word=WORD, key=key)
        self.findings += found.findings
        self.cannot_tell += found.cannot_tell
        if not found.findings:
            self._by_physics(one, key, result)

    def _by_physics(self, one: Standstill, key: str, result: Result) -> None:
        """Whether gas was lost at all, where no text says how much may be."""
        if result.value is None:
            return
        step = one.steps
        question = trust.beyond(result, step)
        lost = Finding(
            "pressure-lost",
            "open",
            "Whether the pipe is tight cannot be told from this test.",
            f"{limits.seen(result, self.account)} is left; a step of the gauge is {self.shown(step, 'pressure_fall')}; "
            f"more than a step: {limits.in_words(question)}.",
            ((WORD, key),),
            GAS_LAW,
            odds=question,
            do_next=TEST_AGAIN,
        )
        way = "rose" if one.purpose == "let-by" else "fell"
        if question is not None and question >= limits.CERTAIN:
            lead = f"The gauge {way} by more than temperature and weather account for."
            lost = of_gas(replace(lost, grade="act", lead=lead, do_next=()), do=SHUT)
        elif question is not None and question >= LIKELY:
            lost = replace(lost, grade="advise", lead=f"The gauge {way}, and the weather hardly explains it.")
        self.findings.append(lost)
