"""fluewright visit show: the sheet of a kept visit, or its entries one by one."""

import argparse
import json
from typing import TYPE_CHECKING, Any

from fluewright.cli.books import add_house, by_shop
from fluewright.cli.flue import ask
from fluewright.cli.journal_place import add_place, opened_from
from fluewright.cli.report import add_printings, printed
from fluewright.errors import printable
from fluewright.record.fold import Current
from fluewright.visit import kept, sealed_sheet, work

if TYPE_CHECKING:
    from fluewright.record.conflict import Conflict

ABOUT = "the sheet of a visit, or its entries one by one"


def add(parser: argparse.ArgumentParser) -> None:
    """The options of this question."""
    parser.add_argument("visit", help="its id, or the last digits of it")
    parser.add_argument("--entries", action="store_true", help="every entry, struck-out and amended ones too")
    add_printings(parser)
    add_house(parser)
    add_place(parser)


def _said(body: Any) -> str:
    """A body in one line, without ids."""
    if isinstance(body, dict):
        if "typed" in body and isinstance(body["typed"], str):
            return str(body["typed"])
        hidden = ("visit", "stretch", "under", "understood", "condition", "of", "knows")
        return ", ".join(f"{key} {_said(value)}" for key, value in body.items() if key not in hidden)
    return ", ".join(map(_said, body)) if isinstance(body, list) else str(body)


def _line(found: Current) -> str:
    """One entry as a line: number, when, what; below it what became of it."""
    entry = found.read.entry
    lines = [f"{entry.id}  {entry.entered[:16].replace('T', ' ')}  {entry.kind}: {_said(dict(found.body))}"]
    for change in found.history:
        why = change.read.body.get("because", "")
        lines.append(f"    amended, was {_said(dict(change.before))}: {why}")
    lines += [f"    struck out: {strike.body.get('because', '')}" for strike in found.struck]
    lines += [f"    {sentence}" for one in _conflicts(found) for sentence in one.sentences()]
    return printable("\n".join(lines))


def _conflicts(found: Current) -> "list[Conflict]":
    """Amendments made on two devices apart, none of which is chosen."""
    from fluewright.record.conflict import conflicts_of

    return conflicts_of(found) if found.counts else []


def _as_data(found: Current) -> dict[str, Any]:
    entry = found.read.entry
    return {
        "id": entry.id,
        "kind": entry.kind,
        "device": entry.device,
        "sequence": entry.sequence,
        "entered": entry.entered,
        "observed": entry.observed,
        "author": entry.author,
        "source": entry.source,
        "body": dict(found.body),
        "struck_out": [strike.body.get("because", "") for strike in found.struck],
        "edited_apart": [sentence for one in _conflicts(found) for sentence in one.sentences()],
        "amended": [{"was": dict(c.before), "because": c.read.body.get("because", "")} for c in found.history],
    }


def run(args: argparse.Namespace) -> int:
    """Print it; exit 1 when something must be mended."""
    journal = opened_from(args).journal
    visit = kept.found(journal, args.visit)
    if args.entries:
        entries = kept.entries_of(journal, visit)
        if args.json:
            print(json.dumps([_as_data(each) for each in entries], ensure_ascii=False, indent=2))
        else:
            print("\n".join(_line(each) for each in entries))
        return 0
    verdict = work.judged(sealed_sheet.told_in(journal, visit, by_shop(args, kept.account_of(journal, visit), journal)))
    ask(verdict.account)
    return printed(args, verdict)
