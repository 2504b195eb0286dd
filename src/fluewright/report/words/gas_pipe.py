"""Words of the house for findings about gas pressure, pipes and tightness, by code."""

from fluewright.report.words.words import LEAVE_OFF, Words

_SHUT_OFF = (
    "leave the gas shut off until we have mended the leak and tested again",
    "if you smell gas: touch no switch, open doors and windows, go outside and call from there",
)
_LOSES = Words(
    "The gas pipes did not hold their pressure in our test: gas may be escaping.",
    "The gas pipes were not holding their pressure in our test.",
    "find the leak, mend it and test the pipes again",
    _SHUT_OFF,
)
_METER = Words(
    "The gas meter went on counting with everything shut: something is on that nobody knows of, or gas is escaping.",
    "The gas meter went on counting with everything shut.",
    "find what uses the gas, mend it and test again",
    _SHUT_OFF,
)
_TESTS = (
    "de-load", "de-tightness-small", "de-tightness-middle", "de-tightness-large", "uk-let-by", "uk-new",
    "uk-ed3-no-meter", "uk-ed3-g4", "uk-ed4-005", "uk-ed4-010", "uk-ed4-015", "uk-ed4-035", "uk-ed4-lpg-0025",
    "uk-ed4-lpg-005", "uk-ed4-lpg-010", "uk-ed4-lpg-over", "us-mh-pipes", "us-mh-connected", "us-ifgc-406",
    "us-ifgc-406-small", "us-ca-1316-9", "us-ca-1316-9-high", "pressure-lost", "de-fit-unrestricted", "de-unfit",
)  # fmt: skip
_METERS = ("us-leak-dial-05", "us-leak-dial-1", "us-leak-dial-5", "meter-creep")
_OVER = Words(
    "The gas reaches your appliance with more pressure than it is made for.",
    "The gas was reaching your appliance with more pressure than it is made for.",
    "put the pressure right and test again",
    LEAVE_OFF,
)
_UNDER = Words(
    "The gas reaches your appliance with too little pressure.",
    "The gas was reaching your appliance with too little pressure.",
    "find where the pressure is lost, put it right and test again",
    LEAVE_OFF,
)
_MOVING = Words(
    "The gas pressure at your appliance does not stand still.",
    "The gas pressure at your appliance did not stand still.",
    "find out why, put it right and test again",
    LEAVE_OFF,
)
_REGULATOR = Words(
    "The part that keeps the gas pressure even does not do so well.",
    "The part that keeps the gas pressure even did not do so well.",
    "look after the pressure regulator, or have the gas supplier do it",
)
_PIPE = Words(
    "Too much gas pressure is lost on the way to your appliance.",
    "Too much gas pressure was lost on the way to your appliance.",
    "find what narrows the gas pipe and put it right",
)
_FITTING = Words(
    "A part of your gas line that belongs there is missing.",
    "A part of your gas line that belongs there was missing.",
    "fit the missing part, or look up whether your appliance may do without",
)

WORDS: dict[str, Words] = {
    "supply-still-moving": _MOVING,
    "gauge-still-moving": _LOSES,
    **dict.fromkeys(_TESTS, _LOSES),
    **dict.fromkeys(_METERS, _METER),
    **dict.fromkeys(("supply-over-plate", "us-supply-most", "us-mh-supply-most", "uk-outlet-most", "de-start-most"),
                    _OVER),
    **dict.fromkeys(("supply-under-plate", "us-mh-supply-least", "uk-outlet-least", "de-start-least"), _UNDER),
    **dict.fromkeys(("practice-droop", "practice-lock-up"), _REGULATOR),
    **dict.fromkeys(("practice-supply-fall", "us-mh-pipe-drop", "ca-pipe-drop-low", "ca-pipe-drop-high",
                     "pipe-loses-more", "pipe-over-table"), _PIPE),
    **dict.fromkeys(("gas-connector-missing", "gas-shut-off-missing", "gas-drip-leg-missing", "gas-part-missing"),
                    _FITTING),
    "gas-escapes": Words(
        "Gas is escaping.",
        "Gas was escaping.",
        "mend the leak and test the pipes",
        ("stay out until the gas supplier or we say that the air is clear", *_SHUT_OFF),
    ),
    "gas-part-faulty": Words(
        "A part of your gas line is not in order.",
        "A part of your gas line was not in order.",
        "renew the part and try it for leaks",
        LEAVE_OFF,
    ),
}  # fmt: skip
