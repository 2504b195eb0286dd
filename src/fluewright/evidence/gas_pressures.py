"""Gas pressure from the meter to the appliance: standing, working, everything on, shut off; regulator and pipe."""

from collections.abc import Iterable
from dataclasses import dataclass, field, replace

from fluewright.evidence import gas_moving, limits, trust
from fluewright.evidence.finding import Clause, Finding
from fluewright.evidence.gas_drop import DropAtWork
from fluewright.evidence.gas_given import UNNAMED, WORD, WORKING, At, Given, LinePressure, State
from fluewright.evidence.gas_lines import gas_of
from fluewright.evidence.gas_words import CAUTIONS, LEAVE_OFF, LOW_CAUTIONS, of_gas, telling
from fluewright.evidence.origins import spread_of
from fluewright.evidence.part import Derived, Part, Seen, SoFar, Statement
from fluewright.evidence.result import Result
from fluewright.evidence.tightness import tested
from fluewright.kernel import gas_pipe
from fluewright.quantity import parse

FAR_BEYOND = 2.0
"""Times the greatest pressure of the plate from which on controls may be burst (common practice, no source)."""
PLATE = Clause("plate of the appliance or papers of its maker, as typed", "", "", "here", "read", "standard")
NO_FLOW_LAW = (
    "49 CFR 192.197(a)(5) asks of a service regulator that its build-up at no flow leaves every appliance safe."
)
"""Read in the 2015 annual edition."""


@dataclass(frozen=True, slots=True)
class GasSupply(Given):
    """The gas supply of one visit."""

    late: bool = field(default=False, init=False)

    def worked(self, so_far: SoFar) -> Part:
        """Work out regulator and pipe, and judge every pressure."""
        return _Working(self, so_far.account).part()


