"""The other appliances on the flue of a visit's appliance, and their visits of the same day."""

import json
from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from sqlalchemy import Connection

    from fluewright.record.fold import Current
    from fluewright.record.journal import Journal

MOST = 40
"""Groups of one site, and visits to one appliance, that are looked through."""


@dataclass(frozen=True, slots=True)
class Other:
    """Another appliance on the same flue.

    appliance  its id
    words      as a person calls it
    visit      id of its visit on the same day; empty when none was begun
    """

    appliance: str
    words: str
    visit: str = ""


def others(journal: "Journal", entries: Sequence["Current"]) -> tuple[Other, ...]:
    """What else hangs on the flue: one that is not visited can spoil the draft of the one that is.

    journal  where groups and visits are kept
    entries  of the visit at hand
    -> in the order of the group; none where the appliance is in no group of its site
    """
    from fluewright.record.views import shop
    from fluewright.record.views.catching_up import looked_at

    visit = next((each.body for each in entries if each.read.entry.kind == "visit"), {})
    own = set(map(str, visit.get("appliances", ())))
    if not own or not visit.get("site"):
        return ()
    with looked_at(journal.store) as connection:
        groups = shop.all_of(connection, "flue group", most=MOST, site=str(visit["site"]))
        held = [json.loads(each["body"])["appliances"] for each in groups if not each["retired"]]
        ids = dict.fromkeys(str(id) for several in held if own & set(several) for id in several if id not in own)
        found = (_other(connection, id, str(visit.get("day", ""))) for id in ids)
        return tuple(each for each in found if each is not None)


def _other(connection: "Connection", id: str, day: str) -> Other | None:
    from fluewright.record.views import shop, visited

    row = shop.one(connection, "appliance", id)
    if row is None or row["retired"]:
        return None
    visits = visited.of_these(connection, {"thing": [id]}, most=MOST)
    same = next((str(each["id"]) for each in visits if each["day"] == day), "")
    return Other(id, str(row["words"]), same)
