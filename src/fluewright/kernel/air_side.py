"""The air that carries heat off: static pressures with their signs, fan laws, and flow told from rise, table or speed.

Nothing here knows what motor turns the wheel; whoever asks has to.
"""

from collections.abc import Sequence
from itertools import pairwise

from fluewright.kernel import ops
from fluewright.kernel.air import DRY_AIR, MOLAR_MASS
from fluewright.kernel.constants import GAS_CONSTANT, WATER_MOLAR_MASS
from fluewright.kernel.gases import mixture_enthalpy_polynomial
from fluewright.kernel.ops import Number

_BTU_PER_POUND_FAHRENHEIT = 1055.05585262 / 0.45359237 * 1.8
HANDBOOK_DENSITY = 0.075 * 0.45359237 / 0.3048**3
"""kg/m3: 0.075 lb/ft3, the standard air of US handbooks, dry at about 70 F and sea level."""
HANDBOOK_HEAT_CAPACITY = 0.24 * _BTU_PER_POUND_FAHRENHEIT
"""J/(kg K): 0.24 Btu/lb F."""
HANDBOOK_AIR_FACTOR = HANDBOOK_DENSITY * HANDBOOK_HEAT_CAPACITY
"""J/(m3 K): 1.08 Btu/h per cfm and degree Fahrenheit, which is 60 x 0.075 x 0.24. Check AIR-108."""

_FEET_PER_MINUTE = 0.3048 / 60.0
_INCH_OF_WATER = 0.0254 * 1000.0 * 9.80665
HANDBOOK_VELOCITY = 4005.0 * _FEET_PER_MINUTE / _INCH_OF_WATER**0.5
"""m/s per root of a pascal: 4005 ft/min at 1 in w.c., the handbook form for 0.075 lb/ft3 (from memory)."""

_DRY = mixture_enthalpy_polynomial(
    amounts={
        "O2": DRY_AIR.oxygen,
        "N2": DRY_AIR.nitrogen,
        "Ar": DRY_AIR.argon,
        "CO2": DRY_AIR.carbon_dioxide,
    }
)
_VAPOUR = mixture_enthalpy_polynomial(amounts={"H2O": 1.0})


def external_static(*, supply_static: Number, return_static: Number) -> Number:
    """Pressure that the blower has to make for everything outside its cabinet.

    The return reads below the room, so that taking its sign away would halve the answer.

    supply_static  Pa against the room, behind the blower, any shape
    return_static  Pa against the room, before the blower, normally negative, any shape
    -> total external static pressure, Pa

    Holds   both taps where the plate means them: after the filter and before the coil, or as the plate says
    Fails   taps in a jet, at an elbow or at the wheel
    Source  difference of two pressures (common practice, no source); check AIR-TESP
    """
    return supply_static - return_static


def static_unexplained(
    *, external_static: Number, filter_drop: Number, coil_drop: Number, supply_drop: Number, return_drop: Number
) -> Number:
    """What is left of the external static when the drops along the way are taken off.

    Drops in series add up. What does not add up is a drop nobody measured or a tap in the wrong place.

    external_static  Pa, any shape
    filter_drop      Pa across the filter, any shape
    coil_drop        Pa across the coil, any shape
    supply_drop      Pa of the supply ducts, any shape
    return_drop      Pa of the return ducts, any shape
    -> pressure unaccounted for, Pa

    Holds   all read at one blower speed, with the panels on
    Fails   a drop that lies outside the two taps of the total
    Source  pressures in series add; check DEL-STATIC-1
    """
    return external_static - filter_drop - coil_drop - supply_drop - return_drop


def flow_from_speed(*, air_flow: Number, fan_speed: Number, new_fan_speed: Number) -> Number:
    """Air flow of the same fan on the same ducts at another speed.

    air_flow       m3/s, any shape
    fan_speed      1/s, any shape
    new_fan_speed  1/s, any shape
    -> air flow, m3/s

    Holds   one fan, one duct system, turbulent flow, like density
    Fails   motors that hold torque or flow choose their speed themselves: the law says nothing of them
    Source  fan laws by similarity; check AIR-FL-1
    """
    return air_flow * (new_fan_speed / fan_speed)


