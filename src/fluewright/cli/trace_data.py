"""What one run of fluewright trace found, and the same as plain data for a program."""

import json
import math
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from fluewright.cli import trace_events
from fluewright.cli.trace_judged import Judgement
from fluewright.evidence.finding import finding_as_data
from fluewright.evidence.trace import compare, measure
from fluewright.evidence.trace.compare import Agreement
from fluewright.evidence.trace.peaks import Peak, Peaks
from fluewright.evidence.trace.problems import Ledger
from fluewright.evidence.trace.sensors import Sign
from fluewright.evidence.trace.source import Source
from fluewright.evidence.trace.survey import Survey
from fluewright.evidence.trace.trace import Trace
from fluewright.evidence.trace.worked import Worked
from fluewright.live.recorded import Seen


@dataclass(frozen=True, slots=True)
class Found:
    """Everything one run found out."""

    source: Source
    trace: Trace
    seen: Survey
    rule: str
    criterion: str
    response: float
    rows: tuple[Worked, ...]
    peaks: Peaks
    judgement: Judgement
    agreements: tuple[Agreement, ...] = ()
    closing: tuple[str, ...] = ()
    signs: tuple[Sign, ...] = ()
    watched: Seen | None = None


def text(data: Mapping[str, Any]) -> str:
    """Data as JSON; a number that is none, such as a quantile of no rows, is null."""
    return json.dumps(_finite(data), ensure_ascii=False, indent=1, allow_nan=False)


def _finite(data: Any) -> Any:
    if isinstance(data, Mapping):
        return {name: _finite(value) for name, value in data.items()}
    if isinstance(data, list | tuple):
        return [_finite(value) for value in data]
    return None if isinstance(data, float) and not math.isfinite(data) else data


def understood(source: Source) -> dict[str, Any]:
    """The file, its layout and its columns."""
    layout = source.layout
    return {
        "file": source.subject, "encoding": layout.encoding if layout else "parquet",
        "delimiter": layout.delimiter if layout else "", "decimal": layout.decimal if layout else ".",
        "header_line": layout.header_line if layout else 0, "time": source.form.order, "zone": source.form.zone,
        "columns": [
            {"header": c.header, "role": c.role, "quantity": c.quantity, "unit": c.unit, "low": c.low, "high": c.high,
             "sure": c.sure, "because": c.reason}
            for c in source.columns
        ],
    }  # fmt: skip


def problems(ledger: Ledger) -> list[dict[str, object]]:
    """All problems, those of a kind together."""
    return [group.plain() for group in ledger.groups()]


def _pairs(pairs: Mapping[str, tuple[float, float]], system: str) -> dict[str, dict[str, object]]:
    found = {}
    for name, (value, spread) in pairs.items():
        unit, scale, offset = measure.display(name, system) if measure.known(name) else ("", 1.0, 0.0)
        found[name] = {"value": value * scale + offset, "unit": unit, "uncertainty": spread * scale}
    return found


def data(found: Found, ledger: Ledger, system: str) -> dict[str, Any]:
    """Everything, for --json."""
    seen, trace = found.seen, found.trace
    return {
        "understood": understood(found.source), "problems": problems(ledger),
        "rows": seen.count, "burning": seen.burning, "runs": seen.runs, "gaps": seen.gaps, "missing": seen.missing,
        "start": trace.shown(seen.start), "end": trace.shown(seen.end), "step_seconds": seen.step.seconds,
        "burning_rule": found.rule, "steady_rule": found.criterion, "uncertainty_kind": "standard, one sigma",
        "stretches": [
            {"number": r.stretch.number, "start": trace.shown(r.stretch.start), "end": trace.shown(r.stretch.end),
             "rows": r.stretch.count, "kind": r.stretch.kind, "reason": r.stretch.reason, "refused": r.refused,
             "bounds": dict(r.stretch.bounds), "sides": {name: r.stretch.side(name) for name in r.stretch.bounds},
             "means": _pairs({n: (m, r.stretch.spreads[n]) for n, m in r.stretch.means.items()}, system),
             "results": _pairs(r.values, system)}
            for r in found.rows
        ],
        "agreements": [_agreement(one, system) for one in found.agreements],
        "findings": [finding_as_data(finding) for finding in found.judgement.judged.findings],
        "cannot_tell": list(found.judgement.judged.cannot_tell),
        "judged": {"stretches": list(found.judgement.numbers), "of": found.judgement.of,
                   "fuel": found.judgement.account.fuel.name, "fuel_assumed": found.judgement.assumed,
                   "refused": list(found.judgement.refused)},
        "peaks": [_peak(one, trace) for one in found.peaks.over], "peaks_count": found.peaks.count,
        "closing": list(found.closing),
        **(trace_events.data(found.watched, trace) if found.watched else {}),
        "signs": [{"channels": list(s.channels), "what": s.what, "means": s.means} for s in found.signs],
    }  # fmt: skip


def _peak(peak: Peak, trace: Trace) -> dict[str, Any]:
    return {
        "start": trace.shown(peak.start), "at": trace.shown(peak.at), "seconds": peak.seconds, "unit": "ppm",
        "at_least": 1e6 * peak.highest, "mean": 1e6 * peak.mean, "over_range": peak.bound, "ignition": peak.ignition,
    }  # fmt: skip


def _agreement(one: Agreement, system: str) -> dict[str, Any]:
    unit, scale, _ = measure.display(one.name, system)

    def plain(spread: compare.Spread) -> dict[str, Any]:
        quantiles = dict(
            zip(("q05", "q25", "median", "q75", "q95"), (scale * q for q in spread.quantiles), strict=True)
        )
        return {
            "count": spread.count,
            **quantiles,
            "edges": [scale * e for e in spread.edges],
            "bins": list(spread.bins),
        }

    return {
        "channel": one.name, "difference": "measured - computed", "computed_from": one.basis, "unit": unit,
        **plain(one.spread), "tails": list(one.tails),
        "places": {place: plain(spread) for place, spread in one.places},
        "months": {month: plain(spread) for month, spread in one.months},
    }  # fmt: skip
