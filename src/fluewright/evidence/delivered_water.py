"""Heat delivered by water: flow times rise, with the properties of what flows, and the return against the dew point."""

import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from typing import Literal

from fluewright.errors import PhysicsRefused
from fluewright.evidence import trust
from fluewright.evidence.delivered import SIDE_BY_SIDE, WATER, HeatCarried, heat_carried, last_worked, worded
from fluewright.evidence.doubt import Origin
from fluewright.evidence.finding import PHYSICS, Finding
from fluewright.evidence.limits import CERTAIN, HARDLY, in_words
from fluewright.evidence.part import Derived, Part, Piece, Seen, SoFar, Statement
from fluewright.evidence.reading import Reading
from fluewright.evidence.reckon import Reckoning, by_physics, refused
from fluewright.evidence.result import Result
from fluewright.evidence.sizes import Size, need
from fluewright.kernel import water_side
from fluewright.kernel.ops import Number, value_of
from fluewright.quantity import names

Liquid = Literal["not said", "water", "ethylene glycol", "propylene glycol"]
Place = Literal["return", "supply"]

UNSAID_DOUBT = 0.06 / math.sqrt(3.0)
"""Relative, downwards: 30 % ethylene glycol that nobody named carries 5 to 6 % less than water (check HYD-EG30)."""
UNREAD_SHARE = (0.35, 0.09)
"""Mass share of a glycol that was named and not read, with its standard uncertainty (common practice, no source)."""
GLYCOL = Size("share of glycol", "the properties are fitted to 60 % by mass and not beyond", most=0.6, above=False)
COLDEST, WARMEST = 273.15, 393.15
"""K: where the properties hold."""


@dataclass(frozen=True, slots=True)
class WaterSide:
    """What was read on the water side.

    readings  return_water_temperature, supply_water_temperature, water_flow, glycol_share, heat_output: by registry
              name, those that were read
    liquid    what flows
    meter_at  where the flow is counted
    compared  whether the two thermometers were held side by side before
    """

    readings: Mapping[str, Reading] = field(default_factory=dict)
    liquid: Liquid = "not said"
    meter_at: Place = "return"
    compared: bool = False

    @property
    def late(self) -> bool:
        """It may rest on the measured input and on the flue."""
        return True

    def worked(self, so_far: SoFar) -> Part:
        """Work the water side out and judge it."""
        work = _Work(self, so_far)
        work.run()
        return Part(
            WATER,
            "Heat delivered to the water",
            "delivered",
            tuple(_statements(self, work.results, work.carried)),
            work.results,
            tuple(_findings(self, work.results, so_far)),
            tuple(_cannot_tell(self, work.results)),
        )


