"""fluewright flue: one flue reading, worked out and judged."""

import argparse
import json
import sys
from pathlib import Path
from typing import Any, Literal

from fluewright import clock
from fluewright.errors import UseError
from fluewright.evidence.reading import Account, Appliance, Instrument, Point, Reading, Stretch, Surroundings
from fluewright.evidence.result import Result
from fluewright.kernel.air import pressure_at_altitude
from fluewright.quantity import names, parse, show, uncertain, units
from fluewright.quantity.meaning import Typed
from fluewright.visit import emissions, fuel_of, work
from fluewright.visit.work import Verdict

READINGS = {
    "o2": ("oxygen_dry", "oxygen in the dry gas, such as 5%%"),
    "co2": ("carbon_dioxide_dry", "carbon dioxide in the dry gas"),
    "co": ("carbon_monoxide_dry", "carbon monoxide, such as 50ppm, 40..120 or '>2000'"),
    "no": ("nitric_oxide_dry", "nitric oxide; it never becomes NO2 in silence"),
    "no2": ("nitrogen_dioxide_dry", "nitrogen dioxide"),
    "so2": ("sulfur_dioxide_dry", "sulfur dioxide"),
    "flue": ("flue_temperature", "flue-gas temperature, such as 400F or 204C"),
    "air": ("air_temperature", "combustion-air temperature at the same boundary"),
    "condensate": ("condensate_per_heat", "condensate weighed per gross heat burned, such as '90 g/kWh'"),
}
WET = {"o2": "oxygen_wet", "co": "carbon_monoxide_wet"}
PER_HEAT_UNITS = ("mg/kWh", "g/kWh", "ng/J", "lb/MMBtu")
BOUNDARIES = ("appliance in room", "collar to collar", "terminal to outdoors", "with economiser")


def add(parser: argparse.ArgumentParser) -> None:
    """The options of this verb."""
    fuel = parser.add_argument_group("fuel, one of")
    fuel.add_argument(
        "--fuel", metavar="NAME", help="name in the library, or a blend such as 'natural-gas 80 + hydrogen 20'"
    )
    fuel.add_argument("--composition", metavar="TEXT", help="such as CH4=95,N2=5")
    fuel.add_argument("--fuel-file", metavar="F", type=Path, help="file of the same form as the library's")
    fuel.add_argument("--by", choices=("mole", "volume"), default="", help="what a composition is counted by")
    fuel.add_argument("--moisture", metavar="X", help="water in a solid fuel as fired, such as 20%%")
    readings = parser.add_argument_group("readings, with units")
    for option, (_, words) in READINGS.items():
        readings.add_argument(f"--{option}", metavar="X", help=words)
    place = parser.add_argument_group("place and sample")
    place.add_argument("--altitude", metavar="X", help="such as 5280ft; or --barometer")
    place.add_argument("--barometer", metavar="X", help="read at the place, such as 986hPa")
    place.add_argument("--humidity", metavar="X", help="relative humidity of the combustion air, such as 50%%")
    place.add_argument("--wet", action="store_true", help="the gas was read undried, by a hot probe")
    place.add_argument("--trap", metavar="X", help="temperature of the water trap the sample passed")
    place.add_argument(
        "--point", choices=("undiluted", "diluted"), default="undiluted", help="behind a draft hood: diluted"
    )
    place.add_argument(
        "--boundary", choices=BOUNDARIES, default=BOUNDARIES[0], help="what the two temperatures enclose"
    )
    place.add_argument("--jacket", metavar="X", help="heat lost through the jacket, such as 1.5%% (from a plate)")
    appliance = parser.add_argument_group("appliance and rules")
    appliance.add_argument("--burner", default="unknown", help="kind of burner, for its window of oxygen")
    appliance.add_argument("--condensing", action="store_true", help="the appliance is made to condense")
    appliance.add_argument("--output", metavar="X", help="nominal heat output, such as 24kW")
    appliance.add_argument("--jurisdiction", default="", help="country code, such as US, US-MN, DE, GB")
    appliance.add_argument("--reference-o2", metavar="X", help="oxygen to carry concentrations to, such as 3%%")
    appliance.add_argument("--instrument", default="service", help="accuracy class of the instrument")
    appliance.add_argument("--hydrogen-compensated", choices=("yes", "no", "unknown"), default="unknown")
    out = parser.add_argument_group("what to print")
    out.add_argument(
        "--units", choices=("us", "si"), help="units of the answer; those of the typed temperatures when not said"
    )
    out.add_argument("--working", action="store_true", help="the working of every number")


def _parsed(args: argparse.Namespace, option: str, quantity: str) -> Typed | None:
    text = getattr(args, option.replace("-", "_"))
    return None if text is None else parse.parse(text, quantity=quantity)


def _readings(args: argparse.Namespace) -> dict[str, Reading]:
    found = {}
    for option, (dry, _) in READINGS.items():
        quantity = WET.get(option, dry) if args.wet else dry
        typed = _parsed(args, option, quantity)
        if typed is not None:
            found[quantity] = Reading(quantity, typed)
    return found


def _value(args: argparse.Namespace, option: str, quantity: str) -> float | None:
    typed = _parsed(args, option, quantity)
    return None if typed is None else typed.value


def _surroundings(args: argparse.Namespace) -> Surroundings:
    if args.altitude is not None and args.barometer is not None:
        raise UseError(
            code="FW-U-003",
            read="both --altitude and --barometer",
            expected="one of them",
            matters="they may disagree, and then the dew point has two answers",
            do="keep the barometer if it was read at the place",
        )
    humidity = _value(args, "humidity", "relative_humidity")
    barometer, altitude = _value(args, "barometer", "barometer"), _value(args, "altitude", "altitude")
    if barometer is not None:
        return Surroundings(barometer, 100.0, "typed", humidity)
    if altitude is not None:
        return Surroundings(
            float(pressure_at_altitude(altitude=altitude)), 1_000.0, "from the altitude", humidity, altitude
        )
    return Surroundings(relative_humidity=humidity)


