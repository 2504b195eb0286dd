"""Gas pressures, pipes and times from the options of a question about gas supply."""

import argparse

from fluewright.errors import UseError
from fluewright.evidence.reading import Reading
from fluewright.kernel.pipe_sizes import FITTINGS
from fluewright.quantity import parse
from fluewright.visit import gas_typed
from fluewright.visit.gas_typed import Pipe
from fluewright.visit.place import surroundings_of


def _given(args: argparse.Namespace, option: str) -> str | None:
    text: str | None = getattr(args, option.replace("-", "_"))
    return text


def gauge(args: argparse.Namespace, option: str, quantity: str = "line_pressure") -> Reading | None:
    """A gauge pressure with its unit; None when the option was not given."""
    text = _given(args, option)
    if text is None:
        return None
    if gas_typed.unitless(text):
        raise UseError(
            code="FW-U-250",
            read=f"--{option} {text}, without a unit",
            expected='a pressure with its unit, such as "7.1 inwc" or "20.3 mbar"',
            matters="inches of water and millibar differ by two and a half times, enough to hide an over-pressure",
            do="type the unit the gauge shows",
        )
    place = surroundings_of(altitude=args.altitude, barometer=args.barometer)
    return gas_typed.line_reading(text, barometer=place.pressure, quantity=quantity)


def reading(args: argparse.Namespace, option: str, quantity: str) -> Reading | None:
    """Any other reading; None when the option was not given."""
    text = _given(args, option)
    return None if text is None else Reading(quantity, parse.parse(text, quantity=quantity))


def figure(args: argparse.Namespace, option: str, quantity: str) -> float | None:
    """One figure; None when the option was not given."""
    text = _given(args, option)
    return None if text is None else parse.single(text, quantity=quantity).value


def needed(args: argparse.Namespace, option: str, quantity: str) -> Reading:
    """A reading above zero that the question cannot do without."""
    found = reading(args, option, quantity)
    if found is None:
        raise _lacking(f"no --{option}", option)
    return above_nothing(found, option)


def above_nothing(found: Reading, option: str) -> Reading:
    """A reading that is above nothing; UseError FW-U-251 where it is not."""
    if (found.figure or 0.0) > 0.0:
        return found
    raise _lacking(f"--{option} {found.typed.text}", option)


def _lacking(read: str, option: str) -> UseError:
    return UseError(
        code="FW-U-251",
        read=read,
        expected=f"--{option} with a figure above zero",
        matters="there is no answer without it",
        do=f"add --{option}, with its unit",
    )


def pipe(args: argparse.Namespace) -> Pipe:
    """The pipe by its name or by its inside diameter."""
    inner = figure(args, "inside", "inner_diameter")
    known = gas_typed.pipe_named(args.pipe) if args.pipe is not None else None
    if inner is not None and inner > 0.0 and args.pipe is None:
        return gas_typed.pipe_of(inner)
    if known is not None and inner is None:
        return known
    raise UseError(
        code="FW-U-252",
        read=f"the pipe {args.pipe!r}, inside {args.inside!r}",
        expected="one of " + ", ".join(gas_typed.PIPES) + "; or --inside alone",
        matters="the drop goes with the fifth power of the inside diameter",
        do="give --pipe or --inside",
    )


def fittings(text: str | None) -> float:
    """Length over diameter of fittings typed as "90 elbow=3, ball valve=1"."""
    total = 0.0
    for part in (text or "").split(","):
        if not part.strip():
            continue
        name, _, count = (each.strip() for each in part.partition("="))
        if name not in FITTINGS or not count.isdecimal():
            raise UseError(
                code="FW-U-253",
                read=f"the fitting {part.strip()!r}",
                expected="how many of each, out of " + ", ".join(FITTINGS),
                matters="fittings can cost more than the pipe between them",
                do='type such as "90 elbow=3, ball valve=1"',
            )
        total += FITTINGS[name] * int(count)
    return total
