"""Works out one stretch of flue readings: every number with its doubt on both sides and its working.

The formulas are the kernel's; here readings become uncertain numbers, and results become words.
"""

import math
import re
from collections.abc import Mapping
from dataclasses import dataclass, replace

from fluewright.errors import PhysicsRefused
from fluewright.evidence.doubt import Ledger, plain
from fluewright.evidence.formulas import FORMULAS
from fluewright.evidence.inputs import Taken, take
from fluewright.evidence.reading import Instrument, Stretch, Surroundings
from fluewright.evidence.result import Result, Working
from fluewright.fuels.record import FuelRecord
from fluewright.kernel import analysis, balance, dewpoint, dual, emissions, losses, ops, sampling, short_forms
from fluewright.kernel.analysis import Analysis
from fluewright.kernel.balance import FlueGas
from fluewright.kernel.constants import REFERENCE_TEMPERATURE
from fluewright.kernel.ops import Number

RICH_CARBON_MONOXIDE = 0.002
"""mol/mol dry above which a flame is worked out with the hydrogen that goes with its CO, where no oxygen is left."""

TRIOXIDE_SHARE = 0.02
"""Share of the sulfur dioxide that goes on to trioxide (common practice, no source; 1 to 5 % is usual)."""

_OF_THE_FLAME = (
    "air_ratio",
    "excess_air",
    "water_dew_point",
    "acid_dew_point",
    "condensed_fraction",
    "flue_gas_volume",
    "flue_gas_volume_wet",
    "combustion_air_volume",
    "loss_siegert",
)
REFUSED_BY_POINT = {
    "undiluted": (),
    "diluted": _OF_THE_FLAME,
    "intake": (*FORMULAS,),
    "room": (*FORMULAS,),
    "supply": (*FORMULAS,),
}
"""What a sampling point cannot tell (practice P1): behind a draft hood air-free CO and the losses stay."""

AIR_FREE_LIMIT = 0.19
"""mol/mol: above this an air-free figure is not meaningful; raw CO and its rise in the room are (practice P17)."""


@dataclass(frozen=True, slots=True)
class Worked:
    """One stretch worked out.

    results   by registry name, refused ones with their reason
    residual  measured less expected carbon dioxide with its standard uncertainty, when both O2 and CO2 were read
    hydrogen  estimated hydrogen of a rich flame, mol/mol dry, 0 when lean
    flue      the flue gas itself, with its doubt
    trace_gases  readings of trace gases on the dry basis, by registry name
    taken     the readings as they went in
    """

    results: Mapping[str, Result]
    residual: tuple[float, float] | None
    hydrogen: float
    flue: FlueGas
    trace_gases: Mapping[str, Number]
    taken: Taken


def _flue_gas(taken: Taken) -> tuple[FlueGas, float]:
    """The flue gas from whichever of oxygen and carbon dioxide was read, with hydrogen where the flame is rich."""
    carbon_monoxide = taken.carbon_monoxide

    def balanced(hydrogen: Number) -> FlueGas:
        fuel, air = taken.prepared.fuel, taken.prepared.air
        if taken.oxygen_wet is not None:
            return balance.from_wet_oxygen(
                fuel=fuel,
                air=air,
                oxygen_wet_fraction=taken.oxygen_wet,
                carbon_monoxide_wet_fraction=carbon_monoxide,
                hydrogen_wet_fraction=hydrogen,
            )
        if taken.oxygen is not None:
            return balance.from_dry_oxygen(
                fuel=fuel,
                air=air,
                oxygen_dry_fraction=taken.oxygen,
                carbon_monoxide_dry_fraction=carbon_monoxide,
                hydrogen_dry_fraction=hydrogen,
            )
        return balance.from_dry_carbon_dioxide(
            fuel=fuel,
            air=air,
            carbon_dioxide_dry_fraction=taken.carbon_dioxide,
            carbon_monoxide_dry_fraction=carbon_monoxide,
            hydrogen_dry_fraction=hydrogen,
        )

    flue = balanced(0.0)
    plain_co = float(ops.value_of(carbon_monoxide))
    if plain_co < RICH_CARBON_MONOXIDE or balance.lean(flue=flue):
        return flue, 0.0
    hydrogen: Number = 0.0
    for _ in range(40):
        hydrogen = balance.hydrogen_from_shift(flue=balanced(hydrogen))
    return balanced(hydrogen), float(ops.value_of(hydrogen))


