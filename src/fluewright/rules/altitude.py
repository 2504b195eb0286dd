"""Rules that take heat input off at a height, as data: which there are, and what one leaves at a place."""

import tomllib
from dataclasses import dataclass
from functools import cache
from importlib import resources

from fluewright.errors import RuleError
from fluewright.kernel import derating
from fluewright.rules import currency

FOOT = 0.3048
"""m, exact."""
THOUSAND_FEET = 1000.0 * FOOT


@dataclass(frozen=True, slots=True)
class AltitudeRule:
    """One printed rule.

    words     as a person says it
    fall      share taken off for each 1,000 ft from the sea, None for a rule of one step
    free      ft, up to which nothing is taken off
    share     taken off in one step, None for a rule by the foot
    low, high ft, between which the step applies
    where     country code, or who has to say so
    """

    id: str
    words: str
    document: str
    edition: str
    known: str
    current: currency.Current
    where: str
    note: str
    fall: float | None = None
    free: float = 0.0
    share: float | None = None
    low: float = 0.0
    high: float = 0.0

    def left_at(self, altitude: float) -> float | None:
        """Share of the sea-level input that it leaves; None where the rule says nothing.

        altitude  m above sea level
        -> fraction
        """
        if self.fall is not None:
            fall = self.fall / THOUSAND_FEET
            return float(derating.share_from_sea_level(altitude=altitude, fall=fall, free_altitude=self.free * FOOT))
        if altitude <= self.low * FOOT:
            return 1.0
        return 1.0 - (self.share or 0.0) if altitude <= self.high * FOOT else None


@cache
def rules() -> tuple[AltitudeRule, ...]:
    """Every printed rule, in the order of the file."""
    text = (resources.files("fluewright.rules") / "tables" / "altitude.toml").read_text(encoding="utf-8")
    return tuple(AltitudeRule(**row) for row in tomllib.loads(text)["rules"])


def rule(name: str) -> AltitudeRule:
    """One rule by id; RuleError names those there are."""
    found = next((one for one in rules() if one.id == name), None)
    if found is None:
        raise RuleError(
            code="FW-B-040",
            read=f"the altitude rule {name!r}",
            expected="one of " + ", ".join(one.id for one in rules()),
            matters="rules differ by a fifth of the input at 5,000 ft",
            do="write one of these, or the maker's own figures",
        )
    return found
