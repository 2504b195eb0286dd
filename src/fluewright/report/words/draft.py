"""Words of the house for findings about draft and venting, by code."""

from fluewright.report.words.words import LEAVE_OFF, READ_AGAIN, Words

_NO_FANS = "do not run kitchen hood, dryer or bath fan while the appliance burns, until we have mended it"
_AIR_IN = "bring more air into the house and test again with every fan running"
_SEE_WHY = "find what keeps the chimney from pulling, and test again"

_WEAK = Words(
    "The chimney pulls less than it should. When it stops pulling, flue gas comes into the house.",
    "The chimney pulled less than it should.",
    _SEE_WHY,
    LEAVE_OFF,
)
_STRONG = Words(
    "The chimney pulls more than it should and carries warmth away.",
    "The chimney pulled more than it should and carried warmth away.",
    "set what regulates its pull",
)
_DRAWN = Words(
    "When the fans run they draw air down the chimney, and flue gas can come into the house.",
    "When the fans ran they drew air down the chimney.",
    _AIR_IN,
    (_NO_FANS, *LEAVE_OFF),
)
_SPILLS = Words(
    "Flue gas comes out of the appliance into the room for too long after it lights.",
    "Flue gas came out of the appliance into the room for too long after it lit.",
    _SEE_WHY,
    LEAVE_OFF,
)
_LEAKS = Words(
    "The pipe that takes the flue gas outdoors is not tight. Flue gas can come into the house.",
    "The pipe that takes the flue gas outdoors was not tight.",
    "make the smoke-gas pipe tight and test it again",
    LEAVE_OFF,
)
_TRAP = Words(
    "The water trap of the appliance is empty, and flue gas can come into the house through it.",
    "The water trap of the appliance was empty.",
    "fill the trap, see that it drains, and test the air of the room",
    LEAVE_OFF,
)

LIMITS: dict[str, Words] = {
    **dict.fromkeys(
        ("us-ufc-over-fire", "us-breech-weak", "us-power-breech-weak", "us-hood-weak", "us-draft-by-weather"), _WEAK
    ),
    **dict.fromkeys(("us-breech-strong", "us-power-breech-strong", "us-hood-strong"), _STRONG),
    **dict.fromkeys(
        (
            "us-zone-water-heater",
            "us-zone-furnace-or-boiler",
            "us-zone-common",
            "us-zone-induced-common",
            "us-zone-induced",
            "us-zone-power",
        ),
        _DRAWN,
    ),
    **dict.fromkeys(("us-spill-older", "us-spill-warm", "us-spill-cold", "us-ca-spill", "ca-spill-fans"), _SPILLS),
}
WATCHED: dict[str, Words] = {
    "draft-pushes": Words(
        "The chimney pushes flue gas into the house instead of taking it out.",
        "The chimney pushed flue gas into the house instead of taking it out.",
        _SEE_WHY,
        LEAVE_OFF,
    ),
    "draft-pushes-cold": Words(
        "Cold air comes down the chimney. When the appliance lights, its flue gas can come into the house.",
        "Cold air came down the chimney.",
        _SEE_WHY,
        LEAVE_OFF,
    ),
    "chimney-may-turn": Words(
        "On a windy day, or with fans running, this chimney may stop pulling.",
        "On a windy day, or with fans running, this chimney might have stopped pulling.",
        READ_AGAIN,
    ),
    "spillage-goes-on": Words(
        "Flue gas comes out of the appliance into the room and does not stop.",
        "Flue gas came out of the appliance into the room and did not stop.",
        _SEE_WHY,
        LEAVE_OFF,
    ),
    "spillage-by-fan": Words(
        "When a fan in the house runs, flue gas comes out of the appliance into the room.",
        "When a fan in the house ran, flue gas came out of the appliance into the room.",
        _AIR_IN,
        (_NO_FANS, *LEAVE_OFF),
    ),
    "worst-case-flame": Words(
        "In the test the flame came out of the appliance. That can start a fire.",
        "In the test the flame came out of the appliance.",
        "find why, mend it and test again",
        LEAVE_OFF,
    ),
}
VENT: dict[str, Words] = {
    "vent-too-hot": Words(
        "The pipe that takes the flue gas outdoors gets hotter than it is made for. It can soften and open.",
        "The pipe that takes the flue gas outdoors got hotter than it is made for.",
        "look at the whole pipe, clean the appliance and set its water cooler",
        LEAVE_OFF,
    ),
    "vent-category": Words(
        "The pipe that takes the flue gas outdoors is not of the kind that this appliance needs.",
        "The pipe that takes the flue gas outdoors was not of the kind that this appliance needs.",
        "fit the pipe that its maker lists",
        LEAVE_OFF,
    ),
    "vent-trap-dry": _TRAP,
    "vent-trap-empty": _TRAP,
    **dict.fromkeys(
        ("vent-joint", "vent-joint-pushes", "vent-drilled", "vent-drilled-pushes", "vent-port", "vent-port-pushes"),
        _LEAKS,
    ),
    "vent-joint-outdoors": Words(
        "A joint of the smoke-gas pipe drips or leaks outdoors.",
        "A joint of the smoke-gas pipe dripped or leaked outdoors.",
        "make the joint anew",
    ),
    "vent-end-blocked": Words(
        "The end of the smoke-gas pipe is blocked, and the flue gas has no way out.",
        "The end of the smoke-gas pipe was blocked.",
        "free the end of the pipe and see that it stays free",
        LEAVE_OFF,
    ),
    "vent-end-near": Words(
        "The smoke-gas pipe ends too near a window, a corner or the ground.",
        "The smoke-gas pipe ended too near a window, a corner or the ground.",
        "measure and move the end of the pipe",
        ("keep windows near it shut while the appliance burns",),
    ),
    "vent-drain-frost": Words(
        "The pipe that drains water from the appliance can freeze and stop it.",
        "The pipe that drains water from the appliance could freeze and stop it.",
        "keep that drain from freezing",
    ),
    "vent-neutraliser": Words(
        "What takes the acid out of the draining water is used up.",
        "What takes the acid out of the draining water was used up.",
        "renew what takes the acid out of that water",
    ),
}
WORDS: dict[str, Words] = {**LIMITS, **WATCHED, **VENT}
