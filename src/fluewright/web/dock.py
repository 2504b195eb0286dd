"""What stands at thumb height: the open line, the proposed next reading, the stretch and point that are chosen."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any
from urllib.parse import urlencode

from fluewright.errors import FluewrightError
from fluewright.evidence.reading import Account
from fluewright.record.fold import Current
from fluewright.record.shape import ID
from fluewright.report.pen import day_words
from fluewright.visit import adding, once, proposing, said
from fluewright.visit.plan import account_so_far, plan_of
from fluewright.visit.proposing import Ask, Known
from fluewright.visit.shorthand import understood
from fluewright.visit.shown import Seen
from fluewright.web.shop import Shop

PHASES = ("as found", "as left", "worst case")
RATES = ("low fire", "middle fire", "high fire")
WAYS = ("going up", "going down")
FUELS = ("on gas", "on oil")
"""Words of a stretch that are chosen by tap."""

HELD = ("stretch", "ask", "then", "at")
"""What is carried from page to page."""

EARLIER = 120
"""Readings of the appliance that are looked back on."""


@dataclass(frozen=True, slots=True)
class Open:
    """The open line: what stands in it, and what is chosen around it.

    line     as typed
    error    what is in its way
    kept     id under which the last line was sent
    stretch  word of the stretch that is chosen; empty for the one at hand
    ask      key of the proposal that is chosen
    then     key of the one to fall back on when that is answered
    at       sampling point that is chosen
    """

    line: str = ""
    error: FluewrightError | None = None
    kept: str = ""
    stretch: str = ""
    ask: str = ""
    then: str = ""
    at: str = ""

    def held(self, **more: str) -> dict[str, str]:
        """What is carried along, without what is empty."""
        found = {name: str(getattr(self, name)) for name in HELD} | more
        return {name: value for name, value in found.items() if value}


@dataclass(frozen=True, slots=True)
class Echo:
    """What the last line came to.

    line    id under which it was sent
    words   how it was understood
    at      hour and minute at which it was kept
    undone  whether it was struck out again
    """

    line: str
    words: str
    at: str
    undone: bool


def echo_of(entries: Sequence[Current], line: str) -> Echo | None:
    """What a line that was sent under an id came to; None when nothing was kept under it."""
    found = once.under(entries, line) if ID.fullmatch(line) else ()
    if not found:
        return None
    undone = not any(each.counts for each in found)
    return Echo(line, said.together(entries, found, short=True), found[0].read.entry.entered[11:16], undone)


def address(visit: str, opened: Open, **more: str) -> str:
    """The page of a visit with what is chosen on it."""
    query = urlencode(opened.held(**more))
    return f"/visit/{visit}" + (f"?{query}" if query else "")


def opened_from(fields: Mapping[str, str]) -> Open:
    """What a form or an address says of what is chosen."""
    stretch, ask, then, at = (fields.get(name, "").strip()[:200] for name in HELD)
    return Open(stretch=stretch, ask=ask, then=then, at=at)


def whole_line(fields: Mapping[str, str]) -> str:
    """The line that a form keeps: a tapped answer, a number as the proposal's, or what was typed.

    fields  of the form: line, or tap; before, after, unit and stated of the proposal; at, the chosen point
    -> as if all of it had been typed
    """
    if fields.get("tap"):
        return fields["tap"]
    unit = fields.get("unit", "")
    unit = "" if unit == fields.get("stated", "") else unit
    typed = fields.get("line", "")
    line = proposing.composed(fields.get("before", ""), fields.get("after", ""), unit, typed)
    return _at(line, fields.get("at", "")) if line == typed else line


def _at(line: str, point: str) -> str:
    """A line of readings with the chosen point, where it names none."""
    if not point:
        return line
    try:
        readings = understood(line, tables=adding.tables()).readings
    except FluewrightError:
        return line
    if not readings or any(each.point for each in readings):
        return line
    head, because, reason = line.partition(" because ")
    return f"{head} at {point}{because}{reason}"


def account_in(shop: Shop, visit: str, seen: Seen) -> Account | None:
    """The visit so far, also before anything was read; None where its entries do not hold together."""
    if seen.account is not None:
        return seen.account
    try:
        return account_so_far(shop.journal, visit)
    except FluewrightError:
        return None


def asks(shop: Shop, visit: str, seen: Seen, account: Account | None) -> tuple[Ask, ...]:
    """What is still to be read, in walking order; none where the entries do not hold together."""
    if account is None:
        return ()
    try:
        plan = plan_of(account, seen.verdict)
    except FluewrightError:
        return ()
    return proposing.proposed(plan, Known(account, seen.verdict, seen.entries, _earlier(shop, visit, seen.entries)))


def _earlier(shop: Shop, visit: str, entries: Sequence[Current]) -> dict[tuple[str, str], str]:
    """The last readings of this appliance on other visits, as typed, each with its day."""
    from fluewright.record.views import readings
    from fluewright.record.views.catching_up import looked_at

    opened = next((each.body for each in entries if each.read.entry.id == visit), {})
    several: Sequence[Any] = opened.get("appliances") or ()
    if len(several) != 1:
        return {}
    found: dict[tuple[str, str], str] = {}
    with looked_at(shop.journal.store) as connection:
        for row in readings.last(connection, str(several[0]), most=EARLIER):
            read = row._mapping
            if read["visit"] != visit:
                told = f"{read['typed']}, {_day(read['at'])}"
                found.setdefault((read["name"], read["point"]), told)
                found.setdefault((read["name"], ""), told)
    return found


def _day(moment: str) -> str:
    from datetime import date

    return day_words(date.fromisoformat(moment[:10])) if len(moment) >= 10 else ""


def chosen(all_asks: Sequence[Ask], opened: Open) -> tuple[Ask | None, Ask | None]:
    """The proposal at hand and the one after it."""
    if not all_asks:
        return None, None
    keys = [each.key for each in all_asks]
    ask = next((each for each in (opened.ask, opened.then) if each in keys), "")
    here = [each.key for each in all_asks if opened.at and each.after == f"at {opened.at}"]
    if not ask or (opened.at and here and ask not in here):
        ask = here[0] if here else ask or keys[0]
    index = keys.index(ask)
    return all_asks[index], all_asks[(index + 1) % len(keys)] if len(keys) > 1 else None


def stretch_of(entries: Sequence[Current], opened: Open) -> str:
    """What readings typed now will stand under."""
    if opened.stretch:
        return opened.stretch
    stepped = any(each.counts and each.read.entry.kind == "step" for each in entries)
    return adding.AFTER_STEP if stepped else adding.FIRST


def told(shop: Shop, visit: str, seen: Seen, account: Account | None, opened: Open) -> dict[str, Any]:
    """All that the template of the dock says."""
    still = asks(shop, visit, seen, account)
    ask, after = chosen(still, opened)
    opened = replace(opened, ask=ask.key if ask else "", then=after.key if after else "")
    words = [str(each.body["word"]) for each in seen.entries if each.counts and each.read.entry.kind == "stretch"]
    return {
        "ask": ask,
        "after": after,
        "still": still,
        "opened": opened,
        "held": opened.held(),
        "reasons": proposing.REASONS,
        "stretch": stretch_of(seen.entries, opened),
        "stretches": tuple(dict.fromkeys((*words, *PHASES))),
        "rates": RATES,
        "ways": WAYS,
        "fuels": FUELS if account is not None and account.appliance.kind == "dual-fuel" else (),
        "echo": echo_of(seen.entries, opened.kept),
        "line": opened.line,
    }
