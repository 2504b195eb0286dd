"""Which input an orifice passes, and which orifice an input asks for."""

from collections.abc import Iterator
from dataclasses import dataclass

from fluewright.evidence.gas_holes import (
    Hole,
    by_orifice,
    gas_before,
    share_through,
)
from fluewright.evidence.part import Derived, Part, Seen, SoFar, Statement, Voiced
from fluewright.evidence.reading import Account, Reading
from fluewright.evidence.reckon import Reckoning
from fluewright.evidence.result import Result
from fluewright.fuels.figures import figures
from fluewright.fuels.reference import Reference
from fluewright.kernel import orifice
from fluewright.quantity import show
from fluewright.rules import drills


@dataclass(frozen=True, slots=True)
class OrificeAsked:
    """A question about orifices.

    pressure  gauge pressure at the manifold
    holes     as fitted, None where only an input is asked for
    count     how many holes share the input
    wanted    W gross, None where only the holes are asked about
    """

    pressure: Reading
    holes: Hole | None = None
    count: int = 1
    wanted: float | None = None
    discharge: float | None = None

    @property
    def late(self) -> bool:
        """It rests on nothing else."""
        return False

    def worked(self, so_far: SoFar) -> Part:
        """What the holes pass, and which holes the input asks for."""
        reckoning = Reckoning(so_far.account)
        results: dict[str, Result] = {}
        statements: list[Statement] = []
        if self.holes is not None:
            results["fuel_input_by_orifice"] = by_orifice(self.holes, self.pressure, reckoning)
            statements += self._passed(self.holes, so_far.account)
        if self.wanted is not None:
            results["orifice_diameter"] = self._needed(reckoning)
            statements += self._drills(results["orifice_diameter"], reckoning)
        return Part(
            word="orifice",
            title="Orifice",
            place="supply",
            statements=tuple(statements),
            results=results,
            cannot_tell=(
                "What the burner really burns: holes wear, soot up and are drilled off centre. The meter decides.",
            ),
        )

    def _passed(self, holes: Hole, account: Account) -> Iterator[Statement]:
        pieces = (Voiced(holes.said(), "plate"), " at ", Seen("manifold_pressure", self.pressure), ": ")
        end = (" gross of ", account.fuel.words, ".")
        yield Statement((*pieces, Derived("fuel_input_by_orifice"), *end), mark="derived")
        heat = table_input(holes, self.pressure.figure or 0.0, account)
        said = show.shown(heat, quantity="fuel_input", system=account.system)
        yield Statement(
            (
                f"the public tables, made with a discharge of {orifice.TABLE_DISCHARGE:.2f} at sea level, say ",
                Voiced(said, "plate"),
                ".",
            ),
            mark="plate",
        )

    def _needed(self, reckoning: Reckoning) -> Result:
        """The diameter that the input asks for."""
        each = (self.wanted or 0.0) / self.count
        pressure = reckoning.read(self.pressure, words="manifold pressure")
        gas = gas_before(pressure, reckoning)
        number = orifice.diameter_from_flow(
            gas_flow=each / (gas.heat * gas.expansion),
            discharge=share_through(self.discharge, reckoning),
            gas_pressure=pressure,
            density=gas.density,
        )
        system = reckoning.account.system
        said = show.shown(each, quantity="fuel_input", system=system)
        return reckoning.result(
            "orifice_diameter",
            number,
            formula="diameter = root of (4 / pi x gas flow / (discharge x root of (2 x pressure / density)))",
            substitution=f"{said} through each of {self.count}",
            source="Bernoulli with isentropic expansion; heating value and density of the fuel",
            holds="gas of 15 C at the barometer of the place; discharge of a drilled spud",
        )

    def _drills(self, needed: Result, reckoning: Reckoning) -> Iterator[Statement]:
        system = reckoning.account.system
        wanted = show.shown(self.wanted or 0.0, quantity="fuel_input", system=system)
        holes = "one hole" if self.count == 1 else f"{self.count} holes"
        yield Statement((wanted, f" through {holes} asks for ", Derived("orifice_diameter"), " each."), mark="derived")
        if needed.value is None:
            return
        near = (*drills.around(needed.value), drills.metric(needed.value))
        said = []
        for drill in near:
            share = (drill.diameter / needed.value) ** 2 - 1.0
            size = f"{drill.diameter * 1000.0:.2f} mm"
            name = drill.name if drill.name == size else f"{drill.name} ({size})"
            said.append(f"{name}: {share * 100.0:+.1f} % input".replace("-", "\N{MINUS SIGN}"))
        yield Statement(("drills near it: ", Voiced("; ".join(said), "plate"), "."), mark="plate")


def table_input(holes: Hole, pressure: float, account: Account) -> float:
    """W gross by the form of the public tables, at sea level."""
    known = figures(account.fuel, reference=Reference("15", "15"))
    flow = orifice.flow_by_table(
        diameter=holes.diameter,
        discharge=orifice.TABLE_DISCHARGE,
        gas_pressure=pressure,
        relative_density=known["relative_density"].value or 1.0,
    )
    return float(holes.count * flow * (known["heating_value_gross"].value or 0.0))
