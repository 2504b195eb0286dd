"""A reading that would not stand still: carbon monoxide that climbs where people breathe is acted on."""

from collections.abc import Mapping

from fluewright.evidence.finding import PRACTICE, Finding
from fluewright.evidence.limits import CAUTION
from fluewright.evidence.reading import Reading

STAY_OUT = (
    "shut off what burns, open doors and windows, and get people out of these rooms",
    "read on from the door with a meter zeroed outdoors; nobody goes back in while it climbs",
)


def breathed(readings: Mapping[str, Reading], word: str, *, code: str, where: str) -> list[Finding]:
    """Carbon monoxide that rose or swung in air that people breathe, whatever its figure was.

    readings  by key
    word      part of the job that they belong to
    code      of the finding
    where     what held it, as a sentence begins
    -> one finding for all of them, nothing where none was seen to move
    """
    moved = {key: one for key, one in readings.items() if one.rising}
    if not moved:
        return []
    texts = ", ".join(one.typed.text for one in moved.values())
    return [
        Finding(
            code,
            "act",
            f"{where}: carbon monoxide was {next(iter(moved.values())).typed.trend} when it was read.",
            f"Read: {texts}. Where it comes to nobody saw, and something feeds it. A figure of such a moment is a "
            "floor, and a word without a figure is no low reading.",
            tuple((word, key) for key in moved),
            PRACTICE,
            do_now=STAY_OUT,
            do_next=("find what makes it before anything runs again, and read until it stands still",),
            cautions=CAUTION,
        )
    ]
