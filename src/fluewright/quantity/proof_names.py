"""Registry entries for safety devices and the house around the appliance."""

from fluewright.quantity.meaning import GAUGE_PSI, TEMPERATURE, TIME, ZERO_CELSIUS, Quantity

PROOF: tuple[Quantity, ...] = (
    TIME.quantity(
        "trip_time",
        "time until a safety device acted",
        (0.0, 600.0),
        "a flame guard acts within minutes at the slowest",
    ),
    TEMPERATURE.quantity(
        "trip_temperature",
        "temperature at which a safety device acted",
        (ZERO_CELSIUS, ZERO_CELSIUS + 400.0),
        "limits of water, air and flue gas are set below 400 °C",
    ),
    GAUGE_PSI.quantity(
        "trip_pressure",
        "pressure at which a safety device acted",
        (-1000.0, 3.0e6),
        "an air switch at a few pascal to the relief valve of a steam boiler",
    ),
)
