"""Files written whole or not at all, and never over something that is not the program's to replace."""

import os
import tempfile
from collections.abc import Iterable, Sequence
from pathlib import Path

from fluewright.errors import UseError


def _unwritable(path: Path, error: OSError | ValueError) -> UseError:
    return UseError(
        code="FW-U-005",
        where=str(path),
        read=f"it cannot be written: {getattr(error, 'strerror', None) or error}",
        expected="a folder that is there and may be written, with room left on the disk",
        matters="the result would be lost; nothing was left half-written",
        do="make the folder, or choose another",
    )


def _in_the_way(path: Path, read: str, matters: str, do: str) -> UseError:
    return UseError(
        code="FW-U-004",
        where=str(path),
        read=read,
        expected="a new name, or leave to replace a file that this program may replace",
        matters=matters,
        do=do,
    )


def _identity(path: Path) -> tuple[int, int] | str:
    """What a file is, whatever its name: device and number on it; the resolved name where there is none yet."""
    try:
        found = path.stat()
    except (OSError, ValueError):
        return os.path.realpath(path)
    return found.st_dev, found.st_ino


def free(outputs: Sequence[Path], *, inputs: Iterable[Path] = (), replace: bool = False) -> None:
    """Make sure that outputs may be written, before any work is done for them.

    outputs  files to be written
    inputs   files they are made from, which are never written over
    replace  whether files of the same name may be replaced
    -> UseError when one is in the way, is no plain file, is an input, or is named twice
    """
    sources = {_identity(path) for path in inputs}
    seen: set[tuple[int, int] | str] = set()
    for path in outputs:
        if not path.parent.is_dir():
            raise _unwritable(path, FileNotFoundError(2, "there is no such folder"))
        real = _identity(path)
        if real in seen:
            raise _in_the_way(path, "two outputs have this name", "one would replace the other", "name two files")
        seen.add(real)
        if real in sources:
            matters = "the readings themselves would be lost"
            raise _in_the_way(path, "the result would replace what it is made from", matters, "choose another name")
        if path.is_symlink() or (path.exists() and not path.is_file()):
            matters = "it may stand for something else than a file of this program"
            raise _in_the_way(path, "a link, a folder or a device has this name", matters, "choose another name")
        if path.exists() and not replace:
            matters = "it may be the only copy of another visit's report"
            do = "choose another name, or add --force"
            raise _in_the_way(path, "a file of that name is already there", matters, do)


def _temporary(path: Path, content: bytes) -> Path:
    handle, name = tempfile.mkstemp(dir=path.parent, prefix=".fluewright-")
    temporary = Path(name)
    try:
        with os.fdopen(handle, "wb") as file:
            file.write(content)
            file.flush()
            os.fsync(file.fileno())
        temporary.chmod(0o644)
    except BaseException:
        temporary.unlink(missing_ok=True)
        raise
    return temporary


def write_all(contents: Sequence[tuple[Path, bytes]]) -> None:
    """Write several files so that all are there whole or none is begun; each is put in place at the end.

    contents  file and all that shall stand in it
    -> UseError when one cannot be written; what was there before then stays
    """
    made: list[tuple[Path, Path]] = []
    path = Path()
    try:
        for path, content in contents:
            made.append((_temporary(path, content), path))
        for temporary, path in made:
            temporary.replace(path)
    except (OSError, ValueError) as error:
        raise _unwritable(path, error) from error
    finally:
        for temporary, _ in made:
            temporary.unlink(missing_ok=True)
