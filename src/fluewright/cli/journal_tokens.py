"""fluewright journal tokens: what programs may ask of `serve`: made with few rights, ending on a day, revocable."""

import argparse
import json
from datetime import UTC, datetime
from typing import TYPE_CHECKING

from fluewright.cli.journal_people import named
from fluewright.cli.journal_place import add_place, opened_from, settings_from
from fluewright.cli.journal_views import list_of

if TYPE_CHECKING:
    from fluewright.record.tokens import Token

ABOUT = "tokens by which programs ask the pages' door at /api: make one, revoke one, list them"


def add(parser: argparse.ArgumentParser) -> None:
    """The options of this question."""
    what = parser.add_mutually_exclusive_group()
    what.add_argument("--make", metavar="WORDS", help="what the program is; its token is printed once")
    what.add_argument("--revoke", metavar="TOKEN", help="name of a token, as it is listed")
    whose = "whose program it is: id or name of one of `journal people`; nobody's where none are entered"
    parser.add_argument("--person", default="", metavar="PERSON", help=whose)
    rights = "such as read, work or export; several times; read when not said"
    parser.add_argument("--may", action="append", default=[], metavar="RIGHT", help=rights)
    parser.add_argument("--days", type=int, default=90, metavar="N", help="after which it ends; 90 when not said")
    add_place(parser)


def run(args: argparse.Namespace) -> int:
    """Make one, revoke one, or list them; exit 1 when there was none to revoke."""
    from fluewright.record.doors import Doors
    from fluewright.record.tokens import Tokens

    journal = opened_from(args).journal
    doors = Doors(settings_from(args))
    tokens = Tokens(doors)
    try:
        if args.make is not None:
            person = named(journal, args.person).id if args.person else ""
            token = tokens.made(person, args.make, args.may or ["read"], days=args.days)
            said = f"{token}\nthis is shown once; send it as `Authorization: Bearer ...`"
            print(json.dumps({"token": token}) if args.json else said)
            return 0
        if args.revoke is not None:
            gone = tokens.revoked(args.revoke)
            print(
                json.dumps({"revoked": gone}) if args.json else "revoked" if gone else "there is no token of that name"
            )
            return 0 if gone else 1
        _list(args, tokens.all())
    finally:
        doors.close()
        journal.store.close()
    return 0


def _day(seconds: float) -> str:
    return datetime.fromtimestamp(seconds, UTC).date().isoformat() if seconds else "never"


def _list(args: argparse.Namespace, tokens: "list[Token]") -> None:
    if args.json:
        rows = [{"name": each.name, "person": each.person, "words": each.words, "may": sorted(each.rights),
                 "until": _day(each.until), "used": _day(each.used)} for each in tokens]  # fmt: skip
        print(json.dumps(rows, ensure_ascii=False, indent=2))
        return
    lines = []
    for each in tokens:
        may = ", ".join(sorted(each.rights))
        lines.append((each.name, f"to {_day(each.until)}", f"used {_day(each.used)}", f"{each.words}: {may}"))
    print(list_of(lines, nothing="no program has a token"))
