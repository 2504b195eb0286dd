"""Whether a rule book is the one that somebody signed: a small file beside it, checked before its rows are believed.

This room knows no keys: whoever asks hands in what checks a signature.
"""

import hashlib
import re
from collections.abc import Callable, Collection
from dataclasses import dataclass
from typing import Literal

from fluewright.errors import RuleError

FORM = "fluewright rule book 1"
"""First line of what is signed, so that the signature can pass for nothing else, and of the file beside the book."""

ENDING = ".signed"
"""Of the file beside the book: house-book.toml has house-book.toml.signed."""

Word = Literal["signed", "signed by a stranger", "not signed", "changed"]
Verify = Callable[[str, bytes, str], bool]
"""Public key, content and signature, both hexadecimal -> whether the signature holds."""

_BESIDE = re.compile(rf"{FORM}\nkey ([0-9a-f]{{64}})\nsignature ([0-9a-f]{{128}})\n?")


@dataclass(frozen=True, slots=True)
class Standing:
    """How a book stands.

    word      signed by a key that is trusted here, by another, not at all, or changed since
    key       public half of the key that signed, empty where none did
    sentence  what to say of it
    """

    word: Word
    key: str
    sentence: str

    @property
    def must_be_told(self) -> bool:
        """Whether a person has to hear of it before the book takes effect."""
        return self.word != "signed"


def hash_of(content: bytes) -> str:
    """SHA-256 of a book, hexadecimal."""
    return hashlib.sha256(content).hexdigest()


def to_sign(content: bytes) -> bytes:
    """The bytes that a key signs for a book."""
    return f"{FORM}\n{hash_of(content)}\n".encode("ascii")


def beside(*, key: str, signature: str) -> str:
    """The text of the file beside a book.

    key        public half, 64 hexadecimal digits
    signature  over `to_sign`, 128 hexadecimal digits
    """
    return f"{FORM}\nkey {key}\nsignature {signature}\n"


def standing(*, content: bytes, signed: str | None, trusted: Collection[str], verify: Verify, file: str) -> Standing:
    """How a book stands to its signature.

    content  of the book
    signed   text of the file beside it, None where there is none
    trusted  public keys whose books are taken here without a word
    verify   checks a signature
    file     name of the book, for the sentence
    -> standing; RuleError FW-B-052 where the file beside it is none
    """
    if signed is None:
        return Standing("not signed", "", f"{file} is not signed: nobody vouches for what stands in it.")
    match = _BESIDE.fullmatch(signed.replace("\r\n", "\n"))
    if match is None:
        raise RuleError(
            code="FW-B-052",
            where=f"{file}{ENDING}",
            read="a file that is no signature of a rule book",
            expected=f"three lines: {FORM!r}, the key and the signature",
            matters="a book that cannot be checked may have been changed on its way",
            do="fetch book and signature again from whoever sent them, or take the book unsigned",
        )
    key, signature = match.groups()
    if not verify(key, to_sign(content), signature):
        return Standing(
            "changed", key, f"{file} was changed after it was signed, or was not signed by the key {key[:16]}."
        )
    if key not in trusted:
        return Standing(
            "signed by a stranger", key, f"{file} is signed by the key {key[:16]}, which is not known here."
        )
    return Standing("signed", key, f"{file} is signed by the key {key[:16]}, which is trusted here.")


def need_unchanged(one: Standing, *, file: str) -> None:
    """Refuse a book that was changed after it was signed: RuleError FW-B-053."""
    if one.word == "changed":
        raise RuleError(
            code="FW-B-053",
            where=file,
            read=one.sentence,
            expected="the book as it was signed, every byte of it",
            matters="one figure changed would judge every visit from then on",
            do="fetch the book again from whoever signed it; where the change is yours, sign it anew",
        )
