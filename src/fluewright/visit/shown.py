"""The sheet of a kept visit as it stands at any moment, also before anything can be judged, open dangers first."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING, Any

from fluewright.errors import FluewrightError, Problems
from fluewright.evidence.reading import EMERGENCY, SUPPLIER, Account
from fluewright.record.fold import Current
from fluewright.report.tree import Line, Section, Sheet, Span, Stop
from fluewright.visit import hand_over, kept, own_books, said, sealed_sheet, work

if TYPE_CHECKING:
    from fluewright.record.journal import Journal

NOT_LINES = frozenset(("visit", "customer", "site", "appliance", "instrument", "notice", "notice closed", "stretch"))
"""Kinds that are no line of a sheet that only says what was kept."""

SETTING = frozenset(("instrument", "appliance", "fuel", "place"))
"""Tables that say what the visit is about."""

NOTHING_YET = (
    "Nothing was measured yet, so nothing is known of this appliance: an absent reading says nothing about safety."
)


@dataclass(frozen=True, slots=True)
class Seen:
    """A visit as it stands, worked out once for all that a page says of it.

    entries  of the visit
    sheet    the judged sheet; before there is anything to judge a sheet of what was kept, which says why
    account  None where the entries do not hold together, or nothing was measured yet
    verdict  None while nothing can be judged
    """

    entries: Sequence[Current]
    sheet: Sheet
    account: Account | None = None
    verdict: work.Verdict | None = None


def seen(journal: "Journal", visit: str, *, books: Path | None = None) -> Seen:
    """All that can be said of a visit of the journal now, judged by the books of its shop; `books` is its folder."""
    entries = kept.entries_of(journal, visit)
    account: Account | None = None
    try:
        account = replace(kept.account_of(journal, visit), shop=own_books.of_journal(journal, books))
        account = sealed_sheet.told_in(journal, visit, account)
        verdict = work.judged(account)
        return Seen(entries, hand_over.sheet_of(verdict), account, verdict)
    except Problems as error:
        sheet = _unjudged(entries, visit, [each for each in error.errors if each.code != kept.NOTHING_YET])
    except FluewrightError as error:
        sheet = _unjudged(entries, visit, [error])
    return Seen(entries, sheet, account)


def sheet_of(journal: "Journal", visit: str, *, books: Path | None = None) -> Sheet:
    """The sheet of a visit of the journal, judged by the books of its shop.

    books  folder where its house book lies; None where it can have none
    -> the judged sheet; before there is a reading of the flame, or when something keeps it from being judged, a sheet
       of what was kept, which says why
    """
    return seen(journal, visit, books=books).sheet


def _unjudged(entries: Sequence[Current], visit: str, problems: Sequence[FluewrightError]) -> Sheet:
    """What was kept of a visit, without a verdict."""
    from fluewright.report.pen import day_words
    from fluewright.report.sheet import DISCLAIMER, INVENTED

    body = next((each.body for each in entries if each.read.entry.id == visit), {})
    day = str(body.get("day", ""))
    words = " ".join([NOTHING_YET if not problems else "This cannot be judged as it stands.", *map(_told, problems)])
    about = " · ".join(filter(None, (str(body.get("route", "")), day_words(date.fromisoformat(day)) if day else "")))
    return Sheet(
        title=str(body.get("title", "")),
        lede=(Span(_about(entries)),),
        running_left=str(body.get("site_words", "")),
        running_right=about,
        disclaimer=DISCLAIMER + (INVENTED if body.get("invented") is True else ""),
        stops=_open(entries, body),
        sections=_sections(entries),
        findings=(),
        cannot_tell=(),
        done=(),
        next=(),
        figures=(),
        workings=(),
        closing=(f"Kept as visit {visit}.", *kept.seal_words(entries)),
        date=day,
        unjudged=words,
    )


def _open(entries: Sequence[Current], body: Mapping[str, Any]) -> tuple[Stop, ...]:
    """Open notices as stop sentences, with whom the visit says to call."""
    from fluewright.report.notices import Place, notice_stop

    place = Place(
        str(body.get("emergency", EMERGENCY)),
        str(body.get("supplier", SUPPLIER)),
        str(body.get("jurisdiction", "")),
        date.fromisoformat(str(body["day"])) if body.get("day") else None,
    )
    return tuple(notice_stop(one, place) for one in kept.open_notices(entries))


def _told(error: FluewrightError) -> str:
    where = f"{error.where}: " if error.where else ""
    return f"{where}{error.read}. Expected: {error.expected}. {error.do[:1].upper()}{error.do[1:]}."


def _about(entries: Sequence[Current]) -> str:
    """Appliance, fuel and instrument in one sentence each, as they were given at the door."""
    found = []
    for each in entries:
        if each.counts and each.read.entry.kind == "line" and each.body["table"] in SETTING:
            typed = {key: str(value) for key, value in each.body["typed"].items()}
            name = typed.pop("words", "") or typed.pop("name", "")
            more = ", ".join(f"{key.replace('_', ' ')} {value}" for key, value in typed.items())
            text = f"{name}, {more}" if name and more else name or more
            found.append(f"{text[:1].upper()}{text[1:]}.")
    return " ".join(found)


def _sections(entries: Sequence[Current]) -> tuple[Section, ...]:
    lines: list[Line] = []
    for each in entries:
        kind, body = each.read.entry.kind, each.body
        if not each.counts or kind in NOT_LINES or "of" in body or kind in ("seal", "counter-seal"):
            continue
        if kind == "line" and body["table"] in SETTING:
            continue
        time = str(body.get("time", "")) or each.read.entry.entered[11:16]
        lines.append(Line(len(lines) + 1, "measured", time, (Span(said.words(kind, body), "hand"),)))
    return (Section(1, "Kept so far", tuple(lines)),) if lines else ()
