"""The flue gas behind one stretch of readings, from whichever gas was read, lean or rich."""

from fluewright.evidence.doubt import Origin
from fluewright.evidence.inputs import Taken
from fluewright.kernel import balance, ops
from fluewright.kernel.balance import FlueGas
from fluewright.kernel.ops import Number

RICH_CARBON_MONOXIDE = 0.002
"""mol/mol from which on the hydrogen that goes with carbon monoxide is reckoned with; below, doubt hides it."""

SHIFT_DOUBT = 1.0 / 3.0
"""Relative, of the hydrogen worked out by water-gas shift in a rich flame (holds: within a third)."""

WORDS = "hydrogen that goes with the carbon monoxide, not read"


def _balanced(taken: Taken, hydrogen: Number) -> FlueGas:
    fuel, air = taken.prepared.fuel, taken.prepared.air
    monoxide = taken.carbon_monoxide if taken.carbon_monoxide is not None and taken.has_carbon else 0.0
    if taken.oxygen is not None and taken.wet:
        return balance.from_wet_oxygen(
            fuel=fuel, air=air, oxygen_wet_fraction=taken.oxygen,
            carbon_monoxide_wet_fraction=monoxide, hydrogen_wet_fraction=hydrogen,
        )  # fmt: skip
    if taken.oxygen is not None:
        return balance.from_dry_oxygen(
            fuel=fuel, air=air, oxygen_dry_fraction=taken.oxygen,
            carbon_monoxide_dry_fraction=monoxide, hydrogen_dry_fraction=hydrogen,
        )  # fmt: skip
    if taken.wet:
        return balance.from_wet_carbon_dioxide(
            fuel=fuel, air=air, carbon_dioxide_wet_fraction=taken.carbon_dioxide,
            carbon_monoxide_wet_fraction=monoxide, hydrogen_wet_fraction=hydrogen,
        )  # fmt: skip
    return balance.from_dry_carbon_dioxide(
        fuel=fuel, air=air, carbon_dioxide_dry_fraction=taken.carbon_dioxide,
        carbon_monoxide_dry_fraction=monoxide, hydrogen_dry_fraction=hydrogen,
    )  # fmt: skip


def _shifted(taken: Taken) -> float:
    """Hydrogen on the basis of the sample that the water-gas shift gives, plain."""
    hydrogen: Number = 0.0
    for _ in range(40):
        flue = _balanced(taken, hydrogen)
        dry = balance.hydrogen_from_shift(flue=flue)
        hydrogen = float(ops.value_of(dry * (flue.dry / (flue.dry + flue.water)) if taken.wet else dry))
    return float(hydrogen)


def flue_gas(taken: Taken) -> tuple[FlueGas, float]:
    """The flue gas of a stretch, and the hydrogen worked out for it.

    Where carbon monoxide is high and no oxygen is left to burn it, hydrogen goes with it, and is counted with a third
    of doubt. Where oxygen is left it may or may not be there: then it only widens the doubt, on its own side.

    taken  readings as uncertain numbers
    -> flue gas, and hydrogen in mol/mol of the sample, 0 where it was not counted
    """
    plain = _balanced(taken, 0.0)
    monoxide = float(ops.value_of(taken.carbon_monoxide)) if taken.carbon_monoxide is not None else 0.0
    if monoxide < RICH_CARBON_MONOXIDE or not taken.has_carbon:
        return plain, 0.0
    hydrogen = _shifted(taken)
    rich = not balance.lean(flue=_balanced(taken, hydrogen))
    most = 1.0 / 3.0**0.5
    side = SHIFT_DOUBT * most
    origin = (
        Origin("share", WORDS, 1.0, side, side, "assumed")
        if rich
        else Origin("share", WORDS, 0.0, 0.0, most, "assumed")
    )
    counted = taken.ledger.number(origin) * hydrogen
    return _balanced(taken, counted), hydrogen if rich else 0.0
