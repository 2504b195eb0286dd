"""What each printed rule leaves of an input at a height, side by side, and what thin gas takes off by itself."""

from collections.abc import Iterator
from dataclasses import dataclass, field

from fluewright.evidence.finding import PRACTICE, Finding, currency_of
from fluewright.evidence.gas_height import FREE, Derate, allowed
from fluewright.evidence.part import Derived, Part, SoFar, Statement, Voiced
from fluewright.evidence.reckon import Reckoning, refused
from fluewright.evidence.result import Result
from fluewright.kernel import derating
from fluewright.quantity import show
from fluewright.rules import altitude as rules

SEA_LEVEL = 101_325.0
"""Pa, US Standard Atmosphere 1976."""


@dataclass(frozen=True, slots=True)
class HeightAsked:
    """What may an appliance of this plate burn at the height of the visit.

    plate   W gross at sea level, None for shares alone
    derate  what the maker says
    """

    plate: float | None = None
    derate: Derate = field(default_factory=Derate)

    @property
    def late(self) -> bool:
        """It rests on nothing else."""
        return False

    def worked(self, so_far: SoFar) -> Part:
        """Each rule at this height."""
        reckoning = Reckoning(so_far.account)
        height = so_far.account.surroundings.altitude or 0.0
        results: dict[str, Result] = {"altitude_share": self._thin(reckoning)}
        statements = [_thin_said(reckoning, height)]
        if self.plate is not None:
            words = show.shown(self.plate, quantity="fuel_input", system=reckoning.account.system)
            statements.append(Statement(("the plate says ", Voiced(words, "plate"), " at sea level."), mark="plate"))
        if self._stated:
            found = allowed(self.derate, altitude=height, jurisdiction=reckoning.account.jurisdiction, plate=self.plate)
            statements += self._one("stated", found.share, found.words, found.source, reckoning, results)
        else:
            for rule in rules.rules():
                edition = ", ".join(filter(None, (rule.edition, currency_of(rule.known, rule.current))))
                source = f"{rule.document}, {edition} ({rule.known})"
                share = rule.left_at(height)
                statements += self._one(rule.id, share, f"{rule.words}; {rule.note}", source, reckoning, results)
        return Part(
            word="height",
            title="Input at this height",
            place="supply",
            statements=tuple(statements),
            results=results,
            findings=tuple(self._findings(height)),
            cannot_tell=("Which rule binds: the plate and the maker's table win, then the code of the place.",),
        )

    @property
    def _stated(self) -> bool:
        return bool(self.derate.rule or self.derate.table or self.derate.input)

    def _thin(self, reckoning: Reckoning) -> Result:
        place = reckoning.account.surroundings
        air = reckoning.assumed("barometer", place.pressure, place.pressure_spread, source=place.pressure_source)
        number = derating.share_by_thin_gas(barometer=air, set_barometer=SEA_LEVEL)
        return reckoning.result(
            "altitude_share",
            number,
            formula="share = root of (barometer / barometer at sea level)",
            substitution=f"root of ({place.pressure / 100.0:.0f} hPa / 1013 hPa) = {float(number.value):.3f}",
            source="orifice flow and ideal-gas law",
            holds="same orifice and gauge pressure; the air of a fan falls with the barometer itself",
        )

    def _one(
        self,
        key: str,
        share: float | None,
        words: str,
        source: str,
        reckoning: Reckoning,
        results: dict[str, Result],
    ) -> Iterator[Statement]:
        if share is None:
            name = f"altitude_share, {key}"
            results[name] = refused("altitude_share", f"{words}: it says nothing for this height")
            return
        value = share if self.plate is None else share * self.plate
        quantity = "altitude_share" if self.plate is None else "derated_input"
        name = f"{quantity}, {key}"
        said = show.shown(value, quantity=quantity, system=reckoning.account.system)
        results[name] = reckoning.result(
            quantity,
            value,
            formula="share of the sea-level input" + ("" if self.plate is None else " x plate"),
            substitution=f"{share:.3f} = {said}" if self.plate is None else f"{share:.3f} x plate = {said}",
            source=source or "plate",
            holds=words,
        )
        yield Statement((Voiced(words or "as stated", "plate"), ": ", Derived(name), "."), mark="plate")

    def _findings(self, height: float) -> Iterator[Finding]:
        if height > FREE and not self._stated:
            yield Finding(
                "height-rule-open",
                "open",
                "Which of these rules binds is not said.",
                "The rules differ by a fifth of the input at 5,000 ft. Counting 4 % only for the height above 2,000 ft "
                "is a misreading of the code: it counts the whole height.",
                (),
                PRACTICE,
                do_next=("look for the maker's table for this height, and say which rule it is",),
            )


def _thin_said(reckoning: Reckoning, height: float) -> Statement:
    said = show.shown(height, quantity="altitude", system=reckoning.account.system)
    return Statement(
        (
            f"at {said} an orifice left as it is passes ",
            Derived("altitude_share"),
            " of its heat at sea level, because the gas is thinner. The meter counts thin gas too: work out the heat "
            "of what it counted at this barometer, and compare that with the input allowed. Taking both off is once "
            "too much.",
        ),
        mark="derived",
    )
