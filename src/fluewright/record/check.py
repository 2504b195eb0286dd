"""Whether a journal is whole: its build, or every byte of it; what is found is told as data, and nothing is mended.

A chain proves that nothing up to its last entry was changed; it cannot prove that nothing came after. That only an
anchor can, kept by somebody else: the printed sheet, another device, a backup.
"""

import itertools
from collections.abc import Callable, Iterable, Iterator, Sequence
from typing import NamedTuple

from sqlalchemy import inspect, select
from sqlalchemy.engine import Connection

from fluewright.errors import FluewrightError, RecordDamaged
from fluewright.record import tables
from fluewright.record.chain import Anchor, Break, Row, breaks, end_of
from fluewright.record.check_people import texts
from fluewright.record.checked import EACH, MOST, Checked, Tick, silent
from fluewright.record.entry import entry_from
from fluewright.record.guarded import wrong_guards
from fluewright.record.opening import ODD, beside, short_of, walked
from fluewright.record.reading import anchors_of, devices_of
from fluewright.record.salvage import ahead_wrong, is_readable, misfiled, sound_rows
from fluewright.record.shape import ID
from fluewright.record.store import FORM, Store
from fluewright.record.tables import ANCHOR, ENTRY
from fluewright.record.twins import differing


class _Whole(NamedTuple):
    """All columns of an entry's row."""

    device: str
    sequence: int
    id: str
    hash: str
    text: str
    kind: str
    subject: str


def _build(connection: Connection) -> Iterator[str]:
    """What is wrong with the build of a store, as far as it can be asked."""
    sqlite = connection.dialect.name == "sqlite"
    if sqlite:
        said = "\n".join(str(row[0]) for row in connection.exec_driver_sql("PRAGMA quick_check(20)")).splitlines()
        yield from (f"the file is not whole: {line.strip()}" for line in said if line != "ok" and "***" not in line)
    seen = inspect(connection)
    for name, table in tables.JOURNAL.tables.items():
        there = {column["name"] for column in seen.get_columns(name)} if seen.has_table(name) else set()
        if there != set(table.c.keys()):
            yield f"the table {name!r} is not there as it was made"
    yield from wrong_guards(connection)


def _witnesses(connection: Connection) -> list[Anchor]:
    """All that the store itself keeps of what others have seen."""
    return [Anchor(row.device, int(row.sequence), row.hash) for row in connection.execute(select(ANCHOR))]


def _untold(ends: Sequence[Anchor], anchors: Sequence[Anchor]) -> Iterator[str]:
    """Ends that nobody outside vouches for."""
    given: dict[str, int] = {}
    for anchor in anchors:
        given[anchor.device] = max(anchor.sequence, given.get(anchor.device, 0))
    for end in ends:
        least = given.get(end.device, 0)
        upto = f"an anchor from outside vouches up to entry {least}" if least else "no anchor from outside was given"
        yield f"cannot tell whether anything came after entry {end.sequence} of device {end.device}: {upto}"


def _guarded(found: Checked, work: Callable[[], None]) -> None:
    """Do one part of a check; that it cannot be done is a finding, not an end."""
    try:
        work()
    except FluewrightError as error:
        found.add(error.read)
    except OSError as error:
        found.add(f"{error.filename or 'a file'} cannot be read: {error.strerror}")
    except ODD as error:
        found.add(f"something in the store is not what stands there in a journal: {error}")


def structure(store: Store, anchors: Sequence[Anchor] = ()) -> Checked:
    """The build of a store, the ends of its chains, and whether it holds what others have seen of it.

    store    it is only read
    anchors  from printed sheets, receipts or backup names
    -> what was found; a store that cannot be read at all is a finding too
    """
    found = Checked()

    def build() -> None:
        ahead = ahead_wrong(store) if store.settings.is_sqlite() else ""
        if ahead:
            found.add(ahead)
        with store.reading() as connection:
            for sentence in _build(connection):
                found.add(sentence)
            if store.mark(connection, "form") != FORM:
                found.add("it does not say of itself that it is a journal of this form")

    def ends() -> None:
        with store.reading() as connection:
            found.ends = anchors_of(connection)
            found.entries = sum(end.sequence for end in found.ends)
            for each in walked(connection, found.ends):
                found.add(each.sentence())

    def witnesses() -> None:
        named = [*anchors, *beside(store)]
        with store.reading() as connection:
            for sentence in short_of(connection, [*named, *_witnesses(connection)]):
                found.add(sentence)

    for part in (build, ends, witnesses):
        _guarded(found, part)
    found.unknown += _untold(found.ends, anchors)
    return found


