"""Works out, judges and sets one visit: the one path from readings to a sheet."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from fluewright.evidence import flue, judge
from fluewright.evidence.finding import Judged
from fluewright.evidence.flue import Worked
from fluewright.evidence.reading import Account, Stretch
from fluewright.evidence.trust import fresh_air

if TYPE_CHECKING:
    from fluewright.report.tree import Figure, Sheet

PLANE_CARBON_MONOXIDE = 100.0
"""ppm air-free at the top of the drawn window (common practice, no source)."""


@dataclass(frozen=True, slots=True)
class Verdict:
    """One visit worked out and judged."""

    account: Account
    told: tuple[tuple[Stretch, Worked | None], ...]
    judged: Judged

    def sheet(self, *, strips: "Sequence[Figure]" = (), brief: bool = False) -> "Sheet":
        """The sheet of this visit; brief for a single reading, without drawings and customer page."""
        from fluewright.report import sheet  # drawings cost a third of the start; JSON needs none

        if brief:
            return sheet.build(self.account, self.told, self.judged, brief=True)
        window = sheet.window_drawn(judge.window_of(self.account), PLANE_CARBON_MONOXIDE)
        return sheet.build(self.account, self.told, self.judged, window=window, strips=strips)


def _worked(account: Account, stretch: Stretch) -> Worked | None:
    """One stretch worked out; None where the readings themselves say that there was no flue gas."""
    if fresh_air(stretch) is not None:
        return None
    return flue.work(
        record=account.fuel,
        stretch=stretch,
        instrument=account.instrument,
        surroundings=account.surroundings,
        jacket_fraction=account.jacket,
    )


def judged(account: Account) -> Verdict:
    """Work out and judge a visit.

    account  the visit
    -> verdict; PhysicsRefused when a stretch holds readings that no flame can make
    """
    told = tuple((stretch, _worked(account, stretch)) for stretch in account.stretches)
    return Verdict(account, told, judge.judge(account, told))
