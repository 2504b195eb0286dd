"""An invented shop with everything about people in it, for backups, exports and erasing."""

from dataclasses import dataclass

from made import PEOPLE, reading, seal_of

from fluewright.record.amend import amended
from fluewright.record.files import added, kept_in
from fluewright.record.journal import Draft, Journal
from fluewright.record.keys_ed25519 import FileKey

PHOTO = bytes(PEOPLE["photo"])  # type: ignore[arg-type]

NAMES = (
    "Wendeline", "Ashgrove", "Inventive Lane", "Nowhereham", "555-0100-4711", "wendeline@", "Quibblesnout", "Mirabel",
    "Tenantson", "Lettucefield", "not a real photo",
)  # fmt: skip
"""Every name, street, number and other word about the customer: none may be left anywhere after erasing."""

OTHERS = ("Barnaby", "Elsewhere Road", "Torvald", "Sootsby")
"""Words about others, which must stay."""


@dataclass(frozen=True)
class Shop:
    """Ids of what is in the shop."""

    customer: str
    site: str
    visit: str
    photo: str
    other: str
    other_visit: str
    technician: str


def shop_in(journal: Journal, key: FileKey, *, jurisdiction: str = "", seals: bool = True) -> Shop:
    """Fill a journal: two customers, a sealed visit with photo, note, notice and amendment, a trace block."""
    technician = journal.add(Draft("person", {"name": PEOPLE["technician"], "role": "technician"})).id
    told = {name: PEOPLE[name] for name in ("name", "street", "phone", "email", "note")}
    customer = journal.add(Draft("customer", told)).id
    place = {"jurisdiction": jurisdiction} if jurisdiction else {}
    site = journal.add(Draft("site", {"address": PEOPLE["street"], "customer": customer, **place})).id
    other = journal.add(Draft("customer", {"name": "Barnaby Elsewhere-Test", "street": "3 Elsewhere Road"})).id
    visits = []
    for name, whom in (("yearly test", customer), ("repair", other)):
        body = {"title": name, "day": "2026-11-25", "customer": whom, "technician": technician, "invented": True}
        body |= {"customer_name": PEOPLE["name"] if whom == customer else "Barnaby Elsewhere-Test", **place}
        body |= {"technician_name": PEOPLE["technician"], **({"site": site} if whom == customer else {})}
        visits.append(journal.add(Draft("visit", body)).id)
    visit = visits[0]
    first = reading(journal, visit, "4.3 %")
    reading(journal, visits[1], "5.1 %")
    journal.add(Draft("note", {"visit": visit, "word": "Wendeline has headaches in the mornings"}))
    journal.add(Draft("notice", {"visit": visit, "words": "flue blocked", "consent": "yes", "told": PEOPLE["told"],
                                 "done": ["valve shut, Mirabel Tenantson-Test watched"], "calls": []}))  # fmt: skip
    photo = added(journal, PHOTO, type="image/jpeg", visit=visit, words="the chimney of Ashgrove").id
    block = kept_in(journal.store.settings.files_folder(), b"samples of a trace, about nobody")
    journal.add(Draft("trace block", {"visit": visit, "channels": ["o2"], "start": "2026-11-25T10:20:00+00:00",
                                      "count": 7, "file": block}))  # fmt: skip
    amended(journal, customer, {"phone": "555-0100-4711 (Lettucefield)"}, because="Wendeline moved")
    if seals:
        seal_of(journal, visit, key)
        amended(journal, first, {"name": "carbon_monoxide"}, because="read off by Wendeline")
    return Shop(customer, site, visit, photo, other, visits[1], technician)
