"""Works out one stretch of flue readings: every number with its doubt on both sides and its working.

The formulas are the kernel's; here readings become uncertain numbers, and results become words.
"""

import math
from collections.abc import Mapping
from dataclasses import dataclass, replace
from types import MappingProxyType

from fluewright.evidence import refusals, workings
from fluewright.evidence.flame import flue_gas
from fluewright.evidence.inputs import Taken, take
from fluewright.evidence.reading import Instrument, Stretch, Surroundings
from fluewright.evidence.result import Result
from fluewright.fuels.record import FuelRecord
from fluewright.kernel import air as airs
from fluewright.kernel import analysis, balance, dewpoint, dual, emissions, ops, sampling, short_forms
from fluewright.kernel.analysis import Analysis, Condensing
from fluewright.kernel.balance import FlueGas
from fluewright.kernel.ops import Number

NOTHING: Mapping[str, str] = MappingProxyType({})
AIR_FREE_LIMIT = 0.19
"""mol/mol: above this an air-free figure is not meaningful; raw CO and its rise in the room are (practice P17)."""

_OF_CARBON_MONOXIDE = ("carbon_monoxide_air_free", "co_co2_ratio", "loss_carbon_monoxide")


@dataclass(frozen=True, slots=True)
class Worked:
    """One stretch worked out.

    results      by registry name, refused ones with their reason
    numbers      the same with their derivatives, for what is made from them later
    residual     measured less expected carbon dioxide with its standard uncertainty, when both O2 and CO2 were read
    hydrogen     hydrogen worked out for a rich flame, mol/mol of the sample, 0 when lean
    flue         the flue gas itself, with its doubt
    trace_gases  trace gases on the dry basis, by gas
    taken        the readings as they went in
    """

    results: Mapping[str, Result]
    numbers: Mapping[str, Number]
    residual: tuple[float, float] | None
    hydrogen: float
    flue: FlueGas
    trace_gases: Mapping[str, Number]
    taken: Taken


def _recirculated(worked: Analysis, taken: Taken) -> Number:
    """Share of flue gas in the intake, on the basis of the sample."""
    flue, air = worked.flue, taken.prepared.air
    fresh = airs.oxygen_wet_fraction(air=air) if taken.wet else air.oxygen
    return sampling.recirculated_fraction(
        intake_oxygen_fraction=taken.oxygen_intake,
        oxygen_dry_fraction=flue.oxygen / (flue.dry + flue.water) if taken.wet else worked.oxygen_dry,
        air_oxygen_fraction=fresh if taken.oxygen_fresh is None else taken.oxygen_fresh,
    )


def _numbers(worked: Analysis, taken: Taken) -> dict[str, Number]:
    """All results by registry name, before doubt is read off them."""
    numbers = {name: getattr(worked, name) for name in Analysis._fields if name != "flue"}
    flue = worked.flue
    numbers["flue_gas_volume_wet"] = emissions.flue_gas_volume_wet_per_heat(fuel=taken.prepared.fuel, flue=flue)
    numbers["water_dew_point"] = analysis.water_dew_point(flue=flue, pressure=taken.pressure)
    numbers["condensed_fraction"] = 0.0
    if taken.oxygen_intake is not None:
        numbers["recirculated_fraction"] = _recirculated(worked, taken)
    if float(ops.value_of(flue.sulfur_dioxide)) > 0.0:
        wet = flue.dry + flue.water
        numbers["acid_dew_point"] = dewpoint.acid_verhoff(
            water_pressure=taken.pressure * flue.water / wet,
            sulfur_trioxide_pressure=taken.pressure * workings.TRIOXIDE_SHARE * flue.sulfur_dioxide / wet,
        )
    if taken.record.siegert_group and taken.has_temperatures:
        numbers["loss_siegert"] = short_forms.siegert_from_oxygen(
            group=taken.record.siegert_group,
            flue_temperature=taken.flue_temperature,
            air_temperature=taken.air_temperature,
            oxygen_dry_fraction=worked.oxygen_dry,
        )
    return numbers


