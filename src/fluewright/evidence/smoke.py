"""Smoke on paper: papers and their mean against the rules that speak here, oil on a paper, and the knee of a curve."""

from collections.abc import Sequence
from dataclasses import dataclass
from types import MappingProxyType
from typing import Literal

from fluewright.evidence import monoxide, papers
from fluewright.evidence.finding import PRACTICE, Clause, Finding, currency_of
from fluewright.evidence.limits import Question, answered, rules_for
from fluewright.evidence.oil_noted import Noted, figure_of
from fluewright.evidence.part import Derived, Part, Seen, SoFar, Voiced
from fluewright.evidence.reading import Account, Reading
from fluewright.evidence.reckon import Reckoning
from fluewright.evidence.result import Result
from fluewright.evidence.smoke_curve import CurvePoint
from fluewright.evidence.smoke_set import curve_told
from fluewright.kernel import ops, smoke_scale
from fluewright.quantity.meaning import ZERO_CELSIUS
from fluewright.rules import apply, oil_figures
from fluewright.rules.schema import Limit

WORD = "smoke"
Head = Literal["", "retention", "older"]
Colour = Literal["", "grey", "yellow", "oily"]

OF_HEAD = {"retention": "practice-smoke-retention-head", "older": "practice-smoke-older-head"}
APART = 1.0
"""Numbers by which eye and light may differ: the scales agree only roughly (common practice, no source)."""
BY_LIGHT = {
    "spot_by_transmission": "by the light that passes",
    "spot_by_reflectance": "by the light thrown back",
}
UNBURNED = (
    "Oil on the paper is oil that leaves the fire unburned. It gathers in passes and chamber and can light all at "
    "once: stop the burner, and look into the chamber before it is lit again.",
)
DERIVATIVES = Clause(
    "1. BImSchV (German ordinance on small and medium combustion plants)",
    "ss. 7, 8; Annex 2 no. 3.3",
    "2010, text with the ordinances of 19 June 2020 and 13 October 2021",
    "DE",
    "read",
    "law",
    currency_of("read", oil_figures.figure("de-1bimschv", "papers").current),
)


@dataclass(frozen=True, slots=True)
class Smoke:
    """What was read and seen of smoke.

    papers       mean of all papers of the test
    head         kind of burner head, for what the trade expects of it
    built        year the burner was built, with changed: whether it was materially changed since
    colour       of the spot
    wet, uneven  whether a paper was
    since_lit    from lighting to the first paper
    water        of the boiler
    points       of a curve against air
    """

    papers: Reading | None = None
    head: Head = ""
    built: int | None = None
    changed: bool | None = None
    colour: Colour = ""
    wet: bool = False
    uneven: bool = False
    since_lit: Reading | None = None
    water: Reading | None = None
    transmission: Reading | None = None
    reflectance: Reading | None = None
    points: Sequence[CurvePoint] = ()

    @property
    def late(self) -> bool:
        """It rests on nothing that other parts find."""
        return False

    def worked(self, so_far: SoFar) -> Part:
        """Papers, oil on them, what a densitometer says, and the curve."""
        noted = Noted(WORD, so_far, Reckoning(so_far.account))
        _oil_on_paper(noted, self)
        doubt = _joined(_doubt(noted, self), _apart(noted, self))
        _papers(noted, self, doubt)
        _by_light(noted, self)
        curve_told(noted, self.points)
        return Part(
            WORD,
            "Smoke on paper",
            "supply",
            tuple(noted.statements),
            MappingProxyType(noted.results),
            tuple(noted.findings),
            tuple(noted.cannot_tell),
            data={"papers": [] if self.papers is None else papers.parted(self.papers.typed.text)},
        )


def _german(account: Account) -> bool:
    return account.jurisdiction.upper().split("-")[0] == "DE"


def _oil_on_paper(noted: Noted, smoke: Smoke) -> None:
    """A yellow or oily spot: the fire is not judged by its number."""
    if smoke.colour not in ("yellow", "oily"):
        return
    noted.say("the spot is ", Voiced(smoke.colour), ".")
    noted.findings.append(
        Finding(
            "oily-spot",
            "act",
            "Oil that did not burn is on the paper: stop the burner and find the cause.",
            f"The spot is {smoke.colour}. Its number says nothing then: a pale paper with oil on it is a bad fire. "
            "Whether it is oil shows in a solvent: oil runs, soot stays.",
            ((WORD, "papers"),) if smoke.papers is not None else (),
            DERIVATIVES if _german(noted.account) else PRACTICE,
            limit="no oil on any of three papers",
            do_now=(
                "stop the burner",
                "look for the cause: nozzle, pump pressure, cut-off, cold chamber, far too much air",
            ),
            do_next=("take three papers again once it is mended",),
            cautions=UNBURNED,
        )
    )


