"""Writes golden.json: cases and answers that any Python has to reproduce.

    python tests/doors/make_golden.py

Run it only after a change that is meant to move results, and look at the difference it makes.
"""

import json
import sys
from pathlib import Path

HERE = Path(__file__).resolve().parent
GOLDEN = HERE / "golden.json"
CASES, FLAMES = 420, 20
DIGITS = 12


def rounded(value: float) -> float:
    """Twelve digits: three more than are compared."""
    return float(f"{value:.{DIGITS}g}")


def golden() -> str:
    """The file, one case a line."""
    import doorways

    cases = doorways.cases(CASES)
    flames = doorways.flames(FLAMES)
    rows = [json.dumps([list(case.values()), [rounded(v) for v in doorways.answers(case)]]) for case in cases]
    flame_rows = [json.dumps([flame, {k: rounded(v) for k, v in doorways.settled(flame).items()}]) for flame in flames]
    head = f'"given": {json.dumps(list(cases[0]))},\n"names": {json.dumps(doorways.NAMES)}'
    body = ",\n".join(rows).replace(", ", ",")
    fires = ",\n".join(flame_rows)
    return f'{{{head},\n"cases": [\n{body}\n],\n"flames": [\n{fires}\n]}}\n'


if __name__ == "__main__":
    sys.path[:0] = [str(HERE), str(HERE.parent.parent / "src")]
    GOLDEN.write_text(golden(), encoding="utf-8")
    print(f"{GOLDEN.name}: {CASES} cases, {FLAMES} flames, {GOLDEN.stat().st_size / 1000:.0f} kB")
