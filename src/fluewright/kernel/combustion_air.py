"""Air for burning: the room or opening that rules ask for, and what flames need against what a room can supply.

The figures of a rule come in as arguments: jurisdictions and editions differ in them, not in the form.
"""

from fluewright.kernel import ops
from fluewright.kernel.constants import GAS_CONSTANT
from fluewright.kernel.ops import Number


def room_volume_from_input(*, fuel_input: Number, room_volume_per_input: Number) -> Number:
    """The room that a rule of so much volume per heat input asks for.

    All appliances in the room count together: they burn the same air.

    fuel_input             W, sum over the appliances that take their air from the room
    room_volume_per_input  m3/W, figure of the rule
    -> room volume, m3

    Holds   appliances of the kinds the rule names
    Fails   says nothing about how tight the room is
    Source  form of NFPA 54 9.3.2.1 and of the German Feuerungsverordnungen; checks VENT-US-STD, VENT-DE-1
    """
    return fuel_input * room_volume_per_input


def room_volume_from_air_changes(
    *,
    fuel_input: Number,
    fuel_input_fan_assisted: Number,
    air_per_heat: Number,
    air_per_heat_fan_assisted: Number,
    air_changes: Number,
    most_air_changes: Number,
) -> Number:
    """The room whose known leakage brings the air that each kind of appliance is allowed.

    A draft hood draws room air beside the flame's own, so it is allowed more than a burner with a fan.

    fuel_input                 W, sum over appliances without a fan
    fuel_input_fan_assisted    W, sum over fan-assisted appliances
    air_per_heat               m3/J, figure of the rule, without a fan
    air_per_heat_fan_assisted  m3/J, figure of the rule, with a fan
    air_changes                1/s, known leakage of the room, above 0
    most_air_changes           1/s, the rule counts no more than this
    -> room volume, m3

    Holds   leakage measured or otherwise known; the sum over all appliances in the room
    Fails   leakage that somebody guessed; fans that take air out
    Source  known air-infiltration-rate method, NFPA 54 and IFGC 304.5.2; checks VENT-US-KAIR-1 to VENT-US-KAIR-6
    """
    counted = ops.minimum(air_changes, most_air_changes)
    return (fuel_input * air_per_heat + fuel_input_fan_assisted * air_per_heat_fan_assisted) / counted


def opening_from_input(
    *,
    fuel_input: Number,
    opening_per_input: Number,
    free_input: Number,
    opening_base: Number,
    opening_least: Number,
) -> Number:
    """The free area of opening that a rule asks for.

    One form for all: so much per heat input above an allowance, on top of a base, and never below a least.

    fuel_input         W, sum over the appliances that take their air from the room
    opening_per_input  m2/W, figure of the rule
    free_input         W, part of the input that needs no opening or that the base covers, 0 where the rule has none
    opening_base       m2, on top of it, 0 where the rule has none
    opening_least      m2, 0 where the rule has none
    -> free area of one opening, m2

    Holds   free area, after louvres and screens
    Fails   openings that can be shut
    Source  NFPA 54 9.3.2.3 and 9.3.3, German Feuerungsverordnungen s. 3 and 5, Approved Document J as quoted;
            checks VENT-US-open, VENT-DE-2 to VENT-DE-4, VENT-UK-gas, VENT-UK-oil
    """
    counted = ops.maximum(fuel_input - free_input, 0.0 * fuel_input)
    return ops.maximum(opening_base + counted * opening_per_input, opening_least + 0.0 * fuel_input)


def outdoor_share_from_volumes(*, room_volume: Number, room_volume_needed: Number) -> Number:
    """The share of the outdoor openings that is still asked for when the room brings part of the air.

    room_volume         m3, as it is
    room_volume_needed  m3, that the volume rule asks for, above 0
    -> share of the full outdoor openings, 0..1

    Holds   rules that let indoor and outdoor air be combined
    Fails   gives 0 where the room alone is enough
    Source  NFPA 54 9.3.4(3): one minus the ratio of the volumes; check BURN-AIR-MIXED
    """
    short = 1.0 - room_volume / room_volume_needed
    return ops.maximum(short, 0.0 * short)


