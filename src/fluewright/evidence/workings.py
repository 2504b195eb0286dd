"""How each number came about, in words and figures, from one analysis."""

import re
from collections.abc import Mapping

from fluewright.evidence.doubt import Ledger, plain
from fluewright.evidence.formulas import FORMULAS, WEIGHED
from fluewright.evidence.inputs import Taken
from fluewright.evidence.result import Working
from fluewright.kernel import losses, ops, short_forms
from fluewright.kernel.analysis import Analysis
from fluewright.kernel.ops import Number

TRIOXIDE_SHARE = 0.02
"""Share of the sulfur dioxide that goes on to trioxide (common practice, no source; 1 to 5 % is usual)."""

PER_KWH = 3.6e6
"""J in a kilowatt-hour, exact."""


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
        "dry_volume": worked.flue_gas_volume * PER_KWH,
        "air_volume": worked.combustion_air_volume * PER_KWH,
    }


def _heats(worked: Analysis, taken: Taken, condensed: Number) -> dict[str, Number]:
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
        condensed_amount=condensed,
        fuel_temperature=taken.fuel_temperature,
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


def figures(worked: Analysis, numbers: Mapping[str, Number], taken: Taken, condensed: Number) -> dict[str, float]:
    """Every figure that a working may print, as plain numbers; the results themselves by their names."""
    group = short_forms.SIEGERT.get(taken.record.siegert_group)
    extra: dict[str, Number] = {
        "pressure_hpa": taken.pressure / 100.0,
        "dew_celsius": numbers["water_dew_point"] - 273.15,
        "acid_celsius": numbers.get("acid_dew_point", 273.15) - 273.15,
        "siegert_a": group.oxygen_factor if group else 0.0,
        "siegert_b": group.offset if group else 0.0,
        "wet_volume": numbers["flue_gas_volume_wet"] * PER_KWH,
    }
    return plain({**_amounts(worked, taken), **_heats(worked, taken, condensed), **extra, **numbers})


def spaced(text: str) -> str:
    """A space before each per cent sign, as standards write it."""
    return re.sub(r"(\d)%", r"\1 %", text)


def working(name: str, number: Number, taken: Taken, worked: Analysis, printed: Mapping[str, float]) -> Working:
    """The working of one result.

    name     registry name
    number   the result with its doubt
    taken    readings it rests on
    worked   the analysis it comes from
    printed  figures to put into its line
    -> working, inputs ordered by their share of the doubt
    """
    weighed = name == "condensed_fraction" and taken.condensate is not None
    formula = WEIGHED if weighed else FORMULAS[name]
    substitution = spaced(formula.numbers.format(**printed))
    holds = formula.holds
    if taken.condensate is not None:
        holds = holds.replace("nothing condensed", "condensate as weighed")
    return explained(formula.words, substitution, formula.source, holds, number, taken.ledger)


def explained(words: str, substitution: str, source: str, holds: str, number: Number, ledger: Ledger) -> Working:
    """A working from its words, with the inputs of its number and what would narrow its doubt most."""
    inputs = ledger.inputs(number)
    advice = ""
    if inputs and inputs[0].share > 0.3:
        advice = f"Most of the doubt comes from {inputs[0].words}; knowing it better would narrow this most."
    return Working(words, substitution, inputs, source, holds, advice)
