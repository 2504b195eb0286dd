"""fluewright visit seal: a visit closed and signed; or a seal looked at."""

import argparse
import json
from typing import TYPE_CHECKING

from fluewright.cli.journal_place import add_place, opened_from
from fluewright.cli.where import places
from fluewright.errors import printable
from fluewright.visit import kept, sealing

if TYPE_CHECKING:
    from fluewright.record.journal import Journal
    from fluewright.record.seal import Signer

ABOUT = "close a visit and sign it with this device's key; --check looks at its seals"


def add(parser: argparse.ArgumentParser) -> None:
    """The options of this question."""
    parser.add_argument("visit", help="its id, or the last digits of it")
    parser.add_argument("--name", default="", help="who signs; the technician when not said")
    parser.add_argument("--person", default="", metavar="ID", help="their entry in the journal, where the shop has one")
    parser.add_argument("--recognised", default="sat before this machine", metavar="HOW", help="how one knew")
    parser.add_argument("--meaning", default=sealing.MEANING, metavar="WORDS", help="what the signature means")
    parser.add_argument("--second", default="", metavar="ID", help="who has the ticket and will sign too")
    parser.add_argument("--counter", action="store_true", help="sign a visit that is sealed already")
    parser.add_argument("--check", action="store_true", help="sign nothing; say what holds of the seals")
    add_place(parser)


def run(args: argparse.Namespace) -> int:
    """Seal it and say by which entry; with --check exit 4 when a seal does not hold."""
    from fluewright.record.keys_ed25519 import key_of

    journal = opened_from(args).journal
    visit = kept.found(journal, args.visit)
    if args.check:
        return _checked(args, journal, visit)
    signer = _signer(args, kept.technician_of(journal, visit))
    key, books = key_of(journal.store.settings), places()["config"]
    if args.counter:
        entry = sealing.counter_sealed(journal, visit, key=key, signer=signer, meaning=args.meaning, books=books)
    else:
        entry = sealing.sealed(
            journal, visit, key=key, signer=signer, meaning=args.meaning, second=args.second, books=books
        )
    anchor = next(each for each in journal.anchors() if each.device == journal.device).printed()
    journal.store.close()
    print(json.dumps({"seal": entry.id, "anchor": anchor}) if args.json else f"{entry.id}\nanchor  {anchor}")
    return 0


def _checked(args: argparse.Namespace, journal: "Journal", visit: str) -> int:
    """What holds of the seals, and whether the entries below them give the sheet that was signed."""
    from fluewright.visit import own_books, sealed_sheet

    verdict = sealing.checked(journal, visit)
    shop = own_books.of_journal(journal, places()["config"])
    beside = sealed_sheet.compared(journal, visit, shop)
    said = [*verdict.sentences(), *sealed_sheet.sentences(journal, visit, shop)]
    books = {name: words for each in beside for name, words in (each.seal.body.get("books") or {}).items()}
    holds = verdict.holds and not any(each.contradicts for each in beside)
    said += [f"  {name}  {words}" for name, words in sorted(books.items())]
    print(json.dumps({"holds": holds, "said": said}) if args.json else printable("\n".join(said)))
    return 0 if holds or not verdict.seals else 4


def _signer(args: argparse.Namespace, technician: str) -> "Signer":
    from fluewright.record.seal import Signer

    return Signer(who=args.person, recognised=args.recognised, name=args.name or technician)
