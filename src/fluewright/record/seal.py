"""Seals: a visit closed with a signature over all of its entries, and whether that still holds.

What is signed is the ordered list of id and hash of every entry of the visit that was known at that moment, from all
devices, together with the seal's own fields: who, how recognised, when, with what meaning, which report, rule books
and engine. So no entry below can be changed, taken out or put in, and no seal can be moved to another visit.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

from sqlalchemy import select
from sqlalchemy.engine import Connection

from fluewright.errors import EntryError, NotAllowed
from fluewright.record.canonical import canonical, digest
from fluewright.record.chain import Anchor, Row
from fluewright.record.entry import Entry, entry_from
from fluewright.record.journal import Draft, Journal
from fluewright.record.keys import Key, need_in_force, verifiers
from fluewright.record.personal import KEY, Secret, hidden
from fluewright.record.tables import ENTRY

FORM = "fluewright seal 1"
"""The first line of what is signed."""

SIGNED_LAST = ("content", "signature")
"""Fields of a seal that its own signature cannot cover."""

AT_ONCE = 500


@dataclass(frozen=True, slots=True)
class Signer:
    """Who seals.

    who         id of the person
    name        as it is printed; kept so that it can be erased
    recognised  how the program knew that it was this person
    stroke      the drawn signature, where there is one
    tickets     ids of the licences it was sealed under
    """

    who: str
    recognised: str
    name: str = ""
    stroke: str = ""
    tickets: Sequence[str] = ()


@dataclass(frozen=True, slots=True)
class Judged:
    """What the visit was judged with.

    report  SHA-256 of the printed report
    books   rule books with their versions
    engine  version of the program
    """

    report: str = ""
    books: Mapping[str, str] = field(default_factory=dict)
    engine: str = ""


@dataclass(frozen=True, slots=True)
class Prepared:
    """A seal that waits for its signature.

    kind     seal or counter-seal
    body     its fields, without content and signature
    content  the hash of all that is signed for
    """

    kind: str
    body: Mapping[str, Any]
    content: str

    @property
    def to_sign(self) -> bytes:
        """The bytes that the key must sign."""
        return to_sign(self.content)


def to_sign(content: str) -> bytes:
    """What a key signs: the form and the hash of the content, so that it cannot pass for anything else."""
    return f"{FORM}\n{content}\n".encode("ascii")


def rows_of_visit(connection: Connection, visit: str) -> list[Row]:
    """Every entry of a visit, and every entry about one of those, ordered by device and number."""
    columns = (ENTRY.c.device, ENTRY.c.sequence, ENTRY.c.id, ENTRY.c.hash, ENTRY.c.text)
    found: dict[tuple[str, int], Row] = {}
    asked_for, new = {visit}, [visit]
    while new:
        asked, new = new, []
        for start in range(0, len(asked), AT_ONCE):
            part = asked[start : start + AT_ONCE]
            for row in connection.execute(select(*columns).where(ENTRY.c.subject.in_(part))):
                found[row.device, int(row.sequence)] = Row(row.device, int(row.sequence), row.id, row.hash, row.text)
                if row.id not in asked_for:
                    asked_for.add(row.id)
                    new.append(row.id)
    return sorted(found.values(), key=lambda row: (row.device, row.sequence))


def content_of(rows: Sequence[Row], body: Mapping[str, Any], *, device: str, author: str) -> str:
    """The hash of what a seal signs.

    rows    the entries below it, by device and number
    body    its own fields as they are kept, those about people as commitments
    device  id of the device that keeps the seal
    author  id of the person, or the device
    """
    own = {name: value for name, value in body.items() if name not in SIGNED_LAST}
    entries = [[row.id, digest(row.text)] for row in rows]
    return digest(canonical({"form": FORM, "entries": entries, "seal": own, "device": device, "author": author}))


def covers(rows: Sequence[Row]) -> dict[str, int]:
    """For each device the number of its last entry in a visit: this names exactly what a seal covers."""
    return {row.device: row.sequence for row in rows}


def stands(journal: Journal, visit: str) -> dict[str, int]:
    """How far a visit reaches now, so that a seal is refused when it grew while it was judged."""
    with journal.store.reading() as connection:
        return covers(rows_of_visit(connection, visit))


def _grew(visit: str) -> EntryError:
    return EntryError(
        code="FW-J-036",
        where=f"visit {visit}",
        read="the visit got another entry while it was being signed",
        expected="the visit as it was shown to the one who signs",
        matters="nobody signs for what they have not seen",
        do="look at it again, then seal it",
    )


def _as_kept(body: Mapping[str, Any]) -> dict[str, Any]:
    return {name: {KEY: value.commitment} if isinstance(value, Secret) else value for name, value in body.items()}


def _need_meaning(meaning: str) -> None:
    if not meaning.strip():
        raise EntryError(
            code="FW-J-033",
            read="a seal that does not say what it means",
            expected="a few words, such as 'tested and left in this state'",
            matters="a signature without its meaning can be read as anything",
            do="say what is signed for",
        )


def _kind_of_seal(rows: Sequence[Row], visit: str, of: str) -> str:
    """Which of the two a new seal is; refused where it cannot be either."""
    if not rows:
        raise EntryError(
            code="FW-J-034",
            where=f"visit {visit}",
            read="a seal for a visit that is not here",
            expected="the id of a visit of this journal",
            matters="a signature over nothing says nothing",
            do="see `fluewright visit list`",
        )
    seals = {row.id for row in rows if entry_from(row.text, where=f"entry {row.id}").kind == "seal"}
    if not of and not seals:
        return "seal"
    if of in seals:
        return "counter-seal"
    raise NotAllowed(
        code="FW-N-033",
        where=f"visit {visit}",
        read="a second seal" if not of else "a counter-seal on what is no seal of this visit",
        expected="one seal, and any number of counter-seals, each with its own meaning",
        matters="two seals over one visit would leave open which of them counts",
        do="counter-seal it, saying what the second signature means",
    )


def prepared(
    journal: Journal,
    visit: str,
    *,
    key: str,
    algorithm: str,
    signer: Signer,
    meaning: str,
    judged: Judged,
    of: str = "",
) -> Prepared:
    """A seal over a visit as it is known now, up to the signature, for keys that answer later.

    visit      id
    key        public half of the key that will sign
    algorithm  its word
    signer     who
    meaning    what the signature means
    judged     report, rule books, engine
    of         id of the seal that is signed a second time
    -> what must be signed; NotAllowed for a second seal, or a key that counts no more
    """
    _need_meaning(meaning)
    need_in_force(journal, key)
    with journal.store.reading() as connection:
        rows = rows_of_visit(connection, visit)
    kind = _kind_of_seal(rows, visit, of)
    private = {name: hidden(getattr(signer, name)) for name in ("name", "stroke") if getattr(signer, name)}
    body: dict[str, Any] = {
        "visit": visit,
        "key": key,
        "algorithm": algorithm,
        "meaning": meaning,
        "recognised": signer.recognised,
        "entries": len(rows),
        "covers": covers(rows),
        "when": journal.now().isoformat(),
        **private,
    }
    told = {"of": of, "who": signer.who, "tickets": list(signer.tickets), "report": judged.report,
            "books": dict(judged.books), "engine": judged.engine}  # fmt: skip
    body |= {name: value for name, value in told.items() if value}
    content = content_of(rows, _as_kept(body), device=journal.device, author=signer.who or journal.device)
    return Prepared(kind, body, content)


def kept(journal: Journal, waiting: Prepared, signature: str) -> Entry:
    """Keep a seal with its signature, if the visit is still as it was when it was prepared.

    -> the entry; EntryError when the visit changed meanwhile, or the signature is not of this key over this content
    """
    holds = verifiers().get(waiting.body["algorithm"])
    if holds is None or not holds(waiting.body["key"], waiting.to_sign, signature):
        raise EntryError(
            code="FW-J-035",
            read="a signature that is not of this key over this visit",
            expected=f"{', '.join(verifiers())} over the bytes that were handed out",
            matters="a seal that does not hold from the start would count against an honest visit",
            do="sign what was handed out with the key that was named",
        )
    body = {**waiting.body, "content": waiting.content, "signature": signature}
    author = str(body.get("who", "")) or journal.device
    draft = Draft(waiting.kind, body, author=author, source="program")
    with journal.store.writing() as connection:
        rows = rows_of_visit(connection, str(body["visit"]))
        if content_of(rows, _as_kept(body), device=journal.device, author=author) != waiting.content:
            raise _grew(str(body["visit"]))
        entry = journal.written(connection, [draft], journal.now().isoformat())[0]
    journal.store.reached(Anchor(entry.device, entry.sequence, entry.hash()), settle=True)
    return entry


def sealed(
    journal: Journal,
    visit: str,
    *,
    key: Key,
    signer: Signer,
    meaning: str,
    judged: Judged,
    of: str = "",
    seen: Mapping[str, int] | None = None,
) -> Entry:
    """Seal a visit, or counter-seal it, with a key that answers at once.

    visit    id
    key      signs
    signer   who, and how recognised
    meaning  what the signature means
    judged   report, rule books, engine
    of       id of the seal, for a counter-seal
    seen     what `stands` said before it was judged; None where nothing was
    -> the entry; NotAllowed for a second seal or a revoked key, EntryError when it grew since
    """
    waiting = prepared(
        journal, visit, key=key.public, algorithm=key.algorithm, signer=signer, meaning=meaning, judged=judged, of=of
    )
    if seen is not None and dict(seen) != waiting.body["covers"]:
        raise _grew(visit)
    return kept(journal, waiting, key.sign(waiting.to_sign))
