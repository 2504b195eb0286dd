"""fluewright rules check: whether a book holds, and who vouches for it."""

import argparse
import json
from pathlib import Path

from fluewright.cli.where import places
from fluewright.errors import printable

ABOUT = "whether a rule book or house book holds, and who vouches for it"


def add(parser: argparse.ArgumentParser) -> None:
    """The options of this question."""
    parser.add_argument("file", type=Path, help="TOML")
    parser.add_argument("--house", action="store_true", help="it is a house book: it may only tighten")


def run(args: argparse.Namespace) -> int:
    """Check it; 1 where something has to be said of its signature."""
    from fluewright.rules import signed
    from fluewright.rules.strict import book_of
    from fluewright.visit import own_books

    trusted = own_books.trusted_in(places()["config"])
    content = args.file.read_bytes()
    standing = own_books.standing_of(args.file, content, trusted)
    signed.need_unchanged(standing, file=args.file.name)
    if args.house:
        house = own_books.found_at(args.file, trusted=trusted).book
        title, version, rows = house.title, house.version, house.limits
    else:
        text = content.decode("utf-8", "replace")
        book = book_of(text=text, name=args.file.stem, file=args.file.name)
        title, version, rows = book.title, book.version, book.limits
    said = {"title": title, "version": str(version), "limits": len(rows), "standing": standing.word,
            "hash": signed.hash_of(content)}  # fmt: skip
    if args.json:
        print(json.dumps(said, ensure_ascii=False))
    else:
        print(printable(f"{title}, version {version}: {len(rows)} limits, every field there.\n{standing.sentence}"))
        print(f"sha256 {said['hash']}")
    return 1 if standing.must_be_told else 0
