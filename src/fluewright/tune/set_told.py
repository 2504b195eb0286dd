"""A set of curves as sentences: each curve in one line, its gaps, its actuators, play between the ways, what moved."""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from fluewright.evidence.finding import PRACTICE, Finding
from fluewright.evidence.part import Part, SoFar, Statement, Voiced, in_pieces
from fluewright.rules import adjusting_figures as trade
from fluewright.tune import curve_set, walked
from fluewright.tune.curve_set import Apart, CurveSet, Key, Noticed, Spot
from fluewright.words import marked, number, say, say_count, spoken

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
            say("Adjusting: the curves"),
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
    least, most = number(low, ".3g"), number(high, ".3g")
    return least if least == most else say("{low} to {high}", low=least, high=most)


def _curve_told(key: Key, spots: tuple[Spot, ...]) -> Statement:
    """One curve in a line."""
    low, high = number(spots[0].rate * 100, ".0f"), number(spots[-1].rate * 100, ".0f")
    points = say_count("{count} point", "{count} points", len(spots))
    told = [say("{points}, rate {low} to {high} %", points=points, low=low, high=high)]
    if oxygen := _range(spots, OXYGEN, 100.0):
        told.append(say("oxygen {range} %", range=oxygen))
    if monoxide := _range(spots, MONOXIDE, 1e6):
        told.append(say("carbon monoxide {range} ppm", range=monoxide))
    return Statement(in_pieces("{curve}: {told}.", curve=key.words, told=Voiced(", ".join(told))))


def _statements(given: CurveSetGiven) -> Iterator[Statement]:
    for key, spots in given.found.curves().items():
        yield _curve_told(key, spots)
    for key, apart in curve_set.play(given.found).items():
        yield _apart_told(_PLAY, key.fuel, apart)
    if given.before is not None:
        for key, apart in curve_set.changed(given.before, given.found).items():
            yield _apart_told(_CHANGED, key.words, apart)


_PLAY = (
    marked("{curve}: the way up lies from the way down by less than {points} points of oxygen everywhere."),
    marked("{curve}: the way up lies from the way down by up to {points} points of oxygen, at {rate} % of full rate."),
)
_CHANGED = (
    marked("{curve}: after the work it lies from before by less than {points} points of oxygen everywhere."),
    marked("{curve}: after the work it lies from before by up to {points} points of oxygen, at {rate} % of full rate."),
)
"""How two curves lie apart: hardly, or by how much."""


def _apart_told(templates: tuple[str, str], curve: str, apart: tuple[Apart, ...]) -> Statement:
    hardly, by_much = templates
    worst = max(apart, key=lambda one: abs(one.difference))
    if abs(worst.difference) < TELLING:
        return Statement(in_pieces(hardly, curve=curve, points=number(TELLING * 100, ".1f")), mark="derived")
    points = number(worst.difference * 100, "+.1f").replace("-", "−")
    rate = number(worst.rate * 100, ".0f")
    return Statement(in_pieces(by_much, curve=curve, points=points, rate=rate), mark="derived")


_SAYS = {
    "gap": (
        "curve-gap",
        marked("The curves: a curve has a gap wider than is usual."),
        marked("Between far points a linkage does what it likes, and nothing is carried across."),
        marked("take a point in each gap"),
    ),
    "not monotone": (
        "actuator-turns-round",
        marked("The curves: an actuator turns round on its way."),
        marked("A linkage that goes back and forth hunts there, or a row is in the wrong place."),
        marked("look at the rows named, and at the linkage"),
    ),
    "twice": (
        "rate-twice",
        marked("The curves: a curve has two points at one rate."),
        marked("Nobody can tell which of the two holds."),
        marked("keep the one that holds"),
    ),
}


def _where(one: Noticed) -> str:
    """What was noticed, with its curve and lines."""
    lines, *more = map(str, one.lines)
    for line in more:
        lines = say("{most} and {last}", most=lines, last=line)
    return say("{curve}: {noticed} (lines {lines})", curve=one.key.words, noticed=one.words, lines=lines)


def _of_kind(kind: str, noticed: list[Noticed]) -> Finding:
    code, lead, why, do = _SAYS[kind]
    named = "; ".join(map(_where, noticed))
    body = f"{named[:1].upper()}{named[1:]}. {spoken(why)}"
    return Finding(code, "advise", spoken(lead), body, (), PRACTICE, do_next=(spoken(do),))


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
            "curve-point-past-stop", "act",
            say("A point of the curves makes more carbon monoxide than a curve is left at."),
            say(
                "More than {stop} ppm in line {lines}: the burner passes there at every change of load.",
                stop=number(stop * 1e6, ".0f"), lines=lines,
            ),
            (), PRACTICE, do_now=tuple(map(spoken, walked.GIVE_AIR)),
            do_next=(say("give those points more air, and walk the curve again"),),
            cautions=tuple(map(spoken, walked.CUT_AIR)),
        )  # fmt: skip


def _open(found: CurveSet) -> Iterator[str]:
    ways = {key.way for key in found.curves()}
    if ways != {"down", "up"}:
        yield say("How far linkage and control play: the curves were not walked both ways.")
    for key, spots in found.curves().items():
        if not any(MONOXIDE in spot.values for spot in spots):
            yield say("What {curve} makes: no carbon monoxide stands in its rows.", curve=key.words)


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
