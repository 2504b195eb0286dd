"""`fluewright serve` in a process of its own: its address opens once, and what it acknowledged outlives a kill."""

import json
import os
import re
import signal
import subprocess
import sys
from http.cookiejar import CookieJar
from pathlib import Path
from urllib.error import HTTPError
from urllib.parse import urlencode, urlsplit
from urllib.request import HTTPCookieProcessor, ProxyHandler, build_opener

import pytest

from fluewright.cli.main import main
from fluewright.cli.serve import _listening

SRC = Path(__file__).resolve().parents[2] / "src"
RUN = "from fluewright.cli.main import run; run()"
KILLS = 4


def started(journal: Path, port: str = "0") -> tuple[subprocess.Popen[str], str]:
    """The server, and the address that it printed."""
    command = [sys.executable, "-c", RUN, "serve", "--port", port, "--json", "--journal", str(journal)]
    environment = {**os.environ, "PYTHONPATH": str(SRC)}
    going = subprocess.Popen(command, stdout=subprocess.PIPE, text=True, env=environment)
    assert going.stdout is not None
    return going, json.loads(going.stdout.readline())["address"]


def hidden(made: str) -> dict[str, str]:
    return dict(reversed(re.findall(r'name="(mark|form|sent)" value="([^"]*)"', made)))


class Browser:
    """What a browser does, as far as it matters here: it keeps cookies and follows on."""

    def __init__(self, address: str) -> None:
        self.here = address.partition("/open")[0]
        self.opener = build_opener(ProxyHandler({}), HTTPCookieProcessor(CookieJar()))
        self.get(address.removeprefix(self.here))

    def get(self, path: str, fields: dict[str, str] | None = None) -> str:
        body = urlencode(fields).encode() if fields is not None else None
        with self.opener.open(self.here + path, body, timeout=60) as answer:
            self.at = urlsplit(answer.url).path
            return str(answer.read().decode())

    def post(self, path: str, fields: dict[str, str], of: str) -> str:
        """A form of the page `of`, sent."""
        return self.get(path, {**hidden(self.get(of)), **fields})

    def begin(self) -> str:
        self.post("/visit/new", {"appliance": "boiler that does not exist", "fuel": "natural-gas"}, of="/visit/new")
        return self.at


def test_what_was_acknowledged_outlives_a_kill(tmp_path: Path) -> None:
    journal, visit, told = tmp_path / "journal.db", "", []
    for turn in range(KILLS):
        going, address = started(journal)
        browser = Browser(address)
        visit = visit or browser.begin()
        for number in range(3):
            word = f"{turn}.{number} acknowledged"
            assert "kept on this machine" in browser.post(f"{visit}/line", {"line": f"note {word}"}, of=visit)
            told.append(word)
        going.send_signal(signal.SIGKILL)
        going.wait()
    going, address = started(journal)
    made = Browser(address).get(f"{visit}/entries")
    assert [each for each in told if each not in made] == []
    going.terminate()
    going.wait(20)


def test_a_restart_signs_nobody_out_and_a_token_opens_once(tmp_path: Path) -> None:
    journal = tmp_path / "journal.db"
    going, address = started(journal)
    browser = Browser(address)
    with pytest.raises(HTTPError, match="401"):
        Browser(address)
    going.terminate()
    going.wait(20)
    assert (journal.with_name("journal.keys") / "pages.secret").stat().st_mode & 0o077 == 0
    port = address.split(":")[2].partition("/")[0]
    going, _ = started(journal, port=port)
    assert "Nothing is kept here yet" in browser.get("/"), "the cookie of before the restart"
    going.terminate()
    going.wait(20)


def test_a_port_that_is_taken_is_said_so(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    taken = _listening(0)
    port = str(taken.getsockname()[1])
    assert main(["serve", "--port", port, "--journal", str(tmp_path / "journal.db")]) == 2
    assert "choose another with --port" in capsys.readouterr().err
    taken.close()
    assert main(["serve", "--port", "70000", "--journal", str(tmp_path / "journal.db")]) == 2
