"""Adapters for gas pressure, tightness and pipes."""

from collections.abc import Callable, Mapping
from typing import Any

from fluewright.checks.rows import Row

ASKS: Mapping[str, Callable[[Row], Any]] = {}