def _refuse_impossible(flue: FlueGas, taken: Taken) -> None:
    """Stop where no flame can have made these readings."""
    dry, air = float(ops.value_of(flue.dry)), float(ops.value_of(flue.air))
    carbon = float(ops.value_of(flue.carbon_dioxide))
    if dry > 0.0 and air > 0.0 and carbon > -1e-9 and math.isfinite(dry + air):
        return
    raise PhysicsRefused(
        code="FW-K-001",
        read=f"readings that no flame of {taken.record.words} can make: {taken.described()}",
        expected="oxygen below that of fresh air, and no more carbon than the fuel has",
        matters="an air ratio worked out from them would be infinite or negative",
        do="check the fuel, the units and that the probe is in the flue and its hose tight",
    )


def _numbers(worked: Analysis, taken: Taken) -> dict[str, Number]:
    """All results by registry name, before doubt is read off them."""
    names = (name for name in Analysis._fields if name != "flue")
    numbers = {name: getattr(worked, name) for name in names}
    flue = worked.flue
    numbers["flue_gas_volume_wet"] = emissions.flue_gas_volume_wet_per_heat(fuel=taken.prepared.fuel, flue=flue)
    numbers["water_dew_point"] = analysis.water_dew_point(flue=flue, pressure=taken.pressure)
    if taken.oxygen_intake is not None:
        numbers["recirculated_fraction"] = sampling.recirculated_fraction(
            intake_oxygen_fraction=taken.oxygen_intake,
            oxygen_dry_fraction=worked.oxygen_dry,
            air_oxygen_fraction=taken.prepared.air.oxygen,
        )
    sulfur = float(ops.value_of(flue.sulfur_dioxide))
    if sulfur > 0.0:
        wet = flue.dry + flue.water
        numbers["acid_dew_point"] = dewpoint.acid_verhoff(
            water_pressure=taken.pressure * flue.water / wet,
            sulfur_trioxide_pressure=taken.pressure * TRIOXIDE_SHARE * flue.sulfur_dioxide / wet,
        )
    if taken.record.siegert_group and taken.has_temperatures:
        numbers["loss_siegert"] = short_forms.siegert_from_oxygen(
            group=taken.record.siegert_group,
            flue_temperature=taken.flue_temperature,
            air_temperature=taken.air_temperature,
            oxygen_dry_fraction=worked.oxygen_dry,
        )
    return numbers


def _amounts(worked: Analysis, taken: Taken) -> dict[str, Number]:
    """Moles and shares that a working may print."""
    fuel, air, flue = taken.prepared.fuel, taken.prepared.air, worked.flue
    wet = flue.dry + flue.water
    return {
        "left": (flue.oxygen - (flue.carbon_monoxide + flue.hydrogen) / 2.0) / flue.dry,
        "dry": flue.dry,
        "water": flue.water,
        "air": flue.air,
        "oxygen": flue.oxygen,
        "hydrogen": flue.hydrogen,
        "carbon_dioxide": flue.carbon_dioxide,
        "carbon_monoxide": flue.carbon_monoxide,
        "carbon": fuel.carbon,
        "oxygen_need": taken.prepared.need.oxygen_need,
        "dry_products": taken.prepared.need.dry_products,
        "fresh_oxygen": air.oxygen,
        "fresh_carbon_dioxide": air.carbon_dioxide,
        "water_share": flue.water / wet,
        "sulfur_trioxide_ppm": 1e6 * TRIOXIDE_SHARE * flue.sulfur_dioxide / wet,
        "carbon_monoxide_ppm": taken.carbon_monoxide_dry(flue) * 1e6,
        "carbon_monoxide_air_free_ppm": worked.carbon_monoxide_air_free * 1e6,
        "oxygen_percent": worked.oxygen_dry * 100.0,
    }


