"""Who has come in: a browser that the door knows, a person who signed in, a program with its token."""

from dataclasses import dataclass

from starlette.datastructures import Headers

from fluewright.record.accounts import Accounts
from fluewright.record.callers import BEFORE_IT, NOBODY, Caller, Roles
from fluewright.record.guard import kept_form
from fluewright.record.tokens import Tokens
from fluewright.web.marks import Marks, cookie_named
from fluewright.web.settings import Settings

SIGN_IN = "/sign-in"
"""Where somebody says who they are; the one page that needs no role."""

MACHINES = "/api"
"""Below it programs ask."""

BY_PASSWORD = "signed in with a password"
BY_TOKEN = "a program with a token"


def is_machine(path: str) -> bool:
    """Whether a path is one for programs."""
    return path == MACHINES or path.startswith(MACHINES + "/")


@dataclass(frozen=True, slots=True)
class Arrival:
    """Somebody at the door.

    caller  who, and what they may
    cookie  of the browser; empty for a program, and for one who has not signed in yet
    name    by which their turns are counted
    """

    caller: Caller
    cookie: str = ""
    name: str = ""


class Arrivals:
    """Tells who has come in.

    settings  of the door
    marks     of its cookies
    roles     of the people in the journal
    """

    def __init__(self, settings: Settings, marks: Marks, roles: Roles) -> None:
        self.settings = settings
        self.marks = marks
        self.roles = roles
        self.accounts = Accounts(settings.doors) if settings.doors is not None else None
        self.tokens = Tokens(settings.doors) if settings.doors is not None else None

    def of(self, headers: Headers, path: str) -> Arrival | None:
        """Who sends a request; None for somebody who has not come in."""
        if is_machine(path) and "authorization" in headers:
            return self._program(headers["authorization"])
        if self.settings.shared:
            return self._signed_in(headers, path)
        return self._before_this_machine(headers)

    def _program(self, told: str) -> Arrival | None:
        scheme, _, token = told.partition(" ")
        found = self.tokens.found(token.strip()) if self.tokens is not None and scheme.lower() == "bearer" else None
        if found is None:
            return None
        own = self.roles.caller(found.person, recognised=BY_TOKEN)
        return Arrival(Caller(own.person, own.role, own.name, BY_TOKEN, found.rights), name=f"token {found.name}")

    def _signed_in(self, headers: Headers, path: str) -> Arrival | None:
        token = cookie_named(headers, self.marks.cookie)
        person = self.accounts.who(token) if self.accounts is not None and token else ""
        if not person:
            return Arrival(NOBODY) if path == SIGN_IN else None
        own = self.roles.caller(person, recognised=BY_PASSWORD)
        known = Caller(own.person, own.role, own.name, BY_PASSWORD, session=kept_form(token))
        return Arrival(known, token, f"person {person}")

    def _before_this_machine(self, headers: Headers) -> Arrival | None:
        cookie = cookie_named(headers, self.marks.cookie)
        if not self.marks.is_ours(cookie):
            if self.settings.token:
                return None
            cookie = ""
        person, how = self.marks.person_in(cookie, cookie_named(headers, self.marks.who))
        recognised = BY_PASSWORD if how == "known" else BEFORE_IT
        return Arrival(self.roles.caller(person, recognised=recognised), cookie, f"browser {cookie}")
