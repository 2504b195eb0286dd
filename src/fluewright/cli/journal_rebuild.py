"""fluewright journal rebuild: throws away what was worked out from the entries and works it out again."""

import argparse
import json
import sys

from fluewright.cli.journal_place import add_place, opened_from

ABOUT = "work out all lists and the index of words anew from the entries; no entry is touched"
WIDE = 40


def add(parser: argparse.ArgumentParser) -> None:
    """The options of this question."""
    add_place(parser)


def run(args: argparse.Namespace) -> int:
    """Rebuild, telling how far it is."""
    from fluewright.record.views.catching_up import looked_at, rebuild, unread

    store = opened_from(args).journal.store
    drawn = sys.stderr.isatty() and not getattr(args, "plain", False)
    entries = rebuild(store, _bar if drawn else _line)
    if drawn:
        print(file=sys.stderr)
    with looked_at(store) as connection:
        left = [dict(row) for row in unread(connection)]
    if args.json:
        print(json.dumps({"entries": entries, "unread": left}))
    else:
        print(f"{entries} entries read; {sum(row['entries'] for row in left) or 'none'} that this version cannot read")
    return 0


def _bar(done: int, whole: int) -> None:
    filled = WIDE * done // max(1, whole)
    print(f"\r{'█' * filled}{'·' * (WIDE - filled)} {done:>9} of {whole}", end="", file=sys.stderr, flush=True)


def _line(done: int, whole: int) -> None:
    print(f"{done} of {whole}", file=sys.stderr)
