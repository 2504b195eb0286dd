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
    "closed-outlet-pushes": Words(
        "Flue gas is pushed where it should be drawn, and any joint that leaks lets it into the room.",
        "Flue gas was pushed where it should be drawn.",
        "find what stands in the way of the flue gas, mend it and test again",
        LEAVE_OFF,
    ),
    "spills-measured": Words(
        "Flue gas was measured coming out into the room.",
        "Flue gas was measured coming out into the room.",
        "find what keeps the flue from drawing, mend it and test again",
        _FANS,
    ),
    "spills-alone": Words(
        "When one of the appliances runs alone, flue gas comes back into the room.",
        "When one of the appliances ran alone, flue gas came back into the room.",
        "fit the flue to it or give it one of its own, and test again",
        _FANS,
    ),
    "lit-cold-spills": Words(
        "When the flue is cold, it may not take the gas away after lighting.",
        "When the flue was cold, it might not have taken the gas away after lighting.",
        "light it with the flue cold and every fan on, watch it, and mend what keeps the flue from drawing",
        _FANS,
    ),
    "draft-weaker-than-predicted": Words(
        "The flue draws less than it should.",
        "The flue was drawing less than it should.",
        "look through the flue for soot and blockages",
    ),
}
