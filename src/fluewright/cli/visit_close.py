"""fluewright visit close: dangers tested out, made safe, or handed on by name; without one, those that are open."""

import argparse
import json
from collections.abc import Sequence

from fluewright.cli.journal_place import add_place, opened_from
from fluewright.cli.where import places
from fluewright.diagnose.standing import Stands
from fluewright.errors import UseError, printable
from fluewright.evidence.reading import How
from fluewright.visit import closing, kept

ABOUT = "dangers tested out, made safe or handed on by name; without one, which are open"


def add(parser: argparse.ArgumentParser) -> None:
    """The options of this question."""
    parser.add_argument("visit", help="its id, or the last digits of it")
    parser.add_argument("danger", nargs="*", help="by name, as listed; several closed in the same way at once")
    parser.add_argument("--tested-out", metavar="WORDS", help="which test or reading excludes it")
    parser.add_argument("--made-safe", metavar="WORDS", help="what was done")
    parser.add_argument("--escalated", metavar="WORDS", help="why it was handed on; with --to and --when")
    parser.add_argument("--to", default="", metavar="WHO", help="who took it over")
    parser.add_argument("--when", default="", metavar="WORDS", help="when that was")
    add_place(parser)


def _way(args: argparse.Namespace) -> tuple[How, str]:
    """How it was closed, and the words; exactly one of the three."""
    given: list[tuple[How, str]] = [
        (how, words) for how in closing.HOW if (words := getattr(args, how.replace(" ", "_"))) is not None
    ]
    if len(given) == 1:
        return given[0]
    raise UseError(
        code="FW-U-345",
        read="; ".join(how for how, _ in given) or "dangers, and not how they were closed",
        expected="one of --tested-out, --made-safe, --escalated, with words",
        matters="a danger that ended in two ways ended in none that can be looked up",
        do="say the one that holds, each danger by itself where they differ",
    )


def _listed(standing: Sequence[Stands]) -> str:
    lines = []
    for each in standing:
        how = each.closed
        state = "open" if each.open else how.how if how is not None else "seen no longer"
        lines.append(f"{each.name}  {state}  {each.words}: {each.why}")
        lines += [f"    open again: {each.back}"] if each.back else []
        lines += [f"    its test: {each.close}"] if each.open else []
        lines += [f"    {how.words}"] if how is not None else []
    return "\n".join(lines) or "No danger stands."


def run(args: argparse.Namespace) -> int:
    """Close them; without one, list them and exit 1 while one is open."""
    journal = opened_from(args).journal
    visit = kept.found(journal, args.visit)
    if not args.danger:
        standing = closing.dangers_of(journal, visit, places()["config"])
        data = [{"name": each.name, "words": each.words, "open": each.open, "test": each.close} for each in standing]
        print(json.dumps(data) if args.json else printable(_listed(standing)))
        return 1 if any(each.open for each in standing) else 0
    how, words = _way(args)
    entries = closing.closed(
        journal, visit, args.danger, how=how, words=words, to=args.to, when=args.when, books=places()["config"]
    )
    print(json.dumps({"ids": [each.id for each in entries]}) if args.json else "\n".join(each.id for each in entries))
    return 0
