"""Shares of a composition: names people use, percent or fraction, adding up; never stretched in silence."""

import math
import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from fluewright.fuels import refusals
from fluewright.kernel.components import COMPONENTS

ELEMENTS = ("C", "H", "O", "N", "S", "water", "ash")
"""Keys of an ultimate analysis, by mass."""

CLOSE = 1e-6
"""How far a sum may be from the whole: room for binary fractions, not for a rounded analysis."""

_GAS_NAMES = {
    "CH4": "methane c1 firedamp",
    "C2H6": "ethane c2",
    "C3H8": "propane c3",
    "nC4H10": "nbutane nc4 butane c4h10 c4 butanen",
    "iC4H10": "isobutane ibutane ic4 2methylpropane",
    "nC5H12": "npentane nc5 pentane c5h12 c5",
    "iC5H12": "isopentane ipentane ic5 2methylbutane",
    "neoC5H12": "neopentane neoc5 22dimethylpropane",
    "nC6H14": "nhexane nc6 hexane c6h14 c6 c6+ hexanes hexanesplus hexane+",
    "nC7H16": "nheptane nc7 heptane c7h16 c7",
    "nC8H18": "noctane nc8 octane c8h18 c8",
    "C2H4": "ethylene ethene",
    "C3H6": "propylene propene",
    "C4H8": "1butene butene butylene",
    "C2H2": "acetylene ethyne",
    "C6H6": "benzene",
    "CH4O": "methanol ch3oh",
    "H2": "",
    "CO": "carbonmonoxide",
    "H2S": "hydrogensulfide hydrogensulphide",
    "NH3": "ammonia",
    "H2O": "watervapour watervapor steam",
    "N2": "",
    "O2": "",
    "CO2": "carbondioxide",
    "Ar": "argon",
    "He": "helium",
    "air": "dryair",
}
_ELEMENT_NAMES = {
    "C": "carbon",
    "H": "",
    "O": "",
    "N": "",
    "S": "sulfur sulphur",
    "water": "w moisture",
    "ash": "a",
}
AIR = {"O2": 0.20946, "N2": 0.78084, "Ar": 0.0093, "CO2": 0.0004}
"""What one part of dry air is in a mixture (air.DRY_AIR of the kernel)."""


def folded(name: str) -> str:
    """A component name reduced to what tells names apart."""
    return re.sub(r"[\s_\-()%,.]", "", name).lower()


def visible(text: str, *, most: int = 400) -> str:
    """A text of unknown origin without signs that could move a cursor, cut to a length."""
    shown = "".join(letter if letter.isprintable() else "\ufffd" for letter in text.replace("\n", "; "))
    return shown if len(shown) <= most else shown[: most - 4] + " ..."


def _spelled(table: Mapping[str, str]) -> dict[str, str]:
    found = {folded(key): key for key in table}
    for key, names in table.items():
        found.update(dict.fromkeys(names.split(), key))
    return found


_EITHER = {
    "h2o": ("H2O", "water"),
    "water": ("H2O", "water"),
    "hydrogen": ("H2", "H"),
    "oxygen": ("O2", "O"),
    "nitrogen": ("N2", "N"),
}
"""Names whose meaning follows from the others: gas, or element by mass."""
_GASES = _spelled(_GAS_NAMES)
_ATOMS = _spelled(_ELEMENT_NAMES)


@dataclass(frozen=True, slots=True)
class Share:
    """One piece of a composition as written.

    name   as written
    value  number as written, None for rest
    unit   "%", "ppm" or empty
    """

    name: str
    value: float | None
    unit: str = ""


@dataclass(frozen=True, slots=True)
class Composition:
    """Shares that add up.

    kind        "gas" or "ultimate"
    fractions   of the whole, summing to 1, keys of COMPONENTS or of ELEMENTS
    understood  what was taken for granted, in words
    """

    kind: str
    fractions: Mapping[str, float]
    understood: str


MOST_PERCENT, MOST_PPM = 1e3, 1e7
"""Ten times the whole: a share beyond is no slip of a digit, and refused by itself before any adding up."""


def share_of(name: str, text: object, *, where: str) -> Share:
    """One piece from what stands behind its equals sign.

    name   component as written
    text   number or text, such as 95, "4,5", "20 ppm", "rest"
    where  file or text it stands in, for the error
    -> share; FuelError when it is no number or below nothing
    """
    if isinstance(text, bool) or not isinstance(text, int | float | str):
        raise refusals.not_a_share(name, str(text), where)
    said = str(text).strip().lower()
    if said in ("rest", "balance", "bal"):
        return Share(name, None)
    match = re.fullmatch(
        r"([-+]?(?:\d+[.,]?\d*|[.,]\d+)(?:e[-+]?\d+)?)\s*(%|ppm|percent|mol\s?%|vol\s?%|wt\s?%)?", said
    )
    if match is None:
        raise refusals.not_a_share(name, str(text), where)
    value = float(match[1].replace(",", "."))
    if value < 0.0:
        raise refusals.negative_share(name, value, where)
    unit = match[2] or ""
    if value > (MOST_PPM if unit == "ppm" else MOST_PERCENT):
        raise refusals.not_a_share(name, str(text)[:80], where)
    return Share(name, value, "ppm" if unit == "ppm" else "%" if unit else "")


