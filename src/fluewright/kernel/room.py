"""Carbon monoxide in a room: what a source makes of its air, and what readings say about source and air changes.

One room, well mixed: air comes in at the outdoor level and leaves at that of the room.
"""

from fluewright.kernel import ops
from fluewright.kernel.constants import GAS_CONSTANT
from fluewright.kernel.gases import molar_mass
from fluewright.kernel.ops import Number

CARBON_MONOXIDE_MOLAR_MASS = molar_mass(species="CO")
"""kg/mol."""

_FEW = 0.01
"""Air changes below which the series is used: it leaves 1e-14, the difference of near equals would leave 1e-14 too."""
_ENDLESS = float("inf")


def mass_from_fraction(*, fraction: Number, temperature: Number, pressure: Number) -> Number:
    """Mass of carbon monoxide in a volume of air, from its share.

    Laws print one or the other; on a mountain the same ppm is less mass.

    fraction     mol/mol, any shape
    temperature  K, of the air, or the reference of the rule, any shape
    pressure     Pa, absolute, any shape
    -> mass concentration, kg/m3

    Holds   ideal gas
    Fails   -
    Source  ideal-gas law; check CO-CONV-1
    """
    return fraction * (CARBON_MONOXIDE_MOLAR_MASS * pressure / (GAS_CONSTANT * temperature))


def fraction_from_mass(*, carbon_monoxide_room_mass: Number, temperature: Number, pressure: Number) -> Number:
    """Share of carbon monoxide in air, from its mass in a volume.

    carbon_monoxide_room_mass  kg/m3, any shape
    temperature                K, of the air, or the reference of the rule, any shape
    pressure                   Pa, absolute, any shape
    -> fraction, mol/mol

    Holds   ideal gas
    Fails   -
    Source  ideal-gas law; check CO-CONV-2
    """
    return carbon_monoxide_room_mass * (GAS_CONSTANT * temperature / (CARBON_MONOXIDE_MOLAR_MASS * pressure))


def _filling_time(air_changes: Number, duration: Number) -> Number:
    """(1 - exp(-n t)) / n, which is t where nothing is exchanged and 1/n after endless time."""
    exchanged = air_changes * duration
    few = ops.less(exchanged, _FEW)
    safe = ops.where(ops.less(0.0, air_changes), air_changes, 1.0)
    series = duration * ops.polynomial(-1.0 * exchanged, (1.0, 1 / 2, 1 / 6, 1 / 24, 1 / 120, 1 / 720))
    return ops.where(few, series, (1.0 - ops.exp(-1.0 * exchanged)) / safe)


def _first_slope(
    source: Number, volume: Number, air_changes: Number, first_fraction: Number, outdoor_fraction: Number
) -> Number:
    """How fast the share begins to change, 1/s."""
    return source / volume - air_changes * (first_fraction - outdoor_fraction)


def later_fraction(
    *,
    fraction: Number,
    duration: Number,
    air_changes: Number,
    room_volume: Number,
    carbon_monoxide_source: Number = 0.0,
    outdoor_fraction: Number = 0.0,
) -> Number:
    """Carbon monoxide in a room after a time, with a steady source and steady air changes.

    fraction                mol/mol at the start, any shape
    duration                s, may be endless where there are air changes, any shape
    air_changes             1/s, 0 for a sealed room, any shape
    room_volume             m3, any shape
    carbon_monoxide_source  m3/s of carbon monoxide, 0 for none, any shape
    outdoor_fraction        mol/mol in the air that comes in, any shape
    -> fraction, mol/mol

    Holds   one well-mixed room; source, air changes and outdoor air stay as they are
    Fails   corners and closets lag behind; no air change and endless time together have no answer
    Source  mass balance; checks CO-ROOM-1, CO-ROOM-3
    """
    slope = _first_slope(carbon_monoxide_source, room_volume, air_changes, fraction, outdoor_fraction)
    return fraction + slope * _filling_time(air_changes, duration)


