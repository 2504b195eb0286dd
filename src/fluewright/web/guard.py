"""What stands before every page: the name asked for, the page that asks, who came in, how fast, how much may be sent.

The person opens the door once with the token that the program printed; the browser then comes back with a cookie that
only this door can have made. A form carries a mark made from that cookie, so that no other page can send it.
"""

from collections.abc import Callable, Mapping, MutableMapping
from typing import Any
from urllib.parse import parse_qs

from starlette.datastructures import Headers, MutableHeaders
from starlette.responses import RedirectResponse, Response
from starlette.types import ASGIApp, Message, Receive, Scope, Send

from fluewright.errors import FluewrightError
from fluewright.record.callers import Roles
from fluewright.record.guard import SAFE, OneTime, host_is_ours, kept_form, origin_is_ours
from fluewright.record.pace import ASKED, CHANGED, SIGNING_IN, Buckets
from fluewright.visit.sent_in import MOST_BYTES
from fluewright.web.arrivals import SIGN_IN, Arrival, Arrivals, is_machine
from fluewright.web.marks import Marks, cookie_named
from fluewright.web.refusals import foreign_host, foreign_page, no_role, not_in, too_long, too_soon
from fluewright.web.settings import Settings

__all__ = ["LONGEST", "LONGEST_UPLOAD", "Guard", "Marks", "foreign_page"]

LONGEST = 64 * 1024
"""Bytes that a form may have."""

MORE: Mapping[str, int] = {"/records/bring": MOST_BYTES + LONGEST, "/rules/house": 512 * 1024}
"""Bytes that a form with files may have, by the one path that takes it."""

LONGEST_UPLOAD = 24 * 1024 * 1024
"""Bytes that a form with a photograph may have."""

Refusal = Callable[[FluewrightError, int, str], Response]
"""What an error looks like, by its status and the path that was asked for."""

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
ONLY_BY_HTTPS = "max-age=31536000"
KEPT_FOR_LONG = "public, max-age=31536000, immutable"


class Guard:
    """Lets through what may come in, and puts the headers on all that goes out."""

    def __init__(self, app: ASGIApp, *, settings: Settings, roles: Roles, refusal: Refusal) -> None:
        self.app = app
        self.settings = settings
        self.refusal = refusal
        self.marks = Marks(settings.secret, settings.port, settings.secure)
        self.once = OneTime(kept_form(settings.token) if settings.token else "")
        self.arrivals = Arrivals(settings, self.marks, roles)
        self.asked, self.changed, self.signing = (
            Buckets(pace, settings.seconds) for pace in (ASKED, CHANGED, SIGNING_IN)
        )

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """One request."""
        if scope["type"] != "http":
            await self.app(scope, receive, send)
            return

        async def dressed(message: Message) -> None:
            if message["type"] == "http.response.start":
                _dress(message, scope["path"], secure=self.settings.secure)
            await send(message)

        answer = self._answer(scope)
        await (answer or self.app)(scope, receive, dressed)

    def _answer(self, scope: Scope) -> Response | None:
        """What is answered here; None for what may go on."""
        headers, path = Headers(scope=scope), scope["path"]
        if self.settings.paced and (wait := self._wait(scope)):
            return self._later(wait, path)
        refused = self._refused(scope, headers)
        if refused is not None:
            return self.refusal(*refused, path)
        if path == OPENING and not self.settings.shared:
            return self._opened(scope)
        if path.startswith(FREE):
            return None
        arrival = self.arrivals.of(headers, path)
        if arrival is None:
            return self._unknown(scope)
        scope.setdefault("state", {}).update(cookie=arrival.cookie, caller=arrival.caller)
        return self._let_in(scope, headers, arrival)

    def _let_in(self, scope: Scope, headers: Headers, arrival: Arrival) -> Response | None:
        """What stands between somebody who is known and what they ask for; None for nothing."""
        path, changes = scope["path"], scope["method"] not in SAFE
        if path == SIGN_IN:
            return None
        if not arrival.caller.role:
            return self._unknown(scope, no_role(arrival.caller.name))
        if is_machine(path) and changes and arrival.cookie:
            mark = headers.get("x-fluewright-mark", "")
            if not self.marks.form_is_ours(arrival.cookie, mark):
                return self.refusal(foreign_page(), 403, path)
        if changes and self.settings.paced and (wait := self.changed.wait(arrival.name)):
            return self._later(wait, path)
        return None

    def _unknown(self, scope: Scope, why: FluewrightError | None = None) -> Response:
        """Somebody who is not known yet, or has no role: asked who they are where that can be answered."""
        path = scope["path"]
        signs_in = self.settings.shared or why is not None
        if signs_in and scope["method"] in SAFE and not is_machine(path):
            return RedirectResponse(SIGN_IN, status_code=303)
        answer = self.refusal(why or not_in(shared=self.settings.shared), 403 if why else 401, path)
        if is_machine(path) and why is None:
            answer.headers["www-authenticate"] = "Bearer"
        return answer

    def _later(self, wait: float, path: str) -> Response:
        answer = self.refusal(too_soon(wait), 429, path)
        answer.headers["retry-after"] = str(int(wait) + 1)
        return answer

    def _refused(self, scope: MutableMapping[str, Any], headers: Headers) -> tuple[FluewrightError, int] | None:
        asked: dict[str, Any] = {"port": self.settings.port, "names": self.settings.names}
        host, method, path = headers.get("host", ""), scope["method"], scope["path"]
        if len(headers.getlist("host")) != 1 or not host_is_ours(host, **asked):
            return foreign_host(host), 421
        site = headers.get("sec-fetch-site", "")
        if not origin_is_ours(headers.get("origin", ""), method=method, fetch_site=site, **asked):
            return foreign_page(), 403
        length = headers.get("content-length", "")
        known = length.isascii() and length.isdigit() and len(length) < 9 and "transfer-encoding" not in headers
        most = MORE.get(path, LONGEST_UPLOAD if path.endswith("/photo") else LONGEST)
        if method not in SAFE and not (known and int(length) <= most):
            return too_long(most), 413
        return None

    def _wait(self, scope: MutableMapping[str, Any]) -> float:
        """Seconds that an address has to wait."""
        address = str((scope.get("client") or ("",))[0])
        signing = scope["path"] == SIGN_IN and scope["method"] not in SAFE
        return (self.signing.wait(address) if signing else 0.0) or self.asked.wait(address)

    def _opened(self, scope: Scope) -> Response:
        """The door opened by its token, once."""
        told = parse_qs(scope["query_string"].decode("latin-1")).get("token", [""])[0]
        known = self.marks.is_ours(cookie_named(Headers(scope=scope), self.marks.cookie))
        if not known and not self.once.spent(told):
            return self.refusal(not_in(), 401, scope["path"])
        answer = RedirectResponse("/", status_code=303)
        if not known:
            self.marks.give(answer, self.marks.cookie, self.marks.new(), days=DAYS)
        return answer


def _dress(message: Message, path: str, *, secure: bool) -> None:
    """The headers of an answer; pages are never kept by a browser, so that a form is always new."""
    headers = MutableHeaders(raw=message["headers"])
    for name, value in HEADERS.items():
        headers[name] = value
    if secure:
        headers["strict-transport-security"] = ONLY_BY_HTTPS
    lasting = path.startswith("/static/") and message["status"] == 200
    headers["cache-control"] = KEPT_FOR_LONG if lasting else "no-store"
    message["headers"] = headers.raw
