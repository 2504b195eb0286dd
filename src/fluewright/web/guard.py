"""What stands before every page: the name asked for, the page that asks, who came in, how much may be sent.

The person opens the door once with the token that the program printed; the browser then comes back with a cookie that
only this door can have made. A form carries a mark made from that cookie, so that no other page can send it.
"""

import hashlib
import hmac
from collections.abc import MutableMapping
from dataclasses import dataclass
from typing import Any
from urllib.parse import parse_qs

from starlette.datastructures import Headers, MutableHeaders
from starlette.requests import cookie_parser
from starlette.responses import RedirectResponse, Response
from starlette.types import ASGIApp, Message, Receive, Scope, Send

from fluewright.errors import FluewrightError, NotAllowed
from fluewright.record.guard import SAFE, OneTime, host_is_ours, kept_form, new_token, origin_is_ours
from fluewright.web.settings import Settings

LONGEST = 64 * 1024
"""Bytes that a form may have."""

LONGEST_PICTURE = 16 * 1024 * 1024 + LONGEST
"""Bytes that a form with a photograph may have."""

DAYS = 30
"""How long a browser is known."""

OPENING, FREE = "/open", ("/static/", "/favicon.ico")
"""Where the token is spent, and what holds nothing private: the look of the pages."""

POLICY = (
    "default-src 'none'; script-src 'self'; connect-src 'self'; style-src 'self'; style-src-attr 'unsafe-inline'; "
    "font-src 'self'; img-src 'self'; form-action 'self'; frame-ancestors 'none'; base-uri 'none'"
)
"""One script of our own, none inside a page; the widths of bars in workings are the only style inside a page."""

HEADERS = {
    "content-security-policy": POLICY,
    "x-content-type-options": "nosniff",
    "x-frame-options": "DENY",
    "referrer-policy": "same-origin",  # with none at all, browsers name no origin for forms either
    "cross-origin-opener-policy": "same-origin",
    "cross-origin-resource-policy": "same-origin",
    "permissions-policy": "camera=(), microphone=(), geolocation=()",
}
KEPT_FOR_LONG = "public, max-age=31536000, immutable"


@dataclass(frozen=True, slots=True)
class Marks:
    """What this door signs: cookies and forms.

    secret  known to this door only
    port    part of the cookie's name, since browsers tell machines apart by name and not by port
    """

    secret: bytes
    port: int

    @property
    def cookie(self) -> str:
        """Name of the cookie."""
        return f"fluewright-{self.port}"

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


def foreign_host(host: str) -> NotAllowed:
    """A request under a name that is not ours."""
    return NotAllowed(
        code="FW-N-101",
        read=f"a page asked for under the name {host[:100]!r}",
        expected="the address that the program printed",
        matters="a name of somebody else's may be made to point here, and their page would read the records",
        do="open the address that `fluewright serve` printed",
    )


def foreign_page() -> NotAllowed:
    """A change asked for by a page of somebody else."""
    return NotAllowed(
        code="FW-N-102",
        read="a form sent by another page than ours",
        expected="a form of this page",
        matters="a page of somebody else, open in the same browser, could write into the records",
        do="go back to the sheet and send it from there; nothing was kept",
    )


def not_in() -> NotAllowed:
    """A browser that has not come in."""
    return NotAllowed(
        code="FW-N-103",
        read="a browser that this door does not know",
        expected="the address with its token, which opens once",
        matters="other people and programs on this machine must not read or write the records",
        do="open the address that `fluewright serve` printed; when it was used already, start it again for a new one",
    )


def too_long() -> NotAllowed:
    """A form that is longer than anybody types."""
    return NotAllowed(
        code="FW-N-104",
        read="a form that is too long, or does not say how long it is",
        expected=f"at most {LONGEST // 1024} kB",
        matters="a door that takes in everything can be filled up",
        do="shorten it; nothing was kept",
    )


class Guard:
    """Lets through what may come in, and puts the headers on all that goes out."""

    def __init__(self, app: ASGIApp, *, settings: Settings, refusal: Any) -> None:
        self.app = app
        self.settings = settings
        self.refusal = refusal
        self.marks = Marks(settings.secret, settings.port)
        self.once = OneTime(kept_form(settings.token) if settings.token else "")

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """One request."""
        if scope["type"] != "http":
            await self.app(scope, receive, send)
            return

        async def dressed(message: Message) -> None:
            if message["type"] == "http.response.start":
                _dress(message, scope["path"])
            await send(message)

        answer = self._answer(scope)
        await (answer or self.app)(scope, receive, dressed)

    def _answer(self, scope: Scope) -> Response | None:
        """What is answered here; None for what may go on."""
        headers = Headers(scope=scope)
        refused = self._refused(scope, headers)
        if refused is not None:
            error, status = refused
            page: Response = self.refusal(error, status)
            return page
        if scope["path"] == OPENING:
            return self._opened(scope)
        if scope["path"].startswith(FREE):
            return None
        cookie = _cookie(headers, self.marks.cookie)
        if not self.marks.is_ours(cookie):
            if self.settings.token:
                unknown: Response = self.refusal(not_in(), 401)
                return unknown
            cookie = ""
        scope.setdefault("state", {})["cookie"] = cookie
        return None

    def _refused(self, scope: MutableMapping[str, Any], headers: Headers) -> tuple[FluewrightError, int] | None:
        asked: dict[str, Any] = {"port": self.settings.port, "names": self.settings.names}
        host, method = headers.get("host", ""), scope["method"]
        if len(headers.getlist("host")) != 1 or not host_is_ours(host, **asked):
            return foreign_host(host), 421
        site = headers.get("sec-fetch-site", "")
        if not origin_is_ours(headers.get("origin", ""), method=method, fetch_site=site, **asked):
            return foreign_page(), 403
        length = headers.get("content-length", "")
        known = length.isascii() and length.isdigit() and len(length) < 9
        most = LONGEST_PICTURE if scope["path"].endswith("/photo") else LONGEST
        if method not in SAFE and not (known and int(length) <= most):
            return too_long(), 413
        return None

    def _opened(self, scope: Scope) -> Response:
        """The door opened by its token, once."""
        told = parse_qs(scope["query_string"].decode("latin-1")).get("token", [""])[0]
        known = self.marks.is_ours(_cookie(Headers(scope=scope), self.marks.cookie))
        if not known and not self.once.spent(told):
            refused: Response = self.refusal(not_in(), 401)
            return refused
        answer = RedirectResponse("/", status_code=303)
        if not known:
            age = DAYS * 24 * 3600
            answer.set_cookie(self.marks.cookie, self.marks.new(), max_age=age, httponly=True, samesite="strict")
        return answer


def _cookie(headers: Headers, name: str) -> str:
    """One cookie by its name; others on this machine set theirs for the same name of it, and some are odd."""
    return cookie_parser(headers.get("cookie", "")).get(name, "")


def _dress(message: Message, path: str) -> None:
    """The headers of an answer; pages are never kept by a browser, so that a form is always new."""
    headers = MutableHeaders(raw=message["headers"])
    for name, value in HEADERS.items():
        headers[name] = value
    lasting = path.startswith("/static/") and message["status"] == 200
    headers["cache-control"] = KEPT_FOR_LONG if lasting else "no-store"
    message["headers"] = headers.raw
