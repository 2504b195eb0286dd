"""Counts of the trust tests, told by each test and printed as one table when all have run.

A test that passes says only that nothing was wrong; the counts say how often it was tried.
"""

from dataclasses import dataclass

COLUMNS = ("acknowledged", "killed", "lost")
"""Counts with a column of their own; all others stand behind, each with its word."""


@dataclass(frozen=True, slots=True)
class Count:
    """What one trust test counted.

    number  of the trust test, 1 to 25
    name    what was done
    counts  by word
    """

    number: int
    name: str
    counts: dict[str, int]


KEPT: list[Count] = []
"""What was told in this run."""


def told(number: int, name: str, **counts: int) -> None:
    """Put one line into the table.

    number  of the trust test
    name    what was done, in a few words; the same name told again replaces the earlier line
    counts  acknowledged, killed, lost, and others by their own word
    """
    KEPT[:] = [each for each in KEPT if (each.number, each.name) != (number, name)]
    KEPT.append(Count(number, name, dict(counts)))


def table() -> list[str]:
    """The lines of the table; none when no trust test ran."""
    if not KEPT:
        return []
    rows = [["", "trust test", *COLUMNS, "and"]]
    for each in sorted(KEPT, key=lambda count: (count.number, count.name)):
        others = [f"{word.replace('_', ' ')} {n:,}" for word, n in each.counts.items() if word not in COLUMNS]
        firsts = [f"{each.counts[word]:,}" if word in each.counts else "" for word in COLUMNS]
        rows.append([str(each.number), each.name, *firsts, ", ".join(others)])
    wide = [max(len(row[at]) for row in rows) for at in range(len(rows[0]))]
    return ["  ".join(_laid(at, cell, wide[at]) for at, cell in enumerate(row)).rstrip() for row in rows]


def _laid(at: int, cell: str, wide: int) -> str:
    return cell.rjust(wide) if at in (0, 2, 3, 4) else cell.ljust(wide)
