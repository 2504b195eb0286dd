"""fluewright fuel: what a fuel is made of, its heat, air need and products."""

import argparse
import json
import shutil
import textwrap
from collections.abc import Iterator
from pathlib import Path
from typing import Any, Literal

from fluewright.errors import UseError
from fluewright.fuels import factors, load
from fluewright.fuels.figures import Figure, figures
from fluewright.fuels.record import FuelRecord
from fluewright.fuels.reference import COMBUSTION, METERING, Reference, reference_of
from fluewright.kernel.components import COMPONENTS
from fluewright.quantity import digits, names, parse, show, units
from fluewright.visit import fuel_of

System = Literal["us", "si"]
ELEMENTS = {"C": "carbon", "H": "hydrogen", "O": "oxygen", "N": "nitrogen", "S": "sulfur"}
NAMED_UNITS = {
    ("gas", "air_need"): "m3/m3",
    ("gas", "dry_products"): "m3/m3",
    ("liquid", "dry_products"): "m3/kg",
    ("solid", "dry_products"): "m3/kg",
    ("gas", "flame_speed"): "% of hydrogen",
}
"""Units of figures that are plain ratios for the registry."""


def add(parser: argparse.ArgumentParser) -> None:
    """The options of this verb."""
    parser.add_argument(
        "what",
        metavar="QUESTION",
        choices=("list", "show", "defaults"),
        help="list: all fuels; show: one fuel; defaults: published ones",
    )
    parser.add_argument("name", nargs="*", help="name in the library, or a blend: 'natural-gas 80 + hydrogen 20'")
    fuel = parser.add_argument_group("a fuel of your own")
    fuel.add_argument("--fuel", metavar="NAME", help="the same as the name itself")
    fuel.add_argument("--composition", metavar="TEXT", help="such as CH4=95,N2=5 or C=86.5,H=13.4,S=0.1")
    fuel.add_argument("--fuel-file", metavar="F", type=Path, help="TOML or JSON like the library's, or lines CH4 = 95")
    fuel.add_argument("--by", choices=("mole", "volume"), default="", help="what a composition is counted by")
    fuel.add_argument("--moisture", metavar="X", help="water in a solid fuel as fired, such as 20%%")
    counted = parser.add_argument_group("how it is counted")
    counted.add_argument(
        "--reference", metavar="T/T", help="heat and volume at: 15/15, 25/0, 15/0, 0/0, 20/20, 25/20, 60F"
    )
    counted.add_argument("--ideal", action="store_true", help="volumes of an ideal gas, as US tables count")
    counted.add_argument("--units", choices=("us", "si"), help="units of the answer; si when not said")
    out = parser.add_argument_group("what to print")
    out.add_argument("--working", action="store_true", help="the working of every number")
    out.add_argument("--toml", action="store_true", help="the library's file itself, to begin your own from")


def run(args: argparse.Namespace) -> int:
    """Print the list, one fuel, or the published defaults."""
    args.units = args.units or "si"
    if args.name and args.fuel is not None:
        raise UseError(
            code="FW-U-041",
            read=f"two fuels: {' '.join(args.name)!r} and --fuel {args.fuel!r}",
            expected="one of them",
            matters="the page would be of one, and look as if it were of the other",
            do="ask for one, then for the other",
        )
    if args.what != "show" and args.name:
        raise UseError(
            code="FW-U-040",
            read=f"{' '.join(args.name)!r} behind fuel {args.what}",
            expected=f"fluewright fuel {args.what} alone",
            matters="a word that is overlooked could have been a question",
            do=f"ask for one fuel with: fluewright fuel show {args.name[0]}",
        )
    if args.what == "list":
        print(_list_as_json() if args.json else _list(args.plain))
    elif args.what == "defaults":
        print(_defaults_as_json() if args.json else _defaults(args.plain))
    else:
        print(_shown(args))
    return 0


def _record(args: argparse.Namespace) -> FuelRecord:
    moisture = None if args.moisture is None else parse.single(args.moisture, quantity="moisture")
    return fuel_of.chosen(
        name=" ".join(args.name) if args.name else args.fuel,
        inline=args.composition,
        file=args.fuel_file,
        by=args.by,
        moisture=None if moisture is None else moisture.value,
    )


