"""A part of the job beside the flame: what was measured as sentences, what follows from it, what it says.

Room air, fuel supply, draft, heat delivered and the proofs of safety are each worked out in a module of their own and
handed over in this one form, so that sheet, JSON and judgement treat them alike.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from types import MappingProxyType
from typing import Literal, Protocol

from fluewright.evidence.finding import Finding
from fluewright.evidence.flue import Worked
from fluewright.evidence.reading import Account, Reading, Stretch
from fluewright.evidence.result import Result
from fluewright.words import pieces

Place = Literal["before", "room", "supply", "draft", "adjusting", "changes", "delivered", "proofs"]
"""Where in the order of the job a part stands; the flame comes between draft and delivered, and what
adjusting showed between the flame as found and as left. What traces showed follows the flames they are of."""
ORDER_OF_THE_JOB: tuple[Place, ...] = (
    "before",
    "room",
    "supply",
    "draft",
    "adjusting",
    "changes",
    "delivered",
    "proofs",
)

Topic = Literal["room air", "venting"]
"""What a part may answer, so that the flue side no longer lists it among what nobody read."""

Voice = Literal["page", "hand", "plate", "unknown", "strong"]
Mark = Literal["measured", "derived", "plate", "unknown"]


@dataclass(frozen=True, slots=True)
class Voiced:
    """Words in a voice of their own. hand: as typed by a person; plate: from a plate or assumed; unknown: not known."""

    text: str
    voice: Voice = "hand"


@dataclass(frozen=True, slots=True)
class Seen:
    """A reading in a sentence; key is unique within its part and is what evidence refers to."""

    key: str
    reading: Reading


@dataclass(frozen=True, slots=True)
class Derived:
    """A result in a sentence, by its key in the results of its part; it opens its working."""

    key: str


Piece = str | Voiced | Seen | Derived


def in_pieces(template: str, **fields: Piece) -> tuple[Piece, ...]:
    """The pieces of a sentence from its template.

    template  English, a literal, as fluewright.words.say takes it
    fields    words, readings and results; an empty text is left out
    -> pieces in the order of the language
    """
    return pieces(template, **fields)


@dataclass(frozen=True, slots=True)
class Statement:
    """One sentence of evidence; the page puts in the capital and nothing else.

    pieces  words, readings and results in order, with their own full stop
    mark    how it is known
    time    when it was seen, as typed
    margin  a remark beside the line
    key     what the whole line is found by, where it holds neither reading nor result; empty for nothing
    """

    pieces: tuple[Piece, ...]
    mark: Mark = "measured"
    time: str = ""
    margin: str = ""
    key: str = ""


@dataclass(frozen=True, slots=True)
class Part:
    """One part of the job, worked out and judged.

    word         by which evidence refers to it, unique in a visit, such as "gas supply"
    title        head of its section
    place        where it stands in the order of the job
    statements   the evidence, in order
    results      by key; the key is the registry name, or longer where one quantity comes several times
    findings     what it says, in any order; each refers to evidence as (word, key)
    cannot_tell  what it leaves open, whole sentences
    note         one sentence below the head
    answers      topics of the flue side that it settles
    picture      what a drawing is made from, None for none
    data         anything more for the record, plain data
    """

    word: str
    title: str
    place: Place
    statements: tuple[Statement, ...]
    results: Mapping[str, Result] = field(default_factory=lambda: MappingProxyType({}))
    findings: tuple[Finding, ...] = ()
    cannot_tell: tuple[str, ...] = ()
    note: str = ""
    answers: frozenset[Topic] = frozenset()
    picture: object | None = None
    data: Mapping[str, object] = field(default_factory=lambda: MappingProxyType({}))

    def readings(self) -> dict[str, Reading]:
        """Every reading of its sentences by key."""
        pieces = (piece for statement in self.statements for piece in statement.pieces)
        return {piece.key: piece.reading for piece in pieces if isinstance(piece, Seen)}


@dataclass(frozen=True, slots=True)
class SoFar:
    """What is known when a part is worked out.

    account  the visit
    told     each stretch of flue readings with what was worked out of it
    parts    parts worked out before, by word
    """

    account: Account
    told: Sequence[tuple[Stretch, Worked | None]] = ()
    parts: Mapping[str, Part] = field(default_factory=lambda: MappingProxyType({}))


class Measured(Protocol):
    """What a person measured for one part of the job; it knows how to work itself out."""

    @property
    def late(self) -> bool:
        """Whether it rests on what the other parts found, and has to wait for them."""

    def worked(self, so_far: SoFar) -> Part:
        """Work it out and judge it."""
