"""Words of the house for findings about safety devices, vents and the house around them, by code."""

from fluewright.report.words.words import CLEAR_AIR, LEAVE_OFF, READ_AGAIN, Words

_OFF_FREE = ("keep the openings for air and flue gas free", *LEAVE_OFF)
_AIR = "find what keeps air from the flame, and give it air"


def _told(now: str, we: str, *you: str) -> Words:
    """A finding about the house, which reads the same before it is mended and after."""
    return Words(now, now, we, you)


SAFETY = {
    "safety-failed-flame": _told(
        "The part that must shut off the fuel when the flame goes out did not do so. Fuel can run into the room.",
        "replace that part and prove that it works",
        *LEAVE_OFF,
    ),
    "safety-failed": _told(
        "A part that must shut the appliance off in danger did not do so.",
        "replace that part and prove that it works",
        *LEAVE_OFF,
    ),
    "safety-late": _told(
        "A part that must shut the appliance off in danger did so too late.",
        "set or replace that part and prove that it works",
        *LEAVE_OFF,
    ),
    "safety-short": _told(
        "The appliance lights before it has blown itself clean long enough.",
        "set or replace the part that times it",
        *LEAVE_OFF,
    ),
    "safety-early": _told(
        "A part that guards the appliance shuts it off sooner than it should.",
        "set or replace that part",
    ),
    "safety-unproved": _told("Not every safety part was tried today.", READ_AGAIN),
    "safety-untimed": _told("Some safety parts were tried without a figure.", READ_AGAIN),
}
AROUND = {
    "house-co-alarms": _told("No carbon monoxide alarm here can be relied on.", "fit alarms and sound each",
                             "have an alarm where people sleep, and press its button each month"),
    "house-alarm-old": _told("A carbon monoxide alarm is too old to rely on.", "replace it",
                             "replace an alarm by the date on it"),
    "house-vent-end": _told("The end of the vent is blocked, or too near a window or corner.", "free or move it",
                            *_OFF_FREE),
    "house-snow-line": _told("Snow can close the end of the vent.", "raise the end above the snow",
                             "keep it dug free of snow"),
    "house-air-opening": _told("The opening that gives the flame its air is closed or too small.", _AIR, *CLEAR_AIR),
    "house-orphaned-heater": _told("The chimney may be too big and cold for the small appliance left on it.",
                                   "test whether flue gas falls back, then line the chimney"),
    "house-garage": _told("The appliance stands where car fumes or petrol can reach it.",
                          "raise or guard its flame and close openings to the house",
                          "never run a car in the closed garage, and keep petrol away from the appliance"),
    "house-generator": _told("An engine or a grill is used in or too near the house. That can kill within minutes.",
                             "explain to everybody in the house why",
                             "use it outdoors only, far from windows and doors"),
    "house-connector": _told("The fuel connector of the appliance may leak.", "replace it and test it for leaks",
                             "if you smell gas: no switch, no flame, everybody out, call from outside", *LEAVE_OFF),
    "house-shut-off": _told("Nobody can shut off the fuel at the appliance.", "fit a valve within reach"),
    "house-drip-leg": _told("Dirt and water in the gas pipe can reach the valve.", "fit a trap for them"),
    "house-chimney": _told("The chimney is not safe to use.", "have it swept and looked through from end to end",
                           "light no fire until it is mended"),
    "house-tank-and-line": _told("Oil can leak from the tank or its pipe.", "mend it and see where oil went"),
    "house-hood-fan": _told("Cooking gas stays in the kitchen.", "lead the fan outdoors",
                            "open a window when you cook until then"),
    "house-never-for-heat": _told("The oven is used for heating, or lined with foil. That can kill.",
                                  "explain to everybody in the house why",
                                  "never heat with the oven, and keep foil out of it"),
    "house-vent-free-room": _told("A heater without a chimney stands in a room that is not fit for one.",
                                  "replace it by one with a chimney", "leave it off"),
    "house-exhaust-duct": _told("The duct of the dryer is blocked, or does not lead outdoors.", "clean or replace it",
                                "leave the dryer off until then"),
    "house-clear-of-burning": _told("Things that can burn stand too near the hot appliance.",
                                    "mark the distance on the floor", "keep that place clear", *LEAVE_OFF),
    "house-water-chemistry": _told("The water is harming the heater.", "put the water right and clean the heater"),
}  # fmt: skip
DUTIES = {
    "house-arrestor-and-screen": _told("Lint keeps air from the flame.", "clean the air screen and test again",
                                       "keep lint and dust away from the floor there", *LEAVE_OFF),
    "house-trap-primed": _told("Flue gas can leave through an empty water trap.", "fill the trap and test the air",
                               *LEAVE_OFF),
    "house-port-closed": _told("A test opening of the vent was not tight.", "close it and test it again", *LEAVE_OFF),
    "house-vent-joints": _told("The plastic vent is not tight, or not fit for its heat.", "replace those pieces",
                               *LEAVE_OFF),
    "house-inner-pipe": _told("Flue gas gets into the air for the flame.", "find the leak in the vent and close it",
                              *LEAVE_OFF),
    "house-exchanger-seen": _told("The appliance may be open between flame and house air.", "have it inspected",
                                  *LEAVE_OFF),
    "house-logs-and-bed": _told("The logs of the fire lie in the flame and make soot.", "lay them as they belong",
                                "do not move the logs"),
    "house-pilot-clean": _told("The small flame that guards the air of the room is dirty.", "clean or replace it",
                               "leave the heater off until then"),
    "air-not-set-by-hand": Words(
        "The flame gets more air than it needs, and the surplus carries heat up the flue. On this appliance nobody "
        "sets that by hand.",
        "The flame was getting more air than it needs, and the surplus carried heat up the flue. On this appliance "
        "nobody sets that by hand.",
        "have it set as its maker says",
    ),
}  # fmt: skip
WORDS: dict[str, Words] = {**SAFETY, **AROUND, **DUTIES}
