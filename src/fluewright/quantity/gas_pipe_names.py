"""Registry entries for gas pressure, pipes and tightness."""

from dataclasses import replace

from fluewright.quantity.meaning import (
    DIFFERENCE,
    GAUGE_HPA,
    LEAK_FLOW,
    LONG_TIME,
    MORE_THAN_NOTHING,
    NOT_NEGATIVE,
    ON_EARTH,
    PERCENT,
    PIPE_VOLUME,
    SMALL_LENGTH,
    TEMPERATURE,
    Quantity,
)

_EITHER_WAY = replace(LEAK_FLOW, least=None, cannot="")
"""A leak worked out from a gauge: below nothing where a valve lets gas in, or within its doubt of nothing."""
_OFF_SET = "a regulator that stands further off its set point has failed or was read at another place"

GAS_PIPE: tuple[Quantity, ...] = (
    GAUGE_HPA.quantity(
        "line_pressure",
        "gas pressure in the supply",
        (0.0, 35000.0),
        "house lines work from 7 in w.c. to 5 psi; higher stands before the service regulator",
        aliases=("working_pressure", "inlet_pressure", "standing_pressure"),
        kernel=("gauge", "working_gauge"),
    ),
    GAUGE_HPA.quantity(
        "test_pressure",
        "pressure in a tightness test",
        (0.0, 1.1e6),
        "tests run from 7 mbar to 150 psi",
        kernel=("gauge_start", "gauge_end"),
    ),
    GAUGE_HPA.quantity(
        "pressure_fall",
        "fall of the test pressure",
        (-20000.0, 1.1e6),
        "no more can be lost than was there",
        kernel=("pressure_drop", "pressure_step", "pressure_spread"),
    ),
    DIFFERENCE.quantity(
        "temperature_drift",
        "by how much the temperature of the pipe may have changed",
        (0.0, 20.0),
        "a pipe at rest to one in the sun",
        possible=NOT_NEGATIVE,
    ),
    GAUGE_HPA.quantity(
        "gauge_step",
        "smallest movement that the gauge shows",
        (1.0, 1.0e5),
        "a hundredth of a millibar to a bar on a coarse dial",
        possible=MORE_THAN_NOTHING,
    ),
    GAUGE_HPA.quantity(
        "pressure_fall_unexplained",
        "fall of the test pressure that temperature and barometer leave",
        (-20000.0, 1.1e6),
        "no more can be lost than was there",
    ),
    GAUGE_HPA.quantity(
        "pressure_rise",
        "rise of the test pressure",
        (-20000.0, 20000.0),
        "a valve that lets by raises it by a few mbar",
    ),
    GAUGE_HPA.quantity(
        "pipe_pressure_drop",
        "pressure lost along the pipe",
        (-500.0, 50000.0),
        "from nothing to the 2 psi that a 3 psi line may lose",
    ),
    GAUGE_HPA.quantity(
        "supply_pressure_fall",
        "fall of the supply pressure from standing to working",
        (-2500.0, 35000.0),
        "a regulator gives less when gas flows",
    ),
    GAUGE_HPA.quantity(
        "pressure_per_kelvin",
        "change of trapped gas for each kelvin",
        (100.0, 5000.0),
        "a house line at working pressure changes by 3.5 mbar/K, one at 1 bar by 7",
    ),
    PERCENT.quantity("regulator_droop", "droop of the regulator, share of its set point", (-0.2, 0.5), _OFF_SET),
    PERCENT.quantity("regulator_lock_up", "lock-up of the regulator, share of its set point", (-0.2, 1.0), _OFF_SET),
    SMALL_LENGTH.quantity(
        "inner_diameter",
        "inside diameter",
        (0.003, 0.5),
        "pilot tube to the main of a street",
        aliases=("bore", "inside_diameter"),
        possible=MORE_THAN_NOTHING,
    ),
    PIPE_VOLUME.quantity(
        "pipe_volume",
        "room in the gas pipes",
        (0.0, 20.0),
        "a house holds a few litres, a plant a few cubic metres",
        aliases=("installation_volume",),
        kernel=("volume", "pipe_volume", "meter_volume", "metered_volume"),
        possible=MORE_THAN_NOTHING,
    ),
    PIPE_VOLUME.quantity(
        "meter_creep",
        "gas counted with everything shut",
        (0.0, 1.0),
        "more is no creep but an appliance left on",
    ),
    PIPE_VOLUME.quantity(
        "meter_dial",
        "one turn of the fastest dial",
        (1.0e-4, 5.0),
        "a tenth of a litre to a hundred cubic feet",
        possible=MORE_THAN_NOTHING,
    ),
    _EITHER_WAY.quantity(
        "leak_rate",
        "gas lost through leaks",
        (-1.0e-5, 1.0e-3),
        "a house loses a few litres an hour at most, or the smell would have emptied it",
    ),
    LEAK_FLOW.quantity(
        "leak_rate_creep",
        "gas lost through leaks, by the meter",
        (0.0, 1.0e-3),
        "a house loses a few litres an hour at most, or the smell would have emptied it",
    ),
    LEAK_FLOW.quantity(
        "smallest_leak",
        "smallest leak that the test can show",
        (0.0, 1.0e-3),
        "gauges show a tenth of a millibar to a tenth of a psi",
    ),
    LONG_TIME.quantity(
        "time_needed",
        "time that the test needs to show a leak",
        (0.0, 864000.0),
        "beyond a day, temperature and weather drown it",
    ),
    TEMPERATURE.quantity(
        "pipe_temperature",
        "temperature of the gas pipe",
        (243.15, 343.15),
        "outdoors in frost to a pipe in a boiler house",
        kernel=("temperature_start", "temperature_end"),
        possible=ON_EARTH,
    ),
)
