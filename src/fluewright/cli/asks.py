"""Verbs with several questions: `fluewright supply clock --dial 1ft3`; each question is a module of its own."""

import argparse
import json
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from types import ModuleType
from typing import Any, Literal

from fluewright.cli.books import add_house, shop_from
from fluewright.evidence.finding import WRONG, finding_as_data
from fluewright.evidence.part import Measured
from fluewright.evidence.reading import Appliance, Instrument
from fluewright.fuels.record import FuelRecord
from fluewright.visit import fuel_of, one_part, place
from fluewright.visit.as_data import as_json
from fluewright.visit.work import Verdict


@dataclass(frozen=True, slots=True)
class Asked:
    """What a question on the command line came to.

    measured  what was measured
    fuel      when it rests on one
    data      anything more for the JSON answer, plain data
    appliance what it stands on, when the question says more than a name
    """

    measured: Sequence[Measured]
    fuel: FuelRecord | None = None
    data: Mapping[str, Any] = field(default_factory=dict)
    appliance: Appliance | None = None


def add_questions(parser: argparse.ArgumentParser, questions: Mapping[str, ModuleType]) -> None:
    """The questions of a verb; the module of each has `ABOUT`, `add(parser)` and `asked(args) -> Asked`."""
    made = parser.add_subparsers(dest="question", metavar="QUESTION", required=True, parser_class=type(parser))
    for name, module in questions.items():
        one = made.add_parser(
            name, allow_abbrev=False, help=module.ABOUT, description=f"{module.ABOUT[:1].upper()}{module.ABOUT[1:]}."
        )
        module.add(one)
        add_every(one)


def add_every(parser: argparse.ArgumentParser) -> None:
    """The options that every question has."""
    site = parser.add_argument_group("place, instrument and printing")
    site.add_argument("--altitude", metavar="X", help="such as 5280ft; or --barometer")
    site.add_argument("--barometer", metavar="X", help="read at the place, such as 986hPa")
    site.add_argument("--humidity", metavar="X", help="relative humidity, such as 50%%")
    site.add_argument("--instrument", default="service", help="accuracy class of the instrument")
    site.add_argument("--jurisdiction", default="", help="country code, such as US, US-MN, DE, GB")
    add_house(site)
    site.add_argument("--units", choices=("us", "si"), help="units of the answer and of bare numbers; us when not said")
    site.add_argument("--working", action="store_true", help="the working of every number")
    for option in ("--json", "--plain", "--no-input"):
        site.add_argument(option, action="store_true", default=argparse.SUPPRESS, help=argparse.SUPPRESS)


def add_fuel(parser: argparse.ArgumentParser) -> None:
    """The options that name a fuel, for questions that rest on one."""
    fuel = parser.add_argument_group("fuel, one of")
    fuel.add_argument("--fuel", metavar="NAME", help="name in the library, or a blend")
    fuel.add_argument("--composition", metavar="TEXT", help="such as CH4=95,N2=5")


def fuel_from(args: argparse.Namespace) -> FuelRecord:
    """The fuel that was named; FuelError when none was, or two."""
    return fuel_of.chosen(name=args.fuel, inline=args.composition, file=None)


def fuel_named(args: argparse.Namespace) -> bool:
    """Whether a fuel was named at all, for questions that can do without."""
    return args.fuel is not None or args.composition is not None


def verdict_of(args: argparse.Namespace, asked: Asked) -> Verdict:
    """The question worked out and judged."""
    system: Literal["us", "si"] = args.units
    return one_part.answered(
        asked.measured,
        fuel=asked.fuel,
        surroundings=place.surroundings_of(altitude=args.altitude, barometer=args.barometer, humidity=args.humidity),
        instrument=Instrument(accuracy=args.instrument),
        appliance=asked.appliance,
        jurisdiction=args.jurisdiction,
        system=system,
        shop=shop_from(args),
    )


def _json(verdict: Verdict, data: Mapping[str, Any]) -> str:
    system = verdict.account.system
    parts = [
        {
            "part": part.word,
            "results": {
                key: {"quantity": result.name, **as_json(result, system)} for key, result in part.results.items()
            },
            **part.data,
        }
        for part in verdict.parts
    ]
    answer = {
        "parts": parts,
        "uncertainty_kind": "standard, one sigma",
        "findings": [finding_as_data(finding) for finding in verdict.judged.findings],
        "cannot_tell": list(verdict.judged.cannot_tell),
        **data,
    }
    return json.dumps(answer, ensure_ascii=False, indent=2, allow_nan=False)


def run(args: argparse.Namespace, questions: Mapping[str, ModuleType]) -> int:
    """Answer the question; exit 1 when something must be mended."""
    args.units = args.units or "us"
    asked: Asked = questions[args.question].asked(args)
    verdict = verdict_of(args, asked)
    if args.json:
        print(_json(verdict, asked.data))
    else:
        from fluewright.report.text import text

        print(text(verdict.sheet(brief=True), plain=args.plain, workings=args.working))
    return 1 if any(finding.grade in WRONG[:2] for finding in verdict.judged.findings) else 0
