"""The ledger of one part of the job: readings go in, results with their doubt and working come out."""

import math

from fluewright.errors import FluewrightError
from fluewright.evidence.doubt import Ledger, Origin
from fluewright.evidence.origins import origin_of
from fluewright.evidence.reading import Account, Reading
from fluewright.evidence.result import Result
from fluewright.evidence.workings import explained
from fluewright.kernel import ops
from fluewright.kernel.ops import Number
from fluewright.quantity import names


class Reckoning:
    """Turns readings and assumptions into uncertain numbers, and what a formula made of them into results."""

    def __init__(self, account: Account) -> None:
        self.account = account
        self.ledger = Ledger()

    def read(self, reading: Reading, *, words: str = "", spread: float | None = None) -> Number:
        """A reading as an uncertain number.

        reading  with a figure; a trend word alone cannot come in
        words    what to call it in a working, the registry's words when empty; two readings of one quantity need two
        spread   standard uncertainty when better known than by the instrument's class, canonical unit
        """
        origin = origin_of(reading, self.account.instrument, record=self.account.fuel)
        below, above = (origin.below, origin.above) if spread is None else (spread, spread)
        said = words or origin.words
        return self.ledger.number(Origin(origin.name, said, origin.value, below, above, origin.source, origin.bound))

    def assumed(self, quantity: str, value: float, spread: float, *, source: str, words: str = "") -> Number:
        """A figure nobody read here: from a plate, a table, common practice.

        quantity  registry name
        value     canonical unit
        spread    standard uncertainty, canonical unit; 0 for an exact one
        source    where it comes from, as the working prints it
        words     what to call it, the registry's words when empty
        """
        said = words or names.of(quantity).words
        return self.ledger.number(Origin(quantity, said, value, spread, spread, source))

    def result(
        self,
        quantity: str,
        number: Number,
        *,
        formula: str,
        substitution: str,
        source: str,
        holds: str,
        basis: str = "",
        boundary: str = "",
    ) -> Result:
        """A number that a formula gave, as a result with its doubt and its working.

        quantity      registry name of what it is
        number        with its derivatives, canonical unit
        formula       in words and symbols
        substitution  the same with figures
        source        where the formula and its constants come from
        holds         where it holds, and what it leaves out
        """
        bound = self.ledger.bound(number)
        value = float(ops.value_of(number))
        if bound == "no value" or not math.isfinite(value):
            why = "rests on bounds that pull it both ways" if bound else "has no value for these readings"
            return refused(quantity, why, boundary=boundary)
        below, above = self.ledger.sides(number)
        working = explained(formula, substitution, source, holds, number, self.ledger)
        return Result(quantity, value, below, above, working, basis=basis, boundary=boundary, bound=bound)


def refused(quantity: str, why: str, *, boundary: str = "") -> Result:
    """A result that cannot be had, with the reason; the name must be in the registry."""
    names.of(quantity)
    return Result(quantity, None, 0.0, 0.0, None, boundary=boundary, refused=why)


def by_physics(quantity: str, error: FluewrightError) -> Result:
    """A result that a law of nature or a rule refused."""
    return refused(quantity, f"{error.read}; expected {error.expected}")
