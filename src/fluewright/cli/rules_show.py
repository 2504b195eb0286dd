"""fluewright rules show: one limit with all that its row says."""

import argparse
import json

from fluewright.cli.books import add_house, shop_from
from fluewright.errors import printable
from fluewright.evidence.limits import clears
from fluewright.rules import applies, currency
from fluewright.rules.schema import Limit

ABOUT = "one limit with all that its row says, its citation and how it is known"


def add(parser: argparse.ArgumentParser) -> None:
    """The options of this question."""
    parser.add_argument("rule", help="its id; see `fluewright rules list`")
    add_house(parser)


def facts(rule: Limit) -> dict[str, str]:
    """A row in words, field by field."""
    oxygen = "none" if rule.reference_oxygen is None else f"{rule.reference_oxygen * 100:g} %"
    cited = rule.citation
    told = {
        "limit": f"{rule.quantity} {rule.sense} {rule.limit:g} {rule.unit}",
        "says": rule.text,
        "layer": f"{rule.layer}, {rule.jurisdiction}",
        "basis": f"{rule.basis}; reference oxygen {oxygen}; air-free by {rule.air_free_route}",
        "where": rule.place,
        "when": f"{rule.state}; since lit: {rule.since_lit}; steady: {rule.steady}; rate: {rule.rate}",
        "mean": f"{rule.averaging}; readings: {rule.count or 'not said'}",
        "rounding": rule.rounding,
        "decision": {"none": "the bare result", "minus uncertainty": "the uncertainty is deducted",
                     "plus uncertainty": "the uncertainty is added, for safety"}[rule.decision],
        "applies": applies.in_words(rule.applies),
        "severity": rule.severity + (", only alarms" if rule.only_alarms else ""),
        "do": rule.do,
        "may waive": rule.waiver,
        "citation": f"{cited.document}, {cited.clause}, {cited.edition}",
        "known": ", ".join(filter(None, (rule.known, currency.in_words(rule.current)))),
        "in force": f"from {rule.valid_from or 'unknown'} until {rule.valid_until or 'open'}",
        "clears": "may be called fine when kept" if clears(rule) else "may warn, never clears",
        "book": rule.book,
    }  # fmt: skip
    return told | ({"tightens": rule.tightens} if rule.tightens else {})


def run(args: argparse.Namespace) -> int:
    """Show it."""
    rule = shop_from(args).limit(args.rule)
    told = facts(rule)
    if args.json:
        print(json.dumps({"id": rule.id, **told}, ensure_ascii=False, indent=2))
        return 0
    wide = max(map(len, told))
    print(printable("\n".join([rule.id, *(f"  {name:<{wide}}  {said}" for name, said in told.items())])))
    return 0
