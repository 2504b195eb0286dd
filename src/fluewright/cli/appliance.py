"""fluewright appliance: classes of appliance, and what a reading is worth at each sampling point."""

import argparse
import json
import shutil
import textwrap
from collections.abc import Iterable, Iterator
from typing import Any

from fluewright.appliance import load
from fluewright.appliance.points import Cell, PointClass, validity
from fluewright.appliance.record import ApplianceClass, Device
from fluewright.errors import UseError
from fluewright.quantity import digits, names

WIDEST = 96
IN_WORDS = {"valid": "valid", "wide": "wide edge", "refused": "refused"}


def add(parser: argparse.ArgumentParser) -> None:
    """The questions of the verb."""
    asks = parser.add_subparsers(dest="question", metavar="QUESTION", required=True, parser_class=type(parser))
    asks.add_parser("list", help="every class in a line")
    show = asks.add_parser("show", help="one class: points, lines, devices to prove, what is never advised")
    show.add_argument("name", metavar="CLASS", help="such as condensing-boiler")
    points = asks.add_parser("points", help="what a quantity is worth at each point, or a point for each quantity")
    points.add_argument("--quantity", metavar="NAME", help="such as excess_air, or a trade name")
    points.add_argument("--point", metavar="CLASS", help="such as 'above hood'")
    for each in asks.choices.values():
        for option in ("--json", "--plain", "--no-input"):
            each.add_argument(option, action="store_true", default=argparse.SUPPRESS, help=argparse.SUPPRESS)


def _wrapped(head: str, text: str, *, indent: int = 4) -> str:
    """A text behind its head, folded to the terminal."""
    width = min(WIDEST, shutil.get_terminal_size((WIDEST, 24)).columns)
    return textwrap.fill(f"{head}{text}", width, initial_indent="  ", subsequent_indent=" " * indent)


def _listed() -> str:
    lines = [f"{name:<30} {load.load(name).words}" for name in load.names_of_classes()]
    return "\n".join([*lines, "", 'fluewright appliance show CLASS tells more; class = "..." in a visit file uses it.'])


def _device(device: Device) -> str:
    """A device with what is done, what must follow, and how fast."""
    figure = ""
    if device.quantity:
        allowed = (
            f"{device.allowed}, {device.known}; the plate decides" if device.allowed else "by its plate or setting"
        )
        figure = f" {'No sooner than' if device.sense == 'at least' else 'At most'} {allowed}."
    return f"{device.stimulus}. Must follow: {device.expected}.{figure} From: {device.source}."


def _grouped(pairs: Iterable[tuple[str, str]]) -> dict[str, list[str]]:
    """Second words by the first, in order."""
    found: dict[str, list[str]] = {}
    for key, value in pairs:
        found.setdefault(key, []).append(value)
    return found


def _sections(one: ApplianceClass) -> Iterator[tuple[str, list[str]]]:
    """Heads and lines of one class."""
    window = ", ".join(one.burners) or f"none: {one.no_window}"
    yield "Air", [f"window of oxygen by burner: {window}", f"made to condense: {one.condensing}", one.limit_lies]
    yield "Sampling points", [f"{p.name}: {p.point_class}{f'; {p.note}' if p.note else ''}" for p in one.points]
    lines = _grouped((f"{line.point}, {line.when}", names.of(line.quantity).words) for line in one.lines)
    yield "Lines proposed", [f"{head}: {', '.join(words)}" for head, words in lines.items()]
    refused = _grouped((line.why, names.of(line.quantity).words) for line in one.refused)
    yield "Never worked out here", [f"{'; '.join(words)}: {why}" for why, words in refused.items()]
    yield "Never advised", [f"{load.advice()[key].words}: {why}" for key, why in one.never.items()]
    yield "Safety devices to prove", [f"{device.words}: {_device(device)}" for device in one.devices]
    yield "Around it", [f"{line.words}: {line.ask}" for line in one.house]
    yield "Carbon monoxide that climbs through the run", [one.rising] if one.rising else []


