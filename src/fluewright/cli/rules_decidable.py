"""fluewright rules decidable: which limits this instrument can decide, said before anything is read."""

import argparse
import json
from collections.abc import Sequence
from dataclasses import replace

from fluewright.cli.books import add_house
from fluewright.cli.rules_list import add_appliance, asked_from, figure_of
from fluewright.errors import UseError, printable
from fluewright.quantity import names
from fluewright.rules.applies import Applies
from fluewright.rules.decidable import OXYGEN_ASSUMED, Decidable, decidable
from fluewright.rules.schema import Citation, Limit
from fluewright.visit.rules_here import speaking

ABOUT = "which limits this instrument can decide, before anything is read"

PERMIT = Limit(
    id="of the permit", layer="law", jurisdiction="", quantity="nitrogen_oxides_dry", basis="as the permit says",
    sense="at most", limit=0.0, unit="ppm", applies=Applies(), place="not said", state="not said", averaging="not said",
    rounding="none", decision="plus uncertainty", citation=Citation("the permit", "not said", "not said"),
    known="second-hand", current="not known", valid_from=None, valid_until=None, text="",
)  # fmt: skip
"""A limit that is in no book, as a permit sets one; quantity and figure are the caller's."""


def add(parser: argparse.ArgumentParser) -> None:
    """The options of this question."""
    add_appliance(parser)
    parser.add_argument("--instrument", default="service", help="accuracy class of the instrument")
    parser.add_argument("--quantity", default="", metavar="NAME", help="such as nox; every one when not said")
    parser.add_argument("--limit", metavar="X", help="a permit's own, such as 9ppm; with --quantity")
    parser.add_argument("--reference-o2", metavar="X", help="oxygen that the permit's limit is taken to, such as 3%%")
    parser.add_argument("--oxygen", metavar="X", help="oxygen expected in the flue gas; 5%% when not said")
    parser.add_argument("--units", choices=("us", "si"), default="us", help="units of the answer")
    add_house(parser)


def _of_permit(args: argparse.Namespace) -> Limit:
    if not args.quantity:
        raise UseError(
            code="FW-U-340",
            read="--limit without --quantity",
            expected="what is limited, such as --quantity nox --limit 9ppm",
            matters="9 ppm of one gas is decided and of another not",
            do="name the quantity",
        )
    quantity = names.named(args.quantity)
    limit = figure_of(args.limit, quantity.name)
    reference = args.reference_o2
    oxygen = None if reference is None else figure_of(reference, "reference_oxygen")
    return replace(PERMIT, quantity=quantity.name, limit=limit, unit=quantity.unit, reference_oxygen=oxygen)


def _said(found: Sequence[tuple[Limit, Decidable]]) -> str:
    """What can be said of each; those of several readings are only counted."""
    told = [f"{rule.id}: {one.sentence}" for rule, one in found if one.can != "not said"]
    several = sum(one.can == "not said" for _, one in found)
    if several:
        told.append(f"{several} more are worked out from several readings, or read with something else.")
    return "\n".join(told or ["No limit speaks there."]).replace("\u202f", " ")


def run(args: argparse.Namespace) -> int:
    """Say it of each; 1 where one cannot be decided."""
    if args.limit:
        rules: tuple[Limit, ...] = (_of_permit(args),)
    else:
        rules = tuple(one.rule for one in speaking(asked_from(args), args.quantity))
    oxygen = OXYGEN_ASSUMED if args.oxygen is None else figure_of(args.oxygen, "oxygen_dry")
    found: list[tuple[Limit, Decidable]] = [
        (rule, decidable(rule, args.instrument, oxygen=oxygen, system=args.units)) for rule in rules
    ]
    if args.json:
        data = [{"id": rule.id, "can": one.can, "doubt": one.doubt, "sentence": one.sentence} for rule, one in found]
        print(json.dumps(data, ensure_ascii=False, indent=2))
    else:
        print(printable(_said(found)))
    return 1 if any(one.can == "no" for _, one in found) else 0
