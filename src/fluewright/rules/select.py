"""Which limits speak to an appliance: by quantity, fuel, output and day."""

import datetime
from collections.abc import Iterable

from fluewright.rules.schema import Limit


def _in_force(limit: Limit, day: datetime.date | None) -> bool:
    if day is None:
        return True
    begun = limit.valid_from is None or limit.valid_from <= day
    return begun and (limit.valid_until is None or day <= limit.valid_until)


def _of_output(limit: Limit, heat_output: float | None) -> bool:
    applies = limit.applies
    above, start, end = applies.output_above, applies.output_from, applies.output_to
    if heat_output is None:
        return (above, start, end) == (None, None, None)
    if applies.output_below is not None and heat_output >= applies.output_below:
        return False
    if above is not None and heat_output <= above:
        return False
    if start is not None and heat_output < start:
        return False
    return end is None or heat_output <= end


def applying(
    limits: Iterable[Limit],
    *,
    quantity: str,
    fuel: str | None = None,
    appliance: str | None = None,
    heat_output: float | None = None,
    day: datetime.date | None = None,
) -> tuple[Limit, ...]:
    """The limits that apply, in the order given.

    limits       of one book or several
    quantity     what is judged
    fuel         group, None when not known: then only limits for every fuel apply
    appliance    kind, None when not known
    heat_output  W nominal, None when not known: then limits with a band of output do not apply, those of a law that
                 only ends at a size do
    day          None for any
    -> limits whose conditions in `applies.only` a person still has to judge
    """
    found = []
    for limit in limits:
        fuels, kinds = limit.applies.fuels, limit.applies.appliances
        fits = limit.quantity == quantity and (not fuels or fuel in fuels) and (not kinds or appliance in kinds)
        if fits and _of_output(limit, heat_output) and _in_force(limit, day):
            found.append(limit)
    return tuple(found)
