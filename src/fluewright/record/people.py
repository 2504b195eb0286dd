"""Who may do what: four roles, one table, and tickets that gate sealing and nothing else."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from typing import Literal, get_args

from fluewright.errors import NotAllowed
from fluewright.record.fold import CHANGES, Current, current
from fluewright.record.journal import Journal

Role = Literal["technician", "office", "auditor", "administrator"]

Action = Literal[
    "read",
    "work",
    "seal",
    "counter-seal",
    "close notice",
    "keep customers",
    "keep instruments",
    "keep people",
    "keep settings",
    "keep clauses",
    "export",
    "import",
    "back up",
    "sync",
    "pair device",
    "revoke key",
    "hold",
    "erase",
]
"""work: open a visit, enter, amend and strike out in it; keep: enter and amend what the word after it says."""

ROLES: tuple[Role, ...] = get_args(Role)
ACTIONS: tuple[Action, ...] = get_args(Action)

_ALL = frozenset(ROLES)
_THOSE_WHO_WORK = frozenset[Role](("technician", "administrator"))
_THE_SHOP = frozenset[Role](("technician", "office", "administrator"))
_THE_DESK = frozenset[Role](("office", "administrator"))
_ONE = frozenset[Role](("administrator",))

RIGHTS: Mapping[Action, frozenset[Role]] = {
    "read": _ALL,
    "work": _THOSE_WHO_WORK,
    "seal": _THOSE_WHO_WORK,
    "counter-seal": _THOSE_WHO_WORK,
    "close notice": _THE_SHOP,
    "keep customers": _THE_SHOP,
    "keep instruments": _THE_SHOP,
    "keep people": _ONE,
    "keep settings": _THE_DESK,
    "keep clauses": _THE_SHOP,
    "export": frozenset(("office", "auditor", "administrator")),
    "import": _THE_DESK,
    "back up": _THE_DESK,
    "sync": _THE_SHOP,
    "pair device": _ONE,
    "revoke key": _ONE,
    "hold": _THE_DESK,
    "erase": _ONE,
}
"""The one table of rights. What is not in it, nobody may do."""


def may(role: str, action: str) -> bool:
    """Whether a role may do something; an unknown role or action may nothing."""
    return role in RIGHTS.get(action, frozenset())  # type: ignore[call-overload]


@dataclass(frozen=True, slots=True)
class Person:
    """Someone who works for the shop, as their entry stands today.

    id      of the entry
    name    as it is kept; the word for it when erased
    role    one of `ROLES`
    active  whether they may still do anything
    """

    id: str
    name: str
    role: str
    active: bool


def person_of(found: Current) -> Person:
    """A person as their entry stands."""
    body = found.body
    active = found.counts and body.get("active") is not False
    return Person(found.read.entry.id, str(body.get("name", "")), str(body.get("role", "")), active)


def persons(journal: Journal) -> list[Person]:
    """Everybody that the journal knows, in the order of their entries; those who left are not active."""
    reads = [read for read in journal.of_kind("person", *CHANGES) if read.known]
    return [person_of(each) for each in current(reads) if each.read.entry.kind == "person"]


def role_of(journal: Journal, person_id: str) -> str:
    """The role of a person.

    A journal without an active administrator belongs to whoever sits before it: one person on their own machine, who
    needs nobody above them. From the first administrator on, only those entered and active have a role.

    person_id  id of the person; empty for whoever sits before the machine without having said who they are
    -> a role; empty when they have none
    """
    known = persons(journal)
    if not person_id:
        return "" if any(each.active and each.role == "administrator" for each in known) else "administrator"
    found = next((each for each in known if each.id == person_id), None)
    return found.role if found is not None and found.active else ""


def need(role: str, action: Action) -> None:
    """Refuse what a role may not do.

    -> nothing; NotAllowed when the table does not say that it may
    """
    if may(role, action):
        return
    allowed = [each for each in ROLES if each in RIGHTS[action]]
    raise NotAllowed(
        code="FW-N-060",
        read=f"{role or 'someone without a role here'}: {action}",
        expected=" or ".join(allowed),
        matters="rights are given by the shop, so that a record says who could have done what",
        do="ask one of those who may, or have an administrator change the role",
    )


@dataclass(frozen=True, slots=True)
class Ticket:
    """A licence or certificate as it stands today.

    id            of the entry
    words         what it is called
    expires       its last day
    jurisdiction  where it counts; empty for everywhere
    classes       classes of appliance that it covers; none for all
    """

    id: str
    words: str
    expires: date
    jurisdiction: str = ""
    classes: tuple[str, ...] = ()

    def covers(self, jurisdiction: str, appliance_class: str, day: date) -> bool:
        """Whether it counts there, for that class, on that day; its last day counts."""
        there = not self.jurisdiction or jurisdiction == self.jurisdiction or jurisdiction.startswith(
            self.jurisdiction + "-"
        )  # fmt: skip
        return there and (not self.classes or appliance_class in self.classes) and day <= self.expires


def _ticket(found: Current) -> Ticket:
    body = found.body
    given = body.get("classes", ())
    classes = tuple(str(each) for each in given) if isinstance(given, list | tuple) else ()
    expires = date.fromisoformat(str(body["expires"]))
    return Ticket(found.read.entry.id, str(body.get("words", "")), expires, str(body.get("jurisdiction", "")), classes)


def tickets_of(journal: Journal, person_id: str) -> list[Ticket]:
    """The tickets of a person that were not struck out, expired ones too."""
    reads = [read for read in journal.of_kind("ticket", *CHANGES) if read.known]
    return [
        _ticket(each)
        for each in current(reads)
        if each.read.entry.kind == "ticket" and each.counts and each.body.get("person") == person_id
    ]


@dataclass(frozen=True, slots=True)
class Missing:
    """A class of appliance that a person has no ticket for on the day.

    appliance_class  the class
    last             the ticket that covered it longest, when one did
    """

    appliance_class: str
    last: Ticket | None

    def sentence(self, day: date) -> str:
        """What is missing, in words."""
        if self.last is None:
            return f"no ticket for {self.appliance_class}"
        return f"{self.last.words} for {self.appliance_class} ended on {self.last.expires}, before {day}"


def tickets_missing(
    journal: Journal, person_id: str, *, jurisdiction: str, classes: Sequence[str], day: date
) -> list[Missing]:
    """What a person lacks to seal a visit alone; it never hinders working (the sheet says so beside the seal).

    A shop that has entered no ticket of anybody keeps none here, and nothing is missing.

    person_id     who seals
    jurisdiction  where the visit is
    classes       classes of the appliances
    day           of the visit
    -> one for each class without a ticket in date; none when all is covered
    """
    if next(journal.of_kind("ticket"), None) is None:
        return []
    have = tickets_of(journal, person_id)
    found = []
    for each in dict.fromkeys(classes):
        if any(ticket.covers(jurisdiction, each, day) for ticket in have):
            continue
        past = [ticket for ticket in have if ticket.covers(jurisdiction, each, ticket.expires)]
        found.append(Missing(each, max(past, key=lambda ticket: ticket.expires, default=None)))
    return found


def need_tickets(
    journal: Journal, person_id: str, *, jurisdiction: str, classes: Sequence[str], day: date, second: str = ""
) -> None:
    """Refuse a seal for which a ticket is missing, unless a second person who has it signs too.

    second  id of the person who will counter-seal; empty when nobody will
    -> nothing; NotAllowed naming what is missing
    """
    missing = tickets_missing(journal, person_id, jurisdiction=jurisdiction, classes=classes, day=day)
    if missing and second and second != person_id and may(role_of(journal, second), "counter-seal"):
        lacking = [each.appliance_class for each in missing]
        missing = tickets_missing(journal, second, jurisdiction=jurisdiction, classes=lacking, day=day)
    if missing:
        raise NotAllowed(
            code="FW-N-061",
            read="a seal without a ticket in date: " + "; ".join(each.sentence(day) for each in missing),
            expected="a ticket that covers each appliance of the visit on its day",
            matters="a seal says that someone licensed for it vouches; the work itself is kept either way",
            do="have a second person with the ticket counter-seal, or enter the renewed ticket first",
        )
