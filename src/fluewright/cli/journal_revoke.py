"""fluewright journal revoke: a key that counts no more, such as that of a lost phone."""

import argparse

from fluewright.cli.journal_place import add_place, moment_from, opened_from, say

ABOUT = "let a key count no more, such as that of a lost phone"


def add(parser: argparse.ArgumentParser) -> None:
    """The options of this question."""
    parser.add_argument("key", metavar="KEY", help="as `fluewright journal keys` shows it; its first 16 digits will do")
    parser.add_argument("--because", required=True, metavar="REASON", help="what became of it")
    parser.add_argument(
        "--since", type=moment_from, metavar="MOMENT",
        help="when it was last surely in your hands, such as 2026-11-25T10:20:00-06:00; now when not given",
    )  # fmt: skip
    add_place(parser)


def run(args: argparse.Namespace) -> int:
    """Revoke it and say what that means for its seals."""
    from fluewright.record.keys import known_keys, revoked

    journal = opened_from(args).journal
    known = [key for key in known_keys(journal) if len(args.key) >= 16 and key.startswith(args.key.lower())]
    since = args.since or journal.now()
    key = known[0] if len(known) == 1 else args.key
    entry = revoked(journal, key, since=since, because=args.because)
    say(
        args,
        {"revoked": key, "since": since.isoformat(), "entry": entry.id},
        "what it signed before stays good; what comes in later from its device is told as such",
        "exchange entries with the other devices, so that they refuse it too",
    )
    return 0