def _condensing(worked: Analysis, taken: Taken, amount: Number) -> Condensing:
    return analysis.condensing(
        prepared=taken.prepared,
        flue=worked.flue,
        flue_temperature=taken.flue_temperature,
        air_temperature=taken.air_temperature,
        condensed_amount=amount,
        jacket_fraction=taken.jacket,
        fuel_temperature=taken.fuel_temperature,
    )


def _weighed(taken: Taken, flue: FlueGas) -> Number:
    """Water that was collected and weighed, mol per unit, 0 where none was."""
    if taken.condensate is None or not taken.has_temperatures:
        return 0.0
    amount, water = float(ops.value_of(taken.condensate)), float(ops.value_of(flue.water))
    refusals.too_much_condensate(amount=amount, water=water)
    return taken.condensate


def most_condensed(flue: FlueGas, taken: Taken) -> float:
    """Most water that can have condensed, mol per unit, with the gas as cold as its doubt allows."""
    if not taken.has_temperatures:
        return 0.0
    colder = float(ops.value_of(taken.flue_temperature)) - 2.0 * float(dual.spread(taken.flue_temperature))
    most = analysis.saturated_condensate(flue=flue, flue_temperature=colder, pressure=taken.pressure)
    return max(0.0, float(ops.value_of(most)))


def _refusal(name: str, taken: Taken, oxygen: float) -> str:
    """Why this result cannot be had, empty when it can."""
    if name in taken.withheld:
        return taken.withheld[name]
    cell = taken.point.worth(name)
    if cell.grade == "refused":
        return f"{taken.point.name}: {cell.reason.words}"
    of_heat = name.startswith(("loss_", "efficiency_", "condensed_fraction")) and name != "loss_carbon_monoxide"
    if of_heat and not taken.has_temperatures:
        return f"needs {taken.missing_temperature()}"
    if of_heat and taken.colder_than_air:
        return "the flue reads colder than the air that fed the flame: losses worked out from that mean nothing"
    if name == "carbon_monoxide_air_free" and oxygen > AIR_FREE_LIMIT:
        return "above 19 % oxygen an air-free figure says nothing; use CO as read and its rise in the room"
    if name in _OF_CARBON_MONOXIDE and not taken.has_carbon_monoxide:
        return "needs a carbon monoxide reading"
    if name == "co_co2_ratio" and not taken.has_carbon:
        return "the fuel has hardly any carbon"
    return ""


def _widened(name: str, numbers: Mapping[str, Number], taken: Taken) -> Number:
    """A result with the doubt of uneven mixing, where the point gives it a wide edge; its value stays."""
    number = numbers[name]
    if taken.point.worth(name).grade != "wide":
        return number
    if name.startswith("efficiency_"):
        return number - (taken.mixed - 1.0) * numbers[name.replace("efficiency_", "loss_")]
    if name == "air_ratio":
        return number + (taken.mixed - 1.0) * (number - 1.0)
    return number * taken.mixed


def _result(name: str, number: Number, taken: Taken, worked: Analysis, printed: Mapping[str, float]) -> Result:
    refused = _refusal(name, taken, printed["oxygen_dry"])
    bound = taken.ledger.bound(number)
    if bound == "no value":
        refused = refused or "rests on bounds that pull it both ways"
    intake = taken.readings.get("oxygen_intake")
    if name == "recirculated_fraction" and refusals.starved(intake):
        refused = refused or "with so little oxygen in the intake no burner burns: the probe or the hose was elsewhere"
    if name == "recirculated_fraction" and printed[name] > 1.0:
        refused = refused or "the intake holds less oxygen than the flue gas: the two may be swapped"
    if not math.isfinite(printed[name]):
        refused = refused or "has no value for this fuel"
    if refused:
        return Result(name, None, 0.0, 0.0, None, boundary=taken.boundary, refused=refused)
    below, above = taken.ledger.sides(number)
    work_ = workings.working(name, number, taken, worked, printed)
    cell = taken.point.worth(name)
    if cell.grade == "wide":
        edge = f"wide edge of {taken.point.point_class.mixing:.0%} at this point: {cell.reason.words}"
        work_ = replace(work_, holds=f"{work_.holds}; {workings.spaced(edge)}")
    return Result(name, printed[name], below, above, work_, boundary=taken.boundary, basis=taken.basis, bound=bound)


