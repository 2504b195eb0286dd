"""fluewright report: a visit described in one file, as sheet in the terminal, HTML and PDF."""

import argparse
import json
from collections.abc import Sequence
from pathlib import Path

from fluewright.cli.books import add_house, by_shop
from fluewright.cli.flue import ask
from fluewright.cli.language import add_language
from fluewright.errors import printable
from fluewright.evidence.finding import finding_as_data
from fluewright.visit import file, hand_over


def add(parser: argparse.ArgumentParser) -> None:
    """The options of this verb."""
    parser.add_argument("file", type=Path, help="visit file, TOML or JSON; see docs/visit-file.md")
    add_printings(parser)
    add_house(parser)


def add_printings(parser: argparse.ArgumentParser) -> None:
    """The options about what is printed, where, and in which language."""
    add_language(parser)
    parser.add_argument("--html", type=Path, metavar="OUT", help="write the sheet as one HTML file")
    parser.add_argument("--pdf", type=Path, metavar="OUT", help="write customer page and record as PDF")
    parser.add_argument("--paper", choices=("letter", "a4"), help="paper of the PDF; letter with US units, else a4")
    parser.add_argument("--ink", choices=("paper", "lamp"), default="paper", help="ink of the HTML page")
    parser.add_argument(
        "--working", action="store_true", help="the working of every number in the terminal and on paper"
    )
    parser.add_argument("-n", "--dry-run", action="store_true", help="read and judge, write nothing")
    parser.add_argument("--force", action="store_true", help="replace files that are already there")


def run(args: argparse.Namespace) -> int:
    """Judge the visit and print it; exit 1 when something must be mended."""
    verdict = hand_over.judged_file(args.file, by_shop(args, file.read(args.file)))
    ask(verdict.account)
    return printed(args, verdict, (args.file, *file.named_in(args.file)))


def printed(args: argparse.Namespace, verdict: hand_over.Verdict, made_from: Sequence[Path] = ()) -> int:
    """The sheet in the terminal and in the files asked for; exit 1 when something must be mended."""
    written = {}
    if not args.dry_run:
        outputs = {"html": args.html, "pdf": args.pdf, "paper": args.paper, "ink": args.ink, "workings": args.working}
        written = hand_over.write(verdict, **outputs, replace=args.force, made_from=made_from)
    if args.json:
        data = dict(verdict.sheet().readings)
        data["findings"] = [finding_as_data(finding) for finding in verdict.judged.findings]
        data["cannot_tell"] = list(verdict.judged.cannot_tell)
        data["written"] = {kind: str(path) for kind, path in written.items()}
        print(json.dumps(data, ensure_ascii=False, indent=2, allow_nan=False))
    else:
        from fluewright.report.text import text

        print(text(hand_over.sheet_of(verdict), plain=args.plain, workings=args.working))
        for kind, path in written.items():
            print(f"{kind}: {printable(str(path))}")
    found = verdict.judged.findings
    if verdict.account.notices:
        return 1
    return 1 if any(f.grade in ("stop", "act") or f.code in ("fresh-air", "not-worked-out") for f in found) else 0
