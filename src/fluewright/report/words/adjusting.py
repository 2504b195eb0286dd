"""Words of the house for findings about adjusting, by code."""

from fluewright.report.words.words import LEAVE_OFF, Words

_CLIMBS = Words(
    "The flame was left where it makes too much carbon monoxide or soot.",
    "The flame stood where it makes too much carbon monoxide or soot.",
    "give the flame more air, and test again",
    LEAVE_OFF,
)
_LITTLE_AIR = Words(
    "The flame has so little air that it may soon make carbon monoxide or soot.",
    "The flame had so little air that it could soon make carbon monoxide or soot.",
    "set the flame with more air, and test again",
)
_CURVES = Words(
    "The settings of the burner do not follow one line from low to high fire.",
    "The settings of the burner did not follow one line from low to high fire.",
    "look at the linkage, and set those points anew",
)

WORDS: dict[str, Words] = {
    "left-past-stop": _CLIMBS,
    "curve-still-rising": _CLIMBS,
    "curve-point-past-stop": _CLIMBS,
    "ends-below-knee": _LITTLE_AIR,
    "below-least-oxygen": Words(
        "The flame has too little air.",
        "The flame had too little air.",
        "give the flame more air, and test again",
        LEAVE_OFF,
    ),
    "short-in-the-year": Words(
        "As it is set, this flame would have too little air at one end of the year.",
        "As it was set, this flame would have had too little air at one end of the year.",
        "set the flame so that it has air enough all year, and test again",
        LEAVE_OFF,
    ),
    "year-asks-for-more": Words(
        "One setting cannot serve this burner the whole year.",
        "One setting could not serve this burner the whole year.",
        "find air that keeps its temperature, or set the burner anew each season",
    ),
    "not-yet-to-be-set": Words(
        "The burner cannot be set before something else is put right.",
        "The burner could not be set before something else was put right.",
        "put that right first, then set the burner and test again",
    ),
    "not-set-but-off": Words(
        "No setting makes this appliance safe before something else is mended.",
        "No setting could make this appliance safe before something else was mended.",
        "find what is wrong, mend it and test again",
        LEAVE_OFF,
    ),
    "turned-the-other-way": Words(
        "A setting moved the flame the other way than it should.",
        "A setting was moving the flame the other way than it should.",
        "find what moves it, and test again",
    ),
    "curve-gap": _CURVES,
    "actuator-turns-round": _CURVES,
    "rate-twice": _CURVES,
    "permit-exceeded": Words(
        "The burner gives off more than its permit allows.",
        "The burner was giving off more than its permit allows.",
        "find why, mend it and test again",
    ),
}
