"""How long the law asks for a record to be kept, as data; what stands against erasing it, in words."""

import tomllib
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from functools import cache
from importlib.resources import files


@dataclass(frozen=True, slots=True)
class Law:
    """One row of law.

    id              its name
    jurisdiction    where it is in force
    only            which records it is about; the program cannot know that, the person can
    years           how long
    counted         from the day of the visit, or from the end of its year
    text            in a sentence
    document, clause, edition, known  the citation, and how it is known
    further_checks  later visits of the same place after which it is over as well; 0 when that ends nothing
    """

    id: str
    jurisdiction: str
    only: str
    years: int
    counted: str
    text: str
    document: str
    clause: str
    edition: str
    known: str
    further_checks: int = 0

    def until(self, day: date) -> date:
        """The last day on which a record of this day must be there."""
        year = min(day.year + self.years, date.max.year)
        if self.counted == "year":
            return date(year, 12, 31)
        try:
            return day.replace(year=year)
        except ValueError:  # 29 February
            return date(year, 3, 1)

    def sentence(self) -> str:
        """The row in words, with where it stands and how that is known."""
        return f"{self.id}: {self.text} ({self.only}; {self.document}, {self.clause}, {self.edition}; {self.known})"


@cache
def laws() -> tuple[Law, ...]:
    """All rows."""
    text = files("fluewright.record").joinpath("retention.toml").read_text("utf-8")
    return tuple(Law(**row) for row in tomllib.loads(text)["law"])


def standing_against(*, jurisdiction: str, day: date, today: date, later_visits: int) -> list[Law]:
    """The rows that still ask for a record to be kept.

    jurisdiction  of the visit, such as GB or US-CO
    day           of the visit
    today         the day on which it is asked
    later_visits  visits of the same place after it
    -> rows whose time is not over
    """
    here = [
        law for law in laws() if jurisdiction == law.jurisdiction or jurisdiction.startswith(law.jurisdiction + "-")
    ]
    return [law for law in here if not _over(law, day=day, today=today, later_visits=later_visits)]


def _over(law: Law, *, day: date, today: date, later_visits: int) -> bool:
    if law.further_checks:
        return later_visits >= law.further_checks
    return today > law.until(day)


def in_words(rows: Sequence[Law]) -> str:
    """Several rows in one text."""
    return "; ".join(law.sentence() for law in rows)
