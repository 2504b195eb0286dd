"""Safety devices proved: each with its stimulus, what followed, how fast, and what its plate says."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from fluewright.appliance.record import Device
from fluewright.errors import QuantityError
from fluewright.evidence import trust
from fluewright.evidence.finding import PRACTICE, WRONG, Clause, Finding
from fluewright.evidence.limits import CERTAIN, HARDLY, LEAVE_OFF, READ_AGAIN, all_answered, in_words
from fluewright.evidence.part import Part, Seen, SoFar, Statement, Voiced
from fluewright.evidence.reading import Account, Reading
from fluewright.evidence.reckon import Reckoning
from fluewright.evidence.result import Result
from fluewright.quantity import names, parse, show

WORD = "safety devices"
UNGUARDED = (
    "A burner whose guard does not act can fill the room with unburned gas: shut the fuel off by hand before anything "
    "else, air the room, no switch and no flame while you smell gas.",
)
UNPROVED = ("A safety device that did not act is not there: shut the fuel off by hand first.",)
SHUT = (
    "shut the appliance down and close its fuel valve by hand",
    "leave it off until the device is mended and proved",
)


@dataclass(frozen=True, slots=True)
class Proof:
    """One device as somebody tried it.

    device  key of the class's list, or what it was called
    acted   whether it did what it must; None when it was not tried
    figure  time, temperature or pressure at which it acted
    plate   what its plate or setting says
    why     why it was not tried
    time    when
    """

    device: str
    acted: bool | None
    stimulus: str = ""
    figure: Reading | None = None
    plate: Reading | None = None
    why: str = ""
    time: str = ""


def _of_nobody(proof: Proof) -> Device:
    """A device that the class does not list, as far as it can be known."""
    quantity = proof.figure.quantity if proof.figure else ""
    return Device(proof.device, proof.device, "", "it acts", "limit", "plate", "common practice, no source", quantity,
                  "at most" if quantity else "act")  # fmt: skip


def _edge(device: Device, proof: Proof) -> tuple[Reading, Clause] | None:
    """The figure it is held against and on whose authority: its plate, else the allowance of the class."""
    if proof.plate is not None:
        return proof.plate, replace(PRACTICE, document=f"plate or setting of the {device.words}")
    if device.allowed:
        known = "from memory" if device.known == "from memory" else PRACTICE.known
        typed = parse.single(device.allowed, quantity=device.quantity)
        return Reading(device.quantity, typed, "assumed"), replace(PRACTICE, document=device.source, known=known)
    return None


@dataclass(frozen=True, slots=True)
class _Tried:
    """One device with its proof, on the way to sentences and findings."""

    device: Device
    proof: Proof
    account: Account

    @property
    def evidence(self) -> tuple[tuple[str, str], ...]:
        return ((WORD, self.device.key),)

    def read(self) -> Result | None:
        """The figure at which it acted, as a result."""
        figure = self.proof.figure
        if figure is None or figure.figure is None:
            return None
        reckon = Reckoning(self.account)
        number = reckon.read(figure, words=f"{self.device.words}, as read")
        return reckon.result(
            figure.quantity,
            number,
            formula="as read",
            substitution=show.converted(figure.typed, system=self.account.system),
            source="reading",
            holds=f"after this was done: {self.proof.stimulus or self.device.stimulus or 'not said'}",
        )

    def statement(self) -> Statement:
        """What was done and what followed, in one sentence."""
        words = self.device.words
        if self.proof.acted is None:
            said = (f"{words}: not proved, because ", Voiced(self.proof.why), ".")
            return Statement(said, mark="unknown", time=self.proof.time)
        done = self.proof.stimulus or self.device.stimulus
        pieces: list[str | Voiced | Seen] = [f"{words}: ", Voiced(done), "; "] if done else [f"{words}: "]
        pieces.append("it acted" if self.proof.acted else "it did not act")
        if self.proof.figure is not None:
            link = " after " if self.device.quantity == "trip_time" else " at "
            pieces += [link, Seen(self.device.key, self.proof.figure)]
        edge = _edge(self.device, self.proof)
        if edge is not None:
            said_by = "its plate says " if self.proof.plate is not None else f"allowed, {edge[1].known}, "
            pieces += [f"; {said_by}", Voiced(show.as_typed(edge[0].typed), "plate")]
        margin = "not timed" if self.device.quantity and self.proof.figure is None else ""
        return Statement((*pieces, "."), time=self.proof.time, margin=margin)

    def finding(self) -> Finding | None:
        """What the proof says; None where it acted as it must."""
        if self.proof.acted is False:
            return self._failed()
        result, edge = self.read(), _edge(self.device, self.proof)
        if result is None or result.value is None or edge is None or edge[0].figure is None:
            return None
        limit = edge[0].figure
        return self._late(result, limit, edge) or self._early(result, limit, edge)

    def by_law(self) -> list[Finding]:
        """The figure against a law of the place, whatever its plate says; one kept that clears nothing is no line."""
        result = self.read()
        if result is None or not self.proof.acted:
            return []
        kinds, words = (self.device.key,), self.device.words
        found = all_answered(result, WORD, self.account, key=self.device.key, words=words, kinds=kinds)
        return [one for one in found if one.grade in (*WRONG, "fine") or one.do_next == READ_AGAIN]

    def _failed(self) -> Finding:
        flame = self.device.group == "flame"
        return Finding(
            "safety-failed-flame" if flame else "safety-failed",
            "stop" if flame else "act",
            f"The {self.device.words} did not act.",
            f"Expected: {self.device.expected}. Done: {self.proof.stimulus or self.device.stimulus or 'not said'}.",
            self.evidence,
            replace(PRACTICE, document=self.device.source),
            do_now=SHUT,
            do_next=("replace the device, and prove it again before the appliance is left running",),
            cautions=UNGUARDED if flame else UNPROVED,
        )

    def _against(self, result: Result, edge: Reading) -> str:
        quantity, system = names.of(result.name), self.account.system
        read = show.converted(self.proof.figure.typed, system=system) if self.proof.figure else ""
        return f"Acted {read}, {quantity.words} allowed {show.converted(edge.typed, system=system)}"

    def _late(self, result: Result, limit: float, edge: tuple[Reading, Clause]) -> Finding | None:
        """Beyond what its plate or its class allows."""
        at_most = self.device.sense == "at most"
        above = trust.beyond(_sized(result), abs(limit))
        odds = above if at_most or above is None else 1.0 - above
        if odds is None or odds < HARDLY:
            return None
        sure, plated = odds > 0.5, self.proof.plate is not None
        short = self.device.quantity == "trip_time" and not at_most
        what = "was shorter than its plate allows" if short else "acted too late"
        if odds < CERTAIN:
            what = "may have been shorter than its plate allows" if short else "may have acted too late"
        return Finding(
            "safety-short" if short else "safety-late",
            "open" if not sure else "act" if plated else "advise",
            f"The {self.device.words} {what}."
            if sure
            else f"The {self.device.words}: too close to its figure to call.",
            f"{self._against(result, edge[0])}. Beyond it: {in_words(odds)}.",
            self.evidence,
            edge[1],
            odds=odds,
            limit=f"{self.device.sense} {show.as_typed(edge[0].typed)}",
            do_now=LEAVE_OFF[:1] if sure and plated else (),
            do_next=("set or replace it by its plate, and prove it again",) if sure else ("try it again, timed",),
            cautions=UNPROVED if sure and plated else (),
        )

    def _early(self, result: Result, limit: float, edge: tuple[Reading, Clause]) -> Finding | None:
        """So far before its setting that it stops a sound appliance."""
        if not self.device.early or result.value is None:
            return None
        room = parse.single(self.device.early, quantity=self.device.early_quantity).value or 0.0
        above = trust.beyond(result, limit - room)
        if above is None or 1.0 - above < 0.5:
            return None
        return Finding(
            "safety-early",
            "advise",
            f"The {self.device.words} acted long before its setting.",
            f"{self._against(result, edge[0])}. More than {self.device.early} before it (common practice, no source): "
            f"{in_words(1.0 - above)}.",
            self.evidence,
            edge[1],
            odds=1.0 - above,
            limit=f"no more than {self.device.early} before its setting",
            do_next=("see whether its sensor sits right and its setting was turned; prove it again",),
        )


def _sized(result: Result) -> Result:
    """A result without its sign: a switch that proves suction is no nearer to still air the more it reads."""
    if result.value is None or result.value >= 0.0:
        return result
    return replace(result, value=-result.value, below=result.above, above=result.below)


def _open(unproved: Sequence[str], untimed: Sequence[str]) -> tuple[Finding, ...]:
    """What has to be closed before the appliance is handed over."""
    found = []
    if unproved:
        found.append(
            Finding(
                "safety-unproved",
                "open",
                "Not every safety device of this appliance was proved.",
                f"Open at hand-over: {'; '.join(unproved)}. A device that was not tried is not known to work.",
                (),
                PRACTICE,
                do_next=("prove them, or write down why each cannot be proved today",),
            )
        )
    if untimed:
        words = f"Acted, but without a figure: {'; '.join(untimed)}. How late is then not known."
        found.append(Finding("safety-untimed", "open", "Some safety devices were tried without a figure.", words, (),
                             PRACTICE, do_next=("try them again, timed or with a thermometer",)))  # fmt: skip
    return tuple(found)


@dataclass(frozen=True, slots=True)
class SafetyProofs:
    """The safety devices of an appliance, as far as they were tried."""

    proofs: tuple[Proof, ...]

    @property
    def late(self) -> bool:
        """It rests on nothing else."""
        return False

    def worked(self, so_far: SoFar) -> Part:
        """Every device of the class with its proof, and what is open."""
        account = so_far.account
        of_class = account.appliance.of_class
        listed: Mapping[str, Device] = {each.key: each for each in (of_class.devices if of_class else ())}
        named = {each.words: each for each in listed.values()}
        tried = [_Tried(listed.get(p.device) or named.get(p.device) or _of_nobody(p), p, account) for p in self.proofs]
        seen = {one.device.key for one in tried if one.proof.acted is not None}
        unproved = [each.words for each in listed.values() if each.key not in seen]
        unproved += [one.device.words for one in tried if one.proof.acted is None and one.device.key not in listed]
        untimed = [o.device.words for o in tried if o.proof.acted and o.device.quantity and o.proof.figure is None]
        silent = [each.words for each in listed.values() if all(one.device.key != each.key for one in tried)]
        statements = [one.statement() for one in tried]
        if silent:
            statements.append(Statement((f"not proved: {'; '.join(silent)}.",), mark="unknown"))
        results = {one.device.key: found for one in tried if (found := one.read()) is not None}
        findings = [said for one in tried for said in (one.finding(), *one.by_law()) if said is not None]
        return Part(
            WORD,
            "Safety devices",
            "proofs",
            tuple(statements),
            results,
            (*findings, *_open(unproved, untimed)),
            cannot_tell=tuple(
                f"Whether the {one.device.words} acted in time: no plate was read that says when it must."
                for one in tried
                if one.proof.acted and one.proof.figure is not None and _edge(one.device, one.proof) is None
            ),
            note="Each is proved by its own stimulus, never by a bridge.",
            data={"proved": sorted(seen), "open": unproved},
        )


def figure_of(text: str, quantity: str) -> Reading:
    """The figure at which a device acted; of a device nobody lists, a temperature or else a pressure.

    text      as typed
    quantity  of the device, empty when it is not listed
    -> reading; QuantityError when it is neither
    """
    if quantity:
        return Reading(quantity, parse.parse(text, quantity=quantity))
    try:
        return Reading("trip_temperature", parse.parse(text, quantity="trip_temperature"))
    except QuantityError:
        return Reading("trip_pressure", parse.parse(text, quantity="trip_pressure"))
