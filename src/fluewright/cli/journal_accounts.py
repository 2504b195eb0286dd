"""fluewright journal accounts: who signs in on this machine's server; passwords, and signing somebody out."""

import argparse
import getpass
import json
import sys
from typing import TYPE_CHECKING

from fluewright.cli.journal_people import named
from fluewright.cli.journal_place import add_place, opened_from, settings_from
from fluewright.cli.journal_views import list_of
from fluewright.errors import UseError

if TYPE_CHECKING:
    from fluewright.record.accounts import Accounts
    from fluewright.record.journal import Journal

ABOUT = "who may sign in to `serve` on a shop's network; give an account, a new password, or take it away"


def add(parser: argparse.ArgumentParser) -> None:
    """The options of this question."""
    what = parser.add_mutually_exclusive_group()
    what.add_argument("--give", metavar="PERSON", help="an account to one of `journal people`; with --login")
    what.add_argument("--password", metavar="PERSON", help="another password; all of their sessions end")
    what.add_argument("--take", metavar="PERSON", help="the account away, and all of its sessions")
    what.add_argument("--sign-out", metavar="PERSON", help="everywhere, at once")
    parser.add_argument("--login", metavar="NAME", default="", help="what they sign in with")
    add_place(parser)


def _password(args: argparse.Namespace) -> str:
    """A password as it is typed: asked for where somebody sits there, else the first line of standard input."""
    if sys.stdin is not None and sys.stdin.isatty() and not args.no_input:
        first = getpass.getpass("password: ")
        if getpass.getpass("once more: ") == first:
            return first
        raise UseError(
            code="FW-U-197",
            read="two passwords that differ",
            expected="the same twice",
            matters="with a slip in it nobody could sign in",
            do="run the command again; nothing was changed",
        )
    return sys.stdin.readline().rstrip("\r\n") if sys.stdin is not None else ""


def run(args: argparse.Namespace) -> int:
    """Do it, or list the accounts with their sessions."""
    from fluewright.record.accounts import Accounts
    from fluewright.record.doors import Doors

    journal = opened_from(args).journal
    doors = Doors(settings_from(args))
    accounts = Accounts(doors)
    try:
        if args.give:
            person = named(journal, args.give)
            accounts.add(person.id, args.login, _password(args), person.name)
        elif args.password:
            person = named(journal, args.password)
            accounts.set_anew(person.id, _password(args), person.name)
        elif args.take:
            accounts.remove(named(journal, args.take).id)
        elif args.sign_out:
            count = accounts.signed_out_everywhere(named(journal, args.sign_out).id)
            print(json.dumps({"ended": count}) if args.json else f"{count} sessions ended")
            return 0
        _list(args, journal, accounts)
    finally:
        doors.close()
        journal.store.close()
    return 0


def _list(args: argparse.Namespace, journal: "Journal", accounts: "Accounts") -> None:
    from fluewright.record.people import persons

    names = {each.id: each.name for each in persons(journal)}
    rows = [
        {"person": each, "name": names.get(each, ""), "login": login, "sessions": len(accounts.sessions(each))}
        for each, login in accounts.logins().items()
    ]
    if args.json:
        print(json.dumps(rows, ensure_ascii=False, indent=2))
        return
    lines = [(str(row["login"]), str(row["name"]), f"{row['sessions']} sessions") for row in rows]
    print(list_of(lines, nothing="nobody has an account on this machine"))
