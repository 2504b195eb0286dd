"""How a device and a shop come to know each other's keys: by a code read from one screen and typed on the other.

The code itself never goes over the wire. Each side proves that it has it by a keyed hash (HMAC-SHA-256, RFC 2104) over
both devices, both keys and a number used once; with 60 bits it cannot be tried out in the minutes that it lasts. After
that every message is signed by the device's own key over a number used once, so that none can be altered or replayed.
"""

import hashlib
import hmac
import secrets
from collections.abc import Callable
from dataclasses import dataclass, field

from fluewright.errors import NotAllowed
from fluewright.record.canonical import canonical

SIGNS = "23456789ABCDEFGHJKLMNPQRSTUVWXYZ"
"""Letters of a code: 32 that are not taken for each other."""

LETTERS = 12
"""Letters of a code, 5 bits each."""

LASTS = 600.0
"""Seconds that a code can be used."""

TRIES = 5
"""Wrong proofs after which it is void."""

NONCE_LASTS, NONCES = 60.0, 1000
"""Seconds that a number used once is good for, and how many are out at most."""


def new_code() -> str:
    """A code in groups of four, for the eye."""
    letters = "".join(secrets.choice(SIGNS) for _ in range(LETTERS))
    return "-".join(letters[at : at + 4] for at in range(0, LETTERS, 4))


def _plain(code: str) -> str:
    """A code as typed, without what people put between; O is not in it and is read as Q."""
    return "".join(code.upper().replace("O", "Q").split()).replace("-", "")


@dataclass(frozen=True, slots=True)
class Sides:
    """Both ends of a pairing.

    nonce   number used once, of the shop
    shop, shop_key      its device and public key
    device, device_key  the one that is let in
    """

    nonce: str
    shop: str
    shop_key: str
    device: str
    device_key: str

    def proof(self, code: str, who: str) -> str:
        """The proof of one side, shop or device, that it has the code.

        The device speaks first and does not know the shop's key yet: its proof leaves that open, the shop's covers it.
        """
        key = self.shop_key if who == "shop" else ""
        said = canonical({"who": who, "nonce": self.nonce, "shop": self.shop, "shop key": key,
                          "device": self.device, "device key": self.device_key, "form": 1})  # fmt: skip
        return hmac.new(_plain(code).encode(), said.encode(), hashlib.sha256).hexdigest()


def to_sign(what: str, nonce: str, shop: str, device: str, body: bytes) -> bytes:
    """The bytes that a device signs for a message, or the shop for its answer.

    what    request or answer
    nonce   number used once, of the shop
    shop, device  the two
    body    the message
    """
    held = {"what": what, "nonce": nonce, "shop": shop, "device": device, "body": hashlib.sha256(body).hexdigest()}
    return ("fluewright sync 1\n" + canonical(held)).encode()


@dataclass(slots=True)
class Code:
    """A code that is out.

    code   empty when none is
    until  the moment it ends
    left   wrong proofs that it still stands
    """

    code: str = ""
    until: float = 0.0
    left: int = TRIES

    def begun(self, now: float) -> str:
        """Put a new one out; it is printed on the shop's side."""
        self.code, self.until, self.left = new_code(), now + LASTS, TRIES
        return self.code

    def need(self, sides: Sides, proof: str, now: float) -> str:
        """Take a proof; -> the code, which is then void; NotAllowed when it does not hold, or none is out."""
        good = bool(self.code) and 0.0 <= self.until - now <= LASTS and self.left > 0
        if good and hmac.compare_digest(sides.proof(self.code, "device"), proof):
            code, self.code = self.code, ""
            return code
        self.left -= 1
        if not good or self.left <= 0:
            self.code = ""
        raise NotAllowed(
            code="FW-N-064",
            read="a pairing without the code that the shop shows",
            expected="the code as printed, within ten minutes, once",
            matters="whoever is let in reads all customers and can write entries",
            do="let the shop print a new code: fluewright journal serve --pair",
        )


@dataclass(slots=True)
class Nonces:
    """Numbers used once that are out.

    out  when each ends
    """

    out: dict[str, float] = field(default_factory=dict)
    new: Callable[[], str] = lambda: secrets.token_hex(32)

    def one(self, now: float) -> str:
        """A new one; the oldest goes when too many are out."""
        self.out = {nonce: until for nonce, until in self.out.items() if 0.0 < until - now <= NONCE_LASTS}
        while len(self.out) >= NONCES:
            self.out.pop(next(iter(self.out)))
        nonce = self.new()
        self.out[nonce] = now + NONCE_LASTS
        return nonce

    def spent(self, nonce: str, now: float) -> bool:
        """Whether it was out and in time; after that it counts no more."""
        return 0.0 < self.out.pop(nonce, 0.0) - now <= NONCE_LASTS
