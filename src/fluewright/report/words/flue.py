"""Words of the house for findings about a flue and what hangs on it, by code."""

from fluewright.report.words.words import LEAVE_OFF, Words

_FANS = (*LEAVE_OFF, "do not run fans, dryer or range hood with doors and windows shut")

WORDS = {
    "spills-as-it-stands": Words(
        "Flue gas comes back into the room.",
        "Flue gas was coming back into the room.",
        "find what keeps the flue from drawing, mend it and test again",
        LEAVE_OFF,
    ),
    "spills-with-fans": Words(
        "When fans run, flue gas comes back into the room.",
        "When fans ran, flue gas came back into the room.",
        "give the room air of its own or change what draws it out, and test again",
        _FANS,
    ),
    "spills-measured": Words(
        "Flue gas was measured coming out into the room.",
        "Flue gas was measured coming out into the room.",
        "find what keeps the flue from drawing, mend it and test again",
        _FANS,
    ),
    "draft-weaker-than-predicted": Words(
        "The flue draws less than it should.",
        "The flue was drawing less than it should.",
        "look through the flue for soot and blockages",
    ),
}
