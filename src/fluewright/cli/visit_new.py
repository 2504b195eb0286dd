"""fluewright visit new: opens a visit, with what is known at the door; or takes a visit file in."""

import argparse
import json
from pathlib import Path
from typing import Any

from fluewright import clock
from fluewright.cli.journal_place import add_place, opened_or_made
from fluewright.visit import kept

ABOUT = "open a visit, or take a visit file in"

TABLES = {
    "visit": ("title", "customer", "site", "technician", "jurisdiction", "route", "units", "emergency", "supplier"),
    "appliance": ("words", "class", "burner", "serial", "input"),
    "fuel": ("name",),
    "instrument": ("words", "accuracy", "calibration_due", "zero", "hydrogen_compensated"),
    "place": ("altitude", "barometer", "humidity"),
}
"""Options by the table they fill."""

NAMED = {"words": "--appliance", "name": "--fuel"}
HELP = {
    ("visit", "title"): "what the visit is called; the day when not given",
    ("visit", "jurisdiction"): "country code, such as US-MN",
    ("visit", "route"): "kind of visit, such as annual",
    ("visit", "units"): "us or si",
    ("appliance", "class"): "see fluewright appliance list",
    ("fuel", "name"): "name in the library, or a blend",
    ("instrument", "words"): "what the readings are taken with",
    ("instrument", "zero"): "where it was zeroed: outdoors, doorway, inside",
    ("instrument", "calibration_due"): "day such as 2027-03-01",
}


def _option(table: str, key: str) -> str:
    if table == "instrument" and key == "words":
        return "--instrument"
    return NAMED.get(key, f"--{key.replace('_', '-')}")


def add(parser: argparse.ArgumentParser) -> None:
    """The options of this question."""
    add_place(parser)
    parser.add_argument("--from", dest="from_file", type=Path, metavar="FILE", help="a visit file, every line of it")
    parser.add_argument("--paper", action="store_true", help="what is entered was written on paper before")
    parser.add_argument("--invented", action="store_true", help="for practice; marked on every page")
    for table, keys in TABLES.items():
        group = parser.add_argument_group(table)
        for key in keys:
            about = HELP.get((table, key), "")
            group.add_argument(_option(table, key), dest=f"{table}.{key}", metavar="X", help=about)


def _tables(args: argparse.Namespace) -> dict[str, Any]:
    """The tables that the options fill."""
    day = clock.now().date()
    tables: dict[str, Any] = {}
    for table, keys in TABLES.items():
        found = {key: value for key in keys if (value := getattr(args, f"{table}.{key}")) is not None}
        if found:
            tables[table] = found
    visit = {"title": f"Visit of {day.isoformat()}", "date": day, **tables.get("visit", {})}
    return {**tables, "visit": visit | ({"invented": True} if args.invented else {})}


def run(args: argparse.Namespace) -> int:
    """Open it, and say by what id it is known from now on."""
    journal = opened_or_made(args)
    source: Any = "from paper" if args.paper else "typed"
    if args.from_file is not None:
        entry = kept.brought_in(journal, args.from_file)
    else:
        entry = kept.begun(journal, _tables(args), source=source)
    print(json.dumps({"visit": entry.id}) if args.json else entry.id)
    return 0
