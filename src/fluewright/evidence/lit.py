"""How long the burner had been lit when something was read, and what that does to the reading."""

import re
from dataclasses import dataclass

from fluewright.evidence.finding import Finding, unsettled
from fluewright.evidence.reading import Account, Event, Stretch

DAY = 86_400.0
"""s."""
_CLOCK = re.compile(r"([01]?\d|2[0-3]):([0-5]\d)(?::([0-5]\d))?")
FLUE = ("undiluted", "diluted")
"""Kinds of point whose gas is that of a burner."""


def moment(text: str) -> float | None:
    """A time of day as typed, in seconds after midnight; None where it is no time of day."""
    found = _CLOCK.fullmatch(text.strip())
    if found is None:
        return None
    return int(found[1]) * 3600.0 + int(found[2]) * 60.0 + int(found[3] or 0)


@dataclass(frozen=True, slots=True)
class Burning:
    """The burner at one moment.

    seconds  since it was lit, None when it was not burning or nobody has said
    off      whether it had been shut off, or was not lit yet
    running  fans that ran, in words
    """

    seconds: float | None
    off: bool
    running: tuple[str, ...] = ()

    @property
    def words(self) -> str:
        """As a person says it; empty where nothing is known."""
        if self.off:
            return "burner off"
        if self.seconds is None:
            return ""
        return ", ".join((f"{self.seconds / 60.0:.0f} min after lighting", *self.running))


UNKNOWN = Burning(None, False)


def _since(first: float, time: float) -> float:
    """Seconds from the first event on; a time half a day earlier is on the next day."""
    passed = time - first
    return passed + DAY if passed < -DAY / 2.0 else passed


def burning_at(events: tuple[Event, ...], time: str) -> Burning:
    """The burner at a time of day.

    events  in order of time
    time    as typed
    -> what is known; nothing where there are no events or the time is no time of day
    """
    at, first = moment(time), moment(events[0].time) if events else None
    if at is None or first is None:
        return UNKNOWN
    now = _since(first, at)
    lit: float | None = None
    running: dict[str, None] = {}
    said = False
    for event in events:
        begun = _since(first, moment(event.time) or 0.0)
        said = said or event.word in ("lit", "off", "pilot only")
        if begun > now:
            continue
        if event.word in ("lit", "off", "pilot only"):
            lit = begun if event.word == "lit" else None
        elif event.word.endswith(" on"):
            running[event.word] = None
        else:
            running.pop(event.word.replace(" off", " on"), None)
    if not said:
        return Burning(None, False, tuple(running))
    return Burning(None if lit is None else now - lit, lit is None, tuple(running))


def burning(stretch: Stretch, account: Account) -> Burning:
    """The burner while a stretch was read: by the events, or by the minutes typed with it."""
    typed = stretch.readings.get("minutes_since_lit")
    if typed is not None and typed.figure is not None:
        return Burning(typed.figure, False)
    return burning_at(account.events, stretch.time)


UNSAID = "the flue, point not said"
"""Name of the point of a stretch, of an appliance whose points are known, when nobody wrote one."""


def doubts(stretch: Stretch, account: Account) -> tuple[Finding, ...]:
    """Flue gas read from a burner that was off, or that had not burned long enough for its class."""
    state = burning(stretch, account)
    if stretch.point.kind not in FLUE:
        return ()
    head, names = stretch.word.capitalize(), tuple(stretch.readings)[:1]
    if stretch.point.name == UNSAID:
        lead = f"{head}: nobody has said where it was read."
        body = "Points of this kind of appliance differ: at some of them room air is in the gas. It can raise an alarm."
        return (unsettled("point-unsaid", stretch, lead, body, *names),)
    if state.off:
        body = "By the events of this visit nothing burned then. What was read is no flue gas of a flame."
        lead = f"{head}: the burner was off when this was read."
        return (unsettled("burner-off", stretch, lead, body, *names),)
    of_class = account.appliance.of_class
    if of_class is None or state.seconds is None or state.seconds >= of_class.warm * 60.0:
        return ()
    lead = f"{head}: read {state.words}, before it was warm."
    body = (
        f"Lines of this kind of appliance are read {of_class.warm:g} min after lighting or later (common practice, no "
        "source). What was read before can raise an alarm and clears nothing."
    )
    return (unsettled("too-soon", stretch, lead, body, *names),)
