"""fluewright journal check: whether the records are whole; exit 4 when they are not."""

import argparse
import json
from typing import TYPE_CHECKING

from fluewright.cli.journal_place import add_place, settings_from
from fluewright.cli.progress import Progress

if TYPE_CHECKING:
    from fluewright.record.checked import Checked

ABOUT = "see whether the records are whole"
DAMAGED = 4


def add(parser: argparse.ArgumentParser) -> None:
    """The options of this question."""
    add_place(parser)
    parser.add_argument("--all", action="store_true", help="every byte of every entry and file, not the build alone")
    parser.add_argument(
        "--anchor", action="append", default=[], metavar="TEXT",
        help="device, number and hash as they stand on a printed sheet; may be given again",
    )  # fmt: skip


def run(args: argparse.Namespace) -> int:
    """Check and say what was found."""
    from fluewright.record.chain import anchor_from
    from fluewright.record.check import every, structure
    from fluewright.record.opening import need_there
    from fluewright.record.store import Store

    anchors = [anchor_from(text) for text in args.anchor]
    settings = settings_from(args)
    store = Store(settings)
    need_there(store)
    if args.all:
        progress = Progress(plain=args.plain)
        found = every(store, anchors, lambda what, done, total: progress.watch(what)(done, total))
        progress.done()
    else:
        found = structure(store, anchors)
    print(json.dumps(_data(found, store.where, args.all), indent=2) if args.json else _text(found, store.where, args))
    return 0 if found.holds() else DAMAGED


def _data(found: "Checked", where: str, wholly: bool) -> dict[str, object]:
    return {
        "journal": where,
        "every_byte": wholly,
        "holds": found.holds(),
        "ends": [{"device": end.device, "sequence": end.sequence, "hash": end.hash} for end in found.ends],
        "entries": found.entries,
        "secrets": found.secrets,
        "files": found.files,
        "found": found.found,
        "wrong": found.wrong,
        "unknown": found.unknown,
    }


def _text(found: "Checked", where: str, args: argparse.Namespace) -> str:
    lines = [f"journal  {where}"]
    lines += [f"device   {end.device}, last entry {end.sequence:,}" for end in found.ends]
    if args.all:
        lines.append(
            f"looked at every byte: entries {found.entries:,}, texts about people {found.secrets:,}, "
            f"files {found.files:,}"
        )
    else:
        lines.append("looked at the build and at the ends of the chains; --all looks at every byte")
    if found.holds():
        lines.append("whole: nothing was found that does not hold")
    else:
        lines.append(f"NOT WHOLE: {found.found:,} {'thing does' if found.found == 1 else 'things do'} not hold")
        lines += [f"  {sentence}" for sentence in found.wrong]
        if found.found > len(found.wrong):
            lines.append(f"  and {found.found - len(found.wrong):,} more")
        lines.append("nothing was changed; the sound entries can still be read and exported")
    return "\n".join([*lines, *found.unknown])
