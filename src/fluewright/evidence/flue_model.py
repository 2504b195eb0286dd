"""The flue as a network, with the doubt of everything that went into it."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass

from fluewright.evidence.flue_given import (
    BENDS_DOUBT,
    DAMPER_SET,
    DISCHARGE,
    OPENING_DOUBT,
    OPENING_PER_CONNECTOR,
    PILOT,
    WALL_DOUBT,
    WALLS,
    FlueGiven,
    Hung,
)
from fluewright.evidence.reading import Account, Reading
from fluewright.evidence.reckon import Reckoning
from fluewright.fuels.record import FuelRecord
from fluewright.kernel import balance, dual, losses, ops
from fluewright.kernel.air import DRY_AIR, MOLAR_MASS
from fluewright.kernel.constants import PI, ZERO_CELSIUS
from fluewright.kernel.ops import Number
from fluewright.solve import flue_balance
from fluewright.solve.flue_network import Attached, Found, Gas, Network, Pipe, Surrounding

USUAL_ROOM, USUAL_OUTDOORS = ZERO_CELSIUS + 20.0, ZERO_CELSIUS + 10.0
"""K where nobody read it; the second with a doubt of 10 K."""
ROOM_DOUBT, OUTDOORS_DOUBT, STILL_DOUBT = 3.0, 10.0, 2.0
"""K, K and Pa of standard uncertainty for room, outdoors and the pressure of a room that nobody read (practice)."""
PRACTICE = "common practice, no source"

Values = Mapping[str, float]
"""The figures of a model by name, canonical units."""


def burnt_gas(record: FuelRecord, *, heat_input: float, oxygen: float, temperature: float) -> Gas:
    """What an appliance sends up, from its gross input and the oxygen in its dry gas."""
    fuel = record.fuel
    flue = balance.from_dry_oxygen(fuel=fuel, air=DRY_AIR, oxygen_dry_fraction=min(oxygen, 0.205))
    per_unit = float(fuel.mass + flue.air * MOLAR_MASS)
    moles = float(flue.dry + flue.water)
    carried = losses.carriers(fuel=fuel, air=DRY_AIR)
    hot, cold = (
        float(losses.wet_flue_enthalpy(carriers=carried, flue=flue, temperature=t)) for t in (temperature, 298.15)
    )
    capacity = (hot - cold) / max(temperature - 298.15, 1.0) / per_unit
    flow = heat_input / float(fuel.heating_value_gross) * per_unit
    return Gas(flow, temperature, per_unit / moles, capacity if temperature > 300.0 else 1050.0)


@dataclass(frozen=True, slots=True)
class Model:
    """A flue whose every figure can be moved.

    numbers  by name, with their doubt
    plain    the same without
    """

    given: FlueGiven
    account: Account
    numbers: Mapping[str, Number]

    @property
    def plain(self) -> dict[str, float]:
        """The figures as they stand."""
        return {name: float(ops.value_of(number)) for name, number in self.numbers.items()}

    def network(self, values: Values, *, fans: bool, alone: str = "") -> Network:
        """The network for one set of figures; alone: the words of the only appliance that burns then."""
        around = Surrounding(
            values["room"],
            values["outdoors"],
            self.account.surroundings.pressure,
            values["fans_pressure" if fans else "room_pressure"],
        )
        attached = tuple(self._attached(one, values, alone) for one in self.given.hung)
        joins = [values[f"joins {one.words}"] for one in self.given.hung]
        ends = [*joins[1:], values["top"]]
        last = len(joins) - 1
        flue = tuple(
            self._pipe(values, end - start, cap=index == last)
            for index, (start, end) in enumerate(zip(joins, ends, strict=True))
        )
        return Network(attached, flue, around)

    def _pipe(self, values: Values, rise: float, *, cap: bool) -> Pipe:
        wall = WALLS[self.given.wall]
        factor = values["bends"] * self.given.cap if cap else 0.0
        rise = max(rise, 1e-3)
        return Pipe(
            rise, rise, values["diameter"], wall.u_value * values["walls"], values["around"], factor, wall.roughness
        )

    def _attached(self, one: Hung, values: Values, alone: str) -> Attached:
        burnt = Gas(0.0, values["room"])
        if one.state != "off" and not (alone and one.words != alone):
            burnt = burnt_gas(
                self.account.fuel,
                heat_input=values[f"input {one.words}"],
                oxygen=values[f"oxygen {one.words}"],
                temperature=values[f"outlet {one.words}"],
            )
        width = values[f"connector {one.words}"]
        opening = 0.0 if one.kind == "closed" else DISCHARGE * values["openings"] * self._free(one, width)
        height, joins = values[f"height {one.words}"], values[f"joins {one.words}"]
        length = max(values[f"length {one.words}"], joins - height, 1e-3)
        metal = WALLS["single-wall metal"]
        connector = Pipe(
            length, joins - height, width, metal.u_value * values["walls"], values["room"],
            one.bends * values["bends"], metal.roughness,
        )  # fmt: skip
        held = 0.0
        if one.damped:
            read = one.draft_set.figure if one.draft_set is not None else None
            held = abs(read) if read else DAMPER_SET
        return Attached(one.words, burnt, opening, height, connector, held, one.kind == "double damper")

    def _free(self, one: Hung, width: float) -> float:
        if one.opening is not None and one.opening.figure is not None:
            return one.opening.figure
        return (1.0 if one.damped else OPENING_PER_CONNECTOR) * PI / 4.0 * width**2

    def found(self, *, fans: bool) -> Found:
        """The balance as it stands."""
        return flue_balance.balanced(self.network(self.plain, fans=fans))

    def asked(self, ask: Callable[[Values], Sequence[float]], *, reach: float = 0.5) -> list[Number]:
        """Figures of the network with the doubt of everything they were made of.

        Each input is moved by its own doubt, both ways, and the network balanced anew.

        reach  how far each is moved, in its standard uncertainty
        """
        at = self.plain
        totals: list[Number] = list(ask(at))
        for name, number in self.numbers.items():
            spread = float(dual.spread(number))
            if spread <= 0.0:
                continue
            up, down = (ask({**at, name: at[name] + side * spread}) for side in (reach, -reach))
            moved = (number - at[name]) * (0.5 / (reach * spread))
            totals = [total + (more - less) * moved for total, more, less in zip(totals, up, down, strict=True)]
        return totals


def _read(reckoning: Reckoning, reading: Reading, words: str) -> Number:
    return reckoning.read(reading, words=words)


def model_of(given: FlueGiven, account: Account, reckoning: Reckoning) -> Model:
    """The model with the doubt of each figure, read or assumed."""
    numbers: dict[str, Number] = {
        "top": _read(reckoning, given.top, "height of the flue's mouth"),
        "diameter": _read(reckoning, given.diameter, "inside diameter of the flue"),
        "walls": reckoning.assumed(
            "share", 1.0, WALL_DOUBT, source="from memory", words="heat let through by the walls"
        ),
        "bends": reckoning.assumed("share", 1.0, BENDS_DOUBT, source=PRACTICE, words="losses of bends, tees and mouth"),
        "openings": reckoning.assumed("share", 1.0, OPENING_DOUBT, source=PRACTICE, words="openings of the hoods"),
    }
    numbers["room"] = (
        _read(reckoning, given.room, "room temperature")
        if given.room is not None
        else reckoning.assumed("room_temperature", USUAL_ROOM, ROOM_DOUBT, source="assumed", words="room temperature")
    )
    numbers["outdoors"] = (
        _read(reckoning, given.outdoors, "outdoor temperature")
        if given.outdoors is not None
        else reckoning.assumed(
            "outdoor_temperature", USUAL_OUTDOORS, OUTDOORS_DOUBT, source="assumed", words="outdoor temperature"
        )
    )
    numbers["around"] = 0.5 * (numbers["room"] + numbers["outdoors"])
    for key, reading in (("room_pressure", given.room_pressure), ("fans_pressure", given.fans_pressure)):
        words = "pressure of the room" if key == "room_pressure" else "pressure of the room, every fan on"
        numbers[key] = (
            _read(reckoning, reading, words)
            if reading is not None
            else reckoning.assumed("house_pressure", 0.0, STILL_DOUBT, source="assumed", words=words)
        )
    for one in given.hung:
        numbers |= _of_hung(one, reckoning)
    return Model(given, account, numbers)


def _of_hung(one: Hung, reckoning: Reckoning) -> dict[str, Number]:
    """The figures of one appliance."""
    found = {
        f"height {one.words}": float(one.height.figure or 0.0),
        f"joins {one.words}": float(one.joins.figure or 0.0),
        f"connector {one.words}": float(one.diameter.figure or 0.0),
        f"length {one.words}": float(one.length.figure or 0.0),
    }
    if one.state == "off":
        return found
    heat, oxygen = PILOT
    if one.state == "lit" and one.input is not None and one.oxygen is not None:
        found[f"input {one.words}"] = _read(reckoning, one.input, f"heat input, {one.words}")
        found[f"oxygen {one.words}"] = _read(reckoning, one.oxygen, f"oxygen, {one.words}")
    else:
        found[f"input {one.words}"] = reckoning.assumed(
            "fuel_input", heat, 0.3 * heat, source="from memory", words=f"pilot of the {one.words}"
        )
        found[f"oxygen {one.words}"] = oxygen
    outlet = one.outlet
    found[f"outlet {one.words}"] = (
        _read(reckoning, outlet, f"flue gas, {one.words}")
        if outlet is not None
        else reckoning.assumed(
            "flue_temperature", ZERO_CELSIUS + 60.0, 20.0, source=PRACTICE, words=f"flue gas, {one.words}"
        )
    )
    return found
