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
