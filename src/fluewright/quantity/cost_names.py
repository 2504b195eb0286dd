"""Registry entries for emission factors, prices, fuel bills and savings."""

from fluewright.quantity.meaning import (
    CONDUCTANCE,
    DEGREE_DAYS,
    PERCENT,
    POWER,
    PRICE,
    RATIO,
    SHARE,
    Quantity,
    Scale,
)

_NEGATIVE = "it cannot be less than nothing"
_YEAR = "a pilot light to a year of the largest plant boiler"
_MONEY = "whatever the money"

FUEL_HEAT = Scale("energy", "J", "therm", "kWh")
"""Heat in fuel as bills count it; a saving may be less than nothing."""
MONEY = Scale("ratio", "1", "1", "1")
BY_VOLUME = Scale("price per volume", "1/m3", "1/gal", "1/L", 0.0, None, _NEGATIVE)
BY_MASS = Scale("price per mass", "1/kg", "1/ton", "1/t", 0.0, None, _NEGATIVE)
COLD = Scale("temperature difference", "K", "°F", "K", 0.0, None, _NEGATIVE)
LONG = Scale("time", "s", "d", "d", 0.0, None, _NEGATIVE)
FUEL_VOLUME = Scale("volume", "m3", "ft3", "m3", 0.0, None, _NEGATIVE)
CARBON_MASS = Scale("mass", "kg", "lb", "kg", 0.0, None, _NEGATIVE)

PRICES: tuple[Quantity, ...] = (
    PRICE.quantity("fuel_price", "price of the heat in the fuel", (0.0, 1e-6), _MONEY),
    BY_VOLUME.quantity("fuel_price_by_volume", "price of the fuel by volume", (0.0, 1e6), _MONEY, kernel=("price",)),
    BY_MASS.quantity("fuel_price_by_mass", "price of the fuel by mass", (0.0, 1e6), _MONEY),
    PRICE.quantity("delivered_price", "price of heat delivered", (0.0, 1e-6), _MONEY),
    MONEY.quantity("money", "money", (-1e12, 1e12), _MONEY),
)

SEASON: tuple[Quantity, ...] = (
    DEGREE_DAYS.quantity(
        "degree_days",
        "heating degree days",
        (0.0, 15_000.0),
        "the coldest towns have about 12 000 K d a year (from memory)",
        aliases=("hdd", "heating_degree_days"),
        kernel=("degree_days", "new_degree_days"),
    ),
    COLD.quantity(
        "degree_days_per_day", "degree days for each day", (0.0, 80.0), "how far a day is below the base temperature"
    ),
    LONG.quantity(
        "period", "length of a billing period", (86_400.0, 4e7), "a day to a year and a bit", kernel=("days",)
    ),
    FUEL_HEAT.quantity(
        "fuel_heat",
        "heat in the fuel",
        (-1e15, 1e15),
        _YEAR,
        aliases=("fuel_used", "use"),
        kernel=("fuel_heat", "base_heat"),
    ),
    FUEL_VOLUME.quantity("fuel_volume", "fuel by volume", (0.0, 1e7), _YEAR),
    FUEL_HEAT.quantity("fuel_heat_saved", "fuel saved", (-1e15, 1e15), _YEAR),
    CONDUCTANCE.quantity(
        "heat_loss_rate", "heat that a house loses for each degree", (1.0, 1e6), "a cabin to a hall", aliases=("ua",)
    ),
    CONDUCTANCE.quantity(
        "fuel_per_degree",
        "heat in the fuel for each degree of cold",
        (0.0, 1e6),
        "a cabin to a hall",
        kernel=("slope",),
    ),
    POWER.quantity(
        "base_load",
        "heat in the fuel whatever the weather",
        (0.0, 1e6),
        "a pilot to a laundry",
        kernel=("base", "heat_rate"),
    ),
    RATIO.quantity(
        "degree_day_correction",
        "correction of degree days for free heat",
        (0.4, 1.2),
        "about 0.65 to 0.8 for 65 °F base (from memory)",
    ),
)

SAVED: tuple[Quantity, ...] = (
    PERCENT.quantity("share_saved", "share of the fuel saved", (-1.0, 1.0), "worse by half to nothing left to save"),
    SHARE.quantity("standby_loss", "heat lost while ready, share of the input", (0.0, 0.1), "new to badly insulated"),
    SHARE.quantity("load_share", "share of the time that the burner runs", (0.01, 1.0), "oversized to never resting"),
    SHARE.quantity(
        "efficiency_stated",
        "efficiency, as stated",
        (0.3, 1.0),
        "an open stove to a heater that condenses",
        kernel=("efficiency", "efficiency_before", "efficiency_after"),
    ),
    CARBON_MASS.quantity("carbon_dioxide_mass", "carbon dioxide given off", (0.0, 1e9), _YEAR),
)

COST: tuple[Quantity, ...] = PRICES + SEASON + SAVED
