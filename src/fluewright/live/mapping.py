"""A mapping: what a person says about one live source, kept as TOML; read strictly, all mistakes told together.

[source]      name = "meter", kind = "mqtt", instrument = "meter A", appliance = "boiler 1", point = "stack"
[connection]  what the kind needs: host and topic, device and baud, file, every
[text]        form = "columns", separator = ";", columns = ["n", "o2", "co"], checksum = "sum8"
[trust]       key_file = "meter.key"
[[channel]]   from = "o2", quantity = "oxygen_dry", unit = "%", basis = "dry", t90 = "20 s", step = "0.1 %"
"""

import math
import re
import tomllib
from collections.abc import Mapping as Table
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any, Literal

from fluewright.errors import FluewrightError, Problems, TraceError
from fluewright.evidence.trace import measure
from fluewright.live.spelled import CONNECTIONS, FORMS, KEYS, KINDS, LISTS, TYPES, WORD_ORDERS, Checksum
from fluewright.quantity import names

Kind = Literal["serial", "mqtt", "modbus-tcp", "modbus-rtu", "push", "tail", "replay", "appliance"]
Registers = Literal["holding", "input"]

SCALE = re.compile(r"-?\d{1,9}(?:\.\d{1,9})?")


@dataclass(frozen=True, slots=True)
class Channel:
    """One quantity of a source.

    come_from  column, member of a JSON object ("gas.o2"), or empty where a message is one value
    quantity   registry name
    unit       of a bare number
    point      sampling point; that of the source when empty
    t90        s, 0 where nobody said
    step       least step shown, canonical unit; 0 where nobody said
    top        end of the range, canonical unit; at or beyond it a value is "at least"; None where nobody said
    register, type, words, scale, table   where and how a Modbus device keeps it
    """

    come_from: str
    quantity: str
    unit: str
    point: str = ""
    t90: float = 0.0
    step: float = 0.0
    top: float | None = None
    register: int = 0
    type: str = "uint16"
    words: str = "big"
    scale: str = "1"
    table: Registers = "holding"


@dataclass(frozen=True, slots=True)
class Text:
    """How the text of a message is taken apart.

    form       columns of text, json, or value for a message that is one number
    separator  between columns; spaces when empty
    decimal    "." or ","
    columns    names of the columns, in their order
    sequence   column or member with a number that never goes back; empty for none
    time       column or member with the source's own time, s since 1970 or ISO 8601; empty for none
    gap        words that stand for no reading, beside the usual ones
    """

    form: str = "columns"
    separator: str = ""
    decimal: str = "."
    checksum: Checksum = "none"
    columns: tuple[str, ...] = ()
    sequence: str = ""
    time: str = ""
    gap: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Mapping:
    """Everything that is said of one source.

    practice    whether no instrument stands behind it, whatever its kind
    connection  by key, as its kind takes them
    key_file    file with the key that its messages are signed with; None where they are not
    folder      that relative files are looked for in
    """

    name: str
    kind: Kind
    instrument: str
    channels: tuple[Channel, ...]
    appliance: str = ""
    point: str = ""
    practice: bool = False
    connection: Table[str, Any] = field(default_factory=dict)
    text: Text = field(default_factory=Text)
    key_file: Path | None = None
    folder: Path = Path()

    def path(self, key: str) -> Path:
        """A file that the connection names; relative ones lie beside the mapping."""
        return self.folder / str(self.connection[key])


def seconds_in(text: str) -> float | None:
    """A time such as 20 s, 100 ms or 2 min in seconds, a day at most; None where it is none."""
    number, _, unit = text.strip().partition(" ")
    scale = {"s": 1.0, "ms": 1e-3, "min": 60.0}.get(unit)
    try:
        value = float(number) * scale if scale else math.nan
    except ValueError:
        return None
    return value if 0.0 <= value <= 86_400.0 else None


def wrong(where: str, read: str, expected: str) -> TraceError:
    """A mapping that does not say what a source needs."""
    return TraceError(
        code="FW-T-100",
        where=where,
        read=read,
        expected=expected,
        matters="a mapping that is only half understood would put live numbers under the wrong name",
        do="correct the line; docs/live.md has every key, and `fluewright listen --learn` proposes a mapping",
    )


