"""Words of the house for findings about air for burning and duties of the law, by code."""

from fluewright.report.words.words import CLEAR_AIR, LEAVE_OFF, Words

WORDS: dict[str, Words] = {
    "air-for-burning-short": Words(
        "The room does not let in as much fresh air as the fire in it needs.",
        "The room did not let in as much fresh air as the fire in it needs.",
        "bring more air into the room, or fit an appliance that fetches its own",
        CLEAR_AIR,
    ),
    "air-opening-blocked": Words(
        "An opening that brings fresh air to the fire is closed up.",
        "An opening that brings fresh air to the fire was closed up.",
        "open it and see that it stays open",
        ("never cover an opening for air, not in winter either",),
    ),
    "air-taken-by-fans": Words(
        "When the fans run they take the air that the fire needs, and flue gas can come back into the room.",
        "When the fans ran they took the air that the fire needs.",
        "bring more air into the room and test with every fan running",
        ("do not run kitchen hood, dryer or bath fan while the fire burns, until we have mended it", *LEAVE_OFF),
    ),
    "air-sealed-only": Words(
        "In a home of this kind a fire must not take its air from the rooms, and this one does.",
        "In a home of this kind a fire must not take its air from the rooms, and this one did.",
        "fit an appliance that fetches its air from outside",
        LEAVE_OFF,
    ),
    "duty-overdue": Words(
        "The law sets a day for something that has not been done in time.",
        "The law set a day for something that had not been done in time.",
        "tell you which day it was and what has to be done",
    ),
}
