"""The device's own Ed25519 key (RFC 8032), in a file that only its owner may read."""

import os
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from fluewright.errors import NotAllowed, RecordDamaged
from fluewright.record.files import flushed
from fluewright.record.keys import ED25519
from fluewright.record.settings import Settings

if TYPE_CHECKING:
    from cryptography.hazmat.primitives.asymmetric.ed25519 import Ed25519PrivateKey

P = 2**255 - 19
OF_ORDER_8 = int.from_bytes(bytes.fromhex("26e8958fc2b227b045c3f489f2ef98f0d5dfac05d3c63339b13802886d53fc05"), "little")
"""The field of the curve, and y of the points of order 8; those of order 1, 2 and 4 have 1, -1 and 0 (RFC 8032)."""

NAME = "device.key"
"""The file in the folder of keys: PKCS 8 in PEM, so that any tool reads it."""


@dataclass(frozen=True, slots=True)
class FileKey:
    """A key that lies in a file.

    path    where
    public  its public half, hexadecimal
    """

    path: Path
    public: str

    @property
    def algorithm(self) -> str:
        """The word of its algorithm."""
        return ED25519

    def sign(self, content: bytes) -> str:
        """The signature over some bytes, hexadecimal."""
        return _private(self.path).sign(content).hex()


def _private(path: Path) -> "Ed25519PrivateKey":
    """The private half, read for one use."""
    from cryptography.hazmat.primitives.asymmetric.ed25519 import Ed25519PrivateKey
    from cryptography.hazmat.primitives.serialization import load_pem_private_key

    if os.name == "posix" and path.stat().st_mode & 0o077:
        raise NotAllowed(
            code="FW-N-031",
            where=str(path),
            read="a key that other people of this machine may read",
            expected="a file that only its owner may read (mode 0600)",
            matters="whoever has the key can seal visits in the name of this device",
            do="set its mode to 0600; if someone may have copied it, revoke it",
        )
    try:
        key = load_pem_private_key(path.read_bytes(), password=None)
    except (ValueError, TypeError) as error:
        raise _no_key(path, str(error)) from error
    if not isinstance(key, Ed25519PrivateKey):
        raise _no_key(path, "a key of another algorithm")
    return key


def _no_key(path: Path, why: str) -> RecordDamaged:
    return RecordDamaged(
        code="FW-R-030",
        where=str(path),
        read=f"no key that can sign: {why}",
        expected="an Ed25519 key in PEM, as this program writes it",
        matters="nothing can be sealed with it",
        do="put the file back from where it was copied, or revoke the key and make another",
    )


def _public_of(key: "Ed25519PrivateKey") -> str:
    return key.public_key().public_bytes_raw().hex()


def found_in(folder: Path) -> FileKey | None:
    """The key that lies in a folder; None when there is none."""
    path = folder / NAME
    return FileKey(path, _public_of(_private(path))) if path.exists() else None


def made_in(folder: Path) -> FileKey:
    """A new key in a folder that has none; it is on the disk when this returns."""
    from cryptography.hazmat.primitives.asymmetric.ed25519 import Ed25519PrivateKey
    from cryptography.hazmat.primitives.serialization import Encoding, NoEncryption, PrivateFormat

    folder.mkdir(mode=0o700, parents=True, exist_ok=True)
    key = Ed25519PrivateKey.generate()
    path = folder / NAME
    handle = os.open(path, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600)
    with os.fdopen(handle, "wb") as file:
        file.write(key.private_bytes(Encoding.PEM, PrivateFormat.PKCS8, NoEncryption()))
        file.flush()
        os.fsync(file.fileno())
    flushed(folder)
    return FileKey(path, _public_of(key))


def key_of(settings: Settings) -> FileKey:
    """The key of this device, made on first use.

    settings  of its journal
    -> key; NotAllowed when others may read it, RecordDamaged when it is none
    """
    return found_in(settings.keys_folder()) or made_in(settings.keys_folder())


def _is_weak(public: str) -> bool:
    """Whether a key is one of the few points of small order, under which one signature holds over anything."""
    try:
        y = int.from_bytes(bytes.fromhex(public), "little") & (1 << 255) - 1
    except ValueError:
        return True
    return y % P in (0, 1, P - 1, OF_ORDER_8, P - OF_ORDER_8)


def holds(public: str, content: bytes, signature: str) -> bool:
    """Whether a signature over some bytes was made by the key of this public half."""
    from cryptography.exceptions import InvalidSignature
    from cryptography.hazmat.primitives.asymmetric.ed25519 import Ed25519PublicKey

    if _is_weak(public):
        return False
    try:
        Ed25519PublicKey.from_public_bytes(bytes.fromhex(public)).verify(bytes.fromhex(signature), content)
    except (InvalidSignature, ValueError):
        return False
    return True
