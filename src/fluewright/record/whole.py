"""Every byte of a store looked at: all chains, all values about people, all files, all anchors."""

from collections.abc import Iterable, Sequence

from sqlalchemy import select

from fluewright.record.chain import Anchor, breaks
from fluewright.record.files import wrong_in
from fluewright.record.journal import Journal
from fluewright.record.opening import short_of
from fluewright.record.personal import Secret
from fluewright.record.reading import devices_of, rows_of
from fluewright.record.store import Store
from fluewright.record.tables import SECRET


def wrong_values(store: Store) -> list[str]:
    """Values about people that are not those that were committed to, in sentences."""
    with store.reading() as connection:
        rows = connection.execution_options(yield_per=1000).execute(select(SECRET))
        return [
            f"the value behind {row.commitment[:16]}... is not the one that was committed to"
            for row in rows
            if not Secret(row.commitment, row.salt, row.value).holds()
        ]


def wrong_chains(store: Store) -> list[str]:
    """Where the chains do not hold, in sentences."""
    found = []
    with store.reading() as connection:
        for device in devices_of(connection):
            found += [each.sentence() for each in breaks(rows_of(connection, device))]
    return found


def not_whole(journal: Journal, anchors: Sequence[Anchor] | Iterable[Anchor] = ()) -> list[str]:
    """What does not hold anywhere in a journal and beside it.

    journal  open
    anchors  ends that others have seen
    -> sentences; none when all is whole
    """
    found = wrong_chains(journal.store) + wrong_values(journal.store)
    with journal.store.reading() as connection:
        found += short_of(connection, list(anchors))
    return found + wrong_in(journal)
