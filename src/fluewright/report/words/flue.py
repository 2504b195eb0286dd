"""Words of the house for findings about a flue and what hangs on it, by code."""

from fluewright.report.words.words import LEAVE_OFF, Words

_FANS = (*LEAVE_OFF, "do not run fans, dryer or range hood with doors and windows shut")
_MUCH = Words(
    "The flame gets more air than the law that was read allows.",
    "The flame was getting more air than the law that was read allows.",
    "look for places where air leaks in, and go by the papers of its maker",
)
_LITTLE = Words(
    "The flame gets less air than the law that was read allows.",
    "The flame was getting less air than the law that was read allows.",
    "find what keeps air from the flame, and give it air",
    LEAVE_OFF,
)
_HOT = Words(
    "More heat leaves through the flue than the law that was read allows.",
    "More heat was leaving through the flue than the law that was read allows.",
    "clean the appliance and set it, then test again",
)

WORDS = {
    **dict.fromkeys(("us-mn-o2-high", "us-mn-co2-low", "us-ca-oil-o2-high", "us-ca-oil-co2-low"), _MUCH),
    **dict.fromkeys(
        ("us-mn-o2-low", "us-mn-co2-high", "us-ca-oil-o2-low", "us-ca-oil-o2-least", "us-ca-oil-co2-high"), _LITTLE
    ),
    **dict.fromkeys(
        (
            "us-mn-stack",
            "us-mn-efficiency",
            "us-ca-oil-stack",
            "us-ca-oil-efficiency-power",
            "us-ca-oil-efficiency-natural",
            "de-44bimschv-loss",
        ),
        _HOT,
    ),
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
