"""fluewright journal backup: copies the records with their files, proves the copy, and names its anchor."""

import argparse
from pathlib import Path

from fluewright.cli.journal_place import add_place, opened_from, say, words_from

ABOUT = "copy the records to another place, and prove the copy"


def add(parser: argparse.ArgumentParser) -> None:
    """The options of this question."""
    parser.add_argument(
        "folder", type=Path, metavar="FOLDER", help="where backups lie, such as a stick; made if needed"
    )
    parser.add_argument("--words", action="store_true", help="lock it with eight words that are printed once")
    parser.add_argument("--words-from", metavar="FILE", help="lock it with words you have already; - is standard input")
    parser.add_argument("--one-file", action="store_true", help="one plain file in place of a folder")
    add_place(parser)


def run(args: argparse.Namespace) -> int:
    """Back it up and say where, how much, and up to which entry."""
    from fluewright.record.backup import backed_up
    from fluewright.record.words import new_words, secret_from
    from fluewright.record.words import words_from as as_words

    words = words_from(args)
    words = as_words(secret_from(words)) if words else new_words() if args.words else ""
    journal = opened_from(args).journal
    made = backed_up(journal, args.folder, words=words, one_file=args.one_file)
    facts: dict[str, object] = {"backup": str(made.path), "entries": made.entries, "files": made.files}
    facts |= {"words": words} if args.words and not args.words_from else {}
    anchors = [each.printed() for each in made.anchors]
    more = ["proven: opened, every chain walked, every text and file hashed"]
    more += [f"anchor  {anchor}" for anchor in anchors]
    if "words" in facts:
        more.append("Write the eight words down now and keep them apart from the backup: without them nobody opens it.")
    say(args, facts | ({"anchors": anchors} if args.json else {}), *more)
    return 0
