"""kill -9 of whoever listens, of the broker and of whoever looks on: what was acknowledged is there, and once."""

import json
import os
import random
import signal
import subprocess
import sys
import threading
import time
from collections.abc import Iterator
from pathlib import Path

import pytest
from set_up import Broker, broker, journal_in, texts, until

import trust

__all__ = ["broker"]

RUN = "from fluewright.cli.main import run; run()"


class Listener:
    """`fluewright listen` in a process of its own, and all that it printed: a row only once it was kept."""

    def __init__(self, folder: Path, mapping: str) -> None:
        self.folder = folder
        (folder / "m.toml").write_text(mapping)
        self.printed: list[str] = []
        self.process: subprocess.Popen[str] | None = None

    def begin(self) -> None:
        words = ["listen", "m.toml", "--journal", "journal.db", "--json", "--block", "1"]
        self.process = subprocess.Popen([sys.executable, "-c", RUN, *words], cwd=self.folder, text=True,
                                        stdout=subprocess.PIPE, stderr=subprocess.PIPE)  # fmt: skip
        threading.Thread(target=self._read, args=(self.process,), daemon=True).start()

    def _read(self, process: subprocess.Popen[str]) -> None:
        assert process.stdout is not None
        for line in process.stdout:
            if line.endswith("\n"):
                self.printed.append(json.loads(line)["samples"][0]["typed"])

    def kill(self) -> None:
        assert self.process is not None
        self.process.kill()
        self.process.wait()

    def end(self) -> None:
        assert self.process is not None
        self.process.send_signal(signal.SIGTERM)
        assert self.process.wait(20) == 0, self.process.stderr.read() if self.process.stderr else ""


class Sender:
    """Numbered values to a broker, quality 1, as fast as it takes them; what it was answered for is known."""

    def __init__(self, port: int) -> None:
        import paho.mqtt.client as paho
        from paho.mqtt.enums import CallbackAPIVersion

        self.client = paho.Client(CallbackAPIVersion.VERSION2, "sender", clean_session=False)
        self.client.max_queued_messages_set(0)
        self.client.reconnect_delay_set(1, 1)
        self.client.connect("127.0.0.1", port)
        self.client.loop_start()
        self.count = 0

    def send(self, seconds: float) -> None:
        end = time.monotonic() + seconds
        while time.monotonic() < end:
            self.count += 1
            self.client.publish("meter", json.dumps({"n": self.count, "o2": self.value(self.count)}), qos=1)
            time.sleep(0.002)

    @staticmethod
    def value(number: int) -> float:
        return number / 10_000

    def close(self) -> None:
        self.client.disconnect()
        self.client.loop_stop()


def mapping(port: int, sequence: str = "") -> str:
    return (
        f'[source]\nname = "meter"\nkind = "mqtt"\ninstrument = "meter A"\n[connection]\nhost = "127.0.0.1"\n'
        f'port = {port}\ntopic = "meter"\n[text]\nform = "json"\n{sequence}\n[[channel]]\nfrom = "o2"\n'
        'quantity = "oxygen_dry"\nunit = "%"\n'
    )


@pytest.fixture
def sender(broker: Broker) -> Iterator[Sender]:
    made = Sender(broker.port)
    yield made
    made.close()


def numbers(folder: Path) -> list[int]:
    """The numbers that are in the journal, as often as they are there."""
    from fluewright.record.opening import opened
    from fluewright.record.settings import Settings

    found = opened(Settings(str(folder / "journal.db")))
    assert not found.wrong
    values = [text for text in texts(found.journal, "meter") if text is not None]
    found.journal.store.close()
    return [round(float(text) * 10_000) for text in values]


def test_a_hub_that_is_killed_keeps_every_sample_once(tmp_path: Path, broker: Broker, sender: Sender) -> None:
    journal_in(tmp_path).store.close()
    listener, chance = Listener(tmp_path, mapping(broker.port)), random.Random(7)
    listener.begin()
    until(lambda: sender.send(0.05) or bool(listener.printed), what="the first sample")  # type: ignore[func-returns-value]
    first = round(float(listener.printed[0]) * 10_000)
    for _ in range(5):
        sender.send(chance.uniform(0.8, 2.0))
        listener.kill()
        sender.send(chance.uniform(0.0, 0.3))
        listener.begin()
    sender.send(0.5)
    last = str(Sender.value(sender.count))
    until(lambda: last in listener.printed[-5:], 40.0, "the last sample")
    listener.end()
    found = numbers(tmp_path)
    lost = sender.count - first + 1 - len(set(found))
    trust.told(1, "live: the hub, listening to a broker", acknowledged=len(found), killed=5, lost=lost)
    assert sorted(found) == list(range(first, sender.count + 1))  # all of them, and none twice
    assert {round(float(each) * 10_000) for each in listener.printed} <= set(found)
    assert not list(tmp_path.glob("*.damaged"))


def test_a_broker_that_is_killed_takes_nothing_back(tmp_path: Path, broker: Broker, sender: Sender) -> None:
    journal_in(tmp_path).store.close()
    listener = Listener(tmp_path, mapping(broker.port, 'sequence = "n"'))
    listener.begin()
    until(lambda: sender.send(0.05) or bool(listener.printed), what="the first sample")  # type: ignore[func-returns-value]
    for _ in range(3):
        sender.send(1.0)
        broker.kill()
        time.sleep(0.3)
        broker.begin()
    sender.send(2.0)
    last = str(Sender.value(sender.count))
    until(lambda: last in listener.printed[-200:], 40.0, "the last sample")
    listener.end()
    found = numbers(tmp_path)
    assert len(found) == len(set(found))
    assert {round(float(each) * 10_000) for each in listener.printed} == set(found)
    trust.told(1, "live: the broker itself", acknowledged=len(found), killed=3, lost=0)


def test_whoever_looks_on_may_go(tmp_path: Path, broker: Broker, sender: Sender) -> None:
    journal_in(tmp_path).store.close()
    (tmp_path / "m.toml").write_text(mapping(broker.port))
    read, write = os.pipe()
    words = ["listen", "m.toml", "--journal", "journal.db", "--json"]
    process = subprocess.Popen([sys.executable, "-c", RUN, *words], cwd=tmp_path, stdout=write, stderr=subprocess.PIPE)
    os.close(write)
    looker = subprocess.Popen(["head", "-c", "2000"], stdin=read, stdout=subprocess.DEVNULL)
    os.close(read)
    until(lambda: sender.send(0.1) or looker.poll() is not None, what="the end of the looker")  # type: ignore[func-returns-value]
    sender.send(1.0)
    time.sleep(1.0)
    process.send_signal(signal.SIGTERM)
    assert process.wait(20) == 0, process.stderr.read() if process.stderr else ""
    found = numbers(tmp_path)
    assert found == list(range(found[0], sender.count + 1))
