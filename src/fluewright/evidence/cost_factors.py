"""Carbon dioxide of the fuel by what it is made of, beside what documents publish, gross beside net."""

from typing import TYPE_CHECKING

from fluewright.evidence.part import Derived, Piece, Statement, Voiced
from fluewright.evidence.reading import Account
from fluewright.evidence.result import Input, Result, Working
from fluewright.fuels import factors
from fluewright.fuels.factors import PerHeat
from fluewright.fuels.figures import Figure, figures
from fluewright.fuels.reference import Reference
from fluewright.kernel import cost, ops

if TYPE_CHECKING:
    from fluewright.evidence.cost import Written

TRAP = (
    "A factor per net heat on heat that is billed gross is too much by the ratio of the two heating values: a tenth "
    "for natural gas, 6 % for oil."
)
_GASES = {"CO2": "carbon dioxide", "CH4": "methane", "N2O": "nitrous oxide", "CO2e": "carbon dioxide with others"}


def _own(account: Account) -> dict[str, Result]:
    """Carbon factor from the composition, gross and net."""
    found: Figure = figures(account.fuel, reference=Reference("15", "15"))["carbon_factor"]
    if found.value is None:
        return {}
    inputs = tuple(
        Input(
            "share" if one.value <= 1.0 else "carbon_factor",
            one.words,
            one.value,
            one.spread,
            one.spread,
            "fuel library",
            one.share,
        )
        for one in found.doubts
    )
    working = Working(found.formula, found.numbers, inputs, found.source, found.holds)
    gross, net = (
        float(ops.value_of(each))
        for each in (account.fuel.fuel.heating_value_gross, account.fuel.fuel.heating_value_net)
    )
    carried = cost.carbon_factor_on_other_basis(carbon_factor=found.value, heating_value=gross, other_heating_value=net)
    on_net = Working(
        "carbon factor, net = carbon factor, gross x gross / net",
        f"{found.value * 1e9:.2f} x {gross / net:.4f} = {carried * 1e9:.2f} g/MJ",
        inputs,
        found.source,
        found.holds,
    )
    return {
        "own carbon factor": Result("carbon_factor", found.value, found.spread, found.spread, working, basis="gross"),
        "own carbon factor, net": Result(
            "carbon_factor_net", carried, found.spread * gross / net, found.spread * gross / net, on_net, basis="net"
        ),
    }


def _published(one: PerHeat) -> Result:
    """A published figure as a result on the basis of its document."""
    name = "carbon_factor_net" if one.basis == "net" else "carbon_factor"
    working = Working("as printed", one.printed, (), f"{one.document}; {one.known}", f"per {one.basis} heat")
    return Result(name, one.value, 0.0, 0.0, working, basis=one.basis)


def _line(one: PerHeat, key: str, own: dict[str, Result]) -> Statement:
    ours = own.get("own carbon factor, net" if one.basis == "net" else "own carbon factor")
    shown: Piece = Derived(key) if one.gas.startswith("CO2") else Voiced(one.printed, "plate")
    pieces: list[Piece] = [f"{_GASES[one.gas]} by {one.document}, per {one.basis} heat: ", shown]
    if one.gas == "CO2" and ours is not None and ours.value:
        off = (one.value / ours.value - 1.0) * 100.0
        same = abs(off) < 0.05
        pieces.append(
            ", as for this fuel" if same else f", {abs(off):.1f} % {'more' if off > 0 else 'less'} than this fuel"
        )
    return Statement((*pieces, "."), mark="plate", margin=f"{one.printed}, {one.known}")


def write(account: Account, written: "Written") -> None:
    """Own factor on both bases, each published one beside it."""
    own = _own(account)
    written.results.update(own)
    if own:
        pieces = (
            f"{account.fuel.words} gives off ",
            Derived("own carbon factor"),
            " of carbon dioxide per gross heat, ",
            Derived("own carbon factor, net"),
            " per net heat.",
        )
        written.statements.append(Statement(pieces, mark="derived"))
    beside = [one for one in factors.per_heat() if account.fuel.name in one.fuels]
    for number, one in enumerate(beside, 1):
        key = f"published {number}"
        written.results[key] = _published(one)
        written.statements.append(_line(one, key, own))
    if beside and len({one.basis for one in beside}) == 2:
        written.statements.append(Statement((TRAP,), mark="plate"))
    written.data["published_per_heat"] = [
        {"gas": one.gas, "printed": one.printed, "basis": one.basis, "document": one.document, "known": one.known}
        for one in beside
    ]
