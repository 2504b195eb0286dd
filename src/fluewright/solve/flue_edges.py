"""At what pressure of the room a flue begins to spill, and from where up a cold one begins to draw."""

from functools import lru_cache

from fluewright.solve.flue_balance import balanced, cold_flows
from fluewright.solve.flue_network import Found, Network, with_room_at

REMEMBERED = 256
"""Edges that are kept, for sheets that are looked at again."""


def _at(network: Network, words: str, at_floor: float, near: Found | None = None) -> tuple[float, Found]:
    """What an opening draws in, kg/s; for an appliance without one how far its outlet lies below the room, Pa."""
    found = balanced(with_room_at(network, at_floor), near=near)
    one = next(one for one in found.appliances if one.words == words)
    shut = next(hung.opening <= 0.0 for hung in network.attached if hung.words == words)
    return (-one.against_room if shut else one.diluting), found


def drawn_at(network: Network, words: str, at_floor: float) -> float:
    """What an opening draws in, kg/s, with that pressure in the room; below 0 it spills."""
    return _at(network, words, at_floor)[0]


def spills_at(network: Network, words: str, at_floor: float) -> bool:
    """Whether an appliance on a warm flue would spill with that pressure in the room."""
    return drawn_at(network, words, at_floor) < 0.0


@lru_cache(maxsize=REMEMBERED)
def spills_below(network: Network, words: str, *, least: float = -60.0, most: float = 30.0) -> float | None:
    """Pressure of the room, at the floor against outdoors, below which an appliance spills.

    The room is let down from where it stands in steps that follow the warm flue from state to state, then halved.

    network  as it stands
    words    of the appliance
    least    Pa, how far down it is looked for
    most     Pa, how far up
    -> Pa, within 0.01; None where it does not spill down to the least; the most where it spills even there
    """
    high = network.around.at_floor
    drawn, state = _at(network, words, high)
    step = 1.0
    while drawn < 0.0:
        if high >= most:
            return most
        high, step = min(high + step, most), 1.5 * step
        drawn, state = _at(network, words, high)
    low, step = high, 0.5
    while True:
        if low <= least:
            return None
        low, step = max(high - step, least), min(1.3 * step, 4.0)
        drawn, found = _at(network, words, low, state)
        if drawn < 0.0:
            break
        high, state = low, found
    while high - low > 0.01:
        middle = 0.5 * (low + high)
        drawn, found = _at(network, words, middle, state)
        if drawn < 0.0:
            low = middle
        else:
            high, state = middle, found
    return high


def starts(network: Network) -> bool:
    """Whether a flue in which nothing burned begins to draw when the fires are lit, and nothing spills."""
    return all(
        one.diluting >= 0.0
        for one, hung in zip(balanced(network, cold=True).appliances, network.attached, strict=True)
        if hung.burnt.flow > 0.0
    )


@lru_cache(maxsize=REMEMBERED)
def starts_above(network: Network, *, least: float = -40.0, most: float = 20.0) -> float | None:
    """Pressure of the room, at the floor against outdoors, above which a cold flue begins to draw once lit.

    network  as it stands
    least    Pa, how far down it is looked for
    most     Pa, how far up
    -> Pa, within 0.01; None where it draws even at the least; the most where it does not even there
    """
    if starts(with_room_at(network, least)):
        return None
    low, high = least, most
    while high - low > 0.01:
        middle = 0.5 * (low + high)
        low, high = (low, middle) if starts(with_room_at(network, middle)) else (middle, high)
    return high


def risen(network: Network, at_floor: float, *, burning: bool) -> float:
    """kg/s at the top of a cold flue with that pressure in the room, the fires lit or not; below 0 it falls."""
    there = with_room_at(network, at_floor)
    return balanced(there, cold=True).flue[-1].flow if burning else sum(cold_flows(there))
