"""A file layer under SQLite that notes every write, cut and flush, and can fail at the one that is asked for.

The engine is the one that the package apsw brings; the journal above it is the real one, through a thin coat that gives
that engine the manners of Python's own.
"""

import itertools
import random
import sqlite3
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

import apsw
import pytest
from sqlalchemy import create_engine

from fluewright.record import store

SECTOR = 512
_NUMBER = itertools.count()


@dataclass(frozen=True, slots=True)
class Step:
    """One thing that was asked of the files: write, cut, flush, delete, or a commit that returned."""

    what: str
    file: str = ""
    at: int = 0
    data: bytes = b""


@dataclass
class Layer:
    """What was asked, and whether something is to fail.

    fail   number of the step that fails, counted from 1; 0 for none
    error  what it fails with
    """

    steps: list[Step] = field(default_factory=list)
    fail: int = 0
    error: Callable[[], Exception] = apsw.IOError
    failed: bool = False
    count: int = 0

    def take(self, step: Step) -> None:
        """Note a step, or fail at it."""
        self.count += 1
        if self.fail and self.count >= self.fail and not self.failed:
            self.failed = True
            raise self.error()
        self.steps.append(step)

    def acknowledged(self) -> None:
        """A commit has returned."""
        self.steps.append(Step("ack"))


class _File(apsw.VFSFile):  # type: ignore[name-defined,misc]
    def __init__(self, layer: Layer, name: Any, flags: Any) -> None:
        super().__init__("", name, flags)
        self.layer = layer
        self.name = Path(name.filename() if hasattr(name, "filename") else str(name)).name if name else "temporary"

    def xWrite(self, data: bytes, offset: int) -> None:  # noqa: N802
        self.layer.take(Step("write", self.name, offset, bytes(data)))
        super().xWrite(data, offset)

    def xTruncate(self, size: int) -> None:  # noqa: N802
        self.layer.take(Step("cut", self.name, size))
        super().xTruncate(size)

    def xSync(self, flags: int) -> None:  # noqa: N802
        self.layer.take(Step("flush", self.name))
        # The real disk need not flush: what counts here is what was asked for.


class _System(apsw.VFS):  # type: ignore[name-defined,misc]
    def __init__(self, layer: Layer, name: str) -> None:
        self.layer = layer
        super().__init__(name, "")

    def xOpen(self, name: Any, flags: Any) -> _File:  # noqa: N802
        return _File(self.layer, name, flags)

    def xDelete(self, name: str, sync: bool) -> None:  # noqa: N802
        self.layer.take(Step("delete", Path(name).name, int(sync)))
        super().xDelete(name, False)


@contextmanager
def _translated() -> Iterator[None]:
    try:
        yield
    except apsw.ConstraintError as error:
        raise sqlite3.IntegrityError(str(error)) from error
    except apsw.Error as error:
        raise sqlite3.OperationalError(f"{type(error).__name__}: {error}") from error


class _Cursor:
    """The part of a cursor of Python's own module that the journal uses."""

    def __init__(self, raw: Any) -> None:
        self._raw, self._rows = raw, list[Any]()
        self.description: Any = None
        self.lastrowid, self.rowcount, self.arraysize = 0, -1, 1

    def execute(self, text: str, values: Sequence[Any] | dict[str, Any] = ()) -> "_Cursor":
        if text == "PRAGMA journal_mode = WAL":
            # This layer cannot share memory between processes; alone on the file, the engine needs none.
            self._raw.execute("PRAGMA locking_mode = EXCLUSIVE")
        with _translated():
            cursor = self._raw.cursor()
            names: list[Any] = []
            cursor.exec_trace = lambda c, *_: names.append(c.get_description()) or True
            self._rows = list(cursor.execute(text, values or None))
            self.description = [(*each, None, None, None, None, None) for each in names[0]] if names[0] else None
            self.lastrowid = self._raw.last_insert_rowid()
        return self

    def executemany(self, text: str, many: Sequence[Any]) -> "_Cursor":
        for each in many:
            self.execute(text, each)
        return self

    def fetchall(self) -> list[Any]:
        found, self._rows = self._rows, []
        return found

    def fetchone(self) -> Any:
        return self._rows.pop(0) if self._rows else None

    def fetchmany(self, size: int = 1) -> list[Any]:
        found, self._rows = self._rows[:size], self._rows[size:]
        return found

    def close(self) -> None:
        self._rows = []


