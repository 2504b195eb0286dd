"""The door of the command line: finds the verb, loads only that verb, and turns errors into words and exit codes."""

import argparse
import importlib
import io
import json
import os
import re
import signal
import sys
from collections.abc import Sequence
from contextlib import suppress
from pathlib import Path
from typing import NoReturn

from fluewright.errors import FluewrightError, OurFault, UseError

VERBS = {
    "flue": "one flue reading, worked out and judged",
    "room": "carbon monoxide in the air people breathe, its source, its means",
    "fuel": "what a fuel is made of, its heat, air need and products",
    "appliance": "classes of appliance: where to sample, what to prove, what is never advised",
    "oil": "oil supply and smoke: nozzle, suction, papers, knee, start, outdoor tank",
    "trace": "a recorded trace: what it holds, steady stretches, results of each",
    "supply": "the gas side: input by the meter, orifices, height, another gas",
    "report": "a visit described in one file, as sheet, HTML and PDF",
    "draft": "draft, house pressure and a flue with all that hangs on it",
    "diagnose": "causes weighed against whatever was read, and the test that comes next",
    "rules": "limits: which apply, their citations, what this instrument can decide, the house book",
    "visit": "a visit worked in the journal: new, add, live, strike, step, notice, plan, seal, show, list",
    "listen": "live sources by open protocols: kept before they are shown, tried dry, learnt",
    "replay": "a recorded trace sent again at any speed, as an instrument would",
    "simulate": "a virtual appliance that sends lines, with faults by name; for practice",
    "instrument": "instruments: zero, leak check, response, calibration, and which visits one put in doubt",
    "serve": "the pages: visits worked in a browser on this machine",
    "journal": "the records: whether they are whole, copies, exports, other devices",
    "cost": "price of heat, fuel bills, carbon of the fuel, duties of the law",
    "demo": "an invented boiler house, from recorded trace to hand-over",
    "tune": "adjusting: curve and knee, margin of the year, the next turn, curve sets, permit runs",
    "delivered": "heat delivered by air and water, and whether the readings of a moment add up",
    "checks": "our numbers against published ones, source by source",
    "where": "the folders this program uses",
    "completion": "words for the shell to complete: bash, zsh or fish",
}

EPILOGUE = """\
Every number can show its working. The maker's instructions, the local code and the licensed person decide;
this is a calculation aid, not a permission to operate.

exit codes: 0 done, 1 something found, 2 wrong use, 3 input unusable, 4 record damaged,
            5 refused by physics or rule, 70 our fault, 128+n stopped by signal n"""


class Parser(argparse.ArgumentParser):
    """An argument parser that speaks in four parts."""

    def error(self, message: str) -> NoReturn:
        """Turn what argparse noticed into a UseError."""
        from fluewright.cli.mistakes import told

        read, expected = told(self, message)
        raise UseError(
            code="FW-U-001",
            where=self.prog,
            read=read,
            expected=expected,
            matters="a guess at what was meant could answer a question nobody asked",
            do=f"see {self.prog} --help",
        )

    def parse_known_args(  # type: ignore[override]
        self, args: Sequence[str] | None = None, namespace: argparse.Namespace | None = None
    ) -> tuple[argparse.Namespace, list[str]]:
        """Parse, and refuse an option given twice that does not gather: the first value would be lost in silence."""
        words = [word.partition("=")[0] for word in args or () if word.startswith("--")]
        twice = next((word for word in words if words.count(word) > 1 and word not in self._gathering()), None)
        if twice is not None and twice != "--":
            self.error(f"{twice} is given twice")
        return super().parse_known_args(args, namespace)

    def _gathering(self) -> set[str]:
        """Options, of this parser and its questions, that may come several times and keep every value."""
        parsers, found = [self], set()
        while parsers:
            one = parsers.pop()
            for action in one._actions:
                if isinstance(action, argparse._AppendAction):
                    found |= set(action.option_strings)
                elif isinstance(action, argparse._SubParsersAction):
                    parsers += list(action.choices.values())
        return found


def parser_of(verb: str) -> argparse.ArgumentParser:
    """The parser of one verb with the options that every verb has."""
    module = importlib.import_module(f"fluewright.cli.{verb}")
    parser = Parser(prog=f"fluewright {verb}", description=(VERBS[verb] + "."), allow_abbrev=False)
    every = parser.add_argument_group("every verb")
    every.add_argument("--json", action="store_true", help="data on standard output as JSON")
    every.add_argument("--plain", action="store_true", help="plain letters, no colour, no drawing characters")
    every.add_argument("--no-input", action="store_true", help="never ask; fail instead")
    module.add(parser)
    return parser


def _overview() -> str:
    lines = ["usage: fluewright VERB [options]", ""]
    lines += ["Tests, tunes and vouches for fuel-burning appliances.", ""]
    lines += [f"  {verb:<11} {words}" for verb, words in VERBS.items()]
    lines += ["", "fluewright VERB --help tells more; fluewright --version names the version.", "", EPILOGUE]
    return "\n".join(lines)


def _version() -> str:
    from importlib.metadata import version

    return f"fluewright {version('fluewright')}"


