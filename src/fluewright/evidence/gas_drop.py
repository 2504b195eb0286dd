"""The drop along the gas pipe: as measured, as its pieces have it, as the code has it, and what is left over."""

from collections.abc import Sequence

from fluewright.errors import PhysicsRefused
from fluewright.evidence import limits
from fluewright.evidence.finding import Clause, Finding, currency_of
from fluewright.evidence.gas_given import STATE_WORDS, WORD, WORKING, At, Given, State
from fluewright.evidence.gas_lines import CODE_PRESSURE, Drops, Flow, GasLine
from fluewright.evidence.gas_words import FRICTION, LOW_CAUTIONS, PIPE_SHORT, of_gas
from fluewright.evidence.part import Derived, Seen, Statement, Voiced
from fluewright.evidence.part_at_work import AtWork
from fluewright.evidence.reading import Account
from fluewright.evidence.reckon import by_physics, refused
from fluewright.evidence.result import Result
from fluewright.kernel import ops
from fluewright.kernel.ops import Number
from fluewright.quantity import show
from fluewright.rules.pipe_tables import manufactured_homes

CLEAR_OF_DOUBT = 2.0
"""Standard uncertainties that measured and worked out must be apart to be called different."""
SMALL = 25.0
"""Pa below which a difference is not worth looking for (common practice, no source)."""


