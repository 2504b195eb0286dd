"""fluewright diagnose: causes weighed against whatever was read, and the test that comes next."""

import argparse
import json
import textwrap
from collections.abc import Iterator, Sequence
from typing import Any

from fluewright.cli.language import add_language
from fluewright.diagnose.asked import Asked, asked_of
from fluewright.diagnose.diagnosis import Diagnosis, diagnosed, in_minutes, readings_weighed, words_of
from fluewright.diagnose.table import looks
from fluewright.errors import UseError
from fluewright.evidence.reading import Reading
from fluewright.quantity import digits, names, parse
from fluewright.simulate.designs import designs
from fluewright.words import say, spoken

_ANSWERS = {"yes": True, "found": True, "no": False, "clear": False}


def add(parser: argparse.ArgumentParser) -> None:
    """The options of this verb."""
    kind = "class of appliance, such as oil-burner"
    parser.add_argument("--class", dest="kind", metavar="CLASS", default="", help=kind)
    for name, metavar, words in (
        ("--read", "NAME=VALUE", "what was read, such as o2=2.8%% co=400ppm flue=520F air=68F"),
        ("--plate", "NAME=VALUE", "what the plate says of a reading, such as gas_pressure=3.5inwc"),
        ("--seen", "LOOK=yes|no", "a look and whether it found what it looks for"),
    ):
        parser.add_argument(name, nargs="+", action="extend", default=[], metavar=metavar, help=words)
    add_language(parser)
    parser.add_argument("--looks", action="store_true", help="list what can be read and looked at, then end")
    parser.add_argument(
        "--units", choices=("us", "si"), help="units of the answer and of bare numbers; us when not said"
    )


def _split(text: str, expected: str) -> tuple[str, str]:
    name, mark, value = text.partition("=")
    if not mark or not name.strip() or not value.strip():
        raise UseError(
            code="FW-U-312",
            read=f"{text!r}",
            expected=expected,
            matters="a figure without its name could be anything",
            do="write the name, an equals sign and the value with its unit",
        )
    return name.strip(), value.strip()


def _answer(text: str) -> tuple[str, bool]:
    name, word = _split(text, "a look and its answer, such as hose=no")
    if word.lower() not in _ANSWERS:
        raise UseError(
            code="FW-U-313",
            read=f"the answer {word!r} to the look {name!r}",
            expected="yes when it was found, no when it was not",
            matters="an answer taken the wrong way strikes the right cause",
            do="see fluewright diagnose --looks for what yes and no mean, then answer again",
        )
    return name, _ANSWERS[word.lower()]


def _reading(text: str) -> Reading:
    name, value = _split(text, "a name and a value, such as o2=2.8%")
    quantity = names.named(name)
    return Reading(quantity.name, parse.parse(value, quantity=quantity))


def _plate(texts: Sequence[str]) -> dict[str, float]:
    found = {}
    for text in texts:
        name, value = _split(text, "a name and a value, such as gas_pressure=3.5inwc")
        quantity = names.named(name)
        found[quantity.name] = float(parse.single(value, quantity=quantity).value or 0.0)
    return found


def question(args: argparse.Namespace) -> Asked:
    """What was typed, as a question."""
    made = asked_of(
        kind=args.kind,
        readings=[_reading(text) for text in args.read],
        plate=_plate(args.plate),
        seen=dict(_answer(text) for text in args.seen),
    )
    return Asked(made.kind, made.read, made.doubts, made.plate, made.seen, system=args.units)


def _paragraph(text: str, *, lead: str = "  ", width: int = 96) -> str:
    return textwrap.fill(text, width, initial_indent=lead, subsequent_indent=" " * len(lead))


def _headed(head: str, lines: Sequence[str]) -> Iterator[str]:
    if lines:
        yield head
        yield from lines
        yield ""


