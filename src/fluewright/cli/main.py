"""The door of the command line: finds the verb, loads only that verb, and turns errors into words and exit codes."""

import argparse
import importlib
import json
import os
import re
import sys
from collections.abc import Sequence
from typing import NoReturn

from fluewright.errors import FluewrightError, OurFault, UseError

VERBS = {
    "flue": "one flue reading, worked out and judged",
    "fuel": "what a fuel is made of, its heat, air need and products",
    "trace": "a recorded trace: what it holds, steady stretches, results of each",
    "report": "a visit described in one file, as sheet, HTML and PDF",
    "demo": "an invented boiler house, from recorded trace to hand-over",
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
        raise UseError(
            code="FW-U-001",
            read=f"{self.prog}: {message}",
            expected=" ".join(self.format_usage().split()),
            matters="a guess at what was meant could answer a question nobody asked",
            do=f"see {self.prog} --help",
        )


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
        if joined and re.match(r"[-−][\d.,]", word) and joined[-1].startswith("--") and "=" not in joined[-1]:
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
    args.plain = args.plain or "NO_COLOR" in os.environ or os.environ.get("TERM") == "dumb"
    return int(importlib.import_module(f"fluewright.cli.{verb}").run(args))


def _say(error: FluewrightError, *, as_json: bool) -> None:
    if as_json:
        errors = getattr(error, "errors", (error,))
        print(json.dumps({"errors": [one.parts() for one in errors]}, ensure_ascii=False), file=sys.stderr)
    else:
        print(error.sentence(), file=sys.stderr)


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
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return 141
    except Exception as error:
        if os.environ.get("FLUEWRIGHT_TRACEBACK"):
            raise
        fault = OurFault(
            code="FW-Z-001",
            read=f"{type(error).__name__}: {error}",
            expected="an answer, or an error that says what to mend",
            matters="this is a fault of the program, not of your input; nothing was left half-written",
            do="set FLUEWRIGHT_TRACEBACK=1, run the command again and send what it prints",
        )
        _say(fault, as_json="--json" in arguments)
        return fault.exit_code


def run() -> NoReturn:
    """Entry point of the installed command."""
    raise SystemExit(main(sys.argv[1:]))
