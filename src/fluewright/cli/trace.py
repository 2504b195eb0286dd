"""fluewright trace: what a recorded trace holds, its steady stretches, and what they come to."""

import argparse
import sys
from collections.abc import Iterator
from contextlib import ExitStack
from dataclasses import replace
from pathlib import Path
from typing import Any

from fluewright.cli import trace_data, trace_events, trace_files, trace_judged, trace_words
from fluewright.cli.progress import Progress
from fluewright.cli.trace_data import Found
from fluewright.errors import UseError
from fluewright.evidence import judge
from fluewright.evidence.reading import Point, Reading
from fluewright.evidence.trace import closing, compare, mapping, measure, sensors, times
from fluewright.evidence.trace.burning import Rule
from fluewright.evidence.trace.mapping import ColumnSaid
from fluewright.evidence.trace.mapping import Mapping as Said
from fluewright.evidence.trace.peaks import peaks
from fluewright.evidence.trace.problems import Ledger
from fluewright.evidence.trace.read import take
from fluewright.evidence.trace.source import Source, understand
from fluewright.evidence.trace.steady import criterion_of
from fluewright.evidence.trace.stretch import each
from fluewright.evidence.trace.survey import Survey, survey
from fluewright.evidence.trace.trace import Trace, averaged
from fluewright.evidence.trace.worked import ROOM, Air, Worked, worked
from fluewright.fuels.record import FuelRecord
from fluewright.kernel import analysis
from fluewright.kernel.air import DRY_AIR
from fluewright.kernel.analysis import Prepared
from fluewright.live.recorded import Seen
from fluewright.quantity import parse, uncertain
from fluewright.visit import fuel_of, keep

SHOWN_STRETCHES = 40
DATES = {"dmy": "day-month-year", "mdy": "month-day-year", "ymd": "year-month-day"}


def add(parser: argparse.ArgumentParser) -> None:
    """The options of this verb."""
    parser.add_argument("file", metavar="FILE", help="CSV or Parquet; - reads a pipe")
    look = parser.add_argument_group("looking before taking")
    look.add_argument("--preview", action="store_true", help="first rows, and what each column is taken for")
    look.add_argument(
        "-n", "--dry-run", action="store_true", help="list every problem with row and column; take nothing"
    )
    look.add_argument("--mapping", metavar="M", type=Path, help="what the columns are, as TOML")
    look.add_argument(
        "--write-mapping", metavar="M", type=Path, help="write what was understood, to be corrected and used again"
    )
    look.add_argument("--zone", metavar="Z", help="zone of times that name none: +01:00, UTC, Europe/Berlin")
    look.add_argument("--dates", choices=tuple(DATES), help="order of day, month and year")
    look.add_argument("--decimal", choices=(".", ","), help="decimal mark")
    work = parser.add_argument_group("working it out")
    work.add_argument("--fuel", metavar="NAME", help="fuel of the library, or a blend; without it nothing is computed")
    work.add_argument("--composition", metavar="TEXT", help="such as CH4=95,C2H6=5")
    work.add_argument("--fuel-file", metavar="F", type=Path, help="file of the same form as the library's")
    work.add_argument("--air", metavar="X", help="temperature of the combustion air, such as 25C")
    work.add_argument("--air-column", metavar="NAME", help="column with the temperature of the combustion air")
    work.add_argument("--instrument", default="service", metavar="CLASS", help="accuracy class of the instrument")
    work.add_argument(
        "--response", metavar="X", help="T90 of the slowest sensor, such as '60 s'; else that of the class"
    )
    work.add_argument("--step", metavar="X", help="average rows into steps first, such as '1 min'")
    work.add_argument(
        "--compare", action="store_true", help="measured against computed, and what that reveals of the sensors"
    )
    work.add_argument("--events", action="store_true", help="what changed when, and what it means")
    work.add_argument(
        "--mark",
        metavar="X",
        action="append",
        default=[],
        help="what was done when: '14:03:20 blower on'; with --events",
    )
    _add_judging(parser)


def _add_judging(parser: argparse.ArgumentParser) -> None:
    """The options about the appliance and what is written."""
    appliance = parser.add_argument_group("judging it")
    appliance.add_argument(
        "--burner", choices=("unknown", *judge.burners()), default="unknown", help="for its window of oxygen"
    )
    made = appliance.add_mutually_exclusive_group()
    made.add_argument("--condensing", action="store_true", default=None, help="the appliance is made to condense")
    made.add_argument("--not-condensing", dest="condensing", action="store_false", help="it is not made to condense")
    appliance.add_argument("--output", metavar="X", help="nominal heat output, such as 24kW")
    appliance.add_argument("--jurisdiction", default="", help="country code, such as US, US-MN, DE, GB")
    appliance.add_argument(
        "--point", choices=("undiluted", "diluted"), default="undiluted", help="behind a draft hood: diluted"
    )
    out = parser.add_argument_group("what to print and write")
    out.add_argument(
        "--units", choices=("us", "si"), help="of what is printed and of bare numbers; printed in si when not said"
    )
    out.add_argument("--force", action="store_true", help="replace files that are already there")
    out.add_argument("--csv", metavar="OUT", type=Path, help="one row for each stretch")
    out.add_argument("--svg", metavar="OUT", type=Path, help="the strip: channels over time with the stretches")
    out.add_argument("--progress", action="store_true", help="show the bar although standard error is no terminal")


