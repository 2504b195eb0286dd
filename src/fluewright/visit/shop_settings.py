"""What a shop has settled for all its visits: its name and address, the emergency number, units. Each an entry."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING

from fluewright.errors import UseError
from fluewright.record.draft import Draft
from fluewright.visit import once

if TYPE_CHECKING:
    from fluewright.record.journal import Journal


@dataclass(frozen=True, slots=True)
class Setting:
    """One setting: its name in the journal, what it is called, what helps to answer, the words it may be."""

    name: str
    words: str
    note: str = ""
    choices: tuple[str, ...] = ()


SETTINGS = (
    Setting("shop name", "name of the shop", "stands at the head of every page"),
    Setting("shop address", "its address"),
    Setting("shop telephone", "its telephone"),
    Setting("emergency", "emergency number where you work", "goes into every new visit, such as 911 or 112"),
    Setting("supplier", "gas supplier, with number", "goes into every new visit"),
    Setting("jurisdiction", "country, or country and state", "such as US-MN; goes into every new visit"),
    Setting("units", "units", "of new visits", ("us", "si")),
)

LONGEST = 200


def told(journal: "Journal") -> dict[str, str]:
    """What is settled, by name; of several entries the last one counts, and one that was struck out does not."""
    from fluewright.record.views import shop
    from fluewright.record.views.catching_up import looked_at

    with looked_at(journal.store) as connection:
        return {name: value for name, value in shop.settled(connection).items() if value != NOTHING}


NOTHING = "-"
"""Stands for a setting that was taken back, since an entry says something."""


def settle(journal: "Journal", typed: Mapping[str, str], *, form: str) -> int:
    """Keep what differs from what was settled before.

    typed  by the names of the settings
    form   id under which it was sent
    -> how many were kept; UseError when one is none of the words it may be
    """
    before = told(journal)
    drafts = []
    for place, setting in enumerate(SETTINGS):
        value = typed.get(setting.name, "").strip()
        if value == before.get(setting.name, ""):
            continue
        if (setting.choices and value not in ("", *setting.choices)) or len(value) > LONGEST:
            raise UseError(
                code="FW-U-141",
                where=setting.words,
                read=repr(value[:60]),
                expected=" or ".join(setting.choices) or f"at most {LONGEST} letters",
                matters="it goes into every visit from now on",
                do="choose one of them, or leave it empty",
            )
        body = {"name": setting.name, "value": value or NOTHING}
        drafts.append(Draft("settings", body, id=once.derived(form, place)))
    return len(journal.add_all(drafts)) if drafts else 0
