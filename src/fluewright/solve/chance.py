"""How likely a disagreement of this size is by chance alone."""

import math


def beyond(chi_square: float, *, freedom: int) -> float:
    """Odds that chance alone makes a sum of squares this large or larger.

    chi_square  sum of squares, each in units of its standard uncertainty
    freedom     how many independent contradictions were possible, 0 or more
    -> odds, 0..1; 1 where nothing could contradict

    Source  chi-square distribution, series for whole degrees of freedom; checks DEL-CHI-1 to DEL-CHI-3
    """
    if freedom <= 0 or chi_square <= 0.0:
        return 1.0
    half = chi_square / 2.0
    if freedom % 2:
        total, term, start = math.erfc(math.sqrt(half)), math.exp(-half) * math.sqrt(half / math.pi) * 2.0, 1.5
    else:
        total = term = math.exp(-half)
        start = 1.0
        term *= half
    for step in range((freedom - 1) // 2):
        total += term
        term *= half / (start + step + (0.0 if freedom % 2 else 1.0))
    return min(1.0, total)


def critical_largest(*, count: int, odds: float = 0.05) -> float:
    """What the largest of several standardised residuals stays below but for these odds, when all readings are sound.

    count  how many residuals there are
    odds   of a false alarm over all of them together
    -> units of standard uncertainty

    Source  independent normal residuals (Sidak); cautious where they hang together; check DEL-CRIT-1
    """
    from statistics import NormalDist  # it loads much that a start without it need not wait for

    single = 1.0 - (1.0 - odds) ** (1.0 / max(1, count))
    return NormalDist().inv_cdf(1.0 - single / 2.0)
