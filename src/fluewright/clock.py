"""The only place that asks for the time."""

from datetime import UTC, datetime


def now() -> datetime:
    """The present moment with its offset, to the second."""
    return datetime.now(UTC).astimezone().replace(microsecond=0)
