"""Gas in pipes by the equations of the code and the older Spitzglass form; and how far a regulator stands off its set.

These hold for turbulent flow in the pipes of a house and carry their units in their constants. The drop from first
principles stands beside them in pipe_friction.
"""

from fluewright.kernel import ops
from fluewright.kernel.ops import Number

_INCH = 0.0254
_FOOT = 0.3048
_CUBIC_FEET_PER_HOUR = _FOOT**3 / 3600.0
_INCH_OF_WATER = 249.08891
_PSI = 0.45359237 * 9.80665 / _INCH**2
_LOW, _HIGH = 19.17, 18.93
_OF_FLOW, _OF_DROP = 0.381, 0.206


def diameter_low_pressure(*, gas_flow: Number, pressure_drop: Number, length: Number, gas_factor: Number) -> Number:
    """Inside diameter that a low-pressure line needs, by the equation of the code.

    What the sizing tables of the US codes are made from; natural gas and propane only.

    gas_flow       m3/s at the conditions of the code, 60 F and 14.73 psia, above 0, any shape
    pressure_drop  Pa, above 0, any shape
    length         m, above 0, any shape
    gas_factor     Cr of the code, -, 0.6094 natural gas, 1.2462 propane
    -> inside diameter, m

    Holds   inlet below 1.5 psi, turbulent flow, pipe of a house
    Fails   laminar flow, other gases
    Source  IFGC 2018 402.4 equation 4-1: D = Q^0.381/(19.17 (dH/(Cr L))^0.206) (from memory; tables read); PIPE-*
    """
    flow = gas_flow / _CUBIC_FEET_PER_HOUR
    slope = (pressure_drop / _INCH_OF_WATER) / (gas_factor * (length / _FOOT))
    return flow**_OF_FLOW / (_LOW * slope**_OF_DROP) * _INCH


def flow_low_pressure(*, inner_diameter: Number, pressure_drop: Number, length: Number, gas_factor: Number) -> Number:
    """Flow that a low-pressure line carries, by the equation of the code.

    inner_diameter  m, above 0, any shape
    pressure_drop   Pa, above 0, any shape
    length          m, above 0, any shape
    gas_factor      Cr of the code, -
    -> flow, m3/s at 60 F and 14.73 psia

    Holds   inlet below 1.5 psi, turbulent flow, pipe of a house
    Fails   laminar flow, other gases
    Source  IFGC 2018 402.4 equation 4-1 solved for the flow; tables 402.4(3) and (4) read; checks PIPE-T-*, PIPE-E-1
    """
    slope = (pressure_drop / _INCH_OF_WATER) / (gas_factor * (length / _FOOT))
    return ((inner_diameter / _INCH) * _LOW * slope**_OF_DROP) ** (1.0 / _OF_FLOW) * _CUBIC_FEET_PER_HOUR


def drop_low_pressure(*, gas_flow: Number, inner_diameter: Number, length: Number, gas_factor: Number) -> Number:
    """Pressure lost along a low-pressure line, by the equation of the code.

    gas_flow        m3/s at 60 F and 14.73 psia, above 0, any shape
    inner_diameter  m, above 0, any shape
    length          m with fittings, any shape
    gas_factor      Cr of the code, -
    -> pressure drop, Pa

    Holds   inlet below 1.5 psi, turbulent flow, pipe of a house
    Fails   laminar flow, other gases
    Source  IFGC 2018 402.4 equation 4-1 solved for the drop; check PIPE-E-2
    """
    slope = ((gas_flow / _CUBIC_FEET_PER_HOUR) ** _OF_FLOW / (_LOW * inner_diameter / _INCH)) ** (1.0 / _OF_DROP)
    return slope * gas_factor * (length / _FOOT) * _INCH_OF_WATER


def diameter_high_pressure(
    *,
    gas_flow: Number,
    pressure_in: Number,
    pressure_out: Number,
    length: Number,
    gas_factor: Number,
    code_compression: Number,
) -> Number:
    """Inside diameter that a line of 1.5 psi and more needs, by the equation of the code.

    gas_flow          m3/s at 60 F and 14.73 psia, above 0, any shape
    pressure_in       Pa absolute, any shape
    pressure_out      Pa absolute, below pressure_in, any shape
    length            m, above 0, any shape
    gas_factor        Cr of the code, -
    code_compression  Y of the code, -, 0.9992 natural gas, 0.9910 propane
    -> inside diameter, m

    Holds   inlet of 1.5 psi and more, turbulent flow
    Fails   where a colder or hotter line, or sonic flow, matters
    Source  IFGC 2018 402.4 equation 4-2: 18.93 and ((P1^2-P2^2) Y/(Cr L)) (from memory); check PIPE-HP
    """
    squares = (pressure_in**2 - pressure_out**2) / _PSI**2
    slope = squares * code_compression / (gas_factor * (length / _FOOT))
    return (gas_flow / _CUBIC_FEET_PER_HOUR) ** _OF_FLOW / (_HIGH * slope**_OF_DROP) * _INCH