class _Work:
    """One water side being worked out."""

    def __init__(self, given: WaterSide, so_far: SoFar) -> None:
        self.given, self.so_far = given, so_far
        self.account = so_far.account
        self.reckoning = Reckoning(so_far.account)
        self.results: dict[str, Result] = {}
        self.carried: HeatCarried | None = None

    def _number(self, name: str) -> Number | None:
        reading = self.given.readings.get(name)
        if reading is None or reading.figure is None:
            return None
        return self.reckoning.read(reading, spread=SIDE_BY_SIDE if self.given.compared and "temp" in name else None)

    def run(self) -> None:
        """Rise, heat carried, then heat from flow or flow from heat."""
        cool, warm = (self._number(f"{place}_water_temperature") for place in ("return", "supply"))
        if cool is None or warm is None:
            return
        rise = warm - cool
        self.results["water_rise"] = self.reckoning.result(
            "water_rise",
            rise,
            formula="rise = supply - return",
            substitution=f"{worded(warm, 'supply_water_temperature', self.account)} - "
            f"{worded(cool, 'return_water_temperature', self.account)} = {worded(rise, 'water_rise', self.account)}",
            source="two thermometers",
            holds="both on the pipe or in it alike, steady",
        )
        try:
            factor = self._factor(cool, warm)
        except PhysicsRefused as error:
            self.results["heat_output"] = by_physics("heat_output", error)
            return
        if float(value_of(rise)) <= 0.0:
            self.results["heat_output"] = refused("heat_output", "the supply is no warmer than the return")
            return
        self._heat(factor, rise)

    def _share(self) -> Number:
        """Glycol in the liquid: as read, or the usual with its doubt."""
        read = self._number("glycol_share")
        if self.given.liquid in ("not said", "water"):
            _need_named(self.given)
            return 0.0
        need(self.given.readings.get("glycol_share"), GLYCOL)
        if read is not None:
            return read
        value, spread = UNREAD_SHARE
        words = "share of glycol, not read"
        return self.reckoning.assumed("glycol_share", value, spread, source="common practice, no source", words=words)

    def _factor(self, cool: Number, warm: Number) -> Number:
        """Heat that a volume as counted carries for a kelvin; PhysicsRefused where the properties do not hold."""
        _need_liquid(cool, warm)
        given, ledger = self.given, self.reckoning.ledger
        species = "water" if given.liquid == "not said" else given.liquid
        counted_at = cool if given.meter_at == "return" else warm
        factor = water_side.water_factor(
            species=species, glycol_share=self._share(), temperature=0.5 * (cool + warm), meter_temperature=counted_at
        )
        if given.liquid == "not said":
            doubt = Origin("share", "glycol that nobody named", 1.0, UNSAID_DOUBT, 0.0, "assumed")
            factor = factor * ledger.number(doubt)
        elif species != "water":
            spread = water_side.MIXTURE_DOUBT
            doubt = Origin("share", "tables of glycol mixtures", 1.0, spread, spread, "they differ by 1 %")
            factor = factor * ledger.number(doubt)
        said = worded(factor, "water_factor", self.account)
        handbook = worded(water_side.HANDBOOK_WATER_FACTOR, "water_factor", self.account)
        self.results["water_factor"] = self.reckoning.result(
            "water_factor",
            factor,
            formula="heat carried = density where the flow is counted x heat capacity at the mean temperature",
            substitution=f"{species} counted in the {given.meter_at}: {said}; handbook {handbook}",
            source="fits to IAPWS-95 and to mixture tables (CoolProp 8.0.0)",
            holds="0 °C to 120 °C, mixtures to 100 °C",
        )
        return factor

    def _heat(self, factor: Number, rise: Number) -> None:
        account, flow = self.account, self._number("water_flow")
        carries, warm = worded(factor, "water_factor", account), worded(rise, "water_rise", account)
        if flow is not None:
            for key, each, words in (
                ("heat_output", factor, carries),
                ("heat_output_handbook", water_side.HANDBOOK_WATER_FACTOR, "500"),
            ):
                heat = water_side.heat_from_water_flow(water_flow=flow, water_factor=each, water_rise=rise)
                self.results[key] = self.reckoning.result(
                    "heat_output",
                    heat,
                    formula="heat = flow x heat the liquid carries x rise",
                    substitution=f"{worded(flow, 'water_flow', account)} x {words} x {warm} = "
                    f"{worded(heat, 'heat_output', account)}",
                    source="first law" if key == "heat_output" else "handbook form, cold water",
                    holds="at this moment, steady; one flow through both thermometers, no bypass between",
                )
            return
        self.results["heat_output"] = refused("heat_output", "needs a water flow")
        self.carried = heat_carried(self.so_far, self.reckoning, self.given.readings.get("heat_output"))
        if self.carried is None:
            return
        needed = water_side.water_flow_from_heat(heat_output=self.carried.number, water_factor=factor, water_rise=rise)
        self.results["water_flow"] = self.reckoning.result(
            "water_flow",
            needed,
            formula="flow = heat / (heat the liquid carries x rise)",
            substitution=f"({self.carried.figures}) / ({carries} x {warm}) = {worded(needed, 'water_flow', account)}",
            source="first law",
            holds=f"heat {self.carried.words}; counted in the {self.given.meter_at}",
        )


def _need_named(given: WaterSide) -> None:
    """A share of glycol belongs to a glycol: none is dropped in silence, and none is taken for the other."""
    share = given.readings.get("glycol_share")
    if share is None or (share.figure == 0.0 and not share.bound):
        return
    raise PhysicsRefused(
        code="FW-K-083",
        read=f"glycol {share.typed.text}, and a liquid {'not said' if given.liquid == 'not said' else 'called water'}",
        expected="the kind of glycol with its share: ethylene glycol or propylene glycol",
        matters="the two carry different heat, and counted as water the heat comes out several per cent too high",
        do="say which glycol it is, from the can or the label at the filling valve",
    )


def _need_liquid(cool: Number, warm: Number) -> None:
    """Properties hold between freezing and 120 °C."""
    for name, number in (("return_water_temperature", cool), ("supply_water_temperature", warm)):
        value = float(value_of(number))
        if not COLDEST <= value <= WARMEST:
            raise PhysicsRefused(
                code="FW-K-082",
                read=f"{names.of(name).words} of {value - COLDEST:.0f} °C",
                expected="liquid between 0 and 120 °C",
                matters="the properties used here are fitted there and nowhere else",
                do="look at the unit, or read where the liquid is liquid",
            )


