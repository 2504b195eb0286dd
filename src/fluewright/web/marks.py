"""What this door signs: cookies and forms."""

import hashlib
import hmac
from dataclasses import dataclass

from starlette.datastructures import Headers
from starlette.requests import cookie_parser
from starlette.responses import Response

from fluewright.record.guard import new_token


@dataclass(frozen=True, slots=True)
class Marks:
    """What this door signs.

    secret  known to this door only
    port    part of the cookie's name, since browsers tell machines apart by name and not by port
    secure  whether cookies go by https only
    """

    secret: bytes
    port: int
    secure: bool = False

    @property
    def cookie(self) -> str:
        """Name of the cookie."""
        return self._named(f"fluewright-{self.port}")

    @property
    def who(self) -> str:
        """Name of the cookie that says which person sits here."""
        return self._named(f"fluewright-who-{self.port}")

    def _named(self, name: str) -> str:
        """With the prefix that browsers take only over https, from this very name, for all paths (RFC 6265bis)."""
        return f"__Host-{name}" if self.secure else name

    def give(self, answer: Response, name: str, value: str, *, days: int) -> None:
        """Put a cookie on an answer; no script reads it, no other page sends it."""
        age = days * 24 * 3600
        answer.set_cookie(name, value, max_age=age, httponly=True, samesite="strict", secure=self.secure)

    def _signed(self, what: str, text: str) -> str:
        return hmac.new(self.secret, f"{what}:{text}".encode("utf-8", "surrogatepass"), hashlib.sha256).hexdigest()

    def new(self) -> str:
        """A cookie for a browser that has just come in."""
        token = new_token()
        return f"{token}.{self._signed('cookie', token)}"

    def is_ours(self, cookie: str) -> bool:
        """Whether this door made a cookie."""
        token, _, signature = cookie.rpartition(".")
        return bool(token) and hmac.compare_digest(signature.encode(), self._signed("cookie", token).encode())

    def of_form(self, cookie: str) -> str:
        """The mark that a form of this browser carries."""
        return self._signed("form", cookie)

    def form_is_ours(self, cookie: str, mark: str) -> bool:
        """Whether a form was made by this door for this browser."""
        return hmac.compare_digest(mark.encode("utf-8", "surrogatepass"), self.of_form(cookie).encode())

    def of_person(self, cookie: str, person: str, how: str) -> str:
        """The cookie by which a browser that has come in says who sits before it.

        how  `here` for a name that was chosen on this machine, `known` for one that was proven by a password
        """
        return f"{person}.{how}.{self._signed('who', f'{cookie}:{person}:{how}')}"

    def person_in(self, cookie: str, told: str) -> tuple[str, str]:
        """Id of the person and how they are known; both empty when this door did not make it for this browser."""
        person, _, rest = told.partition(".")
        how, _, _ = rest.partition(".")
        ours = hmac.compare_digest(told.encode("utf-8", "surrogatepass"), self.of_person(cookie, person, how).encode())
        return (person, how) if person and ours else ("", "")


def cookie_named(headers: Headers, name: str) -> str:
    """One cookie by its name; others on this machine set theirs for the same name of it, and some are odd."""
    return cookie_parser(headers.get("cookie", "")).get(name, "")
