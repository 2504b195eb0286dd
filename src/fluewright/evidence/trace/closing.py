"""What would close the gap between measured and computed dry carbon dioxide: a gas, an oxygen offset, or a gain."""

import math
from collections.abc import Sequence

from fluewright.evidence.trace.compare import Agreement, Row
from fluewright.evidence.trace.survey import quantiles_of
from fluewright.kernel import fuel as fuels
from fluewright.kernel.analysis import Prepared

NATURAL_GAS = (0.115, 0.122)
"""Highest dry CO2 of natural gases that are sold: nearly pure methane 11.7 %, methane with a tenth of ethane 12.0 %,
a little propane beside it 12.2 %, with nitrogen or hydrogen down to 11.5 % (computed by this kernel)."""


AIR_OXYGEN = 0.2095
"""Share of oxygen in dry air (reference atmosphere)."""


def most_carbon_dioxide(rows: Sequence[Row], prepared: Prepared) -> float:
    """The highest dry CO2 that the measured oxygen and carbon dioxide themselves point to.

    On one fuel, CO2 falls on a straight line from its maximum at no oxygen to nothing in fresh air: each row gives
    CO2 / (1 - O2 / O2 of air); the median is kept.

    rows      burning rows with both gases
    prepared  for the oxygen of the air
    -> mol/mol dry, nan without such rows

    Holds   complete combustion, undiluted or diluted alike
    Fails   near fresh air, where both differences vanish: rows above 15 % oxygen are left out
    Source  straight line of the dry balance (Ostwald diagram, common practice)
    """
    air = prepared.air.oxygen
    points = [
        row.values["carbon_dioxide_dry"] / (1.0 - row.values["oxygen_dry"] / air)
        for row in rows
        if row.values.get("oxygen_dry", math.nan) < 0.15 and row.values.get("carbon_dioxide_dry", math.nan) > 0.0
    ]
    return quantiles_of(points, (0.5,))[0]


def ethane_share(*, carbon_dioxide_dry_max: float, prepared: Prepared) -> float | None:
    """Share of ethane in methane whose highest dry CO2 is this, None when no mixture of the two reaches it."""

    def most(share: float) -> float:
        mixed = fuels.gas(name="methane and ethane", mole_fractions={"CH4": 1.0 - share, "C2H6": share})
        return float(fuels.stoichiometry(fuel=mixed, air=prepared.air).carbon_dioxide_dry_max)

    low, high = 0.0, 1.0
    if not most(low) <= carbon_dioxide_dry_max <= most(high):
        return None
    for _ in range(50):
        middle = (low + high) / 2.0
        low, high = (middle, high) if most(middle) < carbon_dioxide_dry_max else (low, middle)
    return (low + high) / 2.0


def closing(rows: Sequence[Row], agreement: Agreement, prepared: Prepared) -> tuple[str, ...]:
    """Each way to close the median gap, in sentences, with what speaks for or against it.

    rows       burning rows
    agreement  of carbon_dioxide_dry
    prepared   the fuel that was assumed
    -> sentences
    """
    gap, assumed = agreement.spread.median, float(prepared.need.carbon_dioxide_dry_max)
    needed = most_carbon_dioxide(rows, prepared)
    slope = assumed / prepared.air.oxygen
    return (
        f"measured carbon dioxide is {100.0 * abs(gap):.2f} points {'above' if gap > 0 else 'below'} what oxygen and "
        f"{prepared.fuel.name} give, in the median",
        f"gas alone: a highest dry CO2 of {100.0 * needed:.2f} % instead of {100.0 * assumed:.2f} %, "
        + _gas(needed, prepared),
        f"oxygen sensor alone: it reads {100.0 * abs(gap) / slope:.2f} points too {'high' if gap > 0 else 'low'}",
        f"carbon dioxide sensor alone: it reads {100.0 * abs(gap) / (agreement.measured - gap):.1f} % of its "
        f"reading too {'high' if gap > 0 else 'low'}",
        _walking(agreement, slope),
    )


def _gas(needed: float, prepared: Prepared) -> str:
    share = ethane_share(carbon_dioxide_dry_max=needed, prepared=prepared)
    low, high = NATURAL_GAS
    standing = "within" if low <= needed <= high else "outside"
    words = f"{standing} the range of natural gases ({100.0 * low:.1f} to {100.0 * high:.1f} %)"
    if share is None:
        return f"which no mixture of methane and ethane has; {words}"
    return f"such as methane with {100.0 * share:.0f} % ethane; {words}"


def _walking(agreement: Agreement, slope: float) -> str:
    medians = [spread.median for _, spread in agreement.months if spread.count >= 20]
    if len(medians) < 2:
        return "one stretch of time alone cannot tell these apart"
    reach = max(medians) - min(medians)
    if reach < 0.002:
        return "the gap stays the same over time: a gas or a fixed offset, not a drift"
    wander = reach / (1.0 - agreement.oxygen / AIR_OXYGEN)
    breadth = NATURAL_GAS[1] - NATURAL_GAS[0]
    verdict = (
        "more than natural gases differ, so a sensor moved" if wander > breadth else "no more than natural gases differ"
    )
    return (
        f"the median gap moves by {100.0 * reach:.2f} points over the trace; as a gas its highest dry CO2 would wander "
        f"by {100.0 * wander:.1f} points ({verdict}: {100.0 * breadth:.1f}); as an oxygen sensor it is "
        f"{100.0 * reach / slope:.1f} points of drift"
    )
