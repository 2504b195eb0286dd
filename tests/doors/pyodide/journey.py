"""A visit worked through the whole app as inside a page: no thread, no socket, no event loop, no compiled library.

Both doors stand behind one guard; each request is an ASGI call that must come to its end at once.
"""

import json
import re
import sys
import tempfile
from datetime import UTC, datetime
from importlib.abc import MetaPathFinder
from pathlib import Path
from typing import Any
from urllib.parse import urlencode

COMPILED = "numpy", "pandas", "pyarrow", "scipy", "PIL", "cryptography", "argon2", "lxml", "orjson", "typst", "greenlet"
SERVERS = "uvicorn", "httpx", "httpx2", "requests", "aiosqlite", "psycopg", "serial", "paho", "pymodbus"
OF_A_SYSTEM = "multiprocessing", "resource", "curses", "readline", "dbm", "syslog", "tkinter"
NOT_THERE = frozenset((*COMPILED, *SERVERS, *OF_A_SYSTEM))
"""What a page's Python has not, or cannot use; whoever needs one of these imports it inside the function that does."""

LINES = (
    "lit 09:41",
    "room: symptoms=no",
    "room co 2 at hall",
    "o2 7.4 co2 7.7 co 160 stack 402F air 66F at below hood, left of baffle",
    "draft -0.02 at above hood",
    "o2 7.5 co 150 stack 400F air 66F at below hood, right of baffle",
    "note the dryer is new",
    "note the cellar window was shut",
    "done burner bars brushed",
    "room co 1 at cellar",
    "o2 7.6 co2 7.5 co 24 stack 398F air 66F steady 90 s at below hood, left of baffle",
    "note condensate trap dry",
    "next clean the flue before the winter",
    "room co 0 at bedroom",
    "off 10:30",
)


class Absent(MetaPathFinder):
    """Finds nothing of what is not there; what was asked for is remembered."""

    def __init__(self) -> None:
        self.asked: list[str] = []

    def find_spec(self, name: str, path: Any = None, target: Any = None) -> None:
        if name.partition(".")[0] in NOT_THERE:
            self.asked.append(name)
            raise ModuleNotFoundError(f"{name} is not there in the Python of a page", name=name)


def refuse(*args: Any, **kwargs: Any) -> None:
    raise RuntimeError("there are no threads and no sockets in this Python")


def closed_off() -> Absent:
    """Make this Python as bare as that of a page."""
    import socket
    import threading

    import anyio.to_thread

    async def at_once(function: Any, *args: Any, **kwargs: Any) -> Any:
        return function(*args)

    threading.Thread.start = refuse  # type: ignore[method-assign, assignment]
    socket.socket.__init__ = refuse  # type: ignore[method-assign, assignment]
    anyio.to_thread.run_sync = at_once
    absent = Absent()
    sys.meta_path.insert(0, absent)
    return absent


class Page:
    """One page before the app in it."""

    def __init__(self, app: Any) -> None:
        self.app = app
        self.text = ""
        self.at = ""

    def asked(self, method: str, path: str, body: bytes = b"", kind: str = "", mark: str = "") -> int:
        """One request, followed on; its status."""
        route, _, query = path.partition("?")
        told = {"host": "127.0.0.1", "content-length": str(len(body)), "content-type": kind, "x-fluewright-mark": mark}
        scope = {"type": "http", "asgi": {"version": "3.0"}, "http_version": "1.1", "method": method, "path": route,
                 "raw_path": route.encode(), "query_string": query.encode(), "root_path": "", "scheme": "http",
                 "headers": [(k.encode(), v.encode()) for k, v in told.items()],
                 "server": ("127.0.0.1", 80)}  # fmt: skip
        sent: list[dict[str, Any]] = []

        async def receive() -> dict[str, Any]:
            return {"type": "http.request", "body": body, "more_body": False}

        async def send(message: dict[str, Any]) -> None:
            sent.append(message)

        going = self.app(scope, receive, send)
        try:
            going.send(None)
        except StopIteration:
            pass
        else:
            raise RuntimeError("something waited for a loop")
        self.text, self.at = b"".join(each.get("body", b"") for each in sent[1:]).decode(), path
        headers = dict(sent[0]["headers"])
        if sent[0]["status"] == 303:
            return self.asked("GET", headers[b"location"].decode())
        return int(sent[0]["status"])

    def hidden(self) -> dict[str, str]:
        return dict(reversed(re.findall(r'name="(mark|form|sent)" value="([^"]*)"', self.text)))

    def posts(self, path: str, **fields: str) -> int:
        """A form of the page that was loaded last, sent."""
        body = urlencode({**self.hidden(), **fields}).encode()
        return self.asked("POST", path, body, "application/x-www-form-urlencoded")

    def sends(self, path: str, told: dict[str, Any], mark: str) -> Any:
        status = self.asked("POST", f"/api{path}", json.dumps(told).encode(), "application/json", mark)
        return [status, json.loads(self.text)]


