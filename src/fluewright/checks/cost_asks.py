"""Adapters for emission factors, duties of the law, prices and savings."""

from collections.abc import Callable, Mapping
from typing import Any

from fluewright.checks.rows import Row

ASKS: Mapping[str, Callable[[Row], Any]] = {}
