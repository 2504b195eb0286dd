"""Looks that were answered on a visit: what was found where somebody looked, as lines of its sheet."""

from dataclasses import dataclass

from fluewright.diagnose.table import looks
from fluewright.diagnose.told import answered
from fluewright.evidence.part import Part, SoFar, Statement, Voiced, in_pieces
from fluewright.words import say

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
        return Part(WORD, say("Looked at"), "proofs", said, data={each.name: each.found for each in self.answers})


def _statement(answer: LookAnswer) -> Statement:
    look = answered(looks()[answer.name], answer.found)
    if answer.because:
        said = in_pieces("{look}; {seen}.", look=look, seen=Voiced(answer.because))
    else:
        said = in_pieces("{look}.", look=look)
    return Statement(said, time=answer.time, key=answer.name)
