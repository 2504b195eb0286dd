"""fluewright journal doctor: what the journal stands on, and what to mend there."""

import argparse
import json
from dataclasses import asdict

from fluewright.cli.journal_place import add_place, settings_from

ABOUT = "look at disk, settings, permissions, room and clock"


def add(parser: argparse.ArgumentParser) -> None:
    """The options of this question."""
    add_place(parser)


def run(args: argparse.Namespace) -> int:
    """Look and say what was found; advice alone is no failure."""
    from fluewright.record.doctor import looks
    from fluewright.record.opening import need_there
    from fluewright.record.store import Store

    store = Store(settings_from(args))
    need_there(store)
    found = looks(store)
    if args.json:
        told = [asdict(look) for look in found]
        print(json.dumps({"journal": store.where, "good": all(look.good for look in found), "looks": told}, indent=2))
        return 0
    print(f"journal  {store.where}")
    for look in found:
        print(f"{'ok ' if look.good else '!! '} {look.name:<9} {look.found}")
        if not look.good:
            print(f"    because   {look.matters}\n    do        {look.do}")
    return 0
