"""Finds a fuel by name in the library and loads it: one small file, nothing else."""

import re
import tomllib
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path
from typing import Any

from fluewright.fuels import refusals
from fluewright.fuels.record import Band, FuelRecord
from fluewright.fuels.shape import record_from_table

__all__ = ["Band", "FuelRecord", "load", "named", "names", "titles"]

LIBRARY = Path(__file__).parent / "library"
_ALIASES = re.compile(r"^aliases = \[(.*)\]$", re.MULTILINE)
_WORDS = re.compile(r'^words = "(.*)"$', re.MULTILINE)


def names() -> tuple[str, ...]:
    """All names of the library, in alphabetical order; only file names are read."""
    return tuple(sorted(path.stem for path in LIBRARY.glob("*.toml")))


def titles() -> dict[str, tuple[str, tuple[str, ...]]]:
    """Words and aliases of every fuel by name, read from two lines of each file."""
    found = {}
    for name in names():
        text = (LIBRARY / f"{name}.toml").read_text(encoding="utf-8")
        words, aliases = _WORDS.search(text), _ALIASES.search(text)
        others = tuple(re.findall(r'"([^"]+)"', aliases[1])) if aliases else ()
        found[name] = (words[1] if words else name, others)
    return found


def _folded(name: str) -> str:
    return re.sub(r"[\s_]+", "-", name.strip().lower())


def _spellings() -> Iterator[tuple[str, str]]:
    for name, (_, aliases) in titles().items():
        yield name, name
        yield from ((_folded(alias), name) for alias in aliases)


def named(name: str) -> str:
    """The library name that a person means by a name or an alias.

    name  as typed: natural-gas, Natural Gas, ng, #2 ...
    -> library name; FuelError FW-F-001 with the nearest names
    """
    key = _folded(name)
    if re.fullmatch(r"[a-z0-9][a-z0-9-]{0,59}", key) and (LIBRARY / f"{key}.toml").is_file():
        return key
    spelled = dict(_spellings())
    if key in spelled:
        return spelled[key]
    raise refusals.unknown_fuel(name, spelled)


def load(name: str, *, moisture: float | None = None) -> FuelRecord:
    """A fuel of the library, or a blend of fuels of the library.

    name      library name or alias, or a blend such as "natural-gas 80 + hydrogen 20"
    moisture  kg water per kg of fuel as fired, 0..0.7, for solid fuels; the file's own when None
    -> fuel record; FuelError with four parts
    """
    if "+" in name:
        from fluewright.fuels.blend import from_words

        return from_words(name)
    found = named(name)
    record = record_from_table(table(found), name=found, where=f"fuel library, {found}.toml", moisture=moisture)
    return replace(record, understood="")


def table(name: str) -> dict[str, Any]:
    """The file of one fuel of the library as it stands.

    name  exact library name
    -> its table
    """
    with (LIBRARY / f"{name}.toml").open("rb") as file:
        return tomllib.load(file)
