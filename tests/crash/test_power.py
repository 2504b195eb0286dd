"""Trust tests 2 and 3: the power goes at any moment, and the n-th write, cut or flush fails."""

import contextlib
import random
import shutil
import sqlite3
from pathlib import Path

import apsw
import pytest
from layer import Disk, Layer, layered

from fluewright.errors import FluewrightError
from fluewright.record import store
from fluewright.record.check import every
from fluewright.record.opening import made, opened
from fluewright.record.settings import Mode
from fluewright.record.store import Store
from record_example import note, reading, settings_in
from trust import told

ENTRIES = 120
MODELS = ("none", "steps", "sectors")


def written(monkeypatch: pytest.MonkeyPatch, folder: Path, mode: Mode) -> Layer:
    """The steps under a journal of some entries, each acknowledged."""
    layer = Layer()
    with layered(monkeypatch, layer):
        journal = made(settings_in(folder, mode=mode), device_name="tablet")
        layer.acknowledged()
        for number in range(ENTRIES - 1):
            journal.add(note(f"remark {number}") if number % 5 == 0 else reading(number))
            layer.acknowledged()
    return layer


def after_cuts(layer: Layer, folder: Path, cuts: int) -> tuple[int, int, int]:
    """How many cuts of power lost something acknowledged, the most that was lost, and files that were not whole."""
    chance = random.Random(41)
    acknowledged = lossy = most = unsound = 0
    disk, points = Disk(), sorted(chance.choices(range(len(layer.steps)), k=cuts))
    for at, step in enumerate(layer.steps):
        while points and points[0] == at:
            points.pop(0)
            for model in MODELS:
                there, whole = reopened(disk.after_cut(model, chance), folder)
                lossy += there < acknowledged
                most = max(most, acknowledged - there)
                unsound += not whole
        disk.take(step)
        acknowledged += step.what == "ack"
    return lossy, most, unsound


def reopened(files: dict[str, bytes], folder: Path) -> tuple[int, bool]:
    """Entries found by an engine that opens these files, and whether it finds them whole and without a gap."""
    for old in list(folder.iterdir()):
        old.unlink(missing_ok=True)
    for name, content in files.items():
        (folder / name).write_bytes(content)
    if not (folder / "journal.db").exists():
        return 0, True
    with contextlib.closing(sqlite3.connect(folder / "journal.db")) as raw:
        try:
            raw.execute("PRAGMA synchronous = OFF")
            whole = raw.execute("PRAGMA quick_check(1)").fetchone()[0] == "ok"
            if raw.execute("SELECT count(*) FROM sqlite_master WHERE name = 'entry'").fetchone()[0] == 0:
                return 0, whole
            count, last = raw.execute("SELECT count(*), coalesce(max(sequence), 0) FROM entry").fetchone()
        except sqlite3.DatabaseError:
            return 0, False
    return int(last), whole and count == last


@pytest.mark.parametrize(("mode", "cuts"), [("wal", 600), ("delete", 200), ("truncate", 200)])
def test_what_was_acknowledged_survives_a_cut_of_power(
    monkeypatch: pytest.MonkeyPatch, in_memory: Path, mode: Mode, cuts: int
) -> None:
    (in_memory / "a").mkdir()
    (in_memory / "b").mkdir()
    layer = written(monkeypatch, in_memory / "a", mode)
    flushes = sum(step.what == "flush" for step in layer.steps)
    lossy, most, unsound = after_cuts(layer, in_memory / "b", cuts)
    told(2, f"power cut, {mode}", acknowledged=ENTRIES, killed=cuts * len(MODELS), lost=most, cuts_with_loss=lossy,
         unsound=unsound, flushes=flushes)  # fmt: skip
    assert flushes >= ENTRIES
    assert (lossy, most, unsound) == (0, 0, 0)


@pytest.mark.parametrize(("mode", "weaker"), [("wal", "NORMAL"), ("delete", "FULL")])
def test_the_same_cuts_find_the_loss_under_weaker_settings(
    monkeypatch: pytest.MonkeyPatch, in_memory: Path, mode: Mode, weaker: str
) -> None:
    """That it finds nothing under ours says something only because it finds this."""
    monkeypatch.setattr(store, "SYNCHRONOUS", {mode: weaker})
    (in_memory / "a").mkdir()
    (in_memory / "b").mkdir()
    layer = written(monkeypatch, in_memory / "a", mode)
    lossy, most, _ = after_cuts(layer, in_memory / "b", 200)
    told(2, f"power cut, {mode} with {weaker} on purpose", killed=600, must_lose=most, cuts_with_loss=lossy)
    assert lossy > 0 and most > 0


@pytest.mark.parametrize("mode", ["wal", "delete"])
@pytest.mark.parametrize(("name", "error"), [("EIO", apsw.IOError), ("ENOSPC", apsw.FullError)])
def test_an_entry_is_wholly_in_or_wholly_out_whichever_step_fails(
    monkeypatch: pytest.MonkeyPatch, in_memory: Path, mode: Mode, name: str, error: type[Exception]
) -> None:
    journal = made(settings_in(in_memory / "start", mode=mode), device_name="tablet")
    journal.add_all([reading(1), note("before")])
    journal.store.close()
    refused = kept = 0
    for fail in range(1, 200):
        folder = in_memory / str(fail)
        shutil.copytree(in_memory / "start", folder)
        layer = Layer(fail=fail, error=error)
        code = ""
        with layered(monkeypatch, layer, checkpoint=1):
            at_fault = opened_on_layer(folder, mode, journal.device)
            try:
                at_fault.add(note("the one that fails"))
            except FluewrightError as refusal:
                code = refusal.code
            layer.fail = 0
            after_fault = at_fault.add(reading(2))
            at_fault.store.close()
        found = opened(settings_in(folder, mode=mode))
        assert found.wrong == ()
        sequence = found.journal.anchors()[0].sequence
        assert sequence == after_fault.sequence and sequence in ((5,) if not code else (4, 5))
        assert code in ("", "FW-J-004"), code
        assert every(found.journal.store).holds()
        found.journal.store.close()
        refused, kept = refused + bool(code), kept + (not code)
        if not layer.failed:
            break
        shutil.rmtree(folder)
    else:
        pytest.fail("the append never went through")
    told(3, f"counted I/O failures, {name}, {mode}", acknowledged=kept + refused, lost=0, refused=refused, half=0)
    assert refused > 3


def opened_on_layer(folder: Path, mode: Mode, device: str):  # type: ignore[no-untyped-def]
    """The journal on the layer, where no second connection may look at the file first."""
    from fluewright.record.journal import Journal

    return Journal(Store(settings_in(folder, mode=mode)), device)
