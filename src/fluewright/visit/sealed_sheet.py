"""What the seals of a visit say of its sheet: by which books it was judged, and whether it says the same today.

The sheet of a seal is worked out again from the entries below it alone. What was amended, struck out or closed later
stands on the sheet of today and not on the one that was signed, so the sheet says that.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from importlib.metadata import version
from typing import TYPE_CHECKING, Any

from fluewright.errors import FluewrightError
from fluewright.evidence.books import books_of
from fluewright.evidence.reading import Account
from fluewright.record.canonical import canonical, digest
from fluewright.record.fold import Current, current, in_order
from fluewright.record.seal_check import SEALS
from fluewright.rules.shop import Shop
from fluewright.visit import kept, work
from fluewright.words import ENGLISH, speaking

if TYPE_CHECKING:
    from fluewright.record.entry import Entry
    from fluewright.record.journal import Journal
    from fluewright.record.seal import Judged

CHANGES = ("amendment", "struck out", "notice closed")
"""Kinds after a seal by which the sheet of today says something else than the one that was signed."""


@dataclass(frozen=True, slots=True)
class Compared:
    """One seal beside the sheet that its entries give today.

    seal       the entry
    same       whether that sheet is, letter for letter, the one that was signed
    otherwise  by what it is judged otherwise: books, the program; none where all is as it was
    """

    seal: "Entry"
    same: bool
    otherwise: tuple[str, ...]

    @property
    def contradicts(self) -> bool:
        """Whether nothing explains that the sheet is another one."""
        return not self.same and not self.otherwise and bool(self.seal.body.get("report"))

    def sentence(self) -> str:
        """The same in words."""
        body = self.seal.body
        name = f"Sheet under the {self.seal.kind}: {_short(str(body.get('report', '')))}"
        if not body.get("report"):
            return f"The {self.seal.kind} names no sheet: it signs the entries alone."
        if self.same:
            return f"{name}; judged again, its entries say the same."
        if self.otherwise:
            return f"{name}. This is not that sheet: it is judged by {', '.join(self.otherwise)}, other than then."
        return (
            f"{name}. This is not that sheet, and nothing explains why: do not rely on it before somebody has looked."
        )


def judged_from(account: Account) -> "Judged":
    """What is sealed besides the entries: the sheet in plain words with every working, the rule books, the engine.

    account  with the rules of its shop
    """
    from fluewright.record.seal import Judged
    from fluewright.report.text import text

    bare = replace(account, kept=())
    with speaking(ENGLISH):  # a seal holds whatever language the door speaks
        sheet = text(work.judged(bare).sheet(), plain=True, workings=True)
    return Judged(report=digest(sheet), books=books_of(bare), engine=version("fluewright"))


def _short(report: str) -> str:
    return f"sha256:{report[:16]}"


def _below(journal: "Journal", visit: str, seal: "Entry") -> tuple[Current, ...]:
    """The entries of a visit that a seal covers, as they stood then."""
    covers = seal.body.get("covers")
    known: Mapping[str, Any] = covers if isinstance(covers, Mapping) else {}
    reads = [each for each in journal.of_subject(visit) if each.entry.id != seal.id]
    return current(in_order([each for each in reads if each.entry.sequence <= int(known.get(each.entry.device, 0))]))


def _otherwise(then: Mapping[str, Any], judged: "Judged") -> tuple[str, ...]:
    books: Mapping[str, str] = then.get("books") or {}
    names = {*books, *judged.books}
    other = tuple(f"the book {name}" for name in sorted(names) if books.get(name) != judged.books.get(name))
    return other + (() if then.get("engine") == judged.engine else (f"version {judged.engine} of the program",))


def compared(journal: "Journal", visit: str, shop: Shop) -> tuple[Compared, ...]:
    """Every seal of a visit beside the sheet that the entries below it give today.

    shop  the rules of the shop as they are now
    -> in the order of the journal; none for a visit that is not sealed
    """
    seals = [each.read.entry for each in kept.entries_of(journal, visit) if each.read.entry.kind in SEALS]
    return tuple(_compared(journal, visit, seal, shop) for seal in seals)


def _compared(journal: "Journal", visit: str, seal: "Entry", shop: Shop) -> Compared:
    try:
        account = kept.account_from(journal, visit, _below(journal, visit, seal))
        judged = judged_from(replace(account, shop=shop))
    except FluewrightError as error:
        return Compared(seal, same=False, otherwise=(f"a program that cannot judge it ({error.code})",))
    return Compared(seal, judged.report == seal.body.get("report"), _otherwise(seal.body, judged))


def _changed(entries: Sequence[Current], seals: Sequence["Entry"]) -> list[str]:
    """How a sealed visit was changed after its last seal, in a sentence."""
    covers = [seal.body.get("covers") for seal in seals]
    last: dict[str, int] = {}
    for each in (one for one in covers if isinstance(one, Mapping)):
        last |= {device: max(last.get(device, 0), int(number)) for device, number in each.items()}
    reads = [each.read.entry for each in entries]
    reads += [one.entry for each in entries for one in (*each.struck, *(change.read for change in each.history))]
    late = {one.id: one.kind for one in reads if one.kind in CHANGES and one.sequence > last.get(one.device, 0)}
    if not late:
        return []
    count = f"{len(late)} {'change' if len(late) == 1 else 'changes'}"
    return [f"After the seal: {count} ({', '.join(sorted(set(late.values())))}). What stands here is not all signed."]


def sentences(journal: "Journal", visit: str, shop: Shop) -> tuple[str, ...]:
    """What a sheet of today has to say of the seals of its visit; none where it is not sealed.

    shop  the rules it is judged by
    """
    found = compared(journal, visit, shop)
    if not found:
        return ()
    said = [each.sentence() for each in found]
    said += _changed(kept.entries_of(journal, visit), [each.seal for each in found])
    books: Mapping[str, str] = found[-1].seal.body.get("books") or {}
    if books:
        own = [f"{name} {books[name]}" for name in sorted(books) if name in shop.stamps or "/" not in name]
        said.append(f"Judged under the seal by {len(books)} books, {_short(digest(canonical(dict(books))))} together"
                    + (f"; of the shop: {', '.join(own)}." if own else "; none of the shop's own."))  # fmt: skip
    return tuple(said)


def told_in(journal: "Journal", visit: str, account: Account) -> Account:
    """An account whose sheet says how it stands to the seals of its visit."""
    return replace(account, kept=(*account.kept, *sentences(journal, visit, account.shop)))
