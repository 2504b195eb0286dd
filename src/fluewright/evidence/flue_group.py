"""The flue and what hangs on it: predicted pressures, each appliance's share, which spills first, measured beside."""

from collections.abc import Sequence
from dataclasses import dataclass

from fluewright.evidence.finding import PHYSICS, Finding
from fluewright.evidence.flue_given import WALLS, FlueGiven, Hung, Point
from fluewright.evidence.flue_model import Model, Values, model_of
from fluewright.evidence.flue_section import FlueSection, Measured, condition_of, standing_of
from fluewright.evidence.limits import CAUTION, in_words, seen
from fluewright.evidence.part import Derived, Part, Piece, Seen, SoFar, Statement, Voiced
from fluewright.evidence.reckon import Reckoning, refused
from fluewright.evidence.result import Result
from fluewright.kernel import odds, ops
from fluewright.kernel.ops import Number
from fluewright.solve import flue_network

WORD = "flue"
SOURCE = "mass, heat and pressure kept at every junction; docs/method/common-flue.md"
HOLDS = "steady and warm, still air outdoors; not while the flue is warming up, nor with a blockage nobody typed in"
CASES = (("", False), (", every fan on", True))
"""What is added to a key, and whether every fan is on."""
PLAIN_CASE, FANS = "as it stands", "every fan on"

DOUBTFUL = 0.05
"""Odds of spilling from which a prediction is not left unsaid (common practice, no source)."""
LIKELY = 0.5
REACH = 12.0
"""Pa around the figure within which the doubt of one input can move it."""
APART = 2.0
"""Standard uncertainties that measured and predicted may differ by before it is worth a search."""