def pressure_from_speed(*, static_pressure: Number, fan_speed: Number, new_fan_speed: Number) -> Number:
    """Static pressure of the same fan on the same ducts at another speed.

    static_pressure  Pa, any shape
    fan_speed        1/s, any shape
    new_fan_speed    1/s, any shape
    -> static pressure, Pa

    Holds   as flow_from_speed
    Fails   as flow_from_speed
    Source  fan laws by similarity; check DEL-FAN-1
    """
    return static_pressure * (new_fan_speed / fan_speed) ** 2


def power_from_speed(*, fan_power: Number, fan_speed: Number, new_fan_speed: Number) -> Number:
    """Shaft power of the same fan on the same ducts at another speed.

    fan_power      W at the shaft, any shape
    fan_speed      1/s, any shape
    new_fan_speed  1/s, any shape
    -> shaft power, W

    Holds   as flow_from_speed
    Fails   as flow_from_speed; power at the plug has the motor's losses in it as well
    Source  fan laws by similarity; check AIR-FL-3
    """
    return fan_power * (new_fan_speed / fan_speed) ** 3


def pressure_from_flow(
    *, static_pressure: Number, air_flow: Number, new_air_flow: Number, system_exponent: Number = 2.0
) -> Number:
    """Pressure that the same duct, coil or filter takes at another flow.

    static_pressure  Pa, above 0, any shape
    air_flow         m3/s, above 0, any shape
    new_air_flow     m3/s, above 0, any shape
    system_exponent  1..2: 2 for ducts and coils, nearer 1 to 1.5 for filter media
    -> static pressure, Pa

    Holds   nothing in between opens, closes or clogs
    Fails   dampers that move; a wet coil against a dry one
    Source  system curve (common practice, no source); checks AIR-FL-2, AIR-FIL
    """
    return static_pressure * ops.exp(system_exponent * ops.log(new_air_flow / air_flow))


def system_exponent_from_two(
    *, static_pressure: Number, air_flow: Number, new_static_pressure: Number, new_air_flow: Number
) -> Number:
    """How steeply the pressure of a system climbs with its flow, from two measured points.

    Far from 2 on a duct system, something moved between the two, or one flow is wrong.

    static_pressure      Pa, above 0, any shape
    air_flow             m3/s, above 0, any shape
    new_static_pressure  Pa, above 0, any shape
    new_air_flow         m3/s, above 0 and another than the first, any shape
    -> exponent, -

    Holds   nothing moved between the two points
    Fails   two flows close together: the doubt is divided by their ratio's logarithm
    Source  system curve turned round; check DEL-CURVE-1
    """
    return ops.log(new_static_pressure / static_pressure) / ops.log(new_air_flow / air_flow)


def moist_air_density(*, temperature: Number, pressure: Number, humidity_ratio: Number) -> Number:
    """Density of air with its vapour, where the flow is measured.

    Warm air on a mountain is a third thinner than the handbook's.

    temperature     K, at the measuring plane, any shape
    pressure        Pa, absolute, any shape
    humidity_ratio  kg vapour per kg dry air, any shape
    -> density, kg/m3 of moist air

    Holds   ideal mixture, 0 C to 100 C
    Fails   fog
    Source  ideal-gas law with Dalton's; checks DEL-AIR-1, AIR-DR-2000, AIR-DR-5000, AIR-DR-5280
    """
    moles = 1.0 / MOLAR_MASS + humidity_ratio / WATER_MOLAR_MASS
    return pressure / (GAS_CONSTANT * temperature) * (1.0 + humidity_ratio) / moles


def air_heat_rise(*, return_air_temperature: Number, supply_air_temperature: Number, humidity_ratio: Number) -> Number:
    """Heat that a kilogram of air takes up between return and supply.

    return_air_temperature  K, any shape
    supply_air_temperature  K, any shape
    humidity_ratio          kg vapour per kg dry air, the same before and after, any shape
    -> heat, J per kg of moist air

    Holds   nothing condenses and nothing is humidified in between
    Fails   a humidifier between the two thermometers
    Source  gas enthalpies of NASA TM-4513; check DEL-AIR-2
    """
    dry = ops.polynomial(supply_air_temperature, _DRY) - ops.polynomial(return_air_temperature, _DRY)
    vapour = ops.polynomial(supply_air_temperature, _VAPOUR) - ops.polynomial(return_air_temperature, _VAPOUR)
    per_dry = dry / MOLAR_MASS + humidity_ratio * vapour / WATER_MOLAR_MASS
    return per_dry / (1.0 + humidity_ratio)


