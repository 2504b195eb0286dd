"""A secret of 128 bits as eight words of five letters that can be read aloud and copied by hand.

The coding is the published one of D. S. Wilkerson, "A Proposal for Proquints: Identifiers that are Readable, Spellable,
and Pronounceable", arXiv:0901.4016: sixteen bits are consonant, vowel, consonant, vowel, consonant of four, two, four,
two and four bits.
"""

import re
import secrets

from fluewright.errors import EntryError

CONSONANTS = "bdfghjklmnprstvz"
VOWELS = "aiou"
WORDS = 8
"""Words of sixteen bits each: 128 bits, beyond anyone's trying."""


def _word(number: int) -> str:
    return (
        CONSONANTS[number >> 12]
        + VOWELS[number >> 10 & 3]
        + CONSONANTS[number >> 6 & 15]
        + VOWELS[number >> 4 & 3]
        + CONSONANTS[number & 15]
    )


def words_from(secret: bytes) -> str:
    """A secret of an even number of bytes as words, with spaces between them."""
    return " ".join(_word(int.from_bytes(secret[at : at + 2], "big")) for at in range(0, len(secret), 2))


def new_words() -> str:
    """Eight words that nobody has seen."""
    return words_from(secrets.token_bytes(2 * WORDS))


def _number(word: str, place: int) -> int:
    if not re.fullmatch(f"[{CONSONANTS}][{VOWELS}][{CONSONANTS}][{VOWELS}][{CONSONANTS}]", word):
        raise EntryError(
            code="FW-J-040",
            read=f"{word[:20]!r} as word {place}",
            expected=f"five letters in turn of {CONSONANTS} and {VOWELS}, such as 'lusab'",
            matters="with one wrong letter the backup stays closed",
            do="compare that word with the sheet on which the words were printed",
        )
    bits = ((CONSONANTS, 12), (VOWELS, 10), (CONSONANTS, 6), (VOWELS, 4), (CONSONANTS, 0))
    return sum(letters.index(sign) << shift for sign, (letters, shift) in zip(word, bits, strict=True))


def secret_from(words: str) -> bytes:
    """The secret behind eight words.

    words  in their order, with spaces, dashes or line ends between them, in letters of any size
    -> 16 bytes; EntryError naming the word that cannot be one
    """
    found = [each for each in re.split(r"[\s\-]+", words.lower()) if each]
    if len(found) != WORDS:
        raise EntryError(
            code="FW-J-041",
            read=f"{len(found)} words",
            expected=f"{WORDS} words, as they were printed when the backup was made",
            matters="without all of them the backup stays closed",
            do="copy all words from the sheet, in their order",
        )
    return b"".join(_number(word, place).to_bytes(2, "big") for place, word in enumerate(found, 1))
