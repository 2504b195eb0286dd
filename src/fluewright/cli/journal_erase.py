"""fluewright journal erase: takes all that is about a person out of every byte; the chains stay whole."""

import argparse
from typing import TYPE_CHECKING

from fluewright.cli.journal_place import add_place, opened_from, say

if TYPE_CHECKING:
    from fluewright.record.journal import Journal

ABOUT = "erase what is about a customer, a place, a visit or a person"


def add(parser: argparse.ArgumentParser) -> None:
    """The options of this question."""
    parser.add_argument("subject", metavar="ID", help="of the customer, the place, the visit or the person")
    parser.add_argument("--because", required=True, metavar="REASON", help="without any name; it stays for good")
    parser.add_argument(
        "--not-under", action="append", default=[], metavar="LAW",
        help="a row of record law that does not apply to these records, by your word; may be given again",
    )  # fmt: skip
    parser.add_argument(
        "--dry-run", action="store_true", help="say what would go and what stands against it; erase nothing"
    )
    add_place(parser)


def _shown(args: argparse.Namespace, journal: "Journal") -> int:
    """What would go."""
    from fluewright.record.erase import against
    from fluewright.record.reach import reach

    found = reach(journal, args.subject)
    stands = against(journal, found)
    facts: dict[str, object] = {"subject": f"{found.kind} {found.subject}", "entries": len(found.entries)}
    facts |= {"visits": len(found.visits), "texts about them": len(found.commitments)}
    rows = list(dict.fromkeys(law for _, law in stands.laws))
    lines = [f"held: {each.body.get('because', '')} (hold {each.entry.id})" for each in stands.holds]
    lines += [f"law: {law.sentence()}{' - set aside by your word' if law.id in args.not_under else ''}" for law in rows]
    if stands.unknown:
        lines.append(f"{len(stands.unknown)} visits do not say where they were: no law was looked at for them")
    say(args, facts | ({"against": lines} if args.json else {}), *(lines or ["nothing stands against it"]))
    return 0


def run(args: argparse.Namespace) -> int:
    """Erase and say what went, and which backups still hold it."""
    from fluewright.record.erase import erased

    journal = opened_from(args).journal
    if args.dry_run:
        return _shown(args, journal)
    gone = erased(journal, args.subject, because=args.because, not_under=args.not_under)
    facts: dict[str, object] = {"erased": gone.values, "files": gone.files, "entry": gone.entry.id}
    more = ["the entries stay, without what was erased, and every chain still holds"]
    if gone.backups:
        more.append("made before and still holding it, until you destroy them (exports and printed sheets too):")
        more += [f"  {name}" for name in gone.backups]
    say(args, facts | ({"backups": list(gone.backups)} if args.json else {}), *more)
    return 0
