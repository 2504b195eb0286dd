"""Words of the house for findings about gas and oil supply, by code."""

from fluewright.report.words import gas_input, gas_pipe
from fluewright.report.words.words import LEAVE_OFF, Words

_OIL_LINE = Words(
    "The oil pump has to pull too hard to get its oil.",
    "The oil pump had to pull too hard to get its oil.",
    "find what stands in the way of the oil, and test again",
)
_SET_WITH_MORE_AIR = "set the flame with more air, and test again"
_STAMP = "put in the part that belongs there, and test again"

OIL: dict[str, Words] = {
    "oily-spot": Words(
        "Oil leaves the fire without burning.",
        "Oil was leaving the fire without burning.",
        "find why oil does not burn, clean out what gathered, and test again",
        LEAVE_OFF,
    ),
    "lock-out-late": Words(
        "The burner does not shut itself off soon enough when it fails to light.",
        "The burner did not shut itself off soon enough when it failed to light.",
        "replace the part that shuts the burner off, and test it",
        (*LEAVE_OFF, "do not press its reset button"),
    ),
    "practice-oil-ignition-late": Words(
        "The burner lights late, and may do so with a thump.",
        "The burner was lighting late, and could do so with a thump.",
        "put the lighting of the burner right",
        ("call us if it lights with a thump",),
    ),
    "practice-oil-vacuum-one-pipe": _OIL_LINE,
    "practice-oil-vacuum-two-pipe": _OIL_LINE,
    "oil-line-draws-hard": _OIL_LINE,
    "oil-line-not-full": Words(
        "Air gets into the oil on its way to the burner.",
        "Air was getting into the oil on its way to the burner.",
        "find where air gets in, and make it tight",
        ("see that the tank is not run empty",),
    ),
    "papers-and-light-apart": Words(
        "Our two ways of telling smoke gave two answers.",
        "Our two ways of telling smoke gave two answers.",
        "test the smoke again",
    ),
    "oil-line-degasses": Words(
        "The oil has so far to climb to the burner that bubbles form in it.",
        "The oil had so far to climb to the burner that bubbles formed in it.",
        "make the way of the oil shorter or wider, or fit a pump that brings it up",
        ("call us if the burner stops or its flame flutters",),
    ),
    "oil-pushes-too-hard": Words(
        "The oil tank stands high above the burner, and the oil presses on a pump that is not made for it.",
        "The oil tank stands high above the burner, and the oil was pressing on a pump that is not made for it.",
        "fit a valve that takes the pressure off",
        ("look for oil under the burner, and close the tank's valve if you find any",),
    ),
    "practice-oil-cutoff-fall": Words(
        "Oil drips on after the burner has stopped.",
        "Oil was dripping on after the burner had stopped.",
        "mend or replace the oil pump",
    ),
    "practice-oil-input-over": Words(
        "The burner burns more oil than the appliance is made for.",
        "The burner was burning more oil than the appliance is made for.",
        _STAMP,
    ),
    "us-ca-oil-input-over": Words(
        "The burner burns more oil than it was laid out for.",
        "The burner was burning more oil than it was laid out for.",
        _STAMP,
    ),
    "us-ca-oil-input-under": Words(
        "The burner burns less oil than it was laid out for.",
        "The burner was burning less oil than it was laid out for.",
        _STAMP,
    ),
    "nozzle-not-of-plate": Words(
        "The part that sprays the oil is not the one the maker asks for.",
        "The part that sprayed the oil was not the one the maker asks for.",
        _STAMP,
    ),
    "nozzle-passes-other": Words(
        "The part that sprays the oil lets through another amount than it should.",
        "The part that sprayed the oil let through another amount than it should.",
        "replace it, and test again",
    ),
    "seal-before-air": Words(
        "Air leaks in behind the fire.",
        "Air was leaking in behind the fire.",
        "seal the joints, and set the flame anew",
    ),
    "draft-before-air": Words(
        "The chimney pulls less at the fire than it should.",
        "The chimney was pulling less at the fire than it should.",
        "clean the way of the smoke, and set the pull of the chimney",
    ),
    "set-past-knee": Words(
        "The flame is set with so little air that it may soon make soot.",
        "The flame was set with so little air that it could soon make soot.",
        _SET_WITH_MORE_AIR,
    ),
    "outdoor-oil-rich-in-winter": Words(
        "The oil tank stands in the cold: in winter this flame gets more oil and may make soot.",
        "The oil tank stands in the cold: in winter this flame got more oil and could make soot.",
        "leave the flame air enough for the coldest day, and test once on a cold day",
        ("call us if it smells or smokes on a cold day",),
    ),
}

WORDS: dict[str, Words] = {**gas_input.WORDS, **gas_pipe.WORDS, **OIL}
