"""How likely the true value lies beyond a limit."""

import math

HALF = 0.5


def beyond(*, value: float, spread: float, limit: float) -> float:
    """Probability that the true value is above the limit.

    A reading close to its limit decides nothing; this says how little.

    value   as read or computed
    spread  standard uncertainty, above 0, same unit
    limit   same unit
    -> probability, 0..1

    Holds   normal distribution of the doubt
    Fails   one-sided doubt: use the spread of the side that faces the limit
    Source  normal distribution (JCGM 106:2012 7.2, from memory); practice P20, checks RED-ODDS
    """
    return HALF * math.erfc((limit - value) / (spread * math.sqrt(2.0)))


def below(*, value: float, spread: float, limit: float) -> float:
    """Probability that the true value is below the limit.

    value   as read or computed
    spread  standard uncertainty, above 0, same unit
    limit   same unit
    -> probability, 0..1

    Holds   normal distribution of the doubt
    Fails   as beyond
    Source  as beyond; checks RED-ODDS
    """
    return HALF * math.erfc((value - limit) / (spread * math.sqrt(2.0)))