def _negatives_joined(arguments: Sequence[str]) -> list[str]:
    """Arguments with `--draft -.02` written as `--draft=-.02`: a minus before a figure is a value, not an option."""
    joined: list[str] = []
    for word in arguments:
        if "--" in joined:
            joined.append(word)
        elif joined and re.match(r"[-−][\d.,]", word) and joined[-1].startswith("--") and "=" not in joined[-1]:
            joined[-1] += f"={word}"
        else:
            joined.append(word)
    return joined


def _dispatch(arguments: Sequence[str]) -> int:
    if not arguments or arguments[0] in ("-h", "--help", "help"):
        print(_overview())
        return 0 if arguments else 2
    if arguments[0] == "--version":
        print(_version())
        return 0
    verb, *rest = _negatives_joined(arguments)
    if verb not in VERBS:
        raise UseError(
            code="FW-U-002",
            read=f"the verb {verb!r}",
            expected="one of " + ", ".join(VERBS),
            matters="nothing was done",
            do="see fluewright --help",
        )
    parser = parser_of(verb)
    args = parser.parse_args(rest)
    narrow = _speak_utf_8(always=args.json)
    args.plain = args.plain or narrow or "NO_COLOR" in os.environ or os.environ.get("TERM") == "dumb"
    code = _ran(verb, args)
    sys.stdout.flush()
    return code


def _ran(verb: str, args: argparse.Namespace) -> int:
    """Run a verb; it speaks the language asked for, and bare numbers are in the units of --units for as long."""
    from fluewright.words import ENGLISH, speaking

    work = importlib.import_module(f"fluewright.cli.{verb}")
    with speaking(getattr(args, "language", ENGLISH)):
        if not hasattr(args, "units"):
            return int(work.run(args))
        from fluewright.quantity import bare

        with bare.stated(args.units):
            return int(work.run(args))


def _speak_utf_8(*, always: bool) -> bool:
    """Make the output able to say everything; JSON is UTF-8 by its standard (RFC 8259, 8.1).

    always  whether the bytes are to be UTF-8 whatever the terminal says
    -> whether the terminal knows fewer letters, so that plain ones are better
    """
    narrow = False
    for stream in (sys.stdout, sys.stderr):
        if not isinstance(stream, io.TextIOWrapper):
            continue
        if stream.encoding.lower().replace("-", "") == "utf8":
            stream.reconfigure(errors="backslashreplace")
            continue
        narrow = narrow or (stream is sys.stdout and not always)
        stream.reconfigure(encoding="utf-8" if always else None, errors="replace")
    return narrow


def _say(error: FluewrightError, *, as_json: bool) -> None:
    if as_json:
        errors = getattr(error, "errors", (error,))
        print(json.dumps({"errors": [one.parts() for one in errors]}, ensure_ascii=False), file=sys.stderr)
    else:
        print(error.sentence(), file=sys.stderr)


def _say_no_more() -> None:
    """Nobody takes the output any more: what is still held back goes nowhere, without another complaint."""
    with suppress(io.UnsupportedOperation):  # an output without a file behind it holds nothing back
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())


def _unreadable(error: OSError) -> UseError:
    """A file that was named and cannot be used; whoever writes files turns those errors into words of their own."""
    return UseError(
        code="FW-U-012",
        where=str(error.filename),
        read=f"it cannot be read: {error.strerror or error}",
        expected="a file or a name that is there and may be read",
        matters="nothing was worked out from it",
        do="check the name, and whether you may read it",
    )


def _unwritten(error: OSError) -> UseError:
    """The answer itself did not get out."""
    _say_no_more()
    return UseError(
        code="FW-U-011",
        read=f"the answer could not be written: {error.strerror or error}",
        expected="a place with room left that may be written to",
        matters="what was printed is not whole",
        do="make room, or send the output elsewhere, and run the command again",
    )


def main(arguments: Sequence[str]) -> int:
    """Run one command; returns its exit code and never lets a traceback out."""
    try:
        return _dispatch(arguments)
    except FluewrightError as error:
        _say(error, as_json="--json" in arguments)
        return error.exit_code
    except KeyboardInterrupt:
        print("stopped; nothing was left half-written", file=sys.stderr)
        return 130
    except BrokenPipeError:
        _say_no_more()
        return 141
    except OSError as error:
        fault = _unreadable(error) if error.filename is not None else _unwritten(error)
        _say(fault, as_json="--json" in arguments)
        return fault.exit_code
    except Exception as error:
        if os.environ.get("FLUEWRIGHT_TRACEBACK"):
            raise
        ours = OurFault(
            code="FW-Z-001",
            read=f"{type(error).__name__}: {error}",
            expected="an answer, or an error that says what to mend",
            matters="this is a fault of the program, not of your input; nothing was left half-written",
            do="set FLUEWRIGHT_TRACEBACK=1, run the command again and send what it prints",
        )
        _say(ours, as_json="--json" in arguments)
        return ours.exit_code


def _stopped(number: int, _: object) -> NoReturn:
    """A polite request to stop: what was begun is put away on the way out."""
    print("stopped; nothing was left half-written", file=sys.stderr)
    raise SystemExit(128 + number)


def run() -> NoReturn:
    """Entry point of the installed command."""
    for name, mode in (("stdin", "r"), ("stdout", "w"), ("stderr", "w")):
        if getattr(sys, name) is None:  # closed by whoever started this
            setattr(sys, name, Path(os.devnull).open(mode, encoding="utf-8"))  # noqa: SIM115
    signal.signal(signal.SIGTERM, _stopped)
    raise SystemExit(main(sys.argv[1:]))