def _shown(args: argparse.Namespace) -> str:
    if args.toml:
        name = load.named(" ".join(args.name) if args.name else str(args.fuel or ""))
        return (load.LIBRARY / f"{name}.toml").read_text(encoding="utf-8").rstrip()
    record = _record(args)
    said = args.reference or ("60F" if args.units == "us" else "15/15")
    reference = reference_of(said, ideal=args.ideal)
    found = figures(record, reference=reference)
    if args.json:
        return _as_json(record, found, reference, args.units)
    width = min(max(shutil.get_terminal_size().columns, 60), 100)
    lines = list(_page(record, found, reference, args.units, width))
    if args.working:
        lines += list(_workings(found, args.units, width))
    text = "\n".join(lines)
    return digits.plainly(text) if args.plain else text


def _share_words(record: FuelRecord) -> str:
    """What the fuel is made of, the largest share first."""
    ordered = sorted(record.shares, key=lambda name: -record.shares[name])
    words = {**ELEMENTS, "water": "water", "ash": "ash"}
    said = [
        f"{words[n] if record.kind != 'gas' else COMPONENTS[n].words} {100.0 * record.shares[n]:.4g} %" for n in ordered
    ]
    return ", ".join(said) + (" by mole" if record.kind == "gas" else " by mass, as fired")


def _value(figure: Figure, system: System, kind: str = "") -> str:
    if figure.value is None:
        return figure.refused
    text = show.shown(figure.value, figure.spread or None, quantity=figure.quantity, system=system)
    unit = NAMED_UNITS.get((kind, figure.name), "")
    return f"{text} {unit.replace('m3', 'm³')}".rstrip()


def _page(
    record: FuelRecord, found: dict[str, Figure], reference: Reference, system: System, width: int
) -> Iterator[str]:
    """The fuel in calm sentences and one table."""

    def told(text: str) -> str:
        return textwrap.fill(text, width)

    yield record.words[:1].upper() + record.words[1:]
    yield ""
    yield told(f"Made of {_share_words(record)}.")
    yield told(f"Source: {record.source}. How known: {record.known}.")
    if record.heating_value_known:
        yield told(f"Heating value: {record.heating_value_known}.")
    if record.understood:
        yield told(f"{record.understood[:1].upper()}{record.understood[1:]}.")
    if record.note:
        yield told(record.note)
    yield ""
    yield told(_sentence(record, found, reference, system))
    yield ""
    for figure in found.values():
        if figure.value is not None:
            name = figure.words.replace(", above fresh air", "")
            yield f"  {name[: width - 34]:<{width - 34}}  {_value(figure, system, record.kind)}"
    yield ""
    yield from _beside(record, width)
    band = record.wobbe
    if band is not None:
        low, high = (show.shown(end, quantity="wobbe_gross", system=system) for end in (band.low, band.high))
        yield told(f"Published Wobbe band {low} to {high} at {band.reference}: {band.source} ({band.known}).")
    yield told(
        "± is twice the standard uncertainty; it counts how much supplies of this name differ, where that is known."
    )


def _sentence(record: FuelRecord, found: dict[str, Figure], reference: Reference, system: System) -> str:
    heats = [_value(found[f"heating_value_{end}"], system) for end in ("gross", "net")]
    counted = reference.words() if record.kind == "gas" else "at 25 °C, as fired"
    most = _value(found["carbon_dioxide_dry_max"], system)
    said = f"It holds {heats[0]} gross and {heats[1]} net: {counted}. With exact air its dry flue gas holds {most} "
    said += "carbon dioxide above that of fresh air; "
    if found["water_dew_point"].value is None:
        return said + "it makes no water that could condense."
    return said + f"water begins to condense at {_value(found['water_dew_point'], system)}. More air lowers both."


def _beside(record: FuelRecord, width: int) -> Iterator[str]:
    for one in factors.beside(record):
        words = names.of(one.factor.quantity).words
        percent = round(100.0 * one.deviation, 1)
        sign = "+" if percent > 0.0 else digits.MINUS if percent < 0.0 else ""
        yield textwrap.fill(
            f"Published {words}: {one.factor.printed} ({one.factor.document}; {one.factor.known}); "
            f"this fuel {sign}{abs(percent):.1f} %.",
            width,
        )


def _workings(found: dict[str, Figure], system: System, width: int) -> Iterator[str]:
    yield ""
    yield "Workings"
    for figure in found.values():
        if figure.value is None:
            continue
        yield ""
        yield f"  {figure.words}"
        parts = [figure.formula, figure.numbers, f"from {figure.source}", f"holds: {figure.holds}"]
        if figure.doubts:
            parts.append("doubt from " + ", ".join(f"{d.words} {d.share:.0%}" for d in figure.doubts[:4]))
        for part in parts:
            yield textwrap.fill(part, width, initial_indent="    ", subsequent_indent="      ")


