"""Erasing what is about a person, holding records so that they cannot be erased, and lifting a hold."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from sqlalchemy import select

from fluewright.errors import EntryError, NotAllowed
from fluewright.record.chain import Anchor
from fluewright.record.entry import Entry
from fluewright.record.erased import Forget, files_of, forgotten, held_in, obeyed, taken_away
from fluewright.record.files import removed
from fluewright.record.fold import CHANGES, current
from fluewright.record.held import holds_in_force
from fluewright.record.journal import Draft, Journal
from fluewright.record.personal import Secret, commitments_in
from fluewright.record.reach import Reach, reach
from fluewright.record.reading import Read
from fluewright.record.retention import Law, in_words, laws, standing_against
from fluewright.record.tables import ANCHOR


@dataclass(frozen=True, slots=True)
class Erased:
    """What was erased.

    entry    the erasure in the chain
    values   values that are gone
    files    files that are gone
    backups  names of backups made before, which still hold them
    """

    entry: Entry
    values: int
    files: int
    backups: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Against:
    """What stands against erasing.

    holds    holds in force
    laws     rows of law whose time is not over, by visit
    unknown  visits of which nobody said where they were: no law was looked at for them
    """

    holds: tuple[Read, ...]
    laws: tuple[tuple[Read, Law], ...]
    unknown: tuple[Read, ...]


def _day(read: Read) -> date:
    """The day of a visit; that on which it was entered when it does not say."""
    told = str(read.body.get("day", "")) or read.entry.entered[:10]
    try:
        return date.fromisoformat(told)
    except ValueError:
        return date.fromisoformat(read.entry.entered[:10])


def _holding(journal: Journal, found: Reach, today: date) -> list[Read]:
    """Holds in force on anything of which a part would be erased."""
    asked = set(found.commitments)
    holding = []
    for read in holds_in_force(journal, today):
        of = str(read.body.get("of"))
        kept = reach(journal, of).entries if journal.entry(of) is not None else ()
        if of == found.subject or any(asked.intersection(commitments_in(each.entry.body)) for each in kept):
            holding.append(read)
    return holding


def against(journal: Journal, found: Reach) -> Against:
    """What stands against erasing what a subject reaches: holds, and the law as far as it is known here."""
    today = journal.now().date()
    standing, unknown = [], []
    every = list(journal.of_kind("visit")) if found.visits else []
    sites = {each.read.entry.id: each.body for each in current(journal.of_kind("site", *CHANGES))}
    for visit in found.visits:
        site = str(visit.body.get("site", ""))
        place = str(visit.body.get("jurisdiction", "") or sites.get(site, {}).get("jurisdiction", ""))
        later = [each for each in every if site and each.body.get("site") == site and _day(each) > _day(visit)]
        if not place:
            unknown.append(visit)
        rows = standing_against(jurisdiction=place, day=_day(visit), today=today, later_visits=len(later))
        standing += [(visit, law) for law in rows]
    return Against(tuple(_holding(journal, found, today)), tuple(standing), tuple(unknown))


def _need_free(found: Against, not_under: Sequence[str]) -> None:
    """Refuse while a hold stands, or a row of law that nobody said does not apply."""
    if found.holds:
        first = found.holds[0]
        raise NotAllowed(
            code="FW-N-036",
            where=f"hold {first.entry.id}",
            read=f"an erasure of records that are held: {first.body.get('because', '')}",
            expected="records that nobody holds",
            matters="what is held may be needed as evidence, and erased it is gone for good",
            do="lift the hold when its reason is gone: `fluewright journal lift`",
        )
    names = [law.id for law in laws()]
    unknown = [name for name in not_under if name not in names]
    if unknown:
        raise EntryError(
            code="FW-J-047",
            read=f"{unknown[0]!r} as a law that does not apply",
            expected="one of " + ", ".join(names),
            matters="a law set aside under a wrong name would still stand",
            do="copy the name from the refusal",
        )
    rows = list(dict.fromkeys(law for _, law in found.laws if law.id not in not_under))
    if rows:
        raise NotAllowed(
            code="FW-N-037",
            read="an erasure of records that the law asks to be kept: " + in_words(rows),
            expected="records whose time is over, or to which the law does not apply",
            matters="erased they are gone for good; the right to be forgotten ends where the law asks for the record",
            do="wait until its time is over; where it does not apply to this record, say so: --not-under "
            + " --not-under ".join(law.id for law in rows),
        )


def _need_silent(because: str, secrets: Sequence[Secret]) -> None:
    """Refuse a reason that would keep for good what it erases."""
    if not because.strip():
        raise EntryError(
            code="FW-J-048",
            read="an erasure without a reason",
            expected="a reason, such as 'asked for by letter of 2026-11-25'",
            matters="that something is gone must be told as long as the journal lasts",
            do="say why",
        )
    said = because.lower()
    if any(len(each.value) > 3 and each.value.lower() in said for each in secrets):
        raise EntryError(
            code="FW-J-049",
            read="a reason that holds what is to be erased",
            expected="a reason without names, streets or numbers of people",
            matters="the reason stays in the chain for good",
            do="say it without the name, such as 'asked for by letter of 2026-11-25'",
        )


def backups_before(journal: Journal) -> list[str]:
    """Names of the backups that were made of this journal, as it remembers them."""
    with journal.store.reading() as connection:
        rows = connection.scalars(select(ANCHOR.c.by).where(ANCHOR.c.by.like("backup %")).order_by(ANCHOR.c.number))
        return list(dict.fromkeys(str(row).removeprefix("backup ") for row in rows))


def erased(
    journal: Journal,
    subject: str,
    *,
    because: str,
    not_under: Sequence[str] = (),
    author: str = "",
    also: Sequence[Forget] = (),
) -> Erased:
    """Erase all that is about a customer, a place, a visit or a person: values, salts, files, and what was derived.

    The entries stay, and every chain still holds. Files go first: should the power fail in between, they are missed
    loudly and the same erasure finishes the work; the other way round a photo could stay behind that nobody names.

    journal    open for writing
    subject    id
    because    the reason, without any name
    not_under  rows of law that do not apply to these records, by the word of the one who erases
    author     id of the person
    also       what else is to be made anew
    -> what went; NotAllowed while a hold or a law stands against it
    """
    found = reach(journal, subject)
    with journal.store.reading() as connection:
        secrets = held_in(connection, found.commitments)
        names = files_of(connection, secrets)
    _need_silent(because, secrets)
    _need_free(against(journal, found), not_under)
    folder = journal.store.settings.files_folder()
    gone = sum(removed(folder, name) for name in names)
    body: dict[str, object] = {"commitments": sorted(each.commitment for each in secrets), "because": because}
    body |= {"of": subject} | ({"law": "not under " + ", ".join(not_under)} if not_under else {})
    draft = Draft("erasure", body, author=author, source="program")
    with journal.store.writing() as connection:
        entry = journal.written(connection, [draft], journal.now().isoformat())[0]
        taken_away(connection, secrets)
    journal.store.reached(Anchor(entry.device, entry.sequence, entry.hash()), settle=True)
    forgotten(journal, secrets, also)
    return Erased(entry, len(secrets), gone, tuple(backups_before(journal)))


def held(journal: Journal, subject: str, *, because: str, until: date | None = None, by: str = "") -> Entry:
    """Hold records so that they cannot be erased.

    subject  id of a customer, a place, a visit, a person or another entry
    because  the reason
    until    the last day of the hold; until it is lifted when not given
    by       who asked for it
    -> the hold; EntryError when the subject is not here
    """
    reach(journal, subject)
    body: dict[str, object] = {"of": subject, "because": because}
    body |= {"until": until.isoformat()} if until is not None else {}
    return journal.add(Draft("hold", body | ({"by": by} if by else {})))


def lifted(journal: Journal, hold: str, *, because: str) -> Entry:
    """Lift a hold; what was erased elsewhere meanwhile goes here too.

    hold     id of the hold
    because  the reason
    -> the entry; EntryError when there is no such hold
    """
    found = journal.entry(hold)
    if found is None or found.entry.kind != "hold":
        raise EntryError(
            code="FW-J-050",
            read=f"{hold[:80]!r}, which is no hold of this journal",
            expected="the id of a hold",
            matters="nothing was lifted",
            do="copy the id from the refusal of the erasure",
        )
    entry = journal.add(Draft("hold lifted", {"of": hold, "because": because}))
    obeyed(journal)
    return entry
