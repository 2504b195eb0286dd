"""Words as they are looked for: without case and accents, and how far a typed word is from a kept one."""

import re
import unicodedata
from collections.abc import Iterable, Iterator

LONGEST = 40
"""Signs of a word that are kept; a longer one is cut."""

_APART = str.maketrans({"ø": "o", "ł": "l", "đ": "d", "ð": "d", "þ": "th", "æ": "ae", "œ": "oe", "ı": "i"})
"""Letters that Unicode does not take apart into letter and accent."""

_WORD = re.compile(r"[^\W_]+")
_JOINED = re.compile(r"[^\W_]+(?:[-/.]+[^\W_]+)+")


def bare(text: str) -> str:
    """A text in small letters without accents."""
    if text.isascii():
        return text.lower()
    apart = unicodedata.normalize("NFKD", text.casefold())
    return "".join(sign for sign in apart if not unicodedata.combining(sign)).translate(_APART)


def words_of(text: str) -> list[str]:
    """The words of a text, each once: AB-12/7 as ab, 12 and 7."""
    return list(dict.fromkeys(found[:LONGEST] for found in _WORD.findall(bare(text))))


def joined_in(text: str) -> str:
    """A text with what stands within a word left out: AB-12/7 as ab127."""
    return _JOINED.sub(lambda found: "".join(_WORD.findall(found[0])), bare(text))


def all_words_of(text: str) -> list[str]:
    """The words of a text taken apart and joined, each once: AB-12/7 as ab, 12, 7 and ab127."""
    return list(dict.fromkeys([*words_of(text), *words_of(joined_in(text))]))


def grams(word: str) -> list[str]:
    """All runs of three signs in a word, its beginning and end marked by a blank; each once.

    And its first four letters in the order of the alphabet: two swapped letters leave a short word no run of three.
    """
    whole = f" {word} "
    swapped = ["".join(sorted(word[:4]))] if len(word) > 3 else []
    return list(dict.fromkeys([*(whole[at : at + 3] for at in range(len(whole) - 2)), *swapped]))


def slips(word: str) -> int:
    """Wrong letters that a typed word may have: none in a short one, two in a long one."""
    return 0 if len(word) < 4 or any(sign.isdigit() for sign in word) else 1 if len(word) < 8 else 2


def distance(typed: str, kept: str, most: int) -> int:
    """Letters that are wrong, missing, too many or swapped with the next, at the least.

    typed  what was typed: a whole word or its beginning
    kept   a word that was kept; what follows after the typed beginning costs nothing
    most   beyond which nothing more is counted
    -> count; most + 1 when there are more
    """
    before: list[int] = []
    row = list(range(len(typed) + 1))
    best = row[-1]
    for at, sign in enumerate(kept[: len(typed) + most], 1):
        older, before, row = before, row, [at]
        for place, wanted in enumerate(typed, 1):
            cost = min(before[place] + 1, row[place - 1] + 1, before[place - 1] + (sign != wanted))
            if at > 1 and place > 1 and sign == typed[place - 2] and kept[at - 2] == wanted:
                cost = min(cost, older[place - 2] + 1)
            row.append(cost)
        best = min(best, row[-1])
        if min(row) > most:
            break
    return min(best, most + 1)


def near(typed: str, kept: Iterable[str]) -> Iterator[str]:
    """Those of some words that a typed word may have meant: it is in them, or a slip or two away."""
    most = slips(typed)
    for word in kept:
        if (len(typed) > 2 and typed in word) or (most and distance(typed, word, most) <= most):
            yield word