def flow_high_pressure(
    *,
    inner_diameter: Number,
    pressure_in: Number,
    pressure_out: Number,
    length: Number,
    gas_factor: Number,
    code_compression: Number,
) -> Number:
    """Flow that a line of 1.5 psi and more carries, by the equation of the code.

    inner_diameter    m, above 0, any shape
    pressure_in       Pa absolute, any shape
    pressure_out      Pa absolute, below pressure_in, any shape
    length            m, above 0, any shape
    gas_factor        Cr of the code, -
    code_compression  Y of the code, -
    -> flow, m3/s at 60 F and 14.73 psia

    Holds   inlet of 1.5 psi and more, turbulent flow
    Fails   the tables 402.4(5) and (7): they come from an older formula
    Source  IFGC 2018 402.4 equation 4-2 solved for the flow; table 402.4(6) read; check PIPE-HP
    """
    squares = (pressure_in**2 - pressure_out**2) / _PSI**2
    slope = squares * code_compression / (gas_factor * (length / _FOOT))
    return ((inner_diameter / _INCH) * _HIGH * slope**_OF_DROP) ** (1.0 / _OF_FLOW) * _CUBIC_FEET_PER_HOUR


def pressure_out_high_pressure(
    *,
    gas_flow: Number,
    pressure_in: Number,
    inner_diameter: Number,
    length: Number,
    gas_factor: Number,
    code_compression: Number,
) -> Number:
    """Pressure at the end of a line of 1.5 psi and more, by the equation of the code.

    gas_flow          m3/s at 60 F and 14.73 psia, above 0, any shape
    pressure_in       Pa absolute, any shape
    inner_diameter    m, above 0, any shape
    length            m with fittings, any shape
    gas_factor        Cr of the code, -
    code_compression  Y of the code, -
    -> pressure at the end, Pa absolute; 1 Pa where the line cannot carry that flow

    Holds   inlet of 1.5 psi and more, turbulent flow
    Fails   more flow than the line can carry: the answer is the floor of 1 Pa
    Source  IFGC 2018 402.4 equation 4-2 solved for the outlet; check PIPE-HP-out
    """
    slope = ((gas_flow / _CUBIC_FEET_PER_HOUR) ** _OF_FLOW / (_HIGH * inner_diameter / _INCH)) ** (1.0 / _OF_DROP)
    squares = slope * gas_factor * (length / _FOOT) / code_compression * _PSI**2
    return ops.sqrt(ops.maximum(pressure_in**2 - squares, 1.0))


def flow_spitzglass(
    *, inner_diameter: Number, pressure_drop: Number, length: Number, relative_density: Number
) -> Number:
    """Flow that a low-pressure line carries, by the Spitzglass form.

    The older form, still asked for by some plants; more cautious than the code under 2 in.

    inner_diameter    m, above 0, any shape
    pressure_drop     Pa, above 0, any shape
    length            m, above 0, any shape
    relative_density  -, against air
    -> flow, m3/s at 60 F and 14.73 psia

    Holds   low pressure
    Fails   above 10 in of pipe, where its friction term grows without reason
    Source  Spitzglass: Q = 3550 sqrt(d^5 h/(S L (1 + 3.6/d + 0.03 d))) (from memory); checks PIPE-SZ-1, PIPE-SZ-2
    """
    size, drop = inner_diameter / _INCH, pressure_drop / _INCH_OF_WATER
    friction = relative_density * (length / _FOOT) * (1.0 + 3.6 / size + 0.03 * size)
    return 3550.0 * ops.sqrt(size**5 * drop / friction) * _CUBIC_FEET_PER_HOUR


def drop_spitzglass(*, gas_flow: Number, inner_diameter: Number, length: Number, relative_density: Number) -> Number:
    """Pressure lost along a low-pressure line, by the Spitzglass form.

    gas_flow          m3/s at 60 F and 14.73 psia, any shape
    inner_diameter    m, above 0, any shape
    length            m with fittings, any shape
    relative_density  -, against air
    -> pressure drop, Pa

    Holds   low pressure
    Fails   above 10 in of pipe
    Source  Spitzglass, as flow_spitzglass; check PIPE-SZ-drop
    """
    size = inner_diameter / _INCH
    friction = relative_density * (length / _FOOT) * (1.0 + 3.6 / size + 0.03 * size)
    return (gas_flow / _CUBIC_FEET_PER_HOUR / 3550.0) ** 2 * friction / size**5 * _INCH_OF_WATER


def gravity_multiplier(*, relative_density: Number) -> Number:
    """By what a sizing table for gas of relative density 0.60 is multiplied for another gas.

    relative_density  -, against air, above 0, any shape
    -> multiplier of the flow, -

    Holds   the same drop in the same pipe; friction factor unchanged
    Fails   laminar flow, where viscosity and not density decides
    Source  sqrt(0.60/s), IFGC table of multipliers (read); checks PIPE-SG-*
    """
    return ops.sqrt(0.60 / relative_density)


def regulator_shift(*, pressure: Number, set_pressure: Number) -> Number:
    """By what share of its set point a regulator stands off it: below at full flow is droop, above at none is lock-up.

    pressure      Pa gauge as read, any shape
    set_pressure  Pa gauge, above 0, at the flow at which it was set
    -> share of the set point, -, negative below it

    Holds   one regulator, one spring
    Fails   a set point read at another flow than the plate means
    Source  definition; classes of accuracy and of closing pressure in EN 334 (from memory); check PIPE-REG
    """
    return (pressure - set_pressure) / set_pressure
