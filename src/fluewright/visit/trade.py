"""What people say on the job: short words for readings, the units they read them in, which may lie below nothing."""

from collections.abc import Mapping, Sequence

from fluewright.quantity import names, show
from fluewright.quantity.meaning import Quantity

WORDS: Mapping[str, str] = {
    "oxygen_dry": "oxygen", "oxygen_wet": "oxygen, wet", "oxygen_dried": "oxygen behind the trap",
    "carbon_dioxide_dry": "carbon dioxide", "carbon_monoxide_dry": "carbon monoxide",
    "carbon_monoxide_air_free": "carbon monoxide, air-free", "carbon_monoxide_room": "carbon monoxide in the room",
    "carbon_monoxide_outdoor": "carbon monoxide outdoors", "carbon_monoxide_personal": "worn meter",
    "nitrogen_oxides_dry": "nitrogen oxides", "nitric_oxide_dry": "nitric oxide", "flue_temperature": "stack",
    "air_temperature": "air to the burner", "room_temperature": "room", "outdoor_temperature": "outdoors",
    "supply_water_temperature": "water out", "return_water_temperature": "water back", "smoke_spot": "smoke",
    "line_pressure": "gas pressure", "draft": "draft", "spill_time": "spilled for",
}  # fmt: skip
"""Short words by registry name; the others go by the registry's own."""

TYPED: Mapping[str, str] = {
    "oxygen_dry": "o2", "carbon_monoxide_dry": "co", "flue_temperature": "stack", "air_temperature": "air",
    "carbon_monoxide_room": "room_co", "carbon_monoxide_outdoor": "outdoor_co", "carbon_monoxide_personal": "worn_co",
    "smoke_spot": "smoke", "return_water_temperature": "return", "supply_water_temperature": "supply_water",
    "room_temperature": "room", "outdoor_temperature": "outdoor",
}  # fmt: skip
"""What is typed for them where the first trade name of the registry is not the usual one."""

UNITS: Mapping[str, Sequence[str]] = {
    "temperature": ("°F", "°C"),
    "temperature difference": ("°F", "K"),
    "pressure": ("in w.c.", "Pa", "mbar"),
}
"""Units that are chosen among by tap, by dimension; what is not here is read in one unit only."""

BELOW_NOTHING = frozenset({"pressure", "temperature", "temperature difference"})
"""Dimensions whose figures may be negative on the job."""


def words(name: str) -> str:
    """A reading as a person says it on the job."""
    return WORDS.get(name) or names.named(name).words


def typed(name: str) -> str:
    """What is typed for it: a trade name."""
    quantity = names.named(name)
    return TYPED.get(quantity.name) or (quantity.aliases[0] if quantity.aliases else quantity.name)


def units(quantity: Quantity, system: show.System, last: Mapping[str, str]) -> tuple[str, ...]:
    """The units to choose among, that of the last reading of this kind first.

    quantity  what is read
    system    in whose units the visit is worked
    last      unit of the last reading by dimension
    -> symbols; one where there is no choice, none for what has no unit
    """
    own = show.unit_of(quantity, system)
    if own == "1":
        return ()
    choice = UNITS.get(quantity.dimension, ())
    first = last.get(quantity.dimension, own) if choice else own
    return tuple(dict.fromkeys((first, *(choice if own in choice else (own, *choice)))))


def may_be_negative(quantity: Quantity) -> bool:
    """Whether a sign key is of use."""
    return quantity.dimension in BELOW_NOTHING and (quantity.least is None or quantity.dimension != "fraction")
