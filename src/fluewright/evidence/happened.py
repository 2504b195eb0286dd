"""What changed while traces of a visit were recorded: told by whoever watched the rows, judged and written here.

That nothing moved clears nothing: these findings are never fine, and nothing read later takes one back.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from fluewright.evidence.finding import Finding
from fluewright.evidence.part import Part, SoFar, Statement

if TYPE_CHECKING:
    from fluewright.evidence.reading import Stretch

NOTE = "That nothing else moved clears nothing."


@dataclass(frozen=True, slots=True)
class Happened:
    """One thing that changed while a trace was recorded.

    at             when, as the clock of the trace shows it
    word           in two or three words, for a drawing
    seconds        the same moment, s from the first row
    finding        what it says, without its evidence
    after          what was done shortly before, empty when nothing was
    of_instrument  it tells of the instrument: what the trace shows is in doubt
    """

    at: str
    word: str
    seconds: float
    finding: Finding
    after: str = ""
    of_instrument: bool = False


WORD = "what changed"
"""The word by which evidence refers to what changed."""


def _key(stretch: "Stretch", number: int) -> str:
    return f"{stretch.word}, {number}"


def doubts(stretch: "Stretch") -> list[Finding]:
    """Reasons to mistrust a stretch: its own trace shows that the instrument did not follow the gas."""
    return [
        replace(
            one.finding,
            lead=f"{stretch.word.capitalize()}, at {one.at}: {one.finding.lead}",
            body=f"{one.finding.body} What was read then clears nothing.",
            evidence=((WORD, _key(stretch, number)), *((stretch.word, name) for name in stretch.readings)),
        )
        for number, one in enumerate(stretch.happened, start=1)
        if one.of_instrument
    ]


@dataclass(frozen=True, slots=True)
class Changes:
    """What changed while the stretches of a visit were recorded, as a part of the job."""

    stretches: "tuple[Stretch, ...]"
    late: bool = False

    def worked(self, _: SoFar) -> Part:
        """A sentence for each, and a finding for each that asks for something."""
        every = [
            (stretch, _key(stretch, number), one)
            for stretch in self.stretches
            for number, one in enumerate(stretch.happened, start=1)
        ]
        return Part(
            WORD,
            "What changed when",
            "changes",
            tuple(_statement(stretch, key, one) for stretch, key, one in every),
            findings=tuple(
                replace(one.finding, lead=f"{stretch.word.capitalize()}, at {one.at}: {one.finding.lead}",
                        evidence=((WORD, key),))
                for stretch, key, one in every
                if one.finding.grade != "open" and not one.of_instrument
            ),
            note=NOTE,
            data={"happened": [_data(stretch, one) for stretch, _, one in every]},
        )  # fmt: skip


def _statement(stretch: "Stretch", key: str, one: Happened) -> Statement:
    margin = "; ".join(each for each in (stretch.word, f"after: {one.after}" if one.after else "") if each)
    return Statement((f"{one.at}: {one.finding.lead}",), margin=margin, key=key)


def _data(stretch: "Stretch", one: Happened) -> dict[str, str]:
    return {"stretch": stretch.word, "at": one.at, "code": one.finding.code, "grade": one.finding.grade,
            "words": one.finding.lead, "after": one.after}  # fmt: skip


def changes_of(stretches: "Sequence[Stretch]") -> tuple[Changes, ...]:
    """What changed during any of the stretches, as a part; none where all was quiet."""
    return (Changes(tuple(stretches)),) if any(stretch.happened for stretch in stretches) else ()
