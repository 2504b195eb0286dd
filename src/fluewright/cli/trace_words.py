"""What fluewright trace says, as lines of text: what was understood, problems, stretches, agreement, signs."""

import math
from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING, Literal

from fluewright.cli.trace_judged import Judgement
from fluewright.evidence.trace import measure
from fluewright.evidence.trace.columns import shared_prefix
from fluewright.evidence.trace.compare import Agreement, Spread
from fluewright.evidence.trace.edges import Side
from fluewright.evidence.trace.peaks import CHANNELS, LIMIT, Peaks
from fluewright.evidence.trace.problems import Ledger, listed
from fluewright.evidence.trace.read import span
from fluewright.evidence.trace.sensors import Sign
from fluewright.evidence.trace.source import Source
from fluewright.evidence.trace.survey import Survey
from fluewright.evidence.trace.trace import Trace
from fluewright.evidence.trace.worked import Worked
from fluewright.kernel.response import spike_share
from fluewright.quantity import show
from fluewright.visit.work import Verdict

if TYPE_CHECKING:
    from fluewright.report.tree import Sheet

System = Literal["us", "si"]
BAR = 28
WIDTH = 96
"""Columns of the findings: narrower than the table of stretches, and still read at one go."""
ORDER = {
    "iso": "ISO 8601", "day-month-year": "day, month, year", "month-day-year": "month, day, year",
    "year-month-day": "year, month, day", "named month": "month by name", "clock": "time of day on an unknown day",
}  # fmt: skip
COLUMNS = (
    "oxygen_dry",
    "oxygen_wet",
    "carbon_dioxide_dry",
    "carbon_monoxide_dry",
    "flue_temperature",
    "firing_rate",
    "draft",
)
RESULTS = ("excess_air", "carbon_monoxide_air_free", "efficiency_gross")
HEADS = {
    "oxygen_dry": "O2 dry", "oxygen_wet": "O2 wet", "carbon_dioxide_dry": "CO2 dry", "carbon_monoxide_dry": "CO",
    "flue_temperature": "flue", "firing_rate": "rate", "draft": "draft", "excess_air": "excess air",
    "carbon_monoxide_air_free": "CO air-free", "efficiency_gross": "eff. gross",
}  # fmt: skip


def understood(source: Source) -> list[str]:
    """The file, its layout, and every column with what it was taken for and why."""
    lines = [f"{source.subject}: {len(source.columns)} columns", *(f"  {reason}" for reason in source.reasons)]
    form = source.form
    lines.append(f"  times: {ORDER.get(form.order, form.order)}, {form.zone or 'zone as in the cells, else not known'}")
    prefix = shared_prefix([column.header for column in source.columns])
    if prefix:
        lines.append(f"  names begin with {prefix.strip()!r}, left out below")
    rows = [("column", "taken as", "unit", "from", "to", "because")]
    for column in source.columns:
        taken = {"extra": "kept, not computed with", "unused": "not used"}.get(column.role, column.role)
        name = (column.quantity or taken).replace("_", " ") if column.role == "channel" else taken
        doubt = "" if column.sure else "guess: "
        rows.append(
            (
                column.header.removeprefix(prefix).replace("\n", " "),
                name,
                column.unit,
                _plain(column.low),
                _plain(column.high),
                doubt + column.reason,
            )
        )
    return lines + grid(rows, right={3, 4})


def _plain(value: float | None) -> str:
    return "" if value is None else f"{value:.4g}"


def first_rows(source: Source, count: int = 5) -> list[str]:
    """The first rows as they stand in the file."""
    rows = [("row", *(column.header for column in source.columns))]
    rows += [(str(number), *cells) for number, cells in source.sample[:count]]
    return grid([tuple(" ".join(cell.split())[:18] for cell in row) for row in rows])


def grid(rows: Sequence[Sequence[str]], right: set[int] | frozenset[int] = frozenset()) -> list[str]:
    """A table of text: columns as wide as their widest cell, two blanks between; no cell can steer the terminal."""
    rows = [["".join(sign if sign.isprintable() else "?" for sign in cell) for cell in row] for row in rows]
    widths = [max(len(row[i]) if i < len(row) else 0 for row in rows) for i in range(len(rows[0]))]
    return [
        "  "
        + "  ".join(
            cell.rjust(width) if i in right else cell.ljust(width)
            for i, (cell, width) in enumerate(zip(row, widths, strict=False))
        ).rstrip()
        for row in rows
    ]


