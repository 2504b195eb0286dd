"""fluewright flue: one flue reading, worked out and judged."""

import argparse
import json
import math
import sys
from pathlib import Path
from typing import Any, Literal, get_args

from fluewright.evidence.finding import finding_as_data
from fluewright.evidence.reading import Appliance, Basis, Instrument, Reading, Where
from fluewright.evidence.result import Result
from fluewright.quantity import names, parse, show, units
from fluewright.visit import fuel_of, one_reading
from fluewright.visit.one_reading import Answer

READINGS = {
    "o2": ("oxygen_dry", "oxygen in the dry gas, such as 5%%"),
    "co2": ("carbon_dioxide_dry", "carbon dioxide in the dry gas"),
    "co": ("carbon_monoxide_dry", "carbon monoxide, such as 50ppm, 40..120 or '>2000'"),
    "no": ("nitric_oxide_dry", "nitric oxide; it never becomes NO2 in silence"),
    "no2": ("nitrogen_dioxide_dry", "nitrogen dioxide"),
    "so2": ("sulfur_dioxide_dry", "sulfur dioxide"),
    "intake-o2": ("oxygen_intake", "oxygen in the intake air, same cell, for flue gas that comes back"),
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
    place.add_argument("--air-at", choices=get_args(Where)[1:], default="", help="where the air temperature was read")
    place.add_argument("--flue-at", choices=get_args(Where)[1:], default="", help="where the flue temperature was read")
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


def _readings(args: argparse.Namespace) -> dict[str, Reading]:
    typed = {
        WET.get(option, name) if args.wet else name: text
        for option, (name, _) in READINGS.items()
        if (text := getattr(args, option.replace("-", "_"))) is not None
    }
    return one_reading.readings_of(typed)


def _value(text: str | None, quantity: str) -> float | None:
    return None if text is None else parse.parse(text, quantity=quantity).value


def answer_of(args: argparse.Namespace) -> Answer:
    """The reading on the command line, worked out and judged."""
    record = fuel_of.chosen(
        name=args.fuel,
        inline=args.composition,
        file=args.fuel_file,
        by=args.by,
        moisture=_value(args.moisture, "moisture"),
    )
    trap = _value(args.trap, "trap_temperature")
    basis: Basis = "wet" if args.wet else "dried to trap" if trap is not None else "dry"
    return one_reading.answered(
        fuel=record,
        readings=_readings(args),
        surroundings=one_reading.surroundings_of(
            altitude=args.altitude, barometer=args.barometer, humidity=args.humidity
        ),
        instrument=Instrument(accuracy=args.instrument, hydrogen=args.hydrogen_compensated, trap=trap),
        appliance=Appliance(
            "appliance not named", args.burner, args.condensing, output=_value(args.output, "heat_output")
        ),
        point=args.point,
        boundary=args.boundary,
        basis=basis,
        air_at=args.air_at,
        flue_at=args.flue_at,
        jurisdiction=args.jurisdiction,
        jacket_fraction=_value(args.jacket, "loss_jacket") or 0.0,
        reference_oxygen_fraction=_value(args.reference_o2, "reference_oxygen"),
        system=args.units,
    )


def _number(value: float | None, name: str, unit: str) -> float | None:
    if value is None or not math.isfinite(value):
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


def _json(answer: Answer) -> str:
    verdict = answer.verdict
    system = verdict.account.system
    worked = verdict.told[0][1]
    data: dict[str, Any] = {name: as_json(result, system) for name, result in answer.results.items()}
    data["fuel"] = {"name": verdict.account.fuel.name, "words": verdict.account.fuel.words}
    data["uncertainty_kind"] = "standard, one sigma"
    data["hydrogen_estimated"] = worked.hydrogen if worked else 0.0
    data["findings"] = [finding_as_data(finding) for finding in verdict.judged.findings]
    data["cannot_tell"] = list(verdict.judged.cannot_tell)
    return json.dumps(data, ensure_ascii=False, indent=2)


def run(args: argparse.Namespace) -> int:
    """Work out and judge the reading; exit 1 when something must be mended, or there was no flue gas."""
    answer = answer_of(args)
    verdict = answer.verdict
    for reading in verdict.account.stretches[0].readings.values():
        question = parse.plausible(reading.typed)
        if question:
            print(f"question: {question}", file=sys.stderr)
    if args.json:
        print(_json(answer))
    else:
        from fluewright.report.text import text

        print(text(verdict.sheet(brief=True), plain=args.plain, workings=args.working))
    grave = any(finding.grade in ("stop", "act") for finding in verdict.judged.findings)
    return 1 if grave or verdict.told[0][1] is None else 0
