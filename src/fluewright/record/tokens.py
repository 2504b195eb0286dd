"""Tokens for programs: each works for one person, may do only what it was given, ends on a day, and can be revoked."""

from collections.abc import Sequence
from dataclasses import dataclass

from sqlalchemy import delete, insert, select, update

from fluewright.errors import EntryError
from fluewright.record.doors import TOKEN, Doors
from fluewright.record.guard import kept_form, new_token
from fluewright.record.people import ACTIONS

MARK = "fw_"
"""What every token begins with, so that one that was left in a file can be found."""

SHORT = 12
"""Letters of its kept form by which a token is named."""

LONGEST_DAYS = 366
NEVER_GIVEN = frozenset(("keep people", "pair device", "revoke key", "erase"))
"""What only a person does: these change who may do what, or cannot be taken back."""

MINUTE, DAY = 60.0, 86400.0


@dataclass(frozen=True, slots=True)
class Token:
    """A token as it is kept; the token itself is known only to the program that has it.

    name    by which it is revoked
    person  id of the person it works for
    words   what the program is
    rights  what it may do
    until   seconds since 1970 after which it opens nothing
    used    when it was used last, 0 for never
    """

    name: str
    person: str
    words: str
    rights: frozenset[str]
    until: float
    used: float


class Tokens:
    """The tokens of a machine.

    doors  the open file
    """

    def __init__(self, doors: Doors) -> None:
        self.doors = doors

    def made(self, person: str, words: str, rights: Sequence[str], *, days: int = 90) -> str:
        """A new token, told once and kept as a hash only.

        person  id of the person whose program it is; it never may more than they
        words   what the program is
        rights  what it may do, of `people.ACTIONS`
        days    after which it ends
        -> the token; EntryError where a right is unknown or never given to a program
        """
        strange = [each for each in rights if each not in ACTIONS or each in NEVER_GIVEN]
        if strange or not rights or not words.strip() or not 0 < days <= LONGEST_DAYS:
            raise EntryError(
                code="FW-J-160",
                read=f"a token for {words[:80]!r} with {', '.join(strange or rights) or 'no right'}, {days} days",
                expected="words for the program, some of: " + ", ".join(e for e in ACTIONS if e not in NEVER_GIVEN)
                + f"; 1 to {LONGEST_DAYS} days",
                matters="a token opens the records to whoever finds it, so it has to be small and to end",
                do="name what the program does and only the rights that this takes",
            )  # fmt: skip
        token, now = MARK + new_token(), self.doors.seconds()
        row = {"hash": kept_form(token), "person": person, "words": words.strip(), "begun": now, "used": 0.0}
        with self.doors.changing() as connection:
            connection.execute(insert(TOKEN).values(**row, rights="\n".join(rights), until=now + days * DAY))
        return token

    def found(self, token: str) -> Token | None:
        """The token that still counts; None for any other text."""
        if not token.startswith(MARK):
            return None
        now, kept = self.doors.seconds(), kept_form(token)
        with self.doors.store.reading() as connection:
            row = connection.execute(select(TOKEN).where(TOKEN.c.hash == kept)).first()
        if row is None or not row.begun - DAY <= now < row.until:
            return None
        if now - row.used > MINUTE:
            with self.doors.changing() as connection:
                connection.execute(update(TOKEN).where(TOKEN.c.hash == kept).values(used=now))
        return _token(row)

    def all(self) -> list[Token]:
        """Every token that was made and not revoked, ended ones too."""
        with self.doors.store.reading() as connection:
            return [_token(row) for row in connection.execute(select(TOKEN).order_by(TOKEN.c.begun))]

    def revoked(self, name: str) -> bool:
        """Take a token away by its name; -> whether there was one."""
        if len(name) != SHORT:
            return False
        with self.doors.changing() as connection:
            done = connection.execute(delete(TOKEN).where(TOKEN.c.hash.startswith(name, autoescape=True)))
            return done.rowcount > 0


def _token(row: object) -> Token:
    kept = row._mapping  # type: ignore[attr-defined]
    rights = frozenset(str(kept["rights"]).split("\n"))
    return Token(str(kept["hash"])[:SHORT], kept["person"], kept["words"], rights, kept["until"], kept["used"])