def _statements(given: WaterSide, results: Mapping[str, Result], carried: HeatCarried | None) -> Iterator[Statement]:
    pieces: list[Piece] = []
    for name in ("return_water_temperature", "supply_water_temperature", "water_flow"):
        if name in given.readings:
            pieces += [*([", "] if pieces else []), f"{names.of(name).words} ", Seen(name, given.readings[name])]
    if "water_rise" in results:
        pieces += ["; a rise of ", Derived("water_rise")]
    if pieces:
        beside = [f"flow counted in the {given.meter_at}"] if "water_flow" in given.readings else []
        beside += ["thermometers compared first"] if given.compared else []
        yield Statement((*pieces, "."), margin="; ".join(beside))
    liquid: tuple[Piece, ...] = (f"liquid: {given.liquid}",)
    if "glycol_share" in given.readings:
        liquid = (*liquid, ", glycol ", Seen("glycol_share", given.readings["glycol_share"]), " by mass")
    if "water_factor" in results:
        yield Statement((*liquid, "; it carries ", Derived("water_factor"), "."))
    heat = results.get("heat_output")
    if heat is not None and not heat.refused:
        short: tuple[Piece, ...] = ("; 500 × gpm × °F gives ", Derived("heat_output_handbook"))
        yield Statement(("the water took up ", Derived("heat_output"), " at this moment", *short, "."), mark="derived")
    if carried is not None and "water_flow" in results:
        typed: Piece = Seen("heat_output", carried.typed) if carried.typed is not None else carried.figures
        words: tuple[Piece, ...] = ("to carry ", typed, f", {carried.words}, takes ")
        yield Statement((*words, Derived("water_flow"), "."), mark="derived")


def _glycol(given: WaterSide) -> Finding | None:
    share = given.readings.get("glycol_share")
    read = share is not None and share.figure is not None
    if given.liquid == "water" or (given.liquid != "not said" and read):
        return None
    what = "what flows" if given.liquid == "not said" else "how much of it is glycol"
    return Finding(
        "glycol-not-said",
        "open",
        f"Water: nobody said {what}.",
        "30 % ethylene glycol carries 5 % less heat than water in the same flow, 50 % carries 11 % less. "
        + ("Counted as water, with that doubt downwards." if given.liquid == "not said" else "Counted as 35 ± 18 %."),
        ((WATER, "water_factor"),),
        PHYSICS,
        do_next=("read the share with a refractometer, or say that it is water",),
    )


def _return(given: WaterSide, so_far: SoFar) -> Finding | None:
    """The return against the dew point of this flue gas."""
    told, reading = last_worked(so_far), given.readings.get("return_water_temperature")
    condensing = so_far.account.appliance.condensing
    if told is None or reading is None or reading.figure is None or reading.bound or condensing is None:
        return None
    dew = told[1].results.get("water_dew_point")
    if dew is None or dew.value is None or dew.bound:
        return None
    reckoning = Reckoning(so_far.account)
    water = reckoning.read(reading)
    dew_number = reckoning.assumed("water_dew_point", dew.value, dew.spread, source=told[0].word)
    margin = reckoning.result(
        "temperature_difference", water - dew_number, formula="", substitution="", source="", holds=""
    )
    over = trust.beyond(margin, 0.0)
    odds = None if over is None else over if condensing else 1.0 - over
    if odds is None or odds < HARDLY:
        return None
    return _of_return(odds, condensing, told[0].word, worded(dew.value, "water_dew_point", so_far.account), reading)


def _of_return(odds: float, condensing: bool, word: str, dew: str, reading: Reading) -> Finding:
    lead = "Water: the return {} too warm to condense." if condensing else "Water: the return {} cold enough to sweat."
    why = (
        "Above the dew point no water of the flue gas condenses, whatever the plate promises."
        if condensing
        else "Below the dew point the exchanger runs wet, and this appliance is not made for that: it corrodes."
    )
    do = "let the water come back colder: flow, curve, mixing" if condensing else "keep the return warm: mixing, bypass"
    return Finding(
        "return-too-warm" if condensing else "return-too-cold",
        "advise" if odds > 0.5 else "open",
        lead.format("is" if odds >= CERTAIN else "may be"),
        f"Return {reading.typed.text} against a dew point of {dew} of this flue gas. Beyond it: {in_words(odds)}. "
        f"{why}",
        ((WATER, "return_water_temperature"), (word, "water_dew_point")),
        PHYSICS,
        odds=odds,
        do_next=(do,),
    )


def _findings(given: WaterSide, results: Mapping[str, Result], so_far: SoFar) -> Iterator[Finding]:
    found = [_glycol(given) if "water_factor" in results else None, _return(given, so_far), _backwards(results)]
    yield from (one for one in found if one is not None)


def _backwards(results: Mapping[str, Result]) -> Finding | None:
    rise = results.get("water_rise")
    if rise is None or rise.value is None or rise.value > 0.0:
        return None
    return Finding(
        "no-water-rise",
        "open",
        "Water: the supply is no warmer than the return.",
        "The burner was off, or the two thermometers are swapped. No heat is worked out from it.",
        ((WATER, "water_rise"),),
        PHYSICS,
        do_next=("read again in steady burning",),
    )


def _cannot_tell(given: WaterSide, results: Mapping[str, Result]) -> Iterator[str]:
    heat = results.get("heat_output")
    if "water_rise" in results and heat is not None and heat.refused:
        yield "A rise of the water alone tells no heat: that needs a flow."
    if (
        heat is not None
        and heat.value is not None
        and results["water_rise"].spread * 4.0 > abs(results["water_rise"].value or 0.0)
    ):
        yield "Heat to the water: the rise is hardly larger than the doubt of two thermometers."
