"""A device's side of an exchange over HTTP."""

import json
from collections.abc import Callable, Mapping
from hmac import compare_digest
from typing import Any
from urllib.parse import urlsplit

from fluewright.errors import EntryError, NotAllowed, UseError
from fluewright.record.canonical import canonical
from fluewright.record.door import DEVICE, EXCHANGE, HELLO, LONGEST, NONCE, PAIR, SIGNATURE, Reply, let_in, peer_at
from fluewright.record.doors import Doors
from fluewright.record.guard import LOCAL
from fluewright.record.journal import Journal
from fluewright.record.keys import Key, verifiers
from fluewright.record.pairing import Sides, to_sign
from fluewright.record.shape import HASH, ID

WAIT = 60.0
"""Seconds that an answer may take."""

Post = Callable[[str, bytes, Mapping[str, str]], Reply]
"""Sends a body to an address with headers and brings the answer."""


def address_from(text: str) -> str:
    """The address of a shop, without a path.

    text  as typed
    -> it, in one form; UseError when it is none, NotAllowed where it would go over a network that others can read
    """
    parts = urlsplit(text.strip())
    name = parts.netloc.rpartition("@")[2]
    if parts.scheme not in ("http", "https") or not name or name != parts.netloc or parts.path.strip("/"):
        raise UseError(
            code="FW-U-161",
            read=f"the address {text[:80]!r}",
            expected="http://127.0.0.1:PORT or https://NAME, without more",
            matters="the journal would be sent somewhere else",
            do="copy the address that `fluewright journal serve` prints",
        )
    host = f"[{parts.hostname}]" if ":" in (parts.hostname or "") else parts.hostname
    if parts.scheme == "http" and host not in LOCAL:
        raise NotAllowed(
            code="FW-N-066",
            read=f"an exchange with {host} that everybody on the network could read",
            expected="https, or this machine itself",
            matters="names and addresses of customers go over the wire",
            do="put the shop's journal behind https, or exchange through a stick",
        )
    return f"{parts.scheme}://{name}".lower()


def posted(address: str, body: bytes, headers: Mapping[str, str]) -> Reply:
    """Send a request and bring the answer, by the standard library; redirections are not followed."""
    import urllib.error
    import urllib.request
    from http.client import HTTPException

    class Straight(urllib.request.HTTPRedirectHandler):
        def redirect_request(self, *_: Any, **__: Any) -> None:
            return None

    opener = urllib.request.build_opener(urllib.request.ProxyHandler({}), Straight())
    request = urllib.request.Request(address, data=body, headers=dict(headers), method="POST")
    try:
        with opener.open(request, timeout=WAIT) as answer:
            said = answer.read(LONGEST + 1)
            return Reply(answer.status, said, {name.lower(): value for name, value in answer.headers.items()})
    except urllib.error.HTTPError as error:
        return Reply(error.code, error.read(LONGEST), {})
    except (OSError, HTTPException) as error:
        raise EntryError(
            code="FW-J-068",
            where=address,
            read=f"no whole answer: {getattr(error, 'reason', error) or type(error).__name__}",
            expected="a shop's journal that answers",
            matters="what was taken before is kept on both sides; the rest has not gone over yet",
            do="see that it is served there, then run the same again: it goes on where it stopped",
        ) from error


def _refused(address: str, reply: Reply) -> NotAllowed:
    try:
        told = json.loads(reply.body)["error"]
        read, do = str(told["read"]), str(told.get("do", ""))
    except (ValueError, KeyError, TypeError, RecursionError):
        read, do = f"status {reply.status}", ""
    return NotAllowed(
        code="FW-N-068",
        where=address,
        read=f"the shop refused: {read[:300]}",
        expected="an exchange with a shop that knows this device",
        matters="nothing went over",
        do=do[:300] or "see the shop's side",
    )


def _not_the_shop(address: str) -> NotAllowed:
    return NotAllowed(
        code="FW-N-069",
        where=address,
        read="an answer that the shop known under this address did not sign",
        expected="the shop that this device was paired with",
        matters="somebody in between could read and change what goes over",
        do="see which machine answers there; pair anew only if the shop's machine was replaced",
    )


class Wire:
    """The way to a shop.

    address  of the shop
    journal  of this device
    doors    where its pairings are kept
    key      of this device
    post     sends requests
    """

    def __init__(self, address: str, journal: Journal, doors: Doors, key: Key, post: Post = posted) -> None:
        self.address = address_from(address)
        self.journal = journal
        self.doors = doors
        self.key = key
        self.post = post

    def _asked(self, path: str, body: bytes, headers: Mapping[str, str] | None = None) -> Reply:
        kind = {"content-type": "application/octet-stream", **(headers or {})}
        reply = self.post(self.address + path, body, kind)
        if reply.status != 200 or len(reply.body) > LONGEST:
            raise _refused(self.address, reply)
        return reply

    def _hello(self) -> tuple[str, str]:
        """The shop's device and a number used once."""
        return _texts_in(self._asked(HELLO, b""), self.address, shop=ID, nonce=HASH)

    def pair(self, code: str) -> str:
        """Be let in, by the code that the shop shows; -> the shop's device, whose key is then known here."""
        shop, nonce = self._hello()
        asked = {"nonce": nonce, "device": self.journal.device, "key": self.key.public}
        sides = Sides(nonce, shop, "", self.journal.device, self.key.public)
        reply = self._asked(PAIR, canonical({**asked, "proof": sides.proof(code, "device")}).encode())
        key, proof = _texts_in(reply, self.address, key=HASH, proof=HASH)
        known = Sides(nonce, shop, key, self.journal.device, self.key.public)
        if not compare_digest(known.proof(code, "shop"), proof):
            raise _not_the_shop(self.address)
        let_in(self.doors, shop, key, self.address)
        return shop

    def send(self, message: bytes) -> bytes:
        """Carry a message there and bring the answer, both signed."""
        peer = peer_at(self.doors, self.address)
        if peer is None:
            raise NotAllowed(
                code="FW-N-070",
                where=self.address,
                read="an exchange with a shop that this device was never paired with",
                expected="a pairing by the code that the shop shows",
                matters="the journal would be given to whoever answers there",
                do="let the shop print a code (fluewright journal serve --pair) and give it with --code",
            )
        shop, key = peer
        told, nonce = self._hello()
        if told != shop:
            raise _not_the_shop(self.address)
        device = self.journal.device
        signature = self.key.sign(to_sign("request", nonce, shop, device, message))
        reply = self._asked(EXCHANGE, message, {DEVICE: device, NONCE: nonce, SIGNATURE: signature})
        signed = to_sign("answer", nonce, shop, device, reply.body)
        if not verifiers()[self.key.algorithm](key, signed, reply.headers.get(SIGNATURE, "")):
            raise _not_the_shop(self.address)
        return reply.body


def _texts_in(reply: Reply, address: str, **forms: Any) -> tuple[str, str]:
    """Two texts of an answer, each in its form."""
    try:
        held = json.loads(reply.body)
        found = [str(held[name]) for name in forms]
    except (ValueError, KeyError, TypeError, RecursionError):
        found = []
    if len(found) != 2 or not all(form.fullmatch(text) for form, text in zip(forms.values(), found, strict=False)):
        raise _not_the_shop(address)
    return found[0], found[1]
