"""A journal of a newer version of the program: it is read as far as it is understood, and never written to."""

import re

from sqlalchemy import func, select
from sqlalchemy.engine import Connection

from fluewright.record.kinds import KINDS
from fluewright.record.tables import ENTRY

FORM = re.compile(r"fluewright journal (\d{1,6})")
"""What a store says of itself."""


def is_newer(form: str, own: str) -> bool:
    """Whether a store says that it is of a later form than the program's own."""
    theirs, ours = FORM.fullmatch(form), FORM.fullmatch(own)
    return theirs is not None and ours is not None and int(theirs[1]) > int(ours[1])


def unknown_kinds(connection: Connection) -> dict[str, int]:
    """Kinds of entries that this version does not know, with how many of each there are."""
    asked = select(ENTRY.c.kind, func.count()).where(ENTRY.c.kind.not_in(list(KINDS))).group_by(ENTRY.c.kind)
    return {str(kind): int(count) for kind, count in connection.execute(asked.order_by(ENTRY.c.kind))}


def sentence(connection: Connection, form: str) -> str:
    """What a newer journal is and what of it is not understood."""
    kinds = unknown_kinds(connection)
    several = ", ".join(f"{count} of {kind!r}" for kind, count in kinds.items())
    unread = f"{sum(kinds.values())} entries of kinds that this one does not know: {several}" if kinds else (
        "it knows all kinds of entries in it"
    )  # fmt: skip
    return f"it was written by a newer version of this program ({form}); {unread}"
