"""fluewright journal restore: brings a backup back in a new place, proven before it says so."""

import argparse
import sys
from pathlib import Path

from fluewright.cli.journal_place import add_place, say, settings_from, words_from

ABOUT = "bring a backup back in a new place"


def add(parser: argparse.ArgumentParser) -> None:
    """The options of this question."""
    parser.add_argument("backup", type=Path, metavar="BACKUP", help="the folder or file that a backup made")
    parser.add_argument("--words-from", metavar="FILE", help="its eight words; - is standard input; else you are asked")
    parser.add_argument(
        "--anchor", action="append", default=[], metavar="TEXT",
        help="from a printed sheet or a receipt, that it must agree with; may be given again",
    )  # fmt: skip
    parser.add_argument(
        "--same-device", metavar="REASON",
        help="let the old chain go on: only when the old device is gone and nothing it wrote later reached anyone",
    )  # fmt: skip
    parser.add_argument("--device", default="restored", metavar="NAME", help="what people call this machine")
    add_place(parser)


def _words(args: argparse.Namespace) -> str:
    """The words of a locked backup, from a file or asked for."""
    from fluewright.record.bundle import needs_words

    words = words_from(args)
    if words or args.no_input or not needs_words(args.backup) or not sys.stdin.isatty():
        return words
    print("the eight words of this backup: ", end="", file=sys.stderr, flush=True)
    return sys.stdin.readline()


def run(args: argparse.Namespace) -> int:
    """Restore it and say as which device it goes on."""
    from fluewright.record.chain import anchor_from
    from fluewright.record.restore import restored

    settings = settings_from(args)
    found = restored(
        args.backup,
        settings,
        words=_words(args),
        anchors=[anchor_from(text) for text in args.anchor],
        same_device=args.same_device,
        device_name=args.device,
    )
    facts = {"journal": settings.database, "device": found.journal.device, "was": found.was}
    anchors = [each.printed() for each in found.anchors]
    same = found.journal.device == found.was
    more = ["proven where it now lies: every chain walked, every text and file hashed"]
    more.append(
        "it goes on as the same device, with a new key; the old key counts no more from now on"
        if same
        else "it goes on as a new device that names the old one; if the old one lives, exchange entries with it"
    )
    more += [f"anchor  {anchor}" for anchor in anchors]
    say(args, facts | ({"anchors": anchors} if args.json else {}), *more)
    return 0
