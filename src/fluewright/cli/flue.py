"""fluewright flue: one flue reading, worked out and judged."""

import argparse
import json
import sys
from pathlib import Path
from typing import Any, get_args

from fluewright.cli.books import add_house, shop_from
from fluewright.errors import UseError, printable
from fluewright.evidence import judge
from fluewright.evidence.finding import finding_as_data
from fluewright.evidence.reading import Account, Appliance, Basis, Instrument, Reading, Where
from fluewright.quantity import parse
from fluewright.visit import fuel_of, one_reading, place
from fluewright.visit.as_data import as_json
from fluewright.visit.one_reading import Answer

READINGS = {
    "o2": ("oxygen_dry", "oxygen in the dry gas, such as 5%%"),
    "co2": ("carbon_dioxide_dry", "carbon dioxide in the dry gas"),
    "co": ("carbon_monoxide_dry", "carbon monoxide, such as 50ppm, 40..120 or '>2000'"),
    "no": ("nitric_oxide_dry", "nitric oxide; it never becomes NO2 in silence"),
    "no2": ("nitrogen_dioxide_dry", "nitrogen dioxide"),
    "so2": ("sulfur_dioxide_dry", "sulfur dioxide"),
    "outdoor-o2": ("oxygen_outdoor", "oxygen of outdoor air read minutes before by the same cell"),
    "intake-o2": ("oxygen_intake", "oxygen in the intake air, same cell, for flue gas that comes back"),
    "flue": ("flue_temperature", "flue-gas temperature, such as 400F or 204C"),
    "air": ("air_temperature", "combustion-air temperature at the same boundary"),
    "condensate": ("condensate_per_heat", "condensate weighed per gross heat burned, such as '90 g/kWh'"),
}
ALSO = {"flue": ("--stack",)}
"""Other words for an option."""
FRESH = ("20.9", "20.95", "21")
"""% oxygen of fresh air in rules: US methods, dry air, German ordinances."""
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
        readings.add_argument(f"--{option}", *ALSO.get(option, ()), metavar="X", help=words)
    site = parser.add_argument_group("place and sample")
    site.add_argument("--altitude", metavar="X", help="such as 5280ft; or --barometer")
    site.add_argument("--barometer", metavar="X", help="read at the place, such as 986hPa")
    site.add_argument("--humidity", metavar="X", help="relative humidity of the combustion air, such as 50%%")
    site.add_argument("--wet", action="store_true", help="the gas was read undried, by a hot probe")
    site.add_argument("--trap", metavar="X", help="temperature of the water trap the sample passed")
    site.add_argument(
        "--point", choices=("undiluted", "diluted"), default="undiluted", help="behind a draft hood: diluted"
    )
    site.add_argument("--boundary", choices=BOUNDARIES, default=BOUNDARIES[0], help="what the two temperatures enclose")
    site.add_argument("--air-at", choices=get_args(Where)[1:], default="", help="where the air temperature was read")
    site.add_argument("--flue-at", choices=get_args(Where)[1:], default="", help="where the flue temperature was read")
    site.add_argument("--steady", metavar="WORDS", default="", help="how it was known to be steady, such as '90 s'")
    site.add_argument("--jacket", metavar="X", help="heat lost through the jacket, such as 1.5%% (from a plate)")
    _add_appliance(parser)


