"""Words of the house for findings about room air and air for burning, by code."""

from fluewright.report.words.words import CLEAR_AIR, LEAVE_OFF, OFF, Words

_OUT = (
    "leave the house now, and call the emergency number from outside",
    "let medical people look at everybody who felt unwell, even when it has passed",
)
_AIR = (OFF, "air the rooms, and stay out of them while they are being aired")
_OLD_ALARM = ("put up a new carbon monoxide alarm near where people sleep",)
_OF_MEANS = Words(
    "Over time there was more carbon monoxide in the air here than rules allow.",
    "Over time there was more carbon monoxide in the air here than rules allow.",
    "find where the carbon monoxide in the air comes from, stop it, and test the air again",
    LEAVE_OFF,
)
_OF_WORK = (
    *("us-osha-pel-co", "us-ca-pel-co", "us-ca-ceiling-co", "us-mi-pel-co", "us-mi-ceiling-co", "us-niosh-rel-co"),
    *("us-acgih-tlv-co", "us-niosh-idlh-co", "us-ca-garage-co-8h", "us-ca-garage-co-1h", "eu-oel-co-8h"),
    *("eu-oel-co-15min", "de-agw-co-8h", "de-agw-co-15min", "gb-wel-co-8h", "gb-wel-co-15min"),
)
_OF_AIR = (
    *("us-naaqs-co-8h", "us-naaqs-co-1h", "eu-air-co-8h", "who-2000-co-15min", "who-2000-co-30min", "who-2000-co-8h"),
    *("who-2010-co-1h", "who-2021-co-24h"),
)
_OF_OPEN_FLAME = Words(
    "An appliance without a chimney puts more carbon monoxide into the room than it should.",
    "An appliance without a chimney was putting more carbon monoxide into the room than it should.",
    "clean and set its burner, and test the gas and the room again",
    CLEAR_AIR,
)
_WHEN_COLD = Words(
    "Right after lighting, an appliance without a chimney makes much carbon monoxide.",
    "Right after lighting, an appliance without a chimney made much carbon monoxide.",
    "test it again when it is hot",
    ("open a window whenever it is lit",),
)
_CLIMBS = Words(
    "Carbon monoxide in the air of the room was still climbing when we read it. Nobody knows how far it goes.",
    "Carbon monoxide in the air of the room was climbing.",
    "find what lets carbon monoxide into the room, stop it, and test the air again",
    _AIR,
)

_FORBIDDEN = Words(
    "A heater without a chimney stands where the law that was read does not allow one.",
    "A heater without a chimney stood where the law that was read does not allow one.",
    "ask the authority which law holds today, and put in a heater with a chimney",
    ("leave the heater off until that is settled",),
)

WORDS: dict[str, Words] = {
    "people-first": Words(
        "Somebody here feels unwell. That can be carbon monoxide, whatever our instrument reads.",
        "Somebody here felt unwell.",
        "find out where carbon monoxide could come from before anybody lives here again",
        _OUT,
    ),
    "alarm-sounded": Words(
        "The carbon monoxide alarm had sounded. An alarm is believed until its reason is found.",
        "The carbon monoxide alarm had sounded.",
        "find what made the alarm sound",
        (OFF, "leave the house and call for help if it sounds again"),
    ),
    "alarm-old": Words(
        "The carbon monoxide alarm is too old to be relied on.",
        "The carbon monoxide alarm was too old to be relied on.",
        "look at the date on the new alarm",
        _OLD_ALARM,
    ),
    "alarm-mute": Words(
        "The carbon monoxide alarm did not sound when we tried it.",
        "The carbon monoxide alarm did not sound when we tried it.",
        "try the new alarm",
        _OLD_ALARM,
    ),
    "alarm-missing": Words(
        "There is no carbon monoxide alarm here.",
        "There was no carbon monoxide alarm here.",
        "look at where the new alarm hangs",
        ("put up a carbon monoxide alarm near where people sleep",),
    ),
    "room-rise": Words(
        "The air in here holds more carbon monoxide than the air outdoors: something indoors makes it or lets it in.",
        "The air in here held more carbon monoxide than the air outdoors.",
        "find what makes it, by running the appliances one by one",
        _AIR,
    ),
    **dict.fromkeys(("room-rising", "worst-case-rising"), _CLIMBS),
    "unvented-rising": Words(
        "Carbon monoxide from an appliance without a chimney was still climbing when we read it.",
        "Carbon monoxide from an appliance without a chimney was climbing.",
        "find why, clean and set its burner, and test the gas and the room again",
        _AIR,
    ),
    "room-heads-for": Words(
        "Left running like this, the room would fill with more carbon monoxide than people may breathe.",
        "Left running like that, the room would have filled with carbon monoxide.",
        "find how the gas gets into the room, and mend it",
        _AIR,
    ),
    "unvented-rise": Words(
        "An appliance without a chimney puts carbon monoxide into the room.",
        "An appliance without a chimney was putting carbon monoxide into the room.",
        "clean and set its burner, and test the gas and the room again",
        CLEAR_AIR,
    ),
    "exposure-no-diagnosis": Words(
        "What was breathed was worked out on paper. It does not say how anybody is: medical people do.",
        "What was breathed was worked out on paper.",
        "",
        ("let medical people look at everybody who felt unwell",),
    ),
    **dict.fromkeys(("us-ca-unvented-ban", "us-voucher-unvented-ban", "us-mh-vented-only"), _FORBIDDEN),
    "us-ca-unvented-loading": Words(
        "The appliances without a chimney are too large for this room.",
        "The appliances without a chimney were too large for this room.",
        "look again at what burns in this room",
        CLEAR_AIR,
    ),
    **dict.fromkeys(_OF_WORK + _OF_AIR, _OF_MEANS),
    **dict.fromkeys(("us-z21-unvented-co", "us-z21-oven-co", "us-z83-direct-fired-co"), _OF_OPEN_FLAME),
    **dict.fromkeys(("us-z21-unvented-co-cold", "us-z21-oven-co-cold", "us-z83-direct-fired-co-cold"), _WHEN_COLD),
}
