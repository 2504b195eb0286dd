"""A part of the job while it is being worked out: what has been said, reckoned, found and left open so far."""

from fluewright.evidence.finding import Finding
from fluewright.evidence.part import Part, Place, Statement
from fluewright.evidence.reading import Account
from fluewright.evidence.reckon import Reckoning
from fluewright.evidence.result import Result
from fluewright.kernel import ops
from fluewright.kernel.ops import Number
from fluewright.quantity import show


class AtWork:
    """Gathers statements, results, findings and open questions of one part."""

    def __init__(self, account: Account) -> None:
        self.account = account
        self.reckoning = Reckoning(account)
        self.results: dict[str, Result] = {}
        self.statements: list[Statement] = []
        self.findings: list[Finding] = []
        self.cannot_tell: list[str] = []

    def shown(self, number: Number, quantity: str) -> str:
        """A number without its doubt, in the units of the visit."""
        return show.shown(float(ops.value_of(number)), quantity=quantity, system=self.account.system)

    def about(self, value: float, quantity: str) -> str:
        """A figure of which only the size matters, to two digits or so."""
        system = self.account.system
        figure = show.number(value, 0.05 * abs(value), quantity=quantity, system=system)
        return f"{figure} {show.unit_of(quantity, system)}"

    def air(self) -> Number:
        """The barometer of the place, Pa."""
        place = self.account.surroundings
        return self.reckoning.assumed("barometer", place.pressure, place.pressure_spread, source=place.pressure_source)

    def gathered(self, word: str, title: str, place: Place) -> Part:
        """The part as it stands."""
        return Part(
            word=word,
            title=title,
            place=place,
            statements=tuple(self.statements),
            results=self.results,
            findings=tuple(self.findings),
            cannot_tell=tuple(self.cannot_tell),
        )
