"""What the record of an instrument tells over time: how its zeros drift, how its cells age, what is due."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from statistics import median
from typing import TYPE_CHECKING, Any

from fluewright.evidence.ageing import WEAK, Forecast, forecast, left_of
from fluewright.evidence.checked import BELIEVABLE, MONOXIDE
from fluewright.kernel.air import DRY_AIR
from fluewright.visit.shelf import CELLS, OnShelf, body_in, condition_of, instrument_of, shares

if TYPE_CHECKING:
    from fluewright.record.journal import Journal

YEAR = 365.25
"""Days."""
HYDROGEN_WORDS = {
    "yes": "Its carbon monoxide cell is compensated for hydrogen.",
    "no": "Its carbon monoxide cell is not compensated: hydrogen makes it read high, never low.",
    "unknown": "Nobody has said whether its carbon monoxide cell is compensated for hydrogen.",
}
SOON = 60
"""Days before the end of a calibration from which on it is said to be due."""


@dataclass(frozen=True, slots=True)
class Drift:
    """The closing zero of one day: how much too high each cell read, in ppm and in points of oxygen; None unread."""

    day: str
    visit: str
    monoxide: float | None
    oxygen: float | None


@dataclass(frozen=True, slots=True)
class Cell:
    """One cell over its calibrations.

    name    carbon_monoxide or oxygen
    since   day from which on it is counted: when it was put in, else its first calibration
    points  day and share of its first response
    ahead   forecast
    words   the forecast in a sentence
    """

    name: str
    since: str
    points: tuple[tuple[str, float], ...]
    ahead: Forecast
    words: str


@dataclass(frozen=True, slots=True)
class Told:
    """All that the record of one instrument tells, as rows and sentences."""

    instrument: OnShelf
    drifts: tuple[Drift, ...]
    cells: tuple[Cell, ...]
    sentences: tuple[str, ...]


def _figure(table: Any, key: str) -> float | None:
    found = table.get(key, {}).get("figure") if isinstance(table, dict) else None
    return None if found is None else float(found)


def drifts(journal: "Journal", instrument: str) -> tuple[Drift, ...]:
    """Every closing zero taken outdoors, oldest first."""
    from fluewright.record.views import shop
    from fluewright.record.views.catching_up import looked_at

    with looked_at(journal.store) as connection:
        rows = shop.checks(connection, instrument)
    found = []
    for row in rows:
        body = body_in(row)
        if body["what"] != "closing zero" or body.get("place") not in BELIEVABLE:
            continue
        monoxide, oxygen = (_figure(body.get("seen"), key) for key in ("monoxide", "oxygen"))
        points = None if oxygen is None else (oxygen - DRY_AIR.oxygen) * 100.0
        found.append(Drift(row["day"], row["visit"], None if monoxide is None else monoxide * 1e6, points))
    return tuple(found)


def _years(first: str, later: str) -> float:
    return (date.fromisoformat(later) - date.fromisoformat(first)).days / YEAR


def _cell(name: str, calibrations: Sequence[tuple[str, float]], since: str) -> Cell:
    """One cell: its response after each calibration since it was put in, and when it will be too weak."""
    within = [(day, share) for day, share in calibrations if day >= since] if since else list(calibrations)
    if not within:
        return Cell(name, since, (), forecast(()), "nothing is known of it: no calibration says what it was found at")
    first = since or within[0][0]
    left = left_of([share for _, share in within]) if since else [1.0, *left_of([share for _, share in within[1:]])]
    dated = [(day, share) for (day, _), share in zip(within, left, strict=True)]
    days = [(first, 1.0), *dated] if since and dated[0][0] > since else dated
    ahead = forecast([(_years(first, day), share) for day, share in days])
    return Cell(name, first, tuple(days), ahead, _life_words(ahead, first))


def _life_words(ahead: Forecast, first: str) -> str:
    """The forecast in a sentence without its cell."""
    if ahead.refused:
        return f"no forecast: {ahead.refused}; {ahead.share * 100:.0f} % of its first response is left"
    start = date.fromisoformat(first)
    at, early = (start + timedelta(days=years * YEAR) for years in (ahead.years, ahead.early))
    late = "" if ahead.late is None else f" and {(start + timedelta(days=ahead.late * YEAR)):%B %Y}"
    return (
        f"{ahead.share * 100:.0f} % of its first response is left; at this rate {WEAK * 100:.0f} % about {at:%B %Y}, "
        f"19 times in 20 between {early:%B %Y}{late}"
    )


def cells(journal: "Journal", instrument: str) -> tuple[Cell, ...]:
    """The cells of an instrument over its calibrations."""
    from fluewright.record.views import shop
    from fluewright.record.views.catching_up import looked_at

    with looked_at(journal.store) as connection:
        rows, tries = shop.calibrations(connection, instrument), shop.checks(connection, instrument)
    found = []
    for name in CELLS:
        new = [row["day"] for row in tries if row["what"] == "cell" and body_in(row).get("cell") == name]
        held = [(row["day"], shares(body_in(row).get("found", {})).get(name)) for row in rows]
        found.append(_cell(name, [(day, share) for day, share in held if share is not None], max(new, default="")))
    return tuple(found)


def _due(one: OnShelf, today: date) -> str:
    if not one.due:
        return "Nobody has said when its calibration runs out: its readings are not known to be in date."
    days = (date.fromisoformat(one.due) - today).days
    if days < 0:
        return f"Its calibration ran out on {one.due}: its readings raise alarms and clear nothing."
    return f"Its calibration runs out on {one.due}, in {days} days." + (" Send it in." if days <= SOON else "")


def _drift_words(found: Sequence[Drift]) -> str:
    read = [one.monoxide for one in found if one.monoxide is not None]
    if not read:
        return "No closing zero outdoors was entered, so nobody knows how its zero drifts."
    middle, widest = median(read), max(read, key=abs)
    count = f"{len(read)} closing zero{'' if len(read) == 1 else 's'}"
    return f"{count}: carbon monoxide moved by {middle:+.0f} ppm in the middle, {widest:+.0f} ppm at most."


def told(journal: "Journal", code: str, today: date) -> Told:
    """What the record of an instrument tells.

    code   what it is called, its serial or its id
    today  the day
    -> rows and sentences; EntryError for no such instrument
    """
    one = instrument_of(journal, code, today)
    drifted, aged = drifts(journal, one.id), cells(journal, one.id)
    sentences = [_due(one, today), _drift_words(drifted)]
    for cell in aged:
        if cell.points or cell.name == MONOXIDE:
            sentences.append(f"{cell.name.replace('_', ' ').capitalize()} cell: {cell.words}.")
    hydrogen = condition_of(journal, one.words).get("hydrogen_compensated", "unknown")
    sentences.append(HYDROGEN_WORDS[hydrogen])
    return Told(one, drifted, aged, tuple(sentences))
