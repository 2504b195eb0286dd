"""What kind of text a file is: encoding, delimiter, line of the header, line of units, decimal mark, with the reason.

Everything is decided from the first part of the file and shown; a mapping file overrides any of it.
"""

import codecs
import csv
import io
import re
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import islice

HEAD_BYTES = 512 * 1024
HEAD_LINES = 2000
"""How much of the file the guesses rest on; a few thousand rows are enough to see every habit of a logger."""
REPLACED = "\N{REPLACEMENT CHARACTER}"
"""What stands for a byte that is no text."""
DELIMITERS = (";", "\t", "|", ",")
"""In this order: a semicolon, tab or bar in every line is a separator, while a comma may be a decimal mark."""
_BOMS = ((codecs.BOM_UTF8, "utf-8-sig"), (codecs.BOM_UTF16_LE, "utf-16"), (codecs.BOM_UTF16_BE, "utf-16"))
_MAGIC = {
    b"PAR1": "Parquet",
    b"PK\x03\x04": "a zipped or spreadsheet file",
    b"\x1f\x8b": "a gzip file",
    b"%PDF": "a PDF",
    b"\xd0\xcf\x11\xe0": "an old spreadsheet file",
    b"\x89PNG": "a picture",
}
_NUMBERLIKE = re.compile(r"[<>≤≥]?=?\s*[-+−]?\s*\d[\d\s.,'’  ]*(?:[eE][-+]?\d+)?")
_GAPS = frozenset({"", "-", "--", "---", "----", "n/a", "na", "nan", "null", "none", "under", "err", "error", "?"})


_OVER = re.compile(
    r"(?:over(?:[ _-]?(?:range|flow|load|scale|limit))?|o\.? ?[lr]\.?|o\.?f\.?l\.?|ov[lrf]|ovrg|>{1,8}|\+{2,8}"
    r"|[↑^]{1,8}|hi(?:gh)?|(?:above|beyond)[ _-]range|max(?:\.|imum)?|sat(?:urated)?|\+?inf(?:inity)?)"
    r"\s*(?:ppm|%|°[cf])?"
)
"""How instruments write that a value lies beyond their range (common practice, no source)."""


@dataclass(frozen=True, slots=True)
class Layout:
    """How the text is laid out. header: the cells of the header line; first: line number of the first row of data."""

    encoding: str
    delimiter: str
    decimal: str
    header: tuple[str, ...]
    header_line: int
    units: tuple[str, ...]
    reasons: tuple[str, ...]
    ambiguous_decimal: str = ""


def kind_of(head: bytes) -> str:
    """The name of a known format that is not text, "" for text. Parquet is named "Parquet"."""
    for magic, name in _MAGIC.items():
        if head.startswith(magic):
            return name
    if head.startswith((codecs.BOM_UTF16_LE, codecs.BOM_UTF16_BE)) or _wide(head):
        return ""
    strange = sum(byte < 9 or 13 < byte < 32 for byte in head[:4096]) - head[:4096].count(0)
    return "bytes without meaning as text" if strange > 0.05 * len(head[:4096]) or head.count(0) > len(head) / 2 else ""


def _wide(head: bytes) -> str:
    """UTF-16 without a mark: every second byte of plain text is zero."""
    sample = head[:2000]
    if len(sample) < 8:
        return ""
    even, odd = sample[0::2].count(0) / len(sample[0::2]), sample[1::2].count(0) / len(sample[1::2])
    if odd > 0.6 and even < 0.1:
        return "utf-16-le"
    return "utf-16-be" if even > 0.6 and odd < 0.1 else ""


def encoding_of(head: bytes) -> tuple[str, str]:
    """Encoding and why. UTF-8 unless a byte order mark or a byte that cannot be UTF-8 says otherwise."""
    for mark, name in _BOMS:
        if head.startswith(mark):
            return name, f"byte order mark of {'UTF-8' if name == 'utf-8-sig' else 'UTF-16'}"
    wide = _wide(head)
    if wide:
        return wide, "every second byte is zero"
    try:
        codecs.getincrementaldecoder("utf-8")().decode(head, final=False)
    except UnicodeDecodeError as error:
        text = head.decode("utf-8", "replace")
        wrong = text.count(REPLACED)
        if sum(ord(letter) > 127 for letter in text) > wrong:
            return "utf-8", f"most letters beyond ASCII are UTF-8; {wrong} bytes are not"
        return "cp1252", f"byte {error.start + 1} cannot be UTF-8"
    return "utf-8", "all bytes of the head are UTF-8"


