"""The small text beside a SQLite journal that names the ends of its chains.

It is a witness for accidents: a main file that was lost, emptied, cut, put back from yesterday, or copied without the
file that holds its last entries, no longer agrees with it. Against somebody who means harm it proves nothing, since it
lies in the same folder; anchors on printed sheets, in receipts and backup names do.

It is written at the first entry, at every `EVERY`th, at what closes a visit, and when the store is closed; never before
the entry that it names is on the disk, and never so that it names less than it did. It is not flushed: after a cut of
power it may be older or empty, and then it says less. That it cannot be written never hinders an entry.
"""

import contextlib
import os
from collections.abc import Iterable
from pathlib import Path
from threading import get_ident

from fluewright.errors import EntryError
from fluewright.record.chain import Anchor, anchor_from

EVERY = 500
"""Entries of a device after which its end is written down again. A new name for a file takes milliseconds on some
disks; so the many entries of a visit share one."""

CLOSING = frozenset(("seal", "counter-seal", "notice", "erasure"))
"""Kinds of entries after which it is written at once."""


def named_in(path: Path) -> list[Anchor]:
    """The anchors in such a file; none where it is not there or can no longer be read."""
    try:
        lines = path.read_text("ascii").splitlines()
    except (OSError, ValueError):
        return []
    found = []
    for line in lines:
        with contextlib.suppress(EntryError):
            found.append(anchor_from(line))
    return found


def write(path: Path, anchors: Iterable[Anchor]) -> bool:
    """Name these ends too, in place of earlier ones of the same devices.

    path     the file; it changes as a whole or not at all
    anchors  ends that are on the disk already
    -> whether it could be written
    """
    ends = {each.device: each for each in named_in(path)}
    for each in anchors:
        if each.device not in ends or ends[each.device].sequence < each.sequence:
            ends[each.device] = each
    text = "".join(f"{each.device} {each.sequence} {each.hash}\n" for _, each in sorted(ends.items()))
    new = path.with_name(f"{path.name}.{os.getpid()}-{get_ident()}")
    try:
        new.write_text(text, "ascii")
        new.replace(path)
    except OSError:
        with contextlib.suppress(OSError):
            new.unlink(missing_ok=True)
        return False
    return True