def _heats(worked: Analysis, taken: Taken) -> dict[str, Number]:
    """Heats and losses that a working may print, J per unit of fuel or fractions."""
    fuel, air, flue = taken.prepared.fuel, taken.prepared.air, worked.flue
    carriers = taken.prepared.carriers
    hot, cold = taken.flue_temperature, taken.air_temperature
    lost = losses.losses(
        fuel=fuel,
        carriers=carriers,
        flue=flue,
        flue_temperature=hot,
        air_temperature=cold,
        water_ratio=air.water_ratio,
        fuel_temperature=REFERENCE_TEMPERATURE,
    )
    return {
        "dry_heat": losses.dry_flue_enthalpy(carriers=carriers, flue=flue, temperature=hot),
        "air_heat": flue.air * ops.polynomial(cold, carriers.air),
        "gross_heat": fuel.heating_value_gross,
        "net_heat": fuel.heating_value_net,
        "latent_heat": fuel.heating_value_gross - fuel.heating_value_net,
        "latent": lost.latent,
        "vapour_sensible": lost.vapour_sensible,
        "jacket": taken.jacket,
        "jacket_net": taken.jacket * fuel.heating_value_gross / fuel.heating_value_net,
        "rise": hot - cold,
    }


def _substituted(worked: Analysis, numbers: Mapping[str, Number], taken: Taken) -> dict[str, float]:
    """Every figure that a working may print, as plain numbers."""
    group = short_forms.SIEGERT.get(taken.record.siegert_group)
    extra: dict[str, Number] = {
        "pressure_hpa": taken.pressure / 100.0,
        "dew_celsius": numbers["water_dew_point"] - 273.15,
        "acid_celsius": numbers.get("acid_dew_point", 273.15) - 273.15,
        "siegert_a": group.oxygen_factor if group else 0.0,
        "siegert_b": group.offset if group else 0.0,
    }
    return plain({**_amounts(worked, taken), **_heats(worked, taken), **extra, **numbers})


def _spaced(text: str) -> str:
    """A space before each per cent sign, as standards write it."""
    return re.sub(r"(\d)%", r"\1 %", text)


def _working(name: str, number: Number, ledger: Ledger, figures: Mapping[str, float]) -> Working:
    formula = FORMULAS[name]
    inputs = ledger.inputs(number)
    advice = ""
    if inputs and inputs[0].share > 0.3:
        advice = f"Most of the doubt comes from {inputs[0].words}; knowing it better would narrow this most."
    return Working(
        formula=formula.words,
        substitution=_spaced(formula.numbers.format(**figures)),
        inputs=inputs,
        source=formula.source,
        holds=formula.holds,
        advice=advice,
    )


_NEEDS_TEMPERATURES = ("loss_", "efficiency_", "condensed_fraction")


def _refusal(name: str, taken: Taken, oxygen: float) -> str:
    """Why this result cannot be had, empty when it can."""
    if name in REFUSED_BY_POINT[taken.point.kind]:
        return (
            f"sampled at {taken.point.name}, where the gas is {taken.point.kind}: "
            "room air in the sample moves this and nothing in the reading shows by how much"
        )
    if name.startswith(_NEEDS_TEMPERATURES) and name != "loss_carbon_monoxide" and not taken.has_temperatures:
        return f"needs {taken.missing_temperature()}"
    if name == "carbon_monoxide_air_free" and oxygen > AIR_FREE_LIMIT:
        return "above 19 % oxygen an air-free figure says nothing; use CO as read and its rise in the room"
    if name in ("carbon_monoxide_air_free", "co_co2_ratio", "loss_carbon_monoxide") and not taken.has_carbon_monoxide:
        return "needs a carbon monoxide reading"
    if name == "co_co2_ratio" and not float(ops.value_of(taken.prepared.fuel.carbon)):
        return "the fuel has no carbon"
    return ""


def _band(result: Result, low: Number, high: Number) -> Result:
    return replace(result, low=float(ops.value_of(low)), high=float(ops.value_of(high)))


