"""Adapters for appliance classes and sampling points."""

from collections.abc import Callable, Mapping
from typing import Any

from fluewright.checks.rows import Row
from fluewright.kernel import dilution, dual
from fluewright.kernel.dual import Dual, Source


def _air_free_doubt(row: Row) -> Any:
    """Standard uncertainty of carbon monoxide free of air, from that of a thinned reading."""
    fresh, oxygen, free = row.number("fresh air"), row.number("oxygen"), row.number("air-free")
    raw = free * (fresh - oxygen) / fresh
    spread = max(row.number("at least"), raw * row.number("relative"))
    return dual.spread(
        dilution.at_reference_oxygen(
            fraction=Dual(raw, {Source("carbon_monoxide_dry", spread): 1.0}),
            oxygen_dry_fraction=Dual(oxygen, {Source("oxygen_dry", row.number("of oxygen")): 1.0}),
            air_oxygen_fraction=fresh,
        )
    )


ASKS: Mapping[str, Callable[[Row], Any]] = {"air_free_doubt": _air_free_doubt}
