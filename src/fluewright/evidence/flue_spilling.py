"""When a flue lets gas into the room: how far the room may fall, warm and lit cold, and how likely it has."""

from collections.abc import Sequence
from dataclasses import dataclass

from fluewright.evidence.finding import PHYSICS, Finding, Grade
from fluewright.evidence.flue_given import FlueGiven, Hung
from fluewright.evidence.flue_model import Model, Values
from fluewright.evidence.limits import CAUTION, in_words, seen
from fluewright.evidence.reading import Account
from fluewright.evidence.reckon import Reckoning, refused
from fluewright.evidence.result import Result
from fluewright.kernel import odds, ops
from fluewright.kernel.ops import Number
from fluewright.quantity import show
from fluewright.solve import flue_edges
from fluewright.solve.flue_network import Network

WORD = "flue"
SOURCE = "mass, heat and pressure kept at every junction; docs/method/common-flue.md"
STEADY = "steady, still air outdoors; not with a blockage nobody typed in"

DOUBTFUL = 0.05
"""Odds of spilling from which a prediction is not left unsaid (common practice, no source)."""
LIKELY = 0.5
BESIDE, STEP = 0.2, 0.02
"""Pa beside an edge where its slopes are taken, for a flue may turn round at the edge itself; and Pa between the points
that a slope is taken from."""
MOVED = 0.005
"""Part of its standard uncertainty by which an input is moved there."""
STOP_NOW = (
    "turn off the appliances on this flue and every fan, open doors and windows",
    "leave them off until the flue draws with every fan on",
)
TRY_COLD = (
    "before leaving: flue cold, doors shut, every fan on, light it and watch smoke at the hood; if gas still comes out "
    "when the time of your procedure is over, shut it down",
)
NEXT = ("run every fan with the doors shut and watch smoke at each hood",)
COLD_KEY = "starts at"


@dataclass(frozen=True, slots=True)
class Edge:
    """Pressure of the room at which something begins, with its doubt; number None where it never does."""

    key: str
    result: Result
    number: Number | None


class Edges:
    """The edges of one flue, each found once."""

    def __init__(self, given: FlueGiven, model: Model, reckoning: Reckoning) -> None:
        self.given, self.model, self.reckoning = given, model, reckoning
        self.warm = [self._warm(one) for one in given.hung if one.kind != "closed"]
        self.cold = self._cold() if any(one.state == "lit" and one.kind != "closed" for one in given.hung) else None

    def _network(self, values: Values) -> Network:
        return self.model.network(values, fans=False)

    def _warm(self, one: Hung) -> Edge:
        """Below which pressure of the room a warm flue lets gas out at one opening."""
        key, plain = f"spills at {one.words}", self._network(self.model.plain)
        at = flue_edges.spills_below(plain, one.words)
        if at is None:
            return Edge(key, refused("room_pressure_at_spill", "it draws down to 60 Pa below outdoors"), None)
        near = at + BESIDE

        def ask(values: Values) -> list[float]:
            return [flue_edges.drawn_at(self._network(values), one.words, near)]

        slope = (flue_edges.drawn_at(plain, one.words, near + STEP) - ask(self.model.plain)[0]) / STEP
        return self._edge(key, at, self.model.asked(ask, reach=MOVED)[0], slope, f"{one.words} spills")

    def _cold(self) -> Edge:
        """Above which pressure of the room a cold flue begins to draw once the fires are lit."""
        plain = self._network(self.model.plain)
        at = flue_edges.starts_above(plain)
        if at is None:
            return Edge(COLD_KEY, refused("room_pressure_at_spill", "it starts down to 40 Pa below outdoors"), None)
        near = at - BESIDE
        burning = flue_edges.risen(plain, at + BESIDE, burning=False) <= 0.0

        def ask(values: Values) -> list[float]:
            return [flue_edges.risen(self._network(values), near, burning=burning)]

        slope = (ask(self.model.plain)[0] - flue_edges.risen(plain, near - STEP, burning=burning)) / STEP
        return self._edge(COLD_KEY, at, self.model.asked(ask, reach=MOVED)[0], slope, "a cold flue starts")

    def _edge(self, key: str, at: float, flow: Number, slope: float, words: str) -> Edge:
        """The doubt of an edge from how the flow there moves with each input, over how it moves with the room."""
        number = at - (flow - float(ops.value_of(flow))) / slope
        result = self.reckoning.result(
            "room_pressure_at_spill",
            number,
            formula="the room's pressure at which the flow through the opening turns round",
            substitution=f"{words} at {at:.1f} Pa",
            source=SOURCE,
            holds=STEADY,
        )
        return Edge(key, result, number)

    def beyond(self, edge: Edge | None, *, fans: bool) -> float:
        """How likely the room stands below an edge."""
        if edge is None or edge.number is None:
            return 0.0
        margin = self.model.numbers["fans_pressure" if fans else "room_pressure"] - edge.number
        value = float(ops.value_of(margin))
        below, above = self.reckoning.ledger.sides(margin)
        return odds.below(value=value, spread=max(below if value > 0.0 else above, 1e-9), limit=0.0)


def _when(*, fans: bool) -> str:
    return "with every fan on" if fans else "as it stands"


