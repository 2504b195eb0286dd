"""One column of a trace as bytes: decimals exactly as typed, gaps as gaps, and texts that are no plain decimal.

    count     how many samples                                      varint
    states    runs of (state, length): 0 a decimal, 1 no sample, 2 another text   varint, varint, until count is reached
    places    runs of (decimals after the point, length), for the decimals alone  the same
    figures   the decimals as whole numbers in units of the most places of the column, as differences of the order
              that stands before them (1 or 2), zigzag               varint each
    texts     the other texts, each its length in bytes and UTF-8    varint, bytes

A varint has seven bits a byte, the lowest first, the high bit set on all but the last. Zigzag writes 0, -1, 1, -2 as
0, 1, 2, 3.
"""

import re
from collections.abc import Iterable, Iterator, Sequence
from itertools import groupby

PLAIN = re.compile(r"(?!-[0.]+\Z)-?(?:0|[1-9]\d{0,40})(?:\.\d{1,20})?\Z", re.ASCII)
"""A decimal whose text follows from its figures and its places; minus nothing is none."""

DECIMAL, GAP, TEXT = 0, 1, 2


class Cut(Exception):
    """The bytes end early, or say what no column says."""


def _varint(value: int, into: bytearray) -> None:
    while value > 127:
        into.append(value & 127 | 128)
        value >>= 7
    into.append(value)


class Bytes:
    """Bytes that are read from the front.

    data  all of them
    """

    def __init__(self, data: bytes) -> None:
        self._data = data
        self._at = 0

    def varint(self) -> int:
        """The next whole number."""
        found = shift = 0
        while True:
            if self._at >= len(self._data) or shift > 400:
                raise Cut("a number without an end")
            byte = self._data[self._at]
            self._at += 1
            found |= (byte & 127) << shift
            if byte < 128:
                return found
            shift += 7

    def taken(self, length: int) -> bytes:
        """The next so many bytes."""
        if length > len(self._data) - self._at:
            raise Cut("fewer bytes than announced")
        self._at += length
        return self._data[self._at - length : self._at]

    def need_end(self) -> None:
        """Refuse bytes that nobody read."""
        if self._at != len(self._data):
            raise Cut("more bytes than announced")


def _state(value: str | None) -> int:
    if value is None:
        return GAP
    return TEXT if PLAIN.match(value) is None else DECIMAL


def _places(value: str) -> int:
    return max(0, value[::-1].find("."))


def _runs(values: Iterable[int], into: bytearray) -> None:
    for value, group in groupby(values):
        _varint(value, into)
        _varint(sum(1 for _ in group), into)


def _differences(figures: Sequence[int]) -> list[int]:
    return [now - before for now, before in zip(figures, [0, *figures], strict=False)]


def _steps(steps: Sequence[int], into: bytearray) -> None:
    """Differences as varints of their zigzag, most of them one byte."""
    zigzag = [step << 1 if step >= 0 else (-step << 1) - 1 for step in steps]
    if max(zigzag, default=0) < 128:
        into += bytes(zigzag)
        return
    for value in zigzag:
        if value < 128:
            into.append(value)
        else:
            _varint(value, into)


def packed(values: Sequence[str | None]) -> bytes:
    """A column as bytes; each different text is looked at once, since samples come again and again.

    values  texts as they came, None where there was no sample
    -> bytes that `unpacked` turns into the same texts
    """
    into = bytearray()
    _varint(len(values), into)
    state_of = {value: _state(value) for value in set(values)}
    _runs(map(state_of.__getitem__, values), into)
    places_of = {value: _places(value) for value, state in state_of.items() if value is not None and state == DECIMAL}
    decimals = [value for value in values if value in places_of]
    _runs(map(places_of.__getitem__, decimals), into)
    most = max(places_of.values(), default=0)
    figure_of = {value: int(value.replace(".", "") + "0" * (most - at)) for value, at in places_of.items()}
    once = _differences(list(map(figure_of.__getitem__, decimals)))
    twice = _differences(once)
    order = 1 if sum(map(abs, once[2:])) <= sum(map(abs, twice[2:])) else 2
    _varint(order, into)
    _steps(once if order == 1 else twice, into)
    texts = {value: value.encode() for value, state in state_of.items() if value is not None and state == TEXT}
    for value in values if texts else ():
        if value in texts:
            _varint(len(texts[value]), into)
            into += texts[value]
    return bytes(into)


def _run_lengths(source: Bytes, count: int) -> list[int]:
    found: list[int] = []
    while len(found) < count:
        value, length = source.varint(), source.varint()
        if not 0 < length <= count - len(found):
            raise Cut("a run that is longer than its column")
        found += [value] * length
    return found


def _figures(source: Bytes, count: int) -> Iterator[int]:
    order = source.varint()
    if order not in (1, 2):
        raise Cut("differences of another order")
    sums = [0] * (order + 1)
    for _ in range(count):
        step = source.varint()
        sums[order] = step >> 1 if not step & 1 else -(step + 1 >> 1)
        for at in range(order, 0, -1):
            sums[at - 1] += sums[at]
        yield sums[0]


def _text(figure: int, places: int, most: int) -> str:
    whole, left = divmod(abs(figure), 10 ** (most - places))
    if left:
        raise Cut("a decimal with more places than it says")
    sign = "-" if figure < 0 else ""
    if not places:
        return f"{sign}{whole}"
    digits = str(whole).rjust(places + 1, "0")
    return f"{sign}{digits[:-places]}.{digits[-places:]}"


def unpacked(data: bytes, most_samples: int) -> list[str | None]:
    """A column from its bytes.

    data          as `packed` made them
    most_samples  samples that are taken at most
    -> texts, None where there was no sample; Cut when the bytes are not a column
    """
    source = Bytes(data)
    count = source.varint()
    if count > most_samples:
        raise Cut(f"{count} samples, where {most_samples} are announced")
    states = _run_lengths(source, count)
    places = _run_lengths(source, states.count(DECIMAL))
    most = max(places, default=0)
    if most > 20 or any(state > TEXT for state in set(states)):
        raise Cut("a state or number of places that is not used")
    figures = _figures(source, len(places))
    decimals = iter([_text(figure, at, most) for figure, at in zip(figures, places, strict=True)])
    found: list[str | None] = []
    for state in states:
        found.append(
            next(decimals) if state == DECIMAL else None if state == GAP else source.taken(source.varint()).decode()
        )
    source.need_end()
    return found
