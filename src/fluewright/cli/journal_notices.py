"""fluewright journal notices: dangers that were told and that nobody has closed."""

import argparse
import json

from fluewright.cli.journal_place import add_place, opened_from
from fluewright.cli.journal_views import list_of, say_unread

ABOUT = "dangers that were told and are still open, the oldest first"


def add(parser: argparse.ArgumentParser) -> None:
    """The options of this question."""
    add_place(parser)


def run(args: argparse.Namespace) -> int:
    """One line for each: when, the end of its id, what, where, and what was answered; exit code 1 when there is one."""
    from fluewright.record.views import notices
    from fluewright.record.views.catching_up import looked_at, unread
    from fluewright.record.views.looking_up import named, whereabouts

    with looked_at(opened_from(args).journal.store) as connection:
        rows = notices.still_open(connection)
        names = named(connection, {row["appliance"] for row in rows})
        names |= whereabouts(connection, {row["visit"] for row in rows})
        left = unread(connection)
    if args.json:
        print(json.dumps([dict(row) for row in rows], ensure_ascii=False, indent=2))
        return 1 if rows else 0
    lines = []
    for row in rows:
        where = [names[row[field]] for field in ("appliance", "visit") if row[field] in names]
        struck = ["struck out, not closed"] if row["struck"] else []
        said = "; ".join([row["words"], *where, f"consent: {row['consent']}", *struck])
        lines.append((row["at"][:10], row["id"][-8:], said))
    print(list_of(lines, nothing="no danger is open"))
    say_unread(left)
    return 1 if rows else 0
