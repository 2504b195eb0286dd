"""What people say on the job: short words for readings, the units they read them in, which may lie below nothing."""

import re
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


TABLES: Mapping[tuple[str, str], str] = {
    ("room", "entry"): "carbon monoxide on entry", ("room", "outdoor"): "carbon monoxide outdoors",
    ("room", "personal"): "worn meter", ("spillage", "stopped_after"): "spilled for",
    ("draft.reading", "draft"): "draft", ("room.reading", "monoxide"): "carbon monoxide in the room",
    ("gas_supply.pressure", "pressure"): "gas pressure",
}  # fmt: skip
"""Short words of what is typed into a table, by table and key."""

ANSWERS: Mapping[tuple[str, str, str], str] = {
    ("room", "symptoms", "no"): "nobody feels unwell", ("room", "symptoms", "yes"): "somebody feels unwell",
    ("room.alarm", "sounded", "yes"): "the alarm had sounded",
    ("room.alarm", "tested", "yes"): "the alarm works when tested",
    ("room.alarm", "tested", "no"): "the alarm stayed silent when tested",
    ("gas_survey", "answer", "sound"): "no gas at joints and valve", ("gas_survey", "answer", "gas"): "gas",
}  # fmt: skip
"""Answers that say all of a line, by table, key and answer."""

BESIDE = ("place", "at", "with")
"""Keys that only say where."""


_VALUE = re.compile(
    r"([-+−<>~]?[\d.,/½¼¾]+(?:\.\.[\d.,]+)?)\s*(?!rising|falling|hunting|steady)[^\s\d]*(?:\s*w\.?c\.?)?(\s+(?:rising|falling|hunting|steady))?"
)


def value(text: str, unit: str) -> str:
    """A value as it was typed, its unit as it is printed; what is no plain figure stands as typed.

    text  as typed: 431F, 40..120 rising
    unit  as it was understood
    """
    found = _VALUE.fullmatch(text.strip())
    if found is None or unit in ("", "1"):
        return text
    return f"{found[1].replace('-', '−', 1)} {unit}{',' if found[2] else ''}{found[2] or ''}"


def line(table: str, typed: Mapping[str, object], units: Mapping[str, str]) -> str:
    """What was typed into a table, as a person says it; empty for what has no short words.

    table  its name
    typed  by key, as typed
    units  by key, as the values were understood
    """
    said = [words for key, text in typed.items() if (words := ANSWERS.get((table, key, str(text))))]
    where = ", ".join(str(typed[key]) for key in BESIDE if key in typed)
    for key, text in typed.items():
        known = TABLES.get((table, key))
        if known is not None:
            said.append(f"{known}{f', {where}' if where else ''} {value(str(text), units.get(key, ''))}")
    if table == "safety" and "seen" in typed:
        said.append(f"{str(typed.get('device', '')).replace('-', ' ')}: {typed['seen']}")
    if table == "house.line" and "answer" in typed:
        because = f", because {typed['because']}" if typed.get("because") else ""
        said.append(f"{str(typed.get('line', '')).replace('-', ' ')}: {typed['answer']}{because}")
    return "; ".join(said)


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
