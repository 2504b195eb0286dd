"""The door for programs over an invented journal, asked with the tokens of invented people."""

from collections.abc import Sequence
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

from starlette.testclient import TestClient

from fluewright import clock, serving
from fluewright.record.accounts import Accounts
from fluewright.record.doors import Doors
from fluewright.record.draft import Draft
from fluewright.record.journal import Journal
from fluewright.record.keys_ed25519 import key_of
from fluewright.record.people import ACTIONS, ROLES
from fluewright.record.settings import Settings as Place
from fluewright.record.tokens import NEVER_GIVEN, Tokens
from fluewright.web.settings import Settings

PORT = 8766
HERE = f"https://shop.example:{PORT}"
NOW = datetime(2026, 11, 25, 10, 42, tzinfo=UTC)
GIVEN = [action for action in ACTIONS if action not in NEVER_GIVEN]
PASSWORD = "copper kettle on a hill"
DOOR = {
    "visit": {"title": "Made-up visit", "jurisdiction": "US"},
    "appliance": {"words": "boiler that does not exist"},
    "fuel": {"name": "natural-gas"},
}
WHOLE = "o2 4.3 co 38 stack 385F air 66F"


class ShopDoor:
    """A shop's server with one person of each role, each with an account and a token of all rights."""

    def __init__(self, folder: Path, **told: Any) -> None:
        place = Place(str(folder / "journal.db"))
        self.doors = Doors(place)
        given: dict[str, Any] = {"port": PORT, "names": ("shop.example",), "shared": True, "secure": True, **told}
        settings = Settings(place, b"s" * 32, key=key_of(place), doors=self.doors, now=lambda: NOW, **given)
        self.app = serving.create_app(settings)
        self.tokens, self.accounts = Tokens(self.doors), Accounts(self.doors)
        self.people = {role: self._person(role) for role in ROLES}
        self.token = {role: self.given(role, GIVEN) for role in ROLES}

    def _person(self, role: str) -> str:
        entry = self.journal.add(Draft("person", {"name": f"{role.title()} Placeholder (invented)", "role": role}))
        self.accounts.add(entry.id, role, PASSWORD)
        return entry.id

    @property
    def journal(self) -> Journal:
        found: Journal = self.app.state.shop.journal
        return found

    def given(self, role: str, rights: Sequence[str]) -> str:
        return self.tokens.made(self.people[role], f"program of {role}", rights)

    def client(self, token: str = "") -> TestClient:
        headers = {"authorization": f"Bearer {token}"} if token else {}
        return TestClient(self.app, base_url=HERE, headers=headers, raise_server_exceptions=False)

    def close(self) -> None:
        serving.closed(self.app)
        self.doors.close()


class Program:
    """A program that asks with one token."""

    def __init__(self, door: ShopDoor, token: str) -> None:
        self.client = door.client(token)

    def ask(self, path: str, *, status: int = 200, **query: Any) -> Any:
        answer = self.client.get(f"/api{path}", params=query)
        assert answer.status_code == status, answer.text
        return answer.json()

    def send(self, path: str, told: dict[str, Any], *, status: int = 201, chosen: str = "") -> Any:
        answer = self.client.post(f"/api{path}", json={"id": chosen or clock.new_id(), **told})
        assert answer.status_code == status, answer.text
        return answer.json()

    def begin(self) -> str:
        return str(self.send("/visits", DOOR)["visit"])
