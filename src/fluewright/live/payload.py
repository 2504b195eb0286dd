"""A message as it came, taken apart: checksum, signature, columns, JSON members, the sender's number and time."""

import hashlib
import hmac
import json
import os
import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from typing import Any

from fluewright.errors import TraceError
from fluewright.live.mapping import Text

LONGEST = 65_536
"""Bytes of one message that are looked at; a longer one is none."""

LOUD = 0o077
"""Rights by which others than the owner may read a key."""

_HEX = re.compile(r"[0-9A-Fa-f]+")


@dataclass(frozen=True, slots=True)
class Taken:
    """A message taken apart.

    cells    text by column or member
    number   of the sender; None where it has none
    stamped  s since 1970 by the sender's clock
    """

    cells: Mapping[str, str]
    number: int | None = None
    stamped: float | None = None


class NotTaken(Exception):
    """A message that is damaged, or not of the form of its mapping; it is counted and nothing of it is used."""


def sum8(data: bytes) -> int:
    """The sum of the bytes, its last eight bits."""
    return sum(data) & 0xFF


def xor8(data: bytes) -> int:
    """All bytes put together by exclusive or."""
    found = 0
    for byte in data:
        found ^= byte
    return found


def crc16(data: bytes) -> int:
    """The cyclic check of Modbus over serial line V1.02, 6.2.2: polynomial A001 (reversed), begun with FFFF."""
    found = 0xFFFF
    for byte in data:
        found ^= byte
        for _ in range(8):
            found = found >> 1 ^ 0xA001 if found & 1 else found >> 1
    return found


CHECKS = {"sum8": (sum8, 2), "xor8": (xor8, 2), "crc16": (crc16, 4)}
"""Checksum by its word, and the hexadecimal digits that it is written with behind the last star of a line."""


def checked(line: bytes, checksum: str) -> bytes:
    """A line without its checksum, which stands in hexadecimal digits behind the last `*`.

    -> the line in front of the star; NotTaken where the two do not agree
    """
    if checksum == "none":
        return line
    made, digits = CHECKS[checksum]
    body, star, said = line.rpartition(b"*")
    text = said.strip().decode("ascii", "replace")
    if not star or len(text) != digits or not _HEX.fullmatch(text) or int(text, 16) != made(body):
        raise NotTaken("the checksum differs")
    return body


def key_in(path: Path) -> bytes:
    """The key that a source signs with, as it stands in its file; TraceError where it is none."""
    try:
        key = path.read_bytes().strip()
    except OSError as error:
        key, why = b"", error.strerror or "it cannot be read"
    else:
        why, loud = f"{len(key)} bytes", os.name == "posix" and path.stat().st_mode & LOUD
        key, why = (b"", "others on this machine may read it") if loud else (key, why)
    if len(key) < 16:
        raise TraceError(
            code="FW-T-101",
            where=path.name,
            read=f"a key file: {why}",
            expected="16 bytes or more that nobody else knows, in a file for its owner only: mode 0600",
            matters="whoever guesses the key can send carbon monoxide of nothing in the name of the instrument",
            do="make one with `openssl rand -hex 32`, `chmod 600` its file, and give the same to the sender",
        )
    return key


def signature(key: bytes, channel: str, body: bytes) -> str:
    """What proves who sent a message: HMAC-SHA256 (RFC 2104) of the name it is sent under, a line feed and the message.

    channel  topic, or the name of the source where there is none
    """
    return hmac.new(key, channel.encode() + b"\n" + body, hashlib.sha256).hexdigest()


def proven(message: bytes, channel: str, key: bytes) -> bytes:
    """A signed message without its signature, which stands on its last line; NotTaken where it is not of this key."""
    body, _, said = message.rstrip(b"\r\n").rpartition(b"\n")
    if not hmac.compare_digest(said.strip(), signature(key, channel, body).encode()):
        raise NotTaken("the signature is not of this key")
    return body


def _members(held: Any, before: str = "") -> Iterator[tuple[str, str]]:
    """Members of a JSON object as texts, inner ones with a dot; null and objects without figures give nothing."""
    if isinstance(held, dict):
        for name, value in held.items():
            yield from _members(value, f"{before}.{name}" if before else str(name))
    elif isinstance(held, bool) or held is None:
        return
    elif isinstance(held, int | float | str):
        yield before, held if isinstance(held, str) else repr(held)


class _Spelled(float):
    """A figure of JSON that keeps how it was written."""

    text = ""

    def __repr__(self) -> str:
        return self.text


def _as_written(text: str) -> _Spelled:
    found = _Spelled(text)
    found.text = text
    return found


def seconds_of(text: str) -> float | None:
    """A sender's time, s since 1970 or ISO 8601 with its offset; None where it is neither."""
    try:
        found = float(text)
    except ValueError:
        try:
            moment = datetime.fromisoformat(text)
        except ValueError:
            return None
        return moment.timestamp() if moment.utcoffset() is not None else None
    return found if 0.0 < found < 4e9 else found / 1000.0 if 1e11 < found < 4e12 else None


def _number(text: str) -> int | None:
    return int(text) if text.isascii() and text.isdigit() and len(text) < 17 else None


def cells_of(body: bytes, text: Text) -> dict[str, str]:
    """The cells of a message by column or member; NotTaken where it is not of its form."""
    if len(body) > LONGEST:
        raise NotTaken("longer than any message is")
    try:
        said = body.decode("utf-8").strip("\r\n\0 ")
    except UnicodeDecodeError as error:
        raise NotTaken("no text") from error
    if text.form == "value":
        return {"": said}
    if text.form == "json":
        try:
            found = dict(_members(json.loads(said, parse_float=_as_written)))
            "".join((*found, *found.values())).encode()  # JSON can spell halves of letters, which no file can hold
        except (ValueError, RecursionError) as error:
            raise NotTaken("no JSON") from error
        return found
    parts = said.split(text.separator) if text.separator else said.split()
    if len(parts) != len(text.columns):
        raise NotTaken(f"{len(parts)} columns, where {len(text.columns)} are named")
    return {name: part.strip() for name, part in zip(text.columns, parts, strict=True)}


def taken(body: bytes, text: Text) -> Taken:
    """A message taken apart.

    body  without checksum and signature
    text  how the mapping says it is written
    -> cells, number and time of the sender; NotTaken where it is damaged or of another form
    """
    cells = cells_of(body, text)
    number = _number(cells.get(text.sequence, "").strip()) if text.sequence else None
    if text.sequence and number is None:
        raise NotTaken("no number in the column of the sequence")
    stamped = seconds_of(cells.get(text.time, "")) if text.time else None
    return Taken({name: cell for name, cell in cells.items() if cell not in text.gap}, number, stamped)
