"""The shop's side of an exchange over HTTP, without a socket: what a request is answered with.

Whatever listens hands over method, path, headers and body, and sends back what comes out.
"""

import json
from collections.abc import Collection, Mapping
from dataclasses import dataclass, field
from typing import Any

from sqlalchemy import delete, insert, select

from fluewright.errors import EntryError, FluewrightError, NotAllowed
from fluewright.record.canonical import canonical
from fluewright.record.doors import PEER, Doors
from fluewright.record.guard import host_is_ours, origin_is_ours
from fluewright.record.journal import Journal
from fluewright.record.keys import Key, revocations, verifiers
from fluewright.record.pairing import Code, Nonces, Sides, to_sign
from fluewright.record.shape import HASH, ID
from fluewright.record.sync import MOST, answered

LONGEST = 2 * MOST + (1 << 20)
"""Bytes of a request that are read at all."""

HELLO, PAIR, EXCHANGE = "/sync/hello", "/sync/pair", "/sync/exchange"

DEVICE, NONCE, SIGNATURE = "fluewright-device", "fluewright-nonce", "fluewright-signature"
"""Headers of an exchange, in small letters."""


@dataclass(frozen=True, slots=True)
class Reply:
    """An answer.

    status   of HTTP
    body     the bytes
    headers  beside those that whatever listens adds
    """

    status: int
    body: bytes
    headers: Mapping[str, str] = field(default_factory=dict)


def _json(status: int, value: Mapping[str, Any]) -> Reply:
    return Reply(status, canonical(value).encode() + b"\n", {"content-type": "application/json"})


def refusal(error: FluewrightError) -> Reply:
    """An error as an answer; where it happened stays here, as it may be a path."""
    parts = {name: part for name, part in error.parts().items() if name != "where"}
    return _json(403 if isinstance(error, NotAllowed) else 400, {"error": parts})


def _not_ours() -> NotAllowed:
    return NotAllowed(
        code="FW-N-067",
        read="a request under another name, or from a page of another site",
        expected="the address under which the shop's journal is served",
        matters="a page that is open in the same browser could ask in its place",
        do="use the address that `fluewright journal serve` prints",
    )


def _unknown() -> NotAllowed:
    return NotAllowed(
        code="FW-N-065",
        read="a message that no device signed which was let in, or whose key was revoked",
        expected="a signature of a device that was paired, over a number used once",
        matters="whoever is let in reads all customers and can write entries",
        do="pair the device: `fluewright journal serve --pair` here, then `fluewright journal sync ... --code` there",
    )


class Door:
    """The shop's side.

    journal  that is exchanged
    doors    which devices were let in
    key      of this device
    port     that is listened on
    names    host names beside those of this machine
    """

    def __init__(self, journal: Journal, doors: Doors, key: Key, *, port: int, names: Collection[str] = ()) -> None:
        self.journal = journal
        self.doors = doors
        self.key = key
        self.port = port
        self.names = names
        self.code = Code()
        self.nonces = Nonces()

    def code_out(self) -> str:
        """Put a pairing code out; it is printed where the shop sees it."""
        return self.code.begun(self.doors.seconds())

    def answer(self, method: str, path: str, headers: Mapping[str, str], body: bytes) -> Reply:
        """Answer one request.

        headers  names in small letters
        -> reply; refusals are replies too
        """
        try:
            self._need_ours(method, headers)
            if method != "POST" or path not in (HELLO, PAIR, EXCHANGE):
                return _json(404 if method == "POST" else 405, {"error": {"read": f"{method} {path[:80]}"}})
            if path == HELLO:
                return _json(200, {"shop": self.journal.device, "nonce": self.nonces.one(self.doors.seconds())})
            return self._pair(body) if path == PAIR else self._exchange(headers, body)
        except FluewrightError as error:
            return refusal(error)

    def _need_ours(self, method: str, headers: Mapping[str, str]) -> None:
        host = host_is_ours(headers.get("host", ""), port=self.port, names=self.names)
        origin = origin_is_ours(headers.get("origin", ""), method=method, port=self.port, names=self.names,
                                fetch_site=headers.get("sec-fetch-site", ""))  # fmt: skip
        if not host or not origin:
            raise _not_ours()

    def _pair(self, body: bytes) -> Reply:
        asked = _asked_from(body)
        if not self.nonces.spent(asked["nonce"], self.doors.seconds()):
            raise _unknown()
        sides = Sides(asked["nonce"], self.journal.device, self.key.public, asked["device"], asked["key"])
        code = self.code.need(sides, asked["proof"], self.doors.seconds())
        if asked["key"] in revocations(self.journal) or asked["device"] == self.journal.device:
            raise _unknown()
        let_in(self.doors, asked["device"], asked["key"])
        return _json(200, {"key": self.key.public, "proof": sides.proof(code, "shop")})

    def _exchange(self, headers: Mapping[str, str], body: bytes) -> Reply:
        device, nonce = headers.get(DEVICE, ""), headers.get(NONCE, "")
        key = key_of_peer(self.doors, device)
        fresh = self.nonces.spent(nonce, self.doors.seconds())
        signed = to_sign("request", nonce, self.journal.device, device, body)
        if not key or not fresh or not verifiers()[self.key.algorithm](key, signed, headers.get(SIGNATURE, "")):
            raise _unknown()
        if key in revocations(self.journal):
            raise _unknown()
        said = answered(self.journal, body)
        signature = self.key.sign(to_sign("answer", nonce, self.journal.device, device, said))
        return Reply(200, said, {SIGNATURE: signature, "content-type": "application/jsonl"})


def _asked_from(body: bytes) -> dict[str, str]:
    """What a pairing asks for."""
    try:
        held = json.loads(body)
    except (ValueError, RecursionError):
        held = None
    names = ("nonce", "device", "key", "proof")
    whole = isinstance(held, dict) and set(held) == set(names) and all(isinstance(held[name], str) for name in names)
    if not whole or not ID.fullmatch(held["device"]) or not all(HASH.fullmatch(held[n]) for n in ("key", "proof")):
        raise EntryError(
            code="FW-J-067",
            read="a pairing that does not hold together",
            expected="nonce, device, key and proof",
            matters="nobody was let in",
            do="pair with `fluewright journal sync ... --code`",
        )
    return dict(held)


def let_in(doors: Doors, device: str, key: str, address: str = "") -> None:
    """Remember a device, its key and where it is reached; an earlier key of it counts no more."""
    with doors.changing() as connection:
        connection.execute(delete(PEER).where(PEER.c.device == device))
        if address:
            connection.execute(delete(PEER).where(PEER.c.address == address))
        row = {"device": device, "key": key, "address": address, "since": doors.now().isoformat()}
        connection.execute(insert(PEER).values(row))


def key_of_peer(doors: Doors, device: str) -> str:
    """The public key of a device that was let in; empty when it was not."""
    with doors.store.reading() as connection:
        return str(connection.scalar(select(PEER.c.key).where(PEER.c.device == device)) or "")


def peer_at(doors: Doors, address: str) -> tuple[str, str] | None:
    """Device and key of the shop at an address; None when this device was never paired with it."""
    with doors.store.reading() as connection:
        found = connection.execute(select(PEER.c.device, PEER.c.key).where(PEER.c.address == address)).first()
    return (str(found[0]), str(found[1])) if found is not None else None
