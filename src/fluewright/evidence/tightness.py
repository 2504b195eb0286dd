"""Tightness of the gas pipes: what the gauge did, what temperature and weather did to it, and the leak that is left."""

from dataclasses import dataclass, field

from fluewright.evidence.gas_given import UNNAMED
from fluewright.evidence.part import Part, Seen, SoFar, Statement
from fluewright.evidence.reading import Account
from fluewright.evidence.tightness_given import WORD, Creep, Section, Standstill
from fluewright.evidence.tightness_leak import LeakAtWork
from fluewright.evidence.tightness_standstill import Fall


@dataclass(frozen=True, slots=True)
class Tightness:
    """Every test of one section, in order."""

    section: Section
    standstills: tuple[Standstill, ...] = ()
    creep: Creep | None = None
    late: bool = field(default=False, init=False)

    def worked(self, so_far: SoFar) -> Part:
        """Work out and judge each test."""
        return _Working(self, so_far.account).part()


def tested(account: Account) -> bool:
    """Whether the visit holds a test of tightness, by gauge or by meter."""
    return any(
        isinstance(one, Tightness) and (one.creep is not None or any(s.purpose == "tightness" for s in one.standstills))
        for one in account.parts
    )


class _Working(LeakAtWork):
    """The tests of one section being worked out."""

    def __init__(self, given: Tightness, account: Account) -> None:
        super().__init__(given.section, account)
        self.given = given

    def part(self) -> Part:
        """Everything in the order of the test."""
        self._section()
        falls = {one.purpose: self.standstill(one) for one in self.given.standstills}
        by_decay = self.leak(falls["tightness"]) if falls.get("tightness") else None
        by_creep = self.creep(self.given.creep) if self.given.creep is not None else None
        fall = falls.get("tightness")
        with_gas = fall is None or fall.medium in ("", "gas")
        if by_decay is not None and by_creep is not None and with_gas:
            self.compared(by_decay, by_creep)
        self._left_open(fall)
        return self.gathered(WORD, "Tightness of the gas pipes", "supply")

    def _section(self) -> None:
        section = self.section
        told = {"new": "new pipes", "in use": "pipes in use", "any": "pipes, nobody said whether new or in use"}
        joined = {"on": ", appliances connected", "off": ", appliances shut off", "any": ""}
        meter = {"": "", "none": ", no meter in the section"}.get(section.meter, f", meter {section.meter}")
        self.statements.append(Statement((f"tested: {told[section.pipes]}{joined[section.appliances]}{meter}.",)))
        if section.volume is not None:
            how = f", {section.volume_how}" if section.volume_how else ""
            self.statements.append(Statement(("room in the section: ", Seen("volume", section.volume), f"{how}.")))
        if section.working is not None:
            words = ("the line works at ", Seen("working pressure", section.working), ".")
            self.statements.append(Statement(words))

    def _left_open(self, fall: Fall | None) -> None:
        say = self.cannot_tell.append
        if not self.section.gas_named:
            say(UNNAMED)
        purposes = {one.purpose for one in self.given.standstills}
        if "tightness" in purposes and "let-by" not in purposes and self.section.pipes == "in use":
            say("Whether the shut valve lets gas by and makes good what leaks out: it was not tested.")
        if fall is None:
            return
        for name in self.drowned():
            say(name)
