"""fluewright rules take: a house book takes effect, once its differences were seen."""

import argparse
import json
from dataclasses import asdict
from pathlib import Path

from fluewright.cli.where import places
from fluewright.errors import NotAllowed, printable

ABOUT = "a house book takes effect, once what it changes was seen"


def add(parser: argparse.ArgumentParser) -> None:
    """The options of this question."""
    parser.add_argument("file", type=Path, help="TOML")
    parser.add_argument("--yes", action="store_true", help="the differences were seen: let it take effect")
    parser.add_argument("--unsigned", action="store_true", help="take it although nobody signed it")
    parser.add_argument("--trust", metavar="KEY", help="trust this key from now on, 64 hexadecimal digits")


def _need_vouched(args: argparse.Namespace, word: str, sentence: str) -> None:
    """Refuse a foreign book that nobody known here vouches for."""
    if word == "signed" or (word == "not signed" and args.unsigned):
        return
    stranger = word == "signed by a stranger"
    raise NotAllowed(
        code="FW-N-050",
        where=args.file.name,
        read=sentence,
        expected="a book signed by a key that is trusted here",
        matters="whoever can slip in a book decides what this shop calls good",
        do="compare the key with its owner's by telephone, then --trust KEY"
        if stranger
        else "sign it with `fluewright rules sign`, or take it with --unsigned where it is the shop's own",
    )


def run(args: argparse.Namespace) -> int:
    """Show what it changes; with --yes it takes effect. 1 where it did not."""
    from fluewright.rules.house import HOUSE
    from fluewright.visit import own_books

    folder = places()["config"]
    if args.trust:
        own_books.trust(folder, args.trust.strip().lower(), words=f"for {args.file.name}")
    found = own_books.found_at(args.file, trusted=own_books.trusted_in(folder))
    changes = own_books.changes_of(found, folder)
    if not args.json:
        print(printable("\n".join([found.standing.sentence, *(one.sentence for one in changes)])))
    if args.yes:
        _need_vouched(args, found.standing.word, found.standing.sentence)
        own_books.take(found, args.file, folder)
    if args.json:
        data = {"standing": found.standing.word, "changes": [asdict(one) for one in changes], "in_force": args.yes}
        print(json.dumps(data, ensure_ascii=False, indent=2))
    else:
        done = f"In force from now on: {folder / HOUSE}"
        print(printable(done if args.yes else "Not in force. Where this is what is wanted, run it again with --yes."))
    return 0 if args.yes else 1
