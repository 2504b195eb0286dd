"""A set of curves as sentences: each curve in one line, its gaps, its actuators, play between the ways, what moved."""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from fluewright.evidence.finding import PRACTICE, Finding
from fluewright.evidence.part import Part, SoFar, Statement, Voiced
from fluewright.rules import adjusting_figures as trade
from fluewright.tune import curve_set, walked
from fluewright.tune.curve_set import Apart, CurveSet, Key, Noticed, Spot

WORD = "curve set"
OXYGEN, MONOXIDE = "oxygen_dry_percent", "carbon_monoxide_dry_ppm"
TELLING = 0.002
"""mol/mol of oxygen from which two curves are said to lie apart (common practice, no source)."""


@dataclass(frozen=True, slots=True)
class CurveSetGiven:
    """A set of curves, and the set before the work where there is one."""

    found: CurveSet
    before: CurveSet | None = None

    @property
    def late(self) -> bool:
        """It rests on no other part."""
        return False

    def worked(self, so_far: SoFar) -> Part:
        """The set as sentences."""
        return Part(
            WORD,
            "Adjusting: the curves",
            "adjusting",
            tuple(_statements(self)),
            findings=tuple(_findings(self.found)),
            cannot_tell=tuple(_open(self.found)),
            data=_data(self),
        )


def _range(spots: tuple[Spot, ...], column: str, times: float) -> str:
    read = [spot.values[column] * times for spot in spots if column in spot.values]
    if not read:
        return ""
    low, high = min(read), max(read)
    return f"{low:.3g}" if f"{low:.3g}" == f"{high:.3g}" else f"{low:.3g} to {high:.3g}"


def _statements(given: CurveSetGiven) -> Iterator[Statement]:
    for key, spots in given.found.curves().items():
        rates = f"{spots[0].rate * 100:.0f} to {spots[-1].rate * 100:.0f} %"
        oxygen, monoxide = _range(spots, OXYGEN, 100.0), _range(spots, MONOXIDE, 1e6)
        words = f"{len(spots)} point{'' if len(spots) == 1 else 's'}, rate {rates}"
        words += f", oxygen {oxygen} %" if oxygen else ""
        words += f", carbon monoxide {monoxide} ppm" if monoxide else ""
        yield Statement((f"{key.words}: ", Voiced(words), "."))
    for key, apart in curve_set.play(given.found).items():
        yield _apart_told(f"{key.fuel}: the way up lies from the way down", apart)
    if given.before is not None:
        for key, apart in curve_set.changed(given.before, given.found).items():
            yield _apart_told(f"{key.words}: after the work it lies from before", apart)


def _apart_told(head: str, apart: tuple[Apart, ...]) -> Statement:
    worst = max(apart, key=lambda one: abs(one.difference))
    if abs(worst.difference) < TELLING:
        return Statement((f"{head} by less than {TELLING * 100:.1f} points of oxygen everywhere.",), mark="derived")
    said = f"{worst.difference * 100:+.1f}".replace("-", "−")
    at = f"{worst.rate * 100:.0f} %"
    return Statement((f"{head} by up to {said} points of oxygen, at {at} of full rate.",), mark="derived")


_SAYS = {
    "gap": (
        "curve-gap", "advise", "a curve has a gap wider than is usual",
        "Between far points a linkage does what it likes, and nothing is carried across.",
        "take a point in each gap",
    ),
    "not monotone": (
        "actuator-turns-round", "advise", "an actuator turns round on its way",
        "A linkage that goes back and forth hunts there, or a row is in the wrong place.",
        "look at the rows named, and at the linkage",
    ),
    "twice": (
        "rate-twice", "advise", "a curve has two points at one rate",
        "Nobody can tell which of the two holds.",
        "keep the one that holds",
    ),
}  # fmt: skip


def _of_kind(kind: str, noticed: list[Noticed]) -> Finding:
    code, grade, lead, why, do = _SAYS[kind]
    named = "; ".join(f"{one.key.words}: {one.words} (lines {' and '.join(map(str, one.lines))})" for one in noticed)
    assert grade == "advise"
    return Finding(
        code, "advise", f"The curves: {lead}.", f"{named[:1].upper()}{named[1:]}. {why}", (), PRACTICE, do_next=(do,)
    )


def _findings(found: CurveSet) -> Iterator[Finding]:
    noticed = [*curve_set.gaps(found), *curve_set.not_monotone(found), *curve_set.twice(found)]
    for kind in _SAYS:
        of_kind = [one for one in noticed if one.kind == kind]
        if of_kind:
            yield _of_kind(kind, of_kind)
    stop = trade.practice("carbon-monoxide-stop")
    past = [spot for spot in found.spots if spot.values.get(MONOXIDE, 0.0) > stop]
    if past:
        lines = ", ".join(str(spot.line) for spot in past)
        yield Finding(
            "curve-point-past-stop", "act", "A point of the curves makes more carbon monoxide than a curve is left at.",
            f"More than {stop * 1e6:.0f} ppm in line {lines}: the burner passes there at every change of load.",
            (), PRACTICE, do_now=walked.GIVE_AIR, do_next=("give those points more air, and walk the curve again",),
            cautions=walked.CUT_AIR,
        )  # fmt: skip


def _open(found: CurveSet) -> Iterator[str]:
    ways = {key.way for key in found.curves()}
    if ways != {"down", "up"}:
        yield "How far linkage and control play: the curves were not walked both ways."
    for key, spots in found.curves().items():
        if not any(MONOXIDE in spot.values for spot in spots):
            yield f"What {key.words} makes: no carbon monoxide stands in its rows."


def _named(key: Key) -> dict[str, str]:
    return {"fuel": key.fuel, "mode": key.mode, "way": key.way}


def _data(given: CurveSetGiven) -> dict[str, Any]:
    """Curves, and what was noticed, as plain data in canonical units."""
    found = given.found
    noticed = [*curve_set.gaps(found), *curve_set.not_monotone(found), *curve_set.twice(found)]
    moved = {} if given.before is None else curve_set.changed(given.before, found)

    def rows(apart: tuple[Apart, ...]) -> list[dict[str, float]]:
        return [{"rate": one.rate, "oxygen": one.difference} for one in apart]

    return {
        "points": [{"line": s.line, **_named(s.key), "rate": s.rate, "values": dict(s.values)} for s in found.spots],
        "noticed": [{"kind": n.kind, **_named(n.key), "lines": list(n.lines), "words": n.words} for n in noticed],
        "play": [{**_named(key), "by": rows(apart)} for key, apart in curve_set.play(found).items()],
        "changed": [{**_named(key), "by": rows(apart)} for key, apart in moved.items()],
    }
