"""Dangerous causes that have to be closed before a visit is sealed, and whether a closing still holds."""

from collections.abc import Sequence
from dataclasses import dataclass

from fluewright.diagnose.diagnosis import Diagnosis, words_of
from fluewright.evidence.reading import Closing
from fluewright.simulate.faults import faults
from fluewright.words import spoken


@dataclass(frozen=True, slots=True)
class Stands:
    """One dangerous cause that stands, or stood until it was closed.

    why     why nobody may lose sight of it
    close   the test that closes it
    closed  how it was closed, as long as that holds
    back    what came after a closing and brought it back; empty for nothing
    open    whether it has to be closed before the seal
    """

    name: str
    words: str
    why: str
    close: str
    closed: Closing | None
    back: str
    open: bool


def standing(said: Diagnosis, closings: Sequence[Closing]) -> tuple[Stands, ...]:
    """Dangers that stand, likeliest first, then those that were closed and that no reading shows any more.

    said      what the readings point to now
    closings  what was closed, in order; of one danger the last counts
    -> each with its closing; one that a later reading speaks for is open again
    """
    last = {closing.danger: closing for closing in closings}
    found = []
    for danger in said.dangers:
        closing = last.pop(danger.name, None)
        if not danger.standing and closing is None:
            continue
        since = closing.since if closing is not None else frozenset()
        back = next((each.words for each in danger.because if each.rests in since), "")
        held = None if back else closing
        still = danger.standing and held is None
        found.append(Stands(danger.name, danger.words, danger.why, danger.close, held, back, still))
    gone = [closing for name, closing in last.items() if name in faults()]
    return (*found, *(_gone(closing) for closing in gone))


def _gone(closing: Closing) -> Stands:
    """A danger that was closed and has left view since."""
    why = spoken(faults()[closing.danger].danger)
    return Stands(closing.danger, words_of(closing.danger), why, "", closing, "", open=False)
