"""Drawings of what is watched just now, in the same language as those of the sheet: plane, strip, flue."""

import math
from collections.abc import Mapping, Sequence
from dataclasses import replace
from datetime import UTC, datetime
from functools import lru_cache
from typing import Any

from fluewright.evidence.reading import Account
from fluewright.evidence.trace import measure
from fluewright.kernel import analysis
from fluewright.kernel.air import DRY_AIR
from fluewright.kernel.analysis import Prepared
from fluewright.live.aligned import air_free
from fluewright.quantity import show
from fluewright.report.drawing import Channel, Pin, Plane, PressureSection, Pull, Pulls, Strip, Window
from fluewright.report.pictures import CELL_FLOOR, decade_top, excess_ticks

POINTS = 120
"""Points of a live line that are drawn; more could not be told apart."""

WIDEST = 18.0
"""% of oxygen at the right edge of the plane at most: beyond it the burner does not burn."""

ZERO_DOUBT = 1.0
"""Pa, standard uncertainty of the zero of a gauge (practice P20: 1 to 2 Pa)."""

MINUTE = 60
"""Rows of the soft bar of a draft."""

LANES = ("carbon_monoxide_dry", "oxygen_dry")
"""What the strip shows first; the third lane is a draft where appliances share a flue, else the flue temperature."""

ROOM_ABOVE = {"carbon_monoxide_dry": 20e-6, "oxygen_dry": 0.01, "draft": 4.0, "flue_temperature": 10.0}
"""Least reach of a lane, canonical units, so that noise is not drawn as a storm."""


def path_of(points: Sequence[Sequence[float | None]]) -> tuple[tuple[float, float], ...]:
    """The line of the flame: (% oxygen, ppm air-free) from moments of aligned oxygen and carbon monoxide."""
    found = []
    for _, oxygen, monoxide in points[:: max(1, math.ceil(len(points) / POINTS))] or ():
        free = air_free(
            {"oxygen_dry": oxygen or 0.0, "carbon_monoxide_dry": math.nan if monoxide is None else monoxide}
        )
        if oxygen is not None and free is not None:
            found.append((100.0 * oxygen, 1e6 * free))
    return tuple(found)


@lru_cache(maxsize=16)
def _ticks(prepared: Prepared, limit: float) -> tuple[tuple[float, float], ...]:
    return excess_ticks(prepared, limit)


def plane(
    account: Account, before: Plane | None, window: Window | None, points: Sequence[Sequence[float | None]], words: str
) -> Plane | None:
    """The plane with what was kept, and the live line.

    account  the visit, for its fuel
    before   the plane of its sheet; None where nothing of the flame was kept yet
    window   that the books ask for; None where none is stated
    points   moments of the watch: s, oxygen, carbon monoxide
    words    beside the end of the line
    -> plane; None for a fuel that is judged by smoke, and where nothing was kept and nothing is read
    """
    live = path_of(points)
    if (before is not None and before.smoke) or (before is None and not live):
        return None
    widest = max([0.0, *(oxygen for oxygen, _ in live)])
    limit = min(WIDEST, max(before.oxygen_limit if before else 11.0, 2.0 * math.ceil(widest / 2.0)))
    top = decade_top(least=max([2000.0, before.co_limit if before else 0.0, *(1.2 * ppm for _, ppm in live)]))
    made = before or Plane((), cell_floor_ppm=CELL_FLOOR)
    if before is None or limit != before.oxygen_limit:
        prepared = analysis.prepare(fuel=account.fuel.fuel, air=DRY_AIR)
        made = replace(made, excess_air_ticks=_ticks(prepared, limit), oxygen_limit=limit)
    return replace(made, window=made.window or window, co_limit=top, live=live, live_words=words)


def _lanes(channels: Sequence[Mapping[str, Any]], adjusting: str) -> list[int]:
    """The three channels of the strip."""
    own = {each["quantity"]: place for place, each in enumerate(channels) if each["appliance"] == adjusting}
    others = [place for place, each in enumerate(channels) if each["quantity"] == "draft"
              and each["appliance"] != adjusting]  # fmt: skip
    third = [place for place in (*others, own.get("flue_temperature"), own.get("draft")) if place is not None]
    found = [own[name] for name in LANES if name in own] + third
    return list(dict.fromkeys([*found, *own.values(), *range(len(channels))]))[:3]


