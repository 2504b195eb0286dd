"""fluewright instrument response: how long until nine tenths of a step are shown."""

import argparse
from pathlib import Path

from fluewright.cli.instrument_named import add_instrument, add_visit, tried
from fluewright.errors import UseError

ABOUT = "response time (T90), as read on a watch or from a recorded step of gas"


def add(parser: argparse.ArgumentParser) -> None:
    """The options of this question."""
    add_instrument(parser)
    how = parser.add_mutually_exclusive_group(required=True)
    how.add_argument("--t90", metavar="TIME", help="as read on a watch, such as '43 s'")
    how.add_argument("--trace", type=Path, metavar="FILE", help="a recorded step: clean air, gas on, waited to its end")
    parser.add_argument("--channel", default="carbon_monoxide_dry", metavar="NAME", help="of the trace")
    parser.add_argument(
        "--began", type=float, metavar="S", help="s from its first row to gas on; first movement if unsaid"
    )
    add_visit(parser)


def run(args: argparse.Namespace) -> int:
    """Keep it and say how it was understood."""
    if args.trace is None:
        return tried(args, {"what": "response", "response": args.t90})
    from fluewright.visit import stepped_gas

    if not args.trace.exists():
        raise UseError(
            code="FW-U-070",
            read=f"no file {args.trace.name}",
            expected="a trace, CSV or Parquet",
            matters="there is no step to read the time from",
            do="check the path",
        )
    found = stepped_gas.response_in(args.trace, channel=args.channel, began=args.began)
    return tried(args, {"what": "response", "response": f"{found.seconds:.1f} s", "how": stepped_gas.words_of(found)})
