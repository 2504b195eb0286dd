"""The day as a letter to who does the work: what could hurt somebody first, then what was begun, then what is due."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from typing import TYPE_CHECKING, Any

from fluewright.record import elsewhere
from fluewright.report.pen import day_words

if TYPE_CHECKING:
    from fluewright.record.journal import Journal

MOST = 40
"""Visits or duties that one letter names; more of them is said as a number."""

COUNTS = ("no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve")
WEEKDAYS = ("Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday")
SOON, LATER = 7, 31
"""Days that count as this week, and as before the month is out."""

CONSENT = {
    "yes": "shutting down was agreed to",
    "refused": "shutting down was refused",
    "absent": "nobody was there to ask",
}


@dataclass(frozen=True, slots=True)
class Matter:
    """One thing in the letter.

    letter  a, b, c through the whole letter
    name    what it is about, which leads to its sheet
    visit   id of the visit behind it; empty for none
    words   what there is to know, a sentence
    margin  how long, or since when
    do      what to do, said in bold; empty for nothing
    leads   page that the name leads to, where it is none of a visit: its kind and an id
    """

    letter: str
    name: str
    visit: str
    words: str
    margin: str = ""
    do: str = ""
    leads: tuple[str, str] = ("", "")


@dataclass(frozen=True, slots=True)
class Part:
    """A part of the letter with its matters."""

    title: str
    matters: tuple[Matter, ...]


@dataclass(frozen=True, slots=True)
class Letter:
    """The letter of a day.

    day    its date, in words
    sums   what it comes to, in sentences
    parts  those with something in them, worst first
    empty  whether nothing was ever entered
    """

    day: str
    sums: str
    parts: tuple[Part, ...]
    empty: bool


def counted(number: int, one: str, several: str) -> str:
    """A number of things in words: two visits."""
    return f"{COUNTS[number] if number < len(COUNTS) else f'{number:,}'} {one if number == 1 else several}"


def lettered(place: int) -> str:
    """The letter of a place: a to z, then aa."""
    first, second = divmod(place, 26)
    return (chr(96 + first) if first else "") + chr(97 + second)


def of_day(journal: "Journal", day: date) -> Letter:
    """The letter of a day.

    journal  what is read
    day      the day
    -> letter; its parts sorted by consequence
    """
    from fluewright.record.views import due, notices, visits
    from fluewright.record.views.catching_up import looked_at
    from fluewright.record.views.looking_up import named, whereabouts

    with looked_at(journal.store) as connection:
        told_open = notices.still_open(connection)
        dangers = told_open[:MOST]
        begun = visits.begun(connection, day.isoformat(), MOST)
        planned = visits.planned(connection, day.isoformat(), MOST)
        duties = due.until(connection, (day + timedelta(days=LATER)).isoformat(), MOST)
        empty = not dangers and not begun and not planned and not visits.newest(connection, 1)
        fields = ("customer", "site", "appliance", "instrument", "visit")
        names = whereabouts(connection, {row[field] for row in duties for field in fields})
        names |= whereabouts(connection, {row["visit"] for row in dangers})
        names |= named(connection, {row["appliance"] for row in dangers})
    late = [row for row in duties if row["day"] < day.isoformat()]
    told: list[tuple[str, list[dict[str, Any]]]] = [
        ("Open, because somebody could be hurt", [_danger(row, names, day) for row in dangers] + _rest(told_open)),
        ("Begun and not sealed", [_begun(row) for row in begun]),
        ("Due", [_due(row, names, day) for row in duties]),
        ("Planned", [_planned(row, day) for row in planned]),
    ]
    alone = elsewhere.of(journal)
    told.insert(2 if alone.is_old(day) else len(told), ("Only on this machine", _alone(alone, day)))
    sums = _sums(len(told_open), len(begun), len(duties), len(late))
    return Letter(f"{WEEKDAYS[day.weekday()]}, {day_words(day)}", sums, _parts(told), empty)


def _alone(alone: "elsewhere.Alone", day: date) -> list[dict[str, Any]]:
    """What would be lost with this machine."""
    if not alone.entries:
        return []
    since = day_words(date.fromisoformat(alone.since[:10]))
    last = f"last copy {_ago(alone.copied, day)}." if alone.copied else "no copy was ever made here."
    words = f"nowhere else, the oldest since {since}. They would be lost with this machine."
    do = "Make a copy, or exchange with another machine." if alone.is_old(day) else ""
    return [{"name": counted(alone.entries, "entry", "entries"), "visit": "", "words": words, "margin": last,
             "do": do, "leads": ("records", "")}]  # fmt: skip


def _parts(told: Sequence[tuple[str, Sequence[dict[str, Any]]]]) -> tuple[Part, ...]:
    found, place = [], 0
    for title, matters in told:
        if matters:
            made = tuple(Matter(letter=lettered(place + at), **each) for at, each in enumerate(matters))
            found.append(Part(title, made))
            place += len(matters)
    return tuple(found)


def _sums(dangers: int, begun: int, duties: int, late: int) -> str:
    said = []
    if dangers:
        said.append(counted(dangers, "danger is", "dangers are") + " still open.")
    if begun:
        said.append(counted(begun, "visit is", "visits are") + " begun and not sealed.")
    if duties:
        behind = f", {counted(late, 'of them late', 'of them late')}" if late else ""
        said.append(counted(duties, "thing is", "things are") + f" due before a month is out{behind}.")
    return " ".join(f"{each[:1].upper()}{each[1:]}" for each in said) or "Nothing is open and nothing is due."


def _since(then: str, day: date) -> str:
    days = (day - date.fromisoformat(then[:10])).days if then else 0
    return "since today" if days <= 0 else "since yesterday" if days == 1 else f"{days} days"


def _ago(then: str, day: date) -> str:
    days = (day - date.fromisoformat(then[:10])).days if then else 0
    return "today" if days <= 0 else "yesterday" if days == 1 else f"{days} days ago"


def _danger(row: Any, names: Mapping[str, str], day: date) -> dict[str, Any]:
    where = [names[row[field]] for field in ("visit", "appliance") if names.get(row[field])]
    told = f" Told: {row['told']}." if row["told"] else " Nobody was told."
    struck = " The notice was struck out, which closes nothing." if row["struck"] else ""
    consent = CONSENT.get(row["consent"], "")
    words = f"{row['words']}; {consent}.{told}{struck}"
    do = "Call, and write; tell the supplier." if row["consent"] != "yes" else "Close it when it is over."
    name = ", ".join(dict.fromkeys(where)) or "a visit"
    return {"name": name, "visit": row["visit"], "words": words, "margin": f"open {_since(row['at'], day)}.", "do": do}


def _rest(dangers: Sequence[Any]) -> list[dict[str, Any]]:
    """The dangers beyond those that the letter names, as one matter that leads to all of them."""
    more = len(dangers) - MOST
    if more <= 0:
        return []
    name, words = counted(more, "more danger", "more dangers"), "younger than these, and open."
    return [{"name": name, "visit": "", "words": words, "leads": ("dangers", "")}]


def dangers_of(journal: "Journal", day: date, after: int) -> tuple[tuple[Matter, ...], int]:
    """The open dangers of one page, the oldest first, and how many there are in all.

    after  how many older ones are left out
    """
    from fluewright.record.views import notices
    from fluewright.record.views.catching_up import looked_at
    from fluewright.record.views.looking_up import named, whereabouts

    with looked_at(journal.store) as connection:
        told = notices.still_open(connection)
        rows = told[after : after + MOST]
        names = whereabouts(connection, {row["visit"] for row in rows})
        names |= named(connection, {row["appliance"] for row in rows})
    parts = _parts([("", [_danger(row, names, day) for row in rows])])
    return (parts[0].matters if parts else ()), len(told)


def _planned(row: Any, day: date) -> dict[str, Any]:
    then = date.fromisoformat(row["day"])
    days = (then - day).days
    when = "tomorrow." if days == 1 else f"in {counted(days, 'day', 'days')}."
    return {**_begun(row), "words": f"{row['title']}.", "margin": f"{day_words(then)}, {when}"}


def _begun(row: Any) -> dict[str, Any]:
    where = ", ".join(part for part in (row["site_words"], row["customer_name"]) if part)
    readings = counted(row["readings"], "reading", "readings")
    about = f"{row['title']}, {readings}" if where else readings
    return {"name": where or row["title"], "visit": row["id"], "words": f"{about}.",
            "margin": f"begun {day_words(date.fromisoformat(row['day']))}"}  # fmt: skip


def _due(row: Any, names: Mapping[str, str], day: date) -> dict[str, Any]:
    fields = ("customer", "site", "appliance", "instrument")
    whose = ", ".join(dict.fromkeys(names[row[field]] for field in fields if names.get(row[field])))
    whose = whose or names.get(row["visit"], "")
    days = (date.fromisoformat(row["day"]) - day).days
    when = f"late by {-days} days." if days < -1 else "late by a day." if days < 0 else "today." if days == 0 else ""
    when = when or ("this week." if days <= SOON else "")
    margin = " ".join(part for part in (when, day_words(date.fromisoformat(row["day"]))) if part)
    return {"name": whose or row["what"], "visit": row["visit"], "words": f"{row['what']}." if whose else "",
            "margin": margin, "do": "", "leads": _leads(row)}  # fmt: skip


def _leads(row: Any) -> tuple[str, str]:
    """The page of what is due, the nearest to the work first."""
    kinds = ("instrument", "appliance", "site", "customer")
    return next(((kind, row[kind]) for kind in kinds if row[kind]), ("", ""))
