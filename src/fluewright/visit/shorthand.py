"""What a technician types on one line, understood: `o2 4.3 co 38 stack 385F at cell 3 because the hose was long`.

    line     reading ... [at POINT] [reading ... [at POINT]] ... [because WORDS]
    reading  NAME VALUE [UNIT] [rising | falling | hunting | steady]
    event    lit | off | blower on | blower off | fan on | fan off | pilot only [HH:MM]
    words    note WORDS | step WORDS | done WORDS | next WORDS
    table    TABLE: KEY=VALUE; KEY=VALUE
    tried    zero ... | closing zero ... | leak check ... | response ... | beside ..., see `instrument_short`

NAME is any name or trade name of the registry. A point counts for all readings before it that have none yet.
"""

import re
from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import get_args

from fluewright.errors import VisitError
from fluewright.evidence import papers
from fluewright.evidence.reading import Happening
from fluewright.quantity import names, parse
from fluewright.quantity.meaning import Quantity, Typed
from fluewright.visit import instrument_short
from fluewright.visit.parts.instrument import TABLE

LONGEST = 4
"""Words of the longest name that a person types with spaces."""

_VALUE = re.compile(r"[-+<>=~.\d−–]|\.\d")
_TIME = re.compile(r"\d{1,2}:\d\d(:\d\d)?")
_WORDS = ("note", "step", "done", "next")
_TABLE = re.compile(r"\s*([a-z_]+(?:\.[a-z_]+)*)\s*:\s*(.+)", re.DOTALL)
_SPLIT = re.compile(r"\"[^\"]*\"|\S+")


@dataclass(frozen=True, slots=True)
class Typing:
    """One reading as it was typed and understood.

    name     as typed
    text     the value as typed, byte for byte
    typed    what it was understood as
    point    where it was read; empty when not said
    because  the reason that was given; empty for none
    """

    name: str
    text: str
    typed: Typed
    point: str = ""
    because: str = ""


@dataclass(frozen=True, slots=True)
class Said:
    """One line understood: readings, or one thing of another kind.

    readings  in the order typed
    kind      event, note, step, done, next or line; empty for readings
    fields    what it says
    table     for a line: its table
    steady    how the readings were known to be steady; empty when not said
    """

    readings: tuple[Typing, ...] = ()
    kind: str = ""
    fields: tuple[tuple[str, str], ...] = ()
    table: str = ""
    steady: str = ""


def _refused(text: str, expected: str, do: str) -> VisitError:
    return VisitError(
        code="FW-V-120",
        read=f"{text.strip()[:200]!r}",
        expected=expected,
        matters="a reading understood in part would stand on the record as something nobody read",
        do=do,
    )


def _starts_value(word: str) -> bool:
    return _VALUE.match(word) is not None or word.lower() in (*parse.TRENDS, "over", "under", "above", "trace")


def _name_at(words: Sequence[str], start: int) -> tuple[Quantity | None, int]:
    """The quantity whose name begins at a word and is followed by a value, and where the value begins."""
    for length in range(min(LONGEST, len(words) - start - 1), 0, -1):
        if not _starts_value(words[start + length]):
            continue
        if (found := names.meant(" ".join(words[start : start + length]))) is not None:
            return found, start + length
    return None, start


def _joined(word: str) -> list[str]:
    """`o2=4.3` and `o2:4.3` as two words."""
    found = re.fullmatch(r"([A-Za-z][\w/-]*)[=:]([-+<>.\d−–].*)?", word)
    return [part for part in found.groups() if part] if found else [word]


def _value_end(words: Sequence[str], start: int) -> int:
    """Where the value that begins at a word ends: before the next name, `at` or `because`."""
    end = start + 1
    while end < len(words):
        if words[end].lower() in ("at", "because", "steady") or _name_at(words, end)[0] is not None:
            if words[end].lower() == "steady" and not _is_span(words, end + 1):
                end += 1
                continue
            break
        end += 1
    return end


def _is_span(words: Sequence[str], start: int) -> bool:
    """Whether a length of time stands here: steady 90 s, steady for 2 min."""
    if start < len(words) and words[start].lower() == "for":
        start += 1
    return start < len(words) and words[start][:1].isdigit()


def told(name: str, text: str, *, point: str = "", because: str = "") -> Typing:
    """One reading that is given by its parts and not as a line.

    name     any name or trade name of the registry
    text     the value with its unit
    point    where it was read
    because  the reason for it
    -> reading; QuantityError when it cannot be understood
    """
    return replace(_reading(name, text, names.named(name)), point=point, because=because)