def run(args: argparse.Namespace) -> int:
    """Read, judge and print one trace."""
    args.units = args.units or "si"
    _may_write(args)
    ledger, progress = Ledger(), Progress(show=args.progress, plain=args.plain)
    said = _said(args)
    with ExitStack() as stack:
        piped = args.file == "-"
        path = stack.enter_context(trace_files.from_pipe()) if piped else Path(args.file)
        stack.callback(progress.done)
        source = understand(path, ledger, mapping=said, subject="" if piped else str(args.file))
        if source is not None and args.write_mapping:
            keep.write_all([(args.write_mapping, mapping.text_of(kept(source)).encode())])
            print(f"mapping written to {args.write_mapping}", file=sys.stderr)
        if args.preview and source is not None:
            _print_preview(args, source, ledger)
        if source is None or args.preview:
            if source is None and args.dry_run:
                _print_problems(args, ledger)
            ledger.refuse(subject=str(args.file))
            return 0
        trace = stack.enter_context(take(source, ledger, tick=progress.watch("reading")))
        if args.dry_run:
            progress.done()
            _print_problems(args, ledger)
        ledger.refuse(subject=str(args.file))
        return 0 if args.dry_run else _work(args, source, trace, ledger, progress)


def _may_write(args: argparse.Namespace) -> None:
    """Nothing is written over what is read, nor over any other file unasked; nothing asked for is left unwritten."""
    asked = " and ".join(name for name, path in (("--csv", args.csv), ("--svg", args.svg)) if path is not None)
    if args.preview and asked:
        raise UseError(
            code="FW-U-215", read=f"--preview with {asked}", expected="one or the other",
            matters="looking takes nothing, so that the file would not be written", do="leave out --preview",
        )  # fmt: skip
    outputs = [path for path in (args.csv, args.svg, args.write_mapping) if path is not None]
    inputs = [path for path in (Path(args.file), args.mapping, args.fuel_file) if path is not None and str(path) != "-"]
    keep.free(outputs, inputs=inputs, replace=args.force)


def _said(args: argparse.Namespace) -> Said:
    """The mapping file with what the command line says on top."""
    said = mapping.load(args.mapping) if args.mapping else Said()
    if args.zone is not None:
        try:
            if times.zone_of(args.zone) is None:
                raise ValueError("a zone without a name")
        except ValueError as error:
            raise UseError(
                code="FW-U-212", read=f"--zone {args.zone}", expected="+01:00, UTC or a place such as Europe/Berlin",
                matters="a wrong zone moves every reading", do="correct the zone",
            ) from error  # fmt: skip
        said = replace(said, zone=args.zone)
    if args.dates:
        said = replace(said, order=DATES[args.dates])
    return replace(said, decimal=args.decimal) if args.decimal else said


def kept(source: Source) -> Said:
    """What was understood, as a mapping that gives the same again."""
    layout, when, clock = source.layout, source.of("time"), source.of("clock")
    columns = {
        column.header: ColumnSaid(column.quantity, column.unit, column.role != "unused")
        for column in source.columns
        if column.role in {"channel", "unused"}
    }
    return Said(
        encoding=layout.encoding if layout else "", delimiter=layout.delimiter if layout else "",
        decimal=layout.decimal if layout else "", header_line=layout.header_line if layout else 0,
        time_column=when[0].header if when else "", clock_column=clock[0].header if clock else "",
        order=source.form.order if when else "", zone=source.form.zone, columns=columns,
    )  # fmt: skip


def _print_preview(args: argparse.Namespace, source: Source, ledger: Ledger) -> None:
    if args.json:
        taken = {"understood": trace_data.understood(source), "problems": trace_data.problems(ledger)}
        print(trace_data.text(taken))
        return
    rows = trace_words.first_rows(source)
    lines = [*trace_words.understood(source), "", "first rows", *rows, "", *trace_words.problems(ledger)]
    print("\n".join(lines))


def _print_problems(args: argparse.Namespace, ledger: Ledger) -> None:
    if args.json:
        print(trace_data.text({"problems": trace_data.problems(ledger)}))
    else:
        print("\n".join(trace_words.problems(ledger)))


