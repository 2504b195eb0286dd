"""Heat delivered by air: rise, static pressures, air flow by every way that was read, heat where a flow is known."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Literal

from fluewright.errors import PhysicsRefused
from fluewright.evidence import air_ways, delivered_air_words, limits
from fluewright.evidence.air_ways import AirState, BlowerTable, Traverse
from fluewright.evidence.delivered import AIR, SIDE_BY_SIDE, HeatCarried, heat_carried, worded
from fluewright.evidence.finding import Finding
from fluewright.evidence.part import Part, SoFar
from fluewright.evidence.reading import Reading
from fluewright.evidence.reckon import Reckoning, by_physics, refused
from fluewright.evidence.result import Result
from fluewright.kernel import air_side
from fluewright.kernel.ops import Number, value_of

Motor = Literal["not said", "fixed speed", "constant torque", "constant airflow"]
Between = Literal["not said", "yes", "no"]
Plane = Literal["return", "supply"]

DROPS = ("filter_drop", "coil_drop", "supply_drop", "return_drop")


@dataclass(frozen=True, slots=True)
class AirPlate:
    """What a plate or the maker's sheet says of the air side, canonical units; None where it was not read."""

    rise_least: float | None = None
    rise_most: float | None = None
    static: float | None = None
    flow: float | None = None
    filter_drop: float | None = None
    coil_drop: float | None = None


@dataclass(frozen=True, slots=True)
class AirSide:
    """What was read on the air side.

    readings        return_air_temperature, supply_air_temperature, supply_static, return_static, the drops,
                    blower_power, heat_output: by registry name, those that were read
    motor           how the blower's motor is driven
    blower_between  whether the blower gives its heat off between the two thermometers
    plane           where air flows are stated, and where a traverse was made
    compared        whether the two thermometers were held side by side before
    """

    readings: Mapping[str, Reading] = field(default_factory=dict)
    plate: AirPlate = AirPlate()
    motor: Motor = "not said"
    blower_between: Between = "not said"
    plane: Plane = "return"
    table: BlowerTable | None = None
    traverse: Traverse | None = None
    compared: bool = False

    @property
    def late(self) -> bool:
        """It may rest on the measured input and on the flue."""
        return True

    def worked(self, so_far: SoFar) -> Part:
        """Work the air side out and judge it."""
        return _Work(self, so_far).part()


