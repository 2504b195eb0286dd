"""Passwords and sessions on a shop's server. A lone person on their own machine needs none.

No account comes with the program. A password is at least eight letters, of any kind, and kept as Argon2id with the
parameters that RFC 9106 recommends where memory is short: 64 MiB, three passes, four lanes, 16 bytes of salt, 32 of
hash. A guess that fails makes the next one wait, for the name and for where it came from.
"""

from dataclasses import dataclass
from itertools import pairwise
from typing import TYPE_CHECKING

from sqlalchemy import delete, insert, select, update
from sqlalchemy.engine import Connection

from fluewright.errors import EntryError, NotAllowed
from fluewright.record.doors import ACCOUNT, GUESS, SESSION, Doors
from fluewright.record.guard import kept_form, new_token

if TYPE_CHECKING:
    from argon2 import PasswordHasher

PASSES, MEMORY, LANES, SALT, LENGTH = 3, 64 * 1024, 4, 16, 32
"""RFC 9106, section 4, second recommended option; memory in KiB, lengths in bytes."""

LEAST, LONGEST = 8, 1024
"""Letters of a password."""

FREE_GUESSES = 5
LONGEST_WAIT = 900.0
"""Wrong guesses before waiting begins with one second, doubled each time up to this many."""

MINUTE = 60.0
"""Seconds for which a session is not written again, so that reading pages does not write."""

IDLE, LONGEST_SESSION = 12 * 3600.0, 7 * 86400.0
"""Seconds after which a session ends: unused, and at the latest."""

_TRIED_FIRST = """
password passwort password1 password123 12345678 123456789 1234567890 0123456789 87654321 qwertyui qwertyuiop qwertzui
qwertzuiop asdfghjk asdfghjkl 1q2w3e4r 1qaz2wsx abcdefgh abcd1234 iloveyou sunshine princess football baseball starwars
trustno1 letmein1 welcome1 welcome123 administrator admin123 changeme fluewright technician boilerroom chimney1 furnace1
"""
OBVIOUS = frozenset(_TRIED_FIRST.split())
"""Passwords that are tried first, and words of this trade."""


def _hasher() -> "PasswordHasher":
    from argon2 import PasswordHasher, Type

    return PasswordHasher(PASSES, MEMORY, LANES, LENGTH, SALT, type=Type.ID)


def _is_obvious(password: str, names: tuple[str, ...]) -> bool:
    said = password.casefold()
    words = {word for name in names for word in name.casefold().split() if len(word) >= 3}
    steps = {ord(b) - ord(a) for a, b in pairwise(said)}
    rests = [said.replace(word, "") for word in words if word in said]
    return said in OBVIOUS or steps in ({0}, {1}, {-1}) or any(len(rest) < 5 for rest in rests)


def need_password(password: str, *names: str) -> None:
    """Refuse a password that would be guessed; there are no rules on what it is made of.

    names  the login and the person's own names
    -> nothing; EntryError saying why
    """
    if LEAST <= len(password) <= LONGEST and not _is_obvious(password, names):
        return
    short, obvious = len(password) < LEAST, LEAST <= len(password) <= LONGEST
    raise EntryError(
        code="FW-J-063",
        read=f"a password of {len(password)} letters" + (", one of those tried first, or made of the name" * obvious),
        expected=f"{LEAST} to {LONGEST} letters of any kind, not the name, not a row of keys",
        matters="who guesses it signs in as this person",
        do="take a few words that nobody else would put together" if short or obvious else "take a shorter one",
    )


@dataclass(frozen=True, slots=True)
class Session:
    """A session as it is kept.

    kept   hash of its token
    begun  seconds since 1970
    seen   when it was used last, to the minute
    """

    kept: str
    begun: float
    seen: float


