"""fluewright journal sync: exchanges entries and files with a shop, or through a folder on a stick."""

import argparse
import json
from pathlib import Path
from typing import TYPE_CHECKING, Any

from fluewright.cli.journal_place import add_place, opened_from, settings_from

if TYPE_CHECKING:
    from fluewright.record.journal import Journal
    from fluewright.record.merge import Taken

ABOUT = "exchange entries and files with a shop, or through a folder on a stick"


def add(parser: argparse.ArgumentParser) -> None:
    """The options of this question."""
    parser.add_argument(
        "where", metavar="FOLDER|ADDRESS", help="a folder on a stick, or http://127.0.0.1:PORT, or https://NAME"
    )
    add_place(parser)
    parser.add_argument("--code", metavar="CODE", help="be let in first, by the code that the shop shows")


def run(args: argparse.Namespace) -> int:
    """Exchange, and say what moved; 4 when the histories of a device part."""
    from fluewright.record.opening import to_be_completed

    journal = to_be_completed(opened_from(args))
    try:
        taken, moved = _by_wire(args, journal) if "://" in args.where else _by_folder(args, journal)
    finally:
        journal.store.close()
    if args.json:
        print(json.dumps(moved | _data(taken)))
    else:
        print("\n".join(_lines(taken, moved)))
    return 4 if taken.forks else 0


def _by_folder(args: argparse.Namespace, journal: "Journal") -> tuple["Taken", dict[str, int]]:
    from fluewright.record.stick import carried

    found = carried(journal, Path(args.where))
    return found.taken, {"came": found.taken.new, "went": found.written, "files": found.files}


def _by_wire(args: argparse.Namespace, journal: "Journal") -> tuple["Taken", dict[str, int]]:
    from fluewright.record.doors import Doors
    from fluewright.record.keys_ed25519 import key_of
    from fluewright.record.sync import synced
    from fluewright.record.wire import Wire

    settings = settings_from(args)
    doors = Doors(settings)
    try:
        wire = Wire(args.where, journal, doors, key_of(settings))
        if args.code:
            wire.pair(args.code)
        met = synced(journal, wire.send)
    finally:
        doors.close()
    return met.taken, {"came": met.taken.new, "went": met.sent, "files": met.taken.files}


def _data(taken: "Taken") -> dict[str, Any]:
    return {
        "unknown": taken.unknown,
        "own": taken.own,
        "erased": taken.gone,
        "early": taken.early,
        "spoilt": taken.spoilt,
        "why": taken.why,
        "forks": [fork.sentence() for fork in taken.forks],
        "strangers": sorted(taken.strangers),
    }


def _lines(taken: "Taken", moved: dict[str, int]) -> list[str]:
    entries = "1 entry" if moved["came"] == 1 else f"{moved['came']} entries"
    lines = [f"{entries} came in, {moved['went']} went out, {moved['files']} files moved"]
    told = {
        f"{taken.unknown} of them were written by a newer version; they are kept and not yet read": taken.unknown,
        f"{taken.own} of them this device had written and lost; it has them back": taken.own,
        f"{taken.gone} texts about people were erased, as another device had": taken.gone,
        f"{taken.early} entries wait for those before them, which nobody has brought yet": taken.early,
        f"{taken.spoilt} lines did not hold and were left: {'; '.join(taken.why)}": taken.spoilt,
    }
    lines += [line for line, count in told.items() if count]
    lines += [f"device {each} does not introduce itself; nothing of it was taken" for each in sorted(taken.strangers)]
    return lines + [fork.sentence() for fork in taken.forks]
