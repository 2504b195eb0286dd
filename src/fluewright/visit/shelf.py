"""The instruments of a shop: entered, tried, calibrated; each change is an entry, and nothing is overwritten.

For every door: what stands here comes back as plain rows and sentences.
"""

import re
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from typing import TYPE_CHECKING, Any

from fluewright.errors import EntryError
from fluewright.evidence.checked import MONOXIDE, OXYGEN
from fluewright.quantity import names, parse
from fluewright.record.draft import Draft
from fluewright.visit import as_checks, as_entries, kept, said
from fluewright.visit.day_zero import into_begun
from fluewright.visit.reverse import Found

if TYPE_CHECKING:
    from fluewright.record.entry import Entry
    from fluewright.record.journal import Journal

SHORTEST = 4
"""Digits at the end of an id that are enough to name an instrument."""

CELLS = (MONOXIDE, OXYGEN)
CONDITION = ("hydrogen_compensated", "oxygen_cell")
"""What an instrument's own entry says of its cells."""
HYDROGEN = ("yes", "no", "unknown")
GOOD = 0.05
"""Share that a cell may be off as found and still count as a good check (common practice, no source)."""

_SHARE = re.compile(r"(?P<sign>[+\-−]?)\s*(?P<digits>\d+(?:[.,]\d+)?)\s*%")
_GAS = re.compile(r"(?P<gas>.+?)\s+(?:read|reads|showed|shows)\s+(?P<read>.+)", re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class OnShelf:
    """One instrument in use, as a row.

    id, words, serial, accuracy   of it
    calibrated, due               days of the last calibration and of the next; empty for none
    state                         in date, out of date since ..., never calibrated here, in words
    check                         the last thing tried on it, in words
    """

    id: str
    words: str
    serial: str
    accuracy: str
    calibrated: str
    due: str
    state: str
    check: str


@dataclass(frozen=True, slots=True)
class Past:
    """One entry about an instrument: its day, what it was, what it said."""

    id: str
    day: str
    what: str
    words: str
    visit: str = ""


def _state(due: str, today: date) -> str:
    if not due:
        return "nobody has said when its calibration runs out"
    return f"in date until {due}" if due >= today.isoformat() else f"out of date since {due}"


def on_shelf(journal: "Journal", today: date) -> list[OnShelf]:
    """Every instrument in use, one row each."""
    from fluewright.record.views import shop
    from fluewright.record.views.catching_up import looked_at

    with looked_at(journal.store) as connection:
        rows = shop.instruments(connection)
    return [
        OnShelf(
            id=row["id"],
            words=row["words"],
            serial=row["serial"],
            accuracy=row["accuracy"],
            calibrated=row["calibrated"],
            due=row["due"],
            state=_state(row["due"], today),
            check=f"{row['check']}: {row['result']}" if row["check"] else "",
        )
        for row in rows
    ]


def instrument_of(journal: "Journal", code: str, today: date) -> OnShelf:
    """One instrument by what it is called, its serial, its id or the end of that; EntryError for none or several."""
    typed = code.strip().lower()
    rows = on_shelf(journal, today)
    found = [one for one in rows if typed in (one.words.lower(), one.serial.lower(), one.id)]
    if not found and len(typed) >= SHORTEST:
        found = [one for one in rows if one.id.endswith(typed)]
    if len(found) == 1:
        return found[0]
    known = ", ".join(one.words for one in (found or rows)[:5]) or "none yet"
    raise EntryError(
        code="FW-J-132",
        read=f"the instrument {code!r}" + (f", by which {len(found)} may be meant" if found else ""),
        expected=f"one of the shop's instruments: {known}",
        matters="a calibration entered for another instrument would clear readings that it never took",
        do="name it as `fluewright instrument shelf` does, or by its serial; nothing was kept",
    )


def condition_of(journal: "Journal", words: str) -> dict[str, str]:
    """What a visit may take over of an instrument by its words: class, end of its calibration, what its cells are.

    -> by key of the visit's table; empty where no instrument is called so, or several are
    """
    from fluewright.record.views import shop
    from fluewright.record.views.catching_up import looked_at

    with looked_at(journal.store) as connection:
        found = [row for row in shop.instruments(connection) if row["words"] == words]
        row = shop.instrument(connection, found[0]["id"]) if len(found) == 1 else None
        tries = shop.checks(connection, found[0]["id"]) if row is not None else ()
    if row is None:
        return {}
    answers = [each["result"] for each in tries if each["what"] == "hydrogen"]
    cells = {key: str(value) for key, value in body_in(row).get("channels", {}).items() if key in CONDITION}
    known = {"accuracy": found[0]["accuracy"], "calibration_due": found[0]["due"], **cells}
    known |= {"hydrogen_compensated": answers[-1]} if answers else {}
    return {key: value for key, value in known.items() if value}


def entered(
    journal: "Journal",
    words: str,
    *,
    serial: str = "",
    accuracy: str = "",
    hydrogen: str = "",
    oxygen_cell: str = "",
    made: str = "",
) -> "Entry":
    """A new instrument on the shelf.

    words        what people call it
    accuracy     an accuracy class
    hydrogen     whether its carbon monoxide cell is compensated: yes, no, unknown
    oxygen_cell  partial pressure, capillary, unknown
    made         day it was made
    -> its entry
    """
    cells = {"hydrogen_compensated": hydrogen, "oxygen_cell": oxygen_cell}
    channels = {key: value for key, value in cells.items() if value}
    body: dict[str, Any] = {"words": words, "serial": serial, "accuracy": accuracy, "made": made}
    held = {key: value for key, value in body.items() if value}
    return journal.add(Draft("instrument", held | ({"channels": channels} if channels else {})))


@dataclass(frozen=True, slots=True)
class Tried:
    """One try that was kept, and how it was understood."""

    entry: "Entry"
    words: str


def tried(journal: "Journal", instrument: str, row: Mapping[str, str], *, day: str, visit: str = "") -> Tried:
    """A zero, a leak check, a response or another instrument beside it, in a visit or, for a whole day, outside any.

    instrument  id
    row         keys as in the table of checks of a visit
    day         when, outside a visit
    visit       id or the end of it
    -> its entry; Problems and QuantityError for what cannot be understood, EntryError for a visit of another instrument
    """
    _need_whole(row)
    typed = as_checks.understood_in(row)
    body = as_checks.body_of(row, typed.get, as_entries.value_of, instrument=instrument)
    if not visit:
        alone = Draft("check", {**body, "day": day})
        return Tried(journal.add_all([alone, *into_begun(journal, body, day)])[0], as_checks.words_of(body))
    found = kept.found(journal, visit)
    before = kept.entries_of(journal, found)
    if not any(each.counts and each.body.get("instrument") == instrument for each in before):
        raise EntryError(
            code="FW-J-135",
            read="a visit that was not read with this instrument",
            expected="the instrument that the visit names",
            matters="a zero of one instrument says nothing of the readings of another",
            do="name the instrument in the visit first; nothing was kept",
        )
    drafts = [Draft("check", {**body, "visit": found, "time": body.get("time") or journal.now().strftime("%H:%M")})]
    kept.need_sound(before, drafts, f"visit {found[-8:]}")
    return Tried(journal.add_all(drafts)[0], said.words("check", drafts[0].body))


def _need_whole(row: Mapping[str, str]) -> None:
    """Refuse a try that does not say what it found, by the same rules as within a visit."""
    from pathlib import Path

    from fluewright.errors import Problems
    from fluewright.visit.parts.instrument import checks_of
    from fluewright.visit.source import Source

    file = Source(Path("the check"), {"instrument": {"check": [dict(row)]}})
    checks_of(file)
    if file.gathered.errors:
        raise Problems(subject="the check", errors=file.gathered.errors)


def cell_replaced(journal: "Journal", instrument: str, cell: str, *, day: str, how: str = "") -> "Entry":
    """A new cell put in; what was learned of the old one's ageing ends there."""
    body = {"instrument": instrument, "what": "cell", "result": "replaced", "cell": cell, "day": day}
    return journal.add(Draft("check", body | ({"how": how} if how else {})))


def spanned(journal: "Journal", instrument: str, cell: str, shown: str, *, day: str) -> "tuple[Entry, str]":
    """A cell tried on a known gas between calibrations; a good one ends what a later bad calibration puts in doubt.

    shown  as `error_in` takes it
    -> its entry, and what it came to in words
    """
    share = error_in(shown, cell)
    result = "good" if abs(share) <= GOOD else "off"
    body = {"instrument": instrument, "what": "span", "result": result, "cell": cell, "day": day, "how": shown}
    words = f"{cell.replace('_', ' ')} {percent(share)} on a known gas: {result}; good is within {percent(GOOD)[1:]}"
    return journal.add(Draft("check", body)), words


def kept_words(body: Mapping[str, Any]) -> str:
    """A calibration in words, and what to ask next where it was found off."""
    off = any(abs(share) > GOOD for share in shares(body.get("found", {})).values())
    ask = "; see `fluewright instrument suspect` for the visits this puts in doubt" if off else ""
    return _calibration_words(body) + ask


def hydrogen_said(journal: "Journal", instrument: str, answer: str, *, day: str) -> "Entry":
    """Whether the carbon monoxide cell is compensated for hydrogen, from a day on."""
    body = {"instrument": instrument, "what": "hydrogen", "result": answer, "cell": MONOXIDE, "day": day}
    return journal.add(Draft("check", body))


def error_in(text: str, cell: str) -> float:
    """How far a cell was off, as a share of what was there, from what a certificate says.

    text  "-18 %", or "100 ppm read 82 ppm"
    cell  carbon_monoxide or oxygen
    -> share, below 0 where it read too low; EntryError for anything else
    """
    share = _SHARE.fullmatch(text.strip())
    if share:
        sign = -1.0 if share["sign"] in ("-", "−") else 1.0
        found = sign * float(share["digits"].replace(",", ".")) / 100.0
    else:
        gas = _GAS.fullmatch(text.strip())
        name = f"{cell}_dry"
        there = parse.single(gas["gas"], quantity=name).value if gas else None
        shown = parse.single(gas["read"], quantity=name).value if gas else None
        if not there or shown is None:
            raise _no_error(text)
        found = shown / there - 1.0
    if not -0.95 <= found <= 5.0:
        raise _no_error(text)
    return found


def _no_error(text: str) -> EntryError:
    return EntryError(
        code="FW-J-133",
        read=f"{text!r} as what a cell was found at",
        expected="a share such as -18 %, or what it showed of a known gas, such as 100 ppm read 82 ppm",
        matters="readings since the last good check are judged again by it",
        do="copy the line of the certificate; nothing was kept",
    )


def calibrated(
    journal: "Journal",
    instrument: str,
    *,
    day: str,
    due: str = "",
    found: Mapping[str, str] | None = None,
    left: Mapping[str, str] | None = None,
    by: str = "",
    certificate: str = "",
) -> "Entry":
    """A calibration.

    instrument   id
    day, due     when, and until when it holds
    found, left  by cell, as the certificate says: -18 %, or 100 ppm read 82 ppm
    by           who did it
    certificate  its number
    -> its entry; EntryError where a figure is not understood
    """
    body: dict[str, Any] = {"instrument": instrument, "day": day}
    for key, cells in (("found", found), ("left", left)):
        if cells:
            body[key] = {cell: {"typed": text, "share": repr(error_in(text, cell))} for cell, text in cells.items()}
    given = {"due": due, "by": by, "certificate": certificate}
    return journal.add(Draft("calibration", body | {key: value for key, value in given.items() if value}))


def shares(table: Mapping[str, Any]) -> dict[str, float]:
    """As-found or as-left shares by cell, of a calibration's table."""
    return {cell: float(one["share"]) for cell, one in table.items() if isinstance(one, Mapping) and "share" in one}


def percent(share: float) -> str:
    """A share with its sign: -18 %."""
    digits = f"{abs(share) * 100:.1f}".removesuffix(".0")
    return f"{'' if digits == '0' else '−' if share < 0.0 else '+'}{digits} %"


def words_of(table: Mapping[str, Any]) -> str:
    """Shares by cell in words."""
    said = (
        f"{names.of(f'{cell}_dry').words.split(' in ')[0]} {percent(share)}" for cell, share in shares(table).items()
    )
    return ", ".join(said)


def found_off(journal: "Journal", instrument: str, *, calibration: str = "") -> Found:
    """What the last calibration, or the one that is named, found, and since when that may have been so.

    instrument   id
    calibration  id of its entry or the end of it; the last one when empty
    -> what it found; EntryError when there is none with figures as found
    """
    from fluewright.record.views import shop
    from fluewright.record.views.catching_up import looked_at

    with looked_at(journal.store) as connection:
        rows, tries = shop.calibrations(connection, instrument), shop.checks(connection, instrument)
    bodies = [(row, body_in(row)) for row in rows]
    chosen = [(row, body) for row, body in bodies if shares(body.get("found", {})) and row["id"].endswith(calibration)]
    if not chosen:
        raise EntryError(
            code="FW-J-134",
            read="a calibration without figures as found" if rows else "no calibration of this instrument",
            expected="what each cell was found at before it was set, from the certificate",
            matters="without it nobody knows which of the visits since the last one can be believed",
            do="ask the laboratory for the figures as found and enter them with `fluewright instrument calibrate`",
        )
    row, body = chosen[-1]
    good = [each["day"] for each in rows if each["day"] < row["day"]]
    good += [each["day"] for each in tries if each["what"] == "span" and each["result"] == "good"
             and each["day"] < row["day"]]  # fmt: skip
    return Found(
        id=row["id"],
        instrument=instrument,
        day=row["day"],
        since=max(good, default=""),
        errors=shares(body["found"]),
        words=words_of(body["found"]),
    )


def body_in(row: Any) -> dict[str, Any]:
    """The fields of an entry, from its row in a view."""
    import json

    found: dict[str, Any] = json.loads(row["body"])
    return found


def history(journal: "Journal", instrument: str) -> list[Past]:
    """Everything that was entered about an instrument, oldest first: calibrations, zeros, checks, cells."""
    from fluewright.record.views import shop
    from fluewright.record.views.catching_up import looked_at

    with looked_at(journal.store) as connection:
        rows, tries = shop.calibrations(connection, instrument), shop.checks(connection, instrument)
    past = [Past(row["id"], row["day"], "calibration", _calibration_words(body_in(row))) for row in rows]
    past += [Past(row["id"], row["day"], row["what"], _check_words(body_in(row)), row["visit"]) for row in tries]
    return sorted(past, key=lambda one: (one.day, one.id))


def _calibration_words(body: Mapping[str, Any]) -> str:
    parts = [
        f"calibration: as found {words_of(body['found'])}" if body.get("found") else "calibration: as found not said"
    ]
    parts += [f"as left {words_of(body['left'])}"] if body.get("left") else []
    parts += [f"certificate {body['certificate']}"] if body.get("certificate") else []
    parts += [f"by {body['by']}"] if body.get("by") else []
    return ", ".join([*parts, *([f"holds until {body['due']}"] if body.get("due") else [])])


def _check_words(body: Mapping[str, Any]) -> str:
    if body["what"] in ("cell", "hydrogen", "span"):
        cell = str(body.get("cell", "")).replace("_", " ")
        how = f", {body['how']}" if body.get("how") else ""
        heads = {"hydrogen": "compensated for hydrogen:", "cell": f"{cell} cell", "span": f"{cell} on a known gas:"}
        return f"{heads[body['what']]} {body['result']}{how}"
    return as_checks.words_of(body)