def _joined(*reasons: str) -> str:
    """Reasons as one clause."""
    said = [one for one in reasons if one]
    return "; ".join(one if not i else one[:1].lower() + one[1:] for i, one in enumerate(said))


def _doubt(noted: Noted, smoke: Smoke) -> str:
    """Why these papers may warn and not clear; each reason is told."""
    reasons = ["Oil is on the paper"] if smoke.colour in ("yellow", "oily") else []
    german = _german(noted.account)
    if smoke.wet or smoke.uneven:
        how = " and ".join(word for word, so in (("wet", smoke.wet), ("uneven", smoke.uneven)) if so)
        reasons.append(f"A paper was {how}")
        noted.findings.append(
            _again(
                "papers-spoilt",
                f"A smoke paper was {how}: it is taken again.",
                "Water and a skewed pump change the spot, so its number stands for nothing.",
                oil_figures.figure("de-1bimschv" if german else "practice", "papers"),
            )
        )
    wait = oil_figures.figure("de-1bimschv", "wait") if german else oil_figures.figure("practice", "smoke-wait")
    lit = figure_of(smoke.since_lit)
    if lit is not None and lit < wait.value * 60.0:
        reasons.append(f"The papers were taken within {wait.value:g} minutes of lighting")
        lead = "The smoke papers were taken too soon after lighting."
        body = f"{wait.value:g} min {wait.words}. A cold chamber smokes."
        noted.findings.append(_again("smoke-too-soon", lead, body, wait, first="let it burn on, then "))
    least = oil_figures.figure("de-1bimschv", "water")
    water = figure_of(smoke.water)
    if german and water is not None and water < least.value + ZERO_CELSIUS:
        reasons.append("The boiler was colder than the rule asks")
        lead = "The boiler was too cold for the smoke test."
        body = f"{least.value:g} °C: {least.words}."
        noted.findings.append(_again("smoke-boiler-cold", lead, body, least, first="warm it up, then "))
    return _joined(*reasons)


def _again(code: str, lead: str, body: str, figure: oil_figures.Figure, *, first: str = "") -> Finding:
    """Papers that have to be taken again, by a figure of law or practice."""
    law = figure.jurisdiction != "everywhere"
    clause = Clause(
        figure.document,
        figure.clause if law else "",
        figure.edition,
        figure.jurisdiction,
        "read",
        "law",
        currency_of("read", figure.current),
    )
    do = (f"{first}take three dry, even papers again",)
    return Finding(code, "open", lead, body, ((WORD, "papers"),), clause if law else PRACTICE, do_next=do)


def _older(account: Account, smoke: Smoke) -> dict[str, str]:
    """Rows that an old burner keeps, by the row they stand in for; one of the very year is for a person to judge."""
    if smoke.built is None or smoke.changed is not False:
        return {}
    kept = {}
    if smoke.built < oil_figures.figure("de-1bimschv", "old-atomising-year").value:
        kept["de-1bimschv-soot-atomising"] = "de-1bimschv-soot-atomising-old"
    small = account.appliance.output is not None and account.appliance.output <= 11_000.0
    if small and smoke.built < oil_figures.figure("de-1bimschv", "old-vaporising-year").value:
        kept["de-1bimschv-soot-vaporising"] = "de-1bimschv-soot-vaporising-old"
    return kept


def _rules(account: Account, smoke: Smoke) -> list[Limit]:
    """The limits of smoke that speak to this burner."""
    older = _older(account, smoke)
    rules = [account.shop.limit(older.get(rule.id, rule.id)) for rule in rules_for(papers.QUANTITY, account)]
    if smoke.head:
        rules = [rule for rule in rules if rule.id != "practice-smoke-advise"] + [
            account.shop.limit(OF_HEAD[smoke.head])
        ]
    return rules


