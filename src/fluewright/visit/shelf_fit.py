"""The instruments of a shop: calibration, zero and leak checks, age of the cells, and what each can decide today."""

import json
from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date
from typing import TYPE_CHECKING

from fluewright.errors import QuantityError
from fluewright.quantity import show
from fluewright.report.pen import day_words
from fluewright.rules.decidable import Decidable, decidable
from fluewright.rules.schema import Limit
from fluewright.visit import rules_here, shelf_told
from fluewright.visit.letter import counted
from fluewright.visit.place import day_of
from fluewright.visit.rules_reader import in_words

if TYPE_CHECKING:
    from sqlalchemy import RowMapping
    from sqlalchemy.engine import Connection

    from fluewright.record.journal import Journal

OLD_CELL = 2
"""Years after which a cell's age is said first (common practice, no source; its maker's own word counts)."""

CHECKED = ("zero", "closing zero", "leak")
"""Checks whose last result is told."""


@dataclass(frozen=True, slots=True)
class Instrument:
    """One instrument of the shelf.

    fit    what keeps it from deciding today, sentences; none when nothing does
    state  calibration, checks and cells, sentences
    """

    id: str
    words: str
    serial: str
    accuracy: str
    fit: tuple[str, ...]
    state: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Decided:
    """What an instrument can decide at a place today.

    yes, no  limits, as (id, what it asks, the doubt there)
    unsaid   how many limits are worked out from several readings, or read with something else
    """

    yes: tuple[tuple[str, str, str], ...]
    no: tuple[tuple[str, str, str], ...]
    unsaid: int


def _day(text: str) -> str:
    day = day_of(text)
    return day_words(day) if day is not None else text


def _calibration(rows: "Sequence[RowMapping]", today: date) -> tuple[str, str]:
    """What is in the way, and the state of the calibration."""
    if not rows:
        return "no calibration of it is kept here", "No calibration is kept here."
    newest = max(rows, key=lambda row: str(row["day"]))
    due = day_of(newest["due"])
    said = f"Calibrated on {_day(newest['day'])}"
    if due is None:
        return "nobody said when it is calibrated again", f"{said}; nobody said when again."
    if due < today:
        days = counted((today - due).days, "day", "days")
        return f"its calibration ran out {days} ago", f"{said}; was to be calibrated again by {day_words(due)}."
    return "", f"{said}; again by {day_words(due)}, in {counted((due - today).days, 'day', 'days')}."


def _checks(rows: "Sequence[RowMapping]", what: str) -> str:
    own = [row for row in rows if row["what"] == what]
    if not own:
        return f"No {what} check is kept."
    newest = max(own, key=lambda row: str(row["at"]))
    body = json.loads(newest["body"])
    where = f", {body['place']}" if body.get("place") else ""
    return f"Last {what}, {_day(newest['at'][:10])}{where}: {newest['result'] or 'nothing said of the outcome'}."


def _cells(made: str, today: date) -> str:
    day = day_of(made)
    if day is None:
        return "Nobody said how old its cells are."
    months = (today.year - day.year) * 12 + today.month - day.month
    age = counted(months // 12, "year", "years") if months >= 24 else counted(months, "month", "months")
    old = "; ask it for its answer to test gas" if months >= 12 * OLD_CELL else ""
    return f"Cells {age} old{old}."


def _one(connection: "Connection", row: "RowMapping", today: date) -> Instrument:
    from fluewright.record.views import shop

    calibrations = shop.all_of(connection, "calibration", most=200, instrument=row["id"])
    checks = shop.all_of(connection, "check", most=400, instrument=row["id"])
    block, state = _calibration(calibrations, today)
    said = [state, *(_checks(checks, what) for what in CHECKED), _cells(str(row["made"]), today)]
    fit = (f"It can raise an alarm and clears nothing: {block}.",) if block else ()
    return Instrument(row["id"], row["words"], row["serial"], row["accuracy"], fit, tuple(said))


def shelf(journal: "Journal", today: date) -> tuple[Instrument, ...]:
    """All instruments in use; those that cannot clear anything today first."""
    from fluewright.record.views import shop
    from fluewright.record.views.catching_up import looked_at

    with looked_at(journal.store) as connection:
        rows = shop.all_of(connection, "instrument", most=200, retired=False)
        found = [_one(connection, row, today) for row in rows]
    return tuple(sorted(found, key=lambda each: (not each.fit, each.words)))


def one(journal: "Journal", id: str, today: date) -> Instrument | None:
    """One instrument; None when it is not here."""
    from fluewright.record.views import shop
    from fluewright.record.views.catching_up import looked_at

    with looked_at(journal.store) as connection:
        row = shop.one(connection, "instrument", id)
        found = _one(connection, row, today) if row is not None else None
    if found is None:
        return None
    over_time = shelf_told.told(journal, id, today).sentences[1:]  # the first is the calibration, which stands above
    return replace(found, state=(*found.state, *over_time))


def decides(accuracy: str, asked: rules_here.Asked) -> Decided:
    """What an instrument of a class can decide where rules are asked for.

    accuracy  class of the instrument; an empty one is taken for a service instrument
    asked     where, for what and when
    -> sentences; nothing at all for a class that nobody knows
    """
    try:
        rules = [one.rule for one in rules_here.speaking(asked)]
        told = [(rule, decidable(rule, accuracy or "service")) for rule in rules]
    except QuantityError:
        return Decided((), (), 0)
    return Decided(_said(told, "yes"), _said(told, "no"), sum(each.can == "not said" for _, each in told))


def _said(told: Sequence[tuple[Limit, Decidable]], can: str) -> tuple[tuple[str, str, str], ...]:
    return tuple((rule.id, in_words(rule), _doubt(rule, one)) for rule, one in told if one.can == can)


def _doubt(rule: Limit, one: Decidable) -> str:
    """What its doubt is at a limit, and from where on it decides."""
    doubt, least = (
        "" if value is None else show.shown(value, quantity=rule.quantity) for value in (one.doubt, one.least)
    )
    more = f" It decides from {least} on." if least and one.can == "no" else ""
    return f"Its doubt there is {doubt}, twice the standard one.{more}"