def problems(ledger: Ledger) -> list[str]:
    """All problems with row and column, those of a kind together when they are many; then the balance."""
    groups = ledger.groups()
    if not groups:
        return ["problems: none"]
    gaps, refuse, notes = (ledger.count(weight=weight) for weight in ("gap", "refuse", "note"))
    balance = f"problems: {refuse} that refuse the file, {gaps} cells or rows left out as gaps, {notes} taken and noted"
    advice = list(dict.fromkeys(f"  {group.nature.code} {group.nature.title}: {group.nature.do}" for group in groups))
    return [balance, *(f"  {line}" for line in listed(groups)), "what to do", *advice]


def overview(trace: Trace, seen: Survey, rule: str) -> list[str]:
    """Length, step, gaps, and how much of it burns."""
    reach = f"from {trace.shown(seen.start)} to {trace.shown(seen.end)}"
    step = (
        f"one row every {span(seen.step.seconds)}"
        if seen.step.regular
        else f"rows about every {span(seen.step.seconds)}"
    )
    missing = f" with {seen.missing} rows missing" if seen.missing else ""
    return [
        f"{seen.count} rows {reach}, {step}, {seen.gaps} gaps{missing}",
        f"{seen.burning} rows burn, in {seen.runs} runs; {rule}",
    ]


PUFF = 5.0
"""Seconds of a puff as at lighting, for what a slow cell shows of it (common practice, no source)."""


def peak_lines(trace: Trace, found: Peaks, response_seconds: float) -> list[str]:
    """The highest carbon monoxide, which slow cells and averaged rows show too low, and each time beyond the limit."""
    if not found.channel or math.isnan(found.highest):
        return []
    share = float(spike_share(duration=PUFF, response_time=response_seconds))
    unit, scale, _ = measure.display(found.channel)
    lines = [
        f"highest carbon monoxide: at least {scale * found.highest:.0f} {unit} at {trace.shown(found.at)}; a cell with "
        f"T90 of {response_seconds:g} s shows {100.0 * share:.0f} % of a puff of {PUFF:g} s, and a mean over a row "
        "less still"
    ]
    if found.count:
        lines.append(f"carbon monoxide above {scale * LIMIT:.0f} {unit} while burning, {found.count} times")
    for one in found.over:
        kind = ": an ignition peak, and no more" if one.ignition else ""
        lines.append(
            f"  at least {scale * one.highest:.0f} {unit} at {trace.shown(one.at)}, for {one.seconds:g} s{kind}"
        )
    if found.count > len(found.over):
        lines.append(f"  and {found.count - len(found.over)} more, lower or shorter")
    return lines


def aligned(trace: Trace, t90: Mapping[str, float]) -> list[str]:
    """Why no ratio is made of single rows: gases of one row are not of one moment where the flame changes.

    t90  s, by registry name
    """
    pair = [name for name in ("oxygen_dry", "oxygen_wet", *CHANNELS) if trace.index(name) >= 0]
    if len(pair) < 2 or pair[-1] not in CHANNELS or pair[0] in CHANNELS:
        return []
    words = [f"{measure.words(name)} (T90 {t90[name]:g} s)" if name in t90 else measure.words(name) for name in pair]
    return [
        f"at a step of the flame {' and '.join(words)} of one row are not aligned: each lags by its own sensor and "
        "hose; air-free figures are made of steady stretches only"
    ]


def _sheet(judgement: Judgement) -> "Sheet":
    return Verdict(judgement.account, (), judgement.judged).sheet(brief=True)


def stop_lines(judgement: Judgement, plain: bool) -> list[str]:
    """The stop sentences, which stand before everything else."""
    if not judgement.grave:
        return []
    from fluewright.report import text
    from fluewright.report.text_parts import Pen

    pen = Pen(width=WIDTH, colour=False, plain=plain)
    for sentence in _sheet(judgement).stops:
        text.stop(pen, sentence)
    for finding in judgement.judged.findings:
        if finding.grade in ("stop", "act"):
            pen.paragraph([(finding.lead, "strong")], indent=4)
    return [*pen.lines, ""]


def finding_lines(judgement: Judgement, plain: bool) -> list[str]:
    """What was judged, and all findings with what the trace cannot tell."""
    from fluewright.report import text
    from fluewright.report.text_parts import Pen

    lines = [_scope(judgement), *(f"  not judged: {reason}" for reason in judgement.refused)]
    sheet, pen = _sheet(judgement), Pen(width=WIDTH, colour=False, plain=plain)
    text.findings(pen, sheet)
    pen.blank()
    pen.paragraph([(sheet.disclaimer, "quiet")])
    return [*lines, *pen.lines]


def _scope(judgement: Judgement) -> str:
    """Which stretches were judged, as what."""
    if not judgement.numbers:
        return "judged: no steady stretch, which clears nothing"
    some = "" if len(judgement.numbers) == judgement.of else " (the worst by gas and flue temperature, and the last)"
    fuel = judgement.account.fuel.words
    how = f"as {fuel}" + (
        ", because no fuel was named: only carbon monoxide and oxygen are judged" if judgement.assumed else ""
    )
    return f"judged: {len(judgement.numbers)} of {judgement.of} steady stretches{some}, {how}"


