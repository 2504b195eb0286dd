"""`fluewright supply tightness`: a gas pipe shut under pressure, or a meter watched with everything shut."""

import argparse
from typing import get_args

from fluewright.cli.asks import Asked, add_fuel, fuel_from, fuel_named
from fluewright.cli.supply_typed import above_nothing, figure, gauge, needed, reading
from fluewright.errors import UseError
from fluewright.evidence.reading import Reading
from fluewright.evidence.tightness import Tightness
from fluewright.evidence.tightness_given import Creep, Purpose, Section, Standstill
from fluewright.evidence.tightness_medium import MEDIA
from fluewright.rules.tightness_tests import Appliances, Pipes
from fluewright.visit.parts.gas_pipes import DWELLINGS
from fluewright.visit.parts.gas_tightness import METERS

ABOUT = "whether a gas pipe is tight: what gauge or meter did, what the weather did, and the leak that is left"


def add(parser: argparse.ArgumentParser) -> None:
    """The options of this question."""
    by_gauge = parser.add_argument_group("by the gauge")
    by_gauge.add_argument("--purpose", choices=get_args(Purpose), default="tightness", help="kind of test")
    by_gauge.add_argument("--start", metavar="X", help="first reading")
    by_gauge.add_argument("--end", metavar="X", help="second reading")
    by_gauge.add_argument("--after", metavar="X", help="time between the two")
    by_gauge.add_argument("--settled", metavar="X", help="time left to settle before the first")
    by_gauge.add_argument("--medium", choices=MEDIA[1:], default="", help="what was in the pipe")
    by_gauge.add_argument("--step", metavar="X", help="smallest movement the gauge shows")
    by_gauge.add_argument("--temperature-start", metavar="X", help="of the pipe at the first reading")
    by_gauge.add_argument("--temperature-end", metavar="X", help="of the pipe at the second")
    by_gauge.add_argument("--barometer-start", metavar="X", help="at the first reading")
    by_gauge.add_argument("--barometer-end", metavar="X", help="at the second")
    by_gauge.add_argument("--drift", metavar="X", help="by how much the pipe's temperature may have changed")
    by_meter = parser.add_argument_group("by the meter, everything shut")
    by_meter.add_argument("--counted", metavar="X", help="gas counted, such as 0ft3")
    by_meter.add_argument("--dial", metavar="X", help="one turn of the fastest dial")
    by_meter.add_argument("--watched", metavar="X", help="for how long")
    of = parser.add_argument_group("what was tested")
    of.add_argument("--volume", metavar="X", help="room in the section, such as 20L")
    of.add_argument("--pipes", choices=get_args(Pipes), default="any", help="new or in use")
    of.add_argument("--appliances", choices=get_args(Appliances), default="any", help="off: shut off from the test")
    of.add_argument("--dwelling", choices=DWELLINGS, default="", help="kind of house")
    of.add_argument("--meter", choices=METERS, default="", help="meter in the section")
    of.add_argument("--line-pressure", metavar="X", help="pressure the line works at")
    add_fuel(parser)


def _pair(args: argparse.Namespace, what: str, quantity: str) -> tuple[Reading, Reading] | None:
    first, second = (reading(args, f"{what}-{end}", quantity) for end in ("start", "end"))
    if first is not None and second is not None:
        return first, second
    if first is None and second is None:
        return None
    raise UseError(
        code="FW-U-254",
        read=f"one {what} of two",
        expected=f"--{what}-start and --{what}-end, or neither",
        matters="only the change between the two readings of the gauge counts",
        do="give both, or leave it out and let its drift be reckoned with",
    )


def _standstill(args: argparse.Namespace) -> tuple[Standstill, ...]:
    start, end = (gauge(args, option, "test_pressure") for option in ("start", "end"))
    step = gauge(args, "step", "gauge_step")
    if start is None and end is None:
        return ()
    if start is None or end is None:
        raise UseError(
            code="FW-U-255",
            read="one reading of the gauge",
            expected="--start and --end",
            matters="a leak shows in what the gauge did between the two",
            do="give both",
        )
    return (
        Standstill(
            args.purpose,
            above_nothing(start, "start"),
            end,
            needed(args, "after", "minutes_since_lit"),
            figure(args, "settled", "minutes_since_lit"),
            _pair(args, "temperature", "pipe_temperature"),
            _pair(args, "barometer", "barometer"),
            figure(args, "drift", "temperature_drift"),
            None if step is None else step.figure,
            medium=args.medium,
        ),
    )


def asked(args: argparse.Namespace) -> Asked:
    """The test, by gauge, by meter or by both."""
    standstills, creep = _standstill(args), None
    counted = reading(args, "counted", "meter_creep")
    if counted is not None:
        dial, watched = needed(args, "dial", "meter_dial"), needed(args, "watched", "minutes_since_lit")
        creep = Creep(counted, dial, watched, gauge(args, "line-pressure"))
    if not standstills and creep is None:
        raise UseError(
            code="FW-U-256",
            read="neither gauge nor meter",
            expected="--start, --end and --after; or --counted, --dial and --watched",
            matters="nothing was tested, and that is no answer",
            do="give what was read",
        )
    volume = reading(args, "volume", "pipe_volume")
    section = Section(
        volume,
        "" if volume is None else "as typed",
        args.pipes,
        args.appliances,
        args.dwelling,
        args.meter,
        gauge(args, "line-pressure"),
        fuel_named(args),
    )
    return Asked((Tightness(section, standstills, creep),), fuel_from(args) if fuel_named(args) else None)