def _reading(name: str, text: str, quantity: Quantity) -> Typing:
    if quantity.name == papers.QUANTITY:
        return Typing(name, text, papers.reading_of(text).typed)
    return Typing(name, text, parse.parse(text, quantity=quantity))


class _Line:
    """One line of readings being understood."""

    def __init__(self, text: str, words: Sequence[str]) -> None:
        self.text = text
        self.words = words
        self.found: list[Typing] = []
        self.steady = ""

    def read(self) -> Said:
        """All of it, or an error that says where it stopped making sense."""
        at = 0
        while at < len(self.words):
            word = self.words[at].lower()
            if word == "because" and self.found:
                self._because(" ".join(self.words[at + 1 :]))
                break
            if word == "at" and self.found:
                at = self._point(at + 1)
            elif word == "steady" and _is_span(self.words, at + 1):
                at = self._steadily(at)
            else:
                at = self._value(at)
        return Said(tuple(self.found), steady=self.steady)

    def _value(self, at: int) -> int:
        quantity, start = _name_at(self.words, at)
        if quantity is None:
            known = "the name of a reading and its value, such as o2 4.3 or stack 385F"
            raise _refused(
                " ".join(self.words[at:]), known, f"nothing of {self.text.strip()[:120]!r} was kept; retype it"
            )
        end = _value_end(self.words, start)
        name = " ".join(self.words[at:start])
        self.found.append(_reading(name, " ".join(self.words[start:end]), quantity))
        return end

    def _point(self, at: int) -> int:
        end = at
        while end < len(self.words):
            stop = end > at and (
                self.words[end].lower() in ("because", "steady") or _name_at(self.words, end)[0] is not None
            )
            if stop:
                break
            end += 1
        point = " ".join(self.words[at:end]).strip('"')
        if not point:
            raise _refused(self.text, "a sampling point after `at`", "name the point, or leave `at` out")
        self.found = [each if each.point else replace(each, point=point) for each in self.found]
        return end

    def _steadily(self, at: int) -> int:
        end = at + 1
        while end < len(self.words) and self.words[end].lower() not in ("at", "because"):
            if end > at + 1 and _name_at(self.words, end)[0] is not None:
                break
            end += 1
        span = " ".join(self.words[at + 1 : end])
        self.steady = "steady " + (span if span.startswith("for") else f"for {span}")
        return end

    def _because(self, reason: str) -> None:
        if not reason:
            raise _refused(self.text, "a reason after `because`", "say why, or leave `because` out")
        self.found = [replace(each, because=reason) for each in self.found]


def _event(words: Sequence[str]) -> Said | None:
    """What burner or fan did, when a line says nothing else."""
    time = words[-1] if len(words) > 1 and _TIME.fullmatch(words[-1]) else ""
    rest = list(words[:-1] if time else words)
    if len(rest) > 1 and rest[-1] == "at":
        rest = rest[:-1]
    word = " ".join(rest).lower()
    return Said(kind="event", fields=(("word", word), ("time", time))) if word in get_args(Happening) else None


def _in_table(text: str, tables: Sequence[str]) -> Said | None:
    """A line of a table, when the text begins with the name of one."""
    found = _TABLE.fullmatch(text)
    if found is None or found[1] not in tables:
        return None
    fields = []
    for part in found[2].split(";"):
        key, mark, value = part.partition("=")
        if not mark or not key.strip() or not value.strip():
            raise _refused(
                part, "key = value, such as pressure = 7.9 in w.c.", "write one key and one value between `;`"
            )
        fields.append((key.strip(), value.strip()))
    return Said(kind="line", table=found[1], fields=tuple(fields))


def understood(text: str, *, tables: Sequence[str] = ()) -> Said:
    """A typed line, understood.

    text    one line
    tables  names of the tables that a line may be written into
    -> what it says; VisitError or QuantityError when any of it cannot be understood, and nothing of it counts
    """
    words = [part for word in _SPLIT.findall(text) for part in _joined(word)]
    if not words:
        raise _refused(text, "a reading such as o2 4.3", "type a name and a value")
    table = _in_table(text, tables)
    if table is not None:
        return table
    tried = instrument_short.fields_of(text)
    if tried is not None:
        return Said(kind="line", table=TABLE, fields=tuple(tried.items()))
    event = _event(words)
    if event is not None:
        return event
    first = words[0].lower().rstrip(":")
    if first in _WORDS and len(words) > 1:
        return Said(kind=first, fields=(("word", text.strip().split(None, 1)[1]),))
    return _Line(text, words).read()
