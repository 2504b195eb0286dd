"""A run of samples as one compressed block of columns, in a file beside the journal; never a row for a sample.

The file, front to back:

    FWB1          four letters; the figure is the version of this layout
    32 bytes      SHA-256 of all that follows
    4 bytes       length of the head, lowest byte first
    head          JSON in canonical form: start, step, count, channels, sizes, whole
    the rest      the columns one after the other, compressed together by zlib (RFC 1950)

In the head, `channels` are tables of name, unit and the number of the channel's own column of times, or null where it
follows the common step; `sizes` are the bytes of each column before compression, all times first, then one for each
channel; `whole` is their sum. Times are seconds after `start`. How a column is written is told in `columns.py`.
"""

import json
import zlib
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from fluewright.errors import EntryError, RecordDamaged
from fluewright.record import columns
from fluewright.record.canonical import canonical

MAGIC = b"FWB1"
MOST_SAMPLES = 20_000_000
"""Samples of one channel: a sample a second for eight months."""
MOST_BYTES = 1 << 30
"""Bytes that a block may be before compression, so that a small file cannot fill the memory."""


@dataclass(frozen=True, slots=True)
class Channel:
    """One quantity over time.

    name    its name, or the heading it had
    unit    as it stood in the heading; empty when none did
    values  texts as they came; None where there was no sample, which is never zero
    times   seconds after the start of the block, rising or not, as decimals; None when it follows the common step
    """

    name: str
    unit: str
    values: tuple[str | None, ...]
    times: tuple[str, ...] | None = None


@dataclass(frozen=True, slots=True)
class Block:
    """Channels that belong together.

    start     the moment of second 0, with its offset
    step      seconds from sample to sample where a channel has no times of its own; empty when all have
    channels  at least one
    """

    start: str
    step: str
    channels: tuple[Channel, ...]

    @property
    def count(self) -> int:
        """Samples of the longest channel."""
        return max(len(channel.values) for channel in self.channels)

    def samples(self) -> int:
        """Samples of all channels, without the gaps."""
        return sum(value is not None for channel in self.channels for value in channel.values)


def _need_whole(block: Block) -> None:
    for channel in block.channels:
        times = len(channel.values) if channel.times is None else len(channel.times)
        if times == len(channel.values) <= MOST_SAMPLES and (block.step or channel.times is not None):
            continue
        raise EntryError(
            code="FW-J-090",
            where=f"channel {channel.name!r}",
            read=f"{len(channel.values)} samples and {times} times, common step {block.step or 'none'}",
            expected=f"one time for each sample or a common step, and at most {MOST_SAMPLES} samples",
            matters="a sample without its time belongs to no moment of the visit",
            do="give each sample its time, and a gap where there was no sample",
        )


def packed(block: Block) -> bytes:
    """A block as the bytes of its file; they are kept as they are and never made anew, since zlib may change.

    -> bytes; EntryError when a channel has samples without times
    """
    _need_whole(block)
    own: list[tuple[str, ...]] = []
    heads: list[dict[str, Any]] = []
    for channel in block.channels:
        if channel.times is not None and channel.times not in own:
            own.append(channel.times)
        at = None if channel.times is None else own.index(channel.times)
        heads.append({"name": channel.name, "unit": channel.unit, "times": at})
    parts = [columns.packed(each) for each in own] + [columns.packed(channel.values) for channel in block.channels]
    head = canonical({"start": block.start, "step": block.step, "count": block.count, "channels": heads,
                      "sizes": [len(part) for part in parts], "whole": sum(map(len, parts))}).encode()  # fmt: skip
    rest = len(head).to_bytes(4, "little") + head + zlib.compress(b"".join(parts))
    return MAGIC + _sum(rest) + rest


def _sum(data: bytes) -> bytes:
    from hashlib import sha256

    return sha256(data).digest()


def _damaged(where: str, read: str) -> RecordDamaged:
    return RecordDamaged(
        code="FW-R-090",
        where=where,
        read=read,
        expected="a block of samples of this program, byte for byte as it was kept",
        matters="a sample that may have changed proves nothing; the rest of the journal does not depend on it",
        do="bring the file back from a backup or from another device",
    )


def unpacked(data: bytes, *, where: str = "") -> Block:
    """A block from the bytes of its file.

    data   the file
    where  for the error: which file
    -> the block that was packed; RecordDamaged when a byte differs or the layout is a newer one
    """
    if data[:3] != MAGIC[:3]:
        raise _damaged(where, "the file is not a block of samples")
    if data[:4] != MAGIC:
        raise _damaged(where, f"layout {data[3:4].decode('latin-1')!r}, which is newer than this program")
    if _sum(data[36:]) != data[4:36]:
        raise _damaged(where, "its content is not the one that was kept: the hash differs")
    try:
        length = int.from_bytes(data[36:40], "little")
        head = json.loads(data[40 : 40 + length])
        return _block(head, _parts(head, data[40 + length :]))
    except (columns.Cut, ValueError, KeyError, TypeError, IndexError, RecursionError, zlib.error) as error:
        raise _damaged(where, f"its layout does not hold together: {error}") from error


def _parts(head: dict[str, Any], data: bytes) -> list[list[str | None]]:
    if not sum(head["sizes"]) == head["whole"] <= MOST_BYTES or min(head["sizes"], default=0) < 0:
        raise columns.Cut("sizes that do not add up")
    engine = zlib.decompressobj()
    whole = engine.decompress(data, head["whole"] + 1)
    if len(whole) != head["whole"] or not engine.eof or engine.unused_data:
        raise columns.Cut("more or fewer bytes than announced")
    found, at = [], 0
    for size in head["sizes"]:
        found.append(columns.unpacked(whole[at : at + size], min(MOST_SAMPLES, head["count"])))
        at += size
    return found


def _block(head: dict[str, Any], parts: Sequence[Sequence[str | None]]) -> Block:
    heads = head["channels"]
    times = parts[: len(parts) - len(heads)]
    found = [
        Channel(str(each["name"]), str(each["unit"]), tuple(values),
                None if each["times"] is None else tuple(str(at) for at in times[each["times"]]))
        for each, values in zip(heads, parts[len(times) :], strict=True)
    ]  # fmt: skip
    block = Block(str(head["start"]), str(head["step"]), tuple(found))
    _need_whole(block)
    return block


def fields_of(block: Block, data: bytes) -> dict[str, Any]:
    """What the entry of kind trace block says of it, without the visit.

    data  the block as packed
    -> start, count, channels and the hash that the file is kept under
    """
    from hashlib import sha256

    channels = [
        {"name": channel.name, "unit": channel.unit, "count": len(channel.values)} for channel in block.channels
    ]
    return {"channels": channels, "start": block.start, "count": block.count, "file": sha256(data).hexdigest()}