def _system(args: argparse.Namespace, readings: dict[str, Reading]) -> Literal["us", "si"]:
    """The units asked for, or those of the temperatures as typed."""
    if args.units is not None:
        return "us" if args.units == "us" else "si"
    typed = [readings[n].typed.unit for n in ("flue_temperature", "air_temperature") if n in readings]
    return "si" if typed and all(unit in ("°C", "K") for unit in typed) else "us"


def account_of(args: argparse.Namespace) -> Account:
    """The reading on the command line as a visit of one stretch."""
    moisture = _value(args, "moisture", "moisture")
    record = fuel_of.chosen(name=args.fuel, inline=args.composition, file=args.fuel_file, by=args.by, moisture=moisture)
    readings = _readings(args)
    trap = _value(args, "trap", "trap_temperature")
    basis: Literal["dry", "wet", "dried to trap"] = (
        "wet" if args.wet else "dried to trap" if trap is not None else "dry"
    )
    stretch = Stretch("this reading", "", Point("the flue", args.point), readings, boundary=args.boundary, basis=basis)
    uncertain.instrument_class(args.instrument)
    return Account(
        title="One flue reading",
        customer="",
        site="",
        day=clock.now().date(),
        technician="",
        appliance=Appliance(
            "appliance not named", args.burner, args.condensing, output=_value(args, "output", "heat_output")
        ),
        fuel=record,
        instrument=Instrument(accuracy=args.instrument, hydrogen=args.hydrogen_compensated, trap=trap),
        surroundings=_surroundings(args),
        stretches=(stretch,),
        jurisdiction=args.jurisdiction.upper(),
        route="one reading",
        system=_system(args, readings),
    )


def _number(value: float | None, name: str, unit: str) -> float | None:
    if value is None:
        return None
    quantity = names.of(name)
    return units.in_unit(value, unit=units.unit_named(unit, quantity=quantity), quantity=quantity)


def as_json(result: Result, system: Literal["us", "si"]) -> dict[str, Any]:
    """One result for a program: value and standard uncertainty in a stated unit, with its working."""
    quantity = names.of(result.name)
    unit = show.unit_of(quantity, system)
    per = units.per_unit(unit=units.unit_named(unit, quantity=quantity), quantity=quantity)
    data: dict[str, Any] = {
        "value": _number(result.value, result.name, unit),
        "unit": unit,
        "uncertainty": result.spread / per,
        "below": result.below / per,
        "above": result.above / per,
        "basis": result.basis,
        "boundary": result.boundary,
        "working": None,
    }
    if quantity.dimension == "mass per heat" and result.value is not None:
        data["also"] = {other: _number(result.value, result.name, other) for other in PER_HEAT_UNITS}
    if result.low is not None or result.high is not None:
        data["low"], data["high"] = (_number(result.low, result.name, unit), _number(result.high, result.name, unit))
    if result.bound:
        data["bound"] = result.bound
    if result.refused:
        data["refused"] = result.refused
    if result.working is not None:
        working = result.working
        data["working"] = {
            "formula": working.formula,
            "substitution": working.substitution,
            "inputs": [
                {"name": i.name, "words": i.words, "value": i.value, "uncertainty": i.spread,
                 "unit": names.of(i.name).unit, "from": i.source, "share": round(i.share, 6)}
                for i in working.inputs
            ],
            "source": working.source,
            "holds": working.holds,
        }  # fmt: skip
    return data


def _json(verdict: Verdict, extra: dict[str, Result]) -> str:
    worked = verdict.told[0][1]
    system = verdict.account.system
    results = {**(worked.results if worked else {}), **extra}
    data: dict[str, Any] = {name: as_json(result, system) for name, result in results.items()}
    data["fuel"] = {"name": verdict.account.fuel.name, "words": verdict.account.fuel.words}
    data["uncertainty_kind"] = "standard, one sigma"
    data["hydrogen_estimated"] = worked.hydrogen if worked else 0.0
    data["findings"] = [
        {"code": f.code, "grade": f.grade, "lead": f.lead, "body": f.body, "odds": f.odds, "limit": f.limit,
         "citation": f"{f.clause.document} {f.clause.clause}".strip(), "edition": f.clause.edition,
         "known": f.clause.known, "do_now": list(f.do_now), "do_next": list(f.do_next), "cautions": list(f.cautions)}
        for f in verdict.judged.findings
    ]  # fmt: skip
    data["cannot_tell"] = list(verdict.judged.cannot_tell)
    return json.dumps(data, ensure_ascii=False, indent=2)


def run(args: argparse.Namespace) -> int:
    """Work out and judge the reading; exit 1 when something was found that must be mended."""
    account = account_of(args)
    jacket = _value(args, "jacket", "loss_jacket") or 0.0
    verdict = work.judged(account, jacket_fraction=jacket)
    worked = verdict.told[0][1]
    reference = _value(args, "reference-o2", "reference_oxygen")
    extra = emissions.of_stretch(worked, reference=reference) if worked else {}
    for reading in account.stretches[0].readings.values():
        question = parse.plausible(reading.typed)
        if question:
            print(f"question: {question}", file=sys.stderr)
    if args.json:
        print(_json(verdict, extra))
    else:
        from fluewright.report.text import text

        print(text(verdict.sheet(brief=True), plain=args.plain, workings=args.working))
    return 1 if any(f.grade in ("stop", "act") for f in verdict.judged.findings) else 0
