"""Adapters for heat delivered by air and water."""

from collections.abc import Callable, Mapping
from typing import Any

from fluewright.checks.rows import Row

ASKS: Mapping[str, Callable[[Row], Any]] = {}