@dataclass(slots=True)
class _Reading:
    """One mapping being read, with what was wrong so far."""

    where: str
    errors: list[FluewrightError] = field(default_factory=list)

    def add(self, place: str, read: str, expected: str) -> None:
        self.errors.append(wrong(f"{self.where}, {place}", read, expected))

    def table(self, name: str, said: Any, keys: Table[str, type], *, need: tuple[str, ...] = ()) -> dict[str, Any]:
        """The known keys of a table in their types."""
        if not isinstance(said, dict):
            self.add(name, f"{said!r}"[:80], f"a table with {', '.join(keys)}")
            return {}
        kept = {}
        for key, value in said.items():
            if key not in keys:
                self.add(name, f"a key named {key}", "one of " + ", ".join(keys))
            elif not isinstance(value, keys[key]) or (isinstance(value, bool) and keys[key] is not bool):
                self.add(name, f"{key} = {value!r}"[:80], f"{key} as {TYPES[keys[key]]}")
            else:
                kept[key] = value
        for key in need:
            if kept.get(key) in (None, "") and not any(key in e.read for e in self.errors if name in e.where):
                self.add(name, f"no {key}", f"{key} = {TYPES[keys[key]]}")
        return kept

    def word(self, place: str, table: Table[str, Any], key: str, words: Any) -> None:
        """Note a word that is none of those."""
        if key in table and table[key] not in words:
            self.add(place, f"{key} = {table[key]!r}", "one of " + ", ".join(words))

    def amount(self, place: str, table: Table[str, Any], key: str, quantity: str, *, difference: bool = False) -> float:
        """A figure with its unit, canonical; 0 where it is not said."""
        if key not in table:
            return 0.0
        number, _, unit = str(table[key]).strip().partition(" ")
        line = measure.line(quantity, unit) if unit else None
        try:
            value = float(number) * line[0] + (0.0 if difference else line[1]) if line else None
        except ValueError:
            value = None
        if value is None or not math.isfinite(value) or (difference and value <= 0.0):
            self.add(place, f"{key} = {table[key]!r}", f"a figure and a unit of {names.of(quantity).words}")
        return value or 0.0

    def seconds(self, place: str, table: Table[str, Any], key: str) -> float:
        """A time such as 20 s; 0 where it is not said."""
        value = seconds_in(str(table.get(key, "0 s")))
        if value is None:
            self.add(place, f"{key} = {table[key]!r}", "seconds such as 20 s, or 2 min")
            return 0.0
        return value


def _channel(reading: _Reading, number: int, said: Any, kind: str) -> Channel | None:
    place = f"[[channel]] {number}"
    modbus = kind.startswith("modbus")
    table = reading.table(place, said, KEYS["channel"], need=("quantity", *(("register",) if modbus else ())))
    quantity = str(table.get("quantity", ""))
    if not measure.known(quantity):
        if quantity:
            reading.add(place, f"quantity = {quantity!r}", "a name of docs/quantities.md, such as oxygen_dry")
        return None
    meant = names.of(quantity)
    unit = str(table.get("unit", meant.unit))
    if measure.line(quantity, unit) is None:
        reading.add(place, f"unit = {unit!r}", "one of " + ", ".join(measure.choices(quantity)))
        return None
    if table.get("basis", meant.basis) != meant.basis:
        expected = f'"{meant.basis}", which {quantity} is, or the quantity of that basis'
        reading.add(place, f"basis = {table['basis']!r}", expected)
    reading.word(place, table, "type", FORMS)
    reading.word(place, table, "words", WORD_ORDERS)
    reading.word(place, table, "table", ("holding", "input"))
    if SCALE.fullmatch(str(table.get("scale", "1"))) is None:
        reading.add(place, f"scale = {table['scale']!r}", 'what a register is multiplied by, such as "0.1"')
    if not 0 <= table.get("register", 0) <= 65_535:
        reading.add(place, f"register = {table['register']}", "a number from 0 to 65535")
    top = reading.amount(place, table, "top", quantity) if "top" in table else None
    return Channel(
        come_from=str(table.get("from", f"{table.get('table', 'holding')} {table.get('register')}" if modbus else "")),
        quantity=quantity,
        unit=unit,
        point=str(table.get("point", "")),
        t90=reading.seconds(place, table, "t90"),
        step=reading.amount(place, table, "step", quantity, difference=True),
        top=top,
        **{key: table[key] for key in ("register", "type", "words", "table", "scale") if key in table},
    )


def _text(reading: _Reading, said: Any) -> Text:
    table = reading.table("[text]", said, KEYS["text"])
    reading.word("[text]", table, "form", ("columns", "json", "value"))
    reading.word("[text]", table, "decimal", (".", ","))
    reading.word("[text]", table, "checksum", ("none", "sum8", "xor8", "crc16"))
    for key in LISTS:
        if not all(isinstance(each, str) and each for each in table.get(key, [])):
            reading.add("[text]", f"{key} = {table[key]!r}"[:80], "a list of texts")
            table.pop(key)
    held: dict[str, Any] = {key: tuple(value) if key in LISTS else value for key, value in table.items()}
    return Text(**held)


