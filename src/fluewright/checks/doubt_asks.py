"""Adapters for doubt: the examples of the GUM and of QUAM by uncertain numbers, and odds against a limit."""

import math
from collections.abc import Callable, Mapping
from typing import Any

from fluewright.checks import units
from fluewright.checks.rows import Row
from fluewright.kernel import dilution, dual, odds, ops, short_forms
from fluewright.kernel.dual import Correlations, Dual

DIVISORS: Mapping[str, float] = {"uniform": math.sqrt(3.0), "triangular": math.sqrt(6.0), "arcsine": math.sqrt(2.0)}
"""Half-width over standard uncertainty (JCGM 100:2008 4.3.7, 4.3.9; arcsine H.1.3.4)."""


def _uncertain(row: Row, name: str) -> Dual:
    """An input given as value with spread, or with half-width and distribution; spreads in the unit of the value."""
    given = row.inputs[name]
    value, unit = units.parted(given["value"])
    spread = given["half_width"] / DIVISORS[given["distribution"]] if "half_width" in given else given["spread"]
    per_unit = units.to_si(1.0, unit) - units.to_si(0.0, unit)
    return dual.uncertain(
        units.to_si(value, unit), spread=spread * per_unit, name=name, freedom=given.get("freedom", math.inf)
    )


def _gauge_length(row: Row) -> Dual:
    """GUM H.1: length of an end gauge by comparison with a standard."""
    standard = _uncertain(row, "standard length")
    difference = _uncertain(row, "mean difference") + _uncertain(row, "random") + _uncertain(row, "systematic")
    temperature = _uncertain(row, "mean temperature") + _uncertain(row, "cyclic temperature")
    expansion = _uncertain(row, "expansion difference") * temperature
    expansion = expansion + _uncertain(row, "expansion") * _uncertain(row, "temperature difference")
    return standard + difference - standard * expansion


def _gauge_share(row: Row) -> float:
    parts = {source.name: abs(part * source.spread) for source, part in _gauge_length(row).partials.items()}
    return float(parts[row.word("of")])


def _impedance(row: Row) -> tuple[dict[str, Dual], Correlations]:
    """GUM H.2: resistance, reactance and impedance from three correlated readings."""
    volt, ampere, phase = (_uncertain(row, name) for name in ("voltage", "current", "phase"))
    (v,), (i,), (p,) = (tuple(each.partials) for each in (volt, ampere, phase))
    correlations = {
        frozenset((v, i)): row.number("voltage with current"),
        frozenset((v, p)): row.number("voltage with phase"),
        frozenset((i, p)): row.number("current with phase"),
    }
    results = {"R": volt * ops.cos(phase) / ampere, "X": volt * ops.sin(phase) / ampere, "Z": volt / ampere}
    return results, correlations


def _impedance_value(row: Row) -> Any:
    return _impedance(row)[0][row.word("of")].value


def _impedance_spread(row: Row) -> Any:
    results, correlations = _impedance(row)
    return dual.spread(results[row.word("of")], correlations=correlations)


def _impedance_correlation(row: Row) -> Any:
    results, correlations = _impedance(row)
    return dual.correlation(results[row.word("of")], results[row.word("with")], correlations=correlations)


def _line(abscissae: list[float], ordinates: list[Any]) -> tuple[Any, Any]:
    """Intercept and slope of least squares; ordinates may be uncertain."""
    count = len(abscissae)
    mean = sum(abscissae) / count
    weights = [(x - mean) / sum((other - mean) ** 2 for other in abscissae) for x in abscissae]
    slope, level = 0.0 * ordinates[0], 0.0 * ordinates[0]
    for weight, ordinate in zip(weights, ordinates, strict=True):
        slope = slope + weight * ordinate
        level = level + ordinate / count
    return level - slope * mean, slope


def _calibration(row: Row) -> tuple[Dual, Dual, float]:
    """GUM H.3: a line through eleven thermometer corrections, each as uncertain as they scatter."""
    origin = float(row.plain("origin"))
    abscissae = [reading - origin for reading in row.inputs["readings"]]
    plain = [float(correction) for correction in row.inputs["corrections"]]
    intercept, slope = _line(abscissae, plain)
    left = [y - intercept - slope * x for x, y in zip(abscissae, plain, strict=True)]
    scatter = math.sqrt(sum(each * each for each in left) / (len(plain) - 2))
    doubtful = [dual.uncertain(y, spread=scatter, name=f"b{index}") for index, y in enumerate(plain)]
    return (*_line(abscissae, doubtful), scatter)


def _correction(row: Row) -> Dual:
    intercept, slope, _ = _calibration(row)
    return intercept + slope * (row.plain("at") - row.plain("origin"))


def _standard_solution(row: Row) -> Dual:
    """QUAM A1: concentration of a calibration standard."""
    volume = _uncertain(row, "flask") + _uncertain(row, "filling") + _uncertain(row, "temperature effect")
    return _uncertain(row, "mass") * _uncertain(row, "purity") / volume


def _corrected(row: Row) -> Dual:
    number = dilution.at_reference_oxygen(
        fraction=_uncertain(row, "measured"),
        oxygen_dry_fraction=_uncertain(row, "oxygen"),
        reference_oxygen_fraction=row.number("reference oxygen"),
        air_oxygen_fraction=row.number("air oxygen"),
    )
    return number if isinstance(number, Dual) else Dual(number, {})


def _siegert_spread(row: Row) -> Any:
    loss = short_forms.siegert_from_oxygen(
        group=row.word("group"),
        flue_temperature=_uncertain(row, "flue"),
        air_temperature=_uncertain(row, "air"),
        oxygen_dry_fraction=_uncertain(row, "oxygen"),
    )
    return dual.spread(loss)


def _odds(side: Callable[..., float]) -> Callable[[Row], float]:
    return lambda row: side(value=row.number("reading"), spread=row.number("spread"), limit=row.number("limit"))


ASKS: Mapping[str, Callable[[Row], Any]] = {
    "gauge_length": lambda row: _gauge_length(row).value,
    "gauge_spread": lambda row: dual.spread(_gauge_length(row)),
    "gauge_freedom": lambda row: dual.effective_freedom(_gauge_length(row)),
    "gauge_contribution": _gauge_share,
    "gauge_expanded": lambda row: dual.spread(_gauge_length(row)) * row.number("coverage"),
    "impedance": _impedance_value,
    "impedance_spread": _impedance_spread,
    "impedance_correlation": _impedance_correlation,
    "line_intercept": lambda row: _calibration(row)[0].value,
    "line_slope": lambda row: _calibration(row)[1].value,
    "line_intercept_spread": lambda row: dual.spread(_calibration(row)[0]),
    "line_slope_spread": lambda row: dual.spread(_calibration(row)[1]),
    "line_correlation": lambda row: dual.correlation(*_calibration(row)[:2]),
    "line_scatter": lambda row: _calibration(row)[2],
    "line_value": lambda row: _correction(row).value,
    "line_value_spread": lambda row: dual.spread(_correction(row)),
    "solution": lambda row: _standard_solution(row).value,
    "solution_spread": lambda row: dual.spread(_standard_solution(row)),
    "at_reference_oxygen_spread": lambda row: dual.spread(_corrected(row)),
    "siegert_spread": _siegert_spread,
    "odds_beyond": _odds(odds.beyond),
    "odds_below": _odds(odds.below),
}