def free_area_from_grille(*, opening_area: Number, free_share: Number) -> Number:
    """The area that a grille or louvre leaves free.

    opening_area  m2, of the hole
    free_share    0..1, stated by its maker or the default of the rule
    -> free area, m2

    Holds   clean grille
    Fails   lint, paint, insect screens laid over it
    Source  definition of free area; check BURN-AIR-LOUVRE
    """
    return opening_area * free_share


def leakage_from_air_changes(*, room_volume: Number, air_changes: Number) -> Number:
    """The air that leaks into a room.

    room_volume  m3
    air_changes  1/s
    -> air flow, m3/s

    Holds   air changes with outdoor air, not with the next room
    Fails   wind and frost change it by a factor of three
    Source  definition of air change; check BURN-AIR-LEAK
    """
    return room_volume * air_changes


def flow_through_opening(
    *, free_area: Number, air_supply_pressure: Number, density: Number, discharge_coefficient: Number
) -> Number:
    """The air that a pressure difference drives through openings.

    free_area              m2
    air_supply_pressure    Pa, outdoors above room, 0 or more
    density                kg/m3 of the air that comes in
    discharge_coefficient  share of the ideal flow, about 0.6 for a sharp edge
    -> air flow, m3/s

    Holds   turbulent flow, some pascals and more
    Fails   long ducts: their friction comes on top; one opening alone, where wind pushes both ways
    Source  Bernoulli; checks BURN-AIR-ORIFICE-1, BURN-AIR-ORIFICE-2
    """
    return discharge_coefficient * free_area * ops.sqrt(2.0 * air_supply_pressure / density)


def pressure_from_opening_flow(
    *, free_area: Number, supply_flow: Number, density: Number, discharge_coefficient: Number
) -> Number:
    """How far below outdoors a room is drawn until its openings bring a flow.

    free_area              m2, above 0
    supply_flow            m3/s, that has to come through the openings, 0 or more
    density                kg/m3 of the air that comes in
    discharge_coefficient  share of the ideal flow
    -> pressure outdoors above room, Pa

    Holds   as flow_through_opening, of which it is the inverse
    Fails   no area
    Source  Bernoulli; check BURN-AIR-ORIFICE-3
    """
    speed = supply_flow / (discharge_coefficient * free_area)
    return density * speed**2 / 2.0


def air_per_heat_from_fuel(
    *, air_need: Number, heating_value: Number, air_ratio: Number, temperature: Number, pressure: Number
) -> Number:
    """The room air that a flame takes per heat burned.

    air_need       mol dry air per unit of fuel at exactly enough air
    heating_value  J per unit, gross or net as the input is counted
    air_ratio      air over need, of the flame with what a draft hood draws in
    temperature    K, of the room
    pressure       Pa, absolute, of the room
    -> air per heat, m3/J

    Holds   dry air, ideal gas
    Fails   damp air takes up to 4 % more room
    Source  element balance and ideal-gas law; check BURN-AIR-NEED
    """
    return air_need * air_ratio * GAS_CONSTANT * temperature / (pressure * heating_value)


def air_flow_from_input(*, fuel_input: Number, air_per_heat: Number) -> Number:
    """The air that a heat input takes, or that a rule of so much air per heat asks for.

    fuel_input    W
    air_per_heat  m3/J
    -> air flow, m3/s

    Holds   input and air per heat on one basis, gross or net
    Fails   a mixed basis: a tenth off for natural gas
    Source  definition; check BURN-AIR-FAN
    """
    return fuel_input * air_per_heat


def air_left(*, supply_flow: Number, exhaust_flow: Number) -> Number:
    """The air left for flames when fans take some out; below nothing when they take more than comes in.

    supply_flow   m3/s, through openings and leaks at one stated pressure
    exhaust_flow  m3/s, of every fan, dryer and hood together
    -> air flow, m3/s

    Holds   fans at the flow they have at that pressure
    Fails   never leaves a fan out: a flow that nobody knows makes the balance unknown
    Source  what comes in goes out; check BURN-AIR-LEFT
    """
    return supply_flow - exhaust_flow
