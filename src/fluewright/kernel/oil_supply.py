"""Oil on its way to the flame: nozzle flow, heat input, density and viscosity with temperature, suction, cut-off."""

from fluewright.kernel import ops
from fluewright.kernel.constants import GRAVITY, PI
from fluewright.kernel.ops import Number

FUEL_OIL = (186.9696, 0.4862)
KEROSENE = (594.5418, 0.0)
"""Constants of the expansion of petroleum products at 15 C: (kg2/(m6 K), kg/(m3 K)), API MPMS 11.1 (1980), ASTM D1250
table 54B, from memory."""
LEAST_FUEL_OIL_DENSITY = 838.3127
"""kg/m3 at 15 C where the two groups meet, same document."""

WALTHER = 0.7
"""mm2/s added to the viscosity before the double logarithm, ASTM D341 (from memory)."""

PER_LIFT = 3386.389 / 0.3048
PER_RUN = 3386.389 / 3.048
"""Pa per metre: 1 inHg for each foot of lift and for each ten feet of line (a supplier's set-up note)."""


def nozzle_flow(*, rated_flow: Number, rated_pressure: Number, oil_pressure: Number) -> Number:
    """Flow of a nozzle at another pressure than the one its stamp counts at.

    The stamp is the flow at the rated pressure; a pump set higher pushes more oil through the same hole.

    rated_flow      m3/s (or kg/s: then the answer is kg/s), more than 0, any shape
    rated_pressure  Pa above the room, more than 0, any shape
    oil_pressure    Pa above the room at the nozzle, 0 or more, any shape
    -> oil flow, unit of the rated flow

    Holds   one nozzle, the same oil at the same temperature, 5 to 25 bar
    Fails   worn or dirty nozzles; a new one may be 5 % off (from memory)
    Source  orifice flow; checks OIL-NOZ
    """
    return rated_flow * ops.sqrt(oil_pressure / rated_pressure)


def oil_density(*, reference_density: Number, reference_temperature: Number, temperature: Number) -> Number:
    """Density of oil at another temperature.

    Heat comes by mass and oil is sold and metered by volume: a litre of cold oil holds more heat.

    reference_density      kg/m3 at the reference, 770..1075, any shape
    reference_temperature  K, within a few kelvin of 288.15, any shape
    temperature            K, of the oil, any shape
    -> density, kg/m3

    Holds   petroleum oils, 0 to 95 C; a few percent of biodiesel
    Fails   pure biodiesel and paraffinic oils by a tenth of the change
    Source  API MPMS 11.1 (1980), ASTM D1250 table 54B, from memory; checks OILK-D
    """
    heavy = FUEL_OIL[0] / (reference_density * reference_density) + FUEL_OIL[1] / reference_density
    light = KEROSENE[0] / (reference_density * reference_density)
    expansion = ops.where(ops.less(reference_density, LEAST_FUEL_OIL_DENSITY), light, heavy)
    swing = expansion * (temperature - reference_temperature)
    return reference_density * ops.exp(-swing * (1.0 + 0.8 * swing))


def _doubly_logged(viscosity: Number) -> Number:
    return ops.log(ops.log(viscosity * 1e6 + WALTHER))


def oil_viscosity(
    *,
    cold_viscosity: Number,
    cold_temperature: Number,
    warm_viscosity: Number,
    warm_temperature: Number,
    temperature: Number,
) -> Number:
    """Kinematic viscosity of oil at a temperature, from that at two others.

    Cold oil is thick: it spins less in the nozzle, flows more, and leaves in larger drops.

    cold_viscosity    m2/s at the colder temperature, above 1e-6, any shape
    cold_temperature  K, any shape
    warm_viscosity    m2/s at the warmer one, above 1e-6, below the colder one's, any shape
    warm_temperature  K, above the colder one, any shape
    temperature       K, any shape
    -> kinematic viscosity, m2/s

    Holds   Newtonian oil, viscosities of 1 to 1000 mm2/s, not far beyond the two temperatures
    Fails   below the cloud point, where wax makes a gel
    Source  Walther form of ASTM D341, from memory; checks OILK-V
    """
    cold, warm = _doubly_logged(cold_viscosity), _doubly_logged(warm_viscosity)
    share = ops.log(temperature / cold_temperature) / ops.log(warm_temperature / cold_temperature)
    return (ops.exp(ops.exp(cold + (warm - cold) * share)) - WALTHER) * 1e-6


