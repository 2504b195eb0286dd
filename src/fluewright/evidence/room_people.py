"""People first: who feels unwell, which alarms there are and what their silence proves."""

from dataclasses import dataclass
from datetime import date
from typing import Literal

from fluewright.evidence.finding import PRACTICE, Finding, clause_of
from fluewright.evidence.limits import CAUTION, canonical
from fluewright.evidence.part import Statement, Voiced
from fluewright.evidence.reading import Account
from fluewright.quantity import show
from fluewright.rules.schema import Limit
from fluewright.rules.shop import Shop

Symptoms = Literal["not asked", "no", "yes"]
Said = Literal["", "yes", "no"]
Standard = Literal["", "UL 2034", "EN 50291-1"]

POINTS = {
    "UL 2034": ("ul2034-first-point", "ul2034-70-by"),
    "EN 50291-1": ("en50291-first-point", "en50291-50-by"),
}
"""By standard, the rows of the books with the lowest level at which an alarm must sound, and by when it must there."""
OLD_YEARS = 10
"""Years after which an alarm is due for another (common practice, no source; its own label comes first)."""

MEDICAL = (
    "No reading of air tells what carbon monoxide has done to somebody: whoever feels unwell goes to medical care, "
    "whatever was read."
)
"""Said with every room; an estimate of what is in the blood never stands in a visit."""


@dataclass(frozen=True, slots=True)
class Alarm:
    """One carbon monoxide alarm.

    place     where it hangs
    standard  on its label, empty when not read
    tested    whether it sounded when its button was pressed
    sounded   whether it had sounded by itself
    made      date on its label, None when not read
    """

    place: str
    standard: Standard = ""
    tested: Said = ""
    sounded: Said = ""
    made: date | None = None

    def first_point(self, shop: Shop) -> tuple[Limit, Limit]:
        """Lowest level at which it must sound, and by when; where no standard was read, the higher of the levels."""
        pairs = [POINTS[self.standard]] if self.standard else list(POINTS.values())
        rows = [(shop.limit(level), shop.limit(by)) for level, by in pairs]
        return max(rows, key=lambda row: canonical(row[0]))


def _day(day: date) -> str:
    return f"{day.day} {day:%B %Y}"


def unwell(symptoms: Symptoms, account: Account) -> Finding | None:
    """Somebody feels unwell, or nobody was asked."""
    evidence = (("room air", "symptoms"),)
    if symptoms == "yes":
        return Finding(
            "people-first",
            "stop",
            "People first: somebody here feels unwell.",
            "Headache, dizziness, nausea or a faint is how carbon monoxide begins. It leaves a room faster than it "
            "leaves the blood, so no reading of the air, however low, speaks against it. Only medical people, with a "
            "blood test, can.",
            evidence,
            PRACTICE,
            do_now=(
                "everybody out into fresh air, before anything is measured",
                f"call {account.emergency} and say that carbon monoxide may be in it",
                "send whoever feels unwell to medical care, also when it has passed",
                "leave doors open on the way out; nobody goes back in to turn anything off",
            ),
            people_out=True,
        )
    if symptoms == "not asked":
        return Finding(
            "people-not-asked",
            "open",
            "Nobody was asked how they feel.",
            "People and animals are the first instrument in a house: headaches that clear outdoors say more than a "
            "reading taken after the door stood open.",
            evidence,
            PRACTICE,
            do_next=("ask everybody in the house, before the next reading",),
        )
    return None


def _sounded(alarm: Alarm) -> Finding:
    return Finding(
        "alarm-sounded",
        "act",
        f"The alarm {alarm.place} had sounded.",
        "An alarm that sounded is believed until its reason was found. Air that reads clear after doors stood open "
        "proves nothing about the hour before.",
        (("room air", "alarms"),),
        PRACTICE,
        do_now=(
            "leave every appliance that burns fuel off until the reason was found",
            "ask how everybody feels, and send whoever feels unwell to medical care",
        ),
        do_next=("find what made it sound: run the appliances one by one and read the room",),
        cautions=CAUTION,
    )


def _silent(alarm: Alarm, account: Account) -> Finding:
    point, by = alarm.first_point(account.shop)
    shown = show.shown(canonical(point), quantity=point.quantity, system=account.system)
    unread = "" if alarm.standard else " Its standard was not read, so the higher of two was taken."
    return Finding(
        "alarm-silent",
        "open",
        f"The alarm {alarm.place} stayed silent; below {shown} that proves nothing.",
        f"Below that it may stay silent for good, and at that level for {by.limit:g} minutes.{unread}",
        (("room air", "alarms"),),
        clause_of(point),
    )


def _old(alarm: Alarm, account: Account) -> Finding | None:
    if alarm.made is None or (account.day - alarm.made).days < 365.25 * OLD_YEARS:
        return None
    return Finding(
        "alarm-old",
        "advise",
        f"The alarm {alarm.place} is too old to be relied on.",
        f"It was made on {_day(alarm.made)}. The cell of an alarm wears out, in {OLD_YEARS} years at the latest; "
        "its test button tries the horn and not the cell. The date on its own label comes first.",
        (("room air", "alarms"),),
        PRACTICE,
        do_next=("put up another alarm, made lately, before leaving",),
    )


def _mute(alarm: Alarm) -> Finding | None:
    if alarm.tested != "no":
        return None
    return Finding(
        "alarm-mute",
        "advise",
        f"The alarm {alarm.place} did not sound when it was tested.",
        "An alarm that cannot sound warns nobody.",
        (("room air", "alarms"),),
        PRACTICE,
        do_next=("put up another alarm before leaving",),
    )


def no_alarm() -> Finding:
    """There is none at all."""
    return Finding(
        "alarm-missing",
        "advise",
        "There is no carbon monoxide alarm here.",
        "Today's reading is of today. An alarm on every floor where people sleep watches when nobody reads.",
        (("room air", "alarms"),),
        PRACTICE,
        do_next=("put up an alarm near where people sleep, by its maker's instructions",),
    )


def of_alarm(alarm: Alarm, account: Account) -> list[Finding]:
    """Everything that one alarm says."""
    heard = _sounded(alarm) if alarm.sounded == "yes" else None
    heard = _silent(alarm, account) if alarm.sounded == "no" else heard
    return [found for found in (heard, _mute(alarm), _old(alarm, account)) if found is not None]


def statements(symptoms: Symptoms, alarms: tuple[Alarm, ...], *, without_alarm: bool) -> tuple[Statement, ...]:
    """What was asked and seen, as sentences."""
    words = {
        "yes": Statement(("somebody here ", Voiced("feels unwell", "strong"), ".")),
        "no": Statement(("nobody here feels unwell, as far as was asked.",)),
        "not asked": Statement(("how people here feel was ", Voiced("not asked", "unknown"), "."), "unknown"),
    }
    said = [words[symptoms]]
    for alarm in alarms:
        parts = [f"an alarm hangs {alarm.place}"]
        parts += [f"made to {alarm.standard}"] if alarm.standard else []
        parts += [f"dated {_day(alarm.made)}"] if alarm.made else []
        parts += {"yes": ["it sounded when tested"], "no": ["it did not sound when tested"]}.get(
            alarm.tested, ["not tested"]
        )
        parts += {"yes": ["it had sounded by itself"], "no": ["by itself it had stayed silent"]}.get(alarm.sounded, [])
        said.append(Statement((f"{', '.join(parts)}.",)))
    if without_alarm:
        said.append(Statement(("no carbon monoxide alarm is here.",)))
    return tuple(said)
