"""What a chimney pulls: from two densities and a height, in the forms that books print, and what is left of it.

Draft here is a pull, above nothing where the chimney draws; a gauge in the flue then reads below nothing.
"""

from fluewright.kernel import ops
from fluewright.kernel.constants import GRAVITY
from fluewright.kernel.ops import Number

_FOOT = 0.3048
_RANKINE = 5.0 / 9.0
_INCH_WATER = 249.08891
_INCH_MERCURY = 3386.388640341
_POUND_PER_SQUARE_INCH = 6894.757293168

HANDBOOK_CONSTANT = 0.2554
"""in w.c. x R / (inHg x ft): handbook form of the theoretical draft (ASHRAE, from memory)."""
STEAM_CONSTANT = 0.52
"""in w.c. x R / (psi x ft): formula 24 of Steam, Its Generation and Use, 1919 (read)."""


def draft_from_densities(*, height: Number, outdoor_density: Number, flue_density: Number) -> Number:
    """Pull of a column of warm gas beside one of cold air.

    The flame does not push: the colder, heavier air outside does.

    height           m, from the appliance to the mouth, any shape
    outdoor_density  kg/m3, any shape
    flue_density     kg/m3, mean over the height, any shape
    -> draft at rest, Pa; below nothing where the flue is heavier than the air

    Holds   gas at rest; mean temperature of the whole height, which is far below that at the foot
    Fails   moving gas has lost a part of it to friction, bends and its own speed
    Source  PH = H g (rhoL - rhom), EN 13384-1 (from memory); checks DR-DE-1, DR-EN-1, DR-EN-2
    """
    return height * GRAVITY * (outdoor_density - flue_density)


def draft_from_handbook_form(
    *, height: Number, pressure: Number, outdoor_temperature: Number, flue_temperature: Number
) -> Number:
    """The same pull by the form of American handbooks, with the gas taken for air.

    height               m, any shape
    pressure             Pa, absolute, at the place, any shape
    outdoor_temperature  K, any shape
    flue_temperature     K, mean over the height, any shape
    -> draft at rest, Pa

    Holds   gas as heavy as air of its temperature
    Fails   flue gas of natural gas is lighter by 3 to 4 %: the form gives too little
    Source  D = 0.2554 P H (1/To - 1/Tm), in w.c., inHg, ft, R (ASHRAE, from memory); checks DR-ASH-1, DR-ASH-2
    """
    colder = 1.0 / (outdoor_temperature / _RANKINE) - 1.0 / (flue_temperature / _RANKINE)
    inches = HANDBOOK_CONSTANT * (pressure / _INCH_MERCURY) * (height / _FOOT) * colder
    return inches * _INCH_WATER


def draft_from_steam_form(
    *, height: Number, pressure: Number, outdoor_temperature: Number, flue_temperature: Number
) -> Number:
    """The same pull by the form of the old book of steam.

    height               m, any shape
    pressure             Pa, absolute, at the place, any shape
    outdoor_temperature  K, any shape
    flue_temperature     K, mean over the height, any shape
    -> draft at rest, Pa

    Holds   as the handbook form: 0.52 x 14.696 is 0.2554 x 29.92
    Fails   as the handbook form
    Source  D = 0.52 H P (1/T - 1/T1), in w.c., ft, psi, R, Steam, Its Generation and Use (1919), formula 24 (read);
            checks DR-STM-1, DR-STM-2
    """
    colder = 1.0 / (outdoor_temperature / _RANKINE) - 1.0 / (flue_temperature / _RANKINE)
    inches = STEAM_CONSTANT * (height / _FOOT) * (pressure / _POUND_PER_SQUARE_INCH) * colder
    return inches * _INCH_WATER


def wind_pressure(*, wind_speed: Number, density: Number, pressure_coefficient: Number) -> Number:
    """Pressure of wind on a wall or at the mouth of a chimney.

    wind_speed            m/s, any shape
    density               kg/m3 of the outdoor air, any shape
    pressure_coefficient  1 where the wind is stopped, below nothing where it pulls, any shape
    -> pressure over that of still air, Pa

    Holds   steady wind
    Fails   gusts; a coefficient belongs to one shape of house and one direction
    Source  0.5 rho v2 Cp (Bernoulli); check DR-WIND
    """
    return 0.5 * density * wind_speed * wind_speed * pressure_coefficient


def draft_left(
    *, draft: Number, flow_loss: Number = 0.0, wind_pressure: Number = 0.0, depressurisation: Number = 0.0
) -> Number:
    """What is left at the foot of the chimney of the pull it has at rest.

    draft             Pa, at rest, any shape
    flow_loss         Pa, lost to friction and bends, any shape
    wind_pressure     Pa, by which wind presses on the mouth, any shape
    depressurisation  Pa, by which the room lies below outdoors, any shape
    -> draft left, Pa; below nothing the flue gas comes into the room

    Holds   all four at the same moment
    Fails   wind that changes
    Source  EN 13384-1 (from memory): PZ = PH - PR - PL, less what the room is drawn down; check DR-LEFT
    """
    return draft - flow_loss - wind_pressure - depressurisation


def draft_from_outdoor_temperature(
    *,
    outdoor_temperature: Number,
    cold_temperature: Number,
    cold_draft: Number,
    warm_temperature: Number,
    warm_draft: Number,
) -> Number:
    """What a table of weather asks a chimney to pull: level below one temperature and above another, straight between.

    outdoor_temperature  K, any shape
    cold_temperature     K, below which the table is level
    cold_draft           Pa as a gauge reads it, at or below that temperature
    warm_temperature     K, above which the table is level
    warm_draft           Pa as a gauge reads it, at or above that temperature
    -> draft asked for as a gauge reads it, Pa, below nothing

    Holds   as the table says
    Fails   it knows nothing of the height of the chimney
    Source  older US tables, T/40 - 2.75 Pa between 10 F and 90 F (from memory); checks DR-WX-10 to DR-WX-90
    """
    share = (outdoor_temperature - cold_temperature) / (warm_temperature - cold_temperature)
    between = ops.minimum(ops.maximum(share, 0.0 * share), 0.0 * share + 1.0)
    return cold_draft + between * (warm_draft - cold_draft)
