"""The shell lines of the README feed a visit: one by a broker, one by a serial line. Run as they are printed there."""

import json
import os
import re
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest
from set_up import Broker, broker

from fluewright.cli.main import main

__all__ = ["broker"]

README = (Path(__file__).resolve().parents[2] / "README.md").read_text(encoding="utf-8")
LINES = re.findall(r"```sh\n(fluewright .*?)\n```", README, re.DOTALL)
MAPPING = re.findall(r"```toml\n(\[source\].*?)```", README, re.DOTALL)[0]


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A folder with a program named fluewright, and the places of a person of its own."""
    shim = tmp_path / "bin" / "fluewright"
    shim.parent.mkdir()
    shim.write_text(f'#!/bin/sh\nexec {sys.executable} -c "from fluewright.cli.main import run; run()" "$@"\n')
    shim.chmod(0o755)
    monkeypatch.chdir(tmp_path)
    for name in ("DATA", "CONFIG"):
        monkeypatch.setenv(f"XDG_{name}_HOME", str(tmp_path / name.lower()))
    monkeypatch.setenv("PATH", f"{shim.parent}{os.pathsep}{os.environ['PATH']}")
    return tmp_path


def begun(capsys: pytest.CaptureFixture[str], *place: str) -> str:
    """A new visit; -> its id."""
    capsys.readouterr()
    assert main(["visit", "new", "--appliance", "boiler", "--fuel", "natural-gas", "--json", *place]) == 0
    return str(json.loads(capsys.readouterr().out)["visit"])


def shown(capsys: pytest.CaptureFixture[str], visit: str, *place: str) -> Any:
    """The visit as data."""
    capsys.readouterr()
    assert main(["visit", "show", visit, "--json", *place]) in (0, 1)
    return json.loads(capsys.readouterr().out)


def typed(lines: str, visit: str) -> str:
    done = subprocess.run(["bash", "-c", lines.replace("VISIT", visit)], capture_output=True, text=True, timeout=120)
    assert done.returncode == 0, done.stdout + done.stderr
    return done.stdout


def test_a_line_with_mosquitto_pub_feeds_a_visit(
    folder: Path, broker: Broker, capsys: pytest.CaptureFixture[str]
) -> None:
    (folder / "meter.toml").write_text(MAPPING.replace("topic =", f"port = {broker.port}\ntopic ="))
    (folder / "config").mkdir()
    (folder / "config" / "mosquitto_pub").write_text(f"-p {broker.port}\n")
    visit = begun(capsys)
    assert "300 samples of meter; its sender is not proven" in typed(LINES[0], visit)
    assert "unknown-sender" in json.dumps(shown(capsys, visit))


def test_a_line_with_a_serial_port_feeds_a_visit(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    place = ["--journal", str(folder / "practice.db")]
    assert main(["journal", "new", "--practice", *place]) == 0
    visit = begun(capsys, *place)
    said = typed(LINES[1], visit)
    assert int(re.findall(r"(\d+) samples of practice; its sender is proven", said)[0]) > 300
    assert "unknown-sender" not in json.dumps(shown(capsys, visit, *place))