def ranges(seen: Survey, system: System) -> list[str]:
    """Each channel: values, gaps, bounds, and its distribution."""
    rows: list[tuple[str, ...]] = [
        ("channel", "unit", "values", "gaps", "bounds", "5 %", "25 %", "median", "75 %", "95 %")
    ]
    for one in seen.channels:
        name = one.channel.name
        unit, scale, offset = measure.display(name, system) if one.channel.quantity else (one.channel.unit, 1.0, 0.0)
        marks = [f"{quantile * scale + offset:.4g}" if one.count else "" for quantile in one.quantiles]
        rows.append((name.replace("_", " "), unit, str(one.count), str(one.gaps), str(one.bounds), *marks))
    return grid(rows, right={2, 3, 4, 5, 6, 7, 8, 9})


def stretch_table(trace: Trace, rows: Sequence[Worked], system: System, plain: bool) -> list[str]:
    """One line for each stretch: when, how long, means and results with twice their standard uncertainty."""
    channels = [name for name in COLUMNS if any(name in row.stretch.means for row in rows)]
    results = [name for name in RESULTS if any(name in row.values for row in rows)]
    units = [measure.display(name, system)[0] for name in (*channels, *results)]
    lines = [("", "from", "for", "rows", *(HEADS[name] for name in (*channels, *results))), ("", "", "", "", *units)]
    for row in rows:
        stretch = row.stretch
        pairs: list[tuple[float | None, float, Side]] = [
            (stretch.means.get(name), stretch.spreads.get(name, 0.0), stretch.side(name)) for name in channels
        ]
        pairs += [(*row.values.get(name, (None, 0.0)), _side_of_result(row, name)) for name in results]
        cells = [
            _cell(*pair, name=name, system=system, plain=plain)
            for pair, name in zip(pairs, (*channels, *results), strict=True)
        ]
        lines.append(
            (
                str(stretch.number),
                trace.shown(stretch.start),
                span(stretch.end - stretch.start),
                str(stretch.count),
                *cells,
            )
        )
    return grid(lines, right={0, 2, 3})


def _side_of_result(row: Worked, name: str) -> Side:
    """Air-free carbon monoxide is a floor or a ceiling where the reading is."""
    return row.stretch.side("carbon_monoxide_dry") if name == "carbon_monoxide_air_free" else ""


def _cell(value: float | None, spread: float, side: Side, *, name: str, system: System, plain: bool) -> str:
    if value is None:
        return ""
    text = show.shown(value, None if side else spread or None, quantity=name, system=system, plain=plain)
    unit = measure.display(name, system)[0]
    return f"{side} {text.removesuffix(unit).removesuffix(unit.lstrip('°')).strip()}".strip()


def agreement_lines(agreement: Agreement, system: System, plain: bool) -> list[str]:
    """One agreement: quantiles, a histogram in text, by place in the run, by month, and the tails."""
    unit, scale, _ = measure.display(agreement.name, system)
    points = "points" if unit == "%" else unit
    lines = [
        f"measured - computed {agreement.name.replace('_', ' ')}, from {agreement.basis}: "
        f"median {scale * agreement.spread.median:+.2f} {points} over {agreement.spread.count} rows",
        *_histogram(agreement.spread, scale, plain),
    ]
    rows = [("", "rows", "5 %", "25 %", "median", "75 %", "95 %"), _quantiles("all", agreement.spread, scale)]
    rows += [_quantiles(place, spread, scale) for place, spread in agreement.places]
    rows += [_quantiles(month, spread, scale) for month, spread in agreement.months]
    return lines + grid(rows, right={1, 2, 3, 4, 5, 6}) + [f"  {tail}" for tail in agreement.tails]


def _quantiles(label: str, spread: Spread, scale: float) -> tuple[str, ...]:
    return (label, str(spread.count), *(f"{scale * quantile:+.2f}" for quantile in spread.quantiles))


def _histogram(spread: Spread, scale: float, plain: bool) -> list[str]:
    most, ink = max(spread.bins) or 1, "#" if plain else "█"
    return [
        f"  {scale * low:+6.2f} to {scale * high:+6.2f}  {ink * round(BAR * count / most):<{BAR}} {count}"
        for low, high, count in zip(spread.edges, spread.edges[1:], spread.bins, strict=False)
    ]


def sign_lines(signs: Sequence[Sign]) -> list[str]:
    """What the trace reveals of its sensors, each with what it means."""
    lines = ["what the trace reveals of its sensors"] if signs else []
    for sign in signs:
        lines += [f"  - {sign.what}", f"    so: {sign.means}"]
    return lines
