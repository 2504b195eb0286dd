"""A device of the random histories on a real store, SQLite or PostgreSQL."""

from collections.abc import Sequence

from fluewright.record.erased import obeyed
from fluewright.record.journal import Draft, Journal
from fluewright.record.keeper import lines_of, rows_after
from fluewright.record.merge import Taken
from fluewright.record.opening import made
from fluewright.record.parcel import Ends, lines_in
from fluewright.record.settings import Settings
from fluewright.record.sync import ends_of, message, taken_from
from fluewright.record.tables import SECRET


def whole_of(journal: Journal) -> bytes:
    """All of a journal in one byte form: what is sent to one that has nothing, by device and number."""
    with journal.store.reading() as connection:
        after = {end.device: 0 for end in ends_of(journal).ends}
        rows = rows_after(connection, after, 10**6)
        return b"".join(lines_of(connection, sorted(rows, key=lambda row: (row[2], row[3]))))


class OnStore:
    """A device whose store is real."""

    def __init__(self, settings: Settings) -> None:
        self.journal: Journal = made(settings, device_name="invented")
        self.name = self.journal.device

    def write(self, draft: Draft) -> str:
        """Keep an entry; an erasure takes the values away as well."""
        entry = self.journal.add(draft)
        if draft.kind == "erasure":
            obeyed(self.journal)
        return entry.id

    def ends(self) -> Ends:
        return ends_of(self.journal)

    def message(self, theirs: Ends) -> list[bytes]:
        return lines_in(message(self.journal, theirs)[0])[1:]

    def take(self, lines: Sequence[bytes]) -> Taken:
        return taken_from(self.journal, lines)

    def whole(self) -> bytes:
        return whole_of(self.journal)

    def commitments(self) -> list[str]:
        with self.journal.store.reading() as connection:
            return [row.commitment for row in connection.execute(SECRET.select())]