def _causes(said: Diagnosis) -> Iterator[str]:
    for place, cause in enumerate(said.causes, 1):
        yield _paragraph(
            say("{cause}, because", cause=cause.words) if cause.because else cause.words, lead=f"  {place}. "
        )
        yield from (_paragraph(sentence.words, lead="     + ") for sentence in cause.because)
        yield from (_paragraph(sentence.words, lead="     - ") for sentence in cause.against)
        yield _paragraph(say("when proved: {do}", do=cause.do), lead="     ")


def _lines(said: Diagnosis) -> Iterator[str]:
    """The whole answer, what cannot be known first."""
    if said.stop:
        yield from (say("Stop, and prove it first: a dangerous cause is likely."), "")
    yield from _headed(say("What cannot be known"), [_paragraph(line) for line in said.unknown])
    yield from _headed(say("What moved"), [_paragraph(each.sentence) for each in said.moved])
    if said.quiet:
        yield from (say("Before all: {cause}.", cause=words_of("healthy")), "")
    yield from _headed(say("Causes left, in order"), list(_causes(said)))
    struck = [say("{cause}: {reason}", cause=each.words, reason=each.because.words) for each in said.struck]
    yield from _headed(say("Struck through"), [_paragraph(each) for each in struck])
    dangers = [
        say("{cause} ({danger}); closed by: {test}", cause=each.words, danger=each.why, test=each.close)
        for each in said.dangers
    ]
    head = say("In view until tested out, made safe, or handed on by name")
    yield from _headed(head, [_paragraph(each) for each in dangers])
    if said.next is not None:
        first, *rest = said.next.tests
        yield _paragraph(in_minutes(first), lead=say("Next: "))
        yield from (_paragraph(in_minutes(look), lead="      ") for look in rest)


def data(said: Diagnosis) -> dict[str, Any]:
    """The answer as plain data; `inside` is for machines and never printed."""
    return {
        "design": said.design,
        "stop": said.stop,
        "quiet": said.quiet,
        "unknown": list(said.unknown),
        "moved": [{"reading": each.reading, "way": each.way, "sentence": each.sentence} for each in said.moved],
        "causes": [
            {
                "name": each.name,
                "words": each.words,
                "because": [sentence.words for sentence in each.because],
                "against": [sentence.words for sentence in each.against],
                "do": each.do,
            }
            for each in said.causes
        ],
        "struck": [{"name": each.name, "words": each.words, "because": each.because.words} for each in said.struck],
        "dangers": [
            {"name": each.name, "words": each.words, "why": each.why, "seen": each.seen, "close": each.close}
            for each in said.dangers
        ],
        "next": [{"name": look.name, "words": spoken(look.words), "minutes": look.minutes} for look in said.next.tests]
        if said.next
        else [],
        "inside": {cause: round(share, 5) for cause, share in said.inside.each().items()},
    }


def _listed() -> str:
    named = [(kind, spoken(design.words)) for design in designs().values() for kind in design.kinds]
    lines = [say("Classes"), *(f"  {kind:<32}{words}" for kind, words in named)]
    lines += ["", say("Readings"), _paragraph(", ".join(readings_weighed())), "", say("Looks: yes, no")]
    for look in looks().values():
        if not look.reads:
            answers = say("yes: {yes}; no: {no}", yes=spoken(look.yes), no=spoken(look.no))
            lines += [f"  {look.name:<20}{spoken(look.words)}", f"  {'':<20}{answers}"]
    return "\n".join(lines)


def run(args: argparse.Namespace) -> int:
    """Weigh and print; exit 1 when a dangerous cause is likely."""
    args.units = args.units or "us"
    if args.looks:
        print(_listed())
        return 0
    said = diagnosed(question(args))
    if args.json:
        print(json.dumps(data(said), ensure_ascii=False, indent=2, allow_nan=False))
    else:
        text = "\n".join(_lines(said)).rstrip()
        print(digits.plainly(text) if args.plain else text)
    return 1 if said.stop else 0
