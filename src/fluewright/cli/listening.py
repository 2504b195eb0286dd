"""A small server of the standard library that hands requests to a door; it listens on 127.0.0.1 and nowhere else."""

import sys
from collections.abc import Callable, Mapping
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from threading import BoundedSemaphore, Lock
from typing import Any, Protocol

AT_ONCE = 16
"""Requests that are read at the same time; more are turned away."""

STALL = 30.0
"""Seconds that a sender may be silent."""


class Said(Protocol):
    """What a door answers."""

    @property
    def status(self) -> int:
        """Of HTTP."""

    @property
    def body(self) -> bytes:
        """The bytes."""

    @property
    def headers(self) -> Mapping[str, str]:
        """Beside those added here."""


Answer = Callable[[str, str, Mapping[str, str], bytes], Said]
"""Answers method, path, headers with names in small letters, and body."""


class Asked(BaseHTTPRequestHandler):
    """One request."""

    timeout = STALL
    server_version, sys_version = "fluewright", ""
    server: "Listening"

    def answered(self) -> None:
        """Read the request as far as it is bounded, and send what the door says."""
        given = self.headers.get("content-length", "0")
        length = int(given) if given.isascii() and given.isdigit() and len(given) < 12 else -1
        if not 0 <= length <= self.server.longest or self.headers.get("transfer-encoding"):
            self.send_error(413)
            return
        body = self.rfile.read(length)
        if len(body) < length:
            return
        headers = {name.lower(): value for name, value in self.headers.items()}
        with self.server.turn:
            reply = self.server.answer(self.command, self.path, headers, body)
        self.send_response(reply.status)
        told = {"x-content-type-options": "nosniff", "cache-control": "no-store", **reply.headers}
        for name, value in {**told, "content-length": str(len(reply.body))}.items():
            self.send_header(name, value)
        self.end_headers()
        self.wfile.write(reply.body)

    do_GET = do_POST = do_PUT = do_DELETE = do_OPTIONS = answered  # noqa: N815

    def log_message(self, format: str, *args: Any) -> None:
        """Print nothing: it would name who came when."""


class Listening(ThreadingHTTPServer):
    """A server on 127.0.0.1; what the door does is done one request after the other.

    port     0 for any that is free
    longest  bytes of a request that are read at all
    answer   the door
    """

    daemon_threads = True

    def __init__(self, port: int, longest: int, answer: Answer) -> None:
        self.longest = longest
        self.answer = answer
        self.turn = Lock()
        self._room = BoundedSemaphore(AT_ONCE)
        super().__init__(("127.0.0.1", port), Asked)

    def verify_request(self, request: Any, client_address: Any) -> bool:
        """Whether there is room for one more."""
        return self._room.acquire(blocking=False)

    def answered_in_turn(self, request: Any, client_address: Any) -> None:
        """Answer, then make room."""
        try:
            super().process_request_thread(request, client_address)
        finally:
            self._room.release()

    def told_of_error(self, request: Any, client_address: Any) -> None:
        """Say that a request was not answered, without what was in it."""
        print(f"a request was not answered: {type(sys.exception()).__name__}", file=sys.stderr)

    process_request_thread = answered_in_turn
    handle_error = told_of_error
