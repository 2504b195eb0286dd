"""The margin of the year as sentences: the worst corner and its oxygen, what takes it there, and what to set today."""

from collections.abc import Iterator
from dataclasses import dataclass, replace

from fluewright.errors import PhysicsRefused
from fluewright.evidence import judge
from fluewright.evidence.finding import PHYSICS, PRACTICE, Finding, clause_of
from fluewright.evidence.limits import in_words
from fluewright.evidence.oil_noted import Noted
from fluewright.evidence.part import Derived, Part, Seen, SoFar, Voiced
from fluewright.evidence.reading import Reading
from fluewright.evidence.reckon import Reckoning
from fluewright.evidence.trust import beyond
from fluewright.fuels.record import FuelRecord
from fluewright.kernel import ops
from fluewright.kernel.ops import Number
from fluewright.quantity import show
from fluewright.rules import adjusting_figures as trade
from fluewright.rules import oil_figures
from fluewright.tune import margin, walked
from fluewright.tune.margin import Corner, Day, Margin, Mechanism, Setting, Year

WORD = "margin of the year"
HELD_BY: dict[Mechanism, str] = {
    "fan": "a fan that moves the same volume, with gas through an orifice",
    "one differential": "air and gas on one pressure difference",
    "natural draft": "the pull of the chimney",
    "draft held": "a draft that a hood or regulator keeps level",
    "oil outdoors": "a fan and a pump, with the tank in the weather",
    "oil indoors": "a fan and a pump, with the tank indoors",
}
BEFORE_LEAVING = ("give it more air before leaving, read carbon monoxide again, or leave it off",)
CAUTION = ("A flame short of air makes carbon monoxide and soot. Give it the air before the season turns, not after.",)
FELT = 0.0005
"""mol/mol of oxygen below which a cause is not worth a word."""


@dataclass(frozen=True, slots=True)
class Season:
    """One end of the year as typed: combustion air, outdoors where a chimney draws, oil where a tank stands outside."""

    words: str
    air: Reading
    outdoors: Reading | None = None
    oil: Reading | None = None


@dataclass(frozen=True, slots=True)
class YearAhead:
    """What the site brings in a year.

    mechanism   what holds air and fuel together
    now         the day of the tuning, its air, outdoors and oil
    seasons     the ends of the year
    oxygen      as set; None takes that of the last flame
    least       least oxygen that is safe; None takes that of the curve
    barometers  lowest and highest at the place, None to leave it out
    wobbe       relative change of the Wobbe index, lowest and highest, with words and source; None to leave it out
    gases       other gases that may come
    play        of linkage and control
    chimney     mean temperature of the gas in the chimney
    """

    mechanism: Mechanism
    now: Season
    seasons: tuple[Season, ...]
    oxygen: Reading | None = None
    least: Reading | None = None
    barometers: tuple[Reading, Reading] | None = None
    wobbe: tuple[float, float, str] | None = None
    gases: tuple[FuelRecord, ...] = ()
    play: Reading | None = None
    chimney: Reading | None = None

    @property
    def late(self) -> bool:
        """It rests on the flame as left and on the curve."""
        return True

    def worked(self, so_far: SoFar) -> Part:
        """The margin as sentences."""
        noted = Noted(WORD, so_far, Reckoning(so_far.account))
        setting, year = _setting(self, noted), _year(self, noted)
        oxygen = _as_set(self, noted)
        _given_told(noted, self, oxygen)
        read = None if oxygen is None else noted.reckoning.read(oxygen)
        told = None if read is None else margin.over_the_year(setting, year, oxygen=read)
        if told is not None:
            _corners_told(noted, told)
        least = _least(self, noted)
        if least is not None:
            _set_told(noted, setting, year, least)
        noted.say(f"{margin.DANGER[self.mechanism][:-1]}.", mark="derived")
        noted.findings += _findings(noted, self, told, oxygen, least)
        _open(noted, self, oxygen, least)
        return Part(
            WORD,
            "Adjusting: the margin of the year",
            "adjusting",
            tuple(noted.statements),
            noted.results,
            tuple(noted.findings),
            tuple(noted.cannot_tell),
            data={"mechanism": self.mechanism, "corners": _as_data(told)},
        )


def _day(season: Season, noted: Noted) -> Day:
    """A season as the margin takes it; its temperatures are what may come, so they carry no doubt."""
    need_air(season)

    def figure(reading: Reading | None) -> float | None:
        return None if reading is None else reading.figure

    pressure = noted.account.surroundings.pressure
    return Day(season.words, season.air.figure or 0.0, figure(season.outdoors), figure(season.oil), pressure)


def _setting(given: YearAhead, noted: Noted) -> Setting:
    chimney = None if given.chimney is None else given.chimney.figure
    setting = Setting(given.mechanism, _day(given.now, noted), noted.fuel, chimney)
    if not setting.oil:
        return setting
    low, high = oil_figures.practice("exponent-least"), oil_figures.practice("exponent-most")
    spread = (high - low) / 2.0 / 3.0**0.5
    source = f"{low:g} to {high:g}, common practice, no source"
    exponent = noted.reckoning.assumed("viscosity_exponent", margin.usual_exponent(), spread, source=source)
    return replace(setting, exponent=exponent)


