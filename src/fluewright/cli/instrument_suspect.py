"""fluewright instrument suspect: which visits a calibration puts in doubt, the worst first."""

import argparse
import json
import textwrap
from dataclasses import asdict

from fluewright.cli.books import add_house, shop_from
from fluewright.cli.instrument_named import add_instrument, meant
from fluewright.cli.progress import Progress
from fluewright.errors import printable
from fluewright.visit.reverse import Flip, Traced

ABOUT = "visits whose verdict would change by what a calibration found, the worst first"


def add(parser: argparse.ArgumentParser) -> None:
    """The options of this question."""
    add_instrument(parser, day=False)
    parser.add_argument("--calibration", default="", metavar="ID", help="the last digits of its id; else the last one")
    parser.add_argument("--refer", action="store_true", help="enter in each such visit that it is referred to")
    parser.add_argument("--revisit", default="", metavar="DAY", help="enter a visit due by a day for each")
    add_house(parser)


def _flip(one: Flip, traced: Traced) -> list[str]:
    from fluewright.visit.reverse_told import from_when

    lines = [f"{one.day}  {one.visit[-8:]}  {one.title or 'visit'}{f', {one.site}' if one.site else ''} ({one.state})"]
    for change in one.changes:
        was = change.before or "nothing was said of it"
        now = change.after or "nothing is said of it"
        lines += textwrap.wrap(f"was: {was}", 80, initial_indent=" " * 4, subsequent_indent=" " * 9)
        lines += textwrap.wrap(f"now: {now} [{change.limit or 'no limit'}]", 80, initial_indent=" " * 4,
                               subsequent_indent=" " * 9)  # fmt: skip
    lines.append(f"    {from_when(one, traced)}")
    return lines


def _said(traced: Traced) -> str:
    from fluewright.visit.reverse_told import sentences

    lines = [part for sentence in sentences(traced) for part in textwrap.wrap(sentence, 80)]
    for one in traced.flips:
        lines += ["", *_flip(one, traced)]
    for visit, why in traced.unread.items():
        lines += ["", *textwrap.wrap(f"{visit[-8:]} could not be judged: {why}", 80, subsequent_indent=" " * 4)]
    return "\n".join(lines)


def run(args: argparse.Namespace) -> int:
    """List them; 1 when there are any."""
    from fluewright.visit import reverse, reverse_told, shelf

    journal, instrument, _ = meant(args)
    found = shelf.found_off(journal, instrument, calibration=args.calibration)
    bar = Progress(plain=args.plain)
    traced = reverse.traced(journal, found, shop=shop_from(args, journal), tick=bar.watch("judged again"))
    bar.done()
    referred = reverse_told.referred(journal, traced, revisit=args.revisit) if args.refer or args.revisit else ()
    if args.json:
        print(json.dumps({**asdict(traced), "entered": [one.id for one in referred]}, ensure_ascii=False, indent=2))
    else:
        print(printable(_said(traced)))
        if referred:
            many = f"{len(referred)} entries refer" if len(referred) > 1 else "1 entry refers"
            print(f"\n{many} to what is listed; what was signed stays as it is.")
    return 1 if traced.flips else 0
