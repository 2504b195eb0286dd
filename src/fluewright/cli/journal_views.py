"""What the questions that read views print alike."""

import sys
from collections.abc import Sequence
from typing import TYPE_CHECKING

from fluewright.errors import printable

if TYPE_CHECKING:
    from sqlalchemy import RowMapping


def list_of(rows: Sequence[tuple[str, ...]], *, nothing: str) -> str:
    """Rows as aligned lines, the last column as long as it is.

    rows     all of the same length
    nothing  what is said when there are none
    -> text without an end of line
    """
    if not rows:
        return nothing
    wide = [max(len(row[at]) for row in rows) for at in range(len(rows[0]) - 1)]
    columns = [(at, width) for at, width in enumerate(wide) if width]
    lines = ["  ".join([*(row[at].ljust(width) for at, width in columns), row[-1]]) for row in rows]
    return "\n".join(printable(line.replace("\n", " ")).rstrip() for line in lines)


def say_unread(rows: "Sequence[RowMapping]") -> None:
    """Say on standard error what this version does not understand."""
    for row in rows:
        entries = f"{row['entries']} entr{'y' if row['entries'] == 1 else 'ies'}"
        if row["version"]:
            said = (
                f"{entries} of the kind {row['kind']!r}, form {row['version']}: written by a newer version, not shown"
            )
        else:
            said = f"{entries} that cannot be read, not shown; see `fluewright journal check --all`"
        print(printable(said), file=sys.stderr)
