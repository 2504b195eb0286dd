"""A sealed visit takes nothing more that would change what was signed."""

from collections.abc import Iterable

from sqlalchemy import bindparam, select
from sqlalchemy.engine import Connection

from fluewright.errors import NotAllowed
from fluewright.record.draft import Draft
from fluewright.record.kinds import AFTER_SEAL
from fluewright.record.prepared import Prepared
from fluewright.record.tables import ENTRY

_SUBJECT = select(ENTRY.c.subject).where(ENTRY.c.id == bindparam("id"))
_SEALED = Prepared(
    select(ENTRY.c.id).where(ENTRY.c.subject == bindparam("subject"), ENTRY.c.kind == "seal").limit(1), "subject"
)


def _visit_of(connection: Connection, draft: Draft) -> str:
    """The visit that a draft belongs to, by itself or by the entry that it is about; empty when to none."""
    found = draft.body.get("visit")
    if not found and draft.body.get("of"):
        found = connection.scalar(_SUBJECT, {"id": draft.body["of"]})
    return str(found or "")


def need_open(connection: Connection, drafts: Iterable[Draft]) -> None:
    """Refuse entries that would change a sealed visit.

    What another device entered before it knew of the seal comes in by exchange, and is told as such.

    connection  within the transaction that writes
    drafts      in their order
    -> nothing; NotAllowed naming the visit
    """
    sealed: dict[str, bool] = {}
    for draft in drafts:
        if draft.kind in AFTER_SEAL:
            continue
        visit = _visit_of(connection, draft)
        if visit and visit not in sealed:
            sealed[visit] = bool(_SEALED.on(connection, {"subject": visit}).fetchall())
        if sealed.get(visit):
            raise NotAllowed(
                code="FW-N-032",
                where=f"visit {visit}",
                read=f"an entry of the kind {draft.kind!r} for a visit that is sealed",
                expected="one of " + ", ".join(sorted(AFTER_SEAL)),
                matters="what was signed stays as it was signed",
                do="amend or strike out what is wrong, with the reason, or open another visit",
            )
        if draft.kind == "seal":
            sealed[visit] = True
