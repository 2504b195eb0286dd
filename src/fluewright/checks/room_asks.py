"""Adapters for room air and exposure."""

from collections.abc import Callable, Mapping
from typing import Any

from fluewright.checks.rows import Row

ASKS: Mapping[str, Callable[[Row], Any]] = {}
