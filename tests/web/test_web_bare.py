"""The same app answers where there are no threads, no sockets and no event loop, as inside the Python of a page."""

import os
import subprocess
import sys
from pathlib import Path

from pages_kit import WHOLE

SRC = Path(__file__).resolve().parent.parent.parent / "src"
JOURNEY = """
import re, socket, sys, threading
from urllib.parse import urlencode
import anyio.to_thread
from fluewright.record.settings import Settings as Place
from fluewright.web.app import create_app
from fluewright.web.settings import Settings


def refuse(*args, **kwargs):
    raise RuntimeError("there are no threads and no sockets in this Python")


async def at_once(function, *args, abandon_on_cancel=False, cancellable=None, limiter=None):
    return function(*args)


threading.Thread.start = refuse
socket.socket.__init__ = refuse
anyio.to_thread.run_sync = at_once
app = create_app(Settings(Place(sys.argv[1], mode="truncate"), b"x" * 32, port=80))


def asked(method, path, fields=None):
    body = urlencode(fields or {}).encode()
    route, _, query = path.partition("?")
    headers = {"host": "127.0.0.1", "content-length": str(len(body)),
               "content-type": "application/x-www-form-urlencoded"}
    scope = {"type": "http", "asgi": {"version": "3.0"}, "http_version": "1.1", "method": method, "path": route,
             "raw_path": route.encode(), "query_string": query.encode(), "root_path": "", "scheme": "http",
             "headers": [(k.encode(), v.encode()) for k, v in headers.items()], "server": ("127.0.0.1", 80)}
    sent = []

    async def receive():
        return {"type": "http.request", "body": body, "more_body": False}

    async def send(message):
        sent.append(message)

    going = app(scope, receive, send)
    try:
        going.send(None)
    except StopIteration:
        pass
    else:
        raise RuntimeError("something waited for a loop")
    text = b"".join(each.get("body", b"") for each in sent[1:]).decode()
    headers = dict(sent[0]["headers"])
    if sent[0]["status"] == 303:
        return asked("GET", headers[b"location"].decode())
    return sent[0]["status"], path, text


status, _, text = asked("GET", "/visit/new")
hidden = dict(re.findall(r'name="(mark|form|sent)" value="([^"]*)"', text))
status, path, text = asked("POST", "/visit/new", {**hidden, "appliance": "boiler", "fuel": "natural-gas"})
hidden = dict(re.findall(r'name="(mark|form|sent)" value="([^"]*)"', text))
status, path, text = asked("POST", path + "/line", {**hidden, "line": sys.argv[2]})
print(status, "kept on this machine" in text, asked("GET", "/")[0], asked("GET", "/find?words=boiler")[0])
"""


def test_the_journey_without_threads_sockets_or_a_loop(tmp_path: Path) -> None:
    command = [sys.executable, "-c", JOURNEY, str(tmp_path / "journal.db"), WHOLE]
    environment = {**os.environ, "PYTHONPATH": str(SRC)}
    done = subprocess.run(command, capture_output=True, text=True, env=environment, check=False, timeout=120)
    assert done.returncode == 0, done.stderr
    assert done.stdout.split() == ["200", "True", "200", "200"]
