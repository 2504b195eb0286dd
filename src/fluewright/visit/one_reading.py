"""One flue reading without a visit around it: what the command line and a program ask most often."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal

from fluewright import clock
from fluewright.errors import UseError
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
from fluewright.kernel.air import pressure_at_altitude
from fluewright.quantity import names, parse, uncertain
from fluewright.visit import emissions, work
from fluewright.visit.work import Verdict


@dataclass(frozen=True, slots=True)
class Answer:
    """One reading worked out and judged.

    verdict  the judged visit of one stretch
    results  every number by registry name, trace gases included
    """

    verdict: Verdict
    results: Mapping[str, Result]


def readings_of(typed: Mapping[str, str]) -> dict[str, Reading]:
    """Typed values by registry name.

    typed  text with unit by registry or trade name, such as {"o2": "5 %", "stack": "400 F"}
    -> readings; QuantityError for what cannot be understood
    """
    found = {}
    for name, text in typed.items():
        quantity = names.named(name)
        found[quantity.name] = Reading(quantity.name, parse.parse(text, quantity=quantity))
    return found


def surroundings_of(
    *, altitude: str | None = None, barometer: str | None = None, humidity: str | None = None
) -> Surroundings:
    """Pressure and humidity of the day from what was typed.

    altitude   height above sea level, when nobody read a barometer
    barometer  read at the place
    humidity   relative humidity of the combustion air
    -> surroundings; UseError when altitude and barometer were both given
    """
    if altitude is not None and barometer is not None:
        raise UseError(
            code="FW-U-003",
            read=f"both an altitude ({altitude}) and a barometer ({barometer})",
            expected="one of them",
            matters="they may disagree, and then the dew point has two answers",
            do="keep the barometer if it was read at the place",
        )
    damp = None if humidity is None else parse.parse(humidity, quantity="relative_humidity").value
    if barometer is not None:
        pressure = parse.parse(barometer, quantity="barometer").value
        return Surroundings(float(pressure or 0.0), 100.0, "typed", damp)
    if altitude is not None:
        height = float(parse.parse(altitude, quantity="altitude").value or 0.0)
        return Surroundings(float(pressure_at_altitude(altitude=height)), 1_000.0, "from the altitude", damp, height)
    return Surroundings(relative_humidity=damp)


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
    jurisdiction: str = "",
    jacket_fraction: float = 0.0,
    reference_oxygen_fraction: float | None = None,
    system: Literal["us", "si"] | None = None,
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
    jurisdiction               whose laws are asked, such as DE or US-MN
    jacket_fraction            jacket loss, fraction of gross heat
    reference_oxygen_fraction  oxygen to carry concentrations to, mol/mol
    system                     us or si; that of the typed temperatures when not given
    -> answer; PhysicsRefused when no flame can have made the readings
    """
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
    )
    verdict = work.judged(account)
    worked = verdict.told[0][1]
    if worked is None:
        why = "the probe saw fresh air, not flue gas"
        return Answer(verdict, {name: Result(name, None, 0.0, 0.0, None, refused=why) for name in FORMULAS})
    return Answer(verdict, {**worked.results, **emissions.of_stretch(worked, reference=reference_oxygen_fraction)})
