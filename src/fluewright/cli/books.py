"""Whose rules a command judges by: those of the program, clauses in the journal, and the shop's own house book."""

import argparse
import sys
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

from fluewright.cli.where import places
from fluewright.errors import printable
from fluewright.evidence.reading import Account
from fluewright.rules.house import HOUSE
from fluewright.rules.shop import PROGRAM, Shop

if TYPE_CHECKING:
    from fluewright.record.journal import Journal


def add_house(parser: argparse._ActionsContainer) -> None:
    """The option that names a house book."""
    parser.add_argument(
        "--house-book", type=Path, metavar="FILE", help="the shop's own limits; else the one that was taken"
    )


def shop_from(args: argparse.Namespace, journal: "Journal | None" = None) -> Shop:
    """The rules of this shop; what has to be said of its books is said on standard error.

    args     with the house book, where one was named
    journal  that holds clauses, None for none
    """
    folder = places()["config"]
    if args.house_book is None and journal is None and not (folder / HOUSE).exists():
        return PROGRAM
    from fluewright.visit import own_books  # it knows the journal, which takes time to load

    house: own_books.Found | None
    if args.house_book is not None:
        house = own_books.found_at(args.house_book, trusted=own_books.trusted_in(folder))
    else:
        house = own_books.in_force(folder)
    shop = own_books.shop_of(house, own_books.clauses_of(journal) if journal is not None else ())
    for sentence in shop.told:
        print(f"rule book: {printable(sentence)}", file=sys.stderr)
    return shop


def by_shop(args: argparse.Namespace, account: Account, journal: "Journal | None" = None) -> Account:
    """A visit that is judged by the rules of this shop."""
    return replace(account, shop=shop_from(args, journal))
