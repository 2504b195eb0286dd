"""How far a long piece of work is, on standard error."""

import sys
import time
from collections.abc import Callable

WAIT = 1.0
"""Seconds before a bar is shown (a second keeps the train of thought)."""


class Progress:
    """A bar on standard error for whatever takes more than a second; silent when nobody is watching.

    show  True to draw it although standard error is no terminal
    """

    def __init__(self, *, show: bool = False, plain: bool = False) -> None:
        self._on = show or sys.stderr.isatty()
        self._full, self._empty = ("#", ".") if plain else ("█", "░")
        self._start = self._last = time.monotonic()
        self._drawn = False

    def watch(self, what: str) -> Callable[[int, int], None]:
        """A tick for one piece of work."""

        def tick(done: int, total: int) -> None:
            now = time.monotonic()
            if self._on and now - self._start > WAIT and now - self._last > 0.2:
                self._last, self._drawn = now, True
                share = min(done / total, 1.0) if total else 1.0
                bar = self._full * int(24 * share) + self._empty * (24 - int(24 * share))
                print(f"\r{what:<22}{bar} {100.0 * share:3.0f} %", end="", file=sys.stderr, flush=True)

        return tick

    def done(self) -> None:
        """Take the bar away."""
        if self._drawn:
            print("\r" + " " * 60 + "\r", end="", file=sys.stderr, flush=True)
            self._drawn = False