class _Connection:
    """The part of a connection of Python's own module that the journal uses."""

    isolation_level: Any = None

    def __init__(self, path: str, system: str, checkpoint: int) -> None:
        self._raw = apsw.Connection(path, vfs=system)
        self.cursor().execute(f"PRAGMA wal_autocheckpoint = {checkpoint}")

    def cursor(self, *_: Any) -> _Cursor:
        return _Cursor(self._raw)

    def execute(self, text: str, values: Sequence[Any] = ()) -> _Cursor:
        return self.cursor().execute(text, values)

    def commit(self) -> None:
        if not self._raw.get_autocommit():
            self.execute("COMMIT")

    def rollback(self) -> None:
        if not self._raw.get_autocommit():
            self.execute("ROLLBACK")

    def create_function(self, *_: Any, **__: Any) -> None:
        """No statement of the journal calls one."""

    def close(self) -> None:
        with _translated():
            self._raw.close()


@contextmanager
def layered(monkeypatch: pytest.MonkeyPatch, layer: Layer, *, checkpoint: int = 40) -> Iterator[None]:
    """Within, every SQLite store that is opened lies on the layer."""
    name = f"layer{next(_NUMBER)}"
    system = _System(layer, name)

    def made(url: str, **more: Any) -> Any:
        path = url.removeprefix("sqlite:///")
        return create_engine(url, **{**more, "creator": lambda: _Connection(path, name, checkpoint)})

    with monkeypatch.context() as patch:
        patch.setattr(store, "create_engine", made)
        yield
    del system


class Disk:
    """What lies on a disk after the steps so far: what was flushed for sure, and what may be there or not.

    Steps of one file wait until that file is flushed. That a file was deleted is sure only after a later flush, unless
    the folder was flushed with it.
    """

    def __init__(self) -> None:
        self.sure: dict[str, bytearray] = {}
        self.waiting: dict[str, list[Step]] = {}

    def take(self, step: Step) -> None:
        """Go on by one step."""
        if step.what == "flush":
            for each in self.waiting.pop(step.file, []):
                _done(self.sure, each)
            for name, steps in list(self.waiting.items()):
                if any(each.what == "delete" for each in steps):
                    self._delete(name)
        elif step.what == "delete" and step.at:
            self.waiting.setdefault(step.file, []).append(step)
            self._delete(step.file)
        elif step.what != "ack":
            self.waiting.setdefault(step.file, []).append(step)

    def _delete(self, name: str) -> None:
        steps = self.waiting.pop(name)
        last = max(at for at, each in enumerate(steps) if each.what == "delete")
        self.sure.pop(name, None)
        if steps[last + 1 :]:
            self.waiting[name] = steps[last + 1 :]

    def after_cut(self, model: str, chance: random.Random) -> dict[str, bytes]:
        """The files after the power went: nothing unsure is kept, or each step by chance, or each sector by chance."""
        found = {name: bytearray(content) for name, content in self.sure.items()}
        for steps in self.waiting.values() if model != "none" else ():
            for step in steps:
                parts = _sectors(step) if model == "sectors" else [step]
                kept = [part for part in parts if chance.random() < 0.5]
                for part in kept:
                    _done(found, part)
                if step.what == "delete" and not kept:
                    break  # what was written afterwards went into a new file, which no name leads to
        return {name: bytes(content) for name, content in found.items()}


def _sectors(step: Step) -> list[Step]:
    if step.what != "write":
        return [step]
    parts, at, data = [], step.at, step.data
    while data:
        size = SECTOR - at % SECTOR
        parts.append(Step("write", step.file, at, data[:size]))
        at, data = at + size, data[size:]
    return parts


def _done(files: dict[str, bytearray], step: Step) -> None:
    if step.what == "delete":
        files.pop(step.file, None)
        return
    content = files.setdefault(step.file, bytearray())
    if step.what == "cut":
        del content[step.at :]
    elif step.what == "write":
        content.extend(bytes(max(0, step.at - len(content))))
        content[step.at : step.at + len(step.data)] = step.data
