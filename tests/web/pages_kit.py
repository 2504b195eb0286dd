"""Pages over an invented journal, asked as a browser asks: with a cookie, and with forms as the page made them."""

import re
from collections.abc import Mapping
from datetime import UTC, datetime
from html import unescape
from pathlib import Path
from typing import Any

from starlette.testclient import TestClient

from fluewright.record.journal import Journal
from fluewright.record.keys_ed25519 import key_of
from fluewright.record.settings import Settings as Place
from fluewright.web.app import closed, create_app
from fluewright.web.settings import Settings

PORT = 8766
HERE = f"http://127.0.0.1:{PORT}"
TOKEN = "opens-once"
SECRET = b"known to this door only, 32 byte"
NOW = datetime(2026, 11, 25, 10, 42, tzinfo=UTC)
WHOLE = "o2 4.3 co 38 stack 385F air 66F"


class Pages:
    """One browser before one door."""

    def __init__(self, folder: Path, **told: Any) -> None:
        place = Place(str(folder / "journal.db"))
        key = key_of(place)
        given = {"port": PORT, "token": TOKEN, "key": key, "now": lambda: NOW, **told}
        self.app = create_app(Settings(place, SECRET, **given))
        self.client = TestClient(self.app, base_url=HERE, raise_server_exceptions=False)
        self.last = ""

    @property
    def journal(self) -> Journal:
        found: Journal = self.app.state.shop.journal
        return found

    def close(self) -> None:
        self.client.close()
        closed(self.app)

    def come_in(self) -> "Pages":
        assert self.client.get(f"/open?token={TOKEN}").status_code == 200
        return self

    def get(self, path: str, *, status: int = 200) -> str:
        answer = self.client.get(path)
        assert answer.status_code == status, answer.text
        self.last = answer.text
        return answer.text

    def carry(self, name: str, value: str) -> None:
        """Come with another cookie of a name."""
        self.client.cookies.delete(name)
        self.client.cookies.set(name, value, domain="127.0.0.1")

    def form(self) -> dict[str, str]:
        """The hidden fields of the first form of the page that was loaded last."""
        return dict(reversed(re.findall(r'name="(mark|form|sent)" value="([^"]*)"', self.last)))

    def post(self, path: str, fields: Mapping[str, str], *, status: int = 200) -> str:
        answer = self.client.post(path, data={**self.form(), **fields})
        assert answer.status_code == status, answer.text
        self.last, self.at = answer.text, answer.url.path
        return answer.text

    def begin(self, **fields: str) -> str:
        """A new visit; its id."""
        self.get("/visit/new")
        door = {"appliance": "boiler that does not exist", "fuel": "natural-gas", "jurisdiction": "US",
                "technician": "T. Placeholder (invented)", "site": "Made-up Street 1, Nowhere"}  # fmt: skip
        self.post("/visit/new", {**door, **fields})
        return self.at.removeprefix("/visit/")

    def keep(self, visit: str, line: str, *, status: int = 200) -> str:
        self.get(f"/visit/{visit}")
        return self.post(f"/visit/{visit}/line", {"line": line}, status=status)

    def count(self, visit: str) -> int:
        return len(self.journal.of_subject(visit))


def visible(made: str) -> str:
    """The words of a page, without its tags."""
    return " ".join(unescape(re.sub(r"<[^>]+>", " ", made)).split())
