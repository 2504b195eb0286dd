"""A typed figure, without its unit: digits, marks, groups, fractions of an inch, exponent."""

import re
from typing import NamedTuple

NUMBER = re.compile(
    r"""
    [-+–]?\s?
    (?: (?:[0-9]{1,3}[ -]+)?[0-9]{1,2}/[0-9]{1,2}(?![0-9/.,])
      | (?: [0-9]{1,3}(?:[ '][0-9]{3})+(?![0-9])(?:[.,][0-9]+)?
          | [0-9]+(?:[.,][0-9]+)*(?:[.,](?![.,0-9]))?
          | [.,][0-9]+
        )
        (?:[eE][-+]?[0-9]{1,4}(?![0-9]))?
    )
    """,
    re.VERBOSE,
)
"""One figure at the start of a text; whether its marks make sense is for figures()."""

_INCH_PARTS = (2, 4, 8, 16, 32, 64)


class Figure(NamedTuple):
    """One way to understand a typed figure.

    value     as typed
    decimals  digits after the decimal mark; for a fraction those that write it exactly
    step      one step of the last digit
    """

    value: float
    decimals: int
    step: float


def figures(token: str) -> list[Figure]:
    """All ways to understand a figure: none when its marks make no number, two for a comma before three digits."""
    text = token.replace("–", "-").strip()
    sign = -1.0 if text.startswith("-") else 1.0
    text = text.lstrip("+-").strip()
    if "/" in text:
        return _parts(sign, text)
    mantissa, _, exponent = text.lower().partition("e")
    plain = mantissa.replace(" ", "").replace("'", "")
    return [_figure(sign, digits, exponent) for digits in _plain(plain, " " in mantissa or "'" in mantissa)]


def thousands(token: str) -> Figure | None:
    """What a figure with one point before exactly three digits means to people who group thousands with points."""
    text = token.replace("–", "-").strip()
    digits = text.lstrip("+-").strip()
    if digits.count(".") != 1 or not digits.replace(".", "").isdigit() or not _in_threes(digits, "."):
        return None
    return _figure(-1.0 if text.startswith("-") else 1.0, _joined(digits, "."), "")


def _figure(sign: float, digits: str, exponent: str) -> Figure:
    decimals = len(digits.partition(".")[2])
    power = int(exponent or 0)
    return Figure(sign * float(f"{digits}e{power}") or 0.0, decimals, float(f"1e{power - decimals}"))


def _parts(sign: float, text: str) -> list[Figure]:
    whole, _, part = text.replace("-", " ").rpartition(" ")
    top, _, bottom = part.partition("/")
    if int(bottom) not in _INCH_PARTS or int(top) >= int(bottom):
        return []
    digits = int(bottom).bit_length() - 1
    return [Figure(sign * (int(whole or 0) + int(top) / int(bottom)), digits, 1.0 / int(bottom))]


def _plain(digits: str, grouped: bool) -> list[str]:
    """The digits with a point as the only mark, in every way they can be meant."""
    commas, points = digits.count(","), digits.count(".")
    if commas and points:
        decimal = max(",.", key=digits.rindex)
        head, _, tail = digits.rpartition(decimal)
        group = "," if decimal == "." else "."
        return [_joined(head, group) + "." + tail] if not grouped and _in_threes(head, group) else []
    if commas + points > 1:
        mark = "," if commas else "."
        return [_joined(digits, mark)] if not grouped and _in_threes(digits, mark) else []
    if commas and not grouped and _in_threes(digits, ","):
        return [digits.replace(",", ""), digits.replace(",", ".")]
    return [digits.replace(",", ".")]


def _joined(digits: str, mark: str) -> str:
    return digits.replace(mark, "")


def _in_threes(digits: str, mark: str) -> bool:
    first, *rest = digits.split(mark)
    return 1 <= len(first) <= 3 and first[0] != "0" and all(len(group) == 3 for group in rest)