def oil_mass_flow_ratio(
    *,
    tuned_density: Number,
    later_density: Number,
    tuned_viscosity: Number,
    later_viscosity: Number,
    viscosity_exponent: Number,
) -> Number:
    """Oil burned per hour after the oil has changed temperature, over that at the tuning.

    Through a hole at one pressure mass goes with the root of density. In a swirl nozzle thick oil also spins less, its
    hollow core of air narrows and the film around it thickens: cold oil flows more on both counts.

    tuned_density       kg/m3 at the tuning, any shape
    later_density       kg/m3 later, any shape
    tuned_viscosity     m2/s at the tuning, any shape
    later_viscosity     m2/s later, any shape
    viscosity_exponent  -, 0.05 to 0.3; the sign is certain, the size is not, any shape
    -> mass flow later over mass flow at the tuning, -

    Holds   pressure swirl nozzles, 2 to 12 mm2/s, pump pressure unchanged
    Fails   in thicker oil, where friction takes over and the flow falls again; with a preheater at the nozzle
    Source  orifice flow; the exponent is common practice, no source; checks OILK-M
    """
    thicker = ops.exp(viscosity_exponent * ops.log(later_viscosity / tuned_viscosity))
    return ops.sqrt(later_density / tuned_density) * thicker


def fuel_input_by_volume(*, oil_flow: Number, heating_value: Number) -> Number:
    """Heat that goes in with oil counted by volume.

    The trade's way: gallons an hour times heat per gallon.

    oil_flow       m3/s, any shape
    heating_value  J/m3 at the temperature of the oil, gross or net, any shape
    -> heat input, W, gross or net as the heating value

    Holds   oil at the temperature for which the heat per volume counts
    Fails   a litre 20 K warmer holds 1.7 % less
    Source  definition; checks OIL-IN-1, OIL-IN-2
    """
    return oil_flow * heating_value


def fuel_input_by_mass(*, oil_flow: Number, density: Number, heating_value: Number) -> Number:
    """Heat that goes in with oil whose density is known.

    Heat belongs to mass, so this holds at every temperature if the density is that of the same oil.

    oil_flow       m3/s, any shape
    density        kg/m3 at the temperature of the flow, any shape
    heating_value  J/kg, gross or net, any shape
    -> heat input, W, gross or net as the heating value

    Holds   always
    Fails   oil with water in it
    Source  definition; check OIL-IN-3
    """
    return oil_flow * density * heating_value


def lift_vacuum(*, suction_lift: Number, density: Number) -> Number:
    """Vacuum that the weight of the oil makes at a pump above it.

    A pump cannot pull: the air over the tank pushes the oil up, and what is left of that push is the vacuum.

    suction_lift  m, from oil level to pump; below 0 where the tank stands above, any shape
    density       kg/m3, any shape
    -> vacuum, Pa below the room; below 0 where the oil pushes

    Holds   oil at rest, tank vented
    Fails   a line with gas in it
    Source  hydrostatics; checks OILK-L
    """
    return GRAVITY * density * suction_lift


def line_loss(
    *, oil_flow: Number, line_length: Number, line_bore: Number, viscosity: Number, density: Number
) -> Number:
    """Pressure lost by friction in an oil line.

    Small in a clean line; what a gauge shows beyond weight and friction is filter, valve, kink or frost.

    oil_flow     m3/s in the line: what is burned, with two pipes all that the pump moves, any shape
    line_length  m, straight length, any shape
    line_bore    m, inner width, more than 0, any shape
    viscosity    m2/s, any shape
    density      kg/m3, any shape
    -> pressure lost, Pa

    Holds   laminar flow, Reynolds number below 2300 (pipe_friction.reynolds_number); round line
    Fails   fittings, valves and filters are not in it
    Source  Hagen-Poiseuille law; checks OILK-F
    """
    return 128.0 * viscosity * density * line_length * oil_flow / (PI * line_bore**4)


def vacuum_by_rule(*, suction_lift: Number, line_length: Number) -> Number:
    """Vacuum at the pump as the trade reckons it.

    An inch of mercury for each foot of lift and for each ten feet of line: a third more than the weight of the oil.

    suction_lift  m, 0 or more, any shape
    line_length   m, any shape
    -> vacuum, Pa below the room

    Holds   clean lines of the usual width, light oil
    Fails   cold oil, narrow or fouled lines
    Source  a supplier's set-up note; checks OILK-S
    """
    return PER_LIFT * suction_lift + PER_RUN * line_length


def cutoff_fall(*, oil_pressure: Number, later_oil_pressure: Number) -> Number:
    """Share of its pressure that an oil pump loses after it has cut off.

    A valve that does not close lets oil drip from the nozzle after every run: soot, smell, and a hard next start.

    oil_pressure        Pa above the room while running, more than 0, any shape
    later_oil_pressure  Pa above the room in the closed port after shut-down, any shape
    -> fall, share of the running pressure

    Holds   gauge in the nozzle port, waited as long as the maker says
    Fails   a gauge with air in its line falls by itself
    Source  definition; check OILK-C
    """
    return (oil_pressure - later_oil_pressure) / oil_pressure
