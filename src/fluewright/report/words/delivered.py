"""Words of the house for findings about heat delivered, by code."""

from fluewright.report.words.words import LEAVE_OFF, Words

KEEP_OPEN = ("keep registers and grilles open and free", "change the air filter when it is due")
_PRESSED = Words(
    "The blower has to push harder than it is made for, so less warm air comes through.",
    "The blower had to push harder than it is made for.",
    "find what holds the air back: filter, coil, ducts, registers",
    KEEP_OPEN,
)

WORDS: dict[str, Words] = {
    "air-rise-high": Words(
        "The air gets hotter in the furnace than its maker allows.",
        "The air was getting hotter in the furnace than its maker allows.",
        "find out whether too little air or too much fire does it, and mend that",
        LEAVE_OFF,
    ),
    "air-rise-low": Words(
        "The air is warmed less than the furnace's maker wants; water may form inside it.",
        "The air was warmed less than the furnace's maker wants.",
        "bring air and fire back to what the maker states",
    ),
    "static-over-plate": _PRESSED,
    "static-common": _PRESSED,
    "filter-over-budget": Words(
        "The air filter holds back more air than planned.",
        "The air filter held back more air than planned.",
        "see whether the filter is dirty or too dense for this blower",
        ("change the air filter when it is due",),
    ),
    "coil-over-budget": Words(
        "The cooling coil holds back more air than planned.",
        "The cooling coil held back more air than planned.",
        "look whether the coil is dirty, and clean it",
    ),
    "low-airflow": Words(
        "Less air passes the furnace than its maker wants.",
        "Less air passed the furnace than its maker wants.",
        "find what holds the air back",
        KEEP_OPEN,
    ),
    "return-too-warm": Words(
        "The water comes back so warm that the boiler cannot win the last heat from the flue gas.",
        "The water came back so warm that the boiler could not win the last heat from the flue gas.",
        "let the water come back cooler",
    ),
    "return-too-cold": Words(
        "The water comes back so cool that the boiler may get wet inside and rust.",
        "The water came back so cool that the boiler could get wet inside and rust.",
        "keep the water that comes back warmer",
    ),
}
"""Findings of grade open are not told to the house one by one."""
