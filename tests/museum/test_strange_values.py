"""Strange values everywhere: every option of every question, every value of a visit file; no traceback, four parts."""

import copy
import json
import random
import re
import shlex
import shutil
import tomllib
from collections.abc import Iterator
from datetime import date
from pathlib import Path
from typing import Any

import pytest
from every_command import COMMANDS, STRANGE, questions

from fluewright.cli.main import main

WHOLE = Path(__file__).parents[1] / "visit" / "whole.toml"
ADJUSTING = WHOLE.with_name("adjusting.toml")
SHARE = 0.04
"""Of all combinations, those that one run tries; the draw is the same on every machine until its number is changed."""
SLOW = {"flue": 0.04, "stretch": 0.5}
"""Tables that take long to work out, and the part of that share they get."""
DRAW = 20261125
CODES = {0, 1, 2, 3, 4, 5}
"""Exit codes that --help promises for work that was asked for; 70 is our own fault."""
NO_NUMBER = re.compile(r"\b(?:nan|inf|None)\b")
FRAME = ("visit", "appliance", "fuel", "instrument", "place")
"""Tables that stand in every file of this test, beside the one that is made strange."""
TYPED: tuple[Any, ...] = (*STRANGE, 0, -1, 1e300, float("nan"), float("inf"), True, [], {}, ["x"], {"x": 1}, 10**30)


@pytest.fixture(scope="module")
def trace(tmp_path_factory: pytest.TempPathFactory) -> str:
    """A recorded trace of a few minutes."""
    path = tmp_path_factory.mktemp("trace") / "made-up.csv"
    rows = [f"2026-11-25T10:{i // 6:02}:{i % 6 * 10:02},5.0,40,400,70" for i in range(60)]
    path.write_text("\n".join(["time,O2 [%],CO [ppm],flue [F],air [F]", *rows]) + "\n")
    points = [f"natural-gas,{rate},up,{3 + rate / 100:.1f},{10 + rate // 10},{rate}" for rate in range(20, 101, 20)]
    head = "fuel,rate_percent,way,oxygen_dry_percent,carbon_monoxide_dry_ppm,position_air_percent"
    path.with_name("CURVES").write_text("\n".join([head, *points]) + "\n")
    shutil.copy(ADJUSTING, path.with_name("PERMIT"))
    return str(path)


def words_of(command: str, trace: str) -> list[str]:
    folder = Path(trace).parent
    stands = {"TRACE": trace, "CURVES": str(folder / "CURVES"), "PERMIT": str(folder / "PERMIT")}
    return [stands.get(word, word) for word in shlex.split(command)]


def judged(words: list[str], capsys: pytest.CaptureFixture[str], *, typed: str) -> str:
    """What is wrong with how a command ended; empty when nothing is. What was typed may be printed."""
    code = main(words)
    said = capsys.readouterr()
    if code not in CODES:
        return f"exit {code}: {said.err}"
    if code > 1 and not all(part in said.err for part in ("  expected  ", "  because   ", "  do        ")):
        return f"not four parts: {said.err}"
    found = NO_NUMBER.search(said.out)
    if found and found[0] not in typed:
        return f"prints {said.out[max(found.start() - 40, 0) : found.end() + 20]!r}"
    return ""


@pytest.mark.parametrize("command", COMMANDS, ids=lambda text: text[:40])
def test_every_command_works(command: str, trace: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(words_of(command, trace)) in (0, 1), capsys.readouterr().err
    capsys.readouterr()


def test_every_question_has_its_command() -> None:
    # the last four stay until they are stopped: tests/web/test_web_serve.py, tests/live
    idle = {"report", "demo", "where", "serve", "listen", "replay", "simulate"}
    # what these are told stays, or lies in a file: tests/faces, tests/record, tests/rules
    rules = ("rules check", "rules diff", "rules enter", "rules sign", "rules take")
    keeping = ("visit ", "journal ", "instrument ", *rules)
    names = {name for name, _ in questions() if not name.startswith(keeping)}
    asked = {name for name in names if name not in idle and name != "appliance list"}
    assert {name for name in asked if any(text.startswith(name) for text in COMMANDS)} == asked


@pytest.mark.parametrize("command", COMMANDS, ids=lambda text: text[:40])
def test_no_strange_value_brings_a_command_down(
    command: str, trace: str, capsys: pytest.CaptureFixture[str], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    draw, wrong = random.Random(f"{DRAW} {command}"), {}
    for words in strange_commands(words_of(command, trace)):
        if draw.random() < SHARE and (fault := judged(words, capsys, typed=" ".join(words))):
            wrong[shlex.join(words)[-200:]] = fault
    assert not wrong
    assert not list(tmp_path.iterdir()), "something was left behind"


def strange_commands(words: list[str]) -> Iterator[list[str]]:
    """The command with each of its values made strange, and with each of its options left out."""
    for place, word in enumerate(words[1:], 1):
        if word.startswith("--"):
            end = next((i for i in range(place + 1, len(words)) if words[i].startswith("--")), len(words))
            yield words[:place] + words[end:]
        elif words[place - 1].startswith("--"):
            for value in STRANGE:
                yield [*words[: place - 1], f"{words[place - 1]}={value}", *words[place + 1 :]]
        elif place > 1:
            for value in STRANGE:
                yield [*words[:place], value, *words[place + 1 :]]


def places(found: Any, path: tuple[Any, ...] = ()) -> Iterator[tuple[Any, ...]]:
    """Where the values, tables and lists of a file stand."""
    pairs = found.items() if isinstance(found, dict) else enumerate(found) if isinstance(found, list) else ()
    for key, value in pairs:
        yield (*path, key)
        yield from places(value, (*path, key))


def changed(tree: Any, path: tuple[Any, ...], value: Any) -> Any:
    """The file with another value in one place."""
    made = inner = copy.deepcopy(tree)
    for key in path[:-1]:
        inner = inner[key]
    inner[path[-1]] = value
    return made


def plain(found: Any) -> Any:
    """The file as JSON can hold it."""
    if isinstance(found, dict):
        return {key: plain(value) for key, value in found.items()}
    if isinstance(found, list):
        return [plain(value) for value in found]
    return str(found) if isinstance(found, date) else found


OF_ADJUSTING = tomllib.loads(ADJUSTING.read_text(encoding="utf-8"))
TREE = plain(tomllib.loads(WHOLE.read_text(encoding="utf-8")) | {key: OF_ADJUSTING[key] for key in ("tune", "permit")})


@pytest.mark.parametrize("table", TREE)
def test_no_strange_value_brings_a_visit_down(table: str, capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    draw, wrong = random.Random(f"{DRAW} {table}"), {}
    tree = {key: value for key, value in TREE.items() if key in (*FRAME, table)}
    file = tmp_path / "strange.json"
    for path in places(tree):
        for value in TYPED:
            if path[0] != table or draw.random() > SHARE * SLOW.get(table, 1.0):
                continue
            file.write_text(json.dumps(changed(tree, path, value)), encoding="utf-8")
            if fault := judged(["report", str(file)], capsys, typed=repr(value)):
                wrong[f"{path} = {value!r}"] = fault
    assert not wrong
