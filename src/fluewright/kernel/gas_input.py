"""Heat input by the gas meter: what was counted, at which pressure and temperature, and how finely it was read."""

from fluewright.kernel import metering, ops
from fluewright.kernel.ops import Number

NORMAL_TEMPERATURE = 273.15
"""K, normal state (DIN 1343, from memory)."""
NORMAL_PRESSURE = 101_325.0
"""Pa, normal state (DIN 1343, from memory)."""

UK_FIXED_FACTOR = 1.02264
"""What small UK meters are billed with, whatever their pressure and temperature (Gas (Calculation of Thermal Energy)
Regulations 1996, from memory)."""


def heat_input_from_count(*, volume: Number, duration: Number, heating_value: Number) -> Number:
    """Heat input of what burned while the meter counted a volume.

    The oldest test of a gas burner and the only one that asks neither the orifice nor the gauge.

    volume         m3, as the meter counts it, any shape
    duration       s, above 0
    heating_value  J/m3 of the volume counted, gross or net
    -> heat input, W, gross or net like the heating value

    Holds   everything else that burns on this meter is off; gas rate steady
    Fails   pilots left on are counted too
    Source  heat balance; checks CLK-US-1 to CLK-US-6, CLK-LP, CLK-UK-1, CLK-DE-1
    """
    return volume / duration * heating_value


def net_input(*, fuel_input: Number, gross_net_ratio: Number) -> Number:
    """Net heat input from the gross one.

    fuel_input       W, gross, any shape
    gross_net_ratio  gross over net heating value of the fuel, 1.11 for natural gas
    -> heat input, W, net

    Holds   both heating values at one reference
    Fails   hydrogen has 1.18, propane 1.09: the ratio goes with the fuel
    Source  definition; check CLK-UK-2
    """
    return fuel_input / gross_net_ratio


def volume_correction(
    *,
    meter_pressure: Number,
    meter_temperature: Number,
    reference_pressure: Number,
    reference_temperature: Number,
) -> Number:
    """Volume at the reference for each volume that the meter counted.

    Once only: a meter that makes up for temperature or pressure itself counts at its own base, and that base goes in
    here in place of what a thermometer or a gauge would say.

    meter_pressure         Pa, absolute: barometer and gauge pressure together, any shape
    meter_temperature      K, of the gas in the meter
    reference_pressure     Pa, absolute, of the heating value
    reference_temperature  K, of the heating value
    -> correction, m3/m3

    Holds   ideal gas between the two states, to 0.1 % at supply pressure
    Fails   gas counted above some bar
    Source  ideal-gas law; checks MET-US-1, MET-US-2
    """
    return metering.heat_content_at_meter(
        heating_value=1.0,
        reference_temperature=reference_temperature,
        reference_pressure=reference_pressure,
        meter_temperature=meter_temperature,
        meter_pressure=meter_pressure,
    )


def state_number(*, barometer: Number, gas_pressure: Number, fuel_temperature: Number) -> Number:
    """Volume at normal state for each volume counted, as German bills have it.

    barometer         Pa, absolute, at the place, any shape
    gas_pressure      Pa, gauge, in the meter
    fuel_temperature  K, of the gas; bills put 288.15
    -> state number, m3/m3

    Holds   compression factor taken as 1: below 1 bar
    Fails   meters with a volume converter are at normal state already
    Source  DVGW G 685, from memory; check MET-DE-1
    """
    return volume_correction(
        meter_pressure=barometer + gas_pressure,
        meter_temperature=fuel_temperature,
        reference_pressure=NORMAL_PRESSURE,
        reference_temperature=NORMAL_TEMPERATURE,
    )


def billing_barometer(*, altitude: Number) -> Number:
    """Barometric pressure that German bills assume at a height: 1016 hPa less 0.12 hPa a metre.

    altitude  m above sea level, any shape
    -> barometric pressure, Pa

    Holds   the yearly mean of the country, 0 to 1000 m
    Fails   the weather of a day differs by 3 %
    Source  DVGW G 685, from memory; check MET-DE-1
    """
    return 101_600.0 - 12.0 * altitude


def count_resolution(*, volume: Number, volume_step: Number, duration: Number, time_step: Number) -> Number:
    """How finely a clocking was read, relative: steps of meter and watch over what was counted.

    A display that steps by ten litres hides an eighth of a two-minute count.

    volume       m3 counted, above 0, any shape
    volume_step  m3, smallest change that the meter shows
    duration     s, above 0
    time_step    s, how near start and stop were caught
    -> resolution, fraction of the input

    Holds   independent steps
    Fails   a dial read while it slows at the top of its turn
    Source  practice P23; checks CLK-STEP-1, CLK-STEP-10, CLK-TIME
    """
    return ops.sqrt((volume_step / volume) ** 2 + (time_step / duration) ** 2)


def duration_until_resolved(*, duration: Number, count_resolution: Number, resolution: Number) -> Number:
    """How long to count in all until the steps of meter and watch are fine enough.

    duration          s, counted so far, any shape
    count_resolution  what it is so far, fraction
    resolution        what it has to be, fraction
    -> duration, s from the start

    Holds   gas rate steady: both steps shrink with the time counted
    Fails   cycling burners
    Source  practice P23; check CLK-GO-ON
    """
    return duration * count_resolution / resolution
