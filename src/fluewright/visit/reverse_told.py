"""What came of looking back from a calibration: in sentences, and in entries that refer to the visits in doubt."""

from typing import TYPE_CHECKING

from fluewright.record.draft import Draft
from fluewright.record.fold import Current
from fluewright.visit import kept
from fluewright.visit.reverse import Flip, Traced
from fluewright.visit.shelf import percent

if TYPE_CHECKING:
    from fluewright.record.entry import Entry
    from fluewright.record.journal import Journal


def sentences(traced: Traced) -> tuple[str, ...]:
    """What was looked at and what came of it."""
    found = traced.found
    since = (
        f"since the last good check on {found.since}" if found.since else "since the first (no good check before it)"
    )
    count = len(traced.flips)
    what = "no verdict would change" if not count else f"{count} verdict{'' if count == 1 else 's'} would change"
    signed = sum(one.sealed for one in traced.flips)
    lines = [
        f"Calibration of {found.day}, as found: {found.words}.",
        f"{traced.visits} visit{'' if traced.visits == 1 else 's'} {since}: {what}"
        + (f", {signed} of them in sealed visits, which stay as they are." if signed else "."),
        "When the error came nobody knows: each visit was judged without it and with all of it.",
    ]
    return (*lines, *((f"{len(traced.unread)} could not be judged.",) if traced.unread else ()))


def from_when(flip: Flip, traced: Traced) -> str:
    """How much of the error is enough to change a verdict."""
    enough = ", ".join(percent(share * flip.share) for share in traced.found.errors.values())
    return f"so as soon as the cell was off by {enough}"


def _because(flip: Flip, traced: Traced) -> str:
    worst = flip.changes[0]
    now = worst.after or "its answer falls away"
    return f"calibration of {traced.found.day} found {traced.found.words}; with all of it: {now}"


def _opened(journal: "Journal", visit: str) -> Current:
    return next(each for each in kept.entries_of(journal, visit) if each.read.entry.id == visit)


def referred(journal: "Journal", traced: Traced, *, revisit: str = "") -> "tuple[Entry, ...]":
    """Entries that say, in each visit in doubt, that a calibration refers to it.

    Each is an amendment that names the calibration and its reason. It takes nothing back: what was read, judged and
    signed stands as it stood. A visit that was referred to before by the same calibration is left alone.

    revisit  day by which somebody is to go there again; no such entry when empty
    -> the entries, none kept twice
    """
    drafts = []
    for flip in traced.flips:
        opened = _opened(journal, flip.visit)
        already = list(opened.body.get("referred", ()))
        if traced.found.id in already:
            continue
        fields = {"referred": [*already, traced.found.id]}
        body = {"visit": flip.visit, "of": flip.visit, "fields": fields, "because": _because(flip, traced)}
        knows = [change.read.entry.id for change in opened.history if "referred" in change.after]
        drafts.append(Draft("amendment", body | ({"knows": knows} if knows else {}), source="program"))
        if revisit:
            drafts.append(_again(flip, opened, traced, revisit))
    return tuple(journal.add_all(drafts)) if drafts else ()


def _again(flip: Flip, opened: Current, traced: Traced, day: str) -> Draft:
    """A visit that is due because of it."""
    appliances = opened.body.get("appliances", ())
    about = {key: opened.body[key] for key in ("site", "customer") if key in opened.body}
    about |= {"appliance": appliances[0]} if len(appliances) == 1 else {}
    words = f"read again: verdict of {flip.day} in doubt, {traced.found.words} as found"
    return Draft("due", {"what": words, "due": day, "instrument": traced.found.instrument, "from": flip.visit, **about})
