"""Tightness of gas pipes: what a falling gauge or a creeping meter says of a leak, and what it cannot say.

Trapped gas follows its temperature and the gauge reads against a barometer that moves: both fake leaks and hide them.
"""

from fluewright.kernel import ops
from fluewright.kernel.constants import PI
from fluewright.kernel.ops import Number


def gauge_when_tight(
    *,
    gauge_start: Number,
    barometer_start: Number,
    barometer_end: Number,
    temperature_start: Number,
    temperature_end: Number,
) -> Number:
    """What the gauge of a tight pipe shows at the second reading.

    gauge_start        Pa above the barometer of the first reading, any shape
    barometer_start    Pa absolute
    barometer_end      Pa absolute
    temperature_start  K of the gas in the pipe
    temperature_end    K
    -> gauge pressure at the end, Pa

    Holds   ideal gas, stiff pipe
    Fails   where pipe and gas have different temperatures
    Source  ideal-gas law; checks LEAK-TIGHT-*
    """
    return (gauge_start + barometer_start) * temperature_end / temperature_start - barometer_end


def pressure_per_kelvin(*, pressure: Number, temperature: Number) -> Number:
    """By how much the pressure of trapped gas changes for each kelvin.

    Why a test that looks at 0.1 mbar has to wait until the pipe has the temperature of the house.

    pressure     Pa absolute, any shape
    temperature  K
    -> Pa/K

    Holds   ideal gas, fixed volume
    Fails   nothing at house pressures
    Source  dp = p dT/T; check LEAK-TEMP
    """
    return pressure / temperature


def leak_rate_from_decay(
    *,
    volume: Number,
    gauge_start: Number,
    gauge_end: Number,
    barometer_start: Number,
    barometer_end: Number,
    temperature_start: Number,
    temperature_end: Number,
    duration: Number,
) -> Number:
    """Gas lost through a leak, from two readings of the gauge.

    volume             m3 of the section under test, any shape
    gauge_start        Pa above the barometer
    gauge_end          Pa above the barometer
    barometer_start    Pa absolute
    barometer_end      Pa absolute
    temperature_start  K of the gas in the pipe
    temperature_end    K
    duration           s between the readings, above 0
    -> leak, m3/s counted at room pressure and the last temperature; below nothing where gas came in

    Holds   ideal gas, a fall small against the gauge pressure
    Fails   gas let in by a valve that does not close: it makes good what leaks out
    Source  ideal-gas law, q = V/t (p1 T2/T1 - p2)/p_room; check LEAK-CALC
    """
    fall = (
        gauge_when_tight(
            gauge_start=gauge_start,
            barometer_start=barometer_start,
            barometer_end=barometer_end,
            temperature_start=temperature_start,
            temperature_end=temperature_end,
        )
        - gauge_end
    )
    return volume * fall / (barometer_end * duration)


def leak_rate_from_creep(*, metered_volume: Number, duration: Number, gauge: Number, barometer: Number) -> Number:
    """Gas lost through a leak, from a meter that creeps with everything shut.

    metered_volume  m3 on the dial, at the pressure in the meter, any shape
    duration        s, above 0
    gauge           Pa in the meter above the barometer
    barometer       Pa absolute
    -> leak, m3/s counted at room pressure and the temperature in the meter

    Holds   a meter that starts at so small a flow
    Fails   below the starting flow of the meter, which many small leaks are
    Source  ideal-gas law; check LEAK-CREEP
    """
    return metered_volume / duration * (gauge + barometer) / barometer


def smallest_leak(*, volume: Number, pressure_step: Number, barometer: Number, duration: Number) -> Number:
    """The smallest leak that a test of this length can show.

    volume         m3 of the section under test, any shape
    pressure_step  Pa, smallest movement that the gauge shows
    barometer      Pa absolute
    duration       s, above 0
    -> leak, m3/s at room pressure

    Holds   temperature and barometer at rest
    Fails   where they drift: then doubt and not the gauge decides
    Source  q = V dp/(p t); check LEAK-SMALLEST
    """
    return volume * pressure_step / (barometer * duration)


