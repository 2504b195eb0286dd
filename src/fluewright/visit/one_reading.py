"""One flue reading without a visit around it: what the command line and a program ask most often."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Literal

from fluewright import clock
from fluewright.evidence import papers
from fluewright.evidence.formulas import FORMULAS
from fluewright.evidence.reading import (
    Account,
    Appliance,
    Basis,
    Boundary,
    Instrument,
    Point,
    Reading,
    Stretch,
    Surroundings,
    Where,
)
from fluewright.evidence.result import Result
from fluewright.fuels.record import FuelRecord
from fluewright.quantity import names, parse, uncertain
from fluewright.rules.shop import PROGRAM, Shop
from fluewright.visit import emissions, place, short, work
from fluewright.visit.work import Verdict

WET = {
    "oxygen_dry": "oxygen_wet",
    "carbon_dioxide_dry": "carbon_dioxide_wet",
    "carbon_monoxide_dry": "carbon_monoxide_wet",
    "nitric_oxide_dry": "nitric_oxide_wet",
    "nitrogen_dioxide_dry": "nitrogen_dioxide_wet",
    "sulfur_dioxide_dry": "sulfur_dioxide_wet",
}
"""What the trade names of gases mean where the sample was not dried."""


@dataclass(frozen=True, slots=True)
class Answer:
    """One reading worked out and judged.

    verdict  the judged visit of one stretch
    results  every number by registry name, trace gases included
    forms    those of them that stand in the forms of rules
    """

    verdict: Verdict
    results: Mapping[str, Result]
    forms: Mapping[str, Result] = field(default_factory=dict)


def readings_of(typed: Mapping[str, str]) -> dict[str, Reading]:
    """Typed values by registry name.

    typed  text with unit by registry or trade name, such as {"o2": "5 %", "stack": "400 F"}
    -> readings; QuantityError for what cannot be understood
    """
    found = {}
    for name, text in typed.items():
        quantity = names.named(name)
        several = quantity.name == papers.QUANTITY
        found[quantity.name] = (
            papers.reading_of(text) if several else Reading(quantity.name, parse.parse(text, quantity=quantity))
        )
    return found


def units_typed(readings: Mapping[str, Reading]) -> Literal["us", "si"]:
    """The system of units of the temperatures as they were typed; US when none were."""
    typed = [readings[n].typed.unit for n in ("flue_temperature", "air_temperature") if n in readings]
    return "si" if typed and all(unit in ("°C", "K") for unit in typed) else "us"


def answered(
    *,
    fuel: FuelRecord,
    readings: Mapping[str, Reading],
    surroundings: Surroundings | None = None,
    instrument: Instrument | None = None,
    appliance: Appliance | None = None,
    point: Literal["undiluted", "diluted"] = "undiluted",
    boundary: Boundary = "appliance in room",
    basis: Basis = "dry",
    air_at: Where = "",
    flue_at: Where = "",
    steady: str = "",
    jurisdiction: str = "",
    jacket_fraction: float = 0.0,
    reference_oxygen_fraction: float | None = None,
    rule_oxygen_fraction: float | None = None,
    system: Literal["us", "si"] | None = None,
    shop: Shop = PROGRAM,
) -> Answer:
    """Work out and judge one reading.

    fuel                       from fuels.load, a composition or a blend
    readings                   by registry name, from `readings_of`
    surroundings               pressure and humidity; sea level and humidity left out when not given
    instrument                 what it was read with; the wide service class when not given
    appliance                  for its burner, output and whether it condenses
    point                      diluted behind a draft hood
    boundary                   what the two temperatures enclose
    basis                      dry, wet, or dried to the instrument's trap
    air_at, flue_at            where the two temperatures were read, empty when not said
    steady                     how it was known to be steady, in words; nothing is cleared by a reading without it
    jurisdiction               whose laws are asked, such as DE or US-MN
    jacket_fraction            jacket loss, fraction of gross heat
    reference_oxygen_fraction  oxygen to carry concentrations to, mol/mol
    rule_oxygen_fraction       oxygen of fresh air that the rule counts with, such as 0.209 or 0.21; else that of air
    system                     us or si; that of the typed temperatures when not given
    shop                       whose rule books, those of the program alone when not given
    -> answer; PhysicsRefused when no flame can have made the readings
    """
    if reference_oxygen_fraction is not None:
        place.need_less_oxygen(reference=reference_oxygen_fraction, fresh=rule_oxygen_fraction)
    instrument = instrument or Instrument()
    uncertain.instrument_class(instrument.accuracy)
    stretch = Stretch(
        "this reading",
        "",
        Point("the flue", point),
        readings,
        boundary=boundary,
        basis=basis,
        air_at=air_at,
        flue_at=flue_at,
        steady=steady,
    )
    account = Account(
        title="One flue reading",
        customer="",
        site="",
        day=clock.now().date(),
        technician="",
        appliance=appliance or Appliance("appliance not named"),
        fuel=fuel,
        instrument=instrument,
        surroundings=surroundings or Surroundings(),
        stretches=(stretch,),
        jurisdiction=jurisdiction.upper(),
        route="one reading",
        system=system or units_typed(readings),
        jacket=jacket_fraction,
        shop=shop,
    )
    verdict = work.judged(account)
    worked = verdict.told[0][1]
    if worked is None:
        why = "the probe saw fresh air, not flue gas" if verdict.refused is None else verdict.refused.read
        return Answer(verdict, {name: Result(name, None, 0.0, 0.0, None, refused=why) for name in FORMULAS})
    forms = emissions.of_stretch(worked, reference=reference_oxygen_fraction, rule_oxygen=rule_oxygen_fraction)
    forms |= short.forms_of(worked)
    return Answer(verdict, {**worked.results, **forms}, forms)
