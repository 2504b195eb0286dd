"""A gauge that was seen to move while a pipe stood under test: words that no figure outweighs."""

from fluewright.evidence.finding import Finding
from fluewright.evidence.gas_words import GAS_LAW, SHUT, TEST_AGAIN, of_gas
from fluewright.evidence.tightness_given import Standstill

_BAD = {"tightness": "falling", "load": "falling", "let-by": "rising"}
"""The word that tells of gas on its way."""


def seen(one: Standstill, *, word: str) -> Finding | None:
    """What a trend word at the second reading says; None where it was steady or nobody said.

    one   the test
    word  of the part
    """
    trend = one.end.typed.trend
    if trend in ("", "steady"):
        return None
    evidence = ((word, f"{one.purpose} end"),)
    if trend == _BAD[one.purpose]:
        way = "gas gets past the shut valve" if one.purpose == "let-by" else "the pipe loses pressure"
        cools = "" if one.purpose == "let-by" else " A pipe that cools does it too; until that is shown it is a leak."
        return of_gas(
            Finding(
                "gauge-still-moving",
                "act",
                f"The gauge was still {trend} at the end of the {one.purpose} test: {way}.",
                f"Read: {one.end.typed.text}. Where it would have come to rest, nobody saw.{cools}",
                evidence,
                GAS_LAW,
                do_next=(
                    "look for the leak with leak fluid; let the pipe take the temperature of the house and test again",
                ),
            ),
            do=SHUT,
        )
    return Finding(
        "gauge-still-moving",
        "open",
        f"The gauge was {trend} at the end of the {one.purpose} test, so it shows nothing.",
        f"Read: {one.end.typed.text}. A pipe that warms, a shut valve that lets gas in or a loose hose does that, and "
        "each of them can hide a leak.",
        evidence,
        GAS_LAW,
        do_next=TEST_AGAIN,
    )
