"""Exchange between two journals, as bytes to bytes: whatever carries them, a wire, a stick or a test.

A message is lines of JSON: first what the sender has, then entries that the other lacks. It may be cut at any byte,
come twice or out of order: whole lines are taken, the others come again, since each exchange begins with what is there.
"""

from collections import Counter
from collections.abc import Callable, Collection, Sequence
from dataclasses import dataclass, field, replace

from sqlalchemy.engine import Connection

from fluewright.errors import EntryError
from fluewright.record.erased import obeyed
from fluewright.record.files import path_of
from fluewright.record.files_sync import lacks_of, pieces_for, pieces_taken
from fluewright.record.journal import Journal
from fluewright.record.keeper import StoreKeeper, forks_with, lines_of, rows_after, witnessed
from fluewright.record.merge import Taken, lacking, taken_in
from fluewright.record.parcel import Ends, lines_in
from fluewright.record.practice import need_real
from fluewright.record.reading import anchors_of

MOST = 4 << 20
"""Bytes of entries in one message; one more line may go beyond."""

AT_ONCE = 8000
"""Entries in one message, and taken in by one transaction, at most."""

Send = Callable[[bytes], bytes]
"""Carries a message to the other journal and brings its answer."""


@dataclass(slots=True)
class Met:
    """What an exchange came to.

    taken   what came in
    sent    entries that went out
    pieces  pieces of files that went out
    rounds  messages each way
    theirs  what the other has at the end
    """

    taken: Taken = field(default_factory=Taken)
    sent: int = 0
    pieces: int = 0
    rounds: int = 0
    theirs: Ends | None = None


def ends_of(journal: Journal) -> Ends:
    """What a journal has, and which files it lacks."""
    lacks = lacks_of(journal)
    with journal.store.reading() as connection:
        return Ends(journal.device, tuple(anchors_of(connection)), lacks)


def _lines(connection: Connection, ours: Ends, theirs: Ends | None, most: int) -> list[bytes]:
    """Lines that the other lacks, as many as go into a message.

    Of a device whose histories part only the next entry goes, which cannot be taken: it shows the other the fork.
    """
    if theirs is None:
        return []
    after = lacking(ours.ends, theirs)
    forked = [fork.device for fork in forks_with(connection, theirs) if fork.device in after]
    rows = [row for device in forked for row in rows_after(connection, {device: after.pop(device)}, 1)]
    rows += rows_after(connection, after, AT_ONCE)
    found, size = list[bytes](), 0
    for line in lines_of(connection, rows):
        found.append(line)
        size += len(line)
        if size >= most:
            break
    return found


def message(
    journal: Journal, theirs: Ends | None, *, most: int = MOST, without: Collection[str] = ()
) -> tuple[bytes, int, int]:
    """What a journal says to another.

    theirs  what the other has; None when it has not said so yet, then only what is here is told
    most    bytes of entries, and as many of files
    without names of files that are neither asked for nor sent
    -> the message, and how many entries and pieces of files are in it
    """
    said, lines, pieces = _said(journal, theirs, most, without)
    return said, lines, len(pieces)


def _said(
    journal: Journal, theirs: Ends | None, most: int, without: Collection[str]
) -> tuple[bytes, int, dict[str, int]]:
    """A message, how many entries are in it, and how many pieces of which files."""
    ours = ends_of(journal)
    ours = replace(ours, lacks=tuple(each for each in ours.lacks if each[0] not in without))
    with journal.store.reading() as connection:
        lines = _lines(connection, ours, theirs, most)
    lacks = [each for each in theirs.lacks if each[0] not in without] if theirs else []
    pieces = list(pieces_for(journal, lacks, most))
    return (
        b"".join([ours.line(), *lines, *(each.line() for each in pieces)]),
        len(lines),
        Counter(p.hash for p in pieces),
    )


def taken_from(journal: Journal, lines: Sequence[bytes]) -> Taken:
    """Take in the lines of a message; what is counted as new is on the disk when this returns.

    -> what became of them; also what the sender has, kept as a witness as far as both have it
    """
    found = Taken()
    for start in range(0, len(lines), AT_ONCE):
        with journal.store.writing() as connection:
            part = taken_in(StoreKeeper(connection), lines[start : start + AT_ONCE], own=journal.device)
            theirs = part.ends or found.ends
            if theirs is not None and start + AT_ONCE >= len(lines):
                part.forks += forks_with(connection, theirs)
                witnessed(connection, theirs, journal.now().isoformat())
        found.add(part)
    if found.demanded:
        obey(journal, found)
    if found.pieces:
        found.bytes, found.files, found.others = pieces_taken(journal, found.pieces)
        found.pieces = []
        for name in found.others:
            found.drop(f"the file {name[:16]} is another there than the one that was kept")
    return found


def obey(journal: Journal, found: Taken) -> None:
    """Take away what an erasure that came in demands; a reader in the way is told and does not end the exchange."""
    try:
        found.gone += obeyed(journal)
    except EntryError as error:
        found.why.append(error.read)


def answered(journal: Journal, request: bytes, *, most: int = MOST) -> bytes:
    """The answer of a journal to a message: what it has afterwards, and what the other lacks.

    request  a message; one that says nothing of use is answered by what is here
    most     bytes of entries in the answer
    -> message
    """
    need_real(journal)
    taken = taken_from(journal, lines_in(request))
    return message(journal, taken.ends, most=most)[0]


def _not_an_answer() -> EntryError:
    return EntryError(
        code="FW-J-062",
        read="an answer that does not say what the other journal has",
        expected="the answer of a journal of this program",
        matters="nothing can be said about what the other lacks",
        do="see that the address is the one of a shop's journal, then run it again; what came in before is kept",
    )


def synced(journal: Journal, send: Send, *, most: int = MOST) -> Met:
    """Exchange with another journal until neither lacks anything that can be had.

    send  carries a message there and brings the answer; whatever it raises ends the exchange, and all that was taken
          before is kept
    most  bytes of entries in one message
    -> what it came to; EntryError when the other does not speak this language
    """
    need_real(journal)
    met, spoilt = Met(), set[str]()
    while True:
        request, count, pieces = _said(journal, met.theirs, most, spoilt)
        taken = taken_from(journal, lines_in(send(request)))
        if taken.ends is None:
            raise _not_an_answer()
        before, met.theirs = met.theirs, taken.ends
        stuck = taken.others | _not_grown(pieces, before, taken.ends)
        spoilt |= stuck
        met.taken.add(taken)
        met.sent += count
        met.rounds += 1
        met.pieces += sum(pieces.values())
        came = taken.new or taken.bytes
        if not came and ((before == met.theirs and not stuck) or not _more(journal, met.theirs, spoilt)):
            obey(journal, met.taken)  # what an exchange that broke off took in and did not come to
            return met


def _not_grown(sent: Collection[str], before: Ends | None, now: Ends) -> set[str]:
    """Files of which pieces went out and of which the other has no more than before: to it they are another file."""
    had, has = dict(before.lacks) if before is not None else {}, dict(now.lacks)
    return {name for name in sent if name in has and has[name] <= had.get(name, 0)}


def _more(journal: Journal, theirs: Ends, spoilt: Collection[str]) -> bool:
    """Whether there is anything that the other lacks and would take."""
    folder = journal.store.settings.files_folder() if theirs.lacks else None
    if folder is not None and any(name not in spoilt and path_of(folder, name).exists() for name, _ in theirs.lacks):
        return True
    with journal.store.reading() as connection:
        after = lacking(anchors_of(connection), theirs)
        return bool(set(after) - {fork.device for fork in forks_with(connection, theirs)})
