"""Reads the rows of a SQLite file straight from its pages, without the engine, which gives up at the first bad one.

After the published file format (sqlite.org/fileformat2.html): leaf pages of tables, their cells with overflow pages,
and the write-ahead file. Whatever lies there is only offered; whether it holds is told by its hash, so a wrong guess
costs time and nothing else.
"""

import re
import sys
from array import array
from collections.abc import Iterator
from pathlib import Path
from typing import Any, Literal

LEAF = 13
INDEX = (2, 10)
_FRAME = 24
_SIZES = {1: 1, 2: 2, 3: 3, 4: 4, 5: 6, 6: 8, 7: 8}

Found = tuple[Any, ...]
"""The columns of one row: None, whole numbers, texts and bytes."""

_ENTRY = re.compile(rb'([0-9a-f]{64})(\{"author":".*?"version":\d+\})', re.DOTALL)


def _varint(data: bytes, at: int) -> tuple[int, int]:
    """A number of one to nine bytes (section 1.6 there), and where it ends."""
    value = 0
    for step in range(8):
        byte = data[at + step]
        value = value << 7 | byte & 0x7F
        if byte < 0x80:
            return value, at + step + 1
    return value << 8 | data[at + 8], at + 9


def _columns(record: bytes) -> Found:
    """The columns of a record (section 2.1 there)."""
    end, at = _varint(record, 0)
    kinds: list[int] = []
    while at < end:
        kind, at = _varint(record, at)
        kinds.append(kind)
    found: list[Any] = []
    for kind in kinds:
        size = _SIZES.get(kind, (kind - 12) // 2 if kind >= 12 else 0)
        part = record[at : at + size]
        if len(part) != size:
            raise ValueError("a column ends beyond its record")
        at += size
        if kind >= 13 and kind % 2:
            found.append(part.decode("utf-8", "replace"))
        elif kind in (0, 7) or kind >= 12:
            found.append(None)
        else:
            found.append(kind - 8 if kind in (8, 9) else int.from_bytes(part, signed=True))
    return tuple(found)


def _sums(data: bytes, sums: tuple[int, int], order: Literal["big", "little"]) -> tuple[int, int]:
    one, two = sums
    words = array("I", data)
    if order != sys.byteorder:
        words.byteswap()
    for at in range(0, len(words), 2):
        one = one + words[at] + two & 0xFFFFFFFF
        two = two + words[at + 1] + one & 0xFFFFFFFF
    return one, two


class Pages:
    """The pages of a SQLite file, those in its write-ahead file before those in the file itself.

    path  the file
    """

    def __init__(self, path: Path) -> None:
        self._main = path.open("rb") if path.is_file() else None
        head = self._main.read(100) if self._main is not None else b""
        ahead = path.with_name(path.name + "-wal")
        self._ahead = ahead.open("rb") if ahead.is_file() else None
        wal = self._ahead.read(32) if self._ahead is not None else b""
        self.size = next((size for size in (self._size(head[16:18]), self._size(wal[10:12])) if size), 4096)
        self.usable = self.size - (head[20] if len(head) > 20 and head[20] < 32 else 0)
        self._frames: list[tuple[int, int]] = []
        self._newest: dict[int, int] = {}
        if len(wal) == 32:
            self._read_ahead(wal)

    @staticmethod
    def _size(two: bytes) -> int:
        """A page size as it stands in a header; 0 when it is none."""
        size = {1: 65536}.get(int.from_bytes(two), int.from_bytes(two))
        return size if 512 <= size <= 65536 and size & (size - 1) == 0 else 0

    def ahead_ends_early(self) -> int:
        """The first damaged frame before a commit, counted from 1; what stands behind it the engine does not see.

        -> 0 when all that was committed is whole (section 4.1 there: two running sums over header and page)
        """
        if self._ahead is None or not self._frames:
            return 0
        head = self._piece(self._ahead, 0, 32)
        order: Literal["big", "little"] = "big" if head[3] & 1 else "little"
        sums = _sums(head[:24], (0, 0), order)
        if sums != (int.from_bytes(head[24:28]), int.from_bytes(head[28:32])):
            return 1
        last = self._frames[-1][1] - _FRAME
        for number, at in enumerate(range(32, last + 1, _FRAME + self.size), 1):
            frame = self._piece(self._ahead, at, _FRAME + self.size)
            sums = _sums(frame[_FRAME:], _sums(frame[:8], sums, order), order)
            if frame[8:16] != head[16:24] or sums != (int.from_bytes(frame[16:20]), int.from_bytes(frame[20:24])):
                return number
        return 0

    def _read_ahead(self, head: bytes) -> None:
        """Find the frames that a commit stands behind; a bad checksum alone does not end them."""
        assert self._ahead is not None
        at, waiting = 32, list[tuple[int, int]]()
        while len(frame := self._piece(self._ahead, at, _FRAME)) == _FRAME:
            if frame[8:16] == head[16:24]:
                waiting.append((int.from_bytes(frame[:4]), at + _FRAME))
                if any(frame[4:8]):
                    self._frames += waiting
                    waiting = []
            at += _FRAME + self.size
        self._newest = dict(self._frames)

    @staticmethod
    def _piece(file: Any, at: int, size: int) -> bytes:
        """Bytes of a file; fewer where it ends or the disk gives none."""
        try:
            file.seek(at)
            return bytes(file.read(size))
        except OSError:
            return b""

    def _page(self, number: int) -> bytes:
        if number in self._newest and self._ahead is not None:
            return self._piece(self._ahead, self._newest[number], self.size)
        return self._piece(self._main, (number - 1) * self.size, self.size) if self._main is not None else b""

    def _count(self) -> int:
        if self._main is None:
            return 0
        return -(-self._main.seek(0, 2) // self.size)

    def now(self) -> Iterator[tuple[int, bytes]]:
        """Every page in its newest form, with its number."""
        for number in range(1, max(self._count(), max(self._newest, default=0)) + 1):
            yield number, self._page(number)

    def ever(self) -> Iterator[tuple[int, bytes]]:
        """Every page in all forms that are still there, for rows that never change."""
        yield from self.now()
        for number in self._newest:
            if self._main is not None:
                yield number, self._piece(self._main, (number - 1) * self.size, self.size)
        for number, at in self._frames:
            if self._ahead is not None and self._newest[number] != at:
                yield number, self._piece(self._ahead, at, self.size)

    def rows_on(self, number: int, page: bytes) -> Iterator[Found]:
        """The rows of a page that can be made out; a page of an index has none."""
        start = 100 if number == 1 else 0
        if len(page) < self.size or page[start] in INDEX:
            return
        for at in range(start + 8, start + 8 + 2 * int.from_bytes(page[start + 3 : start + 5]), 2):
            try:
                yield _columns(self._record(page, int.from_bytes(page[at : at + 2])))
            except (ValueError, IndexError):
                continue

    def _record(self, page: bytes, at: int) -> bytes:
        """The record of a cell, gathered from its overflow pages (section 1.5 there)."""
        length, at = _varint(page, at)
        _, at = _varint(page, at)
        most, least = self.usable - 35, (self.usable - 12) * 32 // 255 - 23
        here = length
        if length > most:
            here = least + (length - least) % (self.usable - 4)
            here = here if here <= most else least
        found = page[at : at + here]
        following, seen = int.from_bytes(page[at + here : at + here + 4]) if length > most else 0, set[int]()
        while len(found) < length and following and following not in seen:
            seen.add(following)
            more = self._page(following)
            found += more[4 : self.usable][: length - len(found)]
            following = int.from_bytes(more[:4])
        return found

    def close(self) -> None:
        """Let go of the files."""
        for file in (self._main, self._ahead):
            if file is not None:
                file.close()


def texts_on(page: bytes) -> Iterator[tuple[str, str]]:
    """Hash and text of entries that lie on a page, wherever its own table of contents says that they are."""
    for found in _ENTRY.finditer(page):
        yield found[1].decode("ascii"), found[2].decode("utf-8", "replace")
