"""The oil supply as one part of the job: from the tank to the nozzle, and how the burner starts."""

from dataclasses import dataclass
from types import MappingProxyType

from fluewright.evidence import oil_input, oil_line, oil_start, oil_tank
from fluewright.evidence.oil_given import PART, OilGiven
from fluewright.evidence.oil_noted import Noted
from fluewright.evidence.part import Part, SoFar
from fluewright.evidence.reckon import Reckoning


@dataclass(frozen=True, slots=True)
class OilSupply:
    """What was read about the oil supply."""

    given: OilGiven

    @property
    def late(self) -> bool:
        """It rests on nothing that other parts find."""
        return False

    def worked(self, so_far: SoFar) -> Part:
        """Nozzle and input, suction and cut-off, start and order of the work, the tank in the weather."""
        noted = Noted(PART, so_far, Reckoning(so_far.account))
        for part in (oil_input, oil_line, oil_start, oil_tank):
            part.told(noted, self.given)
        return Part(
            PART,
            "Oil supply",
            "supply",
            tuple(noted.statements),
            MappingProxyType(noted.results),
            tuple(noted.findings),
            tuple(noted.cannot_tell),
        )
