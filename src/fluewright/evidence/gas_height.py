"""The heat input that plate, place and rule allow together."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from fluewright.errors import PhysicsRefused
from fluewright.kernel import derating
from fluewright.rules import altitude as rules

FREE = 2000.0 * rules.FOOT
"""m: no rule takes anything off below it."""


@dataclass(frozen=True, slots=True)
class Derate:
    """What the maker or the code takes off at a height.

    rule    id of a printed rule, "none" where the maker takes nothing off, empty when nobody has said
    table   the maker's table of (m, share), in rising order
    input   W gross, what the plate itself states for this height
    """

    rule: str = ""
    table: Sequence[tuple[float, float]] = ()
    input: float | None = None


@dataclass(frozen=True, slots=True)
class Allowed:
    """What is allowed here.

    share   of the sea-level input; None where the rule says nothing for this height
    words   the rule as a person says it, empty where no height was known
    source  document and edition of the rule
    how     stated by the maker or the person, assumed from the country, or open
    """

    share: float | None
    words: str = ""
    source: str = ""
    how: Literal["stated", "assumed", "open"] = "stated"


def allowed(derate: Derate, *, altitude: float | None, jurisdiction: str, plate: float | None) -> Allowed:
    """The share of the sea-level input that is allowed at a height.

    derate        what was said about it
    altitude      m above sea level, None when not known
    jurisdiction  code of the law that applies
    plate         W gross at sea level, for a plate that states its own figure for the height
    -> share and where it comes from; PhysicsRefused FW-K-042 outside a maker's table
    """
    if derate.input is not None and plate:
        return Allowed(derate.input / plate, "what the plate states for this height", "plate")
    if altitude is None:
        return Allowed(1.0, "", "", "open")
    if derate.table:
        return Allowed(_by_table(derate.table, altitude), "the maker's table", "maker's table, straight between rows")
    if derate.rule == "none":
        return Allowed(1.0, "nothing taken off, as the maker says", "the maker's instructions")
    if derate.rule:
        return _by_rule(rules.rule(derate.rule), altitude, "stated")
    if altitude <= FREE:
        return Allowed(1.0)
    country = jurisdiction.split("-")[0].upper()
    found = next((one for one in rules.rules() if one.where == country), None)
    return Allowed(1.0, "", "", "open") if found is None else _by_rule(found, altitude, "assumed")


def _by_rule(rule: rules.AltitudeRule, altitude: float, how: Literal["stated", "assumed"]) -> Allowed:
    source = f"{rule.document}, {rule.edition}"
    return Allowed(rule.left_at(altitude), rule.words, f"{source} ({rule.known}; {rule.note})", how)


def _by_table(table: Sequence[tuple[float, float]], altitude: float) -> float:
    low, high = table[0][0], table[-1][0]
    if not low <= altitude <= high:
        raise PhysicsRefused(
            code="FW-K-042",
            read=f"{altitude:.0f} m, and a maker's table from {low:.0f} to {high:.0f} m",
            expected="a height inside the table",
            matters="a table carried on past its end is a guess at somebody's combustion chamber",
            do="ask the maker for this height",
        )
    return float(derating.share_by_table(altitude=altitude, table=table))