def _year(given: YearAhead, noted: Noted) -> Year:
    ends = given.barometers
    low, high = (None, None) if ends is None else (ends[0].figure, ends[1].figure)
    play = 0.0 if given.play is None else given.play.figure or 0.0
    return Year(
        tuple(_day(season, noted) for season in given.seasons),
        None if low is None or high is None else (low, high),
        None if given.wobbe is None else given.wobbe[:2],
        play,
        given.gases,
    )


def _as_set(given: YearAhead, noted: Noted) -> Reading | None:
    """Oxygen as the burner was left."""
    if given.oxygen is not None:
        return given.oxygen if given.oxygen.figure is not None and not given.oxygen.bound else None
    read = [one.readings["oxygen_dry"] for one in noted.account.stretches if "oxygen_dry" in one.readings]
    return read[-1] if read and read[-1].figure is not None and not read[-1].bound else None


def _least(given: YearAhead, noted: Noted) -> float | None:
    """The least oxygen that is safe: typed, or of the curve."""
    if given.least is not None:
        return given.least.figure
    part = noted.so_far.parts.get(walked.WORD)
    found = None if part is None else part.results.get("least_safe")
    return None if found is None else found.value


def _signed(share: float) -> str:
    """A share as percent with its sign."""
    return f"{share * 100.0:+.1f}".replace("-", "−")


def _given_told(noted: Noted, given: YearAhead, oxygen: Reading | None) -> None:
    if oxygen is not None:
        noted.say("set at oxygen ", Seen("oxygen", oxygen), " with air of ", Seen("air_now", given.now.air), ".")
    noted.say("what holds air and fuel together is ", Voiced(HELD_BY[given.mechanism]), ".")
    for i, season in enumerate(given.seasons, 1):
        outdoors = () if season.outdoors is None else (", outdoors ", Seen(f"outdoors_{i}", season.outdoors))
        oil = () if season.oil is None else (", oil ", Seen(f"oil_{i}", season.oil))
        noted.say(f"{season.words}: air ", Seen(f"air_{i}", season.air), *outdoors, *oil, ".")
    for gas in given.gases:
        noted.say("another gas may come: ", Voiced(gas.words, "plate"), ".", mark="plate")
    if given.wobbe is not None:
        low, high, source = given.wobbe
        swung = f"{_signed(low)} to {_signed(high)} %"
        noted.say(f"the gas may change its Wobbe index by {swung}: ", Voiced(source, "plate"), ".", mark="plate")


def _corner_kept(noted: Noted, key: str, corner: Corner) -> None:
    """Oxygen at one corner, or why there is none."""
    short = corner.oxygen is None
    result = noted.reckoning.result(
        "air_ratio" if short else "oxygen_dry",
        corner.air_ratio if short else corner.oxygen,
        formula="air ratio there = air ratio as set x what air, barometer, gas, oil do; oxygen of it, less the play",
        substitution=f"x {float(ops.value_of(corner.swing)):.4f} = {float(ops.value_of(corner.air_ratio)):.4f}",
        source="ideal-gas law, orifice flow; practice P8, P9; docs/method/adjusting.md",
        holds="draft, dirt and wind as today; corners of the year as typed",
    )
    noted.keep(key, result if short else replace(result, basis="dry"))


def _as_data(told: Margin | None) -> dict[str, dict[str, object]]:
    """The corners as plain data."""
    if told is None:
        return {}
    named = {"worst": told.worst, "leanest": told.leanest}
    return {
        key: {
            "words": corner.words,
            "air_ratio": float(ops.value_of(corner.air_ratio)),
            "oxygen_dry": None if corner.oxygen is None else float(ops.value_of(corner.oxygen)),
        }
        for key, corner in named.items()
    }


def _corners_told(noted: Noted, told: Margin) -> None:
    for key, words, corner in (("worst", "the worst corner", told.worst), ("leanest", "the airiest", told.leanest)):
        _corner_kept(noted, key, corner)
        left = "not enough air is left, air ratio " if corner.oxygen is None else "oxygen "
        noted.say(f"{words} is {corner.words}: {left}", Derived(key), ".", mark="derived")
    taken = [f"{words} {_signed(change)}" for words, change in told.costs if change < -FELT]
    if taken:
        noted.say("each by itself, in points of oxygen: ", Voiced(", ".join(taken)), ".", mark="derived")


