"""B15: the causes of one visit weighed, sentences and next round included, on one core in plain Python."""

import random

from benchmarks.causes import asked, visit
from benchmarks.measure import Aim, Report, Work, alternate
from fluewright.diagnose.diagnosis import Diagnosis, diagnosed

VISITS = 20
MOST = 0.050
"""s for one diagnosis."""


def questions() -> list[object]:
    """The same invented visits every time."""
    noise = random.Random(15)
    made = [visit(noise=noise) for _ in range(VISITS)]
    return [asked(each, read=each.read, seen=each.seen) for each in made]


def ours() -> list[Diagnosis]:
    """All of them."""
    return [diagnosed(each) for each in QUESTIONS]  # type: ignore[arg-type]


def looked_up() -> int:
    """The least that any weighing has to do: every number of the page of each visit touched once."""
    from fluewright.diagnose.table import page

    total = 0
    for each in QUESTIONS:
        found = page(each.design)  # type: ignore[attr-defined]
        total += sum(1 for row in found.rows.values() for part in row.means for _ in part)
    return total


QUESTIONS = questions()


def run() -> list[Report]:
    """Time it."""
    times = alternate({"ours": Work(ours, units=VISITS), "numbers touched": Work(looked_up, units=VISITS)})
    best = times["ours"].best
    return [
        Report(
            bench="B15",
            work="causes of a visit weighed, with sentences and next round",
            unit="visit",
            ours=times["ours"],
            peers={},
            share=times["numbers touched"].best / best,
            limit="every number of the page touched once, in plain Python",
            agreement="no peer is known",
            aims=(Aim(f"at most {MOST * 1e3:.0f} ms a visit: {best * 1e3:.0f} ms", best <= MOST),),
        )
    ]
