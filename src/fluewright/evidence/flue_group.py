"""The flue and what hangs on it: predicted pressures, each appliance's share, which spills first, measured beside."""

from collections.abc import Sequence
from dataclasses import dataclass

from fluewright.evidence.finding import PHYSICS, Finding
from fluewright.evidence.flue_given import DAMPER_SET, WALLS, FlueGiven, Hung, Point
from fluewright.evidence.flue_model import Model, Values, model_of
from fluewright.evidence.flue_section import FlueSection, Measured, condition_of, standing_of
from fluewright.evidence.flue_spilling import (
    DOUBTFUL,
    LIKELY,
    NEXT,
    SOURCE,
    STOP_NOW,
    WORD,
    Edge,
    Edges,
    alone_spills,
    findings,
    pushing,
)
from fluewright.evidence.limits import CAUTION, in_words, seen
from fluewright.evidence.part import Derived, Part, Piece, Seen, SoFar, Statement, Voiced
from fluewright.evidence.reckon import Reckoning
from fluewright.evidence.result import Result
from fluewright.kernel import odds, ops
from fluewright.kernel.ops import Number
from fluewright.quantity import show
from fluewright.solve import flue_balance, flue_network

HOLDS = "steady and warm, still air outdoors; not while the flue is warming up, nor with a blockage nobody typed in"
CASES = (("", False), (", every fan on", True))
"""What is added to a key, and whether every fan is on."""
OPENINGS = {
    "hood": "a draft hood",
    "damper": "a barometric damper",
    "double damper": "a barometric damper that opens both ways",
    "closed": "no opening",
}
PLAIN_CASE, FANS = "as it stands", "every fan on"
UNSETTLED = 0.05
"""Pa by which a balance may miss before it is said."""
CANNOT_TELL = (
    "What wind does at the mouth of the flue, and what lies hidden in it: the prediction knows what was typed in, "
    "nothing else. That it draws on paper clears nothing; smoke at the hood does."
)
WITHOUT_FANS = "Whether it spills with every fan running: no pressure of the room with its fans was given."
"""What stays open where the flue was only worked out as it stands."""
APART = 2.0
"""Standard uncertainties that measured and predicted may differ by before it is worth a search."""

US_U_VALUE = 1055.05585262 / 3600.0 / 0.3048**2 * 1.8
"""W/(m2 K) in a Btu/(h ft2 °F)."""
OUTDOORS, ROOM = 283.15, 293.15
"""K, taken where nobody read them."""

LOOK_WEAK = ("look for soot, a blockage, a leak into the flue, a cold flue, wind, and for what was typed wrong",)
LOOK_STRONG = ("look for wind over the mouth, a hotter flue than typed, a hood opening that is smaller than counted",)


@dataclass(frozen=True, slots=True)
class FlueGroup:
    """A flue to be worked out."""

    given: FlueGiven

    @property
    def late(self) -> bool:
        """It rests on nothing but itself."""
        return False

    def worked(self, so_far: SoFar) -> Part:
        """Predicted, beside it what was measured, and what that says."""
        return _Work(self.given, so_far).part()


def _formula(result_of: str) -> dict[str, str]:
    return {
        "formula": "buoyancy of the flue = losses of flue, connector and opening, at every junction",
        "substitution": result_of,
        "source": SOURCE,
        "holds": HOLDS,
    }


