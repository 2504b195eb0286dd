"""How much fuel and how much air go in: orifice, nozzle or load for the one; jet, draft or fan for the other.

Flows are ratios to those of the design, so that no geometry has to be invented: a resistance is a share of the
pressure that drives the flow at the design, and a blocked share of an area raises it with 1 / (1 - share) squared.
"""

import math
from dataclasses import dataclass

from fluewright.simulate.burned import AIR_MASS, Burned
from fluewright.simulate.condition import Condition, Constants, Design, Site

SUPPLY = 2000.0
"""Pa in the gas supply where it is right; 200 Pa of it is lost in the valve: invented."""
_LOST = 200.0
_LOW_FIRE = 0.09
"""Signal of a premix valve at low fire, as a share of that at full fire."""
_STANDARD = 100_000.0 / 293.0


@dataclass(frozen=True, slots=True)
class Flow:
    """What enters: heat in W, fuel pressure in Pa, air ratio by fresh air at the flame, gas flow against the design."""

    heat: float
    fuel_pressure: float
    air_ratio: float
    through: float
    low_fire: float


def _narrow(share: float) -> float:
    return 1.0 / (1.0 - min(share, 0.97)) ** 2


def _gas(*, design: Design, site: Site, condition: Condition) -> tuple[float, float]:
    """Heat against the design and pressure at the manifold, of a burner behind a regulator and an orifice."""
    wanted = design.fuel_pressure * condition.setting * (1.0 - condition.droop)
    pressure = max(30.0, min(wanted, SUPPLY * condition.supply - _LOST))
    heat = site.play * condition.orifice**2 * condition.wobbe
    heat *= (pressure / design.fuel_pressure * site.barometer / 100_000.0) ** 0.5
    return heat, pressure


def _oil(*, design: Design, site: Site, condition: Condition, constants: Constants) -> tuple[float, float]:
    """Heat against the design and pressure of the pump, of a nozzle."""
    pressure = design.fuel_pressure * condition.pump
    reached = pressure * (1.0 - 0.6 * condition.strainer)
    thick = 2.718281828 ** (0.03 * (290.0 - condition.oil_temperature))
    heat = site.play * condition.nozzle * (reached / design.fuel_pressure) ** 0.5 * thick**constants.viscosity
    heat *= (1.0 - condition.oil_water) * (1.0 - condition.oil_air)
    return heat, pressure


def _fed(*, design: Design, site: Site, condition: Condition, constants: Constants) -> tuple[float, float]:
    if design.family == "oil":
        return _oil(design=design, site=site, condition=condition, constants=constants)
    return _gas(design=design, site=site, condition=condition)


def _flow_mass(*, burned: Burned, heat: float, air_ratio: float) -> float:
    """Mass of gas for a heat, kg/s."""
    return heat * (burned.mass + air_ratio * burned.air * AIR_MASS)


def _buoyant(
    *, design: Design, site: Site, condition: Condition, constants: Constants, hot: float, flue_push: float
) -> float:
    """Flow of gas through an atmospheric appliance against its design; `hot` is its mean temperature in K."""
    dense = site.barometer / site.room
    light = site.barometer / hot
    drive = (dense - light) / (_STANDARD - 100_000.0 / 820.0) - constants.hood * flue_push
    lint = condition.lint if design.arrestor else 0.0
    resistance = 0.25 * _narrow(condition.intake_block) + 0.5 * _narrow(condition.passes_block) + 0.25 * _narrow(lint)
    return math.sqrt(max(drive, 0.02) * dense / _STANDARD / resistance)


def _fan_drawn(*, design: Design, site: Site, condition: Condition, flue: float) -> float:
    """Flow of gas through an appliance whose fan draws hot flue gas, against its design."""
    tuned_at = 325.0 if design.transfer > 4.0 else 430.0
    dense = site.barometer / flue / (100_000.0 / tuned_at)
    resistance = 0.25 * _narrow(condition.intake_block) + 0.35 * _narrow(condition.passes_block)
    resistance += 0.4 * _narrow(condition.flue_block)
    drive = condition.fan**2 - (condition.wind + condition.exhaust) / (design.pull * dense)
    return math.pow(dense, 0.6) * math.sqrt(max(drive, 0.02) / (0.35 + 0.65 * resistance))


