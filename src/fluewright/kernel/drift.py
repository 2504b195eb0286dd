"""How a burner tuned today burns on another day: air temperature, barometer, gas quality.

Which day is the dangerous one depends on what holds air and fuel together, so the mechanism is part of the question.
"""

from fluewright.kernel import ops
from fluewright.kernel.ops import Number


def air_ratio_fixed_volume(*, air_ratio: Number, tuned_temperature: Number, later_temperature: Number) -> Number:
    """Air ratio of a fan burner after the combustion air has changed temperature.

    The fan moves the same volume; warm air is thin, so a burner tuned on a cold day runs rich on a hot one.

    air_ratio          -, as tuned, any shape
    tuned_temperature  K, of the combustion air when tuned, any shape
    later_temperature  K, later, any shape
    -> air ratio later, -

    Holds   fixed air volume, fixed gas mass
    Fails   burners with oxygen trim or a linked gas valve
    Source  ideal-gas law; practice P8, checks RED-AIR (exponent 1)
    """
    return air_ratio * tuned_temperature / later_temperature


def air_ratio_one_differential(*, air_ratio: Number, tuned_temperature: Number, later_temperature: Number) -> Number:
    """Air ratio where air and gas hang on one pressure difference.

    Both follow the root of their densities; only the air's changes, so the swing is the root.

    air_ratio          -, as tuned, any shape
    tuned_temperature  K, of the combustion air when tuned, any shape
    later_temperature  K, later, any shape
    -> air ratio later, -

    Holds   premix with one differential, gas temperature unchanged
    Fails   burners with flame-signal control
    Source  orifice flow; practice P8, checks RED-AIR (exponent 0.5)
    """
    return air_ratio * ops.sqrt(tuned_temperature / later_temperature)


def air_ratio_after_wobbe(*, air_ratio: Number, wobbe_change: Number) -> Number:
    """Air ratio after the network's gas has changed its Wobbe index.

    Heat input through a fixed orifice follows the Wobbe index, and hydrocarbons need air in proportion to their heat.

    air_ratio     -, before, any shape
    wobbe_change  relative change, 0.05 for 5 % richer gas, any shape
    -> air ratio after, -

    Holds   natural gases without hydrogen, fixed orifice pressure and fixed air
    Fails   with hydrogen use air_ratio_after_gas
    Source  orifice flow; practice P9, checks RED-WOB
    """
    return air_ratio / (1.0 + wobbe_change)


def air_ratio_after_gas(
    *,
    air_ratio: Number,
    air_need: Number,
    relative_density: Number,
    new_air_need: Number,
    new_relative_density: Number,
) -> Number:
    """Air ratio after another gas flows through the same orifice.

    The volume goes with one over the root of density, and each volume asks for its own air.

    air_ratio             -, before, any shape
    air_need              mol air per mol gas, before
    relative_density      -, before
    new_air_need          mol air per mol gas, after
    new_relative_density  -, after
    -> air ratio after, -

    Holds   fixed orifice pressure and fixed air
    Fails   burners that measure their flame
    Source  orifice flow; practice P9, check RED-H2-20
    """
    return air_ratio * air_need / new_air_need * ops.sqrt(new_relative_density / relative_density)


def air_ratio_after_barometer(*, air_ratio: Number, set_barometer: Number, barometer: Number) -> Number:
    """Air ratio after the barometer has moved, where gas comes through an orifice and air by a fan or a chimney.

    Air thins with the barometer itself, gas through an orifice only with its root: a low barometer makes it richer.

    air_ratio      -, as set, any shape
    set_barometer  Pa, absolute, when it was set, any shape
    barometer      Pa, absolute, later, any shape
    -> air ratio later, -

    Holds   governed gas pressure above the room; air by volume
    Fails   air and gas on one differential: both thin alike and nothing moves
    Source  ideal-gas law, orifice flow; practice P8, check RED-BAR-ORIFICE
    """
    return air_ratio * ops.sqrt(barometer / set_barometer)


def air_ratio_after_barometer_fixed_fuel(*, air_ratio: Number, set_barometer: Number, barometer: Number) -> Number:
    """Air ratio after the barometer has moved, where the mass of fuel stays: oil from a pump, metered gas.

    Air thins with the barometer and the fuel does not.

    air_ratio      -, as set, any shape
    set_barometer  Pa, absolute, when it was set, any shape
    barometer      Pa, absolute, later, any shape
    -> air ratio later, -

    Holds   air by volume, mass of fuel unchanged
    Fails   gas through an orifice: the root counts there
    Source  ideal-gas law; practice P8, check RED-BAR-MASS
    """
    return air_ratio * barometer / set_barometer


def air_ratio_by_draft(
    *, air_ratio: Number, tuned_draft: Number, later_draft: Number, tuned_density: Number, later_density: Number
) -> Number:
    """Air ratio where a chimney draws the air, after its draft and the weight of the air have changed.

    Air comes through fixed openings: its mass follows the root of pull times density. Warm weather weakens the pull and
    thins the air, both the same way.

    air_ratio      -, as tuned, any shape
    tuned_draft    Pa, pull when tuned, above 0, any shape
    later_draft    Pa, pull later, 0 or more, any shape
    tuned_density  kg/m3 of the combustion air when tuned, any shape
    later_density  kg/m3 later, any shape
    -> air ratio later, -

    Holds   all air drawn by the chimney, flue gas as hot as before, fuel unchanged
    Fails   air that the gas jet draws in by itself, and flues with a hood or a draft regulator: they swing less
    Source  orifice flow; check RED-DRAFT-QUARTER
    """
    return air_ratio * ops.sqrt(later_draft * later_density / (tuned_draft * tuned_density))
