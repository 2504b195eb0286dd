"""The only place that asks for the time or makes an id."""

import secrets
import time
from datetime import UTC, datetime
from uuid import UUID


def now() -> datetime:
    """The present moment with its offset, to the second."""
    return datetime.now(UTC).astimezone().replace(microsecond=0)


def new_id() -> str:
    """A new id: UUID version 7, whose first 48 bits are the milliseconds since 1970 (RFC 9562, 5.7)."""
    stamp = time.time_ns() // 1_000_000 & (1 << 48) - 1
    number = stamp << 80 | 7 << 76 | secrets.randbits(12) << 64 | 2 << 62 | secrets.randbits(62)
    return str(UUID(int=number))
