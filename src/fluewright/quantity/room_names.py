"""Registry entries for what is measured and worked out about the air of a room."""

from fluewright.quantity.meaning import (
    CONCENTRATION,
    EXPOSURE,
    GAS_PPM,
    LEAK_FLOW,
    LONG_TIME,
    PER_HOUR,
    PERCENT,
    RATIO,
    ROOM_VOLUME,
    SHARE,
    Quantity,
)

_DEADLY = 0.0016
_WHY = "1600 ppm in a room kills within about two hours (from memory): leave before reading on"
_AS_READ = "as the readings it is made from: beyond 1600 ppm in a room, leave before reading on"
_MASS = 1.9e-3
"""kg/m3 of 1600 ppm at 15 C (computed)."""

PERIODS: dict[str, tuple[str, float]] = {
    "15_min": ("15 minutes", 900.0),
    "30_min": ("30 minutes", 1800.0),
    "1_h": ("1 hour", 3600.0),
    "8_h": ("8 hours", 28_800.0),
    "24_h": ("24 hours", 86_400.0),
}
"""What rules average over: end of the registry name, words, seconds."""

_AIR: tuple[Quantity, ...] = (
    GAS_PPM.quantity(
        "carbon_monoxide_outdoor",
        "carbon monoxide outdoors",
        (0.0, 1e-4),
        "traffic and chimneys seldom bring 100 ppm to a house front",
        basis="wet",
        aliases=("outdoor_co", "outside_co"),
        kernel=("outdoor_fraction",),
    ),
    GAS_PPM.quantity(
        "carbon_monoxide_personal",
        "carbon monoxide on the meter a person wears",
        (0.0, _DEADLY),
        _WHY,
        basis="wet",
        aliases=("personal_co", "worn_co"),
    ),
    GAS_PPM.quantity(
        "carbon_monoxide_delivered",
        "carbon monoxide in the air a heater delivers",
        (0.0, _DEADLY),
        _WHY,
        basis="wet",
        aliases=("delivered_co",),
    ),
    GAS_PPM.quantity("carbon_monoxide_highest", "highest carbon monoxide in the room", (0.0, _DEADLY), _AS_READ),
    GAS_PPM.quantity("carbon_monoxide_rise", "rise of carbon monoxide over outdoors", (0.0, _DEADLY), _AS_READ),
    GAS_PPM.quantity(
        "carbon_monoxide_steady", "carbon monoxide that the room comes to in the end", (0.0, _DEADLY), _AS_READ
    ),
    GAS_PPM.quantity("carbon_monoxide_later", "carbon monoxide after a time", (0.0, _DEADLY), _AS_READ),
    GAS_PPM.quantity("carbon_monoxide_mean", "mean carbon monoxide over the readings", (0.0, _DEADLY), _AS_READ),
    GAS_PPM.quantity(
        "carbon_monoxide_breathed", "carbon monoxide that must have been breathed", (0.0, _DEADLY), _AS_READ
    ),
    CONCENTRATION.quantity(
        "carbon_monoxide_room_mass", "carbon monoxide in room air, by mass", (0.0, _MASS), _WHY, basis="wet"
    ),
    PER_HOUR.quantity(
        "air_changes",
        "air changes",
        (0.0, 0.0056),
        "a tight house has 0.05 to 0.2 an hour, a room with a window open up to about 20 (common practice, no source)",
        aliases=("ach", "air_change_rate"),
    ),
    ROOM_VOLUME.quantity(
        "room_volume",
        "volume of the room",
        (1.0, 100_000.0),
        "a closet to a hall",
        aliases=("volume",),
    ),
    LEAK_FLOW.quantity(
        "carbon_monoxide_source",
        "carbon monoxide let into the room",
        (0.0, 3e-3),
        "a car in a garage lets out some cubic metres an hour, an appliance a few litres (common practice, no source)",
        aliases=("co_source",),
    ),
    LONG_TIME.quantity(
        "time_between",
        "time between two readings, or of breathing",
        (0.0, 864_000.0),
        "ten days is longer than any test",
    ),
    LONG_TIME.quantity(
        "time_to_level", "time until the room reaches a level", (0.0, 864_000.0), "ten days is longer than any test"
    ),
    EXPOSURE.quantity(
        "carbon_monoxide_exposure",
        "carbon monoxide breathed, as concentration times minutes",
        (0.0, 23.0),
        "a day at about 270 ppm; more was not survived",
    ),
)

MEANS: tuple[Quantity, ...] = tuple(
    scale.quantity(f"{stem}_{end}", f"highest mean of carbon monoxide over {words}{by}", (0.0, top), _AS_READ)
    for end, (words, _) in PERIODS.items()
    for scale, stem, by, top in (
        (GAS_PPM, "carbon_monoxide_mean", "", _DEADLY),
        (CONCENTRATION, "carbon_monoxide_mass_mean", ", by mass", _MASS),
    )
)
"""Highest running mean over each period that some rule averages over."""

_ALARMS: tuple[Quantity, ...] = (
    LONG_TIME.quantity(
        "alarm_time", "time until a carbon monoxide alarm sounds", (0.0, 2_592_000.0), "30 days in the longest test"
    ),
    GAS_PPM.quantity(
        "alarm_level",
        "carbon monoxide at which an alarm must sound in time",
        (0.0, _DEADLY),
        "lowest point of a standard",
    ),
)

_BREATHED: tuple[Quantity, ...] = (
    SHARE.quantity(
        "carboxyhaemoglobin",
        "carboxyhaemoglobin, estimated",
        (0.0, 0.6),
        "from about 0.5 % in everybody to what is deadly",
        aliases=("cohb",),
        kernel=("carboxyhaemoglobin", "initial_carboxyhaemoglobin"),
    ),
    LONG_TIME.quantity(
        "carboxyhaemoglobin_half_life",
        "time in which half of the carboxyhaemoglobin is gone",
        (600.0, 43_200.0),
        "23 minutes under pressure to some hours in air",
        aliases=("half_life",),
        kernel=("half_life",),
    ),
    RATIO.quantity(
        "body_factor", "how far this person is from the average body", (0.2, 3.0), "a third either way is common"
    ),
    PERCENT.quantity(
        "carboxyhaemoglobin_steady",
        "carboxyhaemoglobin in the end, estimated",
        (0.0, 1.0),
        "as what is breathed allows",
    ),
)

ROOM: tuple[Quantity, ...] = _AIR + MEANS + _ALARMS + _BREATHED
