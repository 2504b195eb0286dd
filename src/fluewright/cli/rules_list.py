"""fluewright rules list: the limits that speak at a place, to an appliance, on a day."""

import argparse
import json

from fluewright import clock
from fluewright.cli.books import add_house, shop_from
from fluewright.cli.journal_place import day_from
from fluewright.errors import UseError, printable
from fluewright.evidence import judge
from fluewright.quantity import names, parse
from fluewright.rules import currency
from fluewright.visit.rules_here import Asked, Spoken, speaking

ABOUT = "the limits that speak at a place, to an appliance, on a day"


def add(parser: argparse.ArgumentParser) -> None:
    """The options of this question."""
    add_appliance(parser)
    parser.add_argument("--quantity", default="", metavar="NAME", help="such as co_air_free; every one when not said")
    add_house(parser)


def add_appliance(parser: argparse.ArgumentParser) -> None:
    """The options that say where, for what and when."""
    parser.add_argument("--jurisdiction", default="", metavar="CODE", help="such as US-MN, DE, GB")
    parser.add_argument("--date", metavar="DAY", help="the rules of this day; today when not said")
    parser.add_argument("--class", dest="kind", default="", metavar="NAME", help="class of appliance")
    parser.add_argument("--burner", default="unknown", choices=("unknown", *judge.burners()), metavar="KIND")
    parser.add_argument("--fuel", default="natural-gas", metavar="NAME", help="name in the library")
    parser.add_argument("--output", metavar="X", help="nominal heat output, such as 24kW")


def figure_of(text: str, quantity: str) -> float:
    """One typed figure in canonical units; QuantityError where it is none, or a trend."""
    typed = parse.single(text, quantity=quantity)
    if typed.value is None:
        raise UseError(
            code="FW-U-341",
            read=repr(text),
            expected="one figure with its unit",
            matters="limits are chosen and judged by a figure, not by words",
            do="write it so, such as 24kW or 9ppm",
        )
    return typed.value


def asked_from(args: argparse.Namespace) -> Asked:
    """Where, for what and when, as the options say it."""
    return Asked(
        place=args.jurisdiction.upper(),
        day=day_from(args.date) if args.date else clock.now().date(),
        kind=args.kind,
        burner=args.burner,
        fuel=args.fuel,
        output=None if args.output is None else figure_of(args.output, "heat_output"),
        shop=shop_from(args),
    )


def _line(one: Spoken) -> str:
    rule = one.rule
    words = f"{names.of(rule.quantity).words}: {rule.sense} {rule.limit:g} {rule.unit if rule.unit != '1' else ''}"
    clears = "may clear" if one.clears else "only warns"
    cited = f"{rule.citation.document}, {rule.citation.clause}, {rule.citation.edition}"
    current = currency.in_words(rule.current)
    known = f"{rule.known}{f', {current}' if current and rule.known == 'read' else ''}"
    return f"{rule.id}\n    {words.strip()}\n    {rule.layer}, {rule.severity}, {clears}; {cited} ({known})"


def run(args: argparse.Namespace) -> int:
    """List them."""
    found = speaking(asked_from(args), args.quantity)
    if args.json:
        data = [
            {"id": one.rule.id, "quantity": one.rule.quantity, "sense": one.rule.sense, "limit": one.rule.limit,
             "unit": one.rule.unit, "layer": one.rule.layer, "severity": one.rule.severity, "clears": one.clears,
             "known": one.rule.known, "document": one.rule.citation.document, "clause": one.rule.citation.clause,
             "edition": one.rule.citation.edition}
            for one in found
        ]  # fmt: skip
        print(json.dumps(data, ensure_ascii=False, indent=2))
        return 0
    print(printable("\n".join(map(_line, found)) or "No limit of any book speaks there."))
    print(f"\n{len(found)} limits speak; {sum(one.clears for one in found)} of them may clear, the others only warn.")
    return 0
