"""Whether a burner set for one gas burns another: the indices of Weaver, substitute against adjustment gas.

Constants and limits of the indices are from memory; the two that follow from orifice flow alone are exact.
"""

from fluewright.kernel import ops
from fluewright.kernel.ops import Number


def wobbe_index(*, heating_value: Number, relative_density: Number) -> Number:
    """What decides how much heat one orifice passes at one pressure.

    heating_value     J/m3, gross or net, any shape
    relative_density  -, at the same reference
    -> Wobbe index, J/m3, gross or net like the heating value

    Holds   gases of nearly one viscosity: the discharge coefficient stays
    Fails   says nothing about air need of gases with hydrogen, nor about the flame
    Source  ISO 6976:2016, EN 437; checks WOB-G20 to WOB-G24
    """
    return heating_value / ops.sqrt(relative_density)


def heat_rate_ratio(
    *, heating_value: Number, relative_density: Number, set_heating_value: Number, set_relative_density: Number
) -> Number:
    """Heat input with the new gas for each unit of heat input with the old one.

    Weaver's JH, the ratio of the Wobbe indices; the orifice and its pressure stay as they are.

    heating_value         J/m3, new gas, any shape
    relative_density      -, new gas
    set_heating_value     J/m3, gas the burner was set with, same basis
    set_relative_density  -, gas the burner was set with
    -> heat rate ratio, -

    Holds   fixed orifice and pressure
    Fails   burners that measure their flame
    Source  orifice flow; Weaver, NBS Research Paper 2193 (1951); check WEAV-006
    """
    return heating_value / set_heating_value * ops.sqrt(set_relative_density / relative_density)


def primary_air_ratio(
    *, air_need: Number, relative_density: Number, set_air_need: Number, set_relative_density: Number
) -> Number:
    """Air that the new gas asks for, for each unit of air that the old one asked for.

    Weaver's JA; below 1 the flame has more air than it was set with.

    air_need              mol dry air per mol, new gas, any shape
    relative_density      -, new gas
    set_air_need          mol dry air per mol, gas the burner was set with
    set_relative_density  -, gas the burner was set with
    -> primary air ratio, -

    Holds   fixed orifice, pressure and entrained air
    Fails   burners that measure their flame
    Source  orifice flow; Weaver, NBS Research Paper 2193 (1951); check WEAV-007
    """
    return air_need / set_air_need * ops.sqrt(set_relative_density / relative_density)


def lifting_index(
    *,
    primary_air_ratio: Number,
    flame_speed: Number,
    set_flame_speed: Number,
    oxygen_fraction: Number = 0.0,
    set_oxygen_fraction: Number = 0.0,
) -> Number:
    """How firmly the new flame sits on its port.

    Weaver's JL; 1 is as firm as before, less means it tends to lift.

    primary_air_ratio    JA, -
    flame_speed          % of hydrogen, new gas, any shape
    set_flame_speed      % of hydrogen, gas the burner was set with
    oxygen_fraction      mol/mol, in the new gas
    set_oxygen_fraction  mol/mol, in the gas the burner was set with
    -> lifting index, -

    Holds   atmospheric burners with primary air
    Fails   fully premixed burners
    Source  Weaver, NBS Research Paper 2193 (1951), equation from memory; check WEAV-008
    """
    return primary_air_ratio * (flame_speed / set_flame_speed) * (1.0 - oxygen_fraction) / (1.0 - set_oxygen_fraction)


def flash_back_index(*, primary_air_ratio: Number, flame_speed: Number, set_flame_speed: Number) -> Number:
    """How readily the new flame runs back into the burner.

    Weaver's JF; 0 is as before, more means it tends to flash back.

    primary_air_ratio  JA, -
    flame_speed        % of hydrogen, new gas, any shape
    set_flame_speed    % of hydrogen, gas the burner was set with
    -> flash-back index, -

    Holds   atmospheric burners with primary air
    Fails   fully premixed burners
    Source  Weaver, NBS Research Paper 2193 (1951), equation from memory; check WEAV-009
    """
    return flame_speed / set_flame_speed - 1.4 * primary_air_ratio + 0.4
