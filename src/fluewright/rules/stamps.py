"""Which data of the rules a visit was judged by, to the byte: version and hash of every file that speaks of a place."""

import re
from collections.abc import Collection
from dataclasses import dataclass
from datetime import date
from functools import cache
from importlib import resources

from fluewright.rules.signed import hash_of

FOLDERS = ("air", "bans", "books", "drafts", "duties", "oil", "routes", "tables", "tightness", "vents", "visits")

_PLACE = re.compile(r'^jurisdiction = "([^"]+)"$', re.MULTILINE)
_VERSION = re.compile(r"^version = (\d{4}-\d{2}-\d{2})$", re.MULTILINE)


@dataclass(frozen=True, slots=True)
class Stamp:
    """One file of the rules.

    name    folder and stem, such as books/us-household
    places  that it speaks of; empty for tables, which speak of none
    words   version, where it has one, and hash
    """

    name: str
    places: frozenset[str]
    words: str


def words_of(content: bytes, *, version: date | str | None) -> str:
    """Version and hash of a book in words, as a seal keeps them."""
    return " ".join(part for part in (str(version or ""), f"sha256:{hash_of(content)}") if part)


def _stamp(folder: str, stem: str, content: bytes) -> Stamp:
    text = content.decode("utf-8")
    version = _VERSION.search(text)
    words = words_of(content, version=version[1] if version else None)
    return Stamp(f"{folder}/{stem}", frozenset(_PLACE.findall(text)), words)


@cache
def stamps() -> tuple[Stamp, ...]:
    """Every file of the rules that came with the program, by name."""
    root = resources.files("fluewright.rules")
    return tuple(
        _stamp(folder, entry.name.removesuffix(".toml"), entry.read_bytes())
        for folder in FOLDERS
        for entry in sorted((root / folder).iterdir(), key=lambda one: one.name)
        if entry.name.endswith(".toml")
    )


def of_places(places: Collection[str]) -> dict[str, str]:
    """The stamps of the files that speak of a place, and of tables that speak of none.

    places  codes, everywhere among them where that counts
    -> words by name
    """
    return {one.name: one.words for one in stamps() if not one.places or one.places & set(places)}