def air_flow_from_heat(*, heat_output: Number, air_factor: Number, air_rise: Number) -> Number:
    """Air flow that carries this heat at this rise.

    heat_output  W given to the air between the two thermometers, the blower's share with it, any shape
    air_factor   J/(m3 K) at the measuring plane, any shape
    air_rise     K, above 0, any shape
    -> air flow, m3/s at the measuring plane

    Holds   steady; thermometers out of sight of the exchanger, several points, some 4 ft away
    Fails   heat lost by ducts between them; a rise near 0 gives no flow
    Source  first law; checks AIR-TR-1, AIR-TR-2, AIR-TR-3
    """
    return heat_output / (air_factor * air_rise)


def heat_from_air_flow(*, air_flow: Number, air_factor: Number, air_rise: Number) -> Number:
    """Heat that an air flow takes up at this rise.

    air_flow    m3/s at the measuring plane, any shape
    air_factor  J/(m3 K) at the measuring plane, any shape
    air_rise    K, any shape
    -> heat given to the air, W

    Holds   as air_flow_from_heat
    Fails   as air_flow_from_heat
    Source  first law; check DEL-AIR-3
    """
    return air_flow * air_factor * air_rise


def velocity_from_pressure(*, velocity_pressure: Number, density: Number) -> Number:
    """Speed of air at the tip of a pitot tube.

    velocity_pressure  Pa, above 0, any shape
    density            kg/m3 at the tube, any shape
    -> velocity, m/s

    Holds   tube of coefficient 1 along the flow, below 80 m/s
    Fails   below 2 m/s the pressure is lost in the gauge
    Source  Bernoulli; check DEL-VEL-1
    """
    return ops.sqrt(2.0 * velocity_pressure / density)


def velocity_handbook(*, velocity_pressure: Number) -> Number:
    """The same by the handbook form of standard air, beside it.

    velocity_pressure  Pa, above 0, any shape
    -> velocity, m/s

    Holds   0.075 lb/ft3, which is dry air of 70 F at sea level
    Fails   warm or thin air: low by the root of the density ratio
    Source  v = 4005 sqrt(VP in w.c.) ft/min (from memory); check DEL-VEL-2
    """
    return HANDBOOK_VELOCITY * ops.sqrt(velocity_pressure)


def mean_velocity(*, velocity_pressures: Sequence[Number], density: Number) -> Number:
    """Mean speed over the points of a traverse: the mean of the roots.

    The root of the mean pressure is always the larger of the two, and wrong.

    velocity_pressures  Pa, each above 0, one a point, all points of equal weight
    density             kg/m3 in the duct
    -> mean velocity, m/s

    Holds   points that stand for equal areas, or log-Tchebycheff points
    Fails   swirl; a duct too short for the flow to settle
    Source  Bernoulli, then the arithmetic mean (ISO 3966, from memory); check DEL-TRAV-1
    """
    total: Number = 0.0
    for each in velocity_pressures:
        total = total + velocity_from_pressure(velocity_pressure=each, density=density)
    return total / len(velocity_pressures)


def positions_equal_area(*, parts: int) -> tuple[float, ...]:
    """Where across a round duct the tube stands for rings of equal area.

    parts  points on one diameter, an even number
    -> distances from the wall, fractions of the diameter, rising

    Holds   round ducts, each ring read on both sides
    Fails   an odd number would put a point on the axis, which stands for no ring
    Source  rings of equal area; EPA Method 1 table 1-2 (40 CFR 60 appendix A-1, from memory); checks DEL-POINT-1, 2
    """
    rings = parts // 2
    near = [(1.0 - ((2 * ring - 1) / parts) ** 0.5) / 2.0 for ring in range(rings, 0, -1)]
    return (*near, *(1.0 - each for each in reversed(near)))


def air_flow_from_table(*, static_pressure: Number, parts: Sequence[tuple[float, float]]) -> Number:
    """Air flow that a blower table states for a static pressure, between its rows.

    static_pressure  Pa, within the table, any shape
    parts            rows of the table for one speed tap: static pressure in Pa, air flow in m3/s, pressures rising
    -> air flow, m3/s

    Holds   between the first and the last row; a straight line from row to row
    Fails   beyond the table it stays at the nearest row, so that whoever asks must refuse it
    Source  the maker's table, as typed; check DEL-TABLE-1
    """
    flow: Number = parts[0][1]
    for (low, before), (high, after) in pairwise(parts):
        within = ops.minimum(ops.maximum(static_pressure, low), high) - low
        flow = flow + within * ((after - before) / (high - low))
    return flow