def _work(args: argparse.Namespace, source: Source, trace: Trace, ledger: Ledger, progress: Progress) -> int:
    trace.tick = progress.watch("looking")
    found = _found(args, source, trace)
    trace = found.trace
    contents = []
    if args.csv:
        contents.append((args.csv, trace_files.table(trace, found.rows, args.units).encode()))
    if args.svg:
        from fluewright.cli.trace_strip import strip_of
        from fluewright.report import drawing

        contents.append((args.svg, drawing.svg(strip_of(trace, found.seen, found.rows, args.units)).encode()))
    keep.write_all(contents)
    progress.done()
    print(
        trace_data.text(trace_data.data(found, ledger, args.units))
        if args.json
        else "\n".join(_text(args, found, ledger))
    )
    return 1 if found.judgement.grave or (found.watched is not None and found.watched.grave) else 0


SHORTEST = 1e-3
"""s: no logger writes faster (common practice, no source)."""
DAY = 86_400.0
"""s: no sensor is slower (common practice, no source)."""


def _seconds(text: str, option: str, *, most: float) -> float:
    """A duration on the command line; it must last, and not for longer than what it is used on."""
    seconds = float(parse.single(text, quantity="duration").value or 0.0)
    if SHORTEST <= seconds <= most:
        return seconds
    raise UseError(
        code="FW-U-214", read=f"{option} {text}",
        expected=f"more than nothing and at most {most:g} s, such as '60 s' or '1 min'",
        matters="readings are averaged and stretches found over that time", do="give a time that fits the trace",
    )  # fmt: skip


def _found(args: argparse.Namespace, source: Source, trace: Trace) -> Found:
    seen, record, air = survey(trace), _record(args), _air(args, trace)
    account = trace_judged.account_of(args, record=record, day=trace_judged.day_of(trace, seen.end))
    prepared = analysis.prepare(fuel=record.fuel, air=DRY_AIR) if record else None
    own = accuracy_of(args.instrument)
    response = _seconds(args.response, "--response", most=DAY) if args.response else response_of(trace, args.instrument)
    high = peaks(trace, seen, response_seconds=_of_the_cell(args, response))
    if args.step:
        whole = seen.end - seen.start + seen.step.seconds
        trace = averaged(trace, step_seconds=_seconds(args.step, "--step", most=whole))
        seen = survey(trace)
    criterion = criterion_of(trace, seen, response_seconds=response)
    rows = tuple(
        worked(stretch, prepared=prepared, air=air) if prepared else Worked(stretch, {}, refused="no fuel was named")
        for stretch in each(trace, response_seconds=response, accuracy=own, seen=seen)
    )
    judgement = trace_judged.judge(
        account, trace, rows, point=Point("the flue", args.point), peaks=high, accuracy=own, air=air,
        typed_air=_typed_air(args), assumed=record is None,
    )  # fmt: skip
    found = Found(
        source, trace, seen, Rule(trace).words(), criterion.words(), response, rows, high, judgement,
        watched=_watched(args, trace, seen),
    )  # fmt: skip
    return _compared(args, found, prepared, air) if args.compare and prepared else found


def _watched(args: argparse.Namespace, trace: Trace, seen: Survey) -> Seen | None:
    """What changed when, where it was asked for."""
    if not (args.events or args.mark):
        return None
    from fluewright.live import recorded

    marks = trace_events.marked(args.mark, trace, seen.start)
    said = _seconds(args.response, "--response", most=DAY) if args.response else None
    responses = dict.fromkeys(trace.names, said) if said else {}
    return recorded.watched(
        trace, marks=marks, instrument_class=args.instrument, responses=responses, system=args.units
    )


def _of_the_cell(args: argparse.Namespace, slowest: float) -> float:
    """T90 of the carbon monoxide cell: as said, else that of the class."""
    return slowest if args.response else responses_of(args.instrument).get("carbon_monoxide_dry", slowest)


def _compared(args: argparse.Namespace, found: Found, prepared: Prepared, air: Air) -> Found:
    trace, seen = found.trace, found.seen
    burning = compare.burning_rows(trace, seen)
    agreements = compare.agreements(trace, burning, prepared=prepared, airs=tuple(_airs(args, trace, air)))
    dioxide = next((one for one in agreements if one.name == "carbon_dioxide_dry"), None)
    ways = closing.closing(burning, dioxide, prepared) if dioxide else ()
    return replace(found, agreements=agreements, closing=ways, signs=sensors.signs(trace, seen, agreements))


def _record(args: argparse.Namespace) -> FuelRecord | None:
    if not args.compare and not (args.fuel or args.composition or args.fuel_file):
        return None
    return fuel_of.chosen(name=args.fuel, inline=args.composition, file=args.fuel_file)


