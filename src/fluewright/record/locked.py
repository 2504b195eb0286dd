"""A stream of bytes locked with words: AES-256-GCM in pieces, of which none can be changed, moved or left out.

The form, all of it: the line `fluewright locked 1`, 16 bytes of salt, 8 bytes that tell wrong words from damage, then
pieces of 1 MiB (the last may be shorter), each followed by its 16-byte tag. Key, nonce start and those 8 bytes are
HKDF-SHA-256 (RFC 5869) of the secret behind the words, with the salt and the info `fluewright locked 1`: 32, 7 and 8
bytes. The nonce of a piece is the start, its number as 4 bytes, and 1 for the last piece or 0; all that stands before
the first piece is authenticated with each of them.
"""

import io
import secrets
from collections.abc import Iterator
from typing import BinaryIO, NamedTuple

from fluewright.errors import EntryError, RecordDamaged
from fluewright.record.words import secret_from

MAGIC = b"fluewright locked 1\n"
PIECE = 1 << 20
TAG = 16
SALT = 16
SIGN = 8


class _Parts(NamedTuple):
    """What the words and the salt make: key, start of each nonce, sign of the right words."""

    key: bytes
    start: bytes
    sign: bytes


def _parts(words: str, salt: bytes) -> _Parts:
    from cryptography.hazmat.primitives.hashes import SHA256
    from cryptography.hazmat.primitives.kdf.hkdf import HKDF

    found = HKDF(algorithm=SHA256(), length=32 + 7 + SIGN, salt=salt, info=MAGIC.strip()).derive(secret_from(words))
    return _Parts(found[:32], found[32:39], found[39:])


def _nonce(start: bytes, number: int, *, last: bool) -> bytes:
    return start + number.to_bytes(4, "big") + bytes([last])


class Locking(io.RawIOBase):
    """A file to write into; what arrives in the file below is locked.

    below  the file
    words  eight of them
    """

    def __init__(self, below: BinaryIO, words: str) -> None:
        from cryptography.hazmat.primitives.ciphers.aead import AESGCM

        salt = secrets.token_bytes(SALT)
        parts = _parts(words, salt)
        self._cipher, self._start = AESGCM(parts.key), parts.start
        self._head = MAGIC + salt + parts.sign
        self._below, self._waiting, self._number = below, bytearray(), 0
        below.write(self._head)

    def writable(self) -> bool:
        """It is for writing."""
        return True

    def write(self, data: bytes) -> int:  # type: ignore[override]
        """Take some bytes."""
        self._waiting += data
        while len(self._waiting) > PIECE:
            self._piece(bytes(self._waiting[:PIECE]), last=False)
            del self._waiting[:PIECE]
        return len(data)

    def _piece(self, content: bytes, *, last: bool) -> None:
        nonce = _nonce(self._start, self._number, last=last)
        self._below.write(self._cipher.encrypt(nonce, content, self._head))
        self._number += 1

    def finish(self) -> None:
        """Write the last piece; without it the file counts as cut."""
        self._piece(bytes(self._waiting), last=True)
        self._waiting.clear()


def is_locked(head: bytes) -> bool:
    """Whether a file that begins so is locked with words."""
    return head.startswith(MAGIC)


def _damaged(number: int, *, cut: bool = False) -> RecordDamaged:
    return RecordDamaged(
        code="FW-R-032",
        read=f"piece {number} of the locked backup {'is missing: the file was cut' if cut else 'was changed'}",
        expected="the file as it was written",
        matters="nothing of a damaged backup is taken for whole",
        do="take another copy of it, or an older backup",
    )


def unlocked(below: BinaryIO, words: str) -> Iterator[bytes]:
    """The content of a locked file, piece by piece; each is proven before it is given out.

    below  the file, at its beginning
    words  eight of them
    -> pieces; EntryError when the words are others, RecordDamaged naming the piece that is not as it was written
    """
    from cryptography.exceptions import InvalidTag
    from cryptography.hazmat.primitives.ciphers.aead import AESGCM

    head = below.read(len(MAGIC) + SALT + SIGN)
    if not is_locked(head) or len(head) < len(MAGIC) + SALT + SIGN:
        raise _damaged(0, cut=True)
    parts = _parts(words, head[len(MAGIC) : -SIGN])
    if parts.sign != head[-SIGN:]:
        raise EntryError(
            code="FW-J-042",
            read="words that are not those of this backup",
            expected="the eight words that were printed when it was made",
            matters="without them nobody can read it, and neither can we",
            do="look whether these words were printed for this backup, and in this order",
        )
    cipher, number = AESGCM(parts.key), 0
    piece = below.read(PIECE + TAG)
    while True:
        following = below.read(PIECE + TAG)
        last = not following
        try:
            content = cipher.decrypt(_nonce(parts.start, number, last=last), piece, head)
        except (InvalidTag, ValueError) as error:
            raise _damaged(number + 1, cut=last) from error
        yield content
        if last:
            return
        piece, number = following, number + 1
