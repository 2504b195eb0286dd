"""What a shop's machine keeps about its doors: accounts, sessions, tokens, wrong guesses, devices that were let in.

It lies in a SQLite file of its own in the folder of the keys, beside the journal and not in it: it is never synced,
never exported, and not in a backup. Losing it loses no record; people are given new passwords and devices pair anew.
"""

import os
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from datetime import datetime

from sqlalchemy import Column, Float, Integer, MetaData, Table, Text
from sqlalchemy.engine import Connection

from fluewright import clock
from fluewright.record.settings import Settings
from fluewright.record.store import Store

NAME = "doors.db"
"""The file in the folder of the keys."""

DOORS = MetaData()

ACCOUNT = Table(
    "account",
    DOORS,
    Column("person", Text, primary_key=True, comment="id of the person's entry"),
    Column("login", Text, nullable=False, unique=True),
    Column("hash", Text, nullable=False, comment="Argon2id with its parameters and salt"),
)

SESSION = Table(
    "session",
    DOORS,
    Column("hash", Text, primary_key=True, comment="SHA-256 of the token"),
    Column("person", Text, nullable=False, index=True),
    Column("begun", Float, nullable=False),
    Column("seen", Float, nullable=False),
)

GUESS = Table(
    "guess",
    DOORS,
    Column("what", Text, primary_key=True, comment="a login or where it came from"),
    Column("count", Integer, nullable=False),
    Column("until", Float, nullable=False, comment="nothing is tried before"),
)

TOKEN = Table(
    "token",
    DOORS,
    Column("hash", Text, primary_key=True, comment="SHA-256 of the token"),
    Column("person", Text, nullable=False, index=True, comment="for whom the program works"),
    Column("words", Text, nullable=False, comment="what the program is"),
    Column("rights", Text, nullable=False, comment="what it may do, one a line"),
    Column("begun", Float, nullable=False),
    Column("until", Float, nullable=False, comment="after that it opens nothing"),
    Column("used", Float, nullable=False, comment="last, to the minute; 0 for never"),
)

PEER = Table(
    "peer",
    DOORS,
    Column("device", Text, primary_key=True),
    Column("key", Text, nullable=False, comment="its public key"),
    Column("address", Text, nullable=False, comment="where it is reached; empty for one that comes here"),
    Column("since", Text, nullable=False),
)


class Doors:
    """The open file.

    settings  of the journal that the doors lead to
    now       the clock
    """

    def __init__(self, settings: Settings, now: Callable[[], datetime] = clock.now) -> None:
        folder = settings.keys_folder()
        folder.mkdir(mode=0o700, parents=True, exist_ok=True)
        path = folder / NAME
        if not path.exists():
            os.close(os.open(path, os.O_WRONLY | os.O_CREAT, 0o600))
        self.store = Store(Settings(str(path)))
        self.now = now
        with self.store.writing() as connection:
            DOORS.create_all(connection)

    def seconds(self) -> float:
        """The present moment in seconds since 1970."""
        return self.now().timestamp()

    @contextmanager
    def changing(self) -> Iterator[Connection]:
        """A connection in one transaction that writes, one at a time."""
        with self.store.writing() as connection:
            yield connection

    def close(self) -> None:
        """Let go of the file."""
        self.store.close()
