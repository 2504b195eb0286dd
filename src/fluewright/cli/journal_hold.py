"""fluewright journal hold: keeps records from being erased, until the hold is lifted or over."""

import argparse

from fluewright.cli.journal_place import add_place, day_from, opened_from, say

ABOUT = "keep records from being erased"


def add(parser: argparse.ArgumentParser) -> None:
    """The options of this question."""
    parser.add_argument("subject", metavar="ID", help="of the customer, the place, the visit or the person")
    parser.add_argument("--because", required=True, metavar="REASON", help="why they are held")
    parser.add_argument("--until", type=day_from, metavar="YYYY-MM-DD", help="last day; until lifted when not given")
    parser.add_argument("--by", default="", metavar="WHO", help="who asked for it")
    add_place(parser)


def run(args: argparse.Namespace) -> int:
    """Hold them and say the id of the hold."""
    from fluewright.record.erase import held

    journal = opened_from(args).journal
    entry = held(journal, args.subject, because=args.because, until=args.until, by=args.by)
    say(args, {"hold": entry.id, "of": args.subject, "until": str(args.until or "it is lifted")})
    return 0