def _with_band(results: dict[str, Result], worked: Analysis, taken: Taken, most: float) -> None:
    """Open a band between nothing condensed and gas leaving saturated, where water can have condensed."""
    if most <= 0.0 or results["condensed_fraction"].refused:
        return
    wetter = _condensing(worked, taken, most)
    for name in Condensing._fields:
        dry = results[name].value
        if dry is not None:
            low, high = sorted((dry, float(ops.value_of(getattr(wetter, name)))))
            results[name] = replace(results[name], low=low, high=high)


def work(
    *,
    record: FuelRecord,
    stretch: Stretch,
    instrument: Instrument,
    surroundings: Surroundings,
    jacket_fraction: float = 0.0,
    withheld: Mapping[str, str] = NOTHING,
) -> Worked:
    """Everything one stretch of flue readings tells.

    record           fuel of the library, a blend or a custom analysis
    stretch          readings at one point in one moment
    instrument       what they were read with
    surroundings     pressure and humidity
    jacket_fraction  jacket loss, fraction of gross, 0 when left out
    withheld         results that this kind of appliance refuses, by name, with the reason
    -> results with doubt and workings; PhysicsRefused when nothing honest can be worked out
    """
    taken = take(
        record=record,
        stretch=stretch,
        instrument=instrument,
        surroundings=surroundings,
        jacket=jacket_fraction,
        withheld=withheld,
    )
    refusals.need_carbon(stretch, record, float(ops.value_of(taken.prepared.need.carbon_dioxide_dry_max)))
    flue, hydrogen = flue_gas(taken)
    spread = float(dual.spread(flue.oxygen / flue.dry))
    refusals.impossible(flue, stretch, record, oxygen_spread=spread)
    refusals.trap_fits(flue, stretch, trap=instrument.trap, pressure=surroundings.pressure)
    worked = analysis.analyse_flue(
        prepared=taken.prepared,
        flue=flue,
        carbon_monoxide_dry_fraction=taken.carbon_monoxide_dry(flue),
        flue_temperature=taken.flue_temperature,
        air_temperature=taken.air_temperature,
        jacket_fraction=taken.jacket,
        fuel_temperature=taken.fuel_temperature,
    )
    if taken.has_temperatures and not taken.colder_than_air:
        heat = float(ops.value_of(taken.prepared.fuel.heating_value_gross))
        refusals.need_heat(gross_heat=heat, loss=float(ops.value_of(worked.loss_gross)))
    numbers = _numbers(worked, taken)
    condensed = _weighed(taken, flue)
    if taken.condensate is not None and taken.has_temperatures:
        numbers |= _condensing(worked, taken, condensed)._asdict()
    numbers = {name: _widened(name, numbers, taken) for name in numbers}
    most = most_condensed(flue, taken)
    printed = workings.figures(worked, numbers, taken, condensed)
    printed["condensed_saturated"] = most / printed["water"] if printed["water"] > 0.0 else 0.0
    results = {name: _result(name, number, taken, worked, printed) for name, number in numbers.items()}
    if taken.condensate is None:
        _with_band(results, worked, taken, most)
    else:
        results["condensed_fraction"] = replace(results["condensed_fraction"], basis="condensate weighed")
    return Worked(results, numbers, _residual(flue, taken), hydrogen, flue, _trace_gases(flue, taken), taken)


def _trace_gases(flue: FlueGas, taken: Taken) -> dict[str, Number]:
    """Trace gases on the dry basis."""
    gases = {gas: taken.dried(read, flue) * taken.mixed for gas, read in taken.trace_gases.items()}
    if taken.has_carbon_monoxide:
        gases["carbon_monoxide"] = taken.carbon_monoxide_dry(flue) * taken.mixed
    return gases


def _residual(flue: FlueGas, taken: Taken) -> tuple[float, float] | None:
    """Measured less expected carbon dioxide, when both were read."""
    if taken.carbon_dioxide is None or taken.oxygen is None:
        return None
    expected = balance.carbon_dioxide_dry_fraction(flue=flue, air=taken.prepared.air)
    difference = taken.dried(taken.carbon_dioxide, flue) - expected
    return float(ops.value_of(difference)), float(dual.spread(difference))
