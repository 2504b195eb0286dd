"""The next turn of the screw: what comes before it, which way, roughly how far, and what it should come to.

Sizes are rough on purpose: nobody knows how far a shutter moves the air before the first step has shown it. A step is
small, its effect is read, and the next is reckoned from what the last one did.
"""

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Literal

from fluewright.appliance import load
from fluewright.appliance.record import ApplianceClass
from fluewright.rules import adjusting_figures as trade
from fluewright.tune.curve import Knee
from fluewright.words import marked, number, say, spoken

Lever = Literal["air shutter", "fan speed", "draft damper", "gas pressure", "pump pressure", "nozzle", "premix offset"]
Way = Literal["cut", "give", "stay"]
"""cut: less air for its fuel. give: more. stay: it stands where it belongs."""

WITHHELD: Mapping[Lever, tuple[str, ...]] = {
    "air shutter": ("open-shutter", "cut-air"),
    "fan speed": ("cut-air",),
    "draft damper": ("cut-air", "add-draft-damper"),
    "gas pressure": (),
    "pump pressure": (),
    "nozzle": (),
    "premix offset": ("turn-mixture-screw",),
}
"""Advice of the classes that a lever would give, by the keys of the house."""

OF_FUEL: frozenset[Lever] = frozenset({"gas pressure", "pump pressure", "nozzle"})
"""Levers that move the fuel and leave the air: they set the input, and air is not trimmed with them."""

HANDS: Mapping[tuple[Lever, Way], str] = {
    ("air shutter", "cut"): marked("close the air shutter a little"),
    ("air shutter", "give"): marked("open the air shutter a little"),
    ("fan speed", "cut"): marked("slow the fan a little"),
    ("fan speed", "give"): marked("let the fan run faster"),
    ("draft damper", "cut"): marked("let the damper take a little of the draft"),
    ("draft damper", "give"): marked("let the damper leave more of the draft"),
    ("gas pressure", "cut"): marked("raise the gas pressure, only up to the input of the plate"),
    ("gas pressure", "give"): marked("lower the gas pressure, only down to the input of the plate"),
    ("pump pressure", "cut"): marked("raise the pump pressure, only up to the input of the plate"),
    ("pump pressure", "give"): marked("lower the pump pressure, only down to the input of the plate"),
    ("nozzle", "cut"): marked("fit a nozzle that passes more, only up to the input of the plate"),
    ("nozzle", "give"): marked("fit a nozzle that passes less"),
    ("premix offset", "cut"): marked("turn the offset towards more gas, at low fire"),
    ("premix offset", "give"): marked("turn the offset towards less gas, at low fire"),
}
"""What the hand does, by lever and way."""


@dataclass(frozen=True, slots=True)
class Signs:
    """What was seen before anything is turned; None where nobody looked.

    spills           flue gas comes into the room
    rising           carbon monoxide climbs by itself
    sooty            soot or dirt in the passes, or an oily spot
    draft_off        draft is outside what maker or burner asks for
    over_fire, breech   oxygen over the fire and behind the passes, mol/mol
    input_share      heat input over that of the plate
    steady           whether it stands still
    """

    spills: bool | None = None
    rising: bool | None = None
    sooty: bool | None = None
    draft_off: bool | None = None
    over_fire: float | None = None
    breech: float | None = None
    input_share: float | None = None
    steady: bool | None = None


@dataclass(frozen=True, slots=True)
class First:
    """What comes before the next turn.

    word  short, such as "clean"
    why   a sentence
    do    what to do
    stop  whether the burner is not to run on meanwhile
    """

    word: str
    why: str
    do: str
    stop: bool = False


def firsts(signs: Signs, *, lever: Lever) -> Iterator[First]:
    """What comes before any turn of this lever, the gravest first.

    signs  what was seen
    lever  what would be turned
    """
    if signs.spills:
        why = say("Flue gas spills into the room: no setting of the air mends that, and people breathe it.")
        do = say("shut it off, get people out of that air, and find why the flue does not draw")
        yield First(marked("venting"), why, do, True)
    if signs.rising:
        why = say("Carbon monoxide climbs by itself: what is set now is set for a flame that is still going somewhere.")
        do = say("give it air or shut it off, and find why it climbs before anything is set")
        yield First(marked("what climbs"), why, do, True)
    if signs.sooty:
        why = say(
            "Soot or dirt in the passes changes draft, air and flue temperature: set now, it is wrong once cleaned."
        )
        yield First(marked("cleaning"), why, say("clean burner, passes and flue, then read again"))
    leak = trade.practice("leak-behind-fire")
    if signs.breech is not None and signs.over_fire is not None and signs.breech - signs.over_fire > leak:
        why = say(
            "Oxygen is {breech} % at the breech and {over_fire} % over the fire: air leaks in behind the flame, and a "
            "flame set by the breech would be short of air.",
            breech=number(signs.breech * 100, ".1f"), over_fire=number(signs.over_fire * 100, ".1f"),
        )  # fmt: skip
        yield First(marked("sealing"), why, say("seal joints, doors and sections, then read both places again"))
    if signs.draft_off:
        why = say("The draft is not where it belongs, and air through the burner follows it.")
        yield First(marked("draft"), why, say("set the draft first, at the place and fire that the maker names"))
    if signs.input_share is not None and lever not in OF_FUEL:
        yield from _input_first(signs.input_share)


