"""Trace gases of one stretch in the forms that rules ask for. Nitric oxide stays so unless NO2 was read too."""

from dataclasses import dataclass

from fluewright.evidence.flue import AIR_FREE_LIMIT, Worked
from fluewright.evidence.result import Result, Working
from fluewright.kernel import dilution, ops
from fluewright.kernel import emissions as kernel
from fluewright.kernel.ops import Number
from fluewright.quantity import names, show

SPECIES = {"carbon_monoxide": "CO", "nitric_oxide": "NO", "nitrogen_dioxide": "NO2", "sulfur_dioxide": "SO2"}
"""Gases that can be read, with the species whose molar mass counts."""
SOURCE = "element balance and ideal-gas law; docs/method/dilution.md"
TOO_MUCH_AIR = "above 19 % oxygen a figure carried to other oxygen says nothing"


@dataclass(frozen=True, slots=True)
class _Gas:
    """One trace gas on the dry basis, about to be put in other forms."""

    worked: Worked
    name: str
    fraction: Number
    species: str
    reference: float | None
    rule_oxygen: float | None

    def shown(self, number: Number, form: str) -> str:
        """A figure as it stands in a substitution."""
        name = form if form in names.REGISTRY else f"{self.name}_{form}"
        return show.shown(float(ops.value_of(number)), quantity=name, system="si")

    def result(self, form: str, number: Number, formula: str, put_in: str, basis: str) -> Result:
        """One form of the gas with its doubt and its working."""
        taken, name = self.worked.taken, f"{self.name}_{form}"
        bound = taken.ledger.bound(number)
        if bound == "no value":
            return Result(name, None, 0.0, 0.0, None, refused="rests on bounds that pull it both ways")
        below, above = taken.ledger.sides(number)
        substitution = f"{put_in} = {self.shown(number, form)}"
        working = Working(formula, substitution, taken.ledger.inputs(number), SOURCE, "trace gas from the flame only")
        value = float(ops.value_of(number))
        return Result(name, value, below, above, working, boundary=taken.boundary, basis=basis, bound=bound)

    @property
    def oxygen(self) -> Number:
        """Oxygen of the dry flue gas."""
        return self.worked.flue.oxygen / self.worked.flue.dry

    @property
    def in_ppm(self) -> str:
        """The gas as read, dry, in words."""
        return f"{float(ops.value_of(self.fraction)) * 1e6:.1f} ppm"


def _at_reference(gas: _Gas) -> tuple[Number, dict[str, Result]]:
    """The concentration carried to the reference oxygen, and its result; as read where no reference is asked."""
    if gas.reference is None:
        return gas.fraction, {}
    fresh = gas.worked.taken.prepared.air.oxygen if gas.rule_oxygen is None else gas.rule_oxygen
    at = dilution.at_reference_oxygen(
        fraction=gas.fraction,
        oxygen_dry_fraction=gas.oxygen,
        reference_oxygen_fraction=gas.reference,
        air_oxygen_fraction=fresh,
    )
    have, full = float(ops.value_of(gas.oxygen)) * 100.0, float(ops.value_of(fresh)) * 100.0
    put_in = f"{gas.in_ppm} × ({full:.2f} − {gas.reference * 100:g}) / ({full:.2f} − {have:.2f})"
    formula = "concentration × (fresh oxygen − reference) / (fresh oxygen − oxygen)"
    result = gas.result("at_reference_oxygen", at, formula, put_in, f"dry, at {gas.reference * 100:g} % oxygen")
    return at, {result.name: result}


def _per_volume(gas: _Gas) -> dict[str, Result]:
    """Concentrations: at the reference oxygen where one is asked, and mass per volume of dry gas."""
    at, found = _at_reference(gas)
    basis = "dry, as read" if gas.reference is None else f"dry, at {gas.reference * 100:g} % oxygen"
    density = kernel.mass_concentration(fraction=at, species=gas.species)
    put_in = f"{float(ops.value_of(at)) * 1e6:.1f} ppm of {gas.species} / 22.414 L/mol"
    formula = "fraction × molar mass / 22.414 L/mol"
    result = gas.result("mass_concentration", density, formula, put_in, basis + ", 0 °C, 101.325 kPa")
    found[result.name] = result
    if gas.reference is not None and float(ops.value_of(gas.oxygen)) > AIR_FREE_LIMIT:
        return {name: Result(name, None, 0.0, 0.0, None, refused=TOO_MUCH_AIR) for name in found}
    return found


def _per_heat(gas: _Gas) -> dict[str, Result]:
    """Mass per heat burned, gross and net, and per heat delivered where the losses are known."""
    flue, fuel = gas.worked.flue, gas.worked.taken.prepared.fuel
    density = kernel.mass_concentration(fraction=gas.fraction, species=gas.species)
    volume = kernel.flue_gas_volume_per_heat(fuel=fuel, flue=flue)
    put_in = f"{gas.shown(density, 'mass_concentration')} × {gas.shown(volume, 'flue_gas_volume')}"
    gross = kernel.mass_per_heat_gross(fuel=fuel, flue=flue, dry_fraction=gas.fraction, species=gas.species)
    net = kernel.mass_per_heat_net(fuel=fuel, flue=flue, dry_fraction=gas.fraction, species=gas.species)
    formula = "mass per dry gas × dry gas per gross heat"
    found = [gas.result("mass_per_heat", gross, formula, put_in, "per gross heat burned")]
    share = float(ops.value_of(fuel.heating_value_net / fuel.heating_value_gross))
    put_in = f"{gas.shown(gross, 'mass_per_heat')} / {share:.4f}"
    formula = "mass per gross heat / (net heat / gross heat)"
    found.append(gas.result("mass_per_heat_net", net, formula, put_in, "per net heat burned"))
    efficiency = gas.worked.numbers["efficiency_gross"]
    known = gas.worked.results["efficiency_gross"]
    if known.value is not None and known.value > 0.0:
        put_in = f"{gas.shown(gross, 'mass_per_heat')} / {known.value:.3f}"
        basis = f"per heat delivered, taken as {known.value * 100:.1f} % of the gross heat"
        formula = "mass per gross heat / combustion efficiency"
        found.append(gas.result("mass_per_heat_output", gross / efficiency, formula, put_in, basis))
    return {result.name: result for result in found}


def of_stretch(
    worked: Worked, *, reference: float | None = None, rule_oxygen: float | None = None
) -> dict[str, Result]:
    """Every trace gas that was read, per volume and per heat.

    worked       one stretch worked out
    reference    oxygen to carry concentrations to, mol/mol, None for as read
    rule_oxygen  oxygen of fresh air that the rule counts with, mol/mol, None for that of the air itself
    -> results by registry name; nitrogen oxides as NO2 only where both NO and NO2 were read
    """
    read = {name: number for name, number in worked.trace_gases.items() if name in SPECIES}
    gases = [_Gas(worked, name, number, SPECIES[name], reference, rule_oxygen) for name, number in read.items()]
    if "nitric_oxide" in read and "nitrogen_dioxide" in read:
        both = read["nitric_oxide"] + read["nitrogen_dioxide"]
        gases.append(_Gas(worked, "nitrogen_oxides", both, "NO2", reference, rule_oxygen))
    found: dict[str, Result] = {}
    for gas in gases:
        found |= _per_volume(gas) | _per_heat(gas)
    return found