class DropAtWork(AtWork):
    """A gas supply being worked out, as far as its pipe goes."""

    def __init__(self, given: Given, account: Account) -> None:
        super().__init__(account)
        self.given = given
        self.read = {(one.at, one.state): one for one in given.pressures}
        self.numbers = {
            key: self.reckoning.read(one.reading, words=one.words)
            for key, one in self.read.items()
            if one.reading.figure is not None
        }

    def first(self, states: Sequence[State], places: Sequence[At]) -> tuple[At, State] | None:
        """The first pressure that was read, by place and then by state."""
        return next(((at, state) for state in states for at in places if (at, state) in self.numbers), None)

    def keep(  # the five texts of a working and two names
        self, key: str, quantity: str, number: Number, formula: str, substitution: str, source: str, holds: str
    ) -> Result:
        made = self.reckoning.result(
            quantity, number, formula=formula, substitution=substitution, source=source, holds=holds
        )
        self.results[key] = made
        return made

    def difference(self, key: str, quantity: str, high: tuple[At, State], low: tuple[At, State], holds: str) -> Result:
        """Pressure at one place or state less that at another."""
        one, two = self.numbers[high], self.numbers[low]
        return self.keep(
            key,
            quantity,
            one - two,
            f"{self.read[high].words} − {self.read[low].words}",
            f"{self.shown(one, 'line_pressure')} − {self.shown(two, 'line_pressure')} = "
            f"{self.shown(one - two, 'line_pressure')}",
            "difference of two readings",
            holds,
        )

    def pipe(self) -> None:
        """The drop as measured, as the pipe has it, and what is left between the two."""
        flow: Flow | None = None
        if self.given.line is not None:
            self._describe(self.given.line)
            try:
                flow = Flow(self.given.line, self.reckoning, self._gauge_in())
            except PhysicsRefused as error:
                self.results["pipe_pressure_drop"] = by_physics("pipe_pressure_drop", error)
        for state in WORKING:
            measured = self._measured(state)
            alone = flow is not None and len(flow.line.loads) == 1 and state == "this appliance"
            worked = None if flow is None or (alone and measured is None) else self._worked_out(state, flow)
            drop = measured or worked
            if drop is not None and state == "everything on":
                self._judge_drop(drop)
            if measured is not None and worked is not None:
                self._residual(state)

    def _gauge_in(self) -> Number:
        """Pressure into the line: the last that was read at the meter with flow, else a plain assumption."""
        found = self.first(("everything on", "this appliance", "standing"), ("regulator", "meter", "appliance"))
        if found is not None:
            return self.numbers[found]
        return self.reckoning.assumed(
            "line_pressure", 2000.0, 500.0, source="assumed, nobody read it", words="gas pressure into the pipe"
        )

    def _describe(self, line: GasLine) -> None:
        for one in line.segments:
            fittings = f" and fittings of {one.ratio:g} diameters" if one.ratio else ""
            words: list[str | Seen | Voiced] = [f"pipe {one.name}: ", Voiced(one.words), ", "]
            words += [Seen(f"length of {one.name}", one.length), f"{fittings}, to {', '.join(one.feeds)}."]
            self.statements.append(Statement(tuple(words), margin=one.length.typed.text))
        for load in line.loads:
            here = ", the appliance of this visit" if load is line.here and len(line.loads) > 1 else ""
            self.statements.append(
                Statement((f"{load.name}: ", Seen(f"input of {load.name}", load.input), f" in{here}."), mark="plate")
            )

    def _measured(self, state: State) -> Result | None:
        start = next((at for at in ("regulator", "meter") if (at, state) in self.numbers), None)
        if start is None or ("appliance", state) not in self.numbers:
            return None
        key = f"measured drop, {state}"
        found = self.difference(
            key,
            "pipe_pressure_drop",
            (start, state),  # type: ignore[arg-type]
            ("appliance", state),
            "both read at the same flow",
        )
        said = f"measured {STATE_WORDS[state]}, the pipe takes "
        self.statements.append(Statement((said, Derived(key), "."), mark="derived"))
        return found

    def _worked_out(self, state: State, flow: Flow) -> Result | None:
        """The drop to this appliance by first principles, with the code's figure beside it."""
        line = flow.line
        burning = [load.name for load in line.loads] if state == "everything on" else [line.here.name]
        key = f"worked-out drop, {state}"
        try:
            drops = flow.to(line.here, burning)
        except PhysicsRefused as error:
            self.results[key] = by_physics("pipe_pressure_drop", error)
            return None
        found = self.keep(
            key,
            "pipe_pressure_drop",
            drops.by_friction,
            "sum over the pieces of friction factor × length/diameter × density × velocity²/2"
            if not flow.high
            else "p1² − p2² = G² RT/M (f L/D + 2 ln(p1/p2)), piece by piece",
            self._substituted(flow, burning, drops),
            "Darcy-Weisbach with the friction factor of Churchill (1977, from memory)",
            "level pipe, nothing half shut, inputs as typed; fittings as straight pipe",
        )
        said = f"worked out {STATE_WORDS[state]}, the pipe to {line.here.name} takes "
        self.statements.append(Statement((said, Derived(key), "."), mark="derived"))
        self._by_code(f"by the code, {state}", drops)
        if state == "everything on":
            self._other_loads(flow, burning)
        return found

    def _substituted(self, flow: Flow, burning: Sequence[str], drops: Drops) -> str:
        pieces = []
        for segment in flow.line.way_to(flow.line.here):
            load = sum(float(ops.value_of(flow.inputs[name])) for name in segment.feeds if name in burning)
            length = show.shown(float(ops.value_of(flow.sizes[segment.name][1])), quantity="length",
                                system=self.account.system)  # fmt: skip
            through = show.shown(load, quantity="fuel_input", system=self.account.system)
            pieces.append(f"{segment.name}: {length} with fittings, {through}")
        return f"{'; '.join(pieces)} = {self.shown(drops.by_friction, 'pipe_pressure_drop')}"

    def _by_code(self, key: str, drops: Drops) -> None:
        """The equation of the code beside it, where it speaks of this gas."""
        if drops.by_code is None:
            self.results[key] = refused("pipe_pressure_drop", "the code's equation is for natural gas and propane only")
            return
        shown = self.shown(drops.by_code, "pipe_pressure_drop")
        self.keep(
            key,
            "pipe_pressure_drop",
            drops.by_code,
            "slope = (Q^0.381/(19.17 D))^(1/0.206); drop = slope × Cr × length",
            f"the pieces as above, flow counted at {CODE_PRESSURE / 6894.757:.2f} psia = {shown}",
            "IFGC 2018 402.4 (equation from memory, tables (3), (4) and (6) read)",
            "turbulent flow in the pipes of a house",
        )
        self.statements.append(Statement(("the equation of the fuel-gas code has ", Derived(key), "."), mark="derived"))

    def _other_loads(self, flow: Flow, burning: Sequence[str]) -> None:
        """The drop to every other appliance with everything on."""
        for load in flow.line.loads:
            if load is flow.line.here:
                continue
            key = f"worked-out drop to {load.name}"
            try:
                drops = flow.to(load, burning)
            except PhysicsRefused as error:
                self.results[key] = by_physics("pipe_pressure_drop", error)
                continue
            self.keep(
                key,
                "pipe_pressure_drop",
                drops.by_friction,
                "as above, to this appliance",
                f"= {self.shown(drops.by_friction, 'pipe_pressure_drop')}",
                "Darcy-Weisbach with the friction factor of Churchill (1977, from memory)",
                "level pipe, nothing half shut, inputs as typed",
            )
            self.statements.append(
                Statement((f"to {load.name} with everything on the pipe takes ", Derived(key), "."), mark="derived")
            )

    def _judge_drop(self, drop: Result) -> None:
        """The drop with everything on against the limits that there are for it."""
        key = next(key for key, one in self.results.items() if one is drop)
        kinds = (self.given.dwelling, _supply_kind(self.supply()))
        words = f"pressure lost along the pipe, {key.split(' ')[0]}"
        found = limits.all_answered(drop, WORD, self.account, key=key, words=words, kinds=kinds)
        self.findings += [of_gas(one, do=PIPE_SHORT, cautions=LOW_CAUTIONS) for one in found]
        if self.given.dwelling == "manufactured home" and self.given.line is not None:
            self._by_table(self.given.line)

    def supply(self) -> float | None:
        found = self.first(("everything on", "this appliance", "standing"), ("meter", "regulator"))
        return None if found is None else float(ops.value_of(self.numbers[found]))

    def _by_table(self, line: GasLine) -> None:
        """The law's own table: the load behind each piece for the length to the farthest appliance."""
        table = manufactured_homes()
        if self.account.jurisdiction.upper().split("-")[0] != table.jurisdiction:
            return
        farthest = max(sum((one.length.figure or 0.0) for one in line.way_to(load)) for load in line.loads)
        for one in line.segments:
            most = table.load(size=one.size, length=farthest)
            load = sum((each.input.figure or 0.0) for each in line.loads if each.name in one.feeds)
            if most is None or load <= most:
                continue
            pair = [show.shown(value, quantity="fuel_input", system=self.account.system) for value in (load, most)]
            self.findings.append(
                Finding(
                    "pipe-over-table",
                    "advise",
                    f"Pipe {one.name} feeds more than the table of the law lists for its size and length.",
                    f"{pair[0]} where the table has {pair[1]}. The law lets a test with everything on decide instead: "
                    "at most half an inch of water lost.",
                    ((WORD, f"length of {one.name}"),),
                    Clause(
                        table.citation.document,
                        table.citation.clause,
                        table.citation.edition,
                        table.jurisdiction,
                        table.known,
                        "law",
                        currency_of(table.known, table.current),
                    ),
                    do_next=("measure the drop with everything on, or put in a larger pipe",),
                )
            )

    def _residual(self, state: State) -> None:
        """What the pipe does not account for."""
        measured, worked = f"measured drop, {state}", f"worked-out drop, {state}"
        one, two = self.results[measured], self.results[worked]
        if one.value is None or two.value is None or one.bound or two.bound:
            return
        left = one.value - two.value
        spread = (one.spread**2 + two.spread**2) ** 0.5
        between = f"{self.shown(left, 'pipe_pressure_drop')} with a doubt of ± " + self.shown(
            2.0 * spread, "line_pressure"
        )
        evidence = ((WORD, measured), (WORD, worked))
        if abs(left) < max(SMALL, CLEAR_OF_DOUBT * spread):
            return
        if left > 0.0:
            self.findings.append(
                Finding(
                    "pipe-loses-more",
                    "advise",
                    f"{STATE_WORDS[state].capitalize()}, the pipe loses more than its size and length account for.",
                    f"{between} is left over. A valve or a filter half shut, a kinked connector, a bore filled with "
                    "dirt or thread paste, a piece smaller than it looks, or more burning than was typed.",
                    evidence,
                    FRICTION,
                    do_next=("read the pressure before and behind each valve and connector to find where it goes",),
                )
            )
            return
        self.findings.append(
            Finding(
                "pipe-loses-less",
                "open",
                f"{STATE_WORDS[state].capitalize()}, the pipe loses less than what burns behind it would cost.",
                f"{between} is missing. An appliance was not at full input, or the pipe is wider than typed.",
                evidence,
                FRICTION,
                do_next=("clock the meter with everything on, and compare",),
            )
        )


def _supply_kind(pressure: float | None) -> str:
    """The words of the Canadian rows for a supply pressure."""
    inches = None if pressure is None else pressure / 249.08891
    if inches is None or inches > 14.0:
        return ""
    return "supply under 7 in w.c." if inches < 7.0 else "supply of 7 to 14 in w.c."
