"""kill -9 of the real server at random in a scripted journey: nothing acknowledged is lost, twice sent is once kept.

FLUEWRIGHT_KILLS says how often; 20 times where nobody says.
"""

import json
import os
import random
import signal
import subprocess
import sys
import threading
import time
from collections.abc import Iterator
from contextlib import suppress
from http.client import HTTPConnection, HTTPException
from pathlib import Path
from typing import Any

import trust
from fluewright import clock
from fluewright.record.check import every
from fluewright.record.opening import opened
from fluewright.record.settings import Settings

SRC = Path(__file__).resolve().parents[2] / "src"
RUN = "from fluewright.cli.main import run; run()"
KILLS = int(os.environ.get("FLUEWRIGHT_KILLS", "20"))
SEED = 20261125
LATEST = 0.8
"""Seconds after the first answer within which the server is killed; a post takes some ten milliseconds."""
DOOR = {"visit": {"title": "Made-up visit"}, "appliance": {"words": "boiler that does not exist"},
        "fuel": {"name": "natural-gas"}}  # fmt: skip


class Server:
    """The real program in a process of its own, started again on the same journal after each kill."""

    def __init__(self, folder: Path) -> None:
        self.journal = folder / "journal.db"
        self.environment = {**os.environ, "PYTHONPATH": str(SRC)}
        self._run("journal", "new")
        self.token = json.loads(self._run("journal", "tokens", "--make", "kill test", "--may", "read", "--may", "work",
                                          "--json"))["token"]  # fmt: skip

    def _run(self, *words: str) -> str:
        command = [sys.executable, "-c", RUN, *words, "--journal", str(self.journal)]
        return subprocess.run(command, capture_output=True, text=True, env=self.environment, check=True).stdout

    def start(self) -> None:
        command = [sys.executable, "-c", RUN, "serve", "--port", "0", "--json", "--journal", str(self.journal)]
        self.going = subprocess.Popen(command, stdout=subprocess.PIPE, text=True, env=self.environment)
        assert self.going.stdout is not None
        address = json.loads(self.going.stdout.readline())["address"]
        self.port = int(address.split(":")[2].partition("/")[0])

    def kill(self) -> None:
        self.going.send_signal(signal.SIGKILL)
        self.going.wait()

    def asked(self, method: str, path: str, told: Any = None) -> Any:
        """What it answers; OSError or HTTPException when it died before it had."""
        connection = HTTPConnection("127.0.0.1", self.port, timeout=30)
        try:
            headers = {"authorization": f"Bearer {self.token}", "content-type": "application/json"}
            connection.request(method, f"/api{path}", json.dumps(told) if told else None, headers)
            answer = connection.getresponse()
            body = json.loads(answer.read())
            assert answer.status in (200, 201), body
            return body
        finally:
            connection.close()


def sendings() -> Iterator[tuple[str, dict[str, Any]]]:
    """The journey without an end: readings, remarks, steps, notices, each with an id of its own."""
    number = 0
    while True:
        number += 1
        told: list[tuple[str, dict[str, Any]]] = [
            (
                "lines",
                {"line": f"o2 {4 + number % 5}.{number % 10} co {20 + number} stack 385F air 66F at port {number}"},
            ),
            ("lines", {"line": f"note remark {number}"}),
            ("steps", {"word": f"air band turned, {number}"}),
            ("notices", {"words": f"made-up danger {number}", "consent": "yes"}),
        ]
        path, what = told[number % len(told)]
        yield path, {"id": clock.new_id(), **what}


class Journey:
    """What was sent, and what of it was acknowledged."""

    def __init__(self, server: Server, visit: str) -> None:
        self.server = server
        self.visit = visit
        self.next = sendings()
        self.sent: tuple[str, dict[str, Any]] | None = None
        self.kept: dict[str, list[str]] = {}
        self.again = 0

    def go_on(self) -> None:
        """Send until the server dies; what was not answered is the first to be sent again."""
        with suppress(OSError, HTTPException):
            while True:
                if self.sent is None:
                    self.sent = next(self.next)
                else:
                    self.again += 1
                path, told = self.sent
                answer = self.server.asked("POST", f"/visits/{self.visit}/{path}", told)
                self.kept[told["id"]] = answer["entries"]
                self.sent = None


def test_kill_9_of_the_server_loses_nothing_acknowledged(tmp_path: Path) -> None:
    chance = random.Random(SEED)
    server = Server(tmp_path)
    server.start()
    journey = Journey(server, server.asked("POST", "/visits", {"id": clock.new_id(), **DOOR})["visit"])
    for _ in range(KILLS):
        going = threading.Thread(target=journey.go_on)
        going.start()
        time.sleep(chance.uniform(0.0, LATEST))
        server.kill()
        going.join()
        server.start()
    there = server.asked("GET", f"/visits/{journey.visit}/entries")
    server.kill()
    ids = [each["id"] for each in there]
    acknowledged = [entry for entries in journey.kept.values() for entry in entries]
    lost = set(acknowledged) - set(ids)
    words = [each["words"] for each in there if each["kind"] in ("note", "step", "notice")]
    twice = len(words) - len(set(words))
    trust.told(1, "kill -9 of the server during a visit", acknowledged=len(acknowledged), killed=KILLS, lost=len(lost),
               sent_again=journey.again, kept_twice=twice)  # fmt: skip
    assert len(acknowledged) > KILLS and journey.again > 0
    assert not lost and twice == 0 and len(ids) == len(set(ids))
    found = opened(Settings(str(server.journal)))
    assert not found.wrong and every(found.journal.store).wrong == []


def test_what_is_sent_again_after_a_kill_is_what_was_kept(tmp_path: Path) -> None:
    """The answer was lost and the entry was not: sending it again gives the same entries and keeps nothing new."""
    server = Server(tmp_path)
    server.start()
    visit = server.asked("POST", "/visits", {"id": clock.new_id(), **DOOR})["visit"]
    told = {"id": clock.new_id(), "line": "o2 4.3 co 38 stack 385F air 66F"}
    first = server.asked("POST", f"/visits/{visit}/lines", told)
    server.kill()
    server.start()
    count = len(server.asked("GET", f"/visits/{visit}/entries"))
    assert server.asked("POST", f"/visits/{visit}/lines", told) == first
    assert len(server.asked("GET", f"/visits/{visit}/entries")) == count
    server.kill()
