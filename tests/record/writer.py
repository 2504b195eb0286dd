"""One process that writes to a journal: appends entries one by one and prints how many were acknowledged."""

import sys

from fluewright.record.journal import Draft
from fluewright.record.opening import opened
from fluewright.record.settings import Settings


def main(database: str, folder: str, name: str, count: str) -> None:
    """Append that many, each in its own transaction."""
    from pathlib import Path

    journal = opened(Settings(database, files=Path(folder), keys=Path(folder))).journal
    for number in range(int(count)):
        journal.add(Draft("settings", {"name": name, "value": str(number)}, source="program"))
    print(count)


if __name__ == "__main__":
    main(*sys.argv[1:])