def steady_fraction(
    *, air_changes: Number, room_volume: Number, carbon_monoxide_source: Number, outdoor_fraction: Number = 0.0
) -> Number:
    """Carbon monoxide that a room comes to in the end.

    air_changes             1/s, any shape
    room_volume             m3, any shape
    carbon_monoxide_source  m3/s of carbon monoxide, any shape
    outdoor_fraction        mol/mol in the air that comes in, any shape
    -> fraction, mol/mol; endless in a sealed room with a source, the outdoor level without a source

    Holds   one well-mixed room, after several air changes
    Fails   the flame burns worse as the room runs out of oxygen, so the source grows
    Source  mass balance; check CO-ROOM-2
    """
    changing = ops.less(0.0, air_changes)
    safe = ops.where(changing, air_changes, 1.0)
    sealed = ops.where(ops.less(0.0, carbon_monoxide_source), _ENDLESS, 0.0)
    return outdoor_fraction + ops.where(changing, carbon_monoxide_source / (room_volume * safe), sealed)


def source_from_rise(
    *,
    fraction: Number,
    later_fraction: Number,
    duration: Number,
    air_changes: Number,
    room_volume: Number,
    outdoor_fraction: Number = 0.0,
) -> Number:
    """How much carbon monoxide is let into a room, from how fast it rose.

    fraction          mol/mol at the start, any shape
    later_fraction    mol/mol after the time, any shape
    duration          s, above 0, any shape
    air_changes       1/s, any shape
    room_volume       m3, any shape
    outdoor_fraction  mol/mol in the air that comes in, any shape
    -> carbon monoxide let in, m3/s; below 0 where the room fell faster than its air changes explain

    Holds   one well-mixed room; source and air changes steady between the readings
    Fails   a door opened between the readings hides the source
    Source  mass balance, inverse of later_fraction; check ROOM-SOURCE-1
    """
    filling = _filling_time(air_changes, duration)
    grown = (later_fraction - fraction) / filling
    return room_volume * (grown + air_changes * (fraction - outdoor_fraction))


def air_changes_from_decay(
    *, fraction: Number, later_fraction: Number, duration: Number, outdoor_fraction: Number = 0.0
) -> Number:
    """Air changes of a room without a source, from how fast it cleared.

    fraction          mol/mol at the start, above outdoors, any shape
    later_fraction    mol/mol after the time, above outdoors, any shape
    duration          s, above 0, any shape
    outdoor_fraction  mol/mol in the air that comes in, any shape
    -> air changes, 1/s

    Holds   one well-mixed room, everything that makes carbon monoxide off
    Fails   near the outdoor level, where both differences are lost in the doubt of the cell
    Source  mass balance; check ROOM-DECAY-1
    """
    return ops.log((fraction - outdoor_fraction) / (later_fraction - outdoor_fraction)) / duration


def duration_to_fraction(
    *,
    fraction: Number,
    later_fraction: Number,
    air_changes: Number,
    room_volume: Number,
    carbon_monoxide_source: Number = 0.0,
    outdoor_fraction: Number = 0.0,
) -> Number:
    """How long until a room reaches a level.

    fraction                mol/mol at the start, any shape
    later_fraction          mol/mol to be reached, any shape
    air_changes             1/s, 0 for a sealed room, any shape
    room_volume             m3, any shape
    carbon_monoxide_source  m3/s of carbon monoxide, any shape
    outdoor_fraction        mol/mol in the air that comes in, any shape
    -> duration, s; endless where the room never gets there

    Holds   one well-mixed room; source, air changes and outdoor air stay as they are
    Fails   near the level the room comes to, where a little doubt is a long time
    Source  mass balance, inverse of later_fraction; check ROOM-TIME-1
    """
    slope = _first_slope(carbon_monoxide_source, room_volume, air_changes, fraction, outdoor_fraction)
    moves = ops.less(0.0, slope * slope)
    filling = (later_fraction - fraction) / ops.where(moves, slope, 1.0)
    share = air_changes * filling
    reached = ops.less(share, 1.0)
    few = ops.less(share, _FEW)
    safe_share = ops.where(reached, share, 0.0)
    safe = ops.where(ops.less(0.0, air_changes), air_changes, 1.0)
    series = filling * ops.polynomial(share, (1.0, 1 / 2, 1 / 3, 1 / 4, 1 / 5, 1 / 6, 1 / 7))
    taken = ops.where(few, series, -1.0 * ops.log(1.0 - safe_share) / safe)
    ahead = ops.where(ops.less(filling, 0.0), _ENDLESS, ops.where(reached, taken, _ENDLESS))
    already = ops.less((later_fraction - fraction) ** 2, 1e-30)
    return ops.where(already, 0.0, ops.where(moves, ahead, _ENDLESS))
