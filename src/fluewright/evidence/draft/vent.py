"""The vent itself: category, material and its marked limit against the flue at its hottest, trap, port, joints, end."""

from dataclasses import dataclass
from typing import Literal, get_args

from fluewright.evidence.draft.vent_said import cannot_tell, findings_of, statements_of
from fluewright.evidence.finding import Clause, Finding
from fluewright.evidence.limits import CAUTION, CERTAIN, HARDLY, LEAVE_OFF, in_words, seen
from fluewright.evidence.part import Part, SoFar
from fluewright.evidence.reading import Account, Reading
from fluewright.evidence.reckon import Reckoning
from fluewright.evidence.result import Result
from fluewright.evidence.trust import beyond
from fluewright.kernel import ops
from fluewright.kernel.ops import Number
from fluewright.quantity import show

WORD = "vent"
HOTTEST = "flue at hottest water"
Category = Literal["", "I", "II", "III", "IV"]
Material = Literal["not said", "plastic", "stainless steel", "single-wall metal", "double-wall metal", "masonry"]
Pressure = Literal["not said", "positive", "non-positive"]
Trap = Literal["not looked at", "seen flowing", "primed", "dry", "none needed"]
Neutraliser = Literal["not said", "there", "used up", "none"]
Port = Literal["not said", "none", "closed and checked", "closed", "open"]
Joints = Literal["not looked at", "tight", "leaking in the house", "leaking outdoors"]
End = Literal["not looked at", "free", "blocked", "too near"]

FOLLOWS, FOLLOWS_SPREAD = 1.0, 0.3
"""Kelvins that the flue of a water heater gains for each kelvin of water, and standard uncertainty (practice)."""
AT_HOTTEST = 2.0
"""K within which the water counts as at its hottest."""


@dataclass(frozen=True, slots=True)
class Vent:
    """What was seen of a vent.

    category       on the plate of the appliance
    marked_limit   temperature printed on the pipe itself, typed from it
    flue           flue temperature, read where the gas enters the vent
    water          water temperature when it was read
    hottest_water  hottest water that the control allows
    pressure       of the vent against the room
    condensing     whether condensate may form in it; None when nobody said
    freezing       whether trap or drain can freeze
    drilled        whether holes were found drilled in it
    clearances     to what can burn, in own words
    """

    category: Category = ""
    material: Material = "not said"
    marked_limit: Reading | None = None
    flue: Reading | None = None
    water: Reading | None = None
    hottest_water: Reading | None = None
    pressure: Pressure = "not said"
    condensing: bool | None = None
    trap: Trap = "not looked at"
    neutraliser: Neutraliser = "not said"
    freezing: bool | None = None
    port: Port = "not said"
    drilled: bool | None = None
    joints: Joints = "not looked at"
    end: End = "not looked at"
    end_words: str = ""
    clearances: str = ""
    time: str = ""

    @property
    def late(self) -> bool:
        """It rests on no other part."""
        return False

    @property
    def pushes(self) -> bool:
        """Whether it stands above the pressure of the room, as seen or by its plate; where nobody knows, it may."""
        return self.pressure == "positive" or (self.pressure == "not said" and self.category not in ("I", "II"))

    @property
    def may(self) -> str:
        """How sure that is, in a word."""
        known = self.pressure == "positive" or self.category in ("III", "IV")
        return "stands" if known else "may stand"

    @property
    def wet(self) -> bool:
        """Whether condensate may form in it, as seen or by its plate."""
        return bool(self.condensing) or (self.condensing is None and self.category in ("II", "IV"))

    def worked(self, so_far: SoFar) -> Part:
        """Judge it."""
        account, reckoning = so_far.account, Reckoning(so_far.account)
        results, sure = _hottest(self, reckoning)
        findings = [*_too_hot(self, results, sure, account), *findings_of(self)]
        return Part(
            WORD,
            "The vent",
            "draft",
            tuple(statements_of(self, HOTTEST if HOTTEST in results else "")),
            results,
            tuple(findings),
            tuple(cannot_tell(self)),
        )


def _hottest(given: Vent, reckoning: Reckoning) -> tuple[dict[str, Result], bool]:
    """The flue with the hottest water, and whether the water was known to be at its hottest."""
    if given.flue is None or given.flue.figure is None:
        return {}, False
    flue = reckoning.read(given.flue)
    water, most = given.water, given.hottest_water
    known = water is not None and most is not None and water.figure is not None and most.figure is not None
    rise: Number = 0.0
    if water is not None and most is not None and known and (most.figure or 0.0) > (water.figure or 0.0):
        warmer = reckoning.read(most) - reckoning.read(water)
        follows = reckoning.assumed(
            "flue_follows_water", FOLLOWS, FOLLOWS_SPREAD, source="common practice, no source"
        )  # fmt: skip
        rise = follows * warmer
    result = reckoning.result(
        "hottest_flue_temperature",
        flue + rise,
        formula="flue at the hottest water = flue as read + (hottest water - water as read) x 1",
        substitution=f"{float(ops.value_of(flue)) - 273.15:.1f} °C + {float(ops.value_of(rise)):.1f} K",
        source="common practice: the flue of a water heater follows its water about kelvin for kelvin",
        holds="a clean heat exchanger; scale makes the flue hotter from year to year",
    )
    return {HOTTEST: result}, known


def _too_hot(given: Vent, results: dict[str, Result], sure: bool, account: Account) -> list[Finding]:
    """The marking of the pipe against the flue at its hottest."""
    result, marked = results.get(HOTTEST), given.marked_limit
    if result is None or marked is None or marked.figure is None:
        return []
    odds = beyond(result, marked.figure)
    edge = show.shown(marked.figure, quantity="vent_limit_temperature", system=account.system)
    water = "" if sure else " Whether the water was at its hottest nobody said, so the flue can be hotter still."
    body = f"{seen(result, account)} against {edge} marked on the pipe. Over it: {in_words(odds)}.{water}"
    clause = Clause("marking of the vent", "", "typed from the pipe", "everywhere", "read", "standard")
    evidence, limit = ((WORD, HOTTEST), (WORD, "marked limit")), f"at most {edge}"
    if odds is not None and odds >= 0.5:
        lead = f"The vent {'is' if odds >= CERTAIN else 'may be'} hotter than it is marked for."
        why = (
            " Plastic softens, its joints open, and flue gas comes into the house."
            if given.material == "plastic"
            else ""
        )
        return [Finding("vent-too-hot", "stop", lead, body + why, evidence, clause, odds, limit, LEAVE_OFF,
                        ("look at the whole vent for bent or browned pipe, and replace what is",
                         "clean the heat exchanger and set the hottest water lower before it is lit again"),
                        CAUTION)]  # fmt: skip
    if odds is None or odds >= HARDLY or not sure or result.bound:
        return [Finding("vent-heat-open", "open", "Whether the vent stays below its marking cannot be said.", body,
                        evidence, clause, odds, limit,
                        do_next=("read the flue again with the water at its hottest",))]  # fmt: skip
    lead = "The vent stayed below its marking, in the state that was read; that clears no other."
    return [Finding("vent-heat", "open", lead, body, evidence, clause, odds, limit)]


CATEGORIES, MATERIALS, PRESSURES = get_args(Category), get_args(Material), get_args(Pressure)
TRAPS, NEUTRALISERS, PORTS = get_args(Trap), get_args(Neutraliser), get_args(Port)
JOINTS, ENDS = get_args(Joints), get_args(End)
