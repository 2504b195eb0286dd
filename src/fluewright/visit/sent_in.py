"""What was sent to be brought in: told by its content and never by its name, held until a person has seen it."""

import hashlib
import re
import tomllib
from collections import OrderedDict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import Literal

from fluewright.errors import UseError
from fluewright.record.locked import MAGIC

Sort = Literal["visit", "bundle", "trace"]

MOST_BYTES = 32 << 20
"""Bytes that one thing to be brought in may have, all its files together."""

MOST_HELD = 6
"""Things that wait at a time; the oldest gives way."""

MOST_COLUMNS, HEADS = 400, 1 << 22
"""Columns of a trace, more than any logger writes (common practice, no source), and letters in which heads stand."""

TAR = (257, b"ustar")
OTHERS = {
    b"PK\x03\x04": "a packed folder or a spreadsheet",
    b"%PDF": "a PDF",
    b"\x89PNG": "a picture",
    b"\xff\xd8\xff": "a picture",
    b"PAR1": "a table in Parquet",
    b"\x1f\x8b": "a packed file",
    b"MZ": "a program",
    b"\x7fELF": "a program",
}
"""What some first bytes say; none of it is taken here."""

_NAME = re.compile(r"[\w][\w .()+-]{0,79}")


@dataclass(frozen=True, slots=True)
class Sent:
    """Some files that were sent together.

    sort   what they are
    files  by the name that the person gave them, which is only ever compared and shown
    main   name of the one that says what they are
    """

    sort: Sort
    files: Mapping[str, bytes]
    main: str

    @property
    def content(self) -> bytes:
        """The file that says what they are."""
        return self.files[self.main]


def refused(where: str, read: str, expected: str = "a visit file, a trace as CSV, or a bundle of this program",
            do: str = "export it again as one of these, and send that") -> UseError:  # fmt: skip
    """Something that is not taken in."""
    return UseError(
        code="FW-U-142",
        where=where[:80],
        read=read,
        expected=expected,
        matters="what is not understood whole would stand among records as if it were",
        do=do,
    )


def plain_name(name: str) -> str:
    """The last part of a file name, without anything that could lead elsewhere."""
    last = name.replace("\\", "/").rpartition("/")[2].strip()
    if not _NAME.fullmatch(last):
        raise refused(repr(last[:40]), "a file with a name that is no plain one",
                      "letters, figures, spaces, points and dashes", "give it another name")  # fmt: skip
    return last


def text_in(name: str, content: bytes) -> str:
    """A file as text; refused when it is none."""
    first = next((what for start, what in OTHERS.items() if content.startswith(start)), "")
    if first or b"\0" in content[:4096]:
        raise refused(name, first or "bytes that are no text")
    return content.decode("utf-8-sig", "replace")


def _is_visit(text: str) -> bool:
    try:
        return isinstance(tomllib.loads(text).get("visit"), dict)
    except (tomllib.TOMLDecodeError, RecursionError):
        return bool(re.search(r"^\s*\[visit\]\s*$", text, re.MULTILINE))


def told(files: Mapping[str, bytes]) -> Sent:
    """What some files are, by their content.

    files  by name
    -> what was sent; UseError for anything else
    """
    named = {plain_name(name): content for name, content in files.items() if content}
    if not named:
        raise refused("", "no file, or an empty one")
    if sum(map(len, named.values())) > MOST_BYTES:
        raise refused(next(iter(named)), "too much at once", f"at most {MOST_BYTES >> 20} MB",
                      "bring it in by the command line: `fluewright journal import`, `fluewright trace`")  # fmt: skip
    return _sorted(named)


def _sorted(named: Mapping[str, bytes]) -> Sent:
    only = next(iter(named))
    start, magic = TAR
    if named[only][start : start + len(magic)] == magic and len(named) == 1:
        return Sent("bundle", named, only)
    if named[only].startswith(MAGIC):
        raise refused(only, "a backup that is locked with words", do="restore it: `fluewright journal restore`")
    texts = {name: text_in(name, content) for name, content in named.items()}
    visits = [name for name, text in texts.items() if _is_visit(text)]
    if len(visits) == 1:
        return Sent("visit", named, visits[0])
    if len(named) == 1 and ("\n" in texts[only] or "\r" in texts[only]):
        if any(max(map(line.count, ";,\t|")) > MOST_COLUMNS for line in texts[only][:HEADS].splitlines()):
            raise refused(only, f"a table of more than {MOST_COLUMNS} columns")
        return Sent("trace", named, only)
    raise refused(only, f"{len(named)} files, of which {len(visits)} are visit files")


@dataclass(slots=True)
class Waiting:
    """What was sent and not yet taken in; only in memory, so that nothing unseen lies on a disk."""

    held: "OrderedDict[str, Sent]" = field(default_factory=OrderedDict)

    def put(self, sent: Sent) -> str:
        """Hold it; -> the name by which it is asked for again."""
        parts: Sequence[bytes] = [part for name in sorted(sent.files) for part in (name.encode(), sent.files[name])]
        name = hashlib.sha256(b"".join(hashlib.sha256(part).digest() for part in parts)).hexdigest()
        self.held[name] = sent
        self.held.move_to_end(name)
        while len(self.held) > MOST_HELD:
            self.held.popitem(last=False)
        return name

    def of(self, name: str) -> Sent:
        """What is held under a name; UseError when it has gone."""
        found = self.held.get(name)
        if found is None:
            raise refused("", "a file that waits here no more", "one that was sent since the program was started",
                          "send it again; nothing of it was kept")  # fmt: skip
        return found
