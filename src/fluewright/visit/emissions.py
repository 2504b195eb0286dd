"""Trace gases of one stretch in the forms that rules ask for. Nitric oxide stays so unless NO2 was read too."""

from fluewright.evidence.flue import Worked
from fluewright.evidence.result import Result, Working
from fluewright.kernel import dilution, ops
from fluewright.kernel import emissions as kernel
from fluewright.kernel.ops import Number

GASES = {
    "carbon_monoxide": ("carbon_monoxide_dry", "CO"),
    "nitric_oxide": ("nitric_oxide_dry", "NO"),
    "nitrogen_dioxide": ("nitrogen_dioxide_dry", "NO2"),
    "sulfur_dioxide": ("sulfur_dioxide_dry", "SO2"),
}
SOURCE = "element balance and ideal-gas law; docs/method/dilution.md"


def _result(worked: Worked, name: str, number: Number, formula: str, basis: str) -> Result:
    below, above = worked.taken.ledger.sides(number)
    value = float(ops.value_of(number))
    inputs = worked.taken.ledger.inputs(number)
    return Result(
        name, value, below, above, Working(formula, "", inputs, SOURCE, "trace gas from the flame only"), basis=basis
    )


def _one_gas(worked: Worked, gas: str, fraction: Number, species: str, reference: float | None) -> dict[str, Result]:
    taken, found = worked.taken, {}
    flue, fuel = worked.flue, taken.prepared.fuel
    oxygen, fresh = flue.oxygen / flue.dry, taken.prepared.air.oxygen
    at = fraction
    basis = "dry, as read"
    if reference is not None:
        at = dilution.at_reference_oxygen(
            fraction=fraction,
            oxygen_dry_fraction=oxygen,
            reference_oxygen_fraction=reference,
            air_oxygen_fraction=fresh,
        )
        basis = f"dry, at {reference * 100:g} % oxygen"
        formula = "concentration × (fresh oxygen − reference) / (fresh oxygen − oxygen)"
        found[f"{gas}_at_reference_oxygen"] = _result(worked, f"{gas}_at_reference_oxygen", at, formula, basis)
    name = f"{gas}_mass_concentration"
    density = kernel.mass_concentration(fraction=at, species=species)
    found[name] = _result(worked, name, density, "fraction × molar mass / 22.414 L/mol", basis + ", 0 °C, 101.325 kPa")
    for side, rate in (("", kernel.mass_per_heat_gross), ("_net", kernel.mass_per_heat_net)):
        name = f"{gas}_mass_per_heat{side}"
        mass = rate(fuel=fuel, flue=flue, dry_fraction=fraction, species=species)
        words = "net" if side else "gross"
        formula = f"fraction × dry gas × molar mass / {words} heat"
        found[name] = _result(worked, name, mass, formula, f"per {words} heat burned")
    efficiency = worked.results["efficiency_gross"].value
    if efficiency is not None and efficiency > 0.0:
        name = f"{gas}_mass_per_heat_output"
        mass = kernel.mass_per_heat_gross(fuel=fuel, flue=flue, dry_fraction=fraction, species=species) / efficiency
        basis = f"per heat delivered, taken as {efficiency * 100:.1f} % of the gross heat"
        found[name] = _result(worked, name, mass, "mass per gross heat / combustion efficiency", basis)
    return found


def of_stretch(worked: Worked, *, reference: float | None = None) -> dict[str, Result]:
    """Every trace gas that was read, per volume and per heat.

    worked     one stretch worked out
    reference  oxygen to carry concentrations to, mol/mol, None for as read
    -> results by registry name; nitrogen oxides as NO2 only where both NO and NO2 were read
    """
    found: dict[str, Result] = {}
    read: dict[str, Number] = {}
    for gas, (name, species) in GASES.items():
        if name in worked.trace_gases:
            read[gas] = worked.trace_gases[name]
            found |= _one_gas(worked, gas, read[gas], species, reference)
    if "nitric_oxide" in read and "nitrogen_dioxide" in read:
        both = read["nitric_oxide"] + read["nitrogen_dioxide"]
        found |= _one_gas(worked, "nitrogen_oxides", both, "NO2", reference)
    return found
