"""fluewright journal due: what has to be done, the first day first."""

import argparse
import json

from fluewright.cli.journal_place import add_place, opened_from
from fluewright.cli.journal_views import list_of, say_unread

ABOUT = "what has to be done: next visits, calibrations, tickets that run out"


def add(parser: argparse.ArgumentParser) -> None:
    """The options of this question."""
    parser.add_argument("--until", default="9999-12-31", metavar="DAY", help="such as 2026-12-31; all when not said")
    parser.add_argument("--most", type=int, default=40, metavar="N", help="how many; 40 when not said")
    add_place(parser)


def run(args: argparse.Namespace) -> int:
    """One line for each: the day, what, and for whom or what."""
    from fluewright.record.views import due
    from fluewright.record.views.catching_up import looked_at, unread
    from fluewright.record.views.looking_up import whereabouts

    with looked_at(opened_from(args).journal.store) as connection:
        rows = due.until(connection, args.until, args.most)
        fields = ("customer", "site", "appliance", "instrument", "visit")
        names = whereabouts(connection, {row[field] for row in rows for field in fields})
        left = unread(connection)
    if args.json:
        print(json.dumps([dict(row) for row in rows], ensure_ascii=False, indent=2))
        return 0
    lines = []
    for row in rows:
        whose = ", ".join(dict.fromkeys(names[row[field]] for field in fields if row[field] in names))
        lines.append((row["day"], row["id"][-8:], f"{row['what']}; {whose}" if whose else row["what"]))
    print(list_of(lines, nothing="nothing is due" + ("" if args.until > "9999" else f" up to {args.until}")))
    say_unread(left)
    return 0
