"""A text table of any size -> rows with their line numbers, one at a time."""

import csv
import io
from collections.abc import Callable, Iterator
from pathlib import Path

from fluewright.evidence.trace.problems import Ledger
from fluewright.evidence.trace.sniff import REPLACED, Layout

Tick = Callable[[int, int], None]
"""Told now and then how many bytes of how many are done; may raise KeyboardInterrupt."""

FIELD_LIMIT = 131_072
"""Characters in one cell; more than that is a quote that was never closed (the limit of the standard library)."""
_EVERY = 4096


def rows(path: Path, layout: Layout, ledger: Ledger, tick: Tick | None = None) -> Iterator[tuple[int, list[str]]]:
    """Every row below the header, with the number of the line it ends on.

    NUL bytes are dropped and bytes that are no text are replaced; both are written to the ledger. A quote that never
    ends is written down as refusing the file and ends the rows.

    path    a file that can be opened
    layout  from sniff.layout_of
    ledger  where problems go
    tick    called every few thousand rows
    """
    csv.field_size_limit(FIELD_LIMIT)
    total = path.stat().st_size
    quotes = [0]
    with path.open("rb") as raw, io.TextIOWrapper(raw, layout.encoding, errors="replace", newline="") as text:
        reader = csv.reader(_clean(text, ledger, quotes), delimiter=layout.delimiter, skipinitialspace=True)
        skip = layout.header_line + (1 if layout.units else 0)
        count = before = lines = 0
        try:
            for row in reader:
                lines, before = reader.line_num - before, reader.line_num
                if before <= skip:
                    continue
                count += 1
                if tick is not None and count % _EVERY == 0:
                    tick(raw.tell(), total)
                yield before, row
        except csv.Error as error:
            ledger.note("broken quote", before + 1, "", str(error))
            return
        except UnicodeError as error:
            ledger.note("unreadable", before + 1, "", f"encoding {layout.encoding}: {error}")
            return
    if quotes[0] % 2 and lines > 1:
        ledger.note(
            "broken quote", before - lines + 1, "", f"the cell goes on for {lines} lines to the end of the file"
        )
    if tick is not None:
        tick(total, total)


def _clean(text: io.TextIOWrapper, ledger: Ledger, quotes: list[int]) -> Iterator[str]:
    """Lines without NUL bytes; quotes[0] counts the quotation marks, because an odd number means an open quote."""
    for number, line in enumerate(text, start=1):
        quotes[0] += line.count('"')
        if "\0" in line:
            ledger.note("nul byte", number, "", f"{line.count(chr(0))} in this line")
            line = line.replace("\0", "")
        if REPLACED in line:
            ledger.note("odd byte", number, "", f"{line.count(REPLACED)} in this line")
        yield line
