"""A real server with a hub in it, in a process of its own, and its stream read as a browser reads it."""

import http.client
import json
import os
import re
import subprocess
import sys
import time
from collections.abc import Iterator
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

SRC = Path(__file__).resolve().parents[2] / "src"
RUN = "from fluewright.cli.main import run; run()"

PUSHED = """
[source]
name = "meter"
kind = "push"
instrument = "invented meter"
[connection]
port = {port}
[text]
form = "json"
sequence = "n"
{trust}
[[channel]]
from = "o2"
quantity = "oxygen_dry"
unit = "%"
t90 = "1 s"
[[channel]]
from = "co"
quantity = "carbon_monoxide_dry"
unit = "ppm"
t90 = "1 s"
"""


class Server:
    """`fluewright serve` on a port that stays the same over a kill, as a browser knows it."""

    def __init__(self, folder: Path, *words: str, port: int = 0) -> None:
        self.folder, self.words, self.port = folder, words, port
        self.cookie = ""
        self.told: dict[str, str] = {}
        self.environment = {**os.environ, "PYTHONPATH": str(SRC), "XDG_DATA_HOME": str(folder / "data"),
                            "XDG_CONFIG_HOME": str(folder / "config")}  # fmt: skip

    def run(self, *words: str) -> str:
        command = [sys.executable, "-c", RUN, *words]
        return subprocess.run(command, capture_output=True, text=True, env=self.environment, check=True).stdout

    def begin(self) -> None:
        command = [sys.executable, "-c", RUN, "serve", "--port", str(self.port), "--json", *self.words]
        self.process = subprocess.Popen(
            command, cwd=self.folder, text=True, stdout=subprocess.PIPE, stderr=subprocess.PIPE, env=self.environment
        )
        assert self.process.stdout is not None
        line = self.process.stdout.readline()
        assert line, self.process.stderr.read() if self.process.stderr else ""
        self.told = json.loads(line)
        self.port = int(self.told["address"].split(":")[2].partition("/")[0])
        if not self.cookie:
            answer = self.ask("GET", self.told["address"].partition(str(self.port))[2])
            self.cookie = "; ".join(each.partition(";")[0] for each in answer[1])

    @property
    def here(self) -> str:
        return f"http://127.0.0.1:{self.port}"

    def ask(self, method: str, path: str, fields: dict[str, str] | None = None) -> tuple[int, list[str], str]:
        """Status, cookies and text of an answer."""
        from urllib.parse import urlencode

        connection = http.client.HTTPConnection("127.0.0.1", self.port, timeout=30)
        headers = {"cookie": self.cookie} | ({"origin": self.here} if fields is not None else {})
        body = None if fields is None else urlencode(fields)
        if body is not None:
            headers["content-type"] = "application/x-www-form-urlencoded"
        connection.request(method, path, body, headers)
        answer = connection.getresponse()
        text = answer.read().decode()
        connection.close()
        return answer.status, answer.headers.get_all("set-cookie") or [], text

    def sent(self, visit: str, what: str, **fields: str) -> str:
        """A form of the page that is watched, sent as it stands there; -> the page after it."""
        _, _, page = self.ask("GET", f"/visit/{visit}/live")
        own = dict(reversed(re.findall(r'name="(mark|form|sent)" value="([^"]+)"', page)))
        status, _, text = self.ask("POST", f"/visit/{visit}/live/{what}", {**own, **fields})
        assert status in (200, 303), text
        return text

    def kill(self) -> None:
        self.process.kill()
        self.process.wait()
        for pipe in (self.process.stdout, self.process.stderr):
            if pipe is not None:
                pipe.close()

    def end(self, within: float = 20.0) -> float:
        """Stop it as Ctrl-C does; -> s until it had ended."""
        begun = time.monotonic()
        self.process.terminate()
        self.process.wait(within)
        took = time.monotonic() - begun
        for pipe in (self.process.stdout, self.process.stderr):
            if pipe is not None:
                pipe.close()
        return took


@dataclass
class Stream:
    """The frames of one page, as they come."""

    server: Server
    visit: str
    last: str = ""
    frames: list[dict[str, Any]] = field(default_factory=list)

    def open(self) -> None:
        self.connection = http.client.HTTPConnection("127.0.0.1", self.server.port, timeout=20)
        headers = {"cookie": self.server.cookie} | ({"last-event-id": self.last} if self.last else {})
        self.connection.request("GET", f"/visit/{self.visit}/live/stream?width=600.600.400", headers=headers)
        self.answer = self.connection.getresponse()
        assert self.answer.status == 200, self.answer.read()
        assert self.answer.headers["content-type"].startswith("text/event-stream")

    def events(self, seconds: float) -> Iterator[dict[str, Any]]:
        """What comes for a while; the connection may break meanwhile."""
        end, number = time.monotonic() + seconds, ""
        while time.monotonic() < end:
            try:
                line = self.answer.readline().decode().rstrip("\n")
            except (OSError, http.client.HTTPException):
                return
            if line.startswith("id: "):
                number = line[4:]
            elif line.startswith("data: "):
                self.last = number
                self.frames.append({**json.loads(line[6:]), "came": time.monotonic()})
                yield self.frames[-1]
            elif not line and self.answer.isclosed():
                return

    def close(self) -> None:
        self.connection.close()