def _add_appliance(parser: argparse.ArgumentParser) -> None:
    """The options about the appliance, the rules and the printing."""
    appliance = parser.add_argument_group("appliance and rules")
    appliance.add_argument(
        "--burner", choices=("unknown", *judge.burners()), default="unknown", help="for its window of oxygen"
    )
    made = appliance.add_mutually_exclusive_group()
    made.add_argument("--condensing", action="store_true", default=None, help="the appliance is made to condense")
    made.add_argument("--not-condensing", dest="condensing", action="store_false", help="it is not made to condense")
    appliance.add_argument("--output", metavar="X", help="nominal heat output, such as 24kW")
    add_house(appliance)
    appliance.add_argument("--jurisdiction", default="", help="country code, such as US, US-MN, DE, GB")
    appliance.add_argument("--reference-o2", metavar="X", help="oxygen to carry concentrations to, such as 3%%")
    appliance.add_argument(
        "--rule-oxygen", choices=FRESH, help="%% of fresh air that the rule counts with; that of the air when not said"
    )
    appliance.add_argument("--instrument", default="service", help="accuracy class of the instrument")
    appliance.add_argument("--hydrogen-compensated", choices=("yes", "no", "unknown"), default="unknown")
    out = parser.add_argument_group("what to print")
    out.add_argument(
        "--units",
        choices=("us", "si"),
        help="of the answer and of bare numbers; those of the typed temperatures when not said",
    )
    out.add_argument("--working", action="store_true", help="the working of every number")


def _readings(args: argparse.Namespace) -> dict[str, Reading]:
    typed = {
        one_reading.WET.get(name, name) if args.wet else name: text
        for option, (name, _) in READINGS.items()
        if (text := getattr(args, option.replace("-", "_"))) is not None
    }
    return one_reading.readings_of(typed)


def _value(text: str | None, quantity: str) -> float | None:
    return None if text is None else parse.single(text, quantity=quantity).value


def _basis(args: argparse.Namespace, trap: float | None) -> Basis:
    """Whether the sample was dry, wet, or dried to a trap; it cannot have been two of them."""
    if args.wet and trap is not None:
        raise UseError(
            code="FW-U-006",
            read=f"both --wet and a water trap at {args.trap}",
            expected="one of them",
            matters="a sample that passed a trap is no longer wet, and every gas counts differently",
            do="leave out --wet where a trap took water out",
        )
    return "wet" if args.wet else "dried to trap" if trap is not None else "dry"


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
    return one_reading.answered(
        fuel=record,
        readings=_readings(args),
        surroundings=place.surroundings_of(altitude=args.altitude, barometer=args.barometer, humidity=args.humidity),
        instrument=Instrument(accuracy=args.instrument, hydrogen=args.hydrogen_compensated, trap=trap),
        appliance=Appliance(
            "appliance not named", args.burner, args.condensing, output=_value(args.output, "heat_output")
        ),
        point=args.point,
        boundary=args.boundary,
        basis=_basis(args, trap),
        air_at=args.air_at,
        flue_at=args.flue_at,
        steady=args.steady,
        jurisdiction=args.jurisdiction,
        jacket_fraction=0.0 if args.jacket is None else place.jacket_of(args.jacket),
        reference_oxygen_fraction=_value(args.reference_o2, "reference_oxygen"),
        rule_oxygen_fraction=None if args.rule_oxygen is None else float(args.rule_oxygen) / 100.0,
        system=args.units,
        shop=shop_from(args),
    )


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
    return json.dumps(data, ensure_ascii=False, indent=2, allow_nan=False)


def ask(account: Account) -> None:
    """Ask on standard error about every typed reading outside what is usual; it is kept as it was typed."""
    for stretch in account.stretches:
        for reading in stretch.readings.values():
            question = parse.plausible(reading.typed) if reading.source == "typed" else None
            if question:
                print(f"question: {printable(question)}", file=sys.stderr)


def run(args: argparse.Namespace) -> int:
    """Work out and judge the reading; exit 1 when something must be mended, or there was no flue gas."""
    answer = answer_of(args)
    verdict = answer.verdict
    ask(verdict.account)
    if args.json:
        print(_json(answer))
    else:
        from fluewright.report.text import text

        print(text(verdict.sheet(brief=True, forms=answer.forms), plain=args.plain, workings=args.working))
    if verdict.refused is not None:
        print(verdict.refused.sentence(), file=sys.stderr)
        return verdict.refused.exit_code
    grave = any(finding.grade in ("stop", "act") for finding in verdict.judged.findings)
    return 1 if grave or verdict.told[0][1] is None else 0
