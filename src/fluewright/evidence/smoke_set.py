"""What a curve of smoke against air says: its knee, and the air to set below it."""

from collections.abc import Sequence

from fluewright.evidence import papers
from fluewright.evidence.finding import PRACTICE, Finding
from fluewright.evidence.oil_noted import Noted
from fluewright.evidence.part import Derived, Seen, Voiced
from fluewright.evidence.result import Result, Working
from fluewright.evidence.smoke_curve import CurvePoint, Knee, NoKnee, knee_of
from fluewright.kernel import smoke_scale
from fluewright.quantity import show
from fluewright.rules import oil_figures

CUT_AIR = (
    "Cutting air can raise smoke and carbon monoxide quickly: one small step, wait until the readings are steady, and "
    "stop at smoke 4.",
)
HOW = "level line, then a straight rise: every knee that fits nearly as well as the best (95 %)"


def _band(quantity: str, low: float, high: float, claims_least: float, formula: str, holds: str) -> Result:
    """A result that is known as an interval only."""
    lower, upper = (show.shown(end, quantity=quantity) for end in (low, high))
    working = Working(formula, f"{lower} to {upper}", (), "points of the curve; common practice, no source", holds)
    return Result(quantity, claims_least, 0.0, 0.0, working, low=low, high=high)


def _to_set(noted: Noted, knee: Knee, quantity: str) -> None:
    """Air to leave it at, counted from the end of the knee with more air."""
    name = "oxygen" if quantity.startswith("oxygen") else "carbon-dioxide"
    small, large = (oil_figures.practice(f"knee-{name}-{end}") for end in ("least", "most"))
    if name == "oxygen":
        low = float(smoke_scale.oxygen_with_margin(oxygen_dry_fraction=knee.high, oxygen_margin=small))
        high = float(smoke_scale.oxygen_with_margin(oxygen_dry_fraction=knee.high, oxygen_margin=large))
    else:
        low, high = knee.low - large, knee.low - small
    side = "above" if name == "oxygen" else "below"
    formula = (
        f"{name.replace('-', ' ')} to set = {small * 100:g} to {large * 100:g} points {side} the near end of the knee"
    )
    holds = "the same instrument, this load and this weather; more margin for an outdoor tank"
    noted.keep("air_to_set", _band(quantity, low, high, high if name == "oxygen" else low, formula, holds))
    noted.say("by common practice it is set at ", Derived("air_to_set"), ".", mark="derived")


def _stands(knee: Knee, figure: float, oxygen: bool) -> str:
    """Where a reading stands to the knee."""
    if figure < knee.low if oxygen else figure > knee.high:
        return "the flame has less air than the knee of its smoke curve"
    if figure <= knee.high if oxygen else figure >= knee.low:
        return "the flame stands where the knee of its smoke curve may lie"
    return "the flame stands nearer to the knee of its smoke curve than is usual"


def _past(noted: Noted, knee: Knee, quantity: str) -> None:
    """Whether the flame was left with less air than the curve asks for."""
    target = noted.results["air_to_set"]
    read = [one for one in noted.account.stretches if quantity in one.readings]
    if not read or target.low is None or target.high is None:
        return
    last = read[-1]
    figure = last.readings[quantity].figure
    oxygen = quantity.startswith("oxygen")
    if figure is None or last.readings[quantity].bound or (figure >= target.low if oxygen else figure <= target.high):
        return
    noted.findings.append(
        Finding(
            "set-past-knee",
            "advise",
            f"{last.word.capitalize()}: {_stands(knee, figure, oxygen)}.",
            f"{last.readings[quantity].typed.text} where the curve asks for "
            f"{show.number(target.low, quantity=quantity)} to {show.shown(target.high, quantity=quantity)}. A little "
            "dust, cold oil or a turn of the weather may make it smoke.",
            ((last.word, quantity), (noted.word, "air_to_set")),
            PRACTICE,
            do_next=("give it more air, and take three papers", "or take more points and papers: they narrow the knee"),
            cautions=CUT_AIR,
        )
    )


def _no_knee(noted: Noted, found: NoKnee, count: int) -> None:
    noted.findings.append(
        Finding(
            "no-knee",
            "open",
            "These points show no knee of the smoke curve.",
            f"{found.why[:1].upper()}{found.why[1:]}. Nothing is said about the air to set.",
            tuple((noted.word, f"air_{i}") for i in range(1, count + 1)),
            PRACTICE,
            do_next=(found.do,),
            cautions=CUT_AIR,
        )
    )


def curve_told(noted: Noted, points: Sequence[CurvePoint]) -> None:
    """Every point as a sentence, then the knee or why there is none."""
    if not points:
        return
    for i, point in enumerate(points, 1):
        count = papers.count_of(point.smoke)
        margin = f"papers {point.smoke.typed.text}" if count > 1 else ""
        what = "oxygen" if point.air.quantity.startswith("oxygen") else "carbon dioxide"
        smoke = point.smoke.figure
        mean = point.smoke.typed.text if count == 1 or smoke is None else f"{point.smoke.bound} {smoke:.2g}".strip()
        noted.say(f"at {what} ", Seen(f"air_{i}", point.air), ": smoke ", Voiced(mean), ".", margin=margin)
    knee = knee_of(points)
    if isinstance(knee, NoKnee):
        _no_knee(noted, knee, len(points))
        return
    quantity = points[0].air.quantity
    near = knee.high if quantity.startswith("oxygen") else knee.low
    holds = f"{knee.count} points at one load; noise of one paper ± {2 * oil_figures.practice('paper-noise'):g}, 95 %"
    noted.keep("knee", _band(quantity, knee.low, knee.high, near, f"knee = {HOW}", holds))
    noted.say("the knee, where smoke begins to rise, lies at ", Derived("knee"), ".", mark="derived")
    _to_set(noted, knee, quantity)
    _past(noted, knee, quantity)