def _input_first(share: float) -> Iterator[First]:
    """The input comes first where it is far from the plate."""
    if abs(share - 1.0) <= trade.practice("input-off"):
        return
    by = number(abs(share - 1.0) * 100.0, ".0f")
    over = say("The heat input is {by} % over the plate: its air would be set for another fire.", by=by)
    under = say("The heat input is {by} % under the plate: its air would be set for another fire.", by=by)
    do = say("bring the input to the plate first, by pressure, orifice or nozzle")
    yield First(marked("input"), over if share > 1.0 else under, do)


def withheld(lever: Lever, of_class: ApplianceClass | None) -> tuple[str, str] | None:
    """What is said instead of turning this lever on this class, and why; None where it may be turned."""
    if of_class is None:
        return None
    for key in WITHHELD[lever]:
        if key in of_class.never:
            return spoken(load.advice()[key].instead), spoken(of_class.never[key])
    return None


@dataclass(frozen=True, slots=True)
class Aim:
    """Where a setting should come to.

    low, high  mol/mol of oxygen to leave it at
    least      the least that is safe, None where no curve showed it
    words      where that comes from
    """

    low: float
    high: float
    words: str
    least: float | None = None


@dataclass(frozen=True, slots=True)
class Turn:
    """One step.

    way       cut, give or stay
    oxygen    mol/mol that it should come to
    last      whether that is the aim itself
    """

    way: Way
    oxygen: float
    last: bool


def next_turn(*, oxygen: float, aim: Aim) -> Turn:
    """The next step from where it stands towards the aim.

    Cutting goes in small steps, smaller near the least that is safe; giving air goes all the way at once.

    oxygen  mol/mol as it stands
    aim     where it should come to
    """
    if aim.low <= oxygen <= aim.high:
        return Turn("stay", oxygen, True)
    if oxygen < aim.low:
        return Turn("give", (aim.low + aim.high) / 2.0, True)
    goal = min((aim.low + aim.high) / 2.0, aim.low + trade.practice("near-knee-step"))
    near = aim.least is not None and oxygen - aim.least < 0.015 + 1e-9
    most = trade.practice("near-knee-step" if near else "step-most")
    return Turn("cut", max(goal, oxygen - most), oxygen - goal <= most)


@dataclass(frozen=True, slots=True)
class Moved:
    """What one step did: by how much the lever was moved, in its own unit, and oxygen before and after, mol/mol."""

    by: float
    before: float
    after: float


def lever_size(taken: Sequence[Moved], *, wanted: float) -> float | None:
    """How far to move the lever, in its own unit, by what the last steps did; None before one has shown it.

    taken   earlier steps with the same lever, in order
    wanted  change of oxygen, mol/mol
    -> in the unit of the lever, with the sign of its earlier moves
    """
    slopes = [(each.after - each.before) / each.by for each in taken if each.by and each.after != each.before]
    return wanted / slopes[-1] if slopes else None


def flue_temperature_then(
    *, flue: float, air: float, sink: float, loss: float, flow: float
) -> tuple[float, float] | None:
    """Flue temperature after the flow of gas has changed, by a heat exchanger of one size; rough.

    Less gas stays longer in the passes and leaves cooler; its flame is hotter, and how much of that the walls of the
    chamber take by radiation before the passes nobody knows: the answer lies between all of it and nothing.

    flue  K as read
    air   K, combustion air
    sink  K, what takes the heat: water or house air
    loss  share of net heat in the flue gas as it stands, without what condenses
    flow  gas later over gas now, per unit of fuel
    -> K, and its standard doubt; None where flue, sink and loss cannot belong together
    """
    if loss <= 0.005 or flue <= sink + 5.0 or flue <= air + 5.0:
        return None
    flame = air + (flue - air) / loss
    if flame <= flue:
        return None
    units = math.log((flame - sink) / (flue - sink))
    left = math.exp(-units * flow ** (trade.practice("convection-power") - 1.0))
    all_of_it = sink + (flame - sink) * left
    nothing = sink + (air + (flame - air) / flow - sink) * left
    return (all_of_it + nothing) / 2.0, abs(all_of_it - nothing) / 2.0


def carbon_monoxide_then(knee: Knee | None, *, oxygen: float) -> tuple[float, float] | None:
    """Carbon monoxide that the curve gives at an oxygen, and a factor of doubt either way (standard).

    knee    of a curve of carbon monoxide, None where none was found
    oxygen  mol/mol
    -> mol/mol and factor; None without a knee, and at or below its near end, where nobody should go
    """
    if knee is None or oxygen < knee.high:
        return None
    floor = trade.practice("carbon-monoxide-scatter")
    found = math.exp(knee.curve.height(oxygen * 100.0)) * 1e-6
    share = math.hypot(trade.practice("carbon-monoxide-scatter-share"), floor / max(found, floor))
    return found, 1.0 + share
