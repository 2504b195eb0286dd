"""Words for a secret, and the lock that they open: the published codings, and every way in which a file can be bent."""

import io

import pytest
from hypothesis import given
from hypothesis import strategies as some

from fluewright.errors import EntryError, RecordDamaged
from fluewright.record import locked
from fluewright.record.locked import MAGIC, PIECE, Locking, unlocked
from fluewright.record.words import new_words, secret_from, words_from

HEAD = len(MAGIC) + locked.SALT + locked.SIGN


PUBLISHED = {
    "127.0.0.1": "lusab babad",
    "63.84.220.193": "gutih tugad",
    "63.118.7.35": "gutuk bisog",
    "140.98.193.141": "mudof sakat",
    "64.255.6.200": "haguz biram",
    "128.30.52.45": "mabiv gibot",
    "147.67.119.2": "natag lisaf",
    "212.58.253.68": "tibup zujah",
    "216.35.68.215": "tobog higil",
    "216.68.232.21": "todah vobij",
    "198.81.129.136": "sinid makam",
    "12.110.110.204": "budov kuras",
}
"""Addresses and their words in arXiv:0901.4016; the first was read again, the others are from memory."""


@pytest.mark.parametrize(("address", "words"), PUBLISHED.items())
def test_the_published_examples(address: str, words: str) -> None:
    assert words_from(bytes(int(part) for part in address.split("."))) == words


@given(some.binary(min_size=16, max_size=16))
def test_a_secret_comes_back_from_its_words(secret: bytes) -> None:
    assert secret_from(words_from(secret)) == secret
    assert secret_from(" - ".join(words_from(secret).upper().split())) == secret


@pytest.mark.parametrize(
    ("words", "code"),
    [("lusab babad", "FW-J-041"), ("", "FW-J-041"), ("lusab " * 7 + "lusax", "FW-J-040"), ("lusab " * 9, "FW-J-041")],
)
def test_words_that_cannot_be_are_told(words: str, code: str) -> None:
    with pytest.raises(EntryError, match=code):
        secret_from(words)


def test_the_wrong_word_is_named() -> None:
    with pytest.raises(EntryError, match="word 3"):
        secret_from("lusab babad lusqb " + "babad " * 5)


def test_no_two_sets_of_words_are_the_same() -> None:
    assert len({new_words() for _ in range(1000)}) == 1000


def lock(content: bytes, words: str) -> bytes:
    """Some bytes locked."""
    below = io.BytesIO()
    locking = Locking(below, words)
    locking.write(content)
    locking.finish()
    return below.getvalue()


@pytest.mark.parametrize("size", [0, 1, PIECE - 1, PIECE, PIECE + 1, 3 * PIECE, 3 * PIECE + 7])
def test_what_is_locked_comes_back_whole(size: int) -> None:
    words, content = new_words(), bytes(at * 7 & 255 for at in range(1024)) * (size // 1024 + 1)
    content = content[:size]
    pieces = list(unlocked(io.BytesIO(lock(content, words)), words))
    assert b"".join(pieces) == content


def test_other_words_do_not_open_it() -> None:
    found = lock(b"some bytes", new_words())
    with pytest.raises(EntryError, match="FW-J-042"):
        list(unlocked(io.BytesIO(found), new_words()))


def test_every_flipped_bit_and_every_cut_is_noticed(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(locked, "PIECE", 16)
    words, content = new_words(), bytes(range(50))
    whole = lock(content, words)
    assert b"".join(unlocked(io.BytesIO(whole), words)) == content
    for at in range(len(whole)):
        bent = bytearray(whole)
        bent[at] ^= 1 << at % 8
        with pytest.raises((RecordDamaged, EntryError)):
            list(unlocked(io.BytesIO(bytes(bent)), words))
        with pytest.raises((RecordDamaged, EntryError)):
            list(unlocked(io.BytesIO(whole[:at]), words))
    with pytest.raises(RecordDamaged):
        list(unlocked(io.BytesIO(whole + b"more"), words))


def test_pieces_swapped_or_of_another_file_are_noticed(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(locked, "PIECE", 16)
    words = new_words()
    whole, other = lock(bytes(range(48)), words), lock(bytes(range(48)), words)
    first, second = whole[HEAD : HEAD + 32], whole[HEAD + 32 : HEAD + 64]
    for bent in (
        whole[:HEAD] + second + first + whole[HEAD + 64 :],
        whole[:HEAD] + first + first + whole[HEAD + 64 :],
        whole[:HEAD] + other[HEAD : HEAD + 32] + whole[HEAD + 32 :],
    ):
        with pytest.raises(RecordDamaged, match="FW-R-032"):
            list(unlocked(io.BytesIO(bent), words))


def test_the_same_content_under_the_same_words_looks_different_each_time() -> None:
    words = new_words()
    assert lock(b"x" * 100, words)[len(MAGIC) :] != lock(b"x" * 100, words)[len(MAGIC) :]
