"""fluewright instrument suspect: which visits a calibration puts in doubt, the worst first."""

import argparse
import json
import textwrap
from collections.abc import Sequence
from dataclasses import asdict
from pathlib import Path
from typing import TYPE_CHECKING

from fluewright.cli.books import add_house, shop_from
from fluewright.cli.instrument_named import add_instrument, meant
from fluewright.cli.progress import Progress
from fluewright.errors import printable
from fluewright.visit.reverse import Flip, Traced

if TYPE_CHECKING:
    from fluewright.record.journal import Journal

ABOUT = "visits whose verdict would change by what a calibration found, the worst first"


def add(parser: argparse.ArgumentParser) -> None:
    """The options of this question."""
    add_instrument(parser, day=False)
    parser.add_argument("--calibration", default="", metavar="ID", help="the last digits of its id; else the last one")
    parser.add_argument("--refer", action="store_true", help="enter in each such visit that it is referred to")
    parser.add_argument("--revisit", default="", metavar="DAY", help="enter a visit due by a day for each")
    parser.add_argument("--letters", type=Path, metavar="FOLDER", help="draft a letter to each customer; none is sent")
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
    letters = _letters(args, journal, traced)
    if args.json:
        print(json.dumps({**asdict(traced), "entered": [one.id for one in referred],
                          "letters": [str(path) for path in letters]}, ensure_ascii=False, indent=2))  # fmt: skip
    else:
        print(printable("\n".join([_said(traced), *_entered(len(referred)), *_drafted(letters, args.letters)])))
    return 1 if traced.flips else 0


def _entered(count: int) -> list[str]:
    if not count:
        return []
    many = f"{count} entries refer" if count > 1 else "1 entry refers"
    return ["", f"{many} to what is listed; what was signed stays as it is."]


def _letters(args: argparse.Namespace, journal: "Journal", traced: Traced) -> tuple[Path, ...]:
    """The drafts, where they were asked for."""
    if args.letters is None or not traced.flips:
        return ()
    from fluewright.visit import suspect_letters

    return suspect_letters.written(suspect_letters.drafted(journal, traced, revisit=args.revisit), args.letters)


def _drafted(letters: Sequence[Path], folder: Path | None) -> list[str]:
    if not letters:
        return []
    count = len(letters) // 2
    many = f"{count} letter{'s' if count > 1 else ''} drafted in {folder}, text and page of each."
    return ["", f"{many} Nothing was sent: read each before it goes."]
