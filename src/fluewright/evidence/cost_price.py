"""What heat costs: from a price on a bill to heat in the house, and what standing ready takes."""

from dataclasses import dataclass
from typing import TYPE_CHECKING, Literal

from fluewright.evidence.part import Derived, Piece, Seen, SoFar, Statement, Voiced
from fluewright.evidence.reading import Account, Reading
from fluewright.evidence.reckon import Reckoning, refused
from fluewright.evidence.sizes import Size, need
from fluewright.fuels.figures import Figure, figures
from fluewright.fuels.reference import Reference
from fluewright.kernel import cost, ops
from fluewright.kernel.ops import Number
from fluewright.quantity import names, show

if TYPE_CHECKING:
    from fluewright.evidence.cost import Written

Basis = Literal["gross", "net"]

_IN_FEET = ("1/ft3", "1/ccf", "1/mcf")
_YEAR = 31_557_600.0
"""s in a year of 365.25 days."""
_HEATINGS = {
    ("gas", "gas volume"): "heating_value_gross",
    ("gas", "liquid volume"): "heating_value_gross_per_liquid_volume",
    ("gas", "mass"): "heating_value_gross_per_mass",
    ("liquid", "liquid volume"): "heating_value_gross_per_liquid_volume",
    ("liquid", "mass"): "heating_value_gross",
    ("solid", "mass"): "heating_value_gross",
}
"""Which heating value a price is divided by, from the kind of fuel and what is paid for."""


PAID = Size("price of the fuel", "heat that costs nothing cannot be compared")
HEATING_VALUE = Size("heating value on the bill", "a price is divided by it")
EFFICIENCY = Size("efficiency", "the price of heat is divided by it", most=1.2)
LOAD = Size("share of the time that the burner runs", "standing loss is shared out over it", most=1.0)


@dataclass(frozen=True, slots=True)
class Price:
    """What the fuel costs.

    price             per heat, volume or mass, by its quantity
    currency          as typed, empty when not said
    typed             the whole price as typed
    heating_value     of the fuel as sold, where the bill states one; else that of the fuel
    basis             whether the heat paid for is counted gross or net
    efficiency        stated, None to take the one that the flame had, where there is a flame
    efficiency_basis  of the stated one
    efficiency_after  another one to compare with, same basis and same kind of time
    """

    price: Reading
    currency: str = ""
    heating_value: Reading | None = None
    basis: Basis = "gross"
    efficiency: Reading | None = None
    efficiency_basis: Basis = "gross"
    efficiency_after: Reading | None = None
    typed: str = ""

    def __post_init__(self) -> None:
        """Refuse what no fuel costs and no appliance gives."""
        need(self.price, PAID)
        need(self.heating_value, HEATING_VALUE)
        need(self.efficiency, EFFICIENCY)
        need(self.efficiency_after, EFFICIENCY)


@dataclass(frozen=True, slots=True)
class Standing:
    """What standing ready takes: a pilot, and losses between firings.

    pilot         heat input of a standing pilot
    standby_loss  share of the rated input lost while ready
    load_share    share of the time that the burner runs
    efficiency    of the flame, steady
    """

    pilot: Reading | None = None
    standby_loss: Reading | None = None
    load_share: Reading | None = None
    efficiency: Reading | None = None

    def __post_init__(self) -> None:
        """Refuse a burner that never runs and a flame that gives nothing."""
        need(self.load_share, LOAD)
        need(self.efficiency, EFFICIENCY)


def sold_by(unit: str) -> str:
    """What a price is paid for, from its unit."""
    return "gas volume" if unit in ("1/m3", *_IN_FEET) else "liquid volume" if unit in ("1/gal", "1/L") else "mass"


def heating_value_of(account: Account, unit: str) -> Figure | None:
    """The gross heating value that fits a price in this unit; None when the fuel is not sold so."""
    name = _HEATINGS.get((account.fuel.kind, sold_by(unit)))
    if name is None:
        return None
    at = "60F" if unit in _IN_FEET or account.system == "us" else "15"
    found = figures(account.fuel, reference=Reference(at, at)).get(name)
    return found if found is not None and found.value is not None else None


def _net_over_gross(account: Account) -> float:
    fuel = account.fuel.fuel
    return float(ops.value_of(fuel.heating_value_net)) / float(ops.value_of(fuel.heating_value_gross))


