"""The table of the law for gas pipes in manufactured homes: the largest load of a pipe by its length."""

import tomllib
from dataclasses import dataclass
from functools import cache
from importlib import resources

from fluewright.errors import RuleError
from fluewright.rules import currency
from fluewright.rules.schema import Citation, Known

FOOT = 0.3048
"""m, exact."""
THOUSAND_BTU_PER_HOUR = 1055.05585262e3 / 3600.0
"""W, International Table Btu."""


@dataclass(frozen=True, slots=True)
class PipeTable:
    """Loads in W by size of schedule 40 pipe and by length in m."""

    citation: Citation
    known: Known
    current: currency.Current
    jurisdiction: str
    loads: dict[str, dict[float, float]]

    def load(self, *, size: str, length: float) -> float | None:
        """W that a pipe of this size may carry: the row of its length or the next longer; None beyond the table."""
        fitting = [row for row in self.loads.get(size, {}) if row >= length - 1e-9]
        return self.loads[size][min(fitting)] if fitting else None


def table_of(*, text: str, file: str) -> PipeTable:
    """The table of one file; RuleError where a field is missing or unknown."""
    document = tomllib.loads(text)
    wanted = {"document", "clause", "edition", "known", "current", "jurisdiction", "loads"}
    if set(document) != wanted:
        raise RuleError(
            code="FW-B-022",
            read=f"a pipe table with {', '.join(sorted(document))}",
            expected="exactly " + ", ".join(sorted(wanted)),
            matters="a table without its source cannot be shown to an inspector",
            do="mend the head of the file",
            where=file,
        )
    loads = {
        size: {float(feet) * FOOT: float(load) * THOUSAND_BTU_PER_HOUR for feet, load in row.items()}
        for size, row in document["loads"].items()
    }
    cited = Citation(document["document"], document["clause"], document["edition"])
    return PipeTable(cited, document["known"], document["current"], document["jurisdiction"], loads)


@cache
def manufactured_homes() -> PipeTable:
    """The table of 24 CFR 3280.705(d)."""
    entry = resources.files("fluewright.rules") / "tables" / "us-mh-pipes.toml"
    return table_of(text=entry.read_text(encoding="utf-8"), file="rules/tables/us-mh-pipes.toml")
