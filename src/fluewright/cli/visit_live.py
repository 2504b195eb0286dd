"""fluewright visit live: what a live source sent in a while, as a stretch of a visit."""

import argparse
import json
from datetime import datetime, timedelta

from fluewright.cli.journal_place import add_place, opened_from
from fluewright.errors import UseError
from fluewright.visit import kept

ABOUT = "a while of a live source, kept by `fluewright listen`, as a stretch of the visit"


def add(parser: argparse.ArgumentParser) -> None:
    """The options of this question."""
    parser.add_argument("visit", help="its id, or the last digits of it")
    parser.add_argument("source", help="name of the source, as in its mapping")
    parser.add_argument(
        "--last", type=float, default=10.0, metavar="MIN", help="the last so many minutes; 10 when not said"
    )
    parser.add_argument("--from", dest="start", default="", metavar="HH:MM[:SS]", help="from that time today")
    parser.add_argument("--until", default="", metavar="HH:MM[:SS]", help="until that time today; now when not said")
    parser.add_argument("--stretch", default="as found", metavar="WORD", help="as found, as left, low fire")
    parser.add_argument("--point", default="", metavar="NAME", help="sampling point; that of the mapping when not said")
    add_place(parser)


def _today(text: str, now: datetime) -> datetime:
    """A time of today."""
    for form in ("%H:%M:%S", "%H:%M"):
        try:
            found = datetime.strptime(text, form).time()
        except ValueError:
            continue
        return datetime.combine(now.date(), found, now.tzinfo)
    raise UseError(
        code="FW-U-177",
        read=f"{text!r} as a time of today",
        expected="such as 10:20 or 10:20:30",
        matters="another while would stand for another condition",
        do="write it so, or use --last for the last minutes",
    )


def run(args: argparse.Namespace) -> int:
    """Keep it, and say how far its sender is believed."""
    from fluewright.visit import streaming

    journal = opened_from(args).journal
    visit, now = kept.found(journal, args.visit), journal.now()
    end = _today(args.until, now) if args.until else now + timedelta(seconds=1)
    start = _today(args.start, now) if args.start else end - timedelta(minutes=args.last)
    asked = streaming.While(args.source, start, end, args.stretch, args.point)
    stretch, block = streaming.taken(journal, visit, asked)
    told = {"stretch": stretch.id, "block": block.id, "samples": block.body["count"], "trust": block.body["trust"]}
    if args.json:
        print(json.dumps(told))
        return 0
    grade = (
        "its sender is proven"
        if told["trust"] == "known"
        else "its sender is not proven: it may alarm, and clears nothing"
    )
    print(f"{args.stretch}: {told['samples']} samples of {args.source}; {grade}\n{stretch.id}")
    return 0
