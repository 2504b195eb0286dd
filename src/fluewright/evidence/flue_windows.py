"""Oxygen, carbon dioxide, stack temperature and efficiency against the windows that a law of the place prints."""

from fluewright.evidence.finding import WRONG, Finding
from fluewright.evidence.flue import Worked
from fluewright.evidence.limits import READ_AGAIN, all_answered
from fluewright.evidence.reading import Account, Stretch
from fluewright.evidence.result import Result
from fluewright.kernel import ops

GASES = ("oxygen_dry", "carbon_dioxide_dry")
"""The one follows from the other, so only what was read is asked."""


def _read(stretch: Stretch) -> tuple[str, ...]:
    """The results that a law may be asked about: of the gases those that were read."""
    return (*(name for name in GASES if name in stretch.readings), "efficiency_gross")


def _rise(worked: Worked) -> Result | None:
    """How far the stack stands above the air that goes to the flame."""
    flue, air = worked.taken.flue_temperature, worked.taken.air_temperature
    if flue is None or air is None:
        return None
    rise = flue - air
    below, above = worked.taken.ledger.sides(rise)
    name, bound = "temperature_difference", worked.taken.ledger.bound(rise)
    return Result(name, float(ops.value_of(rise)), below, above, None, bound=bound)


def by_law(stretch: Stretch, worked: Worked, account: Account, *, doubt: str) -> list[Finding]:
    """What a law of the place says of an undiluted reading; one kept that cannot clear anything is not worth a line."""
    if stretch.point.kind != "undiluted":
        return []
    found: list[Finding] = []
    for name in _read(stretch):
        found += all_answered(worked.results[name], stretch.word, account, doubt=doubt)
    rise = _rise(worked)
    if rise is not None:
        words = "stack temperature above that of the air"
        found += all_answered(rise, stretch.word, account, doubt=doubt, words=words, key="flue_temperature")
    of_law = [one for one in found if one.clause.layer == "law" or one.clause.of_the_house]
    return [one for one in of_law if one.grade in (*WRONG, "fine") or one.do_next == READ_AGAIN]