def delimiter_of(lines: Sequence[str]) -> tuple[str, str]:
    """The delimiter that splits most lines into the same number of cells, at least two.

    -> delimiter and why; a comma when nothing splits the lines (a single column)
    """
    best, score, reason = ",", 0.0, "no separator found: one column"
    for delimiter in DELIMITERS:
        widths = [len(cells) for cells in _cells(lines, delimiter) if any(cell.strip() for cell in cells)]
        if not widths or max(widths) < 2:
            continue
        width, count = Counter(width for width in widths if width > 1).most_common(1)[0]
        share = count / len(widths)
        if share * (1.0 - 1.0 / width) > score + 1e-9:
            best, score = delimiter, share * (1.0 - 1.0 / width)
            reason = f"{count} of {len(widths)} lines have {width} cells"
        if share >= 0.8:
            return best, reason
    return best, reason


def _cells(lines: Sequence[str], delimiter: str) -> list[list[str]]:
    try:
        return list(csv.reader(lines, delimiter=delimiter, skipinitialspace=True))
    except csv.Error:
        return [line.split(delimiter) for line in lines]


def is_gap(text: str) -> bool:
    """True for the usual ways to write that there is no reading, or none within the range."""
    return text.strip().lower() in _GAPS or is_over(text)


def is_over(text: str) -> bool:
    """True for a word that says the value lies beyond the upper end of the range: more than whatever was read."""
    return bool(_OVER.fullmatch(text.strip(" \t\"'!*#()[]").lower()))


def looks_numeric(text: str) -> bool:
    """True for a number, with or without a unit behind it; also for a date and a clock time."""
    match = _NUMBERLIKE.match(text.strip())
    return bool(match) and bool(re.search(r"\d", match[0] if match else ""))


def unit_behind(text: str) -> str:
    """What stands behind the number of a cell such as "4.3 %"; "" when nothing does or the cell is a date."""
    text = text.strip()
    match = _NUMBERLIKE.match(text)
    tail = text[match.end() :].strip() if match else ""
    return tail if match and len(tail) <= 12 and not re.search(r"\d.*\d|:", tail) else ""


def header_of(rows: Sequence[Sequence[str]], numbers: Sequence[int]) -> tuple[int, str]:
    """Index into rows of the header: the line of names right above the first line of readings.

    A line of readings has the usual width and at least half of its filled cells are numbers, times or gaps.

    rows     the first rows of the file
    numbers  line number of each
    -> index, -1 when the first filled row is already readings; and why
    """
    widths = Counter(len(row) for row in rows if len(row) > 1)
    width = widths.most_common(1)[0][0] if widths else 1
    for index, row in enumerate(rows):
        if len(row) == width and _is_reading(row):
            above = next((i for i in range(index - 1, -1, -1) if any(cell.strip() for cell in rows[i])), -1)
            while above > 0 and _is_units(rows[above]) and len(rows[above - 1]) == len(rows[above]):
                above -= 1
            if above < 0 or _is_reading(rows[above]):
                return -1, "the first line is already readings"
            return above, f"line {numbers[above]} is the last line of names above the readings"
    filled = [i for i, row in enumerate(rows) if len(row) == width and any(cell.strip() for cell in row)]
    return (filled[0], "no line of readings found") if filled else (-1, "no line of names found")


def _is_reading(row: Sequence[str]) -> bool:
    filled = [cell for cell in row if not is_gap(cell)]
    return bool(filled) and sum(looks_numeric(cell) for cell in filled) >= 0.5 * len(filled)


_UNIT = re.compile(
    r"[\[(]?\s*(?:[°º]?\s*[A-Za-zµμ%³²/·*\-\d]{1,12}|%\s*\w*|vol\.?\s*-?\s*%|in\.? ?w\.?c\.?|[-\s]*)\s*[\])]?"
)
_UNIT_WORDS = re.compile(
    r"[\[(]?\s*(%.{0,6}|ppm\w?|[°º]?[CFK]|deg ?[CFK]|k?Pa|mbar|bar|hPa|mg/\S+|in\S*|k?W|MW|s|sec|min|h|l/\S+"
    r"|m\S{1,4}|-+)\s*[\])]?",
    re.IGNORECASE,
)


def _is_units(row: Sequence[str]) -> bool:
    filled = [cell.strip() for cell in row if cell.strip()]
    known = sum(bool(_UNIT_WORDS.fullmatch(cell)) for cell in filled)
    return bool(filled) and known >= 0.6 * len(filled) and all(_UNIT.fullmatch(cell) for cell in filled)


