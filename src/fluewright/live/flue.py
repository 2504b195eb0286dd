"""Appliances on one flue, watched together: how each stands, and which of them nobody watches."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from fluewright.live import told
from fluewright.live.appliance import Watched
from fluewright.live.channel import amount


@dataclass(frozen=True, slots=True)
class OnFlue:
    """One appliance of a flue at one moment.

    appliance  its word
    draft      Pa, latest, None where none is read
    relief     K at its relief opening, None where none is read
    burning    whether it burns, None where nobody can tell
    words      how it stands
    """

    appliance: str
    draft: float | None
    relief: float | None
    burning: bool | None
    words: str

    def as_data(self) -> Mapping[str, Any]:
        """Plain data for a page."""
        return {
            "appliance": self.appliance,
            "draft": self.draft,
            "relief": self.relief,
            "burning": self.burning,
            "words": self.words,
        }


def on_flue(words: Sequence[str], watched: Mapping[str, Watched], latest: Mapping[int, float]) -> list[OnFlue]:
    """Every appliance that hangs on the flue, also those that nothing is read of.

    words    of the appliances on the flue
    watched  those that something is read of
    latest   value by place, of those fresh enough to count
    -> in the order of the words; silence is never called fine
    """
    return [_one(word, watched.get(word), latest) for word in words]


def _one(word: str, watched: Watched | None, latest: Mapping[int, float]) -> OnFlue:
    if watched is None:
        return OnFlue(word, None, None, None, "nothing is read here: nobody watches its draft")
    found = {told.group_of(watched.channels[place]): latest[place] for place in watched.places if place in latest}
    draft, relief = found.get("draft"), found.get("hood")
    burning = watched.burner.burning if watched.burner.told else None
    if draft is None:
        read = "only the relief opening is read" if relief is not None else "no draft is read"
        return OnFlue(word, None, relief, burning, f"{read}: nobody watches its draft")
    says = "at or above the room" if draft >= 0.0 else "below the room"
    return OnFlue(word, draft, relief, burning, f"draft {amount('draft', draft)}, {says}")
