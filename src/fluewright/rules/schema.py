"""What a limit is, and a strict reading of it: nothing missing, nothing unknown, nothing twice, every problem at once.

A limit is more than a number: what is measured and on which basis, where, in which state, averaged and rounded how,
and what happens with the uncertainty of the result. A book that leaves one of these out is refused.
"""

import datetime
import re
from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any, Literal

from fluewright.errors import RuleError
from fluewright.rules import applies, currency
from fluewright.rules.applies import Applies

Layer = Literal["law", "standard", "programme", "house"]
"""Whose limit: a law, a product or trade standard, a programme one takes part in, one's own house."""

Sense = Literal["at most", "at least", "below"]
"""below: the figure itself is already too much."""
Decision = Literal["none", "minus uncertainty", "plus uncertainty"]
"""none: the bare result. minus: the uncertainty is deducted, the owner has the benefit. plus: added, for safety."""

Rounding = Literal["none", "one decimal more than the limit", "as the limit", "to whole numbers"]
Severity = Literal["stop", "act", "advise"]
Known = Literal["read", "second-hand", "from memory", "common practice, no source", "own rule of the shop"]
"""own rule of the shop: only in a house book, where a shop asks more of itself than the law does."""
AirFree = Literal["none", "oxygen", "carbon dioxide", "not said"]
"""By which gas carbon monoxide is taken to air-free flue gas; none where it is not."""

Steady = Literal["not needed", "readings settled", "appliance steady", "as the rule says", "not said"]
"""What kind of steady a limit asks for: the instrument settled, the appliance settled, or words of the rule itself."""

Rate = Literal["any", "full", "low", "each", "not said"]

NOT_SAID = "not said"
"""What a field says where the text read says nothing of it: never a guess."""

SINCE_LIT = re.compile(r"any|not said|no flame|as the test has it|(?:at least|at most) \d+ min|\d+ to \d+ min")
SINCE = "any, not said, no flame, as the test has it, at least N min, at most N min, or N to M min"
OXYGEN = re.compile(r"(\d+(?:\.\d+)?) %")
UNKNOWN = "unknown"
OPEN = "open"
CURRENT = f"a day on which the text read was in force, or one of {', '.join(currency.UNSURE)}"
"""What the field `current` of a row may be."""


@dataclass(frozen=True, slots=True)
class Citation:
    """Document, clause and edition that print the limit."""

    document: str
    clause: str
    edition: str


@dataclass(frozen=True, slots=True)
class Limit:
    """One limit of one book, as its text has it.

    quantity     registry name of what is judged
    basis        dry or wet, air-free route, reference oxygen, heating value, as the text words it
    reference_oxygen  mol/mol that the result is taken to, 0 for air-free, None for none
    air_free_route    by which gas it is taken to air-free
    place        where it is read
    state        when, as the text words it
    since_lit    minutes since the burner lit, in the words of SINCE
    steady       which of the three kinds of steady
    rate         at which rate it burns
    averaging    over what, as the text words it
    count        how many readings or papers, None where the text does not say
    current      whether the text read is the one in force: a day on which it was, or why that cannot be said
    valid_from   date, or None where it is not known
    valid_until  date, or None while it is open
    text         the sentence to print, in words of our own
    severity     what passing it means: stop, act or advise
    only_alarms  whether being inside it says nothing, as with a limit that breaks off a test or guards workers
    do           what the text says to do when it is passed
    waiver       who may let it pass, as the text has it
    tightens     id of the row that a house book holds tighter, empty for any other
    entered      who read its clause for the shop, and on which page; empty when nobody did
    """

    id: str
    layer: Layer
    jurisdiction: str
    quantity: str
    basis: str
    sense: Sense
    limit: float
    unit: str
    applies: Applies
    place: str
    state: str
    averaging: str
    rounding: Rounding
    decision: Decision
    citation: Citation
    known: Known
    current: currency.Current
    valid_from: datetime.date | None
    valid_until: datetime.date | None
    text: str
    severity: Severity = "act"
    only_alarms: bool = False
    do: str = NOT_SAID
    waiver: str = NOT_SAID
    reference_oxygen: float | None = None
    air_free_route: AirFree = "not said"
    since_lit: str = NOT_SAID
    steady: Steady = "not said"
    rate: Rate = "not said"
    count: int | None = None
    book: str = ""
    tightens: str = ""
    entered: str = ""

    @property
    def upper(self) -> bool:
        """Whether the result must stay under it, and not reach it."""
        return self.sense != "at least"


@dataclass(frozen=True, slots=True)
class Book:
    """A book of limits: name, title, day of its version, and limits in the order of the file."""

    name: str
    title: str
    version: datetime.date
    limits: tuple[Limit, ...] = field(default_factory=tuple)


_OURS = ("book", "tightens", "entered")
"""Fields that no row writes."""

REQUIRED = tuple(name for name in Limit.__dataclass_fields__ if name not in _OURS)
"""What every row must say; where its text says nothing, the row says that."""


def line_of(*, text: str, words: str, occurrence: int = 1) -> int:
    """Line of the n-th occurrence of some words in a text, 1 when there is none."""
    for number, line in enumerate(text.splitlines(), 1):
        if words in line:
            occurrence -= 1
            if occurrence == 0:
                return number
    return 1


def problem(*, where: str, read: str, expected: str) -> RuleError:
    """A rule book that cannot be taken, and why."""
    return RuleError(
        code="FW-B-001",
        read=read,
        expected=expected,
        matters="a limit that is half known would be judged wrongly, in ink",
        do="mend the row at this line; docs/checks.md lists the fields of a limit",
        where=where,
    )


def limit_of(table: Mapping[str, Any], *, book: str) -> Limit:
    """A limit from a row that was found sound."""
    made: dict[str, Any] = {name: table[name] for name in REQUIRED}
    for name in ("valid_from", "valid_until"):
        made[name] = None if isinstance(made[name], str) else made[name]
    oxygen = OXYGEN.fullmatch(table["reference_oxygen"])
    made |= {
        "limit": float(table["limit"]),
        "citation": Citation(**table["citation"]),
        "applies": applies.read(table["applies"]),
        "reference_oxygen": float(oxygen[1]) / 100.0 if oxygen else None,
        "count": None if table["count"] == NOT_SAID else table["count"],
        "book": book,
    }
    return Limit(**made)
