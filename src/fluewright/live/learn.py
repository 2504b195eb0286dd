"""A mapping proposed from what comes, for the person to finish; what cannot be told is left open and said."""

import json
import re
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, field
from itertools import pairwise
from typing import Any

from fluewright.evidence.trace import columns
from fluewright.live import payload
from fluewright.live.mapping import Text

SEPARATORS = (";", "\t", "|", ",")
_FIGURE = re.compile(r"[-+]?\d+(?:[.,]\d+)?")
_COMMA = re.compile(r"[-+]?\d+,\d+")


@dataclass(frozen=True, slots=True)
class Seen:
    """What messages look like.

    text    how they are taken apart
    values  the texts of each column or member, in order of the columns
    """

    text: Text
    values: dict[str, list[str]] = field(default_factory=dict)


def _checksum(lines: Sequence[str]) -> str:
    """The checksum that all lines end with; none where no known one fits."""
    for name in payload.CHECKS:
        try:
            for line in lines:
                payload.checked(line.encode(), name)
        except payload.NotTaken:
            continue
        return name
    return "none"


def _as_json(lines: Sequence[str]) -> Seen | None:
    try:
        if not all(isinstance(json.loads(line), dict) for line in lines):
            return None
    except ValueError:
        return None
    values: dict[str, list[str]] = {}
    for line in lines:
        for name, cell in payload.cells_of(line.encode(), Text("json")).items():
            values.setdefault(name, []).append(cell)
    return Seen(Text("json"), values)


def _separator(lines: Sequence[str]) -> str:
    """The separator that cuts all lines into equally many columns; empty for spaces, or where there is only one."""
    for mark in SEPARATORS:
        counts = Counter(line.count(mark) for line in lines)
        if set(counts) - {0} and len(counts) == 1:
            return mark
    return ""


def _as_columns(lines: Sequence[str], checksum: str) -> Seen:
    mark = _separator(lines)
    rows = [[cell.strip() for cell in (line.split(mark) if mark else line.split())] for line in lines]
    wide = Counter(map(len, rows)).most_common(1)[0][0]
    rows = [row for row in rows if len(row) == wide]
    first = rows[0]
    header = len(set(first)) == wide and not any(_FIGURE.match(cell) for cell in first)
    names = first if header else [f"column {n}" for n in range(1, wide + 1)]
    values = {name: [row[n] for row in rows[header:]] for n, name in enumerate(names)}
    comma = mark != "," and any(_COMMA.fullmatch(cell) for cells in values.values() for cell in cells)
    text = Text(separator=mark, decimal="," if comma else ".", checksum=checksum, columns=tuple(names))  # type: ignore[arg-type]
    return Seen(text, values)


def seen(messages: Sequence[str]) -> Seen:
    """What messages look like: JSON, a single figure, or columns with their separator, decimal mark and checksum.

    messages  as they came, at least one
    """
    lines = [line.strip() for line in messages if line.strip()]
    as_json = _as_json(lines)
    if as_json is not None:
        return as_json
    if all(_FIGURE.fullmatch(line) for line in lines):
        return Seen(Text("value", decimal="," if any("," in line for line in lines) else "."), {"": lines})
    checksum = _checksum(lines)
    return _as_columns([line.rpartition("*")[0] for line in lines] if checksum != "none" else lines, checksum)


def _numbers(cells: Sequence[str]) -> list[float]:
    return [float(cell.replace(",", ".")) for cell in cells if _FIGURE.fullmatch(cell)]


def _is_sequence(cells: Sequence[str]) -> bool:
    whole = [int(cell) for cell in cells if cell.isdigit()]
    return len(whole) == len(cells) > 2 and all(b == a + 1 for a, b in pairwise(whole))


def _is_time(cells: Sequence[str]) -> bool:
    found = [payload.seconds_of(cell) for cell in cells]
    return bool(found) and all(each is not None and each > 1e9 for each in found)


def _quoted(value: Any) -> str:
    return json.dumps(value, ensure_ascii=False)


def _channel(name: str, cells: Sequence[str]) -> list[str]:
    """The lines of one channel; what is not known stands open, so that the mapping is refused until it is filled in."""
    guess = columns.guess(name, numbers=_numbers(cells))
    about = f"# {name or 'the message'}: {', '.join(dict.fromkeys(cells[:4]))}"
    about += f"; {guess.reason}" if guess.reason else ""
    choice = f"; one of {', '.join(guess.choices)}" if guess.choices else ""
    lines = ["", about, "[[channel]]", *([f"from = {_quoted(name)}"] if name else [])]
    lines.append(f"quantity = {_quoted(guess.quantity)}" + ("" if guess.quantity else "  # name it, or take this away"))
    lines.append(f"unit = {_quoted(guess.unit)}" + ("" if guess.unit else f"  # fill in{choice}"))
    return [*lines, '# t90 = "30 s"', '# step = "0.1 %"']


def proposed(messages: Sequence[str], *, kind: str, connection: dict[str, Any]) -> str:
    """A mapping as TOML, from messages as they came.

    messages    at least one
    kind        of source
    connection  how it was reached
    -> text; strictly read it is refused until the open places are filled in
    """
    found = seen(messages)
    text = found.text
    own = {name: cells for name, cells in found.values.items() if name}
    sequence = next((name for name, cells in own.items() if _is_sequence(cells)), "")
    stamped = next((name for name, cells in own.items() if name != sequence and _is_time(cells)), "")
    said = {"form": text.form, "separator": text.separator, "checksum": text.checksum, "decimal": text.decimal,
            "columns": list(text.columns), "sequence": sequence, "time": stamped}  # fmt: skip
    usual = {"separator": "", "checksum": "none", "decimal": ".", "columns": [], "sequence": "", "time": ""}
    lines = [
        "# Proposed by fluewright listen --learn: finish what is open, then try it with --dry. Grammar: docs/live.md",
        "[source]", 'name = "meter"', f"kind = {_quoted(kind)}", 'instrument = "name the instrument"',
        '# point = "stack"',
        "", "[connection]", *(f"{key} = {_quoted(value)}" for key, value in connection.items()),
        "", "[text]", *(f"{key} = {_quoted(value)}" for key, value in said.items() if usual.get(key) != value),
    ]  # fmt: skip
    for name, cells in found.values.items():
        if name not in (sequence, stamped) or not name:
            lines += _channel(name, cells)
    return "\n".join(lines) + "\n"
