"""The page that is watched while adjusting: its parts, each drawn anew from one moment of what is watched."""

from collections import OrderedDict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from datetime import UTC, datetime
from math import log10
from threading import Lock
from typing import TYPE_CHECKING, Any

from markupsafe import Markup

from fluewright.errors import FluewrightError
from fluewright.evidence import judge
from fluewright.evidence.part import Part
from fluewright.evidence.reading import Account
from fluewright.quantity import show
from fluewright.report import html_parts, sheet
from fluewright.report.drawing import Drawing, Plane, PressureSection, Window, svg, twin
from fluewright.report.tree import Sheet, Stop
from fluewright.visit import shown, while_live, work
from fluewright.web import dock
from fluewright.web.shop import Shop

if TYPE_CHECKING:
    from fluewright.live.watching import Now, Watching

PARTS = ("stops", "lead", "plane", "flue", "steps", "strip", "ages", "events")
"""Parts of the page that are drawn anew, each by itself, where it changed."""

ROWS = 300
"""Rows of the strip: five minutes."""

NARROW, WIDE = 300, 900
"""px that a drawing may be wide."""

EVENTS = 8
"""Events that stand on the page; all are told as they arise."""

REMEMBERED = 8
"""Visits whose sheet is kept in mind while they are watched."""


@dataclass(frozen=True, slots=True)
class Known:
    """What a visit says of itself while it is watched; worked out again when an entry is added.

    account   None where its entries do not hold together
    plane     of its sheet, None where nothing of the flame was kept yet
    section   of its sheet, None where no flue was worked out
    window    that the books ask for, None where they state none
    parts     what was worked out beside the flame
    """

    sheet: Sheet
    account: Account | None
    plane: Plane | None
    section: PressureSection | None
    window: Window | None
    parts: tuple[Part, ...]

    @property
    def system(self) -> show.System:
        """Units of the visit."""
        return self.account.system if self.account is not None else "us"


@dataclass(slots=True)
class Memory:
    """The sheets of the visits that are watched, by how many entries they had."""

    held: OrderedDict[tuple[str, int], Known] = field(default_factory=OrderedDict)
    turn: Lock = field(default_factory=Lock)

    def of(self, shop: Shop, visit: str) -> Known:
        """What a visit says of itself now."""
        key = (visit, len(shop.journal.of_subject(visit)))
        with self.turn:
            if key not in self.held:
                self.held[key] = _known(shop, visit)
                while len(self.held) > REMEMBERED:
                    self.held.popitem(last=False)
            return self.held[key]


def _known(shop: Shop, visit: str) -> Known:
    seen = shown.seen(shop.journal, visit, books=shop.settings.books)
    drawn = [figure.data for figure in seen.sheet.figures]
    account = dock.account_in(shop, visit, seen)
    try:
        air = judge.window_of(account) if account is not None else None
    except FluewrightError:
        air = None
    return Known(
        seen.sheet,
        account,
        next((each for each in drawn if isinstance(each, Plane)), None),
        next((each for each in drawn if isinstance(each, PressureSection)), None),
        sheet.window_drawn(air, work.PLANE_CARBON_MONOXIDE),
        tuple(seen.verdict.parts) if seen.verdict is not None else (),
    )


@dataclass(frozen=True, slots=True)
class Look:
    """How one page looks on.

    visit      its id
    adjusting  word of the appliance that is adjusted
    widths     px of plane, strip and flue; none where it does not say, and then each is drawn twice
    mark       of its forms
    """

    visit: str
    adjusting: str
    widths: tuple[int, ...] = ()
    mark: str = ""


def adjusting_of(live: "Watching", asked: str) -> str:
    """The appliance that is adjusted: the one asked for, else the first from which oxygen comes, else the first."""
    if asked in live.appliances:
        return asked
    burning = [one.mapping.appliance for one in live.hub.streams.values()
               if any(channel.quantity.startswith("oxygen") for channel in one.mapping.channels)]  # fmt: skip
    return next(iter((*burning, *live.appliances)), "")


def clock_words(at: float) -> str:
    """A moment by the local clock, to the second."""
    return f"{datetime.fromtimestamp(at, UTC).astimezone():%H:%M:%S}"


def told(shop: Shop, live: "Watching", known: Known, look: Look, now: "Now") -> dict[str, Any]:
    """All that the parts say at one moment."""
    from fluewright.report import live_picture

    frame, system, word = now.frame, known.system, look.adjusting
    silent = [age for age in now.ages if age.silent]
    held, sentence = steady_words(frame, word)
    own = _values(frame, word)
    place, edge = _place(own, frame["air_free"].get(word), known.window)
    pulls = live_picture.pulls(frame, system)
    plane = None
    if known.account is not None:
        drawn = known.plane or None
        points = frame["plane"].get(word, ())
        plane = live_picture.plane(known.account, drawn, known.window, points, f"now, {held}" if held else "now")
    strip = live_picture.strip(frame, word, system)
    section = live_picture.section(known.section, frame) if known.section is not None and frame["flue"] else None
    plane_wide, strip_wide, flue_wide = look.widths or (0, 0, 0)
    then = while_live.foreseen(known.parts)
    got, waited = while_live.after_step(live, frame, word, then, system)
    return {
        "visit": look.visit, "mark": look.mark, "adjusting": word, "place": place, "held": held, "steady": sentence,
        "values": values_words(frame, word, system), "edge": edge,
        "stops": [(event.number, Markup(html_parts.stop(_stop(event)))) for event in now.stops],
        "plane": _drawn(plane, plane_wide), "plane_words": known.window.citation if known.window else "",
        "strip": _drawn(strip, strip_wide), "pulls": _drawn(pulls, flue_wide), "section": _drawn(section, flue_wide),
        "silent": bool(silent), "ages": [_age(age, now.at) for age in now.ages], "flue": frame["flue"],
        "events": [_event(each) for each in frame["events"][:EVENTS]],
        "knots": twin(known.plane).rows[: len(known.plane.knots)] if known.plane else (),
        "got": got, "waited": waited, "late": frame["late"],
    }  # fmt: skip


