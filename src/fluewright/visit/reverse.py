"""A calibration that found a cell off: every visit since the last good check whose verdict would then be another one.

Nobody knows when the error came, only that it was not there at the last good check and was there in full when the
instrument came back. So each visit is judged with no error, as it was, and with all of it; where the two differ, the
verdict is no longer known. Nothing is changed by this: it is a list, and what is kept of it are entries that refer.
"""

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import product
from typing import TYPE_CHECKING, Any

from fluewright.errors import FluewrightError, PhysicsRefused
from fluewright.evidence.corrected import Change, Errors, changes, corrected
from fluewright.evidence.finding import Judged
from fluewright.evidence.reading import Account
from fluewright.rules.shop import PROGRAM, Shop
from fluewright.visit import kept, work
from fluewright.visit.could_flip import Sieve

if TYPE_CHECKING:
    from fluewright.record.journal import Journal

HALVINGS = 5
"""How often the share of the error at which a verdict first changes is narrowed down."""


@dataclass(frozen=True, slots=True)
class Found:
    """What a calibration found.

    id          of its entry
    instrument  id
    day         when it was done
    since       day of the last good check before it, empty when there was none
    errors      by cell
    words       as a person says it: carbon monoxide -18 %
    """

    id: str
    instrument: str
    day: str
    since: str
    errors: Errors
    words: str


@dataclass(frozen=True, slots=True)
class Flip:
    """One visit whose verdict would change.

    visit    id
    day, title, site, state   of it; state: open, sealed, sealed with amendments
    changes  limits answered otherwise with the full error, the worst first
    share    least share of the error, 0..1, at which one of them is
    """

    visit: str
    day: str
    title: str
    site: str
    state: str
    changes: tuple[Change, ...]
    share: float

    @property
    def sealed(self) -> bool:
        """Whether somebody signed it."""
        return self.state.startswith("sealed")


@dataclass(frozen=True, slots=True)
class Traced:
    """The outcome.

    found    the calibration
    visits   how many visits the instrument read in between
    opened   how many of these were judged again
    flips    the worst first
    unread   visits that could not be judged, by id, with the reason
    """

    found: Found
    visits: int
    opened: int
    flips: tuple[Flip, ...]
    unread: Mapping[str, str]


def _judged(account: Account) -> Judged | None:
    """The judgement, None where the readings cannot be worked out at all."""
    try:
        return work.judged(account).judged
    except PhysicsRefused:
        return None


def _changed(account: Account, errors: Errors, before: Judged | None) -> tuple[Change, ...]:
    """What is answered otherwise with some errors; physics that refuses on one side only counts as a change."""
    after = _judged(corrected(account, errors))
    if before is None and after is None:
        return ()
    if before is None or after is None:
        words = "these readings cannot be worked out"
        said = ("", words) if after is None else (words, "")
        return (Change(*said, limit="", grade="open", was="", code="not-worked-out", word=""),)
    return changes(before, after)


def _corners(errors: Errors) -> Iterator[Errors]:
    """Each cell with its full error or none, but for none at all: cells do not age together."""
    for chosen in product((True, False), repeat=len(errors)):
        taken = {cell: share for (cell, share), there in zip(errors.items(), chosen, strict=True) if there}
        if taken:
            yield taken


def flips_of(account: Account, errors: Errors) -> tuple[tuple[Change, ...], float]:
    """What of one visit would change, and from which share of the error on.

    account  the visit as it was read
    errors   in full
    -> changes, none when nothing does; and the share
    """
    before = _judged(account)
    found: dict[tuple[str, str], Change] = {}
    worst: Errors = {}
    for corner in _corners(errors):
        these = _changed(account, corner, before)
        worst = worst or (corner if these else {})
        for one in these:
            held = found.get((one.word, one.code))
            if held is None or one.weight < held.weight:
                found[one.word, one.code] = one
    if not found:
        return (), 0.0
    low, high = 0.0, 1.0
    for _ in range(HALVINGS):
        middle = (low + high) / 2.0
        part = {cell: share * middle for cell, share in worst.items()}
        low, high = (low, middle) if _changed(account, part, before) else (middle, high)
    return tuple(sorted(found.values(), key=lambda one: one.weight)), high


def traced(
    journal: "Journal",
    found: Found,
    *,
    shop: Shop = PROGRAM,
    tick: Callable[[int, int], None] | None = None,
) -> Traced:
    """Every visit between the last good check and a calibration whose verdict would change.

    journal  where the visits are kept; nothing in it is touched
    found    what the calibration found
    shop     by whose rules it is judged
    tick     told now and then how many visits of how many were judged
    -> the list
    """
    from fluewright.record.views import shown
    from fluewright.record.views.catching_up import looked_at

    with looked_at(journal.store) as connection:
        rows = shown.between(connection, found.instrument, found.since, found.day)
    every = {row.visit for row in rows}
    suspects = Sieve(shop, found.errors).through(rows)
    about = _about(journal, suspects)
    flips, unread = [], {}
    for number, visit in enumerate(suspects):
        if tick is not None and number % 50 == 0:
            tick(number, len(suspects))
        try:
            changed, share = flips_of(_account(journal, visit, shop), found.errors)
        except FluewrightError as error:
            unread[visit] = error.sentence()
            continue
        if changed and visit in about:
            flips.append(Flip(changes=changed, share=share, visit=visit, **about[visit]))
    flips.sort(key=lambda one: (one.changes[0].weight, -len(one.changes), one.day))
    return Traced(found, len(every), len(suspects), tuple(flips), unread)


def _account(journal: "Journal", visit: str, shop: Shop) -> Account:
    from dataclasses import replace

    return replace(kept.account_of(journal, visit), shop=shop)


def _about(journal: "Journal", visits: Sequence[str]) -> dict[str, dict[str, Any]]:
    """Day, title, site and state of visits that were not struck out."""
    from fluewright.record.views import visits as view
    from fluewright.record.views.catching_up import looked_at

    with looked_at(journal.store) as connection:
        rows = view.of_ids(connection, visits)
    return {
        row["id"]: {"day": row["day"], "title": row["title"], "site": row["site_words"], "state": row["state"]}
        for row in rows
        if row["state"] != view.STRUCK
    }
