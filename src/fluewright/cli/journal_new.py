"""fluewright journal new: begins a journal where none has been."""

import argparse
import json

from fluewright.cli.journal_place import add_place, settings_from

ABOUT = "begin a journal where none has been"


def add(parser: argparse.ArgumentParser) -> None:
    """The options of this question."""
    add_place(parser)
    parser.add_argument("--practice", action="store_true", help="for invented visits: every sheet says so; it meets "
                        "no other journal")  # fmt: skip
    parser.add_argument("--device", default="this computer", metavar="NAME", help="what people call this machine")


def run(args: argparse.Namespace) -> int:
    """Make it and say where and as which device."""
    from fluewright.record.keys_ed25519 import key_of
    from fluewright.record.opening import made, need_free
    from fluewright.record.store import Store

    settings = settings_from(args)
    need_free(Store(settings))
    key = key_of(settings).public
    journal = made(settings, device_name=args.device, key=key, practice=args.practice)
    said = {
        "journal": settings.database,
        "device": journal.device,
        "key": key,
        "anchor": journal.anchors()[0].printed(),
    } | ({"practice": "invented visits only; it never meets another journal"} if args.practice else {})
    print(json.dumps(said) if args.json else "\n".join(f"{name:<8} {value}" for name, value in said.items()))
    return 0