def _typed_air(args: argparse.Namespace) -> Reading | None:
    """The combustion air as a person said it."""
    if args.air is None:
        return None
    return Reading("air_temperature", parse.single(args.air, quantity="air_temperature"))


def _air(args: argparse.Namespace, trace: Trace) -> Air:
    """Where the combustion-air temperature comes from: said, a column named, its own channel, or 25 C assumed."""
    if args.air is not None:
        typed = parse.single(args.air, quantity="air_temperature")
        return Air(f"air of {args.air}", float(typed.value or ROOM), 1.0)
    if args.air_column is not None:
        channel = next((c for c in trace.channels if args.air_column in (c.header, c.name)), None)
        if channel is None or not channel.quantity or measure.kind(channel.name) != "temperature":
            names = ", ".join(c.header for c in trace.channels if c.quantity and measure.kind(c.name) == "temperature")
            raise UseError(
                code="FW-U-213", read=f"--air-column {args.air_column}", expected=f"a column of temperatures: {names}",
                matters="the losses count from the temperature of the combustion air",
                do="name one of these, or use --air",
            )  # fmt: skip
        return Air(f"the column {channel.header}", channel=channel.name)
    if trace.index("air_temperature") >= 0:
        return Air("the measured combustion air", channel="air_temperature")
    return Air("air of 25 °C, assumed")


def _airs(args: argparse.Namespace, trace: Trace, air: Air) -> Iterator[tuple[str, float | str]]:
    """The airs that a comparison is made with: the one chosen, and outdoors and 25 C beside it when nobody chose."""
    yield air.words, air.channel or air.temperature
    if args.air is None and args.air_column is None:
        if trace.index("outdoor_temperature") >= 0:
            yield "outdoor air", "outdoor_temperature"
        if air.channel:
            yield "air of 25 °C", ROOM


def response_of(trace: Trace, instrument: str) -> float:
    """The slowest T90 among the channels of an instrument class that this trace has; 60 s where it has none."""
    names = {channel.name for channel in trace.channels if channel.quantity}
    return max((t90 for name, t90 in responses_of(instrument).items() if name in names), default=60.0)


def responses_of(instrument: str) -> dict[str, float]:
    """T90 in seconds by registry name, of an instrument class."""
    return {
        name: channel.t90 for channel in uncertain.instrument_class(instrument).channels for name in channel.quantities
    }


def accuracy_of(instrument: str) -> Any:
    """The instrument's own standard uncertainty by quantity and value; 0 for what the class does not read."""
    known = {name for channel in uncertain.instrument_class(instrument).channels for name in channel.quantities}

    def accuracy(name: str, value: float) -> float:
        if name not in known:
            return 0.0
        spread = uncertain.standard_uncertainty(quantity=name, value=value, instrument_class=instrument)
        return max(spread.below, spread.above)

    return accuracy


def _text(args: argparse.Namespace, found: Found, ledger: Ledger) -> list[str]:
    lines = [*trace_events.stop_lines(found.watched), *trace_words.stop_lines(found.judgement, args.plain)]
    lines += [*trace_words.understood(found.source), "", *trace_words.problems(ledger), ""]
    lines += [
        *trace_words.overview(found.trace, found.seen, found.rule),
        *trace_words.peak_lines(found.trace, found.peaks, _of_the_cell(args, found.response)),
        *trace_words.aligned(found.trace, responses_of(args.instrument)),
        *trace_words.ranges(found.seen, args.units),
        "",
    ]
    lines += [f"{len(found.rows)} steady stretches; {found.criterion}"]
    shown = found.rows[:SHOWN_STRETCHES]
    if shown:
        lines += trace_words.stretch_table(found.trace, shown, args.units, args.plain)
        lines += [f"  {'+-' if args.plain else '±'} is twice the standard uncertainty; {_computed_with(found)}"]
        lines += [f"  first of them: {shown[0].stretch.kind}, {shown[0].stretch.reason}"]
    if len(found.rows) > len(shown):
        lines += [f"  {len(found.rows) - len(shown)} more: --csv OUT writes all of them"]
    if found.watched:
        lines += ["", *trace_events.lines(found.watched, found.trace)]
    lines += ["", *trace_words.finding_lines(found.judgement, args.plain)]
    for agreement in found.agreements:
        lines += ["", *trace_words.agreement_lines(agreement, args.units, args.plain)]
    if found.closing:
        lines += ["", "what would close the gap in carbon dioxide", *(f"  - {way}" for way in found.closing)]
    return [*lines, "", *trace_words.sign_lines(found.signs)] if found.signs else lines


def _computed_with(found: Found) -> str:
    refused = {row.refused for row in found.rows if row.refused}
    air = next((row.air for row in found.rows if row.air), "")
    words = [f"computed with {air}"] if air else []
    return "; ".join([*words, *(f"not computed: {reason}" for reason in sorted(refused))]) or "as measured"