class _Working(DropAtWork):
    """One gas supply being worked out."""

    def part(self) -> Part:
        """Everything in the order of a technician: pressures, regulator, pipe, judgement."""
        for one in self.given.pressures:
            self._say(one)
        self._regulator()
        self._fall()
        self.pipe()
        self.findings += telling(found for one in self.given.pressures for found in self._judged(one))
        self._left_open()
        return self.gathered(WORD, "Gas supply", "supply")

    def _say(self, one: LinePressure) -> None:
        self.statements.append(
            Statement((f"{one.words}: ", Seen(one.key, one.reading), "."), time=one.time, margin=one.reading.typed.text)
        )
        question = parse.plausible(one.reading.typed)
        if question:
            self.cannot_tell.append(f"Whether {one.words} was typed as read. {question}")

    def _regulator(self) -> None:
        """Droop at full flow and lock-up at none, as shares of the set point."""
        if self.given.set_point is None:
            return
        typed = self.given.set_point
        set_point = self.reckoning.read(typed, words="set point of the regulator")
        self.statements.append(Statement(("set point of the regulator: ", Seen("set point", typed), "."), mark="plate"))
        places: tuple[At, ...] = ("regulator", "meter")
        asked: tuple[tuple[str, State, float], ...] = (
            ("regulator_droop", "everything on", -1.0),
            ("regulator_lock_up", "shut off", 1.0),
        )
        for name, state, sign in asked:
            found = self.first((state,), places)
            if found is None:
                continue
            pressure = self.numbers[found]
            shift = sign * gas_pipe.regulator_shift(pressure=pressure, set_pressure=set_point)
            pair = (self.shown(pressure, "line_pressure"), self.shown(set_point, "line_pressure"))
            first, second = pair if sign > 0.0 else pair[::-1]
            self.keep(
                name,
                name,
                shift,
                "(set point − pressure)/set point" if sign < 0.0 else "(pressure − set point)/set point",
                f"({first} − {second})/{self.shown(set_point, 'line_pressure')} = {self.shown(shift, name)}",
                "definition; classes of accuracy and of closing pressure in EN 334 (from memory)",
                "the set point is that of the spring, read at the flow that its plate means",
            )
            words = f"{'droop' if sign < 0.0 else 'lock-up'} of the regulator"
            of = "with everything on" if sign < 0.0 else "closed"
            said = (f"{words}, {of}: ", Derived(name), " of its set point.")
            self.statements.append(Statement(said, mark="derived"))
            self.findings += [
                replace(one, body=f"{one.body} {NO_FLOW_LAW}") if sign > 0.0 and one.grade == "advise" else one
                for one in limits.all_answered(self.results[name], WORD, self.account, words=words)
            ]

    def _fall(self) -> None:
        """From standing to working at the appliance."""
        working = self.first(("everything on", "this appliance"), ("appliance",))
        if ("appliance", "standing") not in self.numbers or working is None:
            return
        found = self.difference(
            "supply_pressure_fall",
            "supply_pressure_fall",
            ("appliance", "standing"),
            working,
            "one gauge at one place; its common error is counted twice, so the doubt is generous",
        )
        self.statements.append(
            Statement(
                (f"from standing to {working[1]} the appliance loses ", Derived("supply_pressure_fall"), "."),
                mark="derived",
            )
        )
        self.findings += limits.all_answered(found, WORD, self.account)

    def _kinds(self, one: LinePressure) -> tuple[str, ...]:
        """What the books call this reading."""
        natural = ", natural gas, at work" if gas_of(self.account.fuel) == "natural gas" else ""
        kinds = [self.given.dwelling] if one.at == "meter" else []
        if one.at == "appliance" and self.given.most is None:
            kinds.append("at the appliance")
        if natural and one.at == "appliance" and one.state in WORKING and self.given.most is None:
            kinds.append("at the appliance" + natural)
        if natural and one.at == "meter" and one.state == "everything on":
            kinds.append("at the meter" + natural)
        return tuple(kind for kind in kinds if kind)

    def _judged(self, one: LinePressure) -> Iterable[Finding]:
        """One pressure against the plate and the books."""
        moving = gas_moving.seen(one)
        if moving is not None:
            yield moving
        if one.reading.figure is None:
            return
        below, above = spread_of(one.reading, self.account.instrument)
        result = Result("line_pressure", one.reading.figure, below, above, None, bound=one.reading.bound)
        if one.at == "appliance":
            yield from self._by_plate(one, result)
        kinds = self._kinds(one)
        for found in limits.all_answered(result, WORD, self.account, key=one.key, words=one.words, kinds=kinds):
            too_low = found.limit.startswith("at least")
            if not (too_low and one.state not in WORKING):
                yield of_gas(found, do=LEAVE_OFF, cautions=LOW_CAUTIONS if too_low else CAUTIONS)

    def _by_plate(self, one: LinePressure, result: Result) -> Iterable[Finding]:
        most, least = self.given.most, self.given.least
        if most is not None and most.figure is not None:
            yield self._against(one, result, most.figure, upper=True)
        if least is not None and least.figure is not None and one.state in WORKING:
            yield self._against(one, result, least.figure, upper=False)

    def _against(self, one: LinePressure, result: Result, edge: float, *, upper: bool) -> Finding:
        """One pressure against one figure of the plate; the plate decides, so inside it clears."""
        above = trust.beyond(result, edge)
        odds = above if above is None or upper else 1.0 - above
        side, code = ("over the greatest", "supply-over") if upper else ("under the least", "supply-under")
        shown = self.shown(edge, "line_pressure")
        plain = Finding(
            f"{code}-plate",
            "open",
            f"{one.words.capitalize()}: whether it is {side} pressure of the plate cannot be told.",
            f"{limits.seen(result, self.account)} against {shown}; {side.split(' ')[0]} it: {limits.in_words(odds)}.",
            ((WORD, one.key),),
            PLATE,
            odds=odds,
            limit=f"{'at most' if upper else 'at least'} {shown}",
            do_next=limits.READ_AGAIN,
        )
        if odds is None:
            return plain
        edge_read = (one.at, "standing" if upper else "everything on") in self.read
        if odds < limits.HARDLY and gas_moving.still(one) and not edge_read:
            unread = "standing pressure, the highest," if upper else "pressure with everything on, the lowest,"
            inside = limits.stopped(f"{one.words.capitalize()}, is not {side} pressure on the plate, {shown}")
            return replace(plain, lead=f"{inside} The {unread} was not read.", do_next=())
        if odds < limits.HARDLY and gas_moving.still(one):
            inside = "below the highest" if upper else "above the lowest"
            lead = limits.stopped(f"{one.words.capitalize()}, is {inside} pressure on the plate, {shown}")
            return replace(plain, grade="fine", lead=lead, do_next=())
        if odds < 0.5:
            return plain
        sure = "is" if odds >= limits.CERTAIN else "may be"
        lead = f"{one.words.capitalize()}, {sure} {side} pressure of the plate."
        why = (
            " Controls made for less can leak, stick open or burst."
            if upper
            else " A flame short of gas lifts, lights back or gives too little heat, and no setting of it holds."
        )
        far = upper and (result.value or 0.0) > FAR_BEYOND * edge
        passed = replace(plain, grade="stop" if far else "act", lead=lead, body=plain.body + why, do_next=())
        return of_gas(passed, do=LEAVE_OFF, cautions=CAUTIONS if upper else LOW_CAUTIONS)

    def _left_open(self) -> None:
        """What nobody read."""
        say = self.cannot_tell.append
        if not self.given.gas_named:
            say(UNNAMED)
        states = {state for _, state in self.read}
        if self.read and "standing" not in states:
            say("How high the gas pressure stands with nothing on: nobody read it.")
        if self.read and "everything on" not in states:
            say("Whether the gas pressure holds with everything on: nobody read it.")
        if self.read and "shut off" not in states:
            say("Whether the regulator closes: nobody read the pressure just after shutting off.")
        if self.read and self.given.set_point is None:
            say("How far the regulator stands off its set point: nobody gave it.")
        if any(at == "appliance" for at, _ in self.read) and (self.given.least is None or self.given.most is None):
            say("What gas pressure the appliance is made for: its plate was not read in full.")
        if not tested(self.account):
            say("Whether the gas pipes are tight: nobody tested them.")
