"""fluewright journal people: who works for the shop, in which role, and who left."""

import argparse
import json
from typing import TYPE_CHECKING

from fluewright.cli.journal_place import add_place, opened_from, opened_or_made
from fluewright.cli.journal_views import list_of
from fluewright.errors import UseError

if TYPE_CHECKING:
    from fluewright.record.journal import Journal
    from fluewright.record.people import Person

ABOUT = "who works for the shop and in which role; enter somebody, or say that they left"

ROLES = ("technician", "office", "auditor", "administrator")


def add(parser: argparse.ArgumentParser) -> None:
    """The options of this question."""
    what = parser.add_mutually_exclusive_group()
    what.add_argument("--enter", metavar="NAME", help="somebody new; with --role")
    what.add_argument("--change", metavar="PERSON", help="id or name of somebody who gets another role; with --role")
    what.add_argument("--left", metavar="PERSON", help="id or name of somebody who works here no more")
    parser.add_argument("--role", choices=ROLES, help="what they may do: see docs/people.md")
    parser.add_argument("--because", default="", metavar="WORDS", help="why a role changes or somebody leaves")
    add_place(parser)


def named(journal: "Journal", typed: str) -> "Person":
    """The person that somebody means by an id, the end of it, or a name; UseError when none or several are meant."""
    from fluewright.record.people import persons

    known = persons(journal)
    found = [each for each in known if each.name.casefold() == typed.strip().casefold()]
    found = found or [each for each in known if len(typed) >= 4 and each.id.endswith(typed.strip().lower())]
    if len(found) == 1:
        return found[0]
    raise UseError(
        code="FW-U-195",
        read=f"the person {typed[:80]!r}" + (f", by whom {len(found)} may be meant" if found else ""),
        expected="the name of one who was entered, or the last digits of the id",
        matters="rights given to another than was meant are rights given away",
        do="see `fluewright journal people`; enter somebody with --enter NAME --role ROLE",
    )


def run(args: argparse.Namespace) -> int:
    """List them, or enter what changed and say by which entry."""
    if not (args.enter or args.change or args.left):
        return _list(args)
    from fluewright.record import amend
    from fluewright.record.draft import Draft
    from fluewright.record.people import persons

    if (args.enter or args.change) and not args.role:
        raise UseError(
            code="FW-U-196",
            read="somebody without a role",
            expected="--role, one of " + ", ".join(ROLES),
            matters="without a role they may do nothing here",
            do="add --role",
        )
    journal = opened_or_made(args)
    if args.enter:
        entry = journal.add(Draft("person", {"name": args.enter, "role": args.role}))
    else:
        person = named(journal, args.change or args.left)
        fields = {"role": args.role} if args.change else {"active": False}
        entry = amend.amended(journal, person.id, fields, because=args.because)
    if args.left:
        _locked_out(args, person.id)
    ruled = any(each.active and each.role == "administrator" for each in persons(journal))
    journal.store.close()
    print(json.dumps({"id": entry.id}) if args.json else entry.id)
    if ruled or args.json:
        return 0
    print("nobody is administrator, so whoever sits before this machine may do all of it")
    return 0


def _locked_out(args: argparse.Namespace, person: str) -> None:
    """Take away what somebody who left still has on this machine: account, sessions, tokens."""
    from fluewright.cli.journal_place import settings_from
    from fluewright.record.accounts import Accounts
    from fluewright.record.doors import Doors
    from fluewright.record.tokens import Tokens

    doors = Doors(settings_from(args))
    Accounts(doors).remove(person)
    tokens = Tokens(doors)
    for each in tokens.all():
        if each.person == person:
            tokens.revoked(each.name)
    doors.close()


def _list(args: argparse.Namespace) -> int:
    from fluewright.record.people import persons

    known = persons(opened_from(args).journal)
    if args.json:
        rows = [{"id": each.id, "name": each.name, "role": each.role, "active": each.active} for each in known]
        print(json.dumps(rows, ensure_ascii=False, indent=2))
        return 0
    lines = [(each.id[-8:], each.name, each.role if each.active else f"{each.role}, left") for each in known]
    print(list_of(lines, nothing="nobody is entered; whoever sits before this machine may do all of it"))
    return 0
