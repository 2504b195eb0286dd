"""Whether the seals of a visit hold, what came after them, and what is missing below them."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from sqlalchemy import select

from fluewright.record.canonical import digest
from fluewright.record.chain import Row
from fluewright.record.entry import NOTHING_BEFORE, Entry, entry_from
from fluewright.record.journal import Journal
from fluewright.record.keys import doubt, known_keys, verifiers
from fluewright.record.kinds import AFTER_SEAL
from fluewright.record.seal import content_of, rows_of_visit, to_sign
from fluewright.record.tables import ENTRY

SEALS = ("seal", "counter-seal")


@dataclass(frozen=True, slots=True)
class Checked:
    """One seal and whether it holds.

    entry    the seal
    covered  ids of the entries below it that are here
    wrong    what does not hold, in sentences; none when all does
    """

    entry: Entry
    covered: tuple[str, ...]
    wrong: tuple[str, ...]

    @property
    def holds(self) -> bool:
        """Whether nothing speaks against it."""
        return not self.wrong


@dataclass(frozen=True, slots=True)
class Later:
    """An entry of a sealed visit that no seal covers.

    entry  the entry
    why    how it comes to stand there
    """

    entry: Entry
    why: str


@dataclass(frozen=True, slots=True)
class Verdict:
    """The seals of a visit.

    visit    id
    seals    each with what speaks against it, by device and number
    later    entries that none of them covers
    """

    visit: str
    seals: tuple[Checked, ...]
    later: tuple[Later, ...]

    @property
    def holds(self) -> bool:
        """Whether the visit is sealed and every seal holds."""
        return bool(self.seals) and all(each.holds for each in self.seals)

    def sentences(self) -> list[str]:
        """The verdict in words."""
        if not self.seals:
            return ["the visit is not sealed"]
        said = []
        for each in self.seals:
            body = each.entry.body
            head = f"{each.entry.kind} of {body.get('when', each.entry.entered)} ({body.get('meaning', '')})"
            said.append(f"{head}: holds over {len(each.covered)} entries" if each.holds else f"{head}: does not hold")
            said += [f"  {why}" for why in each.wrong]
        first = [each for each in self.seals if each.entry.kind == "seal"]
        if len(first) > 1:
            said.append(f"it was sealed {len(first)} times, on devices that did not know of each other")
        return said + [f"entry {each.entry.id} ({each.entry.kind}): {each.why}" for each in self.later]


def _below(rows: Sequence[Row], seal: Entry) -> list[Row]:
    """The rows that a seal covers."""
    covers = seal.body.get("covers")
    known: Mapping[str, object] = covers if isinstance(covers, Mapping) else {}
    own = (seal.device, seal.sequence)
    return [row for row in rows if _at(row) != own and row.sequence <= _whole(known.get(row.device))]


def _whole(number: object) -> int:
    return number if isinstance(number, int) else 0


def _at(kept: Row | Entry) -> tuple[str, int]:
    return kept.device, kept.sequence


def _wrong_content(below: Sequence[Row], seal: Entry) -> list[str]:
    """What is wrong with the entries below a seal."""
    if content_of(below, seal.body, device=seal.device, author=seal.author) == seal.body.get("content"):
        return []
    signed = _whole(seal.body.get("entries"))
    changed = [f"entry {row.id} is not the one that was kept" for row in below if digest(row.text) != row.hash]
    if len(below) < signed:
        return [f"{signed - len(below)} of the {signed} entries that it covers are not here", *changed]
    if len(below) > signed:
        return [f"{len(below) - signed} entries stand below it that were not signed", *changed]
    return changed or ["an entry below it, or what the seal itself says, is not what was signed"]


def _wrong_signature(journal: Journal, seal: Entry, keys: Mapping[str, set[str]]) -> list[str]:
    """What is wrong with the signature itself."""
    body = seal.body
    key, algorithm = str(body.get("key", "")), str(body.get("algorithm", ""))
    holds = verifiers().get(algorithm)
    if holds is None:
        return [f"signed by {algorithm or 'a way that is not told'}, which this version cannot check"]
    if not holds(key, to_sign(str(body.get("content", ""))), str(body.get("signature", ""))):
        return ["the signature is not of this key over this content"]
    owners = keys.get(key, set())
    if not owners:
        return ["its key is of no device or person that this journal knows"]
    if not owners & {seal.device, str(body.get("who", ""))}:
        return ["its key belongs to another device or person"]
    late = doubt(journal, key, seal)
    return [late] if late else []


def _wrong_place(journal: Journal, seal: Entry) -> list[str]:
    """Whether a seal stands between the entries of its device that it was kept between."""
    asked = select(ENTRY.c.sequence, ENTRY.c.text).where(
        ENTRY.c.device == seal.device, ENTRY.c.sequence.in_((seal.sequence - 1, seal.sequence + 1))
    )
    with journal.store.reading() as connection:
        texts = {int(row.sequence): str(row.text) for row in connection.execute(asked)}
    before, after = texts.get(seal.sequence - 1), texts.get(seal.sequence + 1)
    first = seal.sequence == 1 and seal.previous == NOTHING_BEFORE
    follows = first or (before is not None and digest(before) == seal.previous)
    followed = after is None or entry_from(after).previous == seal.hash()
    return [] if follows and followed else ["it does not stand where it was kept in the chain of its device"]


def _checked(journal: Journal, rows: Sequence[Row], row: Row, keys: Mapping[str, set[str]]) -> Checked:
    seal = entry_from(row.text, where=f"entry {row.id}")
    below = _below(rows, seal)
    wrong = _wrong_content(below, seal) + _wrong_signature(journal, seal, keys) + _wrong_place(journal, seal)
    if digest(row.text) != row.hash:
        wrong.append("the seal itself is not the one that was kept")
    return Checked(seal, tuple(each.id for each in below), tuple(wrong))


def _later(entry: Entry) -> Later:
    if entry.kind in AFTER_SEAL:
        return Later(entry, "added after the seal, which stays as it was signed")
    return Later(entry, "came after the seal, from a device that did not know of it; nobody has signed for it")


def verified(journal: Journal, visit: str) -> Verdict:
    """What holds of the seals of a visit, what came after them, and what is missing.

    visit  id
    -> verdict; RecordDamaged when an entry of the visit cannot be read at all
    """
    with journal.store.reading() as connection:
        rows = rows_of_visit(connection, visit)
    keys = known_keys(journal)
    entries = {_at(row): entry_from(row.text, where=f"entry {row.id}") for row in rows}
    seals = tuple(_checked(journal, rows, row, keys) for row in rows if entries[_at(row)].kind in SEALS)
    covered = {_at(row) for seal in seals for row in _below(rows, seal.entry)} | {_at(seal.entry) for seal in seals}
    later = tuple(_later(entries[_at(row)]) for row in rows if seals and _at(row) not in covered)
    return Verdict(visit, seals, later)