def _kind(shares: Iterable[Share], where: str) -> str:
    """Whether the pieces are gases or elements; a name known to neither is refused."""
    gases, atoms = [], []
    for share in shares:
        key = folded(share.name)
        if key in _EITHER:
            continue
        if key in _ATOMS:
            atoms.append(share.name)
        elif key in _GASES:
            gases.append(share.name)
        else:
            raise refusals.unknown_component(share.name, [*COMPONENTS, "air", *ELEMENTS], where)
    if gases and atoms:
        raise refusals.mixed_kinds(", ".join(gases), ", ".join(atoms), where)
    return "ultimate" if atoms else "gas"


def _key(name: str, kind: str) -> str:
    key = folded(name)
    if key in _EITHER:
        return _EITHER[key][kind == "ultimate"]
    return _GASES[key] if kind == "gas" else _ATOMS[key]


def _scale(values: Iterable[float], units: set[str], where: str) -> float:
    """100 for percent, 1 for fractions; refused when the sum is neither."""
    total = math.fsum(values)
    if units - {""} or total > 2.0:
        whole, unit = 100.0, " %"
    else:
        whole, unit = 1.0, ""
    if abs(total / whole - 1.0) > CLOSE:
        raise refusals.does_not_add_up(total, whole=whole, unit=unit, where=where)
    return whole


def _filled(shares: list[Share], where: str) -> tuple[list[float], str]:
    """Numbers for all pieces, with the rest worked out where one was left open; percent when any piece says so."""
    values = [None if s.value is None else s.value * (1e-4 if s.unit == "ppm" else 1.0) for s in shares]
    known = math.fsum(v for v in values if v is not None)
    open_ones = [s.name for s in shares if s.value is None]
    if not open_ones:
        return [v for v in values if v is not None], ""
    if len(open_ones) > 1:
        raise refusals.rest_twice(where)
    percent = known > 1.0 or any(s.unit for s in shares)
    whole = 100.0 if percent else 1.0
    left = whole - known
    if left < 0.0:
        raise refusals.does_not_add_up(known, whole=whole, unit=" %" if percent else "", where=where)
    said = f"; {open_ones[0]} takes the rest, {left:.6g}{' %' if percent else ''}"
    return [left if v is None else v for v in values], said


def adding_up(shares: Iterable[Share], *, where: str) -> Composition:
    """Shares checked for names, doubles and sum.

    shares  as written
    where   file or text they stand in, for the error
    -> composition; FuelError FW-F-002 to FW-F-009 and FW-F-024
    Fails   never brings shares to 1 by itself: a sum that is off is refused
    """
    pieces = list(shares)
    if not pieces:
        raise refusals.empty_composition(where)
    kind = _kind(pieces, where)
    seen: dict[str, str] = {}
    for piece in pieces:
        key = _key(piece.name, kind)
        if key in seen:
            raise refusals.said_twice(key, seen[key], piece.name, where)
        seen[key] = piece.name
    values, said = _filled(pieces, where)
    whole = _scale(values, {piece.unit for piece in pieces}, where)
    fractions = {key: value / whole for key, value in zip(seen, values, strict=True) if value > 0.0}
    notes = ["percent" if whole == 100.0 else "fractions of one"]
    notes += [f"{seen[key]} taken as {key}" for key in seen if _taken_for(seen[key])]
    if "air" in fractions:
        fractions = _with_air_opened(fractions)
        notes.append("air counted as its gases")
    return Composition(kind, fractions, "shares understood as " + ", ".join(notes) + said)


def _taken_for(name: str) -> bool:
    """Names that leave open which isomer is meant; they are taken as the straight one, and that is said."""
    return folded(name) in {"c4h10", "c4", "butane", "c5h12", "c5", "pentane", "c6+", "hexanesplus", "hexane+"}


def _with_air_opened(fractions: Mapping[str, float]) -> dict[str, float]:
    opened = {key: value for key, value in fractions.items() if key != "air"}
    for gas, part in AIR.items():
        opened[gas] = opened.get(gas, 0.0) + part * fractions["air"]
    return opened
