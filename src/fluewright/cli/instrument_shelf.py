"""fluewright instrument shelf: what there is, what is due, and what the record of one tells."""

import argparse
import json
import textwrap
from dataclasses import asdict

from fluewright.cli.journal_place import add_place, opened_from
from fluewright.cli.journal_views import list_of
from fluewright.errors import printable

ABOUT = "the instruments with their calibrations; with a name: its drift, its cells, its whole record"


def add(parser: argparse.ArgumentParser) -> None:
    """The options of this question."""
    parser.add_argument("instrument", nargs="?", default="", help="one of them")
    add_place(parser)


def _all(args: argparse.Namespace) -> int:
    from fluewright.visit import shelf

    journal = opened_from(args).journal
    rows = shelf.on_shelf(journal, journal.now().date())
    if args.json:
        print(json.dumps([asdict(row) for row in rows], ensure_ascii=False, indent=2))
        return 0
    lines = [(row.words, row.id[-8:], "; ".join(part for part in (row.state, row.check) if part)) for row in rows]
    print(printable(list_of(lines, nothing="no instrument was entered yet")))
    return 0


def run(args: argparse.Namespace) -> int:
    """All in rows, or one in sentences."""
    if not args.instrument:
        return _all(args)
    from fluewright.visit import shelf, shelf_told

    journal = opened_from(args).journal
    told = shelf_told.told(journal, args.instrument, journal.now().date())
    past = shelf.history(journal, told.instrument.id)
    if args.json:
        print(json.dumps({**asdict(told), "record": [asdict(one) for one in past]}, ensure_ascii=False, indent=2))
        return 0
    serial = f", serial {told.instrument.serial}" if told.instrument.serial else ""
    lines = [f"{told.instrument.words}{serial}"]
    lines += [part for sentence in told.sentences for part in textwrap.wrap(sentence, 80)]
    lines += ["", *(part for one in past for part in textwrap.wrap(f"{one.day}  {one.words}", 80,
                                                                    subsequent_indent=" " * 12))]  # fmt: skip
    print(printable("\n".join(lines)))
    return 0
