"""fluewright simulate: a virtual appliance that sends lines as an instrument would, with faults by name."""

import argparse
import json

from fluewright.cli import sending


def add(parser: argparse.ArgumentParser) -> None:
    """The options of this verb."""
    parser.add_argument("design", nargs="?", default="premix-boiler", metavar="DESIGN", help="see --list")
    parser.add_argument("--list", action="store_true", help="the designs, and the faults that can befall this one")
    parser.add_argument(
        "--fault", action="append", default=[], metavar="NAME[=0..1]", help="a fault, and how severe; 0.5 when not said"
    )  # fmt: skip
    parser.add_argument("--seed", type=int, default=1, metavar="N", help="of the noise: the same seed, the same run")
    parser.add_argument("--seconds", type=float, default=900.0, metavar="S", help="how long it burns")
    parser.add_argument("--step", type=float, default=1.0, metavar="S", help="seconds from line to line")
    sending.add(parser)


def run(args: argparse.Namespace) -> int:
    """Send what it shows, from half a minute before it is lit."""
    from fluewright.live import played
    from fluewright.simulate import running

    design = running.design_named(args.design)
    if args.list:
        return _listed(args)
    condition = running.with_faults(design, args.fault)
    channels = played.channels_of(tuple(running.T90), running.T90)
    moments = running.running(
        design=design, condition=condition, seed=args.seed, seconds=args.seconds, step=max(0.05, args.step)
    )
    return sending.sent(args, channels, played.texts_of(moments), lasts=args.seconds + running.BEFORE)


def _listed(args: argparse.Namespace) -> int:
    from fluewright.simulate.designs import designs
    from fluewright.simulate.faults import faults_of

    befall = {fault.name: fault.words for fault in faults_of(designs()[args.design])}
    if args.json:
        print(json.dumps({"designs": {n: d.words for n, d in designs().items()}, "faults": befall}, indent=2))
        return 0
    print("designs")
    print("\n".join(f"  {name:<22} {design.words}" for name, design in designs().items()))
    print(f"\nfaults of {args.design}")
    print("\n".join(f"  {name:<22} {words}" for name, words in befall.items()))
    return 0
