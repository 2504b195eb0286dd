"""Gas through the hole of a burner orifice: how much, which hole, which pressure."""

from fluewright.kernel import ops
from fluewright.kernel.constants import PI
from fluewright.kernel.ops import Number

TABLE_DISCHARGE = 0.90
"""Discharge coefficient of the public tables (BCcampus open textbook, Block E, Appendix 2, read)."""

_CUBIC_FOOT, _INCH, _INCH_OF_WATER = 0.3048**3, 0.0254, 249.08891

TABLE_CONSTANT = 1658.5 * _CUBIC_FOOT / 3600.0 / (_INCH**2 * _INCH_OF_WATER**0.5)
"""1658.5 ft3/h for each square inch and root of an inch of water, as printed, in SI."""


def flow_through_orifice(*, diameter: Number, discharge: Number, gas_pressure: Number, density: Number) -> Number:
    """Gas flow through a round hole, from the heat of the gas's own speed.

    diameter      m, any shape
    discharge     share of the ideal flow that comes through: sharp edge 0.6, drilled spud 0.8 to 0.9
    gas_pressure  Pa, gauge, before the hole
    density       kg/m3 of the gas before the hole
    -> volume flow of the gas in the state of that density, m3/s

    Holds   gauge pressure below 2 kPa, to 0.5 %: the gas hardly expands; see expansion_factor
    Fails   several kPa; choked holes
    Source  Bernoulli; checks ORF-AIR and ORF-CONST
    """
    return discharge * PI / 4.0 * diameter**2 * ops.sqrt(2.0 * gas_pressure / density)


def expansion_factor(*, gas_pressure: Number, barometer: Number, heat_capacity_ratio: Number) -> Number:
    """What flow_through_orifice has to be multiplied with because the gas expands in the hole.

    gas_pressure         Pa, gauge, before the hole, above 0, any shape
    barometer            Pa, absolute, behind the hole
    heat_capacity_ratio  cp/cv of the gas: 1.31 methane, 1.13 propane, 1.40 air
    -> factor, fraction

    Holds   without friction, below the speed of sound: gauge pressure under 0.8 of the barometer
    Fails   choked holes
    Source  isentropic nozzle flow; check ORF-EXP
    """
    ratio = barometer / (barometer + gas_pressure)
    power = ops.exp(ops.log(ratio) / heat_capacity_ratio)
    speed = heat_capacity_ratio / (heat_capacity_ratio - 1.0) * (1.0 - ratio / power) / (1.0 - ratio)
    return power * ops.sqrt(speed)


def flow_by_table(*, diameter: Number, discharge: Number, gas_pressure: Number, relative_density: Number) -> Number:
    """Gas flow through a round hole by the form that public tables are made with.

    A third of a per cent above flow_through_orifice with air of 1.2254 kg/m3.

    diameter          m, any shape
    discharge         -, 0.90 in the tables
    gas_pressure      Pa, gauge
    relative_density  -, of the gas
    -> volume flow, m3/s at about 60 F and sea level

    Holds   at sea level; the tables have no other place
    Fails   the printed row of the code annex for drill 78, which is 5 % above the form
    Source  BCcampus open textbook, Block E, Appendix 2, read; checks ORF-80-3.5-0.6 to ORF-1_32-3.5-0.6
    """
    area = PI / 4.0 * diameter**2
    return TABLE_CONSTANT * discharge * area * ops.sqrt(gas_pressure / relative_density)


def diameter_from_flow(*, gas_flow: Number, discharge: Number, gas_pressure: Number, density: Number) -> Number:
    """The hole that a gas flow needs.

    gas_flow      m3/s through one hole, in the state of the density, any shape
    discharge     -
    gas_pressure  Pa, gauge, before the hole, above 0
    density       kg/m3 of the gas before the hole
    -> diameter, m

    Holds   as flow_through_orifice, whose inverse it is
    Fails   as there
    Source  Bernoulli; check ORF-DIA
    """
    return ops.sqrt(gas_flow / (discharge * (PI / 4.0) * ops.sqrt(2.0 * gas_pressure / density)))


def input_after_pressure(*, fuel_input: Number, gas_pressure: Number, new_gas_pressure: Number) -> Number:
    """Heat input after the manifold was set to another pressure.

    fuel_input        W, before, any shape
    gas_pressure      Pa, gauge, at the manifold before, above 0
    new_gas_pressure  Pa, gauge, after
    -> heat input, W

    Holds   same gas and orifice; burner behind a fixed hole
    Fails   gas valves that follow the air; beyond some 10 to 15 % the air that the jet draws no longer fits
    Source  orifice flow; check MAN-1
    """
    return fuel_input * ops.sqrt(new_gas_pressure / gas_pressure)


def pressure_for_input(*, gas_pressure: Number, input_ratio: Number) -> Number:
    """The manifold pressure that changes the heat input by a factor.

    gas_pressure  Pa, gauge, before, any shape
    input_ratio   input wanted over input now
    -> manifold pressure, Pa, gauge

    Holds   same gas and orifice
    Fails   beyond some 10 to 15 % change the orifice, not the pressure (common practice, no source)
    Source  orifice flow; check MAN-2
    """
    return gas_pressure * input_ratio**2


def diameter_for_gas(
    *,
    diameter: Number,
    wobbe_gross: Number,
    new_wobbe_gross: Number,
    gas_pressure: Number,
    new_gas_pressure: Number,
    input_ratio: Number = 1.0,
) -> Number:
    """The hole for another gas, pressure or input.

    diameter          m, as fitted, any shape
    wobbe_gross       J/m3, of the gas that it was drilled for; net does as well, for both
    new_wobbe_gross   J/m3, of the new gas, same reference
    gas_pressure      Pa, gauge, at the manifold before
    new_gas_pressure  Pa, gauge, after
    input_ratio       heat input wanted over that before
    -> diameter, m

    Holds   both holes of one shape, so that their discharge coefficient is one
    Fails   it says nothing about air shutter, pilot, regulator and valve, which a conversion changes too
    Source  orifice flow; check ORF-GAS
    """
    flow = input_ratio * wobbe_gross / new_wobbe_gross
    return diameter * ops.sqrt(flow * ops.sqrt(gas_pressure / new_gas_pressure))
