"""Words of the house for findings about how much gas burns, by code."""

from fluewright.report.words.words import LEAVE_OFF, Words

_TOO_MUCH = Words(
    "The burner gets more gas than it is made for.",
    "The burner was getting more gas than it is made for.",
    "bring the gas down to what the appliance is made for, and test the flame again",
    LEAVE_OFF,
)
_TOO_LITTLE = Words(
    "The burner gets less gas than it is made for, so it gives less heat and its vent stays cooler.",
    "The burner was getting less gas than it is made for.",
    "find out why, and set it right if nothing speaks for leaving it so",
)
_PRESSURE = Words(
    "The gas pressure at the burner is not what the maker asks for.",
    "The gas pressure at the burner was not what the maker asks for.",
    "find out why, and set it",
)
_HEAT = Words(
    "With the other gas the burner would give clearly more or less heat than it should.",
    "With the other gas the burner would have given clearly more or less heat than it should.",
    "set the burner for that gas before it comes",
)
_FLAME = Words(
    "With the other gas the flame may not stay where it belongs.",
    "With the other gas the flame might not have stayed where it belongs.",
    "ask the maker whether this burner takes that gas",
)

WORDS: dict[str, Words] = {
    "gas-input-over": _TOO_MUCH,
    "us-ca-input-over": _TOO_MUCH,
    "us-mn-input-over": _TOO_MUCH,
    "gas-input-under": _TOO_LITTLE,
    "us-mn-input-under": _TOO_LITTLE,
    "gas-manifold-high": _PRESSURE,
    "gas-manifold-low": _PRESSURE,
    "gas-change-rich": Words(
        "With the other gas the flame would get too little air and make carbon monoxide.",
        "With the other gas the flame would have got too little air.",
        "set the burner for that gas before it comes",
        ("do not let anybody connect another gas to this appliance",),
    ),
    "gas-change-little-air": Words(
        "With the richest gas the flame would have little air to spare.",
        "With the richest gas the flame would have had little air to spare.",
        "give the flame more air while we set it",
    ),
    "gas-change-heat-high": _HEAT,
    "gas-change-heat-low": _HEAT,
    "gas-change-lifting": _FLAME,
    "gas-change-flash-back": _FLAME,
}