def decimal_of(cells: Sequence[str], delimiter: str) -> tuple[str, str, str]:
    """The decimal mark of these number cells.

    A comma with other than three digits behind it is a decimal comma; both marks in one cell: the last is the decimal.
    Only cells such as 1,234 leave it open: then the third value names one such cell.

    -> mark, reason, and the cell that can be read in two ways ("" when none)
    """
    comma = point = ""
    open_cell = ""
    for cell in cells:
        text = re.sub(r"[\s'’  ]", "", cell)
        match = re.match(r"[<>≤≥=]*[-+−]?([\d.,]+)", text)
        if match is None:
            continue
        number = match[1]
        if "," in number and "." in number:
            comma, point = (cell, point) if number.rindex(",") > number.rindex(".") else (comma, cell)
        elif number.count(",") > 1:
            point = point or cell
        elif number.count(".") > 1:
            comma = comma or cell
        elif "," in number:
            clear = not re.fullmatch(r"[1-9]\d{0,2},\d{3}", number)
            comma, open_cell = (comma or cell, open_cell) if clear else (comma, open_cell or cell)
        elif "." in number:
            clear = not re.fullmatch(r"[1-9]\d{0,2}\.\d{3}", number) or delimiter == ","
            point = point or (cell if clear else "")
    return _decimal(comma, point, open_cell, delimiter)


def _decimal(comma: str, point: str, open_cell: str, delimiter: str) -> tuple[str, str, str]:
    if comma and not point:
        return ",", f"decimal comma, as in {comma.strip()}", ""
    if point and not comma:
        return ".", f"decimal point, as in {point.strip()}", ""
    if comma and point:
        return ".", "both marks are used", f"{comma.strip()} and {point.strip()}"
    if open_cell:
        return ".", "only cells that can be read in two ways", open_cell.strip()
    return ".", "no decimal marks" if delimiter != "," else "commas separate the cells", ""


def text_of(head: bytes, encoding: str) -> str:
    """The head as text; the last, perhaps cut, character is dropped."""
    return codecs.getincrementaldecoder(encoding)(errors="replace").decode(head, final=False).replace("\0", "")


def layout_of(
    head: bytes, *, whole: bool, encoding: str = "", delimiter: str = "", decimal: str = "", header_line: int = 0
) -> Layout:
    """The layout of a text table from its first bytes; what is given is not guessed.

    head    the first HEAD_BYTES bytes
    whole   True when the head is the whole file, so that its last line counts
    -> Layout
    """
    chosen, why_encoding = (encoding, "as given") if encoding else encoding_of(head)
    lines = list(islice(io.StringIO(text_of(head, chosen), newline=""), HEAD_LINES))
    lines = lines if whole or len(lines) < 2 else lines[:-1]
    mark, why_delimiter = (delimiter, "as given") if delimiter else delimiter_of(lines[:400])
    rows, numbers = rows_of(lines, mark)
    index, why_header = header_of(rows[:80], numbers)
    if header_line in numbers:
        index, why_header = numbers.index(header_line), "as given"
    header = tuple(cell.strip() for cell in rows[index]) if index >= 0 else ()
    units: tuple[str, ...] = ()
    if 0 <= index < len(rows) - 1 and _is_units(rows[index + 1]) and not _is_reading(rows[index + 1]):
        units = tuple(cell.strip() for cell in rows[index + 1])
    layout = Layout(
        chosen,
        mark,
        decimal or ".",
        header,
        numbers[index] if index >= 0 else 0,
        units,
        (f"encoding {chosen}: {why_encoding}", f"separator {_name(mark)}: {why_delimiter}", f"header: {why_header}"),
    )
    if decimal:
        return replace(layout, reasons=(*layout.reasons, f"decimal mark {decimal}: as given"))
    cells = [
        cell for row in rows[index + 1 + bool(units) :] for cell in row if looks_numeric(cell) and not _dated(cell)
    ]
    found, why, unclear = decimal_of(cells, mark)
    return replace(
        layout, decimal=found, ambiguous_decimal=unclear, reasons=(*layout.reasons, f"decimal mark {found}: {why}")
    )


def _dated(cell: str) -> bool:
    return bool(re.search(r"\d[-/.:]\d{1,2}[-/.:]\d|\d:\d", cell))


def _name(delimiter: str) -> str:
    return {"\t": "tab", ";": "semicolon", ",": "comma", "|": "bar"}.get(delimiter, repr(delimiter))


def rows_of(lines: Sequence[str], delimiter: str) -> tuple[list[list[str]], list[int]]:
    """Rows and the line number on which each ends; a broken quote ends the list."""
    rows, numbers = [], []
    reader = csv.reader(lines, delimiter=delimiter, skipinitialspace=True)
    try:
        for row in reader:
            rows.append(row)
            numbers.append(reader.line_num)
    except csv.Error:
        pass
    return rows, numbers
