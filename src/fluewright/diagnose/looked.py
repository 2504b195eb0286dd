"""Looks that were answered on a visit: what was found where somebody looked, as lines of its sheet."""

from dataclasses import dataclass

from fluewright.diagnose.table import looks
from fluewright.evidence.part import Part, Piece, SoFar, Statement, Voiced

WORD = "looks"


@dataclass(frozen=True, slots=True)
class LookAnswer:
    """One look.

    name     in the list of looks
    found    whether it found what it looks for
    because  what was seen, in own words
    """

    name: str
    found: bool
    because: str = ""
    time: str = ""


@dataclass(frozen=True, slots=True)
class Looked:
    """The looks of one visit, in the order in which they were answered."""

    answers: tuple[LookAnswer, ...]

    @property
    def late(self) -> bool:
        """It rests on no other part."""
        return False

    def worked(self, so_far: SoFar) -> Part:
        """Each look with its answer; what follows from them is said among the causes."""
        del so_far
        said = tuple(_statement(answer) for answer in self.answers)
        return Part(WORD, "Looked at", "proofs", said, data={each.name: each.found for each in self.answers})


def _statement(answer: LookAnswer) -> Statement:
    look = looks()[answer.name]
    pieces: tuple[Piece, ...] = (f"{look.words}: {look.yes if answer.found else look.no}",)
    if answer.because:
        pieces += ("; ", Voiced(answer.because))
    return Statement((*pieces, "."), time=answer.time, key=answer.name)
