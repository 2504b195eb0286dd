"""Processes that append to a journal until they are killed, or all at once; run on its own, it prints counts as JSON.

python writers.py kill FOLDER ROUNDS SECONDS
python writers.py together FOLDER PROCESSES ENTRIES
"""

import json
import os
import random
import select
import signal
import sys
import time
from pathlib import Path

from fluewright import clock
from fluewright.record.journal import Draft, Journal
from fluewright.record.opening import made, opened
from fluewright.record.reading import rows_of
from fluewright.record.settings import Settings

VISIT = clock.new_id()


def draft(number: int) -> Draft:
    """A reading, or every fifth time a remark with a text about a person."""
    if number % 5 == 0:
        return Draft("note", {"visit": VISIT, "word": f"remark {number}"})
    return Draft("reading", {"visit": VISIT, "name": "o2", "value": {"typed": str(number), "quantity": "oxygen"}})


def append(journal: Journal, to: int, number: int) -> None:
    """Keep one entry, then say which, as a door would."""
    entry = journal.add(draft(number))
    os.write(to, f"{entry.sequence} {entry.id}\n".encode())


def child(settings: Settings, to: int) -> None:
    """Append for ever."""
    journal = opened(settings).journal
    number = 0
    while True:
        append(journal, to, number)
        number += 1


def forked(work: object, *given: object) -> tuple[int, int]:
    """A process of its own and the end of the pipe that it tells its entries through."""
    end, to = os.pipe()
    pid = os.fork()
    if pid == 0:
        os.close(end)
        try:
            work(*given, to)  # type: ignore[operator]
        except BaseException as error:
            os.write(to, f"error {error!r}\n".encode())
        finally:
            os._exit(0)
    os.close(to)
    return pid, end


def told_through(end: int) -> list[str]:
    """All whole lines of a pipe whose other end is closed."""
    with os.fdopen(end, "rb") as pipe:
        text = pipe.read().decode()
    return text.splitlines() if text.endswith("\n") or not text else text.splitlines()[:-1]


def kill(folder: Path, rounds: int, seconds: float) -> dict[str, float]:
    """Kill an appending process again and again; count what it had acknowledged and what is missing."""
    settings = Settings(str(folder / "journal.db"))
    made(settings, device_name="tablet").store.close()
    chance, acknowledged, missing, wrong, slowest, done, known = random.Random(11), 0, 0, 0, 0.0, 0, 1
    until = time.monotonic() + seconds
    while done < rounds and time.monotonic() < until:
        done += 1
        pid, end = forked(child, settings)
        select.select([end], [], [], 10)
        time.sleep(chance.uniform(0.0, 0.04))
        os.kill(pid, signal.SIGKILL)
        os.waitpid(pid, 0)
        lines = told_through(end)
        start = time.perf_counter()
        found = opened(settings)
        slowest = max(slowest, time.perf_counter() - start)
        acknowledged += len(lines)
        with found.journal.store.reading() as connection:
            there = {row.id for row in rows_of(connection, found.journal.device, after=known)}
        known += len(there)
        missing += sum(line.split()[1] not in there for line in lines)
        wrong += bool(found.wrong)
        found.journal.store.close()
    ends = opened(settings).journal.anchors()
    return {"killed": done, "acknowledged": acknowledged, "lost": missing, "wrong": wrong,
            "kept": ends[0].sequence - 1, "slowest_ms": round(slowest * 1e3)}  # fmt: skip


def some(settings: Settings, count: int, to: int) -> None:
    """Append so many."""
    journal = opened(settings).journal
    for number in range(count):
        append(journal, to, number)


def together(folder: Path, processes: int, entries: int) -> dict[str, float]:
    """Several processes append to one journal at the same time."""
    settings = Settings(str(folder / "journal.db"))
    made(settings, device_name="tablet").store.close()
    running = [forked(some, settings, entries) for _ in range(processes)]
    lines = [line for _, end in running for line in told_through(end)]
    for pid, _ in running:
        os.waitpid(pid, 0)
    errors = [line for line in lines if line.startswith("error")]
    found = opened(settings)
    return {"acknowledged": len(lines) - len(errors), "errors": len(errors), "wrong": len(found.wrong),
            "kept": found.journal.anchors()[0].sequence - 1, "chains": len(found.journal.anchors()),
            "numbers": len({line.split()[0] for line in lines if line not in errors})}  # fmt: skip


if __name__ == "__main__":
    what, where, first, second = sys.argv[1:]
    if what == "kill":
        print(json.dumps(kill(Path(where), int(first), float(second))))
    else:
        print(json.dumps(together(Path(where), int(first), int(second))))
