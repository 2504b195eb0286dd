"""A flue with several appliances worked out a second time, by other means: gas from Cantera, Colebrook's friction by
iteration, halving instead of Newton, one way of flow only (upwards). Nothing of the program is used."""

from dataclasses import dataclass
from math import exp, log10, pi, sqrt

import cantera

G, PRESSURE, R = 9.80665, 101_325.0, 8.314462618
_NAMES = ("O2", "N2", "Ar", "CO2", "H2O")
_GAS = cantera.Solution(
    thermo="ideal-gas", species=[s for s in cantera.Species.list_from_file("nasa_gas.yaml") if s.name in _NAMES]
)
AIR = {"O2": 0.20946, "N2": 0.78084, "Ar": 0.0093, "CO2": 0.0004}


@dataclass
class Gas:
    """A stream: kg/s by species, K."""

    flows: dict[str, float]
    temperature: float

    @property
    def flow(self) -> float:
        return sum(self.flows.values())

    def at(self, temperature: float) -> cantera.Solution:
        _GAS.TPY = temperature, PRESSURE, self.flows
        return _GAS

    def density(self, temperature: float) -> float:
        return float(self.at(temperature).density)


def air(flow: float, temperature: float) -> Gas:
    _GAS.TPX = temperature, PRESSURE, AIR
    return Gas({name: flow * float(_GAS[name].Y[0]) for name in AIR}, temperature)


def methane_burned(power: float, ratio: float, temperature: float) -> Gas:
    """Gas of methane at 890.58 kJ/mol (ISO 6976:2016, 25 C)."""
    rate = power / 890_580.0
    need = 2.0 / AIR["O2"]
    moles = {
        "CO2": 1.0 + AIR["CO2"] * need * ratio, "H2O": 2.0, "N2": AIR["N2"] * need * ratio,
        "O2": 2.0 * (ratio - 1.0), "Ar": AIR["Ar"] * need * ratio,
    }  # fmt: skip
    mass = {"CO2": 0.0440095, "H2O": 0.01801528, "N2": 0.0280134, "O2": 0.0319988, "Ar": 0.039948}
    return Gas({name: rate * amount * mass[name] for name, amount in moles.items()}, temperature)


def mixed(parts: list[Gas]) -> Gas:
    flows: dict[str, float] = {}
    heat = 0.0
    for part in parts:
        heat += part.flow * float(part.at(part.temperature).enthalpy_mass)
        for name, flow in part.flows.items():
            flows[name] = flows.get(name, 0.0) + flow
    _GAS.HPY = heat / sum(flows.values()), PRESSURE, flows
    return Gas(flows, float(_GAS.T))


@dataclass
class Tube:
    length: float
    rise: float
    diameter: float
    loss: float
    wall: float
    around: float
    roughness: float = 1e-3

    @property
    def area(self) -> float:
        return pi / 4.0 * self.diameter**2

    def friction(self, flow: float, temperature: float) -> float:
        mu = 1.716e-5 * (temperature / 273.15) ** 1.5 * (273.15 + 110.4) / (temperature + 110.4)
        reynolds = flow * self.diameter / self.area / mu
        found = 0.03
        for _ in range(60):
            found = (-2.0 * log10(self.roughness / 3.7 / self.diameter + 2.51 / reynolds / sqrt(found))) ** -2
        return found

    def through(self, gas: Gas, outdoor: float) -> tuple[Gas, float, float, float]:
        """Gas at the far end, mean density, buoyancy and losses in Pa."""
        start = gas.temperature
        cp = float(gas.at(0.5 * (start + self.around)).cp_mass)
        units = self.wall * pi * self.diameter * self.length / (gas.flow * cp)
        slices = 400
        inverse = sum(
            1.0 / (self.around + (start - self.around) * exp(-units * (i + 0.5) / slices)) for i in range(slices)
        )
        mean = slices / inverse
        density = gas.density(mean)
        heads = self.friction(gas.flow, mean) * self.length / self.diameter + self.loss
        lost = heads * gas.flow**2 / (2.0 * density * self.area**2)
        end = self.around + (start - self.around) * exp(-units)
        return Gas(gas.flows, end), density, (outdoor - density) * G * self.rise, lost


@dataclass
class Fire:
    """One appliance under a draft hood."""

    gas: Gas
    through: float
    outlet: float
    joins: float
    tube: Tube