def _set_told(noted: Noted, setting: Setting, year: Year, least: Number) -> None:
    """What to set today, so that the worst corner keeps the least; practice keeps half a point at any rate."""
    for_year = float(ops.value_of(margin.set_point(setting, year, least=least)))
    usual, most = least + trade.practice("margin-least"), least + trade.practice("margin-most")
    low = max(for_year, usual)
    formula = "oxygen that leaves the least safe one at the worst corner of the year, or half a point above it if more"
    holds = f"least safe oxygen {least * 100:.1f} %; today's air, barometer and gas"
    ends = (low, max(low + trade.practice("margin-least"), most))
    noted.keep("to_set", walked.band("oxygen_dry", ends, claims=low, formula=formula, holds=holds))
    noted.say(
        f"to keep the least safe {show.shown(least, quantity='oxygen_dry')} at that corner too, it is set today at ",
        Derived("to_set"), ".", mark="derived",
    )  # fmt: skip


def _short(noted: Noted, given: YearAhead, told: Margin, oxygen: Reading, least: float | None) -> Finding | None:
    """A set point that the year leaves short of air, or below the least that is safe."""
    worst, short = noted.results["worst"], told.worst.oxygen is None
    floor = judge.HARDLY_AIR if least is None else least
    chance = None if short or worst.value is None else 1.0 - (beyond(worst, floor) or 0.0)
    if not short and (chance is None or chance < 0.5):
        return None
    value = worst.value or 0.0
    comes = f"the air ratio falls to {value:.2f} in {told.worst.words}" if short else f"{value * 100:.1f} % there"
    below = "" if chance is None else f" Below {floor * 100:.1f} %: {in_words(chance)}."
    to_set = noted.results.get("to_set")
    more = "" if to_set is None or to_set.value is None else f"set oxygen at {to_set.value * 100:.1f} % or more today"
    return Finding(
        "short-in-the-year",
        "act" if short else "advise",
        "As it is set, this flame would not have the air it needs at the worst end of the year."
        if short
        else "As it is set, this flame comes below its least safe oxygen at the worst end of the year.",
        f"Oxygen {oxygen.typed.text} today, {comes}.{below} {margin.DANGER[given.mechanism]}",
        ((WORD, "oxygen"), (WORD, "worst")),
        PHYSICS,
        odds=None if short else chance,
        do_now=BEFORE_LEAVING if short else (),
        do_next=tuple(one for one in (more, "read carbon monoxide again at that end of the year") if one),
        cautions=CAUTION,
    )


def _beyond_window(noted: Noted) -> Iterator[Finding]:
    """A set point for the year that lies above the window stated for this burner."""
    window, to_set = judge.window_of(noted.account), noted.results.get("to_set")
    if window is None or to_set is None or to_set.value is None or to_set.value <= window.high:
        return
    yield Finding(
        "year-asks-for-more", "advise", "The year asks for more air than is stated for this burner.",
        f"{to_set.value * 100:.1f} % of oxygen to be safe at the worst corner, and the window stated is "
        f"{window.low * 100:g} to {window.high * 100:g} %. One setting cannot serve the whole year here.",
        ((WORD, "to_set"),), clause_of(window.rule),
        do_next=(
            "take the combustion air from a place that keeps its temperature, or warm the oil",
            "or set it anew at each end of the season, and write down for which it was set",
        ),
    )  # fmt: skip


def _findings(
    noted: Noted, given: YearAhead, told: Margin | None, oxygen: Reading | None, least: float | None
) -> Iterator[Finding]:
    found = None if oxygen is None or told is None else _short(noted, given, told, oxygen, least)
    if found is not None:
        yield found
    yield from _beyond_window(noted)
    if given.mechanism == "oil outdoors" and given.now.oil is None:
        yield Finding(
            "outdoor-oil-not-read", "open", "How warm the oil was when the flame was set, nobody read.",
            margin.DANGER["oil outdoors"], ((WORD, "air_now"),), PRACTICE,
            do_next=("read the oil at the pump, and write how cold it gets in the tank",),
        )  # fmt: skip


def _open(noted: Noted, given: YearAhead, oxygen: Reading | None, least: float | None) -> None:
    if oxygen is None:
        noted.cannot_tell.append("What the year makes of this setting: no oxygen was read as the burner was left.")
    if least is None:
        noted.cannot_tell.append("What to set for the year: no curve shows where carbon monoxide or smoke begins.")
    if given.barometers is None and given.mechanism != "one differential":
        noted.cannot_tell.append("What a low barometer takes of the margin: its range here is not written.")
    if given.wobbe is None and not given.gases and noted.fuel.kind == "gas":
        noted.cannot_tell.append("What a richer gas takes of the margin: the band of the network is not written.")
    if given.play is None:
        noted.cannot_tell.append("What linkage and control play: it was not read, and counts as nothing here.")


def need_air(season: Season) -> None:
    """Combustion air with a figure that air can have; PhysicsRefused otherwise."""
    figure = season.air.figure
    if figure is not None and 200.0 <= figure <= 700.0:
        return
    raise PhysicsRefused(
        code="FW-K-120",
        read=f"combustion air of {season.air.typed.text} on {season.words}",
        expected="a temperature that combustion air can have, -73 to 427 °C (-100 to 800 °F)",
        matters="the margin of the year is reckoned from how thin the air gets",
        do="type the air as it reaches the burner, with its unit",
    )
