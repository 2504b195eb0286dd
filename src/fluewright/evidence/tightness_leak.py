"""The leak behind a falling gauge or a creeping meter, the smallest that could be seen, and how both agree."""

from collections.abc import Iterator

from fluewright.evidence import limits, tightness_medium, tightness_rules
from fluewright.evidence.finding import Finding
from fluewright.evidence.gas_words import GAS_LAW, SHUT, of_gas
from fluewright.evidence.part import Derived, Seen, Statement
from fluewright.evidence.result import Result
from fluewright.evidence.tightness_given import DIAL, EXPONENT, EXPONENT_LIMIT, PLAIN, SEEN, WORD, Creep
from fluewright.evidence.tightness_standstill import Fall, StandstillAtWork
from fluewright.kernel import ops, tightness
from fluewright.kernel.ops import Number


class LeakAtWork(StandstillAtWork):
    """The tests of one section being worked out, as far as the leak goes."""

    def leak(self, fall: Fall | None) -> Result | None:
        """The leak behind the fall, the smallest that could be seen, and how long a surer test would take."""
        if fall is None:
            return None
        if self.volume is None:
            self.cannot_tell.append("How large a leak would be: nobody knows the room in the pipes.")
            return None
        found = self.keep(
            "leak_rate",
            "leak_rate",
            tightness.leak_rate_from_decay(
                volume=self.volume,
                gauge_start=fall.start,
                gauge_end=fall.end,
                barometer_start=fall.barometers[0],
                barometer_end=fall.barometers[1],
                temperature_start=fall.temperatures[0],
                temperature_end=fall.temperatures[1],
                duration=fall.duration,
            ),
            "room × fall left/(barometer × time)",
            f"{self.shown(self.volume, 'pipe_volume')} × {self.shown(fall.left, 'pressure_fall')}/"
            f"({self.shown(fall.barometers[1], 'barometer')} × {self.shown(fall.duration, 'minutes_since_lit')})",
        )
        self._smallest(fall)
        of = f" of {fall.medium}" if fall.medium else ""
        said: tuple[str | Derived, ...] = ("that is a leak of ", Derived("leak_rate"))
        said += (f"{of}; a leak below ", Derived("smallest_leak"), " cannot be told in this test.")
        self.statements.append(Statement(said, mark="derived"))
        if self.section.pipes == "in use":
            self._fit_for_use(fall)
        return found

    def _smallest(self, fall: Fall) -> None:
        spread = max(self.results["tightness fall left"].spread, 1e-9)
        step = SEEN * spread
        smallest = tightness.smallest_leak(
            volume=self.volume, pressure_step=step, barometer=fall.barometers[1], duration=fall.duration
        )
        self.keep(
            "smallest_leak",
            "smallest_leak",
            smallest,
            "room × twice the doubt of the fall/(barometer × time)",
            f"{self.shown(self.volume, 'pipe_volume')} × {self.shown(step, 'pressure_fall')}/"
            f"({self.shown(fall.barometers[1], 'barometer')} × {self.shown(fall.duration, 'minutes_since_lit')})",
        )

    def _fit_for_use(self, fall: Fall) -> None:
        """The leak of gas at the pressure the line works at, against the classes of fitness."""
        leak = self.results["leak_rate"]
        key = "leak_rate"
        if leak.value is not None and leak.value > 0.0 and (self.section.working is not None or fall.medium != "gas"):
            key = self._at_work(fall)
        found = limits.all_answered(self.results[key], WORD, self.account, key=key)
        self.findings += [of_gas(one, do=SHUT) for one in found]

    def _at_work(self, fall: Fall) -> str:
        """The leak as gas leaks, at the pressure the line works at where it is known; gives its key."""
        exponent = self.reckoning.assumed(
            "share", EXPONENT, EXPONENT_LIMIT / PLAIN, source="between a hole and a crack", words="power of the leak"
        )
        rate = tightness.leak_rate_from_decay(
            volume=self.volume, gauge_start=fall.start, gauge_end=fall.end, barometer_start=fall.barometers[0],
            barometer_end=fall.barometers[1], temperature_start=fall.temperatures[0],
            temperature_end=fall.temperatures[1], duration=fall.duration,
        )  # fmt: skip
        moved = tightness_medium.as_gas(fall.medium, self.reckoning, leak=rate, exponent=exponent)
        formula, figures = "leak of gas", self.shown(rate, "leak_rate")
        if fall.medium not in ("", "gas"):
            formula = f"leak of {fall.medium} × (density ratio)^(1 − n) × (viscosity ratio)^(2n − 1)"
            figures += f" of {fall.medium} = {self.shown(moved, 'leak_rate')} of gas"
        working = self.section.working
        if working is not None and working.figure:
            gauge = self.reckoning.read(working, words="working pressure")
            mean = (fall.start + fall.end) / 2.0
            moved = tightness.leak_at_pressure(leak_rate=moved, gauge=mean, working_gauge=gauge, exponent=exponent)
            formula += " × (working pressure/test pressure)^n, n between 0.5 and 1"
            figures += f" × ({self.shown(gauge, 'line_pressure')}/{self.shown(mean, 'test_pressure')})^{EXPONENT}"
        key = "leak_rate at working pressure"
        self.keep(key, "leak_rate", moved, formula, figures)
        where = "at its working pressure the leak is " if working is not None else "as gas the leak is "
        unsaid = "; whether air or gas was in the pipe, nobody said." if not fall.medium else " of gas."
        self.statements.append(Statement((where, Derived(key), unsaid), mark="derived"))
        return key

    def creep(self, creep: Creep) -> Result | None:
        """What the meter counted with everything shut."""
        seen = (Seen("creep", creep.counted), " on a dial of ", Seen("dial", creep.dial), " a turn in ",
                Seen("creep time", creep.duration))  # fmt: skip
        self.statements.append(Statement(("everything shut, the meter counted ", *seen, "."), time=creep.time))
        if any(each.figure is None for each in (creep.counted, creep.dial, creep.duration)):
            self.cannot_tell.append("What the meter says of leaks: a reading is a word and no figure.")
            return None
        least = DIAL * (creep.dial.figure or 0.0)
        counted = self.reckoning.read(creep.counted, words="gas counted with everything shut", spread=least / PLAIN)
        duration = self.reckoning.read(creep.duration, words="time the dial was watched")
        barometer = self.air()
        gauge: Number = 0.0
        if creep.gauge is not None and creep.gauge.figure is not None:
            gauge = self.reckoning.read(creep.gauge, words="gas pressure in the meter")
        found = self.keep(
            "leak_rate_creep",
            "leak_rate_creep",
            tightness.leak_rate_from_creep(metered_volume=counted, duration=duration, gauge=gauge, barometer=barometer),
            "counted/time × (gauge + barometer)/barometer",
            f"{self.shown(counted, 'meter_creep')}/{self.shown(duration, 'minutes_since_lit')}",
        )
        visible = 2.0 * least / (creep.duration.figure or 1.0)
        said: tuple[str | Derived, ...] = ("by the meter that is a leak of ", Derived("leak_rate_creep"))
        self.statements.append(
            Statement((*said, f"; less than {self.about(visible, 'leak_rate_creep')} would not show."), mark="derived")
        )
        self.findings += tightness_rules.meter_judged(
            found, turn=creep.dial.figure or 0.0, watched=creep.duration.figure or 0.0, visible=visible,
            account=self.account, word=WORD,
        )  # fmt: skip
        return found

    def compared(self, by_decay: Result, by_creep: Result) -> None:
        """Two roads to one leak."""
        if by_decay.value is None or by_creep.value is None:
            return
        apart = abs(by_decay.value - by_creep.value)
        spread = (by_decay.spread**2 + by_creep.spread**2) ** 0.5
        if apart <= SEEN * spread:
            return
        pair = (
            f"{limits.seen(by_decay, self.account)} by the gauge and {limits.seen(by_creep, self.account)} by the meter"
        )
        self.findings.append(
            Finding(
                "leaks-disagree",
                "open",
                "Gauge and meter do not agree on the leak.",
                f"{pair}. A valve that lets by feeds the gauge; a meter does not turn at very small flows; the room in "
                "the pipes may be another than was typed.",
                ((WORD, "leak_rate"), (WORD, "leak_rate_creep")),
                GAS_LAW,
                do_next=("test the shut valve for let-by, then both again",),
            )
        )

    def drowned(self) -> Iterator[str]:
        """What temperature drift hides, and how long a test would have to last at the same doubt."""
        left = self.results["tightness fall left"]
        smallest = self.results.get("smallest_leak")
        litre_an_hour = 1e-3 / 3600.0
        if smallest is None or smallest.value is None or smallest.value <= litre_an_hour or left.value is None:
            return
        needed = tightness.duration_for_leak(
            volume=float(ops.value_of(self.volume)),
            pressure_spread=left.spread,
            barometer=self.account.surroundings.pressure,
            leak_rate=litre_an_hour,
            sureness=SEEN,
        )
        yield (
            f"Whether less than {self.about(smallest.value, 'smallest_leak')} leaks: to show 1 L/h at the same doubt "
            f"the test would have to last {self.about(needed, 'time_needed')}, or the temperature be read twice."
        )
