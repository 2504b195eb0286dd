"""What the page says beside the sheet: as found and as left in one table, and the line that a reading stands in."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from fluewright.record.amend import STAY
from fluewright.record.fold import CHANGES, Current
from fluewright.report.tree import Line, Opened, Sheet
from fluewright.visit import said, trade

MOST_COLUMNS = 4


@dataclass(frozen=True, slots=True)
class Beside:
    """Stretches side by side.

    heads  words of the stretches
    rows   short words of a reading and its values as typed, one for each stretch
    """

    heads: tuple[str, ...]
    rows: tuple[tuple[str, tuple[str, ...]], ...]


def stretches(entries: Sequence[Current]) -> Beside | None:
    """Readings of the first and the last stretches side by side; None where there is only one."""
    counting = [each for each in entries if each.counts]
    held = {each.read.entry.id: str(each.body["word"]) for each in counting if each.read.entry.kind == "stretch"}
    table: dict[str, dict[str, str]] = {}
    for each in counting:
        stretch = str(each.body.get("stretch", ""))
        if each.read.entry.kind == "reading" and stretch in held:
            read = each.body["value"]
            value = trade.value(str(read["typed"]), str(read.get("typed_unit", "")))
            table.setdefault(trade.words(each.body["name"]), {})[stretch] = value
    used = [key for key in held if any(key in row for row in table.values())]
    if len(used) < 2:
        return None
    columns = used if len(used) <= MOST_COLUMNS else [used[0], *used[1 - MOST_COLUMNS :]]
    rows = tuple((name, tuple(row.get(key, "") for key in columns)) for name, row in table.items())
    return Beside(tuple(held[key] for key in columns), tuple(row for row in rows if any(row[1])))


@dataclass(frozen=True, slots=True)
class Behind:
    """What stands behind one line of the sheet: its workings, and the entries that it was made from."""

    line: Line
    workings: tuple[Opened, ...]
    entries: tuple[tuple[Current, str], ...]


def behind(sheet: Sheet, entries: Sequence[Current], number: int) -> Behind | None:
    """What stands behind a line; None where the sheet has no such line."""
    line = next((each for part in sheet.sections for each in part.lines if each.number == number), None)
    if line is None:
        return None
    workings = tuple(each for each in sheet.workings if each.line == number)
    own = [each for each in entries if each.counts and each.read.entry.kind not in CHANGES | STAY | {"visit"}]
    found = list(_read_in(sheet.where, own, number)) or list(_worded(own, line))
    return Behind(line, workings, tuple(zip(found, said.each(entries, found), strict=True)))


def _read_in(where: Mapping[tuple[str, str], int], own: Sequence[Current], number: int) -> Iterator[Current]:
    """Readings that stand in a line."""
    words = said.stretches(own)
    for each in own:
        if each.read.entry.kind == "reading":
            word = words.get(str(each.body.get("stretch", "")), "")
            if where.get((word, str(each.body["name"]))) == number:
                yield each


def _worded(own: Sequence[Current], line: Line) -> Iterator[Current]:
    """Entries whose words stand in a line: steps, remarks, events; else what was typed into tables at its time."""
    text = "".join(span.text for span in line.spans).lower()
    exact = [each for each in own if (word := str(each.body.get("word", "")).lower()) and word in text]
    if exact:
        yield from exact
        return
    for each in own:
        if each.read.entry.kind == "line":
            values = [str(value).lower() for value in each.body["typed"].values() if len(str(value)) > 1]
            time = str(each.body["typed"].get("time", ""))
            if (time and time == line.time) or any(value in text for value in values):
                yield each
        elif each.read.entry.kind == "not measured" and str(each.body["what"]).lower() in text:
            yield each
