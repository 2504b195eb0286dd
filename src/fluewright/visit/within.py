"""What stands near a thing of the shop: the appliances of its site, and the classes that an appliance may have."""

from collections.abc import Mapping
from typing import TYPE_CHECKING

from fluewright.appliance import load
from fluewright.visit.about import MOST, Thing, thing_of

if TYPE_CHECKING:
    from fluewright.record.journal import Journal


def classes() -> tuple[str, ...]:
    """Names of all classes of appliance."""
    return tuple(sorted(load.names_of_classes()))


def appliances_near(journal: "Journal", parents: Mapping[str, str]) -> tuple[Thing, ...]:
    """The appliances that could share a flue with what is entered: those of its site."""
    from fluewright.record.views import shop
    from fluewright.record.views.catching_up import looked_at

    if not parents.get("site"):
        return ()
    with looked_at(journal.store) as connection:
        rows = shop.all_of(connection, "appliance", most=MOST, site=parents["site"])
        return tuple(thing_of("appliance", row) for row in rows)
