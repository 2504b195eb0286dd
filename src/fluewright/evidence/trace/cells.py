"""One cell of a trace -> a number in the channel's canonical unit, a bound, or a gap with its reason."""

import math
import re
from collections.abc import Callable
from typing import NamedTuple

from fluewright.evidence.trace.sniff import is_gap, is_over

Convert = Callable[[str], tuple[float, float] | None]
"""Unit as written in a cell -> (scale, offset) to the canonical unit; None when it does not measure the quantity."""

_SPACES = "\u0020\u00a0\u202f\u2009"
_NUMBER = re.compile(
    rf"(?P<side>[<>≤≥]=?|over|under|max|min)?\s*(?P<sign>[-+−]?)\s*(?P<digits>\d[\d.,'’{_SPACES}]*|[.,]\d+)"
    rf"(?P<power>[eE][-+]?\d+)?\s*(?P<unit>[^\d\s].*)?$",
    re.IGNORECASE,
)
_GROUPED = {
    ",": re.compile(rf"\d{{1,3}}(?:,\d{{3}})+|\d[\d]*|\d{{1,3}}(?:['’{_SPACES}]\d{{3}})+"),
    ".": re.compile(rf"\d{{1,3}}(?:\.\d{{3}})+|\d[\d]*|\d{{1,3}}(?:['’{_SPACES}]\d{{3}})+"),
}


class Cell(NamedTuple):
    """What a cell that is not simply a number turned out to be.

    kind   "" for a number, "bound", "empty", "not a number" or "bad unit"
    value  in the canonical unit; the number of the bound for a bound, infinite where a word such as OVER names none;
           0 where there is none
    side   "above" (>2000), "below" (<1) or ""
    """

    kind: str
    value: float = 0.0
    side: str = ""


class CellReader:
    """Reads the cells of one column: plain numbers fast, everything else with care.

    decimal        "." or ","
    scale, offset  canonical = number x scale + offset, for the unit of the column
    convert        for a cell that names its own unit
    over           whether a word such as OVER was met: its edge is only known once the column has been read
    """

    def __init__(self, *, decimal: str, scale: float, offset: float, convert: Convert) -> None:
        self._comma = decimal == ","
        self._group = "." if decimal == "," else ","
        self._scale, self._offset = scale, offset
        self._convert = convert
        self.over = False
        self._units: dict[str, tuple[float, float] | None] = {}

    def read(self, text: str) -> float | Cell:
        """The value of a plain number in the canonical unit; a Cell for anything else."""
        try:
            number = float(text.replace(",", ".")) if self._comma and "." not in text else float(text)
        except ValueError:
            return self._careful(text.strip())
        if (self._comma and "." in text) or number - number != 0.0 or "_" in text:
            return self._careful(text.strip())
        value = number * self._scale + self._offset
        return value if math.isfinite(value) else Cell("not a number")

    def _careful(self, text: str) -> float | Cell:
        if not text:
            return Cell("empty")
        if is_over(text):
            self.over = True
            return Cell("bound", math.inf, "above")
        match = None if is_gap(text) else _NUMBER.match(text)
        number = self._number(match) if match else None
        if match is None or number is None:
            return Cell("not a number")
        line = self._line(match["unit"])
        if line is None:
            return Cell("bad unit")
        value = number * line[0] + line[1]
        if not math.isfinite(value):
            return Cell("not a number")
        if match["side"]:
            return Cell(
                "bound", value, "below" if match["side"].lower() in {"<", "<=", "≤", "under", "min"} else "above"
            )
        return value

    def _line(self, unit: str | None) -> tuple[float, float] | None:
        """Scale and offset for the cell's own unit, or the column's when the cell names none."""
        name = (unit or "").strip()
        if not name:
            return self._scale, self._offset
        if name not in self._units:
            self._units[name] = self._convert(name)
        return self._units[name]

    def _number(self, match: re.Match[str]) -> float | None:
        digits = match["digits"].strip(_SPACES)
        whole, mark, part = digits.rpartition("," if self._comma else ".")
        if not mark:
            whole, part = digits, ""
        if (whole and not _GROUPED[self._group].fullmatch(whole)) or (part and not part.isdigit()):
            return None
        plain = re.sub(r"\D", "", whole) or "0"
        sign = "-" if match["sign"] in {"-", "−"} else ""
        return float(f"{sign}{plain}.{part or '0'}{match['power'] or ''}")
