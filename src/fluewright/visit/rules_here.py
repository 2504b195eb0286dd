"""Which rules speak at a place, to an appliance, on a day: the choice by which visits are judged, without a visit."""

import datetime
from dataclasses import dataclass

from fluewright.evidence.limits import clears, rules_for
from fluewright.evidence.reading import Account, Appliance, Instrument, Surroundings
from fluewright.fuels import load as fuels
from fluewright.quantity import names
from fluewright.rules.schema import Limit
from fluewright.rules.shop import PROGRAM, Shop


@dataclass(frozen=True, slots=True)
class Asked:
    """Where, for what and when rules are asked for.

    place   code, empty for no place: then only what holds everywhere speaks
    day     of the visit
    kind    class of appliance, empty when not said
    burner  kind of burner
    fuel    name in the library
    output  W, None when not said
    shop    whose books
    """

    place: str
    day: datetime.date
    kind: str = ""
    burner: str = "unknown"
    fuel: str = "natural-gas"
    output: float | None = None
    condensing: bool | None = None
    shop: Shop = PROGRAM

    @property
    def account(self) -> Account:
        """A visit there in which nothing was read."""
        return Account(
            title="", customer="", site="", day=self.day, technician="",
            appliance=Appliance("", burner=self.burner, condensing=self.condensing, output=self.output, kind=self.kind),
            fuel=fuels.load(self.fuel), instrument=Instrument(), surroundings=Surroundings(), stretches=(),
            jurisdiction=self.place, shop=self.shop,
        )  # fmt: skip


@dataclass(frozen=True, slots=True)
class Spoken:
    """One rule that speaks, and whether keeping it may be called fine."""

    rule: Limit
    clears: bool


def speaking(asked: Asked, quantity: str = "") -> tuple[Spoken, ...]:
    """The rules that speak, by quantity, the law first.

    asked     where, for what and when
    quantity  registry name or alias, empty for every one
    -> rules; QuantityError where there is no such quantity
    """
    account = asked.account
    wanted = names.named(quantity).name if quantity else ""
    quantities = sorted({row.quantity for row in asked.shop.limits()} if not wanted else {wanted})
    return tuple(Spoken(rule, clears(rule)) for name in quantities for rule in rules_for(name, account))
