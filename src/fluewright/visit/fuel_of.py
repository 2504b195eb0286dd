"""Finds the fuel a person meant: a name, a blend, a composition typed in, or a file."""

from collections.abc import Mapping
from pathlib import Path
from typing import Any

from fluewright.errors import FuelError
from fluewright.fuels import composition, load
from fluewright.fuels.record import FuelRecord
from fluewright.quantity import parse


def chosen(
    *, name: str | None, inline: str | None, file: Path | None, by: str = "", moisture: float | None = None
) -> FuelRecord:
    """The fuel from exactly one of three ways of saying it.

    name      name in the library, or a blend such as "natural-gas 80 + hydrogen 20"
    inline    composition such as "CH4=95,N2=5"
    file      file of the same form as the library's
    by        "mole" or "volume", for a composition; empty for mole
    moisture  kg/kg as fired, for solid fuels
    -> fuel record; FuelError when none or several ways were used
    """
    given = [way for way in (name, inline, file) if way is not None]
    if len(given) != 1:
        raise FuelError(
            code="FW-F-090",
            read="no fuel was named"
            if not given
            else "the fuel was named in several ways: " + ", ".join(map(str, given)),
            expected="one of: a name of the library, a composition, a fuel file",
            matters="air need, heat and dew point all hang on the fuel",
            do='say --fuel natural-gas, or --composition "CH4=95,N2=5", or --fuel-file mine.toml; fluewright fuel list',
        )
    if file is not None:
        return composition.from_file(file, moisture=moisture)
    if inline is not None:
        return composition.composition(inline, by=by, moisture=moisture)
    return load.load(str(name), moisture=moisture)


def from_table(table: Mapping[str, Any], *, folder: Path) -> FuelRecord:
    """The fuel from the [fuel] table of a visit file; paths count from the file's folder."""
    typed = {key: _text(key, table[key]) for key in ("name", "composition", "file", "by", "moisture") if key in table}
    moisture = typed.get("moisture")
    return chosen(
        name=typed.get("name"),
        inline=typed.get("composition"),
        file=folder / typed["file"] if "file" in typed else None,
        by=typed.get("by", ""),
        moisture=None if moisture is None else parse.single(moisture, quantity="moisture").value,
    )


def _text(key: str, value: object) -> str:
    if isinstance(value, str) or (key == "moisture" and isinstance(value, int | float) and not isinstance(value, bool)):
        return str(value)
    raise FuelError(
        code="FW-F-091",
        read=f"{key} = {value!r}",
        expected="a text in quotes",
        matters="air need, heat and dew point all hang on the fuel",
        do='write it in quotes, such as name = "natural-gas" or composition = "CH4=95,N2=5"',
    )
