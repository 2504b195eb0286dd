"""What one shop is judged by: the books of the program, clauses it entered itself, and its house book over them."""

from collections.abc import Mapping
from dataclasses import dataclass, field

from fluewright.rules import load
from fluewright.rules.entered import Clause, with_clauses
from fluewright.rules.house import HouseBook
from fluewright.rules.schema import Limit


@dataclass(frozen=True, slots=True)
class Shop:
    """The rules of one shop.

    house    its house book, None where it has none
    clauses  that it entered from its own code books
    stamps   version and hash of each book of its own, by name, for the seal
    told     what has to be said of those books: that one is not signed, or by whom
    """

    house: HouseBook | None = None
    clauses: tuple[Clause, ...] = ()
    stamps: Mapping[str, str] = field(default_factory=dict)
    told: tuple[str, ...] = ()

    def limits_of(self, quantity: str) -> tuple[Limit, ...]:
        """Every row of one quantity, the house book's last."""
        house = self.house.limits if self.house else ()
        return (*with_clauses(load.limits_of(quantity), self.clauses), *(r for r in house if r.quantity == quantity))

    def limits(self) -> tuple[Limit, ...]:
        """Every row of every book, the house book's last."""
        return (*with_clauses(load.limits(), self.clauses), *(self.house.limits if self.house else ()))

    def limit(self, id: str) -> Limit:
        """One row by id; RuleError when no book has it."""
        own = next((row for row in self.house.limits if row.id == id), None) if self.house else None
        return own or with_clauses((load.limit(id),), self.clauses)[0]


PROGRAM = Shop()
"""A shop with nothing of its own."""
