"""The only place that asks for the time or makes an id."""

import hashlib
import secrets
import time
from datetime import UTC, datetime


def now() -> datetime:
    """The present moment with its offset, to the second."""
    return datetime.now(UTC).astimezone().replace(microsecond=0)


def new_id() -> str:
    """A new id: UUID version 7, whose first 48 bits are the milliseconds since 1970 (RFC 9562, 5.7).

    The next 12 bits are the part of the millisecond (6.2, method 3), so that what is entered one after the other sorts
    so.
    """
    milliseconds, rest = divmod(time.time_ns(), 1_000_000)
    stamp, part = milliseconds & (1 << 48) - 1, (rest << 12) // 1_000_000
    chance = int.from_bytes(secrets.token_bytes(8)) & (1 << 62) - 1
    number = stamp << 80 | 7 << 76 | part << 64 | 2 << 62 | chance
    digits = f"{number:032x}"
    return f"{digits[:8]}-{digits[8:12]}-{digits[12:16]}-{digits[16:20]}-{digits[20:]}"


STAMP = 13
"""Letters of an id that say when it was made."""


def derived_id(form: str, what: int | str) -> str:
    """An id that follows from another one: UUID version 7 of the same moment, the rest a digest of both."""
    digits = hashlib.sha256(f"{form}:{what}".encode("utf-8", "surrogatepass")).hexdigest()
    return f"{form[:STAMP]}-7{digits[:3]}-{'89ab'[int(digits[3], 16) % 4]}{digits[4:7]}-{digits[7:19]}"


_BEGUN = time.time() - time.monotonic()


def seconds() -> float:
    """s since 1970 as this run counts them: they never step back, whatever is done to the machine's clock meanwhile."""
    return _BEGUN + time.monotonic()
