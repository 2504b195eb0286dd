"""What of a journal exists on this machine only, and when it was last copied: told by the witnesses of its chain."""

from dataclasses import dataclass
from datetime import date

from sqlalchemy import func, select

from fluewright.record.entry import entry_from
from fluewright.record.journal import Journal
from fluewright.record.reading import last_of
from fluewright.record.tables import ANCHOR, ENTRY

OLD = 7
"""Days after which what is only here is urgent (common practice, no source)."""

COPY = "backup "


@dataclass(frozen=True, slots=True)
class Alone:
    """What would be lost with this machine.

    entries  how many
    since    when the oldest of them was entered; empty when there are none
    copied   when a copy was last made; empty for never
    """

    entries: int
    since: str
    copied: str

    def is_old(self, day: date) -> bool:
        """Whether the oldest has waited for long."""
        return bool(self.since) and (day - date.fromisoformat(self.since[:10])).days >= OLD


def of(journal: Journal) -> Alone:
    """What of this device's own entries nobody else has said to hold.

    A copy counts when it was made, whatever became of it: nobody here can see whether the stick still exists.

    journal  open
    -> count, the oldest, and the last copy
    """
    with journal.store.reading() as connection:
        held = select(func.max(ANCHOR.c.sequence)).where(ANCHOR.c.device == journal.device)
        far = int(connection.scalar(held) or 0)
        last = last_of(connection, journal.device)
        copied = connection.scalar(select(func.max(ANCHOR.c.at)).where(ANCHOR.c.by.like(f"{COPY}%")))
        oldest = connection.scalar(
            select(ENTRY.c.text).where(ENTRY.c.device == journal.device, ENTRY.c.sequence == far + 1)
        )
    count = max((last.sequence if last is not None else 0) - far, 0)
    since = entry_from(oldest, where=f"entry {far + 1}").entered if oldest and count else ""
    return Alone(count, since, str(copied or ""))


def copies(journal: Journal, most: int = 8) -> list[tuple[str, str]]:
    """The last copies that were made, newest first: when, and the name of each."""
    asked = select(ANCHOR.c.at, ANCHOR.c.by).where(ANCHOR.c.by.like(f"{COPY}%")).distinct().order_by(ANCHOR.c.at.desc())
    with journal.store.reading() as connection:
        return [(str(row.at), str(row.by).removeprefix(COPY)) for row in connection.execute(asked.limit(most))]
