"""The table [gas_change]: another gas in the same burner, or a swing of the network's."""

from fluewright.evidence.gas_change import GasChange, swing_of
from fluewright.evidence.part import Measured
from fluewright.visit import fuel_of
from fluewright.visit.parts import gas_typed
from fluewright.visit.shape import Form
from fluewright.visit.source import Source

GROUPS = ("2h", "2e", "2l", "3b-p")
SWINGS = ("", "published", *GROUPS)

FORM = Form(tables={"gas_change": ("to", "to_composition", "swing", "air_ratio")})
"""Keys of the table about another gas."""


def read(file: Source) -> tuple[Measured, ...]:
    """The change, where the file has one."""
    table = file.table("gas_change")
    if not table:
        return ()
    place = "gas_change"
    swing = file.choice(place, table, "swing", SWINGS)
    air_ratio = gas_typed.figured(file, place, table, "air_ratio", "air_ratio")
    to = None
    if "to" in table or "to_composition" in table:
        name = file.text(place, table, "to") if "to" in table else None
        inline = file.text(place, table, "to_composition") if "to_composition" in table else None
        to = file.asked(place, lambda: fuel_of.chosen(name=name, inline=inline, file=None))
    elif not swing:
        _nothing(file, place, "neither a new gas nor a swing", "to, to_composition or swing")
        return ()
    now = file.asked("fuel", lambda: gas_typed.fuel_named(file))
    if now is None or any(one.kind != "gas" for one in (now, to) if one is not None):
        if now is not None:
            _nothing(file, place, "a fuel that is no gas", "a gas before and after")
        return ()
    band = swing_of("" if swing == "published" else swing, now) if swing else None
    if swing and band is None:
        _nothing(
            file, f"{place}, swing", f"swing = {swing!r}, and {now.name} has no published band", "2h, 2e, 2l, 3b-p"
        )
        return ()
    return (GasChange(to, band, air_ratio),)


def _nothing(file: Source, place: str, read: str, expected: str) -> None:
    file.gathered.add(
        code="FW-V-047",
        place=place,
        read=read,
        expected=expected,
        matters="there is no other gas to compare with",
        do="name the gas that may come, or the group of the network",
    )
