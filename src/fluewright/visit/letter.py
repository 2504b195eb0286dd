"""The day as a letter to who does the work: what could hurt somebody first, then what was begun, then what is due."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from typing import TYPE_CHECKING, Any

from fluewright.report.pen import day_words

if TYPE_CHECKING:
    from fluewright.record.journal import Journal

MOST = 40
"""Visits or duties that one letter names; more of them is said as a number."""

COUNTS = ("no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve")
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
    """

    letter: str
    name: str
    visit: str
    words: str
    margin: str = ""
    do: str = ""


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
        dangers = notices.still_open(connection)
        begun = visits.newest(connection, MOST, state=visits.OPEN)
        duties = due.until(connection, (day + timedelta(days=LATER)).isoformat(), MOST)
        empty = not dangers and not begun and not visits.newest(connection, 1)
        fields = ("customer", "site", "appliance", "instrument", "visit")
        names = whereabouts(connection, {row[field] for row in duties for field in fields})
        names |= whereabouts(connection, {row["visit"] for row in dangers})
        names |= named(connection, {row["appliance"] for row in dangers})
    late = [row for row in duties if row["day"] < day.isoformat()]
    told = [
        ("Open, because somebody could be hurt", [_danger(row, names, day) for row in dangers]),
        ("Begun and not sealed", [_begun(row, day) for row in begun]),
        ("Due", [_due(row, names, day) for row in duties]),
    ]
    return Letter(day_words(day), _sums(len(dangers), len(begun), len(duties), len(late)), _parts(told), empty)


def _parts(told: Sequence[tuple[str, Sequence[dict[str, str]]]]) -> tuple[Part, ...]:
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


def _ago(then: str, day: date) -> str:
    days = (day - date.fromisoformat(then[:10])).days if then else 0
    return "since today" if days <= 0 else "since yesterday" if days == 1 else f"{days} days"


def _danger(row: Any, names: Mapping[str, str], day: date) -> dict[str, str]:
    where = [names[row[field]] for field in ("visit", "appliance") if names.get(row[field])]
    told = f" Told: {row['told']}." if row["told"] else " Nobody was told."
    struck = " The notice was struck out, which closes nothing." if row["struck"] else ""
    consent = CONSENT.get(row["consent"], "")
    words = f"{row['words']}; {consent}.{told}{struck}"
    do = "Call, and write; tell the supplier." if row["consent"] != "yes" else "Close it when it is over."
    name = ", ".join(dict.fromkeys(where)) or "a visit"
    return {"name": name, "visit": row["visit"], "words": words, "margin": f"open {_ago(row['at'], day)}.", "do": do}


def _begun(row: Any, day: date) -> dict[str, str]:
    where = ", ".join(part for part in (row["site_words"], row["customer_name"]) if part)
    readings = counted(row["readings"], "reading", "readings")
    about = f"{row['title']}, {readings}" if where else readings
    return {"name": where or row["title"], "visit": row["id"], "words": f"{about}.",
            "margin": f"begun {day_words(date.fromisoformat(row['day']))}"}  # fmt: skip


def _due(row: Any, names: Mapping[str, str], day: date) -> dict[str, str]:
    fields = ("customer", "site", "appliance", "instrument")
    whose = ", ".join(dict.fromkeys(names[row[field]] for field in fields if names.get(row[field])))
    whose = whose or names.get(row["visit"], "")
    days = (date.fromisoformat(row["day"]) - day).days
    when = f"late by {-days} days." if days < -1 else "late by a day." if days < 0 else "today." if days == 0 else ""
    when = when or ("this week." if days <= SOON else "")
    margin = " ".join(part for part in (when, day_words(date.fromisoformat(row["day"]))) if part)
    return {"name": whose or row["what"], "visit": row["visit"], "words": f"{row['what']}." if whose else "",
            "margin": margin, "do": ""}  # fmt: skip
