"""The whole of the pages in one invented shop: every page that can be asked for, by the route that answers it."""

import threading
from pathlib import Path
from typing import Any

import uvicorn
from pages_kit import TOKEN, Pages

from fluewright.cli.serve import _listening
from fluewright.record.draft import Draft
from fluewright.visit import adding, changing, demo_shop, kept, sent_in
from fluewright.web.app import ROUTES

FILES = {
    "/visit/{code}/photo/{entry}": "a picture",
    "/records/bundle.tar": "a file",
    "/records/tables.zip": "a file",
    "/visit/{code}/paper.pdf": "a file",
    "/visit/{code}/paper.html": "a file, looked at by tests/faces/test_html.py",
    "/visit/{code}/bundle.tar": "a file",
    "/visit/{code}/live": "the live page has its own tests",
    "/visit/{code}/live/stream": "events, not a page: tests/web/test_web_watching.py",
}
"""Routes that answer with something other than a page of this door, and why they are not looked at here."""

HOOD = {"words": "gas boiler with a hood", "class": "natural-draft-boiler", "serial": "NOT-REAL-0777"}
DOOR: dict[str, Any] = {
    "visit": {"title": "Gas boiler with a hood, annual", "date": "2026-11-25", "jurisdiction": "US-MN", "units": "us",
              "technician": "T. Placeholder (invented)", "site": "Made-up Street 1, Nowhere", "route": "annual",
              "invented": True},
    "appliance": HOOD,
    "fuel": {"name": "natural-gas"},
    "instrument": {"words": "analyser NOT-REAL-A7", "accuracy": "statutory", "zero": "outdoors"},
}  # fmt: skip
KINDS = ("customer", "site", "space", "appliance", "flue-group", "vent", "instrument")


class Whole:
    """The pages over the invented shop on a port of this machine, with a visit in each state that a visit has."""

    def __init__(self, folder: Path, *, filled: bool = True) -> None:
        self.socket = _listening(0)
        self.port: int = self.socket.getsockname()[1]
        self.here = f"http://127.0.0.1:{self.port}"
        places = {"books": folder / "books", "copies": folder / "copies"}
        self.pages = Pages(folder, port=self.port, practice=filled, **places)
        if filled:
            demo_shop.filled(self.pages.journal, self.pages.app.state.shop.settings.key)
            self._work()
        self.server = uvicorn.Server(uvicorn.Config(self.pages.app, log_level="error", timeout_graceful_shutdown=1))
        self.thread = threading.Thread(target=self.server.run, args=([self.socket],), daemon=True)
        self.thread.start()

    def _work(self) -> None:
        journal = self.pages.journal
        self.visit = kept.begun(journal, DOOR).id
        for line in ("room: symptoms=no", "o2 7.1 co 52 stack 431F air 66F at below hood, left of baffle"):
            adding.added(journal, self.visit, line)
        changing.stepped(journal, self.visit, "air openings cleared")
        adding.added(journal, self.visit, "o2 5.6 co 21 stack 389F air 66F at below hood, left of baffle")
        self.danger = kept.begun(journal, {**DOOR, "appliance": {**HOOD, "serial": "NOT-REAL-0778"}}).id
        adding.added(journal, self.danger, "room: symptoms=yes")
        self.notice = changing.noticed(journal, self.danger, "flue gas spills into the cellar", consent="refused").id

    def close(self) -> None:
        self.server.should_exit = True
        self.thread.join(10)
        self.socket.close()
        self.pages.close()

    def come_in(self, context: Any) -> Any:
        """A browser that has come in, with the things of the shop looked up by it."""
        tab = context.new_page()
        tab.goto(f"{self.here}/open?token={TOKEN}")
        return tab

    def addresses(self) -> dict[str, str]:
        """An address for every route that answers with a page; things that the shop has not are entered first."""
        site = self.of_kind("site")
        journal = self.pages.journal
        made = {
            "space": Draft("space", {"name": "cellar that does not exist", "site": site}),
            "flue group": Draft("flue group", {"words": "the two in the cellar", "appliances": [], "site": site}),
            "vent": Draft("vent", {"words": "vent NOT-REAL-V1", "material": "steel"}),
        }
        own = {kind: journal.add(draft).id for kind, draft in made.items()}
        found: dict[str, str] = {}
        for path in pages_of_routes():
            kind = path.split("/")[1].replace("-", " ")
            code = self.visit if kind == "visit" else own.get(kind) or (self.of_kind(kind) if "{code}" in path else "")
            entry = path == "/visit/{code}/notice/{entry}"
            found[path] = (
                path.replace("{code}", self.danger if entry else code)
                .replace("{entry}", self.notice)
                .replace("{number}", "1")
                .replace("{id}", "practice-co-act")
                .replace("{name}", self.brought())
            )
        return found

    def of_kind(self, kind: str) -> str:
        """One thing of a kind."""
        return next(each.entry.id for each in self.pages.journal.of_kind(kind))

    def brought(self) -> str:
        """The name of something that waits to be brought in: a recorded trace."""
        waiting = self.pages.app.state.shop.waiting
        return str(waiting.put(sent_in.told({"trace.csv": b"time,O2 %,CO ppm\n0,4.3,38\n1,4.4,37\n2,4.3,39\n"})))


def pages_of_routes() -> list[str]:
    """Every route that answers with a page."""
    return [path for method, path, *_ in ROUTES if method == "GET" and path not in FILES]