class _Work:
    """One air side being worked out: numbers once, results from them."""

    def __init__(self, given: AirSide, so_far: SoFar) -> None:
        self.given, self.so_far = given, so_far
        self.account = so_far.account
        self.reckoning = Reckoning(so_far.account)
        self.numbers: dict[str, Number] = {
            name: self.reckoning.read(reading, spread=SIDE_BY_SIDE if given.compared and "temp" in name else None)
            for name, reading in given.readings.items()
            if reading.figure is not None and name != "heat_output"
        }
        self.results: dict[str, Result] = {}
        self.carried: HeatCarried | None = None

    def part(self) -> Part:
        """Everything in order."""
        rise, external = self._rise(), self._static()
        state = self._state()
        self._flows(rise, external, state)
        findings = list(delivered_air_words.findings(self.given, self.results, self.account))
        findings += self._static_of_practice()
        return Part(
            AIR,
            "Heat delivered to the air",
            "delivered",
            delivered_air_words.statements(self.given, self.results, self.carried, self.account),
            self.results,
            tuple(findings),
            delivered_air_words.cannot_tell(self.given, self.results),
        )

    def _static_of_practice(self) -> list[Finding]:
        """The static pressure against what is common, where no plate says better."""
        result = self.results.get("external_static")
        if result is None or self.given.plate.static is not None:
            return []
        return limits.all_answered(result, AIR, self.account, key="external_static")

    def _rise(self) -> Number | None:
        names = ("return_air_temperature", "supply_air_temperature")
        cool, warm = (self.numbers.get(name) for name in names)
        if cool is None or warm is None:
            return None
        rise = warm - cool
        said = worded(rise, "air_rise", self.account)
        pair = " - ".join(worded(each, name, self.account) for each, name in ((warm, names[1]), (cool, names[0])))
        self.results["air_rise"] = self.reckoning.result(
            "air_rise",
            rise,
            formula="rise = supply - return",
            substitution=f"{pair} = {said}",
            source="two thermometers",
            holds="several points, out of sight of the exchanger, some 4 ft away (common practice)",
        )
        return rise if float(value_of(rise)) > 0.0 else None

    def _static(self) -> Number | None:
        supply, back = (self.numbers.get(name) for name in ("supply_static", "return_static"))
        if supply is None or back is None:
            return None
        total = air_side.external_static(supply_static=supply, return_static=back)
        said = worded(total, "external_static", self.account)
        pair = (worded(supply, "supply_static", self.account), worded(back, "return_static", self.account))
        self.results["external_static"] = self.reckoning.result(
            "external_static",
            total,
            formula="total external static = supply - return, each against the room, with its sign",
            substitution=f"{pair[0]} - ({pair[1]}) = {said}",
            source="difference of two pressures",
            holds="taps where the plate means them",
        )
        self._left_over(total)
        return total

    def _left_over(self, total: Number) -> None:
        """What the drops along the way do not account for, where all four were read."""
        if not all(name in self.numbers for name in DROPS):
            return
        left = air_side.static_unexplained(external_static=total, **{name: self.numbers[name] for name in DROPS})
        drops = " - ".join(worded(self.numbers[name], name, self.account) for name in DROPS)
        self.results["static_unexplained"] = self.reckoning.result(
            "static_unexplained",
            left,
            formula="left = total - filter - coil - supply ducts - return ducts",
            substitution=f"{worded(total, 'external_static', self.account)} - {drops} = "
            f"{worded(left, 'static_unexplained', self.account)}",
            source="pressures in series add",
            holds="all read at one speed of the blower, panels on, between the same two taps",
        )

    def _state(self) -> AirState | None:
        cool, warm = (self.numbers.get(f"{place}_air_temperature") for place in ("return", "supply"))
        if cool is None or warm is None:
            return None
        here = cool if self.given.plane == "return" else warm
        state = air_ways.state_of(self.given.plane, here, (cool, warm), self.reckoning)
        density = worded(state.density, "density", self.account)
        self.results["air_factor"] = self.reckoning.result(
            "air_factor",
            state.factor,
            formula="heat carried = density there x mean heat capacity between return and supply",
            substitution=f"{density} there = {worded(state.factor, 'air_factor', self.account)}; handbook "
            f"{worded(air_side.HANDBOOK_AIR_FACTOR, 'air_factor', self.account)}",
            source="ideal-gas law; enthalpies of NASA TM-4513",
            holds=f"air at the {state.place}, of the barometer and humidity of the day",
        )
        return state

    def _blower(self) -> Number:
        """The blower's heat between the thermometers, W."""
        power = self.numbers.get("blower_power")
        return power if power is not None and self.given.blower_between == "yes" else 0.0

    def _flows(self, rise: Number | None, external: Number | None, state: AirState | None) -> None:
        given, results = self.given, self.results
        if given.table is not None:
            why = "needs both static pressures"
            found = None if external is None else air_ways.by_table(given.table, external, self.reckoning)
            results["air_flow_by_table"] = found or refused("air_flow", why)
        if given.traverse is not None:
            if state is None:
                results["air_flow_by_traverse"] = refused("air_flow", "needs return and supply air temperature")
            else:
                self._traverse(given.traverse, state)
        if rise is None or state is None:
            return
        self.carried = heat_carried(self.so_far, self.reckoning, given.readings.get("heat_output"))
        if self.carried is not None:
            results["air_flow"] = air_ways.by_rise(
                self.carried, state, self.reckoning, blower=self._blower(), rise=rise
            )
            results["air_flow_handbook"] = air_ways.by_handbook(self.carried, rise, self.reckoning)
        results["heat_output"] = self._heat(rise, state)

    def _traverse(self, traverse: Traverse, state: AirState) -> None:
        try:
            self.results.update(air_ways.by_traverse(traverse, state, self.reckoning))
        except PhysicsRefused as error:
            self.results["air_flow_by_traverse"] = by_physics("air_flow", error)

    def _heat(self, rise: Number, state: AirState) -> Result:
        """Heat delivered, where a flow was measured that does not itself rest on the heat."""
        for key in ("air_flow_by_traverse", "air_flow_by_table"):
            flow = self.results.get(key)
            if flow is None or flow.value is None or flow.bound:
                continue
            words = f"air flow {key.removeprefix('air_flow_').replace('_', ' ')}"
            volume = self.reckoning.assumed("air_flow", flow.value, flow.spread, source="this part", words=words)
            heat = air_side.heat_from_air_flow(air_flow=volume, air_factor=state.factor, air_rise=rise)
            heat = heat - self._blower()
            parts = (worded(volume, "air_flow", self.account), worded(state.factor, "air_factor", self.account))
            return self.reckoning.result(
                "heat_output",
                heat,
                formula="heat = air flow x heat the air carries x rise - heat of the blower between the thermometers",
                substitution=f"{parts[0]} x {parts[1]} x {worded(rise, 'air_rise', self.account)} = "
                f"{worded(heat, 'heat_output', self.account)}",
                source="first law",
                holds="at this moment, steady; ducts beyond the thermometers lose more",
            )
        return refused(
            "heat_output", "needs an air flow from a traverse or a blower table; one told from the heat cannot tell it"
        )
