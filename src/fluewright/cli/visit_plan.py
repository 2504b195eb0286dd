"""fluewright visit plan: which readings a visit still needs and why, in walking order."""

import argparse
import json
import textwrap
from dataclasses import asdict, replace

from fluewright.cli.books import add_house, by_shop
from fluewright.cli.journal_place import add_place, opened_from
from fluewright.errors import FluewrightError, printable
from fluewright.evidence.finding import Finding
from fluewright.visit import kept, work
from fluewright.visit.plan import Plan, account_so_far, plan_of

ABOUT = "which readings a visit still needs and why, in walking order"


def add(parser: argparse.ArgumentParser) -> None:
    """The options of this question."""
    parser.add_argument("visit", help="its id, or the last digits of it")
    parser.add_argument("--route", metavar="NAME", help="another route than the visit names, such as 'alarm answered'")
    parser.add_argument("--last", metavar="VISIT", help="the visit before, whose findings are read again")
    add_house(parser)
    add_place(parser)


def _wrapped(line: str, under: int) -> list[str]:
    """A line in no more than eighty columns, what goes on set in."""
    return textwrap.wrap(line, 80, subsequent_indent=" " * under)


def _said(plan: Plan) -> str:
    done = sum(line.done for line in plan.lines)
    lines = [f"{plan.route}: {done} of {len(plan.lines)} done"]
    place = ""
    for line in plan.lines:
        lines += [f"\n{line.at}"] if line.at != place else []
        place = line.at
        lines += _wrapped(f"  {'done' if line.done else 'open'}  {line.what}", 8)
        lines += [
            part
            for why in (() if line.done else line.why)
            for part in _wrapped(f"{' ' * 10}{why.kind}: {why.words}", 12)
        ]
    if plan.held:
        lines.append(f"\n{plan.held} more lines wait until people were asked and are safe.")
    return "\n".join(lines)


def run(args: argparse.Namespace) -> int:
    """Print the plan; 1 while something of it is open."""
    journal = opened_from(args).journal
    account = by_shop(args, account_so_far(journal, kept.found(journal, args.visit)), journal)
    account = replace(account, route=args.route or account.route)
    try:
        verdict = work.judged(account) if account.stretches or account.parts else None
    except FluewrightError:
        verdict = None
    earlier: tuple[Finding, ...] = ()
    if args.last:
        before = kept.account_of(journal, kept.found(journal, args.last))
        earlier = work.judged(by_shop(args, before, journal)).judged.findings
    plan = plan_of(account, verdict, earlier=earlier)
    if args.json:
        data = {**asdict(plan), "open": sum(not line.done for line in plan.lines)}
        print(json.dumps(data, ensure_ascii=False, indent=2))
    else:
        print(printable(_said(plan)))
    return 1 if plan.next is not None else 0