def per_heat(price: Price, account: Account, reckoning: Reckoning) -> tuple[Number | None, str]:
    """The price of the heat in the fuel, gross, and where its heating value is from; None with the reason."""
    typed = reckoning.read(price.price, spread=0.0)
    if price.price.quantity == "fuel_price":
        gross = typed * _net_over_gross(account) if price.basis == "net" else typed
        return gross, "price per heat as billed" + (", net carried to gross" if price.basis == "net" else "")
    if price.heating_value is not None:
        heat: Number = reckoning.read(price.heating_value, spread=0.0, words="heating value on the bill")
        value = cost.price_of_heat(price=typed, heating_value=heat)
        return (value * _net_over_gross(account) if price.basis == "net" else value), "heating value on the bill"
    found = heating_value_of(account, price.price.typed.unit)
    if found is None or found.value is None:
        return None, f"{account.fuel.words} has no heating value for a price in {price.price.typed.unit}"
    heat = reckoning.assumed(
        found.quantity, found.value, found.spread, source=f"fuel library: {account.fuel.name}", words=found.words
    )
    return cost.price_of_heat(price=typed, heating_value=heat), f"{found.words} of {account.fuel.words}"


def _efficiency(price: Price, so_far: SoFar, reckoning: Reckoning) -> tuple[Number | None, str]:
    """The efficiency on gross heat, and what it is."""
    if price.efficiency is not None:
        number = reckoning.read(price.efficiency, words="efficiency, as stated")
        if price.efficiency_basis == "net":
            number = number * _net_over_gross(so_far.account)
        return number, f"efficiency as stated, {price.efficiency_basis}"
    worked = next((each for _, each in reversed(so_far.told) if each is not None), None)
    result = worked.results.get("efficiency_gross") if worked else None
    if result is None or result.value is None or result.bound:
        return None, "no efficiency was stated and none was read"
    spread = max(result.below, result.above)
    words = "efficiency of the flame at the moment of the test"
    return reckoning.assumed("efficiency_gross", result.value, spread, source="the flame", words=words), words


def _money(price: Price) -> str:
    return price.currency or "money"


def _before(price: Price) -> str:
    """The currency as it stands before a sum; nothing where none was typed."""
    return f"{price.currency} " if price.currency else ""


def write(price: Price, so_far: SoFar, reckoning: Reckoning, written: "Written", *, alone: bool) -> None:
    """Price of the heat in the fuel and of heat delivered; alone: without bills, so that an efficiency is missed."""
    account = so_far.account
    said: list[Piece] = ["the fuel costs ", Voiced(price.typed or price.price.typed.text)]
    number, source = per_heat(price, account, reckoning)
    if number is None:
        written.results["fuel price"] = refused("fuel_price", source)
        written.statements.append(Statement((*said, ".")))
        return
    written.results["fuel price"] = reckoning.result(
        "fuel_price",
        number,
        formula="price of heat = price / gross heat in what is paid for",
        substitution=f"{price.price.typed.text} with {source}",
        source="definition; docs/method/cost.md",
        holds="standing charges are not in it; gas as the meter counts it holds less heat on a mountain",
        basis="gross",
    )
    written.statements.append(
        Statement(
            (*said, f", so heat in the fuel, gross, costs {_before(price)}", Derived("fuel price"), "."),
            mark="derived",
        )
    )
    _delivered(price, number, so_far, reckoning, written, alone=alone)


def _delivered(
    price: Price, fuel_price: Number, so_far: SoFar, reckoning: Reckoning, written: "Written", *, alone: bool
) -> None:
    efficiency, what = _efficiency(price, so_far, reckoning)
    if efficiency is None:
        if alone:
            written.results["delivered price"] = refused("delivered_price", what)
        return
    delivered = cost.price_of_delivered_heat(fuel_price=fuel_price, efficiency=efficiency)
    written.results["delivered price"] = reckoning.result(
        "delivered_price",
        delivered,
        formula="price of heat delivered = price of heat in the fuel / efficiency, both gross",
        substitution=f"{float(ops.value_of(fuel_price)) * 3.6e6:.5g} / {float(ops.value_of(efficiency)):.4g} "
        f"= {float(ops.value_of(delivered)) * 3.6e6:.5g} {_money(price)} per kWh",
        source="definition; docs/method/cost.md",
        holds=f"{what}; at that efficiency, not over a year: cycling, standing ready and pipes cost more",
        basis="gross",
    )
    written.statements.append(
        Statement(
            (f"heat delivered costs {_before(price)}", Derived("delivered price"), f", by the {what}."),
            mark="derived",
        )
    )
    if price.efficiency_after is None:
        return
    if price.efficiency is None:
        why = "one reading of a flame is no season: a saving needs metered periods with degree days, before and after"
        written.results["share saved"] = refused("share_saved", why)
        written.cannot_tell.append(f"What is saved by another efficiency: {why}.")
        return
    _compared(price, efficiency, price.efficiency_after, so_far.account, reckoning, written)