def _fan_blown(*, design: Design, site: Site, condition: Condition, intake: float) -> float:
    """Flow of air of a burner fan that blows cold air, against its design."""
    dense = site.barometer / intake / _STANDARD
    resistance = 0.15 * _narrow(condition.intake_block) + 0.6 + 0.15 * _narrow(condition.passes_block)
    resistance += 0.1 * _narrow(condition.flue_block)
    blown = 250.0 if design.family == "oil" else design.pull
    drive = condition.fan**2 - (condition.wind + condition.exhaust) / (blown * dense)
    return dense * condition.damper * math.sqrt(max(drive, 0.02) / resistance)


def _premixed(*, design: Design, site: Site, condition: Condition, intake: float) -> tuple[float, float, float]:
    """Air flow against the design, air ratio at full and at low fire, of a valve that lets gas follow the air."""
    dense = (site.barometer / intake / _STANDARD) ** 0.5
    resistance = 0.2 * _narrow(condition.intake_block) + 0.3 * _narrow(condition.burner_dirt * 0.6)
    resistance += 0.25 * _narrow(condition.passes_block) + 0.25 * _narrow(condition.flue_block)
    drive = max(condition.fan**2 - condition.wind / design.pull, 0.02) / resistance
    signal = design.pull * drive
    ratios = []
    for share in (1.0, _LOW_FIRE):
        pushed = max(0.1, 1.0 + condition.offset / (signal * share))
        follows = condition.ratio * site.play * condition.wobbe * pushed**0.5
        starved = min(1.0, (max(0.0, condition.supply * SUPPLY - _LOST) / 1100.0) ** 0.5) if share == 1.0 else 1.0
        ratios.append(design.air_ratio * site.factory * dense / (follows * starved))
    return dense * drive**0.5, ratios[0], ratios[1]


def breathed(
    *,
    burned: Burned,
    design: Design,
    site: Site,
    condition: Condition,
    constants: Constants,
    flue: float,
    intake: float,
    flue_push: float,
    pull: float,
    stale: float,
) -> Flow:
    """Heat and air at the flame.

    flue       K, of the gas that leaves
    intake     K, of the air
    flue_push  back pressure of the flue through the hood, as a share of the pull of the chamber
    pull       draft of the chimney against that of the design
    stale      share of flue gas in the air
    """
    fresh = 1.0 - stale
    if design.family == "premix":
        air, ratio, low = _premixed(design=design, site=site, condition=condition, intake=intake)
        heat = design.input * air * design.air_ratio / ratio
        pressure = SUPPLY * condition.supply
        return Flow(heat, pressure, ratio * fresh, air, low * fresh)
    if design.family == "wood":
        dense = site.barometer / intake / _STANDARD
        resistance = 0.5 * _narrow(condition.intake_block) + 0.5 * _narrow(condition.passes_block)
        air = condition.damper * (max(pull, 0.03) * dense / resistance) ** 0.5
        burning = (0.45 * condition.load + 0.55 * air) * (1.0 - 1.3 * condition.moisture) * site.play
        ratio = design.air_ratio * site.factory * air / burning * fresh
        return Flow(design.input * burning, 0.0, ratio, air, ratio)
    share, pressure = _fed(design=design, site=site, condition=condition, constants=constants)
    heat = design.input * share
    if design.family in ("power", "oil"):
        air = _fan_blown(design=design, site=site, condition=condition, intake=intake)
        ratio = design.air_ratio * site.factory * air / share * fresh
        return Flow(heat, pressure, max(ratio, 0.55), air, ratio)
    if design.family == "induced":
        moved = _fan_drawn(design=design, site=site, condition=condition, flue=flue)
    else:
        hot = 0.5 * (flue + 1140.0)
        moved = _buoyant(
            design=design, site=site, condition=condition, constants=constants, hot=hot, flue_push=flue_push
        )
    whole = _flow_mass(burned=burned, heat=design.input, air_ratio=design.air_ratio * site.factory) * moved
    air_mass = max(0.0, whole - heat * burned.mass) * (1.0 - 0.4 * condition.crack)
    ratio = air_mass / (heat * burned.air * AIR_MASS) * fresh
    return Flow(heat, pressure, max(ratio, 0.55), moved, ratio)
