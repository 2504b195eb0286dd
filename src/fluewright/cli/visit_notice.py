"""fluewright visit notice: a danger found, who was told, and whether they consented to shutting down."""

import argparse
import json
import sys

from fluewright.cli.journal_place import add_place, opened_from
from fluewright.errors import printable
from fluewright.visit import changing, kept
from fluewright.words import say, spoken

ABOUT = "a danger found: who was told, consent or refusal, calls made; or its closing"


def add(parser: argparse.ArgumentParser) -> None:
    """The options of this question."""
    parser.add_argument("visit", help="its id, or the last digits of it")
    parser.add_argument("words", help="what was found; with --close, why it is no danger any more")
    parser.add_argument("--consent", choices=("yes", "refused", "absent"), help="to shutting the appliance down")
    parser.add_argument("--told", default="", metavar="WHO", help="who was told")
    parser.add_argument("--done", action="append", default=[], metavar="WORDS", help="what was done; several times")
    parser.add_argument("--call", action="append", default=[], metavar="WORDS", help="number, time, what was said")
    parser.add_argument("--witness", default="", metavar="WHO", help="who saw the refusal")
    parser.add_argument("--close", metavar="NOTICE", help="id of the notice that is closed by this")
    add_place(parser)


def run(args: argparse.Namespace) -> int:
    """Keep the notice, or its closing; it stays open until an entry closes it."""
    journal = opened_from(args).journal
    visit = kept.found(journal, args.visit)
    if args.close:
        entry = changing.notice_closed(journal, visit, args.close, because=args.words)
    else:
        entry = changing.noticed(
            journal,
            visit,
            args.words,
            consent=args.consent,
            told=args.told,
            done=args.done,
            calls=args.call,
            witness=args.witness,
        )
    steps = () if args.close else changing.steps_about(journal, visit, args.consent)
    if args.json:
        told = [{"do": spoken(one.text), "authority": one.authority} for one in steps]
        print(json.dumps({"id": entry.id, "steps": told}, ensure_ascii=False))
        return 0
    print(entry.id)
    for one in steps:
        print(printable(say("{step} ({authority})", step=spoken(one.text), authority=one.authority)), file=sys.stderr)
    return 0
