"""Trust test 16 on a server: eight processes write to one journal as one device."""

import os
import subprocess
import sys
from pathlib import Path

from fluewright.record.chain import breaks
from fluewright.record.opening import made
from fluewright.record.reading import rows_of
from postgres import NewPlace
from trust import told

WRITERS = 8
EACH = 2000 if os.environ.get("FLUEWRIGHT_NIGHT") else 500
"""Entries of each; at night as many as in the full test."""


def test_eight_processes_make_one_chain(on_postgres: NewPlace, root: Path) -> None:
    settings = on_postgres()
    journal = made(settings, device_name="office")
    script = str(root / "tests" / "record" / "writer.py")
    command = [sys.executable, script, settings.database, str(settings.files_folder())]
    running = [
        subprocess.Popen([*command, f"writer {number}", str(EACH)], stdout=subprocess.PIPE, stderr=subprocess.PIPE)
        for number in range(WRITERS)
    ]
    said = [process.communicate() for process in running]
    assert [process.returncode for process in running] == [0] * WRITERS, said[0][1].decode()[-1500:]
    acknowledged = sum(int(out) for out, _ in said)
    with journal.store.reading() as connection:
        rows = list(rows_of(connection, journal.device))
    assert not list(breaks(rows)) and len(rows) == WRITERS * EACH + 1
    read = [each.body for each in journal.of_kind("settings")]
    lost = 0
    for number in range(WRITERS):
        values = [int(body["value"]) for body in read if body["name"] == f"writer {number}"]
        lost += EACH - len(set(values))
        assert values == sorted(values), "each writer's entries arrive in the order in which it wrote them"
    told(16, "eight processes write to one journal, PostgreSQL", acknowledged=acknowledged, lost=lost, chains=1)
    assert lost == 0
