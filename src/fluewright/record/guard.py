"""What a door on this machine looks at before it opens: the host that was asked for, the page that asks, a token.

A page of some other site, open in the same browser, can send requests to 127.0.0.1, and a name of its own may be made
to point there. So a request counts only under a name of ours, and a change only when it comes from a page of ours.
"""

import hashlib
import hmac
import secrets
from collections.abc import Collection
from dataclasses import dataclass
from urllib.parse import urlsplit

LOCAL = frozenset(("127.0.0.1", "localhost", "[::1]"))
"""Names of this machine for itself."""

SAFE = frozenset(("GET", "HEAD", "OPTIONS"))
"""Methods that change nothing."""

TOKEN_BYTES = 32
"""Random bytes of a token: 256 bits."""


def host_is_ours(header: str, *, port: int, names: Collection[str] = ()) -> bool:
    """Whether a request asked for a name of ours.

    header  the Host header as it came; empty when there was none
    port    that the door listens on
    names   the configured names beside those of this machine
    -> False for any other name, another port, or a header that cannot be read
    """
    if not header or header != header.strip() or any(sign in header for sign in "/@?#, \t"):
        return False
    name, sign, given = header.rpartition(":") if not header.endswith("]") else (header, "", "")
    if not sign:
        name, given = header, ""
    if given and (not given.isascii() or not given.isdigit() or int(given) != port):
        return False
    if sign and not given:
        return False
    return name.lower() in LOCAL | {each.lower() for each in names}


def origin_is_ours(header: str, *, method: str, fetch_site: str = "", port: int, names: Collection[str] = ()) -> bool:
    """Whether a request may change something: it comes from a page of ours, or from no page at all.

    header      the Origin header; empty when there was none, as from a program that is no browser
    method      GET, POST
    fetch_site  the Sec-Fetch-Site header; empty when there was none
    port        that the door listens on
    names       the configured names beside those of this machine
    -> True for what changes nothing; else whether it is from here
    """
    if method.upper() in SAFE:
        return True
    if fetch_site and fetch_site not in ("same-origin", "none"):
        return False
    if not header:
        return True
    try:
        parts = urlsplit(header)
        asked = parts.port
    except ValueError:
        return False
    if parts.scheme not in ("http", "https") or parts.path or parts.query or parts.fragment or parts.username:
        return False
    told = asked if asked is not None else {"http": 80, "https": 443}[parts.scheme]
    return told == port and host_is_ours(parts.netloc, port=port, names=names)


def new_token() -> str:
    """A token that nobody guesses, fit for an address."""
    return secrets.token_urlsafe(TOKEN_BYTES)


def kept_form(token: str) -> str:
    """The form in which a token is kept: its hash, so that who reads the store cannot use it."""
    return hashlib.sha256(token.encode("utf-8", "surrogatepass")).hexdigest()


@dataclass(slots=True)
class OneTime:
    """A token that opens a door once, such as the one in the address that a program prints for its user.

    kept   hash of the token; empty when it was spent
    """

    kept: str

    def spent(self, token: str) -> bool:
        """Whether this is the token; after that it opens nothing any more."""
        if not self.kept or not hmac.compare_digest(self.kept, kept_form(token)):
            return False
        self.kept = ""
        return True
