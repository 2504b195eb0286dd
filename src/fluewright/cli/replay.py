"""fluewright replay: a recorded trace sent again line by line, at any speed; for practice and for trying mappings."""

import argparse
from pathlib import Path

from fluewright.cli import sending


def add(parser: argparse.ArgumentParser) -> None:
    """The options of this verb."""
    parser.add_argument("file", type=Path, metavar="FILE", help="a trace: CSV of any habit, or Parquet")
    parser.add_argument("--mapping", type=Path, metavar="FILE", help="what its columns are, as for fluewright trace")
    sending.add(parser)


def run(args: argparse.Namespace) -> int:
    """Send its rows."""
    from fluewright.evidence.trace import mapping as mappings
    from fluewright.evidence.trace import read
    from fluewright.live import played

    trace = read.read(args.file, mapping=mappings.load(args.mapping) if args.mapping else None)
    channels = played.channels_of([each.name for each in trace.channels if each.quantity], {})
    times = [sample.time for sample in trace]
    return sending.sent(args, channels, played.rows_of(trace), lasts=times[-1] - times[0])
