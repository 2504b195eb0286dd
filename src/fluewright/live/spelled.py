"""The keys that a mapping may hold, by table and by kind of source, with their types."""

from collections.abc import Mapping
from typing import Literal

Checksum = Literal["none", "sum8", "xor8", "crc16"]

TYPES: Mapping[type, str] = {
    str: "text in quotes",
    int: "a whole number",
    bool: "true or false",
    list: "a list of texts",
}

KEYS: Mapping[str, Mapping[str, type]] = {
    "source": {"name": str, "kind": str, "instrument": str, "appliance": str, "point": str, "practice": bool},
    "text": {
        "form": str,
        "separator": str,
        "decimal": str,
        "checksum": str,
        "columns": list,
        "sequence": str,
        "time": str,
        "gap": list,
    },
    "trust": {"key_file": str},
    "channel": {
        "from": str,
        "quantity": str,
        "unit": str,
        "basis": str,
        "point": str,
        "t90": str,
        "step": str,
        "top": str,
        "register": int,
        "type": str,
        "words": str,
        "scale": str,
        "table": str,
    },
}
"""Keys of the tables that every kind of source has."""

LISTS = ("columns", "gap")
"""Keys of [text] that are lists."""

_MODBUS: Mapping[str, type] = {"unit": int, "every": str, "timeout": str}

CONNECTIONS: Mapping[str, tuple[Mapping[str, type], tuple[str, ...]]] = {
    "serial": ({"device": str, "baud": int, "parity": str}, ("device",)),
    "mqtt": (
        {"host": str, "port": int, "topic": str, "user": str, "password_file": str, "tls": bool, "client": str},
        ("host", "topic"),
    ),
    "modbus-tcp": ({"host": str, "port": int, **_MODBUS}, ("host",)),
    "modbus-rtu": ({"device": str, "baud": int, "parity": str, **_MODBUS}, ("device",)),
    "push": ({"port": int}, ()),
    "tail": ({"file": str, "start": str}, ("file",)),
    "replay": ({"file": str, "mapping": str, "speed": int}, ("file",)),
    "appliance": ({"design": str, "faults": list, "seed": int, "speed": int, "seconds": int}, ("design",)),
}
"""By kind of source: the keys of [connection], and those without which nothing can be reached."""

KINDS = tuple(CONNECTIONS)

FORMS: Mapping[str, int] = {
    "int16": 1, "uint16": 1, "int32": 2, "uint32": 2, "int64": 4, "uint64": 4, "float32": 2, "float64": 4,
}  # fmt: skip
"""How a Modbus device keeps a number, and how many registers it takes."""

WORD_ORDERS = ("big", "little")
"""Which register of a number that takes several comes first: the high one or the low one."""