class Accounts:
    """The accounts of a server.

    doors  the open file
    """

    def __init__(self, doors: Doors) -> None:
        self.doors = doors

    def add(self, person: str, login: str, password: str, *names: str) -> None:
        """Give a person an account.

        person    id of their entry in the journal
        login     what they sign in with
        password  their first one
        names     their own names, which a password must not be made of
        -> nothing; EntryError when the login is taken or the password would be guessed
        """
        need_password(password, login, *names)
        hashed = _hasher().hash(password)
        with self.doors.changing() as connection:
            taken = select(ACCOUNT.c.person).where((ACCOUNT.c.login == login) | (ACCOUNT.c.person == person))
            if connection.execute(taken).first() is not None or not login.strip():
                raise EntryError(
                    code="FW-J-064",
                    read=f"an account for {login!r}",
                    expected="a login that nobody has, for a person without an account",
                    matters="two people behind one login could not be told apart",
                    do="choose another login, or change the password of the account that is there",
                )
            connection.execute(insert(ACCOUNT).values(person=person, login=login, hash=hashed))

    def remove(self, person: str) -> None:
        """Take an account away, and all of its sessions."""
        with self.doors.changing() as connection:
            connection.execute(delete(ACCOUNT).where(ACCOUNT.c.person == person))
            connection.execute(delete(SESSION).where(SESSION.c.person == person))

    def change(self, login: str, old: str, new: str, *names: str, source: str = "") -> None:
        """Change a password by someone who knows the old one; all sessions end."""
        person = self._proven(login, old, source)
        need_password(new, login, *names)
        self._set(person, new)

    def set_anew(self, person: str, new: str, *names: str) -> None:
        """Give a person another password, by an administrator; all of their sessions end."""
        need_password(new, *names)
        self._set(person, new)

    def _set(self, person: str, password: str) -> None:
        hashed = _hasher().hash(password)
        with self.doors.changing() as connection:
            connection.execute(update(ACCOUNT).where(ACCOUNT.c.person == person).values(hash=hashed))
            connection.execute(delete(SESSION).where(SESSION.c.person == person))

    def signed_in(self, login: str, password: str, *, source: str = "") -> str:
        """Begin a session.

        source  where the request came from, such as an address
        -> its token, 256 random bits, kept here as a hash only; NotAllowed when name and password do not belong
           together, or while a wait for wrong guesses lasts
        """
        person, token, now = self._proven(login, password, source), new_token(), self.doors.seconds()
        with self.doors.changing() as connection:
            connection.execute(insert(SESSION).values(hash=kept_form(token), person=person, begun=now, seen=now))
        return token

    def who(self, token: str) -> str:
        """The person of a session that still lasts; empty when there is none."""
        now, kept = self.doors.seconds(), kept_form(token)
        with self.doors.changing() as connection:
            found = connection.execute(select(SESSION).where(SESSION.c.hash == kept)).first()
            if found is None:
                return ""
            if now - found.seen > IDLE or now - found.begun > LONGEST_SESSION or now < found.begun - IDLE:
                connection.execute(delete(SESSION).where(SESSION.c.hash == kept))
                return ""
            if now - found.seen > MINUTE:
                connection.execute(update(SESSION).where(SESSION.c.hash == kept).values(seen=now))
            return str(found.person)

    def signed_out(self, token: str) -> None:
        """End one session."""
        with self.doors.changing() as connection:
            connection.execute(delete(SESSION).where(SESSION.c.hash == kept_form(token)))

    def sessions(self, person: str) -> list[Session]:
        """The sessions of a person that were begun and not ended, the newest first."""
        asked = select(SESSION).where(SESSION.c.person == person).order_by(SESSION.c.begun.desc())
        with self.doors.store.reading() as connection:
            return [Session(str(row.hash), float(row.begun), float(row.seen)) for row in connection.execute(asked)]

    def logins(self) -> dict[str, str]:
        """The login of everybody who has an account, by the id of the person."""
        with self.doors.store.reading() as connection:
            return {str(row.person): str(row.login) for row in connection.execute(select(ACCOUNT))}

    def signed_out_everywhere(self, person: str) -> int:
        """End all sessions of a person; -> how many there were."""
        with self.doors.changing() as connection:
            return connection.execute(delete(SESSION).where(SESSION.c.person == person)).rowcount

    def _proven(self, login: str, password: str, source: str) -> str:
        """The person behind a login, once the password holds; each try counts as wrong until it proves right."""
        marks = [f"login {login}", *([f"source {source}"] if source else [])]
        with self.doors.changing() as connection:
            self._need_turn(connection, marks)
            for each in marks:
                _guessed(connection, each, self.doors.seconds())
            found = connection.execute(select(ACCOUNT).where(ACCOUNT.c.login == login)).first()
        held = _hasher_holds(found.hash if found is not None else "", password)
        if found is not None and held:
            with self.doors.changing() as connection:
                connection.execute(delete(GUESS).where(GUESS.c.what.in_(marks)))
            return str(found.person)
        raise NotAllowed(
            code="FW-N-062",
            read="a name and a password that do not belong together",
            expected="both as they were given out",
            matters="nobody is let in on a guess",
            do="try again; an administrator can give a new password",
        )

    def _need_turn(self, connection: Connection, marks: list[str]) -> None:
        until = max(connection.scalars(select(GUESS.c.until).where(GUESS.c.what.in_(marks))), default=0.0)
        wait = until - self.doors.seconds()
        if 0 < wait <= LONGEST_WAIT:  # longer only where the clock was set back
            raise NotAllowed(
                code="FW-N-063",
                read="another try after several that failed",
                expected=f"{wait:.0f} seconds of waiting",
                matters="who tries passwords one after the other finds the weak ones",
                do="wait that long, then try once more",
            )


_NOBODY = "$argon2id$v=19$m=65536,t=3,p=4$c29tZSBvdGhlciBzYWx0$7p5n8hX0l3yX2wqg1v1Vd3nq3v2o0k2mX2rY1S5nYtA"
"""Checked against when there is no such login, so that the answer takes as long."""


def _hasher_holds(hashed: str, password: str) -> bool:
    from argon2.exceptions import InvalidHashError, VerificationError

    try:
        return _hasher().verify(hashed or _NOBODY, password) and bool(hashed)
    except (VerificationError, InvalidHashError, UnicodeEncodeError):
        return False


def _guessed(connection: Connection, what: str, now: float) -> None:
    """Count a guess and say how long the next one waits."""
    found = connection.execute(select(GUESS).where(GUESS.c.what == what)).first()
    count = (int(found[1]) if found is not None else 0) + 1
    wait = min(2.0 ** (count - FREE_GUESSES), LONGEST_WAIT) if count >= FREE_GUESSES else 0.0
    connection.execute(delete(GUESS).where(GUESS.c.what == what))
    connection.execute(insert(GUESS).values(what=what, count=count, until=now + wait))
