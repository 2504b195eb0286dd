"""fluewright visit amend: other words or figures for an entry, with the reason; the old stay to be seen."""

import argparse
import json

from fluewright.cli.journal_place import add_place, opened_from
from fluewright.errors import UseError
from fluewright.visit import changing, kept

ABOUT = "other words or figures for an entry, with the reason"


def add(parser: argparse.ArgumentParser) -> None:
    """The options of this question."""
    parser.add_argument("visit", help="its id, or the last digits of it")
    parser.add_argument("entry", help="id of the entry, or the last digits of it; see visit show --entries")
    parser.add_argument("fields", nargs="+", metavar="KEY=VALUE", help="such as 'value=4.3 %%' or 'word=owner was out'")
    parser.add_argument("--because", required=True, metavar="WORDS", help="why")
    add_place(parser)


def _fields(typed: list[str]) -> dict[str, str]:
    pairs = [each.partition("=") for each in typed]
    wrong = next((key for key, mark, _ in pairs if not mark or not key), None)
    if wrong is None:
        return {key: value for key, _, value in pairs}
    raise UseError(
        code="FW-U-120",
        read=f"{wrong!r}",
        expected="a field and its new value, such as value=4.3 %",
        matters="it would not be known what is amended",
        do="write KEY=VALUE in quotes; fluewright visit show VISIT --entries shows the fields",
    )


def run(args: argparse.Namespace) -> int:
    """Amend it and say by which entry."""
    journal = opened_from(args).journal
    visit = kept.found(journal, args.visit)
    entry = changing.amended(journal, visit, args.entry, _fields(args.fields), because=args.because)
    print(json.dumps({"id": entry.id}) if args.json else entry.id)
    return 0
