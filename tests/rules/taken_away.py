"""Visits with one thing taken away: every reading, line and row of a visit file, one after the other."""

import copy
import tomllib
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from fluewright.errors import FluewrightError
from fluewright.evidence.finding import WRONG
from fluewright.visit import file, work
from fluewright.visit.source import Source
from fluewright.visit.work import Verdict

FOLDER = Path(__file__).parent.parent / "visit"
VISITS = (*sorted(FOLDER.glob("*.toml")), *sorted((FOLDER / "classes").glob("*.toml")))
HEADS = ("visit", "fuel")
"""Tables that say whose visit it is and what burns: no readings."""

Way = tuple[str | int, ...]


def ways(tree: Any, above: Way = ()) -> Iterator[Way]:
    """Every leaf and every row of the tables of a visit file."""
    for key, value in tree.items() if isinstance(tree, dict) else enumerate(tree):
        if not above and key in HEADS:
            continue
        way = (*above, key)
        if isinstance(value, dict) or (isinstance(value, list) and value and isinstance(value[0], dict)):
            yield from ways(value, way)
        if above:
            yield way


def without(tree: dict[str, Any], way: Way) -> dict[str, Any]:
    """The same tables without one of their leaves or rows."""
    made = copy.deepcopy(tree)
    at: Any = made
    for key in way[:-1]:
        at = at[key]
    del at[way[-1]]
    return made


def verdict_on(tree: dict[str, Any], path: Path) -> Verdict | None:
    """The verdict on tables; None where they are refused, which clears nothing."""
    try:
        return work.judged(file.taken(Source(path, tree)))
    except FluewrightError:
        return None


def is_reading(tree: dict[str, Any], way: Way) -> bool:
    """Whether a way leads to one thing that somebody read or did, and not to a word about the appliance."""
    return way[0] not in ("appliance", "instrument", "place") and way[-1] not in ("word", "words", "time", "note")


@dataclass(frozen=True, slots=True)
class Taken:
    """One visit with one thing taken away.

    words  of the stretch that it was taken from, empty where it was no stretch
    """

    path: Path
    way: Way
    before: Verdict
    after: Verdict
    words: str = ""

    @property
    def became_fine(self) -> set[str]:
        """What is fine, or cured, only since something is missing: by the limit, and the part it was read in."""
        return _clean(self.after) - _clean(self.before)

    @property
    def vanished(self) -> set[str]:
        """Codes of what was to be mended, of which nothing wrong is left and no word says why."""
        left = {pair for one in self.after.judged.findings if one.grade in WRONG for pair in one.evidence[:1]}
        gone = [
            one for one in self.before.judged.findings
            if one.grade in ("stop", "act") and not set(one.evidence[:1]) <= left
        ]  # fmt: skip
        said = {one.code for one in self.after.judged.findings if one.grade != "fine"}
        return {one.code for one in gone} - said

    @property
    def told(self) -> bool:
        """Whether the sheet says what is missing or open."""
        open_now = [one for one in self.after.judged.findings if one.grade == "open"]
        unread = any(part.data.get("not_read") or part.data.get("open") for part in self.after.parts)
        return bool(open_now or self.after.judged.cannot_tell or unread)


def _clean(verdict: Verdict) -> set[str]:
    """Limits that are kept, by part of the job."""
    return {f"{one.evidence[0][0] if one.evidence else ''}: {one.code}" for one in verdict.judged.findings
            if one.grade in ("fine", "cured")}  # fmt: skip


def taken_from(path: Path, *, each: int = 1) -> Iterator[Taken]:
    """A visit with each thing taken away in turn, refused ones left out.

    each  take only every n-th thing, for the long visits
    """
    tree = tomllib.loads(path.read_text(encoding="utf-8"))
    before = verdict_on(tree, path)
    assert before is not None
    for way in [way for way in ways(tree) if is_reading(tree, way)][::each]:
        after = verdict_on(without(tree, way), path)
        if after is not None:
            words = str(tree["stretch"][way[1]].get("word", "")) if way[0] == "stretch" else ""
            yield Taken(path, way, before, after, words)