def _reached(reading: _Reading, connection: dict[str, Any], key_file: Any, kind: str) -> None:
    """Note what a connection says that cannot be."""
    for key in ("every", "timeout"):
        reading.seconds("[connection]", connection, key)
    reading.word("[connection]", connection, "parity", ("N", "E", "O"))
    reading.word("[connection]", connection, "start", ("end", "beginning"))
    for key, most in (("port", 65_535), ("unit", 255), ("baud", 10_000_000)):
        if not 0 < connection.get(key, 1) <= most:
            reading.add("[connection]", f"{key} = {connection[key]}", f"a number from 1 to {most}")
    if key_file and kind not in ("mqtt", "push"):
        reading.add("[trust]", f"a key file for the kind {kind}", "mqtt or push, whose messages carry a signature")


def _fit(reading: _Reading, channels: list[Channel], text: Text, kind: str) -> None:
    """Note what the parts say against one another."""
    if kind.startswith("modbus") or kind in ("replay", "appliance"):
        return
    known = set(text.columns)
    needed = [*(channel.come_from for channel in channels), text.sequence, text.time]
    if text.form == "columns":
        for name in needed:
            if name and name not in known:
                reading.add("[text]", f"the column {name!r}, which columns does not list", "every column by its name")
        if not known:
            reading.add("[text]", "no columns", 'columns = ["o2", "co", ...], every one in its order')
    elif text.form == "value" and len(channels) != 1:
        reading.add("[text]", f'form = "value" with {len(channels)} channels', "one channel for a message of one value")
    if text.form != "value" and any(not channel.come_from for channel in channels):
        reading.add("[[channel]]", "a channel that does not say where its value comes from", "from = the column")


def from_data(data: Table[str, Any], *, where: str = "mapping", folder: Path = Path()) -> Mapping:
    """A mapping from a table such as a parsed TOML file.

    data    the tables
    where   for the errors: the file
    folder  that relative files are looked for in
    -> mapping; Problems with everything that is wrong
    """
    reading = _Reading(where)
    for name in data:
        if name not in (*KEYS, "connection"):
            reading.add(name, f"a table named {name}", "[source], [connection], [text], [trust] and [[channel]]")
    source = reading.table("[source]", data.get("source", {}), KEYS["source"], need=("name", "kind", "instrument"))
    reading.word("[source]", source, "kind", KINDS)
    kind = str(source.get("kind", ""))
    keys, need = CONNECTIONS.get(kind, ({}, ()))
    connection = reading.table("[connection]", data.get("connection", {}), keys, need=need) if keys else {}
    _reached(reading, connection, data.get("trust"), kind)
    text = _text(reading, data.get("text", {}))
    rows = data.get("channel", [])
    found = [_channel(reading, n, row, kind) for n, row in enumerate(rows if isinstance(rows, list) else [rows], 1)]
    channels = [channel for channel in found if channel is not None]
    if not rows and kind not in ("replay", "appliance"):
        reading.add("[[channel]]", "no channel", "one [[channel]] for each value that is to be kept")
    _fit(reading, channels, text, kind)
    trust = reading.table("[trust]", data.get("trust", {}), KEYS["trust"])
    if "key_file" in trust and not text.sequence:
        reading.add("[trust]", "signed messages without a sequence", "[text] sequence: a number that never goes back")
    if reading.errors:
        raise Problems(subject=where, errors=reading.errors)
    key_file = folder / trust["key_file"] if "key_file" in trust else None
    return Mapping(
        **source, channels=tuple(channels), connection=connection, text=text, key_file=key_file, folder=folder
    )


def load(path: Path) -> Mapping:
    """The mapping in a TOML file.

    -> mapping; Problems with all its mistakes, TraceError when it is no TOML
    """
    try:
        data = tomllib.loads(path.read_text("utf-8"))
    except OSError as error:
        raise wrong(str(path), f"the file cannot be read: {error.strerror}", "a TOML file with a mapping") from error
    except (tomllib.TOMLDecodeError, UnicodeDecodeError, RecursionError) as error:
        raise wrong(str(path), f"not TOML: {error}", "TOML with [source], [connection] and [[channel]]") from error
    return from_data(data, where=path.name, folder=path.parent)
