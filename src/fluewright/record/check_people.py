"""Texts about people: each is the one that was committed to, none is gone without an erasure or back after one."""

import re
from collections.abc import Iterable, Iterator, Sequence

from sqlalchemy import func, select
from sqlalchemy.engine import Connection

from fluewright.record.chain import Break
from fluewright.record.checked import EACH, Checked, Tick
from fluewright.record.erased import UNFINISHED
from fluewright.record.keeper import erased_in
from fluewright.record.personal import KEY, Secret
from fluewright.record.reading import AT_ONCE
from fluewright.record.store import Store
from fluewright.record.tables import ENTRY, SECRET

_COMMITMENT = re.compile(r'\{"' + KEY + r'":"([0-9a-f]{64})"\}')
"""As it stands in the text of an entry; within a word of a body each quotation mark has a stroke before it."""

Place = tuple[str, int, str]
"""Device and number of an entry, and a commitment in it."""


def texts(store: Store, found: Checked, tick: Tick) -> None:
    """Look at every text about people, and for every one that there should be."""
    _each_holds(store, found, tick)
    with store.reading() as connection:
        own, gone = store.mark(connection, "device"), erased_in(connection)
        missing = 0
        for device, sequence, name in _absent(connection):
            if name in gone:
                continue
            if device != own:
                missing += 1
            else:
                found.add(
                    Break(device, sequence, "a text about a person in it is gone, and no erasure says so").sentence()
                )
        back = sum(len(_here(connection, some)) for some in _some(sorted(gone)))
        unfinished = store.mark(connection, UNFINISHED)
    if missing:
        found.unknown.append(f"cannot tell why {missing} texts about people, in entries from other devices, are "
                             "not here: they came without them, or were taken away; no erasure names them")  # fmt: skip
    if back:
        found.unknown.append(f"cannot tell why {back} texts about people are here that an erasure names: a hold keeps "
                             "them, or they were put back; the next exchange or erasing takes them away")  # fmt: skip
    if unfinished:
        found.unknown.append("cannot tell whether no byte is left of what was erased last: erasing broke off; the next "
                             "exchange or erasing ends it")  # fmt: skip


def _each_holds(store: Store, found: Checked, tick: Tick) -> None:
    with store.reading() as connection:
        total = int(connection.scalar(select(func.count()).select_from(SECRET)) or 0)
        for row in connection.execute(select(SECRET), execution_options={"stream_results": True, "yield_per": EACH}):
            found.secrets += 1
            if found.secrets % EACH == 0:
                tick("texts about people", found.secrets, total)
            if not Secret(row.commitment, row.salt, row.value).holds():
                found.add(f"the text about a person behind {row.commitment[:16]} is not the one that was committed to")


def _some(names: Iterable[str]) -> Iterator[list[str]]:
    given = list(names)
    yield from (given[at : at + AT_ONCE] for at in range(0, len(given), AT_ONCE))


def _here(connection: Connection, names: Sequence[str]) -> set[str]:
    return set(connection.scalars(select(SECRET.c.commitment).where(SECRET.c.commitment.in_(names))))


def _absent(connection: Connection) -> Iterator[Place]:
    """Commitments in entries whose texts are not here."""
    asked = select(ENTRY.c.device, ENTRY.c.sequence, ENTRY.c.text).where(ENTRY.c.text.contains(f'"{KEY}"'))
    asked = asked.order_by(ENTRY.c.device, ENTRY.c.sequence)
    rows = connection.execute(asked, execution_options={"stream_results": True, "yield_per": EACH})
    for part in rows.partitions(EACH):
        places = [(row.device, int(row.sequence), name) for row in part for name in _COMMITMENT.findall(str(row.text))]
        here = {name for some in _some(name for _, _, name in places) for name in _here(connection, some)}
        yield from (each for each in places if each[2] not in here)
