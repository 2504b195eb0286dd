"""Accounts on a server, after ASVS 5.0; and the guard of the local door."""

from collections.abc import Iterator
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest
from sqlalchemy import select

from fluewright.errors import EntryError, NotAllowed
from fluewright.record import accounts as rules
from fluewright.record.accounts import Accounts, need_password
from fluewright.record.doors import ACCOUNT, SESSION, Doors
from fluewright.record.guard import OneTime, host_is_ours, kept_form, new_token, origin_is_ours
from fluewright.record.settings import Settings

GOOD = "copper elbow thursday"


class Clock:
    """A clock that is moved by hand."""

    def __init__(self) -> None:
        self.at = datetime(2026, 3, 1, 8, tzinfo=UTC)

    def __call__(self) -> datetime:
        return self.at

    def on(self, **by: float) -> None:
        """Move it on."""
        self.at += timedelta(**by)


@pytest.fixture
def clock() -> Clock:
    return Clock()


@pytest.fixture
def accounts(tmp_path: Path, clock: Clock) -> Iterator[Accounts]:
    """Accounts with one person."""
    doors = Doors(Settings(str(tmp_path / "shop.db")), clock)
    found = Accounts(doors)
    found.add("person-1", "inv", GOOD, "Invented Person")
    yield found
    doors.close()


@pytest.mark.parametrize("password", ["short", "1234567", "password", "PASSWORD", "aaaaaaaa", "23456789", "hgfedcba",
                                      "inventor12", "Invented1", "person123", "x" * 1025])  # fmt: skip
def test_6_2_1_and_6_2_4_a_password_that_is_tried_first_is_refused(password: str) -> None:
    with pytest.raises(EntryError):
        need_password(password, "inventor", "Invented Person")


@pytest.mark.parametrize(
    "password", [GOOD, "eightabc" + "1", "läuft öfter", "🔥🔥🧯🧯🔥🧯🔥🔥", "x7" * 40, " lead  solder "]
)
def test_6_2_5_no_rule_on_what_it_is_made_of(password: str) -> None:
    need_password(password, "inv", "Invented Person")


def test_6_2_2_and_6_2_3_a_password_is_changed_by_who_knows_the_old_one(accounts: Accounts) -> None:
    token = accounts.signed_in("inv", GOOD)
    with pytest.raises(NotAllowed):
        accounts.change("inv", "not the old one", "brass nipple sunday")
    accounts.change("inv", GOOD, "brass nipple sunday", "Invented Person")
    assert accounts.who(token) == ""
    assert accounts.who(accounts.signed_in("inv", "brass nipple sunday")) == "person-1"
    with pytest.raises(NotAllowed):
        accounts.signed_in("inv", GOOD)


def test_6_2_8_a_password_is_taken_as_it_is_typed(accounts: Accounts) -> None:
    for other in (GOOD.upper(), GOOD + " ", GOOD[:-1]):
        with pytest.raises(NotAllowed):
            accounts.signed_in("inv", other)
    assert accounts.signed_in("inv", GOOD)


def test_6_3_1_guessing_is_slowed_for_the_name_and_for_where_it_comes_from(accounts: Accounts, clock: Clock) -> None:
    for _ in range(rules.FREE_GUESSES):
        with pytest.raises(NotAllowed, match="FW-N-062"):
            accounts.signed_in("inv", "wrong guess", source="here")
    for login, source in (("inv", ""), ("another", "here")):
        with pytest.raises(NotAllowed, match="FW-N-063"):
            accounts.signed_in(login, GOOD, source=source)
    clock.on(seconds=2)
    assert accounts.signed_in("inv", GOOD, source="here")
    for n in range(25):
        clock.on(hours=1)
        with pytest.raises(NotAllowed, match="FW-N-062"):
            accounts.signed_in("inv", f"wrong {n}")
    clock.on(seconds=rules.LONGEST_WAIT - 1)
    with pytest.raises(NotAllowed, match="FW-N-063"):
        accounts.signed_in("inv", GOOD)
    clock.on(days=-30)
    assert accounts.signed_in("inv", GOOD), "a clock that was set back locks nobody out"


def test_6_3_2_there_is_no_account_until_one_is_given(tmp_path: Path) -> None:
    empty = Accounts(Doors(Settings(str(tmp_path / "new.db"))))
    for login in ("admin", "administrator", "root", ""):
        with pytest.raises(NotAllowed):
            empty.signed_in(login, "")