def _room(edges: Edges, edge: Edge, *, fans: bool) -> str:
    """Where the room stands, and where the edge is."""
    number = edges.model.numbers["fans_pressure" if fans else "room_pressure"]
    spread = max(edges.reckoning.ledger.sides(number))
    system = edges.model.account.system
    stands = show.shown(float(ops.value_of(number)), spread, quantity="house_pressure", system=system)
    return f"The room stands at {stands} against outdoors; the edge lies at {seen(edge.result, edges.model.account)}."


def _grade(likely: float, *, grave: Grade) -> Grade:
    return grave if likely >= LIKELY else "open"


def _warm_finding(edges: Edges, one: Hung, edge: Edge, likely: float, *, fans: bool, tail: str) -> Finding:
    """One opening of a warm flue."""
    burning = any(each.state == "lit" for each in edges.given.hung)
    grade = _grade(likely, grave="stop" if burning else "act")
    saying = "spills" if likely >= 0.95 else "is likely to spill" if likely >= LIKELY else "may spill"
    if one.state == "off":
        saying = f"{saying}, though it is off: what comes down the flue comes out there,"
    grave = grade != "open"
    return Finding(
        code="spills-with-fans" if fans else "spills-as-it-stands",
        grade=grade,
        lead=f"{one.words[:1].upper()}{one.words[1:]} {saying} {_when(fans=fans)}.",
        body=f"{_room(edges, edge, fans=fans)} Gas into the room: {in_words(likely)}.",
        evidence=((WORD, f"draft {one.words}{tail}"), (WORD, edge.key)),
        clause=PHYSICS,
        odds=likely,
        limit="room above the edge",
        do_now=STOP_NOW if grave else (),
        do_next=NEXT,
        cautions=CAUTION,
    )


def _cold_finding(edges: Edges, edge: Edge, likely: float, *, fans: bool) -> Finding:
    """A flue that draws while it is warm and may not begin to when it is lit cold."""
    grade = _grade(likely, grave="act")
    saying = "does not begin to draw" if likely >= 0.95 else "is likely not to begin" if likely >= LIKELY else "may not"
    verb = "" if likely >= 0.95 else " to draw" if likely >= LIKELY else " begin to draw"
    return Finding(
        code="lit-cold-spills",
        grade=grade,
        lead=f"Lit while the flue is cold, it {saying}{verb} {_when(fans=fans)}.",
        body=f"{_room(edges, edge, fans=fans)} Cold air falls down the flue then, and all gas comes out into the room: "
        f"{in_words(likely)}. Warm, it goes on drawing further down than that.",
        evidence=((WORD, edge.key),),
        clause=PHYSICS,
        odds=likely,
        limit="room above the edge",
        do_now=TRY_COLD if grade != "open" else (),
        do_next=NEXT,
        cautions=CAUTION,
    )


def alone_spills(edges: Edges, one: Hung, result: Result, key: str, *, fans: bool) -> Finding:
    """One that spills when it burns alone, as a water heater does on a large flue in summer."""
    return Finding(
        code="spills-alone",
        grade="stop" if fans else "act",
        lead=f"{one.words[:1].upper()}{one.words[1:]} spills {_when(fans=fans)} when it burns alone.",
        body=f"Its draft with the others off, predicted: {seen(result, edges.model.account)} against the room.",
        evidence=((WORD, key),),
        clause=PHYSICS,
        limit="below the room",
        do_now=STOP_NOW if fans else TRY_COLD,
        do_next=NEXT,
        cautions=CAUTION,
    )


def findings(edges: Edges, cases: Sequence[tuple[str, bool]]) -> list[Finding]:
    """What spills in the conditions that were typed in, warm; and what would, lit cold, where nothing does warm."""
    found = []
    hung = [one for one in edges.given.hung if one.kind != "closed"]
    for tail, fans in cases:
        stopped = False
        for one, edge in zip(hung, edges.warm, strict=True):
            likely = edges.beyond(edge, fans=fans)
            if likely >= DOUBTFUL:
                found.append(_warm_finding(edges, one, edge, likely, fans=fans, tail=tail))
                stopped = stopped or likely >= LIKELY
        likely = edges.beyond(edges.cold, fans=fans)
        if edges.cold is not None and likely >= DOUBTFUL and not stopped:
            found.append(_cold_finding(edges, edges.cold, likely, fans=fans))
    return found


def pushing(one: Hung, result: Result, key: str, account: Account, *, fans: bool) -> Finding | None:
    """A closed outlet that stands above the room, in one condition; None where it hardly can."""
    if result.value is None:
        return None
    likely = odds.beyond(value=result.value, spread=max(result.spread, 1e-9), limit=0.0)
    if likely < DOUBTFUL:
        return None
    name = f"{one.words[:1].upper()}{one.words[1:]}"
    says = "stands" if likely >= LIKELY else "may stand"
    return Finding(
        code="closed-outlet-pushes",
        grade=_grade(likely, grave="act"),
        lead=f"{name}, {_when(fans=fans)}: its outlet {says} above the room.",
        body=f"Predicted: {seen(result, account)} against the room. Above it: {in_words(likely)}. Whatever joint leaks "
        "there lets flue gas into the room, and a flue that others share has to pull.",
        evidence=((WORD, key),),
        clause=PHYSICS,
        odds=likely,
        limit="below the room",
        do_now=("leave it off until its outlet stands below the room, or its vent is one made to push",)
        if likely >= LIKELY
        else (),
        do_next=("read the pressure at its outlet, and try every joint up to the flue",),
        cautions=CAUTION,
    )