class _Work:
    """One flue being worked out."""

    def __init__(self, given: FlueGiven, so_far: SoFar) -> None:
        self.given, self.account = given, so_far.account
        self.reckoning = Reckoning(self.account)
        self.model: Model = model_of(given, self.account, self.reckoning)
        self.cases = [(tail, fans) for tail, fans in CASES if not fans or given.fans_pressure is not None]
        self.edges = Edges(given, self.model, self.reckoning)
        self.results: dict[str, Result] = {}
        self.statements: list[Statement] = []
        self.findings: list[Finding] = []

    def part(self) -> Part:
        """The part with its picture."""
        self._described()
        for tail, fans in self.cases:
            self._predicted(tail, fans=fans)
            self._alone(tail, fans=fans)
        self._edges()
        measured = [self._measured(index, point) for index, point in enumerate(self.given.points, 1)]
        self.findings += [*findings(self.edges, self.cases), *self._pushing()]
        return Part(
            word=WORD,
            title="The flue and what hangs on it",
            place="draft",
            statements=tuple(self.statements),
            results=self.results,
            findings=tuple(self.findings),
            cannot_tell=(*self._unsettled(), *self._not_given(), CANNOT_TELL),
            note="Predicted from today's temperatures; counted from the room, below 0 it draws, above 0 it spills.",
            picture=self._section(measured),
        )

    def _not_given(self) -> tuple[str, ...]:
        """What was not measured here, and what that leaves open."""
        hung = {one.words for one in self.given.hung}
        unseen = sorted(hung - {point.at for point in self.given.points if point.at})
        said = [] if self.given.fans_pressure is not None else [WITHOUT_FANS]
        if unseen:
            said.append(f"Whether {' or '.join(unseen)} spills as measured: no draft was read at its opening.")
        return tuple(said)

    def _unsettled(self) -> tuple[str, ...]:
        """A balance that did not come to rest is said, not hidden."""
        left = max(self.model.found(fans=fans).left_over for _, fans in self.cases)
        if left < UNSETTLED:
            return ()
        return (f"The flows of this flue come to no rest: the pressures predicted may be {left:.1f} Pa off.",)

    def _pushing(self) -> list[Finding]:
        """Closed outlets that stand above the room: whatever joint leaks there lets flue gas in."""
        shut = [one for one in self.given.hung if one.kind == "closed" and one.state != "off"]
        keys = [(one, f"draft {one.words}{tail}", fans) for tail, fans in self.cases for one in shut]
        asked = [(pushing(one, self.results[key], key, self.account, fans=fans)) for one, key, fans in keys]
        return [finding for finding in asked if finding is not None]

    # -------------------------------------------------------------------------------------------- what was typed

    def _described(self) -> None:
        given = self.given
        self.statements.append(
            Statement(
                (
                    "The flue ends ", Seen("top", given.top), " above the floor, inside diameter ",
                    Seen("diameter", given.diameter), ", ", Voiced(given.wall, "hand"), ".",
                ),
                margin=f"U-value about {self._u_value(WALLS[given.wall].u_value)}, from memory",
            )
        )  # fmt: skip
        self.statements += [self._hung(one) for one in given.hung]
        pieces: list[Piece] = []
        for key, reading, quantity, usual, words in (
            ("outdoors", given.outdoors, "outdoor_temperature", OUTDOORS, "Outdoors "),
            ("room", given.room, "room_temperature", ROOM, ", in the room "),
        ):
            taken = Voiced(f"about {self._shown(usual, quantity)}, assumed", "plate")
            pieces += [words, taken if reading is None else Seen(key, reading)]
        for key, reading, words in (
            ("room_pressure", given.room_pressure, "; the room against outdoors "),
            ("fans_pressure", given.fans_pressure, ", with every fan on "),
        ):
            if reading is not None:
                pieces += [words, Seen(key, reading)]
        if given.room_pressure is None:
            pieces.append(Voiced("; the room against outdoors not read, counted as still", "plate"))
        known = given.outdoors is not None and given.room is not None and given.room_pressure is not None
        self.statements.append(Statement((*pieces, "."), mark="measured" if known else "plate"))

    def _shown(self, value: float, quantity: str, spread: float = 0.0) -> str:
        """A figure in the units of this visit."""
        return show.shown(value, spread, quantity=quantity, system=self.account.system)

    def _u_value(self, u_value: float) -> str:
        """What a wall lets through, in the units of this visit."""
        if self.account.system == "us":
            return f"{u_value / US_U_VALUE:.2g} Btu/(h ft2 °F)"
        return f"{u_value:g} W/(m2 K)"

    def _hung(self, one: Hung) -> Statement:
        opening = OPENINGS[one.kind]
        pieces: list[Piece] = [Voiced(one.words, "hand"), f", with {opening}, {one.state}"]
        for key, reading, words in (
            ("input", one.input, ", input "),
            ("oxygen", one.oxygen, ", oxygen "),
            ("outlet", one.outlet, ", flue gas "),
        ):
            if reading is not None and one.state != "off":
                pieces += [words, Seen(f"{key} {one.words}", reading)]
        if one.damped:
            pieces += [", the damper set to "]
            usual = f"{self._shown(DAMPER_SET, 'draft')} below the room, assumed"
            pieces.append(Seen(f"set {one.words}", one.draft_set) if one.draft_set else Voiced(usual, "plate"))
        pieces += ["; opens ", Seen(f"height {one.words}", one.height), " and joins the flue "]
        pieces += [Seen(f"joins {one.words}", one.joins), " above the floor."]
        margin = "" if one.opening or one.kind == "closed" else "its opening not measured: counted by the connector"
        return Statement(tuple(pieces), margin=margin)

    # -------------------------------------------------------------------------------------------- what follows

    def _predicted(self, tail: str, *, fans: bool) -> None:
        """Draft, diluting or spilled gas and share of every appliance in one condition."""

        def ask(values: Values) -> list[float]:
            found = flue_balance.balanced(self.model.network(values, fans=fans))
            total = max(sum(max(one.connector.flow, 0.0) for one in found.appliances), 1e-9)
            return [
                figure
                for one in found.appliances
                for figure in (one.against_room, one.diluting, max(one.connector.flow, 0.0) / total)
            ]

        figures = self.model.asked(ask)
        for index, one in enumerate(self.given.hung):
            draft, diluting, share = figures[3 * index : 3 * index + 3]
            self._of_one(one, tail, draft, diluting, share)

    def _of_one(self, one: Hung, tail: str, draft: Number, diluting: Number, share: Number) -> None:
        words = f"{one.words}{tail}"
        value = float(ops.value_of(draft))
        self.results[f"draft {words}"] = self.reckoning.result(
            "draft_predicted", draft, **_formula(f"{one.words}: {value:.1f} Pa against the room")
        )
        head = f"{one.words}{tail}: draft at its opening "
        pieces: list[Piece] = [head, Derived(f"draft {words}")]
        flow = float(ops.value_of(diluting))
        if one.kind != "closed":
            spilled = flow < -flue_network.TRICKLE
            name = "spilled_gas" if spilled else "diluting_air"
            amount = -diluting if spilled else diluting
            self.results[f"{name} {words}"] = self.reckoning.result(
                name, amount, **_formula(f"{abs(flow) * 3600:.1f} kg/h")
            )
            pieces += [", gas into the room " if spilled else ", room air drawn in ", Derived(f"{name} {words}")]
        if len(self.given.hung) > 1:
            self.results[f"share {words}"] = self.reckoning.result(
                "flue_share", share, **_formula(f"{float(ops.value_of(share)) * 100:.0f} % of the flow")
            )
            pieces += [", its share of the flue ", Derived(f"share {words}")]
        self.statements.append(Statement((*pieces, "."), mark="derived"))

    def _alone(self, tail: str, *, fans: bool) -> None:
        """Each that burns with the others off: a large flue for a small fire."""
        lit = [one for one in self.given.hung if one.state == "lit"]
        for one in lit if len(lit) > 1 else ():
            key = f"draft {one.words} alone{tail}"

            def ask(values: Values, words: str = one.words) -> list[float]:
                found = flue_balance.balanced(self.model.network(values, fans=fans, alone=words))
                return [each.against_room for each in found.appliances if each.words == words]

            (draft,) = self.model.asked(ask)
            value = float(ops.value_of(draft))
            self.results[key] = self.reckoning.result(
                "draft_predicted", draft, **_formula(f"{one.words} alone: {value:.1f} Pa against the room")
            )
            head = f"{one.words} alone, the others off{tail}: draft at its opening "
            self.statements.append(Statement((head, Derived(key), "."), mark="derived"))
            with_all = self.results[f"draft {one.words}{tail}"].value or 0.0
            if value > 0.0 >= with_all and one.kind != "closed":
                self.findings.append(alone_spills(self.edges, one, self.results[key], key, fans=fans))

    def _edges(self) -> None:
        """At what pressure of the room each begins to spill, the first of them first, and when a cold flue starts."""
        self.results |= {edge.key: edge.result for edge in (*self.edges.warm, *self._started())}
        open_ones = [one for one in self.given.hung if one.kind != "closed"]
        pairs = zip(open_ones, self.edges.warm, strict=True)
        found = sorted(
            ((edge.result.value, one.words) for one, edge in pairs if edge.result.value is not None), reverse=True
        )
        for order, (_, words) in enumerate(found):
            head = "First to spill as the room is drawn down: " if order == 0 and len(found) > 1 else ""
            pieces = (f"{head}{words} spills below ", Derived(f"spills at {words}"), " of room against outdoors.")
            self.statements.append(Statement(pieces, mark="derived"))
        for edge in self._started():
            if edge.result.value is not None:
                words = "lit cold, the flue begins to draw only above "
                self.statements.append(
                    Statement((words, Derived(edge.key), " of room against outdoors."), mark="derived")
                )

    def _started(self) -> tuple[Edge, ...]:
        return (self.edges.cold,) if self.edges.cold is not None else ()

    # -------------------------------------------------------------------------------------------- what was measured

    def _measured(self, index: int, point: Point) -> Measured:
        """One measured draft beside the prediction."""
        key, tail = f"measured {index}", CASES[1][0] if point.fans else ""
        read = self.reckoning.read(point.draft, words=f"draft, {point.place}{tail}")
        height = float(point.height.figure or 0.0)
        network = self.model.network(self.model.plain, fans=point.fans and self.given.fans_pressure is not None)
        spread = self.reckoning.ledger.sides(read)
        pieces: list[Piece] = [f"Measured {point.place}{tail} ", Seen(key, point.draft)]
        margin = "against the room at the same height"
        if not point.fans or self.given.fans_pressure is not None:
            (predicted,) = self.model.asked(lambda values: [self._draft_at(values, point, height)])
            gap = read - predicted
            self.results[f"gap {index}"] = self.reckoning.result(
                "draft_gap", gap, formula="measured - predicted", source=SOURCE, holds=HOLDS,
                substitution=f"{float(ops.value_of(read)):.1f} - {float(ops.value_of(predicted)):.1f} Pa",
            )  # fmt: skip
            pieces += ["; measured less predicted ", Derived(f"gap {index}")]
            margin = f"{margin}; above 0 weaker than predicted"
            self.findings += self._gap(index, point)
        self.statements.append(Statement((*pieces, "."), margin=margin))
        self.findings += self._seen_spilling(key, point)
        pressure = network.around.in_room(height) + float(ops.value_of(read))
        return Measured(f"{point.place}{tail}", height, pressure, max(spread), point.fans)

    def _draft_at(self, values: Values, point: Point, height: float) -> float:
        """Draft predicted at a measured point, against the room at its height."""
        network = self.model.network(values, fans=point.fans)
        found = flue_balance.balanced(network)
        return flue_network.pressure_at(network, found, height, point.at) - network.around.in_room(height)

    def _gap(self, index: int, point: Point) -> list[Finding]:
        result = self.results[f"gap {index}"]
        if result.value is None or abs(result.value) <= APART * result.spread:
            return []
        weak = result.value > 0.0
        return [
            Finding(
                code="draft-weaker-than-predicted" if weak else "draft-stronger-than-predicted",
                grade="advise" if weak else "open",
                lead=f"The draft {point.place} is {'weaker' if weak else 'stronger'} than this flue should give.",
                body=f"Measured less predicted: {seen(result, self.account)}.",
                evidence=((WORD, f"measured {index}"), (WORD, f"gap {index}")),
                clause=PHYSICS,
                do_next=LOOK_WEAK if weak else LOOK_STRONG,
            )
        ]

    def _seen_spilling(self, key: str, point: Point) -> list[Finding]:
        """A measured pressure above the room at an opening: gas comes out there."""
        read = self.reckoning.read(point.draft)
        value, spread = float(ops.value_of(read)), max(self.reckoning.ledger.sides(read))
        likely = odds.beyond(value=value, spread=max(spread, 1e-9), limit=0.0)
        if not point.at or likely < DOUBTFUL:
            return []
        when, grave = FANS if point.fans else PLAIN_CASE, likely >= LIKELY
        name = f"{point.at[:1].upper()}{point.at[1:]}, {when}"
        stands = "stands above the room" if grave else "may stand above the room"
        return [
            Finding(
                "spills-measured",
                "stop" if grave else "open",
                f"{name}: its opening {stands}.",
                f"{self._shown(value, 'draft', spread)} against the room {point.place}. Gas into the room: "
                f"{in_words(likely)}.",
                ((WORD, key),),
                PHYSICS,
                odds=likely,
                do_now=STOP_NOW if grave else (),
                do_next=() if grave else NEXT,
                cautions=CAUTION,
            )
        ]

    def _section(self, measured: Sequence[Measured]) -> FlueSection:
        """What the drawing is made from."""
        conditions = []
        for _, fans in self.cases:
            network = self.model.network(self.model.plain, fans=fans)
            words = FANS if fans else "predicted"
            conditions.append(condition_of(words, network, flue_balance.balanced(network), self.given))
        return FlueSection(
            self.given.building,
            float(self.given.top.figure or 0.0),
            standing_of(self.given),
            tuple(conditions),
            tuple(measured),
        )
