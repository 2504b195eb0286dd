"""fluewright journal export: a complete copy for people and machines, which any Python can check."""

import argparse
from pathlib import Path
from typing import TYPE_CHECKING

from fluewright.cli.journal_place import add_place, opened_from, say

if TYPE_CHECKING:
    from fluewright.record.export import Part
    from fluewright.record.journal import Journal

ABOUT = "write the records as lines that any Python can check, and as tables"
DAMAGED = 4


def add(parser: argparse.ArgumentParser) -> None:
    """The options of this question."""
    parser.add_argument("folder", type=Path, metavar="FOLDER", help="a new or an empty folder")
    parser.add_argument(
        "--without-people", action="store_true", help="no texts and photos about people; it still verifies"
    )
    part = parser.add_mutually_exclusive_group()
    part.add_argument("--visit", metavar="ID", help="one visit and what it names; for checking, not for taking in")
    part.add_argument("--year", type=int, metavar="YYYY", help="entries of one year; for checking, not for taking in")
    parser.add_argument(
        "--tables", choices=("csv", "parquet"), help="also tables for spreadsheets, of the whole journal"
    )
    add_place(parser)


def _part(args: argparse.Namespace, journal: "Journal") -> "Part":
    from fluewright.record.export import ALL, of_visit, of_year

    if args.visit:
        return of_visit(journal, args.visit)
    return of_year(args.year) if args.year else ALL


def run(args: argparse.Namespace) -> int:
    """Export and say what went along; exit 4 when some of it does not hold any more."""
    from fluewright.record.export import exported
    from fluewright.record.sheets import CsvSheets, ParquetSheets, laid_out

    journal, people = opened_from(args).journal, not args.without_people
    made = exported(journal, args.folder, people=people, part=_part(args, journal))
    facts: dict[str, object] = {"export": str(made.folder), "part": made.part, "entries": made.entries}
    facts |= {"texts about people": made.values, "files": made.files}
    if args.tables:
        sheets = (CsvSheets if args.tables == "csv" else ParquetSheets)(made.folder / "tables")
        facts["rows in tables"] = laid_out(journal, sheets, people=people)
    more = ["to check it anywhere: python -I -S verify_journal.py, then python -I -S verify_seals.py"]
    if made.skipped:
        more += ["NOT WHOLE: all that still holds was exported, and this was left out:", *made.skipped]
    say(args, facts | ({"skipped": made.skipped} if args.json else {}), *more)
    return DAMAGED if made.skipped else 0