def _columns(row: _Whole) -> str:
    """What of the columns beside a text is not what the text says; empty when all is.

    The visit is the last field of most bodies, and then it stands right before the device; other bodies are read.
    """
    at, kind = end_of(row.text)
    if kind != row.kind:
        return "it was filed under another kind"
    if row.text.endswith(f',"visit":"{row.subject}"', 0, at) and ID.fullmatch(row.subject):
        return ""
    return "" if entry_from(row.text).subject() == row.subject else "it was filed under another visit or subject"


def _walked_wholly(connection: Connection, device: str, found: Checked, tick: Tick) -> Iterator[Row]:
    """The rows of a device, with all columns looked at on the way."""
    columns = (ENTRY.c.device, ENTRY.c.sequence, ENTRY.c.id, ENTRY.c.hash, ENTRY.c.text, ENTRY.c.kind, ENTRY.c.subject)
    asked = select(*columns).where(ENTRY.c.device == device).order_by(ENTRY.c.sequence)
    total = sum(end.sequence for end in found.ends)
    for row in connection.execute(asked, execution_options={"stream_results": True, "yield_per": EACH}):
        whole = _Whole(row[0], row[1], *map(str, row[2:]))
        yield Row(*whole[:5])
        found.entries += 1
        if found.entries % EACH == 0:
            tick("entries", found.entries, total)
        try:
            wrong = _columns(whole)
        except FluewrightError:
            wrong = ""
        if wrong:
            found.add(Break(whole.device, whole.sequence, wrong).sentence())


def _chains(store: Store, found: Checked, tick: Tick) -> None:
    """Walk every chain; where the engine cannot, read the pages and tell what is missing."""
    found.entries = 0
    if is_readable(store):
        try:
            with store.reading() as connection:
                for device in devices_of(connection):
                    for each in breaks(_walked_wholly(connection, device, found, tick), fully=False):
                        found.add(each.sentence())
            return
        except RecordDamaged as error:
            found.add(error.read)
    _without_engine(store, found)


def _without_engine(store: Store, found: Checked) -> None:
    """Read the pages, name what does not hold, and tell what is missing."""
    found.entries, skipped, last = 0, list[Break](), dict[str, Anchor]()
    named = {(each.device, each.sequence): each for each in misfiled(store)}
    for row in sound_rows(store, skipped):
        found.entries += 1
        last[row.device] = Anchor(row.device, row.sequence, row.hash)
    for each in sorted([*named.values(), *skipped], key=lambda each: (each.device, each.sequence)):
        found.add(each.sentence())
    found.ends = [last[device] for device in sorted(last)]
    found.add(f"the pages of the file are damaged; read without the engine, {found.entries} entries still hold")


def _files(store: Store, found: Checked, tick: Tick) -> None:
    from fluewright.record import files
    from fluewright.record.journal import Journal

    if not store.settings.is_sqlite() and store.settings.files is None:
        found.unknown.append("the files were not looked at: the folder of a journal on a server has to be named")
        return
    folder = store.settings.files_folder()
    for name in files.names_in(folder):
        found.files += 1
        tick("files", found.files, 0)
        if files.digest_of(files.path_of(folder, name)) != name:
            found.add(f"the file {name[:16]} is not the one that was kept: its hash differs")
    for each in files.named_in(Journal(store, "")):
        if not files.path_of(folder, each.name).exists():
            found.add(f"the file of entry {each.entry} is not there")


def every(store: Store, anchors: Iterable[Anchor] = (), tick: Tick = silent) -> Checked:
    """Every byte: build, each entry's hash, order and columns, each text about people, each file.

    store    it is only read
    anchors  from printed sheets, receipts or backup names
    tick     told how far the walk is
    -> what was found, the first bad entry of a chain before later ones; memory does not grow with the journal
    """
    given = list(anchors)
    built = structure(store, given)
    found = Checked(ends=built.ends)
    for part in (_chains, texts, _files):

        def work(part: Callable[[Store, Checked, Tick], None] = part) -> None:
            part(store, found, tick)

        _guarded(found, work)
    for sentence in built.wrong:
        found.add(sentence)
    if not found.entries or found.ends != built.ends:
        _need_reach(found, given)
    found.unknown += _untold(found.ends, given)
    _guarded(found, lambda: _twins(store, found))
    return found


def _twins(store: Store, found: Checked) -> None:
    with store.reading() as connection:
        found.unknown += itertools.islice(differing(connection), MOST)


def _need_reach(found: Checked, anchors: Sequence[Anchor]) -> None:
    """Anchors held against what could be read without the engine."""
    reached = {end.device: end.sequence for end in found.ends}
    for anchor in anchors:
        short = anchor.sequence - reached.get(anchor.device, 0)
        if short > 0:
            found.add(f"{short} entries short of the anchor: of device {anchor.device} no later one can be read")
