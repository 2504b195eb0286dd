"""`python -m benchmarks [B2 B5 ...] [--json] [--write FILE]`: one table; nothing is written unless asked for."""

import argparse
import importlib
import json
import sys
import time
from pathlib import Path
from typing import Any

from benchmarks import measure
from benchmarks.measure import Report, machine

BENCHES = {
    "B1": "b01_one_visit",
    "B2": "b02_million_arrays",
    "B3": "b03_row_loop",
    "B5": "b05_uncertain_scalar",
    "B6": "b06_uncertain_columns",
    "B7": "b07_append",
    "B8": "b08_import",
    "B9": "b09_verify",
    "B12": "b12_pages",
    "B10": "b10_last_readings",
    "B11": "b11_live",
    "B14": "b14_reconcile",
    "B15": "b15_causes",
    "B16": "b16_merge",
    "B18": "b18_start",
    "B19": "b19_views",
    "B20": "b20_suspect",
}


def shown(seconds: float) -> str:
    """A time with three figures in the unit that fits."""
    for unit, size in (("s", 1.0), ("ms", 1e-3), ("us", 1e-6)):
        if seconds >= size:
            return f"{seconds / size:.3g} {unit}"
    return f"{seconds * 1e9:.3g} ns"


def text(report: Report) -> list[str]:
    """One report as lines of the table."""
    lines = [f"{report.bench}  {report.work}"]
    rows = [("ours", report.ours, ""), *((n, t, f"{report.ratio(n):,.3g} x") for n, t in report.peers.items())]
    for name, times, ratio in rows:
        lines.append(f"  {name:<28}{shown(times.best):>10} {shown(times.median):>10} /{report.unit:<8}{ratio:>10}")
    lines.append(f"  share of the limit          {report.share:>10.1%}   ({report.limit})")
    lines.append(f"  agreement                   {report.agreement}")
    lines += [f"  {'reached ' if aim.met else 'MISSED  '}                    {aim.words}" for aim in report.aims]
    return lines


def data(report: Report) -> dict[str, Any]:
    """One report as plain data, seconds for one unit."""
    everybody = {"ours": report.ours, **report.peers}
    return {
        "bench": report.bench,
        "work": report.work,
        "unit": report.unit,
        "seconds": {name: {"best": t.best, "median": t.median, "rounds": t.rounds} for name, t in everybody.items()},
        "ratio": {name: report.ratio(name) for name in report.peers},
        "share_of_limit": report.share,
        "limit": report.limit,
        "agreement": report.agreement,
        "aims": [{"words": aim.words, "met": aim.met} for aim in report.aims],
    }


def main() -> int:
    """Run the benches asked for, all when none is named."""
    parser = argparse.ArgumentParser(prog="python -m benchmarks", description="Measured speed beside its limits.")
    parser.add_argument("bench", nargs="*", choices=[*BENCHES, []], metavar="BENCH", help=", ".join(BENCHES))
    parser.add_argument("--json", action="store_true", help="data instead of a table")
    parser.add_argument("--write", type=Path, metavar="FILE", help="also keep the data in a file")
    parser.add_argument("--full", action="store_true", help="the journal at its full size: half an hour and 10 GB")
    parser.add_argument("--shop", type=Path, metavar="FILE", help="the shop of B19, kept from run to run")
    asked = parser.parse_args()
    measure.FULL, measure.KEPT = asked.full, asked.shop
    start = time.perf_counter()
    here = machine()
    reports: list[Report] = []
    if not asked.json:
        print(", ".join(f"{name} {value}" for name, value in here.items() if name != "versions"))
        print(", ".join(f"{name} {version}" for name, version in here["versions"].items()))
        print(f"{'':<30}{'best':>10} {'median':>10}{'':>10}{'ratio':>9}")
    for name in asked.bench or BENCHES:
        for report in importlib.import_module(f"benchmarks.{BENCHES[name]}").run():
            reports.append(report)
            if not asked.json:
                print("\n".join(text(report)), flush=True)
    everything = {"machine": here, "reports": [data(report) for report in reports]}
    if asked.json:
        print(json.dumps(everything, indent=1))
    else:
        missed = sum(not aim.met for report in reports for aim in report.aims)
        print(f"aims missed: {missed}; in {time.perf_counter() - start:.0f} s")
    if asked.write:
        asked.write.write_text(json.dumps(everything, indent=1) + "\n", encoding="utf-8")
    return 0


if __name__ == "__main__":
    sys.exit(main())