def _shown(one: ApplianceClass) -> str:
    said = [f"{one.name}: {one.words}"]
    for head, lines in _sections(one):
        if lines:
            said += ["", head, *(_wrapped("", line) for line in lines)]
    return "\n".join(said)


def _class_data(one: ApplianceClass) -> dict[str, Any]:
    """A class as plain data."""
    return {
        "name": one.name,
        "words": one.words,
        "burners": list(one.burners),
        "condensing": one.condensing,
        "limit_lies": one.limit_lies,
        "warm_minutes": one.warm,
        "points": [{"name": p.name, "class": p.point_class, "note": p.note} for p in one.points],
        "lines": [{"quantity": p.quantity, "point": p.point, "when": p.when} for p in one.lines],
        "refused": [{"quantity": p.quantity, "why": p.why} for p in one.refused],
        "never_advised": dict(one.never),
        "devices": [
            {"key": d.key, "words": d.words, "stimulus": d.stimulus, "expected": d.expected, "quantity": d.quantity,
             "sense": d.sense, "allowed": d.allowed, "source": d.source, "known": d.known}
            for d in one.devices
        ],
        "house": [{"key": line.key, "words": line.words, "ask": line.ask, "group": line.group} for line in one.house],
        "rising": one.rising,
    }  # fmt: skip


def _row_named(typed: str) -> str:
    """The row that a person means by a registry or a trade name."""
    key = typed.strip().lower().replace(" ", "_").replace("-", "_")
    return key if key in validity().words else names.named(typed).name


def _cells(args: argparse.Namespace) -> tuple[Cell, ...]:
    """The cells asked for; UseError where neither a quantity nor a point was said."""
    table = validity()
    if args.quantity and args.point:
        return (table.cell(_row_named(args.quantity), args.point),)
    if args.quantity:
        row = _row_named(args.quantity)
        return tuple(table.cell(row, point) for point in table.points)
    if args.point:
        return tuple(table.cell(quantity, args.point) for quantity in table.words)
    raise UseError(
        code="FW-U-293",
        read="fluewright appliance points without a quantity or a point",
        expected="--quantity, --point, or both",
        matters="the whole table is 28 rows by 15 columns, and stands in docs/method/appliances.md",
        do=f"say one of them; points are {', '.join(table.points)}",
    )


def _of_point(point: PointClass) -> str:
    mixing = f"; uneven mixing adds {point.mixing * 100:g} % (standard)" if point.mixing else ""
    return f"{point.name}: {point.words}; {point.kind}{mixing}. {point.note[:1].upper()}{point.note[1:]}."


def _table(cells: tuple[Cell, ...], args: argparse.Namespace) -> str:
    table = validity()
    said = [_wrapped("", _of_point(table.points[args.point]))] if args.point else []
    said += [f"  {args.quantity}: {table.words[cells[0].quantity]}"] if args.quantity else []
    for cell in cells:
        head = table.words[cell.quantity] if args.point else cell.point
        marked = f"{cell.reason.words} ({cell.reason.source}; {cell.reason.known})"
        said.append(_wrapped(f"{head}: {IN_WORDS[cell.grade]}: ", marked))
    return "\n".join(said)


def _cell_data(cell: Cell) -> dict[str, Any]:
    return {"quantity": cell.quantity, "point": cell.point, "grade": cell.grade, "reason": cell.reason.words,
            "source": cell.reason.source, "known": cell.reason.known,
            "mixing": validity().points[cell.point].mixing if cell.grade == "wide" else 0.0}  # fmt: skip


def run(args: argparse.Namespace) -> int:
    """Answer the question."""
    data: Any
    if args.question == "list":
        text = _listed()
        data = [{"name": name, "words": load.load(name).words} for name in load.names_of_classes()]
    elif args.question == "show":
        one = load.load(args.name)
        text, data = _shown(one), _class_data(one)
    else:
        cells = _cells(args)
        text, data = _table(cells, args), [_cell_data(cell) for cell in cells]
    if args.json:
        print(json.dumps(data, ensure_ascii=False, indent=2))
    else:
        print(digits.plainly(text) if args.plain else text)
    return 0
