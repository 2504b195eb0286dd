"""fluewright demo: an invented boiler house, from recorded trace to hand-over."""

import argparse
import json
from pathlib import Path

from fluewright.errors import printable
from fluewright.visit import demonstration, file, hand_over


def add(parser: argparse.ArgumentParser) -> None:
    """The options of this verb."""
    parser.add_argument("--folder", type=Path, default=Path("demo"), help="where the files go (default: demo)")


def run(args: argparse.Namespace) -> int:
    """Make the traces, judge the visit, print the sheet and write HTML and PDF."""
    html, pdf = args.folder / "sheet.html", args.folder / "report.pdf"
    visit = demonstration.lay_out(args.folder, printings=(html, pdf))
    verdict = hand_over.judged_file(visit, file.read(visit))
    written = hand_over.write(verdict, html=html, pdf=pdf, replace=True, made_from=(visit,))
    paths = {"visit file": visit, **{word: args.folder / name for word, name in _traces().items()}, **written}
    if args.json:
        print(json.dumps({kind: str(path) for kind, path in paths.items()}))
        return 0
    from fluewright.report.text import text

    print(text(hand_over.sheet_of(verdict), plain=args.plain))
    print("\nThe same visit, invented from end to end, lies in these files:")
    for kind, path in paths.items():
        print(f"  {kind:<18} {printable(str(path))}")
    return 0


def _traces() -> dict[str, str]:
    return {f"trace, {word}": f"{word.replace(' ', '-')}.csv" for word, *_ in demonstration.RUNS}