def _with_condensing(results: dict[str, Result], worked: Analysis, taken: Taken) -> None:
    """Open a band where water can have condensed, or close it with the condensate that was weighed."""
    if not taken.has_temperatures or "condensed_fraction" in REFUSED_BY_POINT[taken.point.kind]:
        return
    flue, hot = worked.flue, taken.flue_temperature
    most = analysis.saturated_condensate(flue=flue, flue_temperature=hot, pressure=taken.pressure)
    amount = taken.condensate if taken.condensate is not None else most
    if float(ops.value_of(amount)) <= 0.0:
        return
    wetter = analysis.condensing(
        prepared=taken.prepared,
        flue=flue,
        flue_temperature=hot,
        air_temperature=taken.air_temperature,
        condensed_amount=amount,
        jacket_fraction=taken.jacket,
        fuel_temperature=REFERENCE_TEMPERATURE,
    )
    for name in analysis.Condensing._fields:
        other = getattr(wetter, name)
        if taken.condensate is not None:
            below, above = taken.ledger.sides(other)
            value = float(ops.value_of(other))
            results[name] = replace(results[name], value=value, below=below, above=above, basis="condensate weighed")
        else:
            ends = sorted((float(results[name].value or 0.0), float(ops.value_of(other))))
            results[name] = _band(results[name], ends[0], ends[1])


def work(
    *,
    record: FuelRecord,
    stretch: Stretch,
    instrument: Instrument,
    surroundings: Surroundings,
    jacket_fraction: float = 0.0,
) -> Worked:
    """Everything one stretch of flue readings tells.

    record        fuel of the library, a blend or a custom analysis
    stretch       readings at one point in one moment
    instrument    what they were read with
    surroundings  pressure and humidity
    jacket_fraction  jacket loss, fraction of gross, 0 when left out
    -> results with doubt and workings; PhysicsRefused when no flame can have made the readings
    """
    taken = take(
        record=record, stretch=stretch, instrument=instrument, surroundings=surroundings, jacket=jacket_fraction
    )
    flue, hydrogen = _flue_gas(taken)
    _refuse_impossible(flue, taken)
    worked = analysis.analyse_flue(
        prepared=taken.prepared,
        flue=flue,
        carbon_monoxide_dry_fraction=taken.carbon_monoxide_dry(flue),
        flue_temperature=taken.flue_temperature,
        air_temperature=taken.air_temperature,
        jacket_fraction=taken.jacket,
        fuel_temperature=REFERENCE_TEMPERATURE,
    )
    numbers = _numbers(worked, taken)
    numbers["condensed_fraction"] = 0.0
    figures = _substituted(worked, numbers, taken)
    figures["condensed_saturated"] = _saturated_share(worked, taken)
    results: dict[str, Result] = {}
    for name, number in numbers.items():
        refused = _refusal(name, taken, figures["oxygen_dry"])
        if refused:
            results[name] = Result(name, None, 0.0, 0.0, None, boundary=taken.boundary, refused=refused)
            continue
        below, above = taken.ledger.sides(number)
        working = _working(name, number, taken.ledger, figures)
        at_least = "at least" if taken.over_range and name in ("carbon_monoxide_air_free", "co_co2_ratio") else ""
        results[name] = Result(
            name, figures[name], below, above, working, boundary=taken.boundary, basis=taken.basis, bound=at_least
        )
    _with_condensing(results, worked, taken)
    trace_gases = dict(taken.trace_gases)
    if taken.has_carbon_monoxide:
        trace_gases["carbon_monoxide_dry"] = taken.carbon_monoxide_dry(flue)
    return Worked(results, _residual(flue, taken), hydrogen, flue, trace_gases, taken)


def _saturated_share(worked: Analysis, taken: Taken) -> float:
    if not taken.has_temperatures:
        return 0.0
    most = analysis.saturated_condensate(
        flue=worked.flue, flue_temperature=taken.flue_temperature, pressure=taken.pressure
    )
    return float(ops.value_of(most / worked.flue.water))


def _residual(flue: FlueGas, taken: Taken) -> tuple[float, float] | None:
    """Measured less expected carbon dioxide, when both were read."""
    if taken.carbon_dioxide is None or (taken.oxygen is None and taken.oxygen_wet is None):
        return None
    expected = balance.carbon_dioxide_dry_fraction(flue=flue, air=taken.prepared.air)
    difference = taken.carbon_dioxide - expected
    return float(ops.value_of(difference)), float(dual.spread(difference))
