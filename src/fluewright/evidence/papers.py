"""Smoke papers: several of one test typed as a list, and their mean as one reading.

One paper is a moment; rules ask for three and count their mean. A paper that is only a bound makes the mean a bound.
"""

import re
from collections.abc import Sequence

from fluewright.errors import VisitError
from fluewright.evidence.reading import Reading
from fluewright.quantity import parse
from fluewright.quantity.meaning import Typed

QUANTITY = "smoke_spot"
KEYS = ("smoke_spot", "smoke", "soot", "spot")
"""Names of that reading in a file."""
ENOUGH = 3
"""Papers that rules ask for (1. BImSchV Annex 2 no. 3.2, read; rules/oil/de-1bimschv.toml)."""

_BETWEEN = re.compile(r"\s*;\s*|,\s+")
_TRACE = ("trace", "tr")
"""Words of the trade for a spot that is hardly seen: somewhere between 0 and 1."""


def parted(text: str) -> list[str]:
    """The papers in a text such as "1, 1, 2" or "1; 1,5; 2"; one alone is a list of one."""
    return _BETWEEN.split(text.strip())


def listed(value: object) -> str:
    """A list of papers in a file as one text, as a person would write it."""
    return ", ".join(str(one) for one in value) if isinstance(value, list) else str(value)


def count_of(reading: Reading) -> int:
    """How many papers a reading was taken from."""
    return len(parted(reading.typed.text))


def _paper(text: str) -> Typed:
    if text.strip().lower() in _TRACE:
        return Typed(text, QUANTITY, "range", None, 0.0, 1.0, "1", "", 0, 1.0)
    typed = parse.parse(text, quantity=QUANTITY)
    if typed.kind == "trend" or typed.trend:
        raise VisitError(
            code="FW-V-060",
            read=f"a smoke paper that is {text!r}",
            expected="a number from 0 to 9, halves too, or the word trace",
            matters="a paper is one moment: it does not rise or fall, and a mean of words would be made up",
            do="write the number of each paper, such as 1, 1, 2",
        )
    return typed


def _sides(papers: Sequence[Typed]) -> tuple[list[float | None], list[float | None]]:
    """The least and the most that each paper can be; None where a bound leaves it open."""
    low = [one.value if one.kind == "value" else one.low for one in papers]
    high = [one.value if one.kind == "value" else one.high for one in papers]
    return low, high


def mean_of(papers: Sequence[Typed], text: str) -> Typed:
    """The mean of several papers, with the text they were typed in.

    papers  as typed, each a value, a range or a bound
    -> a value, a range, or a bound where one of them is; VisitError FW-V-061 where bounds pull both ways
    """
    low, high = _sides(papers)
    count = len(papers)
    least = None if None in low else sum(one for one in low if one is not None) / count
    most = None if None in high else sum(one for one in high if one is not None) / count
    if least is None and most is None:
        raise VisitError(
            code="FW-V-061",
            read=f"papers that are bounds on both sides: {text!r}",
            expected="papers that were read, or bounds on one side only",
            matters="their mean could be anything",
            do="take the papers again, and compare each with the scale",
        )
    decimals, step = max(1, *(one.decimals for one in papers)), 0.1
    if least is None or most is None:
        return Typed(text, QUANTITY, "bound", None, least, most, "1", "", decimals, step)
    if all(one.kind == "value" for one in papers):
        return Typed(text, QUANTITY, "value", least, None, None, "1", "", decimals, step)
    return Typed(text, QUANTITY, "range", None, least, most, "1", "", decimals, step)


def reading_of(text: str) -> Reading:
    """Smoke papers as one reading: the mean of several, or the one there is.

    text  such as "2", "1, 1, 2", "0; trace; 0,5"
    -> reading of smoke_spot; QuantityError or VisitError for a paper that cannot be understood
    """
    papers = [_paper(one) for one in parted(text)]
    typed = papers[0] if len(papers) == 1 else mean_of(papers, text)
    return Reading(QUANTITY, typed)
