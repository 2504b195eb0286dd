"""fluewright rules diff: what changes between two books, row by row."""

import argparse
import json
from dataclasses import asdict
from pathlib import Path

from fluewright.errors import printable

ABOUT = "what changes between two books, row by row"


def add(parser: argparse.ArgumentParser) -> None:
    """The options of this question."""
    parser.add_argument("before", type=Path, help="TOML, or the name of a book of the program")
    parser.add_argument("after", type=Path, help="TOML")
    parser.add_argument("--house", action="store_true", help="both are house books")


def run(args: argparse.Namespace) -> int:
    """Print the differences; 1 where there is one."""
    from fluewright.rules import load
    from fluewright.rules.differences import between
    from fluewright.rules.schema import Limit
    from fluewright.rules.strict import book_of
    from fluewright.visit import own_books

    def rows(path: Path) -> tuple[Limit, ...]:
        if str(path) in load.names():
            return load.book(str(path)).limits
        if args.house:
            return own_books.found_at(path).book.limits
        return book_of(text=path.read_text(encoding="utf-8"), name=path.stem, file=path.name).limits

    found = between(rows(args.before), rows(args.after))
    if args.json:
        print(json.dumps([asdict(one) for one in found], ensure_ascii=False, indent=2))
    else:
        print(printable("\n".join(one.sentence for one in found) or "No row differs."))
    return 1 if found else 0
