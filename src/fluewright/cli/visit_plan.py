"""fluewright visit plan: which readings a visit still needs and why, in walking order."""

import argparse
import json
import textwrap
from dataclasses import asdict, replace
from typing import TYPE_CHECKING

from fluewright.cli.books import add_house, by_shop
from fluewright.cli.journal_place import add_place, opened_from
from fluewright.cli.language import add_language
from fluewright.errors import FluewrightError, printable
from fluewright.evidence.finding import Finding
from fluewright.visit import kept, work
from fluewright.visit.before import visit_before
from fluewright.visit.plan import Plan, account_so_far, plan_of
from fluewright.words import say, say_count, spoken

if TYPE_CHECKING:
    from fluewright.record.journal import Journal

ABOUT = "which readings a visit still needs and why, in walking order"


def add(parser: argparse.ArgumentParser) -> None:
    """The options of this question."""
    parser.add_argument("visit", help="its id, or the last digits of it")
    parser.add_argument("--route", metavar="NAME", help="another route than the visit names, such as 'alarm answered'")
    parser.add_argument(
        "--last", metavar="VISIT", help="the visit before, whose findings are read again; that of the same appliance"
    )
    add_house(parser)
    add_language(parser)
    add_place(parser)


def _wrapped(line: str, under: int) -> list[str]:
    """A line in no more than eighty columns, what goes on set in."""
    return textwrap.wrap(line, 80, subsequent_indent=" " * under)


def _said(plan: Plan) -> str:
    done = sum(line.done for line in plan.lines)
    lines = [say("{route}: {done} of {all} done", route=spoken(plan.route), done=done, all=len(plan.lines))]
    place = ""
    for line in plan.lines:
        lines += [f"\n{spoken(line.at)}"] if line.at != place else []
        place = line.at
        lines += _wrapped(f"  {say('done') if line.done else say('open')}  {line.what}", 8)
        lines += [
            part
            for why in (() if line.done else line.why)
            for part in _wrapped(f"{' ' * 10}{spoken(why.kind)}: {why.words}", 12)
        ]
    if plan.held:
        lines.append(
            "\n"
            + say_count(
                "{count} more line waits until people were asked and are safe.",
                "{count} more lines wait until people were asked and are safe.",
                plan.held,
            )
        )
    return "\n".join(lines)


def _earlier(args: argparse.Namespace, journal: "Journal", last: str) -> tuple[Finding, ...]:
    """The findings of the visit before; none where there is none, or where it cannot be judged and nobody named it."""
    if not last:
        return ()
    try:
        return work.judged(by_shop(args, kept.account_of(journal, last), journal)).judged.findings
    except FluewrightError:
        if args.last:
            raise
        return ()


def run(args: argparse.Namespace) -> int:
    """Print the plan; 1 while something of it is open."""
    journal = opened_from(args).journal
    visit = kept.found(journal, args.visit)
    account = by_shop(args, account_so_far(journal, visit), journal)
    account = replace(account, route=args.route or account.route)
    try:
        verdict = work.judged(account) if account.stretches or account.parts else None
    except FluewrightError:
        verdict = None
    last = kept.found(journal, args.last) if args.last else visit_before(journal, visit)
    plan = plan_of(account, verdict, earlier=_earlier(args, journal, last))
    if args.json:
        data = {**asdict(plan), "open": sum(not line.done for line in plan.lines)}
        print(json.dumps(data, ensure_ascii=False, indent=2))
    else:
        print(printable(_said(plan)))
    return 1 if plan.next is not None else 0