def _compared(
    price: Price, efficiency: Number, beside: Reading, account: Account, reckoning: Reckoning, written: "Written"
) -> None:
    """Two stated efficiencies beside each other: how much less fuel one and the same heat takes by the second."""
    after = reckoning.read(beside, words="efficiency to compare with")
    if price.efficiency_basis == "net":
        after = after * _net_over_gross(account)
    saved = cost.share_saved(efficiency_before=efficiency, efficiency_after=after)
    one, two = (float(ops.value_of(number)) for number in (efficiency, after))
    written.results["share saved"] = reckoning.result(
        "share_saved",
        saved,
        formula="share of the fuel saved = 1 - efficiency before / efficiency after",
        substitution=f"1 - {one:.4g} / {two:.4g} = {1.0 - one / two:.4g}; the difference, {two - one:.4g}, is not it",
        source="fuel = heat / efficiency, twice; docs/method/cost.md",
        holds="same heat, same kind of time; two moments say nothing about a year",
    )
    written.statements.append(
        Statement(
            (
                "by these two efficiencies the same heat takes ",
                Derived("share saved"),
                " less fuel; no season is meant.",
            ),
            mark="derived",
        )
    )
    written.cannot_tell.append(
        "What is saved in a year: that needs metered periods with degree days before and after, not two efficiencies."
    )


def write_standing(standing: Standing, reckoning: Reckoning, written: "Written") -> None:
    """A pilot through a year, and efficiency with losses between firings."""
    if standing.pilot is not None:
        heat = cost.pilot_heat(fuel_input=reckoning.read(standing.pilot), duration=_YEAR)
        written.results["pilot"] = reckoning.result(
            "fuel_heat",
            heat,
            formula="heat = input of the pilot x time",
            substitution=f"{standing.pilot.typed.text} x 365.25 d",
            source="definition; docs/method/cost.md",
            holds="a pilot that burns all year; part of it may warm the house in winter",
        )
        written.statements.append(
            Statement(
                ("a pilot of ", Seen("pilot input", standing.pilot), " burns ", Derived("pilot"), " in a year."),
                mark="derived",
            )
        )
    if standing.standby_loss and standing.load_share and standing.efficiency:
        _with_standby(standing, reckoning, written)


def _with_standby(standing: Standing, reckoning: Reckoning, written: "Written") -> None:
    efficiency, loss, share = standing.efficiency, standing.standby_loss, standing.load_share
    if efficiency is None or loss is None or share is None or not share.figure:
        return
    number = cost.efficiency_with_standby(
        efficiency=reckoning.read(efficiency, words="efficiency, burner on"),
        standby_loss=reckoning.read(loss),
        load_share=reckoning.read(share),
    )
    system = reckoning.account.system
    words = (
        show.shown(one.figure or 0.0, quantity=names.of(one.quantity), system=system)
        for one in (efficiency, share, loss)
    )
    written.results["with standby"] = reckoning.result(
        "efficiency_stated",
        number,
        formula="efficiency with standing by = efficiency / (1 + (1 / share of time - 1) x standing loss)",
        substitution="{} / (1 + (1 / {} - 1) x {})".format(*words),
        source="VDI 2067 part 1, from memory; docs/method/cost.md",
        holds="standing loss alike all season; purging, cold starts and pipes come on top",
    )
    written.statements.append(
        Statement(
            (
                "burning ",
                Seen("load share", share),
                " of the time and losing ",
                Seen("standby loss", loss),
                " while it stands ready, it keeps ",
                Derived("with standby"),
                " of its heat.",
            ),
            mark="derived",
        )
    )


def voiced(price: Price) -> Voiced:
    """The money as it was typed."""
    return Voiced(_money(price))
