"""B12: pages asked for as a browser asks, and a line sent as a tap sends it, with the whole shop in the journal."""

import random
import re
import time
from functools import partial
from typing import Any

from sqlalchemy import select

from benchmarks.measure import Aim, Report, Times
from benchmarks.shops import shop
from fluewright.record.settings import Settings as Place
from fluewright.record.views.catching_up import looked_at
from fluewright.record.views.visits import VISIT

LOOKS, VISITS, READINGS = 60, 4, 26
PORT = 8766
LINES = ("o2 4.3 co 38", "stack 385F air 66F", "manifold 3.5", "draft -.02", "o2 5.1", "co 22")
DOOR = {"appliance": "furnace that does not exist", "fuel": "natural-gas", "jurisdiction": "US",
        "technician": "T. Placeholder (invented)", "site": "Made-up Street 1, Nowhere"}  # fmt: skip


class Browser:
    """A browser without a screen, before the door's own app: no network, all of the handler's work."""

    def __init__(self, place: Place) -> None:
        from starlette.testclient import TestClient

        from fluewright.web.app import create_app
        from fluewright.web.settings import Settings

        self.client = TestClient(create_app(Settings(place, b"known to this bench only, 32byte", token="once")),
                                 base_url=f"http://127.0.0.1:{PORT}")  # fmt: skip
        self.ask("/open?token=once")

    def ask(self, path: str) -> Any:
        """A page; it has to be one."""
        answer = self.client.get(path)
        assert answer.status_code == 200, answer.text[:500]
        return answer

    def send(self, page: Any, path: str, fields: dict[str, str]) -> Any:
        """A form of a page."""
        hidden = dict(reversed(re.findall(r'name="(mark|form|sent)" value="([^"]*)"', page.text)))
        answer = self.client.post(path, data={**hidden, **fields})
        assert answer.status_code == 200, answer.text[:500]
        return answer


def p95(times: Times) -> float:
    """The time that nineteen in twenty stay below."""
    return sorted(times.rounds)[int(len(times.rounds) * 0.95)]


def timed(call: Any) -> tuple[float, Any]:
    """Seconds of one call, and what it gave."""
    start = time.perf_counter()
    found = call()
    return time.perf_counter() - start, found


def _report(work: str, times: Times, aim: float, bare: Times, said: str) -> Report:
    words = f"95 of 100 within {aim * 1e3:.0f} ms: {p95(times) * 1e3:.1f} ms"
    return Report("B12", work, "answer", times, {"a page that says no more than its frame": bare},
                  bare.best / times.best, "a page that says no more than its frame", said,
                  (Aim(words, p95(times) <= aim),))  # fmt: skip


def _worked(browser: Browser, bare: Times) -> Report:
    """Visits worked line by line: each answer is the sheet after a commit."""
    taken: list[float] = []
    for _ in range(VISITS):
        page = browser.send(browser.ask("/visit/new"), "/visit/new", DOOR)
        visit = page.url.path
        for number in range(READINGS):
            line = LINES[number % len(LINES)]
            seconds, page = timed(partial(browser.send, page, visit + "/line", {"line": line}))
            taken.append(seconds)
    said = f"the last sheet has {len(page.content) / 1000:.0f} kB"
    return _report(f"{VISITS} visits of {READINGS} lines, each kept", Times(tuple(taken)), 0.1, bare, said)


def run() -> list[Report]:
    """All of it on one shop."""
    journal = shop()
    with looked_at(journal.store) as connection:
        ids = connection.scalars(select(VISIT.c.id)).all()
    browser = Browser(journal.store.settings)
    browser.ask("/")  # the first letter after a start catches up with what the journal took in
    bare = Times(tuple(timed(lambda: browser.ask("/look"))[0] for _ in range(LOOKS)))
    first = Times(tuple(timed(lambda: browser.ask("/"))[0] for _ in range(LOOKS)))
    asked = random.Random(12).choices(ids, k=LOOKS)
    sheets = [timed(partial(browser.ask, f"/visit/{one}")) for one in asked]
    weight = max(len(page.content) for _, page in sheets)
    found = Times(
        tuple(timed(partial(browser.ask, f"/find?words={words}"))[0] for words in ("soot", "hood", "gasket") * 20)
    )
    size = f"{len(ids):,} visits in the journal"
    return [
        _report(f"the letter of today, {size}", first, 0.1, bare, ""),
        _report(f"any of {size}", Times(tuple(seconds for seconds, _ in sheets)), 0.1, bare,
                f"the heaviest sheet has {weight / 1000:.0f} kB"),
        _report(f"words looked for, {size}", found, 0.1, bare, ""),
        _worked(browser, bare),
    ]  # fmt: skip
