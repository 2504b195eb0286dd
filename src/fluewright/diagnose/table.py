"""The table of likelihoods and the data beside it, as the weighing reads them."""

import json
import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from typing import Any

from fluewright.diagnose.clues import KINDS, LOOSE
from fluewright.simulate.designs import designs
from fluewright.simulate.faults import faults

HEALTHY = "healthy"
NONE = "none of these"
_FANNED = ("induced", "premix", "power")


@dataclass(frozen=True, slots=True)
class Row:
    """One hypothesis: middles and variances of each clue by part of severity, and how the clues go together.

    together  correlation of each clue with those before it
    """

    means: tuple[tuple[float, ...], ...]
    spreads: tuple[tuple[float, ...], ...]
    together: tuple[tuple[float, ...], ...]


@dataclass(frozen=True, slots=True)
class Page:
    """All about one design: names of the clues in their order, plate, rows by hypothesis, weights before reading."""

    name: str
    clues: tuple[str, ...]
    widened: tuple[float, ...]
    plate: Mapping[str, float]
    most: float
    rows: Mapping[str, Row]
    before: Mapping[str, float]


@dataclass(frozen=True, slots=True)
class Look:
    """Something to do: readings to take, or a look with two answers.

    reads   registry names, or empty for a look
    shows   how often a look finds what is there, by fault
    false   how often it seems so where it is not
    """

    name: str
    words: str
    minutes: float
    reads: tuple[str, ...]
    yes: str
    no: str
    shows: Mapping[str, float]
    false: float

    def odds(self, causes: tuple[str, ...]) -> float:
        """How likely the answer is yes when these are the causes; none of these can look like anything."""
        if NONE in causes:
            return 0.5 * (self.false + 0.4)
        missed = 1.0 - self.false
        for cause in causes:
            missed *= 1.0 - self.shows.get(cause, 0.0)
        return 1.0 - missed


def _text(name: str) -> str:
    return files("fluewright.diagnose").joinpath(name).read_text(encoding="utf-8")


@cache
def weights() -> Mapping[str, float]:
    """Weights before anything is read."""
    return {name: float(value) for name, value in tomllib.loads(_text("weights.toml")).items()}


@cache
def looks() -> Mapping[str, Look]:
    """What can be done next, by name."""
    found = {}
    for name, row in tomllib.loads(_text("tests.toml")).items():
        found[name] = Look(
            name=name,
            words=row["words"],
            minutes=float(row["minutes"]),
            reads=tuple(row.get("reads", ())),
            yes=row.get("yes", ""),
            no=row.get("no", ""),
            shows=row.get("shows", {}),
            false=float(row.get("false", 0.0)),
        )
    return found


def _row(read: Mapping[str, Any], count: int) -> Row:
    flat = [0.0095 * float(each) for each in read["together"]]
    starts = [place * (place - 1) // 2 for place in range(count)]
    return Row(
        means=tuple(tuple(map(float, part)) for part in read["means"]),
        spreads=tuple(tuple(map(float, part)) for part in read["spreads"]),
        together=tuple(tuple(flat[start : start + place]) for place, start in enumerate(starts)),
    )


@cache
def _read() -> Mapping[str, Any]:
    return dict(json.loads(_text("likelihoods.json")))


@cache
def page(design: str) -> Page:
    """The page of one design."""
    read = _read()[design]
    names = tuple(read["clues"])
    rows = {name: _row(row, len(names)) for name, row in read["rows"].items()}
    shares = {name: faults()[name].weight for name in rows if name != HEALTHY}
    ahead = weights()
    single = (1.0 - ahead["healthy"] - ahead["two"] - ahead["none"]) / sum(shares.values())
    before = {name: single * share for name, share in shares.items()}
    before[HEALTHY] = ahead["healthy"]
    before[NONE] = ahead["none"]
    loose = LOOSE if designs()[design].family in _FANNED else {}
    widened = tuple(loose.get(name, KINDS[name].widened) for name in names)
    return Page(design, names, widened, read["plate"], float(read["most"]), rows, before)
