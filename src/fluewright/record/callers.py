"""Who asks at a door, and what they may: a person with a role, or a program that works for one with less than that."""

from dataclasses import dataclass
from threading import Lock

from fluewright.errors import NotAllowed
from fluewright.record import people
from fluewright.record.fold import CHANGES, current
from fluewright.record.journal import Journal
from fluewright.record.people import Action, Person
from fluewright.record.reading import Read

BEFORE_IT = "sat before this machine"
"""How one knows somebody who has said who they are on a machine of their own."""


@dataclass(frozen=True, slots=True)
class Caller:
    """Who asks.

    person      id of their entry; empty for whoever sits before the machine without having said who they are
    role        one of `people.ROLES`; empty when they have none here
    name        as it is kept
    recognised  how one knows them, in words for a seal
    only        the rights that a program was given; None for a person, who has all of their role
    session     the kept form of the session; empty when there is none
    """

    person: str = ""
    role: str = ""
    name: str = ""
    recognised: str = BEFORE_IT
    only: frozenset[str] | None = None
    session: str = ""

    def may(self, action: str) -> bool:
        """Whether they may do something: by their role, and a program by what it was given besides."""
        return people.may(self.role, action) and (self.only is None or action in self.only)


NOBODY = Caller()
"""Somebody without any role."""


def need(caller: Caller, action: Action) -> None:
    """Refuse what a caller may not do.

    -> nothing; NotAllowed when neither the table of rights nor the token of a program says that they may
    """
    people.need(caller.role, action)
    if not caller.may(action):
        raise NotAllowed(
            code="FW-N-150",
            read=f"a program's token without the right to: {action}",
            expected=f"a token with it; this one has: {', '.join(sorted(caller.only or ())) or 'none'}",
            matters="a token that can do more than its program needs does more harm when it is lost",
            do="make another with `fluewright journal tokens --make`, and revoke this one",
        )


class Roles:
    """The people of a journal and their roles, read again only as far as new entries came.

    journal  that says them
    """

    def __init__(self, journal: Journal) -> None:
        self.journal = journal
        self._read: list[Read] = []
        self._known: tuple[Person, ...] = ()
        self._after = 0
        self._turn = Lock()

    def people(self) -> tuple[Person, ...]:
        """Everybody that the journal knows, as they stand now."""
        with self._turn:
            end = self.journal.arrived()
            if end != self._after:
                self._take(end)
            return self._known

    def _take(self, end: int) -> None:
        """Read what came since; a change may have come before what it changes, so all outside of visits are kept."""
        new = self.journal.of_kind("person", *CHANGES, after=self._after)
        self._read += [read for read in new if read.known and "visit" not in read.body]
        self._known = tuple(map(people.person_of, (e for e in current(self._read) if e.read.entry.kind == "person")))
        self._after = end

    def caller(self, person: str, *, recognised: str = BEFORE_IT) -> Caller:
        """A person as a caller; without a role when they are not known or have left."""
        found = next((each for each in self.people() if each.id == person), None)
        if found is not None:
            return Caller(found.id, found.role if found.active else "", found.name, recognised)
        ruled = any(each.active and each.role == "administrator" for each in self.people())
        return Caller(recognised=recognised, role="" if person or ruled else "administrator")
