"""The verbs: learn, finish, try dry, keep; a port that is lost comes back; a shell that signs is believed."""

import json
import os
import pty
import shutil
import subprocess
import threading
import time
import tty
from pathlib import Path

import pytest
from set_up import CHANNELS, Broker, broker, heard, journal_in, kept_rows, mapping_of, texts

from fluewright.cli.main import main
from fluewright.live import learn
from fluewright.live.hub import Hub
from fluewright.live.payload import sum8

__all__ = ["broker"]

LINES = [f"{n};{1764000000 + n};4,{n % 10};{30 + n};{150 + n / 10:.1f}".replace(".", ",") for n in range(20)]


def test_a_proposal_is_refused_until_it_is_finished_and_then_holds(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    lines = ["n;time;O2 (%);CO [ppm];T", *LINES]
    Path("log.txt").write_text("".join(f"{line}*{sum8(line.encode()):02X}\n" for line in lines))
    assert main(["listen", "--learn", "log.txt", "--seconds", "0.5"]) == 0
    proposal = capsys.readouterr().out
    for said in ('separator = ";"', 'decimal = ","', 'checksum = "sum8"', 'sequence = "n"', 'time = "time"',
                 'quantity = "oxygen_dry"', 'quantity = "carbon_monoxide_dry"', 'unit = "ppm"'):  # fmt: skip
        assert said in proposal, proposal
    Path("m.toml").write_text(proposal)
    assert main(["listen", "m.toml", "--dry"]) == 3  # T: nobody knows which temperature of what
    assert "no quantity" in capsys.readouterr().err
    Path("m.toml").write_text(
        proposal.replace('quantity = ""', 'quantity = "flue_temperature"').replace('unit = ""', 'unit = "°C"')
    )
    assert main(["listen", "m.toml", "--dry", "--seconds", "0.5", "--json"]) == 0
    printed, said = capsys.readouterr()
    rows = [json.loads(line) for line in printed.splitlines()]
    assert [each["quantity"] for each in rows[-1]["samples"]] == [
        "oxygen_dry",
        "carbon_monoxide_dry",
        "flue_temperature",
    ]
    assert "1 messages damaged or of another form" in said  # the line of names
    assert not list(tmp_path.glob("*.db*"))


@pytest.mark.parametrize(
    ("messages", "form", "names"),
    [
        (['{"o2": 4.3, "co": {"ppm": 38}}'], "json", ["o2", "co.ppm"]),
        (["4.3", "4.4"], "value", [""]),
        (["4.3 38", "4.4 39"], "columns", ["column 1", "column 2"]),
        (["a\tb", "4.3\t38"], "columns", ["a", "b"]),
        (["4,3;38", "4,4;39"], "columns", ["column 1", "column 2"]),
    ],
)
def test_what_messages_look_like(messages: list[str], form: str, names: list[str]) -> None:
    found = learn.seen(messages)
    assert (found.text.form, list(found.values)) == (form, names)


def test_nothing_comes(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (tmp_path / "empty.txt").write_text("")
    assert main(["listen", "--learn", str(tmp_path / "empty.txt"), "--seconds", "0.3"]) == 1
    assert "nothing came" in capsys.readouterr().err
    assert main(["listen"]) == 2
    assert main(["listen", "--learn", "http://127.0.0.1/x"]) == 2
    said = capsys.readouterr().err
    assert "FW-U-172" in said and "FW-U-174" in said


def test_a_port_that_is_pulled_out_and_put_in_again(tmp_path: Path) -> None:
    journal, device = journal_in(tmp_path), tmp_path / "port"
    mapping = mapping_of(
        f'[source]\nname = "meter"\nkind = "serial"\ninstrument = "meter A"\n[connection]\ndevice = "{device}"\n'
        f'[text]\nseparator = ";"\ncolumns = ["o2", "co"]\n{CHANNELS}'
    )

    def plugged() -> int:
        ours, theirs = pty.openpty()
        for end in (ours, theirs):
            tty.setraw(end)
        device.unlink(missing_ok=True)
        device.symlink_to(os.ttyname(theirs))
        os.close(theirs)
        return ours

    async def act(hub: Hub) -> None:
        for turn in range(3):
            ours = plugged()
            stop = threading.Event()

            def write(ours: int = ours, turn: int = turn, stop: threading.Event = stop) -> None:
                time.sleep(0.8)
                while not stop.is_set():
                    os.write(ours, f"{turn}.{turn};5\n".encode())
                    stop.wait(0.05)

            thread = threading.Thread(target=write)
            thread.start()
            await kept_rows(hub, hub.number + 3)
            stop.set()
            thread.join()
            os.close(ours)  # pulled out: whoever reads is told that nobody is there

    hub = heard(journal, tmp_path, [mapping], act)
    assert {"0.0", "1.1", "2.2"} <= set(texts(journal, "meter"))
    assert hub.streams["meter"].lost >= 2


def test_a_shell_that_signs_is_believed(tmp_path: Path, broker: Broker) -> None:
    if shutil.which("openssl") is None:
        pytest.skip("no openssl here")
    document = (Path(__file__).resolve().parents[2] / "docs" / "live.md").read_text("utf-8")
    shell = document.partition("```sh\n")[2].partition("```")[0]
    (tmp_path / "meter.key").write_text("0123456789abcdef0123456789abcdef\n")
    (tmp_path / "meter.key").chmod(0o600)
    said = mapping_of(
        f'[source]\nname = "meter"\nkind = "mqtt"\ninstrument = "meter A"\n[connection]\nhost = "127.0.0.1"\n'
        f'port = {broker.port}\ntopic = "boiler/1"\n[text]\nseparator = ";"\ncolumns = ["n", "o2", "co"]\n'
        f'sequence = "n"\n[trust]\nkey_file = "meter.key"\n{CHANNELS}', tmp_path,
    )  # fmt: skip
    journal = journal_in(tmp_path)

    async def act(hub: Hub) -> None:
        import asyncio

        while hub.streams["meter"].source.connections == 0:  # type: ignore[attr-defined]
            await asyncio.sleep(0.05)
            await asyncio.to_thread(_publish, "0;0;0")
        for number in (7, 8):
            words = (
                shell.replace("-p ", "")
                .replace("7;4.3;38", f"{number};4.3;38")
                .replace("-q 1", f"-q 1 -p {broker.port}")
            )
            done = await asyncio.to_thread(subprocess.run, ["bash", "-ec", words], cwd=tmp_path, capture_output=True)
            assert done.returncode == 0, done.stderr
        await kept_rows(hub, 2)

    def _publish(body: str) -> None:
        subprocess.run(["mosquitto_pub", "-p", str(broker.port), "-q", "1", "-t", "boiler/1", "-m", body], check=True)

    hub = heard(journal, tmp_path, [said], act)
    assert texts(journal, "meter") == ["4.3", "4.3"]
    assert hub.streams["meter"].source.dropped >= 1  # type: ignore[attr-defined]
    assert next(journal.of_kind("trace block")).body["trust"] == "known"


def test_the_same_seed_is_the_same_run_and_a_fault_shows(capsys: pytest.CaptureFixture[str]) -> None:
    def cells(*words: str) -> list[list[str]]:
        assert main(["simulate", *words, "--speed", "0", "--seconds", "300"]) == 0
        return [line.split(";")[1:] for line in capsys.readouterr().out.splitlines()]

    plain, again, other = cells("power-gas"), cells("power-gas"), cells("power-gas", "--seed", "2")
    assert plain == again != other
    assert len(plain) == 330
    short = cells("power-gas", "--fault", "gas-pressure-high=1")
    assert float(short[-1][0]) < float(plain[-1][0]) - 1.0  # more gas, less oxygen
    assert float(plain[10][0]) > 20.5 and max(float(row[2]) for row in plain[30:60]) > 15.0  # fresh air, then a puff
    assert main(["simulate", "steam-engine"]) == 2
    assert main(["simulate", "oil", "--fault", "bad-luck"]) == 2
    assert main(["simulate", "oil", "--fault", "exchanger-sooted=7"]) == 2
    said = capsys.readouterr().err
    assert "FW-U-170" in said and "FW-U-171" in said


def test_a_trace_is_sent_again(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    rows = "".join(f"{n};{4 + n % 3 / 10:.1f};{'>2000' if n == 5 else '' if n == 6 else 38}\n" for n in range(30))
    (tmp_path / "t.csv").write_text(f"time (s);O2 (%);CO (ppm)\n{rows}")
    assert main(["replay", str(tmp_path / "t.csv"), "--speed", "0"]) == 0
    lines = [line.split(";") for line in capsys.readouterr().out.splitlines()]
    assert [line[1:] for line in lines[4:8]] == [["4.1", "38"], ["4.2", ">2000"], ["4.0", "---"], ["4.1", "38"]]
    assert float(lines[-1][0]) - float(lines[0][0]) == pytest.approx(29.0)
