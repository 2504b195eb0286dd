"""What stands behind the door for programs: the journal, the key, one change at a time."""

import json
from collections.abc import Callable
from contextlib import AbstractContextManager
from dataclasses import dataclass, replace
from pathlib import Path
from typing import TYPE_CHECKING, Any

from fastapi import Request

from fluewright.record.callers import NOBODY, Caller
from fluewright.record.journal import Journal
from fluewright.record.keys import Key
from fluewright.visit import kept, once

if TYPE_CHECKING:
    from fluewright.live.watching import Watching


@dataclass(frozen=True, slots=True)
class Inside:
    """One door's own things.

    journal  open for as long as the door is
    turn     held while something is changed; the same one as the pages'
    key      signs seals; none where this device has no key at hand
    amiss    says what is wrong with the journal now; then it is read only
    caller   who asks
    books    folder where the shop's house book lies; the same one as the pages'
    live     what is watched by this server; None where nothing is listened to
    """

    journal: Journal
    turn: AbstractContextManager[Any]
    key: Key | None = None
    amiss: Callable[[], tuple[str, ...]] = tuple
    caller: Caller = NOBODY
    books: Path | None = None
    live: "Callable[[], Watching | None]" = lambda: None

    def visit(self, code: str) -> str:
        """The id of a visit from what stands in an address."""
        return kept.found(self.journal, code)


def inside(request: Request) -> Inside:
    """What stands behind a request; what is written into its journal is by the person who asks."""
    found: Inside = request.app.state.inside
    caller: Caller = getattr(request.state, "caller", NOBODY)
    return replace(found, journal=found.journal.by(caller.person), caller=caller)


def sent_once(chosen: str, told: dict[str, Any]) -> str:
    """The id under which something is sent: told twice under one id it is kept once; other words are another thing.

    chosen  id that the program made
    told    all that it sends besides
    """
    return once.of_form(chosen, json.dumps(told, sort_keys=True))
