"""What belongs to a customer, a place, a visit or a person: every entry that may hold something about them."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from fluewright.errors import EntryError
from fluewright.record.fold import CHANGES, Current, current
from fluewright.record.journal import Journal
from fluewright.record.personal import commitments_in
from fluewright.record.reading import Read

SHOP = ("customer", "site", "space", "appliance", "flue group", "vent", "due", "visit", "ticket", "person", "settings")
"""Kinds that name what they belong to."""

LEADS_TO: Mapping[str, tuple[str, ...]] = {
    "site": ("customer",),
    "space": ("site",),
    "appliance": ("site", "space"),
    "flue group": ("site",),
    "vent": ("group", "appliance"),
    "due": ("customer", "site", "appliance"),
    "ticket": ("person",),
    "settings": ("person",),
}
"""By kind, the fields that say what an entry belongs to."""

OF_THE_SHOP = frozenset(
    (
        ("visit", "technician_name"),
        ("seal", "name"),
        ("seal", "stroke"),
        ("counter-seal", "name"),
        ("counter-seal", "stroke"),
        ("hold", "by"),
    )
)
"""Fields of a visit that are about whoever worked there, not about the customer."""

BY_WHOM = {"visit": "technician", "seal": "who", "counter-seal": "who"}
"""By kind, the field that says who worked there."""


@dataclass(frozen=True, slots=True)
class Reach:
    """What an erasure reaches.

    subject      id of the customer, site, visit, person or other entry
    kind         its kind
    entries      every entry that belongs to it
    visits       visits of which something is reached
    commitments  those that are about it
    """

    subject: str
    kind: str
    entries: tuple[Read, ...]
    visits: tuple[Read, ...]
    commitments: tuple[str, ...]


def closure(journal: Journal, roots: Iterable[str]) -> dict[str, Read]:
    """Entries of some subjects, and all that is about one of those, by id."""
    found: dict[str, Read] = {}
    waiting = list(dict.fromkeys(roots))
    while waiting:
        name = waiting.pop()
        own = journal.entry(name)
        for read in [*([own] if own is not None else []), *journal.of_subject(name)]:
            if read.entry.id not in found:
                found[read.entry.id] = read
                if read.entry.id != name:
                    waiting.append(read.entry.id)
    return found


def _belongs(stood: Current, names: set[str], subject: str) -> bool:
    """Whether an entry of the shop, as it stands now, belongs to one of these.

    A visit is its customer's; it goes with the place where nobody says whose it is, or where the place itself is meant.
    """
    kind = stood.read.entry.kind
    if kind == "visit":
        customer, site = str(stood.body.get("customer", "")), str(stood.body.get("site", ""))
        return customer in names or site == subject or (not customer and site in names)
    return any(str(stood.body.get(field, "")) in names for field in LEADS_TO.get(kind, ()))


def _below(journal: Journal, subject: str) -> set[str]:
    """Ids of the entries of the shop that belong to a subject, at any depth."""
    stood = current(journal.of_kind(*SHOP, *CHANGES))
    names, before = {subject}, 0
    while len(names) > before:
        before = len(names)
        names |= {each.read.entry.id for each in stood if _belongs(each, names, subject)}
    return names


def _told(read: Read, entries: Mapping[str, Read], fields: frozenset[tuple[str, str]], *, inside: bool) -> list[str]:
    """Commitments of an entry in certain fields, or in all but these."""
    kind, body = read.entry.kind, dict(read.entry.body)
    found: list[str] = []
    if kind == "amendment":
        target = entries.get(str(body.get("of", "")))
        amended = body.pop("fields", {})
        if target is not None and isinstance(amended, Mapping):
            pairs = [((target.entry.kind, name), value) for name, value in amended.items()]
            found += [each for pair, value in pairs if (pair in fields) == inside for each in commitments_in(value)]
        else:
            found += [] if inside else commitments_in(amended)
    pairs = [((kind, name), value) for name, value in body.items()]
    return found + [each for pair, value in pairs if (pair in fields) == inside for each in commitments_in(value)]


def _at_work(journal: Journal, person: str) -> tuple[list[Read], list[str]]:
    """Visits at which someone of the shop worked or signed, and the commitments there that are about them."""
    visits: dict[str, Read] = {}
    told: list[str] = []
    for read in list(journal.of_kind(*BY_WHOM)):
        if read.entry.body.get(BY_WHOM[read.entry.kind]) != person:
            continue
        visit = journal.entry(read.entry.subject())
        if visit is not None:
            visits[visit.entry.id] = visit
        changes = {each.entry.id: each for each in journal.of_subject(read.entry.subject()) if _amends(each, read)}
        beside = {read.entry.id: read, **changes}
        every = journal.all_under(list(beside))
        told += [each for one in every for each in _told(one, beside, OF_THE_SHOP, inside=True)]
    return list(visits.values()), told


def _amends(change: Read, read: Read) -> bool:
    return change.entry.kind == "amendment" and change.entry.body.get("of") == read.entry.id


def reach(journal: Journal, subject: str) -> Reach:
    """Everything that an erasure of a subject reaches.

    Of a customer: their places, as those stand today, the visits, and all in them, except who worked there. Of a
    person of the shop: what is about them, and their name wherever they worked or signed. Of any other entry: that
    entry and all that belongs to it.

    subject  id
    -> entries and commitments; EntryError when it is not here
    """
    root = journal.entry(subject)
    if root is None:
        raise EntryError(
            code="FW-J-046",
            read=f"{subject[:80]!r}, which is not here",
            expected="the id of a customer, a place, a visit, a person or another entry",
            matters="nothing was erased",
            do="find the id by searching for the name",
        )
    entries = closure(journal, _below(journal, subject))
    if root.entry.kind == "person":
        visits, told = _at_work(journal, subject)
        told += [each for read in journal.all_under(list(entries)) for each in commitments_in(read.entry.body)]
    else:
        visits = [read for read in entries.values() if read.entry.kind == "visit"]
        every = journal.all_under(list(entries))  # under one id two devices may each keep a text of their own
        told = [each for read in every for each in _told(read, entries, OF_THE_SHOP, inside=False)]
    return Reach(subject, root.entry.kind, tuple(entries.values()), tuple(visits), tuple(dict.fromkeys(told)))