AT = datetime(2026, 11, 25, 10, 0, tzinfo=UTC)


def worked() -> dict[str, Any]:
    """The journey: open, fifteen lines, no photo, a notice and its end, the seal, the sheet; what each came to."""
    from fluewright import clock, serving
    from fluewright.record.settings import Settings as Place
    from fluewright.web.settings import Settings

    where = Path(tempfile.mkdtemp()) / "journal.db"
    app = serving.create_app(Settings(Place(str(where), mode="truncate"), b"x" * 32, port=80, now=lambda: AT))
    page, told = Page(app), {}
    page.asked("GET", "/visit/new")
    told["opened"] = page.posts("/visit/new", appliance="boiler that does not exist", fuel="natural-gas",
                                technician="T. Placeholder (invented)", jurisdiction="US")  # fmt: skip
    visit = page.at.removeprefix("/visit/")
    told["lines"] = []
    for line in LINES:
        page.asked("GET", f"/visit/{visit}")
        told["lines"].append([page.posts(f"/visit/{visit}/line", line=line), "kept on this machine" in page.text])
    page.asked("GET", f"/visit/{visit}/notice")
    mark = page.hidden()["mark"]
    told["notice"] = page.posts(f"/visit/{visit}/notice", words="the flue is off its collar", consent="absent")
    told["stops"] = "flue is off its collar" in page.text
    told["open"] = len(_read(page, "/notices"))
    entry = _read(page, f"/visits/{visit}")["open_notices"][0]
    over = {"id": clock.new_id(), "because": "the collar was put back"}
    told["closed"] = page.sends(f"/visits/{visit}/notices/{entry}/close", over, mark)[0]
    again = page.sends(f"/visits/{visit}/notices/{entry}/close", over, mark)
    told["twice"] = [again[0], len(_read(page, "/notices"))]
    page.asked("GET", f"/visit/{visit}/seal")
    signed = {
        "name": "T. Placeholder (invented)",
        "recognised": "sat before this machine",
        "meaning": "I did this work",
    }
    told["seal"] = page.posts(f"/visit/{visit}/seal", **signed)
    told["why not"] = re.findall(r"FW-[A-Z]-\d+", page.text)
    told["pages"] = [
        page.asked("GET", path) for path in ("/", "/find?words=boiler", f"/visit/{visit}/entries", "/look")
    ]
    told["plan"] = len(_read(page, f"/visits/{visit}/plan")["lines"])
    told["findings"] = [each["code"] for each in _read(page, f"/visits/{visit}/judgement")["findings"]]
    sheet = _read(page, f"/visits/{visit}/sheet")["text"]
    told["sheet"] = sheet[: sheet.index("Kept as visit")]
    told["whole"] = _read(page, "/health")["whole"]
    serving.closed(app)
    return told


def _read(page: Page, path: str) -> Any:
    status = page.asked("GET", f"/api{path}")
    if status != 200:
        raise RuntimeError(f"{path}: {status}: {page.text[:500]}")
    return json.loads(page.text)


def answer() -> str:
    """The journey in a Python as bare as that of a page, as JSON."""
    absent = closed_off()
    told = worked()
    return json.dumps({**told, "asked for": absent.asked, "platform": sys.platform})


if __name__ == "__main__":
    print(answer())