LOOK_WEAK = ("look for soot, a blockage, a leak into the flue, a cold flue, wind, and for what was typed wrong",)
LOOK_STRONG = ("look for wind over the mouth, a hotter flue than typed, a hood opening that is smaller than counted",)
STOP_NOW = (
    "turn off the appliances on this flue and every fan, open doors and windows",
    "leave them off until the flue draws with every fan on",
)
NEXT = ("run every fan with the doors shut and watch smoke at each hood",)


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
        self.results: dict[str, Result] = {}
        self.statements: list[Statement] = []
        self.findings: list[Finding] = []

    def part(self) -> Part:
        """The part with its picture."""
        self._described()
        for tail, fans in self.cases:
            self._predicted(tail, fans=fans)
        self._first_to_spill()
        measured = [self._measured(index, point) for index, point in enumerate(self.given.points, 1)]
        self.findings += self._spilling()
        return Part(
            word=WORD,
            title="The flue and what hangs on it",
            place="draft",
            statements=tuple(self.statements),
            results=self.results,
            findings=tuple(self.findings),
            cannot_tell=(
                "What wind does at the mouth of the flue, and what lies hidden in it: the prediction knows what was "
                "typed in, nothing else. That it draws on paper clears nothing; smoke at the hood does.",
            ),
            note="Predicted from today's temperatures; counted from the room, below 0 it draws, above 0 it spills.",
            picture=self._section(measured),
        )

    # -------------------------------------------------------------------------------------------- what was typed

    def _described(self) -> None:
        given = self.given
        self.statements.append(
            Statement(
                (
                    "The flue ends ", Seen("top", given.top), " above the floor, inside diameter ",
                    Seen("diameter", given.diameter), ", ", Voiced(given.wall, "hand"), ".",
                ),
                margin=f"U-value about {WALLS[given.wall].u_value:g} W/(m2 K), from memory",
            )
        )  # fmt: skip
        self.statements += [self._hung(one) for one in given.hung]
        pieces: list[Piece] = ["Outdoors "]
        pieces += [Seen("outdoors", given.outdoors)] if given.outdoors else [Voiced("about 10 °C, assumed", "plate")]
        pieces += [", in the room "]
        pieces += [Seen("room", given.room)] if given.room else [Voiced("about 20 °C, assumed", "plate")]
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

    def _hung(self, one: Hung) -> Statement:
        opening = {"hood": "a draft hood", "damper": "a barometric damper", "closed": "no opening"}[one.kind]
        pieces: list[Piece] = [Voiced(one.words, "hand"), f", with {opening}, {one.state}"]
        for key, reading, words in (
            ("input", one.input, ", input "),
            ("oxygen", one.oxygen, ", oxygen "),
            ("outlet", one.outlet, ", flue gas "),
        ):
            if reading is not None and one.state != "off":
                pieces += [words, Seen(f"{key} {one.words}", reading)]
        pieces += ["; opens ", Seen(f"height {one.words}", one.height), " and joins the flue "]
        pieces += [Seen(f"joins {one.words}", one.joins), " above the floor."]
        margin = "" if one.opening or one.kind == "closed" else "opening of the hood not measured: by its connector"
        return Statement(tuple(pieces), margin=margin)

    # -------------------------------------------------------------------------------------------- what follows

    def _predicted(self, tail: str, *, fans: bool) -> None:
        """Draft, diluting or spilled gas and share of every appliance in one condition."""

        def ask(values: Values) -> list[float]:
            found = flue_network.balanced(self.model.network(values, fans=fans))
            total = max(sum(one.connector.flow for one in found.appliances), 1e-9)
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

    def _first_to_spill(self) -> None:
        """At what pressure of the room each begins to spill, the first of them first."""
        found: list[tuple[float, str]] = []
        for one in self.given.hung:
            if one.state != "off" and one.kind != "closed":
                at = flue_network.spills_below(self.model.network(self.model.plain, fans=False), one.words)
                key = f"spills at {one.words}"
                if at is None:
                    self.results[key] = refused("room_pressure_at_spill", "it draws down to 60 Pa below outdoors")
                    continue
                self.results[key] = self._spill_result(one, at)
                found.append((at, one.words))
        found.sort(reverse=True)
        for order, (_, words) in enumerate(found):
            head = "First to spill as the room is drawn down: " if order == 0 and len(found) > 1 else ""
            pieces = (f"{head}{words} spills below ", Derived(f"spills at {words}"), " of room against outdoors.")
            self.statements.append(Statement(pieces, mark="derived"))

    def _spill_result(self, one: Hung, at: float) -> Result:
        """The pressure of the room at which it begins, with the doubt of the whole model."""

        def ask(values: Values) -> list[float]:
            network = self.model.network(values, fans=False)
            found = flue_network.spills_below(network, one.words, least=at - REACH, most=at + REACH)
            return [at - REACH if found is None else found]

        (number,) = self.model.asked(ask, reach=1.0)
        return self.reckoning.result("room_pressure_at_spill", number, **_formula(f"{one.words}: {at:.1f} Pa"))

    # -------------------------------------------------------------------------------------------- what was measured

    def _measured(self, index: int, point: Point) -> Measured:
        """One measured draft beside the prediction."""
        key, tail = f"measured {index}", CASES[1][0] if point.fans else ""
        read = self.reckoning.read(point.draft, words=f"draft, {point.place}{tail}")
        height = float(point.height.figure or 0.0)
        network = self.model.network(self.model.plain, fans=point.fans and self.given.fans_pressure is not None)
        spread = self.reckoning.ledger.sides(read)
        pieces: list[Piece] = [f"Measured {point.place}{tail} ", Seen(key, point.draft)]
        if not point.fans or self.given.fans_pressure is not None:
            (predicted,) = self.model.asked(lambda values: [self._draft_at(values, point, height)])
            gap = read - predicted
            self.results[f"gap {index}"] = self.reckoning.result(
                "draft_gap", gap, formula="measured - predicted", source=SOURCE, holds=HOLDS,
                substitution=f"{float(ops.value_of(read)):.1f} - {float(ops.value_of(predicted)):.1f} Pa",
            )  # fmt: skip
            pieces += [", against the prediction ", Derived(f"gap {index}")]
            self.findings += self._gap(index, point)
        self.statements.append(Statement((*pieces, "."), margin="against the room at the same height"))
        self.findings += self._seen_spilling(key, point)
        pressure = network.around.in_room(height) + float(ops.value_of(read))
        return Measured(f"{point.place}{tail}", height, pressure, max(spread), point.fans)

    def _draft_at(self, values: Values, point: Point, height: float) -> float:
        """Draft predicted at a measured point, against the room at its height."""
        network = self.model.network(values, fans=point.fans)
        found = flue_network.balanced(network)
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
        if (
            not point.at
            or value <= 0.0
            or odds.beyond(value=value, spread=max(spread, 1e-9), limit=0.0) < 1.0 - DOUBTFUL
        ):
            return []
        when = FANS if point.fans else PLAIN_CASE
        name = f"{point.at[:1].upper()}{point.at[1:]}"
        return [
            Finding(
                "spills-measured", "stop", f"{name}, {when}: its opening stands above the room.",
                f"{value:.1f} Pa above the room {point.place}: flue gas comes out there.", ((WORD, key),), PHYSICS,
                do_now=STOP_NOW, cautions=CAUTION,
            )
        ]  # fmt: skip

    # -------------------------------------------------------------------------------------------- what it says

    def _spilling(self) -> list[Finding]:
        """Whether anything spills in the conditions that were typed in."""
        found = []
        for one in self.given.hung:
            for tail, fans in self.cases:
                result = self.results[f"draft {one.words}{tail}"]
                if result.value is None or one.kind == "closed" or one.state == "off":
                    continue
                likely = odds.beyond(value=result.value, spread=max(result.spread, 1e-9), limit=0.0)
                if likely >= DOUBTFUL:
                    found.append(self._spill(one, result, likely, fans=fans, tail=tail))
        return found

    def _spill(self, one: Hung, result: Result, likely: float, *, fans: bool, tail: str) -> Finding:
        name = f"{one.words[:1].upper()}{one.words[1:]}"
        when = "with every fan on" if fans else "as it stands"
        grave = likely >= LIKELY
        saying = "spills" if likely >= 0.95 else "is likely to spill" if grave else "may spill"
        return Finding(
            code="spills-with-fans" if fans else "spills-as-it-stands",
            grade="stop" if grave else "open",
            lead=f"{name} {saying} {when}.",
            body=f"Draft at its opening, predicted: {seen(result, self.account)} against the room. "
            f"Gas into the room: {in_words(likely)}.",
            evidence=((WORD, f"draft {one.words}{tail}"),),
            clause=PHYSICS,
            odds=likely,
            limit="below the room",
            do_now=STOP_NOW if grave else (),
            do_next=NEXT,
            cautions=CAUTION,
        )

    def _section(self, measured: Sequence[Measured]) -> FlueSection:
        """What the drawing is made from."""
        conditions = []
        for _, fans in self.cases:
            network = self.model.network(self.model.plain, fans=fans)
            words = FANS if fans else "predicted"
            conditions.append(condition_of(words, network, flue_network.balanced(network), self.given))
        return FlueSection(
            self.given.building,
            float(self.given.top.figure or 0.0),
            standing_of(self.given),
            tuple(conditions),
            tuple(measured),
        )