def _papers(noted: Noted, smoke: Smoke, doubt: str) -> None:
    """The mean of the papers against every limit that speaks."""
    if smoke.papers is None:
        return
    count = papers.count_of(smoke.papers)
    result = monoxide.as_read(smoke.papers, noted.account)
    said = "one smoke paper " if count == 1 else f"mean of {count} smoke papers "
    typed = f"typed {smoke.papers.typed.text}" if count > 1 else ""
    noted.say(said, Seen("papers", smoke.papers), ".", margin=typed)
    if result is None:
        return
    noted.keep("smoke_spot", result)
    few = monoxide.too_few(smoke.papers)
    found: list[tuple[Limit, Finding]] = []
    rules = _rules(noted.account, smoke)
    for rule in rules:
        because = _joined(doubt, few if "three papers" in rule.averaging else "")
        asked = Question(rule, result, WORD, noted.account, because, key="papers", words="smoke spot number")
        if (one := answered(asked, over=rule.severity)) is not None:
            found.append((rule, one))
    whole = next((rule for rule in rules if rule.rounding == "to whole numbers"), None)
    if whole is not None and result.value is not None and not result.bound and count > 1:
        rounded = apply.rounded(result.value, limit=whole.limit, rounding=whole.rounding)
        noted.say(
            f"{whole.citation.document.split(' (')[0]} rounds their mean to a whole number: {rounded:g}.",
            mark="derived",
        )
    law = [one for rule, one in found if rule.layer == "law"]
    gravest = monoxide.speaking([one for _, one in found])
    noted.findings += [monoxide.three_papers(one) for one in dict.fromkeys([*law, *gravest])]


def _apart(noted: Noted, smoke: Smoke) -> str:
    """Papers and light that do not fit each other, told; why the papers then clear nothing, empty where they fit."""
    eye = figure_of(smoke.papers)
    if eye is None:
        return ""
    spots = {key: spot for key, spot in _spots(smoke).items() if abs(spot - eye) > APART}
    if not spots:
        return ""
    darker = max(spots.values()) > eye
    light = " and ".join(f"{min(spot, smoke_scale.LAST):.1f} {BY_LIGHT[key]}" for key, spot in spots.items())
    noted.findings.append(
        Finding(
            "papers-and-light-apart",
            "advise" if darker else "open",
            "The smoke papers and the light reading do not fit each other.",
            f"By eye {eye:g}, {light}. The scales agree only roughly, to about one number; more means a paper "
            "mistaken, an oily spot, a lamp not set on clean paper, or figures of two tests.",
            ((WORD, "papers"), *((WORD, key) for key in spots)),
            PRACTICE,
            do_next=("set the reader on clean paper, take three papers again, and read each by eye and by light",),
        )
    )
    return "The papers and the light reading do not fit each other"


def _spots(smoke: Smoke) -> dict[str, float]:
    """Spot numbers by light, by their key."""
    found: dict[str, float] = {}
    passed, back = figure_of(smoke.transmission), figure_of(smoke.reflectance)
    if passed is not None:
        found["spot_by_transmission"] = float(ops.value_of(smoke_scale.spot_from_transmission(transmission=passed)))
    if back is not None:
        found["spot_by_reflectance"] = float(ops.value_of(smoke_scale.spot_from_reflectance(reflectance=back)))
    return found


def _by_light(noted: Noted, smoke: Smoke) -> None:
    """Spot numbers from a densitometer; rules compare by eye, so they judge nothing."""
    if smoke.papers is None and (smoke.transmission is not None or smoke.reflectance is not None):
        noted.cannot_tell.append("What the rules say of this smoke: they compare three papers by eye.")
    ways = (
        ("spot_by_transmission", smoke.transmission, "passes the spot", "ASTM D2156-09 comparison table (read)"),
        ("spot_by_reflectance", smoke.reflectance, "is thrown back by the spot", "1. BImSchV s. 2 no. 15 (read)"),
    )
    for key, reading, words, source in ways:
        if reading is None or reading.figure is None:
            continue
        number = noted.reckoning.read(reading)
        passes = key == "spot_by_transmission"
        spot = (
            smoke_scale.spot_from_transmission(transmission=number)
            if passes
            else smoke_scale.spot_from_reflectance(reflectance=number)
        )
        if not passes and float(ops.value_of(spot)) > smoke_scale.LAST + 1e-9:
            noted.keep(key, Result("smoke_spot", smoke_scale.LAST, 0.0, 0.0, None, bound="at least"))
            lead = " of the light is thrown back by the spot, less than by the last of the scale: number "
            noted.say(Seen(key.removeprefix("spot_by_"), reading), lead, Derived(key), ".")
            continue
        formula = "straight line between the printed points" if passes else "(1 − light thrown back) / 0.10"
        noted.keep(
            key,
            noted.reckoning.result(
                "smoke_spot",
                spot,
                formula=f"smoke spot number = {formula}",
                substitution=f"{reading.figure:.1%} gives {float(ops.value_of(spot)):.1f}",
                source=source,
                holds="grey spots, light counted against clean paper; rules ask for the eye",
            ),
        )
        noted.say(Seen(key.removeprefix("spot_by_"), reading), f" of the light {words}: number ", Derived(key), ".")