def parts(shop: Shop, said: Mapping[str, Any]) -> dict[str, str]:
    """Each part of the page as HTML."""
    template = shop.templates.get_template("watched.html")
    return {name: template.render({**said, "part": name}).strip() for name in PARTS}


def _drawn(data: Drawing | None, width: int) -> Markup:
    """A drawing for the width of the page; for a wide and a narrow one where it does not say."""
    if data is None:
        return Markup("")
    if width:
        return Markup(svg(data, width=float(min(max(width, NARROW), WIDE)), alone=False))
    both = "".join(
        f'<div class="{name}">{svg(data, width=px, alone=False)}</div>'
        for name, px in (("wide", 700.0), ("narrow", 342.0))
    )
    return Markup(both)


def _stop(event: Any) -> Stop:
    do = tuple(dict.fromkeys((*event.cautions, *event.do_now)))
    return Stop(while_live.order_of(event), event.lead, do, event.why)


def _event(each: Mapping[str, Any]) -> dict[str, Any]:
    return {**each, "time": clock_words(each["start"]), "number": each["number"]}


def _age(age: Any, now: float) -> dict[str, Any]:
    since = "" if age.last is None else clock_words(age.last)
    return {"words": age.words, "source": age.source, "since": since, "silent": age.silent, "trust": age.trust,
            "why": age.why, "heard": age.last is not None}  # fmt: skip


def steady_words(frame: Mapping[str, Any], appliance: str) -> tuple[str, str]:
    """What is steady and what is missing.

    -> "steady 38 s" where all of it holds, else empty; and one sentence
    """
    standings: Sequence[Mapping[str, Any]] = frame["steady"].get(appliance, ())
    if not standings:
        return "", "Nothing is known of steadiness yet: no reading has come."
    holding = [each for each in standings if each["holds"]]
    since = [each["since"] for each in holding if each["since"] is not None]
    lasts = f"{max(frame['now'] - max(since), 0.0):.0f} s" if since else ""
    if len(holding) == len(standings):
        kinds = " and ".join(each["kind"] for each in standings)
        return f"steady {lasts}".strip(), f"{kinds[:1].upper()}{kinds[1:]} for {lasts}."
    said = [f"{each['kind']} for {frame['now'] - each['since']:.0f} s" for each in holding if each["since"] is not None]
    for each in standings:
        if not each["holds"]:
            missing = f": {each['missing']}" if each["missing"] else ""
            said.append(f"{NOT_YET[each['kind']]}{missing} ({each['why']})")
    words = "; ".join(said)
    return "", f"{words[:1].upper()}{words[1:]}."


NOT_YET = {
    "instrument settled": "the instrument has not settled yet",
    "appliance steady": "the appliance is not steady yet",
    "as the rule says": "not yet as the rule says",
}

ORDER = ("flue_temperature", "draft", "carbon_monoxide_room")
"""What the sentence says behind the flame, in the order of the argument and not of an instrument's cells."""


def _values(frame: Mapping[str, Any], appliance: str) -> dict[str, Mapping[str, Any]]:
    found: dict[str, Mapping[str, Any]] = {}
    for each in frame["channels"]:
        if each["appliance"] == appliance and each["value"] is not None:
            found.setdefault(each["quantity"], each)
    return found


def values_words(frame: Mapping[str, Any], appliance: str, system: show.System) -> str:
    """The present in one sentence: carbon monoxide free of air first, the oxygen that it stands at, then the rest."""
    own, free = _values(frame, appliance), frame["air_free"].get(appliance)

    def said(name: str) -> str:
        bound = f"{own[name]['bound']} " if own[name]["bound"] else ""
        return bound + show.shown(own[name]["value"], quantity=name, system=system)

    words = []
    if free is not None:
        words.append(f"carbon monoxide {show.shown(free, quantity='carbon_monoxide_air_free', system=system)} air-free")
    if "carbon_monoxide_dry" in own:
        read = said("carbon_monoxide_dry")
        words.append(f"{read} as read" if words else f"carbon monoxide {read}")
    if "oxygen_dry" in own:
        words.append(f"oxygen {said('oxygen_dry')}")
    words += [f"{own[name]['words'].partition(' at ')[0]} {said(name)}" for name in ORDER if name in own]
    text = ", ".join(words)
    return f"{text[:1].upper()}{text[1:]}." if text else ""


def _place(own: Mapping[str, Any], free: float | None, window: Window | None) -> tuple[str, float | None]:
    """Where the flame stands in the window, and how far from its edge: 1 in the middle, below 0 outside."""
    if window is None or "oxygen_dry" not in own or free is None:
        return "", None
    oxygen, ppm = 100.0 * own["oxygen_dry"]["value"], max(1e6 * free, 1.0)
    half = 0.5 * (window.high - window.low)
    across = min(oxygen - window.low, window.high - oxygen) / half
    up = log10(window.carbon_monoxide / ppm)
    edge = min(across, up, 1.0)
    where = "inside the window" if edge >= 0.0 else "outside the window"
    beyond = "too little air" if oxygen < window.low else "more air than it asks for" if oxygen > window.high else ""
    over = f"over {window.carbon_monoxide:g} ppm air-free" if up < 0.0 else ""
    why = ", ".join(part for part in (beyond, over) if part)
    return f"{where}: {why}" if why else where, round(edge, 3)