def figure_as_data(figure: Figure, *, system: System, kind: str) -> dict[str, Any]:
    """One figure for a program: value and standard uncertainty in a stated unit, with its working."""
    quantity = names.of(figure.quantity)
    symbol = show.unit_of(quantity, system)
    unit = units.unit_named(symbol, quantity=quantity)
    data: dict[str, Any] = {
        "value": None if figure.value is None else units.in_unit(figure.value, unit=unit, quantity=quantity),
        "unit": NAMED_UNITS.get((kind, figure.name), symbol),
        "uncertainty": figure.spread / units.per_unit(unit=unit, quantity=quantity),
        "words": figure.words,
        "working": None,
    }
    if figure.value is None:
        return {**data, "refused": figure.refused}
    inputs = [
        {"name": d.name, "words": d.words, "value": d.value, "uncertainty": d.spread, "share": round(d.share, 6)}
        for d in figure.doubts
    ]
    data["working"] = {
        "formula": figure.formula,
        "substitution": figure.numbers,
        "inputs": inputs,
        "source": figure.source,
        "holds": figure.holds,
    }
    return data


def _as_json(record: FuelRecord, found: dict[str, Figure], reference: Reference, system: System) -> str:
    data: dict[str, Any] = {
        name: figure_as_data(figure, system=system, kind=record.kind) for name, figure in found.items()
    }
    data["fuel"] = {
        "name": record.name,
        "words": record.words,
        "kind": record.kind,
        "composition": dict(record.shares),
        "composition_by": "mole" if record.kind == "gas" else "mass",
        "composition_uncertainty": dict(record.spreads),
        "source": record.source,
        "known": record.known,
        "heating_value_known": record.heating_value_known,
        "note": record.note,
        "understood": record.understood,
        "groups": dict(record.groups),
    }
    data["reference"] = {
        "text": reference.short(),
        "combustion": COMBUSTION[reference.combustion],
        "metering": METERING[reference.metering],
        "pressure": "101.325 kPa",
        "gas": "ideal, dry" if reference.ideal else "real, dry",
        "words": reference.words() if record.kind == "gas" else "heat at 25 °C, as fired",
    }
    data["uncertainty_kind"] = "standard, one sigma"
    data["published"] = [
        {"quantity": c.factor.quantity, "printed": c.factor.printed, "document": c.factor.document,
         "known": c.factor.known, "deviation": c.deviation}
        for c in factors.beside(record)
    ]  # fmt: skip
    return json.dumps(data, ensure_ascii=False, indent=2)


def _list(plain: bool) -> str:
    lines = []
    for name, (words, aliases) in load.titles().items():
        lines.append(f"{name:<32} {words}")
        if aliases:
            lines.append(f"{'':<32}   also {', '.join(aliases)}")
    lines += ["", "fluewright fuel show NAME tells more. Blends: 'natural-gas 80 + hydrogen 20 by volume'."]
    text = "\n".join(lines)
    return digits.plainly(text) if plain else text


def _list_as_json() -> str:
    found = [{"name": n, "words": words, "aliases": aliases} for n, (words, aliases) in load.titles().items()]
    return json.dumps(found, ensure_ascii=False, indent=2)


def _defaults(plain: bool) -> str:
    lines = [f"{f.fuel:<24} {f.printed:<16} {f.document} ({f.known})" for f in factors.factors()]
    lines += ["", "What burners give off"]
    lines += [f"{e.fuel:<24} {e.value:g} {e.unit}: {e.what}; {e.document} ({e.known})" for e in factors.emissions()]
    text = "\n".join(lines)
    return digits.plainly(text) if plain else text


def _defaults_as_json() -> str:
    rows = [
        {"fuel": f.fuel, "quantity": f.quantity, "printed": f.printed, "document": f.document, "known": f.known}
        for f in factors.factors()
    ]
    given_off = [
        {"fuel": e.fuel, "what": e.what, "value": e.value, "unit": e.unit, "document": e.document, "known": e.known}
        for e in factors.emissions()
    ]
    return json.dumps({"defaults": rows, "emissions": given_off}, ensure_ascii=False, indent=2)
