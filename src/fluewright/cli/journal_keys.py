"""fluewright journal keys: the keys that sign, whose they are, and which count no more."""

import argparse
import json

from fluewright.cli.journal_place import add_place, opened_from

ABOUT = "the keys that sign, whose they are, and which count no more"


def add(parser: argparse.ArgumentParser) -> None:
    """The options of this question."""
    add_place(parser)


def run(args: argparse.Namespace) -> int:
    """List them."""
    from fluewright.record.keys import known_keys, revocations

    journal = opened_from(args).journal
    gone = revocations(journal)
    rows = []
    for key, owners in known_keys(journal).items():
        names = [str(read.body.get("name", "")) for each in sorted(owners) if (read := journal.entry(each)) is not None]
        since = gone[key].since.isoformat() if key in gone else ""
        rows.append({"key": key, "of": sorted(owners), "name": ", ".join(names), "revoked since": since,
                     "this device": journal.device in owners})  # fmt: skip
    if args.json:
        print(json.dumps(rows, indent=2, ensure_ascii=False))
        return 0
    for row in rows:
        ours = " (this device)" if row["this device"] else ""
        state = f"counts no more since {row['revoked since']}" if row["revoked since"] else "in force"
        print(f"{row['key']}  {row['name']}{ours}  {state}")
    return 0
