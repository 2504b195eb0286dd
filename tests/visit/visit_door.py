"""What is known of an invented visit at the door."""

from typing import Any

DOOR: dict[str, Any] = {
    "visit": {"title": "Made-up visit", "date": "2026-11-25", "jurisdiction": "US"},
    "appliance": {"words": "boiler that does not exist"},
    "fuel": {"name": "natural-gas"},
}