@dataclass
class Flue:
    fires: list[Fire]
    tube: Tube
    top: float
    top_loss: float
    outdoors: float
    room: float
    room_pressure: float = 0.0
    room_height: float = 0.0

    def hood(self, fire: Fire, flow: float) -> tuple[Gas, float, float]:
        """What enters the connector, the pressure in the hood and where the connector ends."""
        outdoor, indoor = air(1.0, self.outdoors).density(self.outdoors), air(1.0, self.room).density(self.room)
        drawn = flow - fire.gas.flow
        room = self.room_pressure + (outdoor - indoor) * G * (fire.outlet - self.room_height)
        if drawn >= 0.0:
            gas = mixed([fire.gas, air(drawn, self.room)]) if drawn > 0.0 else fire.gas
            pressure = room - drawn**2 / (2.0 * indoor * fire.through**2)
        else:
            share = flow / fire.gas.flow
            gas = Gas({name: share * each for name, each in fire.gas.flows.items()}, fire.gas.temperature)
            pressure = room + drawn**2 / (2.0 * fire.gas.density(fire.gas.temperature) * fire.through**2)
        end, _, lift, lost = fire.tube.through(gas, outdoor)
        return end, pressure, pressure + lift - lost

    def flow_to(self, fire: Fire, joined: float) -> float:
        """The flow with which a connector ends at a pressure."""
        low, high = 1e-5, 0.5
        for _ in range(70):
            middle = 0.5 * (low + high)
            low, high = (middle, high) if self.hood(fire, middle)[2] > joined else (low, middle)
        return 0.5 * (low + high)

    def beyond(self, lowest: float) -> tuple[float, list[float]]:
        """Pressure at the top with a pressure at the lowest joining, and the flows."""
        outdoor = air(1.0, self.outdoors).density(self.outdoors)
        pressure, below, flows = lowest, None, []
        heights = [*(fire.joins for fire in self.fires[1:]), self.top]
        for fire, high in zip(self.fires, heights, strict=True):
            flow = self.flow_to(fire, pressure)
            flows.append(flow)
            joining = self.hood(fire, flow)[0]
            whole = joining if below is None else mixed([below, joining])
            last = high == self.top
            reach = Tube(
                high - fire.joins, high - fire.joins, self.tube.diameter, self.top_loss if last else 0.0,
                self.tube.wall, self.tube.around, self.tube.roughness,
            )  # fmt: skip
            below, _, lift, lost = reach.through(whole, outdoor)
            pressure += lift - lost
        return pressure, flows

    def flows(self) -> list[float]:
        """Flow in each connector, with still air at the top."""
        low, high = self.bracket()
        for _ in range(40):
            middle = 0.5 * (low + high)
            low, high = (low, middle) if self.beyond(middle)[0] > 0.0 else (middle, high)
        return self.beyond(0.5 * (low + high))[1]

    def bracket(self) -> tuple[float, float]:
        """Two pressures at the lowest joining, 1 Pa apart, between which still air stands at the top."""
        pressures = [self.room_pressure - 25.0 + step for step in range(31)]
        ends = [self.beyond(pressure) for pressure in pressures]
        for low, (at_low, flows), (at_high, _) in zip(pressures, ends, ends[1:], strict=False):
            if at_low <= 0.0 <= at_high and min(flows) > 1e-3:
                return low, low + 1.0
        raise ValueError("this program only knows a flue that draws")


def one() -> Flue:
    """A water heater alone."""
    tube = Tube(1.0, 0.6, 0.1, 2.0, 6.0, 293.15)
    return Flue([Fire(methane_burned(12_000.0, 1.6, 450.0), 0.6 * 0.009, 1.5, 2.1, tube)],
                Tube(6.0, 6.0, 0.15, 0.0, 3.0, 283.15), 8.1, 1.5, 273.15, 293.15)  # fmt: skip


def two(room_pressure: float = 0.0) -> Flue:
    """A boiler below a water heater."""
    boiler = Fire(methane_burned(29_000.0, 1.5, 470.0), 0.6 * 0.02, 1.2, 1.8, Tube(1.5, 0.6, 0.15, 2.0, 6.0, 293.15))
    heater = Fire(methane_burned(12_000.0, 1.6, 450.0), 0.6 * 0.009, 1.5, 2.1, Tube(1.0, 0.6, 0.1, 2.0, 6.0, 293.15))
    return Flue([boiler, heater], Tube(6.3, 6.3, 0.18, 0.0, 3.0, 283.15), 8.1, 1.5, 273.15, 293.15, room_pressure)