def test_an_absent_login_is_told_like_a_wrong_password(accounts: Accounts) -> None:
    said = []
    for login in ("inv", "nobody"):
        with pytest.raises(NotAllowed) as error:
            accounts.signed_in(login, "wrong guess")
        said.append(error.value.sentence())
    assert said[0] == said[1]
    from argon2.exceptions import VerifyMismatchError

    with pytest.raises(VerifyMismatchError):
        rules._hasher().verify(rules._NOBODY, "anything")


def test_what_is_kept_is_argon2id_and_hashes_of_tokens(accounts: Accounts) -> None:
    token = accounts.signed_in("inv", GOOD)
    with accounts.doors.store.reading() as connection:
        kept = connection.execute(select(ACCOUNT)).one()
        session = connection.execute(select(SESSION)).one()
    assert kept.hash.startswith("$argon2id$v=19$m=65536,t=3,p=4$") and GOOD not in kept.hash
    assert session.hash == kept_form(token) != token and len(token) == 43
    path = accounts.doors.store.settings.path()
    assert path.stat().st_mode & 0o077 == 0 and path.parent.name == "shop.keys"


def test_7_3_a_session_ends_unused_and_at_the_latest(accounts: Accounts, clock: Clock) -> None:
    token = accounts.signed_in("inv", GOOD)
    clock.on(hours=11)
    assert accounts.who(token) == "person-1"
    clock.on(hours=13)
    assert accounts.who(token) == "" and accounts.who(token) == ""
    token = accounts.signed_in("inv", GOOD)
    for _ in range(14):
        clock.on(hours=11.9)
        accounts.who(token)
    clock.on(hours=11)
    assert accounts.who(token) == ""


def test_7_4_signing_out_here_and_everywhere(accounts: Accounts) -> None:
    tokens = [accounts.signed_in("inv", GOOD) for _ in range(3)]
    assert len(set(tokens)) == 3
    accounts.signed_out(tokens[0])
    assert [accounts.who(each) for each in tokens] == ["", "person-1", "person-1"]
    assert accounts.signed_out_everywhere("person-1") == 2
    assert not any(accounts.who(each) for each in tokens)


def test_7_4_2_an_account_taken_away_ends_its_sessions(accounts: Accounts) -> None:
    token = accounts.signed_in("inv", GOOD)
    accounts.remove("person-1")
    assert accounts.who(token) == ""
    with pytest.raises(NotAllowed):
        accounts.signed_in("inv", GOOD)


def test_one_login_is_one_person(accounts: Accounts) -> None:
    for who, login in (("person-2", "inv"), ("person-1", "other"), ("person-3", " ")):
        with pytest.raises(EntryError):
            accounts.add(who, login, GOOD)


@pytest.mark.parametrize("header", ["127.0.0.1:8765", "localhost:8765", "LOCALHOST:8765", "[::1]:8765", "127.0.0.1",
                                    "shop.example:8765"])  # fmt: skip
def test_a_host_of_ours(header: str) -> None:
    assert host_is_ours(header, port=8765, names=["shop.example"])


@pytest.mark.parametrize("header", ["", "evil.example", "evil.example:8765", "127.0.0.1:80",
                                    "127.0.0.1.evil.example:8765", "127.0.0.1:8765@evil.example", "localhost:",
                                    "localhost:8765:8765", " localhost:8765", "127.0.0.1:٨٧٦٥", "127.1:8765",
                                    "localhost,evil.example", "0.0.0.0:8765"])  # fmt: skip
def test_another_host(header: str) -> None:
    assert not host_is_ours(header, port=8765, names=["shop.example"])


@pytest.mark.parametrize(("origin", "site", "ours"), [
    ("http://127.0.0.1:8765", "same-origin", True), ("http://localhost:8765", "", True), ("", "", True),
    ("", "none", True), ("null", "", False), ("http://evil.example", "", False), ("http://127.0.0.1:9", "", False),
    ("http://127.0.0.1:8765", "cross-site", False), ("http://127.0.0.1:8765", "same-site", False),
    ("http://127.0.0.1:8765/path", "", False), ("file://127.0.0.1:8765", "", False), ("http://127.0.0.1:x", "", False),
    ("http://user@127.0.0.1:8765", "", False), ("http://127.0.0.1", "", False),
])  # fmt: skip
def test_a_change_comes_from_a_page_of_ours(origin: str, site: str, ours: bool) -> None:
    assert origin_is_ours(origin, method="POST", fetch_site=site, port=8765) is ours
    assert origin_is_ours(origin, method="GET", fetch_site=site, port=8765)


def test_a_one_time_token_opens_once() -> None:
    token = new_token()
    door = OneTime(kept_form(token))
    assert not door.spent("") and not door.spent(token[:-1])
    assert door.spent(token) and not door.spent(token)
    assert not OneTime("").spent("")
