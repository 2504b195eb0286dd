"""Adapters for gas input: meter, orifice, altitude, another gas."""

from collections.abc import Callable, Mapping
from typing import Any

from fluewright.checks.rows import Row

ASKS: Mapping[str, Callable[[Row], Any]] = {}