def _lane(channel: Mapping[str, Any], times: Sequence[float], column: Sequence[float | None], system: show.System,
          ) -> Channel:  # fmt: skip
    unit, scale, offset = measure.display(channel["quantity"], system)
    known = [value for value in column if value is not None]
    low, high = min(known), max(known)
    least = ROOM_ABOVE.get(channel["quantity"], 0.1 * abs(high) or 1.0)
    middle, reach = 0.5 * (low + high), max(0.6 * (high - low), 0.5 * least)
    floor = 0.0 if channel["quantity"] in LANES and low >= 0.0 and middle - reach < 0.0 else middle - reach
    values = [None if value is None else value * scale + offset for value in column]
    words = channel["words"].partition(" at ")[0]
    name = f"{words}, {channel['appliance']}" if channel["quantity"] == "draft" and channel["appliance"] else words
    said = show.shown(known[-1], quantity=channel["quantity"], system=system).split("\N{NARROW NO-BREAK SPACE}")[0]
    return Channel(name, unit, times, values, floor * scale + offset, (middle + reach) * scale + offset, live=True,
                   said=said)  # fmt: skip


def strip(frame: Mapping[str, Any], adjusting: str, system: show.System) -> Strip | None:
    """The last minutes of at most three channels, with what was done; None where nothing was read."""
    at, rows = frame["strip"]["at"], frame["strip"]["values"]
    if len(at) < 2:
        return None
    zero = at[0]
    times = [moment - zero for moment in at]
    channels = frame["channels"]
    lanes = []
    for place in _lanes(channels, adjusting):
        column = [row[place] if place < len(row) else None for row in rows]
        if any(value is not None for value in column):
            lanes.append(_lane(channels[place], times, column, system))
    since = [each["since"] for each in frame["steady"].get(adjusting, ())]
    held = bool(since) and all(each["holds"] for each in frame["steady"][adjusting]) and None not in since
    begun = max(max(since) - zero, 0.0) if held else 0.0
    stretches = ((begun, times[-1], f"{at[-1] - max(since):.0f} s"),) if held else ()
    steps = tuple((mark["at"] - zero, mark["word"]) for mark in frame["marks"] if mark["at"] >= zero)
    return Strip(tuple(lanes), stretches, steps, datetime.fromtimestamp(zero, UTC).astimezone()) if lanes else None


def pulls(frame: Mapping[str, Any], system: show.System) -> Pulls | None:
    """The drafts of all appliances of the flue; None where there is one appliance only."""
    if not frame["flue"]:
        return None
    unit, scale, _ = measure.display("draft", system)
    found = []
    for one in frame["flue"]:
        places = [place for place, each in enumerate(frame["channels"])
                  if each["quantity"] == "draft" and each["appliance"] == one["appliance"]]  # fmt: skip
        rows = frame["strip"]["values"][-MINUTE:]
        last = [row[place] for row in rows for place in places if place < len(row) and row[place] is not None]
        now = one["draft"]
        said = "" if now is None else show.shown(now, quantity="draft", system=system)
        least, most = min(last, default=now or 0.0), max(last, default=now or 0.0)
        found.append(Pull(one["appliance"], now, least, most, said, one["words"]))
    return Pulls(tuple(found), unit, 1.0 / scale)


def section(before: PressureSection, frame: Mapping[str, Any]) -> PressureSection:
    """The pressure section of the sheet with the drafts of this moment pinned on it instead of those that were kept."""
    drafts = {one["appliance"]: one["draft"] for one in frame["flue"] if one["draft"] is not None}
    (low, at_low), (high, at_high) = before.cases[0].room
    pins = []
    for firing in before.firings:
        if firing.words in drafts:
            share = (firing.outlet - low) / ((high - low) or 1.0)
            room = at_low + (at_high - at_low) * share
            pins.append(Pin(firing.outlet, room + drafts[firing.words], ZERO_DOUBT, f"{firing.words}, now"))
    return replace(before, pins=tuple(pins))
