"""Makes src/fluewright/diagnose/likelihoods.json: what each fault does to the clues, by the virtual appliances.

    python scripts/likelihoods.py [FILE]

For every design, fault and third of severity a few hundred visits are drawn at random places; kept are the middle and
the spread of each clue, and how the clues go together. The same number of chance gives the same file.
"""

import json
import random
import statistics
import sys
from collections.abc import Sequence
from pathlib import Path
from typing import Any

from fluewright.diagnose.clues import clues
from fluewright.simulate.burned import burned
from fluewright.simulate.condition import Design
from fluewright.simulate.designs import designs
from fluewright.simulate.faults import Fault, faults_of
from fluewright.simulate.visits import invented

NUMBER = 20260
PARTS = ((0.0, 0.34), (0.33, 0.67), (0.66, 1.0))
DRAWS = 160
FOREIGN = 0.7
"""How far the constants of the model are varied; see simulate.draws."""
FILE = Path(__file__).resolve().parent.parent / "src" / "fluewright" / "diagnose" / "likelihoods.json"


def plate(design: Design) -> dict[str, float]:
    """What the plate of such an appliance says."""
    said = {"fuel_input": design.input, "gas_pressure": design.fuel_pressure, "oil_pressure": design.fuel_pressure,
            "line_pressure": 2000.0, "air_rise": design.rise, "water_rise": design.rise,
            "flame_current": design.current}  # fmt: skip
    if design.family == "premix":
        said["gas_pressure"] = 2000.0
    return {name: value for name, value in said.items() if value > 0.0}


def drawn(
    *, design: Design, fault: Fault | None, part: tuple[float, float], noise: random.Random
) -> list[dict[str, float]]:
    """Clues of many visits with one fault in one part of its severity."""
    rows = []
    most = burned(design.fuel).carbon_dioxide_most
    for _ in range(DRAWS):
        given = () if fault is None else (fault,)
        severities = tuple(noise.uniform(*part) for _ in given)
        visit = invented(noise=noise, design=design, faults=given, severities=severities, foreign=FOREIGN)
        found = clues(read=visit.readings, doubts={}, plate=plate(design), usual={}, most=most)
        rows.append({name: clue.value for name, clue in found.items()})
    return rows


def _middle(values: Sequence[float]) -> tuple[float, float]:
    """Mean and spread, both without the outermost twentieth on either side, so that tails do not carry them off."""
    ranked = sorted(values)
    cut = len(ranked) // 20
    kept = ranked[cut : len(ranked) - cut] or ranked
    return statistics.fmean(kept), max(statistics.pstdev(kept) * 1.25, 1e-4)


def _pooled(
    parts: list[list[dict[str, float]]], names: Sequence[str], marks: list[list[tuple[float, float]]]
) -> list[int]:
    """Correlations of the clues within the parts, in hundredths, below the diagonal row by row."""
    turned: list[list[float]] = [[] for _ in names]
    for rows, marked in zip(parts, marks, strict=True):
        for row in rows:
            for place, name in enumerate(names):
                mean, spread = marked[place]
                turned[place].append(max(-3.0, min(3.0, (row.get(name, mean) - mean) / spread)))
    found = []
    for one in range(len(names)):
        for other in range(one):
            found.append(round(100.0 * statistics.correlation(turned[one], turned[other])))
    return found


def entry(*, design: Design, fault: Fault | None, names: Sequence[str]) -> dict[str, Any]:
    """One hypothesis of the table."""
    noise = random.Random(f"{NUMBER} {design.name} {fault.name if fault else 'healthy'}")
    cuts = PARTS if fault else ((0.0, 0.0),)
    parts = [drawn(design=design, fault=fault, part=part, noise=noise) for part in cuts]
    marks = []
    for rows in parts:
        marks.append([_middle([row[name] for row in rows if name in row] or [0.0]) for name in names])
    return {
        "means": [[round(mean, 3) for mean, _ in marked] for marked in marks],
        "spreads": [[round(spread, 3) for _, spread in marked] for marked in marks],
        "together": _pooled(parts, names, marks),
    }


def table() -> dict[str, Any]:
    """The whole table."""
    made: dict[str, Any] = {}
    for design in designs().values():
        noise = random.Random(1)
        names = sorted(drawn(design=design, fault=None, part=(0.0, 0.0), noise=noise)[0])
        rows = {"healthy": entry(design=design, fault=None, names=names)}
        rows |= {fault.name: entry(design=design, fault=fault, names=names) for fault in faults_of(design)}
        made[design.name] = {"clues": names, "plate": plate(design), "rows": rows}
        made[design.name]["most"] = round(burned(design.fuel).carbon_dioxide_most, 5)
    return made


def main() -> None:
    """Write the file."""
    out = Path(sys.argv[1]) if len(sys.argv) > 1 else FILE
    out.write_text(json.dumps(table(), separators=(",", ":"), sort_keys=True) + "\n", encoding="utf-8")
    print(f"{out.name}: {out.stat().st_size / 1000:.0f} kB")


if __name__ == "__main__":
    main()
