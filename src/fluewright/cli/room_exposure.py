"""fluewright room exposure: for experts, what was breathed and what an average body would take up; no diagnosis."""

import argparse

from fluewright.cli.asks import Asked
from fluewright.errors import UseError
from fluewright.evidence.breathed import SETS, ExposureGiven, SampleGiven
from fluewright.kernel.exposure import HALF_LIVES
from fluewright.visit.room_typed import ROOM, reading

ABOUT = "for experts: what was breathed, on paper; medical care comes first, and this is no diagnosis"


def add(parser: argparse.ArgumentParser) -> None:
    """The options of this question."""
    parser.add_argument("--over", metavar="X", required=True, help="how long it was breathed, such as 90min")
    parser.add_argument("--activity", default="light", help="as in the set: sedentary, light, heavy")
    forward = parser.add_argument_group("forward, from the air")
    forward.add_argument("--co", metavar="X", help="in the air, such as 70ppm")
    forward.add_argument("--activity-set", choices=tuple(SETS), default="criteria document", help="whose figures")
    before = forward.add_mutually_exclusive_group()
    before.add_argument("--start", metavar="X", help="carboxyhaemoglobin before, such as 0.8%%")
    before.add_argument("--cigarettes", type=int, metavar="N", help="smoked a day, for a start out of a table")
    back = parser.add_argument_group("backward, from a blood sample")
    back.add_argument("--sample", metavar="X", help="carboxyhaemoglobin in the sample, such as 12%%")
    back.add_argument("--since", metavar="X", help="between leaving and the sample; 0min when not said")
    back.add_argument("--breathing", choices=tuple(HALF_LIVES), help="what was breathed since; air when not said")


def _need_activity(name: str, set_name: str) -> None:
    known = tuple(SETS[set_name][0])
    if name in known:
        return
    raise UseError(
        code="FW-U-223",
        read=f"the activity {name!r}",
        expected=f"one of {', '.join(known)}, as the {set_name} has them",
        matters="how hard somebody breathes doubles or halves what is taken up",
        do="choose the nearest, and look at its neighbours too",
    )


def asked(args: argparse.Namespace) -> Asked:
    """The exposure, forward or backward."""
    backward = [args.sample, args.since, args.breathing]
    forward = [args.co, args.start, args.cigarettes]
    if (args.co is None) == (args.sample is None) or (args.co and any(backward)) or (args.sample and any(forward)):
        raise UseError(
            code="FW-U-224",
            read="air and blood sample together" if args.co and any(backward) else "neither way, or half of both",
            expected="--co with what was before, or --sample with what came since",
            matters="one asks what the air does to blood, the other what the blood says of the air",
            do="ask one way, then the other",
        )
    over = reading(args.over, "time_between")
    if args.sample is None:
        _need_activity(args.activity, args.activity_set)
        start = None if args.start is None else reading(args.start, "carboxyhaemoglobin")
        air = reading(args.co, ROOM)
        return Asked((ExposureGiven(air, over, args.activity, args.activity_set, start, args.cigarettes),))
    _need_activity(args.activity, "criteria document")
    since = reading(args.since or "0 min", "time_between")
    sample = reading(args.sample, "carboxyhaemoglobin")
    return Asked((SampleGiven(sample, since, over, args.breathing or "air", args.activity),))
