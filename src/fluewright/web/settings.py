"""All that a door of pages is given from outside; it looks up nothing by itself."""

import time
from collections.abc import Callable
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

from fluewright import clock
from fluewright.record.doors import Doors
from fluewright.record.keys import Key
from fluewright.record.settings import Settings as Journal

PORT = 8766


@dataclass(frozen=True, slots=True)
class Settings:
    """One door of pages.

    journal   which journal, and how it is written
    port      that the door is reached under
    names     names it is reached under, beside those of this machine
    token     opens the door once; empty where nobody but the person can knock, as inside a page
    secret    signs what a browser is given to come back with and what a form carries; the same after a restart
    key       signs seals; none where this device has no key at hand
    device    what people call this machine, for a journal that is new
    shop      name at the head of the pages
    now       the clock
    books     folder where the shop's house book lies; None where it can have none
    copies    folder into which copies of the journal are made; None where none can be made from a page
    practice  whether a new journal is begun for practice: all in it is invented, and every page says so
    doors     accounts and tokens of this machine; none where nobody signs in, as inside a page
    shared    whether people come over a network and sign in with a password; then no token opens the door
    secure    whether it is reached by https only
    paced     whether an address or a person may be told to wait
    seconds   a clock for that, which only runs forward
    """

    journal: Journal
    secret: bytes
    port: int = PORT
    names: tuple[str, ...] = ()
    token: str = ""
    key: Key | None = None
    device: str = "this computer"
    shop: str = "Fluewright"
    now: Callable[[], datetime] = clock.now
    books: Path | None = None
    copies: Path | None = None
    practice: bool = False
    doors: Doors | None = None
    shared: bool = False
    secure: bool = False
    paced: bool = False
    seconds: Callable[[], float] = time.monotonic
