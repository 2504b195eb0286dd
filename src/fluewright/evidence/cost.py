"""Cost and emissions: price of heat, carbon of the fuel, fuel bills and duties of the law, as one part of the job."""

from dataclasses import dataclass, field

from fluewright.evidence import cost_bills, cost_duties, cost_factors, cost_price
from fluewright.evidence.cost_bills import Bills
from fluewright.evidence.cost_duties import DutyAsked
from fluewright.evidence.cost_price import Price, Standing
from fluewright.evidence.finding import Finding
from fluewright.evidence.part import Part, SoFar, Statement
from fluewright.evidence.reckon import Reckoning
from fluewright.evidence.result import Result
from fluewright.rules.duties import Duty

WORD = "cost and emissions"


@dataclass(slots=True)
class Written:
    """What the sections of the part have written so far."""

    statements: list[Statement] = field(default_factory=list)
    results: dict[str, Result] = field(default_factory=dict)
    findings: list[Finding] = field(default_factory=list)
    cannot_tell: list[str] = field(default_factory=list)
    data: dict[str, object] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class CostAndEmissions:
    """What was asked about cost and emissions; each member may be left out.

    factors   whether the carbon of the fuel is to be set beside published figures
    price     what the fuel costs
    standing  pilot and losses while ready
    bills     metered periods, before and after
    duties    duties of the law with the day they are counted from
    listed    duties to be told without a day
    of_fuel   whether the fuel of the appliance was said, for duties that leave some out
    """

    factors: bool = True
    price: Price | None = None
    standing: Standing | None = None
    bills: Bills | None = None
    duties: tuple[DutyAsked, ...] = ()
    listed: tuple[Duty, ...] = ()
    of_fuel: bool = True

    @property
    def late(self) -> bool:
        """The price of delivered heat may rest on the efficiency that the flame had."""
        return True

    def worked(self, so_far: SoFar) -> Part:
        """Work it out."""
        written, reckoning = Written(), Reckoning(so_far.account)
        if self.price is not None:
            cost_price.write(self.price, so_far, reckoning, written, alone=self.bills is None)
        if self.standing is not None:
            cost_price.write_standing(self.standing, reckoning, written)
        if self.bills is not None:
            cost_bills.write(self.bills, self.price, so_far.account, written)
        if self.factors:
            cost_factors.write(so_far.account, written)
        cost_duties.write(self.duties, so_far.account, written, of_fuel=self.of_fuel)
        cost_duties.write_list(self.listed, so_far.account, written, of_fuel=self.of_fuel)
        return Part(
            WORD,
            "Cost and emissions",
            "proofs",
            tuple(written.statements),
            written.results,
            tuple(written.findings),
            tuple(written.cannot_tell),
            data=written.data,
        )