def duration_for_leak(
    *, volume: Number, pressure_spread: Number, barometer: Number, leak_rate: Number, sureness: Number
) -> Number:
    """How long a test has to last to show a leak for sure.

    volume           m3 of the section under test, any shape
    pressure_spread  Pa, standard uncertainty of the corrected fall
    barometer        Pa absolute
    leak_rate        m3/s at room pressure that must not be missed, above 0
    sureness         standard uncertainties that the fall must stand clear of, -, such as 2
    -> duration, s

    Holds   the doubt does not grow with the time
    Fails   in the sun or near a heater, where it does
    Source  q = V dp/(p t) solved for t; check LEAK-WAIT
    """
    return volume * pressure_spread * sureness / (barometer * leak_rate)


def pipe_volume(*, inner_diameter: Number, length: Number) -> Number:
    """Room inside a pipe.

    inner_diameter  m, any shape
    length          m
    -> volume, m3

    Holds   round pipe
    Fails   corrugated tube: type its volume
    Source  geometry; check PIPE-VOL
    """
    return PI / 4.0 * inner_diameter**2 * length


def installation_volume(*, pipe_volume: Number, fittings_share: Number, meter_volume: Number) -> Number:
    """Room inside a gas installation: pipes, fittings as a share of them, and the meter.

    pipe_volume     m3 of all pipes, any shape
    fittings_share  m3/m3 of the pipes, -, 0.10 in the UK
    meter_volume    m3, 0 where the meter is shut off from the test
    -> volume, m3

    Holds   a house
    Fails   tanks, headers and appliances with gas inside: add them to the pipes
    Source  IGEM/UP/1B Edition 3, worked example of a pocket guide (read); check LEAK-UK-IV
    """
    return pipe_volume * (1.0 + fittings_share) + meter_volume


def leak_at_pressure(*, leak_rate: Number, gauge: Number, working_gauge: Number, exponent: Number) -> Number:
    """A leak found at one pressure, as it is at another.

    leak_rate      m3/s at room pressure, found at gauge, any shape
    gauge          Pa at which it was found, above 0
    working_gauge  Pa at which the pipe works
    exponent       -, 0.5 for a clean hole, 1 for a fine crack or thread; the truth lies between
    -> leak, m3/s at room pressure, at the working pressure

    Holds   pressures of a house, the same gas
    Fails   air tested and gas meant: see leak_in_other_gas
    Source  flow through holes and cracks between its two ends (common practice, no source); check LEAK-AT
    """
    return leak_rate * ops.exp(exponent * ops.log(working_gauge / gauge))


def leak_in_other_gas(
    *,
    leak_rate: Number,
    density: Number,
    dynamic_viscosity: Number,
    new_density: Number,
    new_dynamic_viscosity: Number,
    exponent: Number,
) -> Number:
    """A leak found with air or nitrogen, as it is with the gas of the house.

    Through a hole the lighter gas runs faster, through a fine crack the thinner one: natural gas leaks a third faster
    than air through a hole and two thirds faster through a crack.

    leak_rate              m3/s at room pressure, of the medium of the test, any shape
    density                kg/m3 of the medium, or relative to air
    dynamic_viscosity      Pa s of the medium
    new_density            of the gas, counted like the density
    new_dynamic_viscosity  Pa s of the gas
    exponent               -, as in leak_at_pressure: 0.5 for a clean hole, 1 for a fine crack
    -> leak, m3/s at room pressure, of the gas

    Holds   pressures of a house; between its two ends along a straight line of the logarithms
    Fails   choked holes above some 0.9 bar
    Source  orifice flow and laminar flow; between them common practice, no source; checks LEAK-GAS-HOLE, LEAK-GAS-CRACK
    """
    hole = 0.5 * ops.log(density / new_density)
    crack = ops.log(dynamic_viscosity / new_dynamic_viscosity)
    return leak_rate * ops.exp(2.0 * (1.0 - exponent) * hole + (2.0 * exponent - 1.0) * crack)
