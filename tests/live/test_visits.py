"""A live stretch in a visit: worked out like a trace, believed as far as its sender is."""

import json
import random
import subprocess
from datetime import timedelta
from pathlib import Path
from typing import Any

import pytest
from set_up import CHANNELS, Broker, broker, heard, journal_in, kept_rows, mapping_of

from fluewright import clock
from fluewright.evidence.finding import WRONG
from fluewright.live import payload
from fluewright.live.hub import Hub
from fluewright.live.mapping import Mapping
from fluewright.record.journal import Journal
from fluewright.visit import adding, kept, streaming, work

__all__ = ["broker"]

FLUE = """
[[channel]]
from = "flue"
quantity = "flue_temperature"
unit = "°C"
[[channel]]
from = "air"
quantity = "air_temperature"
unit = "°C"
"""
TABLES: dict[str, Any] = {
    "visit": {"title": "Invented boiler", "date": "2026-11-25", "jurisdiction": "DE", "units": "si"},
    "appliance": {"words": "invented boiler", "burner": "unknown", "condensing": False, "input": "24 kW"},
    "fuel": {"name": "natural-gas"},
    "instrument": {"words": "meter A", "calibration_due": "2027-11-25", "zero": "outdoors"},
}


def mapping(kind: str, reach: str, folder: Path, trust: str = "") -> Mapping:
    return mapping_of(
        f'[source]\nname = "meter"\nkind = "{kind}"\ninstrument = "meter A"\npoint = "stack"\n[connection]\n{reach}\n'
        f'[text]\nform = "json"\nsequence = "n"\ntime = "t"\n{trust}{CHANNELS}{FLUE}', folder,
    )  # fmt: skip


def messages(monoxide: float, count: int = 400) -> list[bytes]:
    """Six minutes of a flame that stands still, a row a second, ending now."""
    noise, now = random.Random(4), clock.seconds()
    rows = []
    for n in range(count):
        flame = {"o2": round(4.3 + noise.gauss(0, 0.02), 1), "co": max(0, round(monoxide + noise.gauss(0, 0.5)))}
        heat = {"flue": round(140 + noise.gauss(0, 0.2), 1), "air": round(20 + noise.gauss(0, 0.1), 1)}
        rows.append(json.dumps({"n": n + 1, "t": round(now - count + n, 1), **flame, **heat}).encode())
    return rows


def fed(journal: Journal, folder: Path, said: Mapping, sent: list[bytes], port: int, key: bytes = b"") -> Hub:
    """What was sent over a broker, kept."""

    async def act(hub: Hub) -> None:
        import paho.mqtt.client as paho
        from paho.mqtt.enums import CallbackAPIVersion

        sender = paho.Client(CallbackAPIVersion.VERSION2, "sender")
        sender.max_queued_messages_set(0)
        sender.connect("127.0.0.1", port)
        sender.loop_start()
        first = sender.publish("meter", b"not of this form", qos=1)
        first.wait_for_publish(5.0)
        for body in sent:
            sign = b"\n" + payload.signature(key, "meter", body).encode() if key else b""
            sender.publish("meter", body + sign, qos=1)
        await kept_rows(hub, len({*sent}), 30.0)
        sender.disconnect()
        sender.loop_stop()

    # the broker keeps messages for a name it knows: it is made known before anything is sent
    subprocess.run(["mosquitto_sub", "-p", str(port), "-i", "fluewright-meter", "-c", "-q", "1", "-t", "meter", "-E",
                    "-V", "mqttv5", "-x", "3600"], check=True)  # fmt: skip
    return heard(journal, folder, [said], act)


def taken_in(journal: Journal) -> tuple[str, work.Verdict]:
    visit = kept.begun(journal, TABLES).id
    now = journal.now() + timedelta(seconds=2)
    streaming.taken(journal, visit, streaming.While("meter", now - timedelta(seconds=500), now, "as left"))
    return visit, work.judged(kept.account_of(journal, visit))


def graded(verdict: work.Verdict) -> dict[str, str]:
    return {finding.code: finding.grade for finding in verdict.judged.findings}


@pytest.fixture
def reach(broker: Broker) -> str:
    return f'host = "127.0.0.1"\nport = {broker.port}\ntopic = "meter"'


@pytest.mark.usefixtures("standing")
def test_a_forged_nothing_clears_nothing(tmp_path: Path, broker: Broker, reach: str) -> None:
    journal = journal_in(tmp_path)
    fed(journal, tmp_path, mapping("mqtt", reach, tmp_path), messages(0.0), broker.port)
    _, verdict = taken_in(journal)
    last = verdict.account.stretches[-1]
    assert last.stream == "unknown" and last.readings["carbon_monoxide_dry"].figure == pytest.approx(0.0, abs=1e-6)
    assert graded(verdict)["unknown-sender"] == "open"
    assert "fine" not in graded(verdict).values() and "cured" not in graded(verdict).values()
    assert "nobody proved who sent" in str(verdict.sheet().findings)


@pytest.mark.usefixtures("standing")
def test_the_same_of_a_sender_that_signs_clears(tmp_path: Path, broker: Broker, reach: str) -> None:
    journal, key = journal_in(tmp_path), b"0123456789abcdef0123456789abcdef"
    (tmp_path / "meter.key").write_bytes(key)
    (tmp_path / "meter.key").chmod(0o600)
    said = mapping("mqtt", reach, tmp_path, '[trust]\nkey_file = "meter.key"\n')
    hub = fed(journal, tmp_path, said, messages(0.0), broker.port, key)
    assert hub.streams["meter"].source.dropped == 1  # type: ignore[attr-defined]
    visit, verdict = taken_in(journal)
    assert verdict.account.stretches[-1].stream == "known"
    assert "unknown-sender" not in graded(verdict)
    assert "fine" in graded(verdict).values()  # so that the test above could have failed
    assert adding.added(journal, visit, "note all quiet").entries  # typing goes on in the same visit


def test_an_alarm_of_anybody_is_an_alarm(tmp_path: Path, broker: Broker, reach: str) -> None:
    journal = journal_in(tmp_path)
    fed(journal, tmp_path, mapping("mqtt", reach, tmp_path), messages(1800.0), broker.port)
    _, verdict = taken_in(journal)
    monoxide = [f for f in verdict.judged.findings if any(name.startswith("carbon_monoxide") for _, name in f.evidence)]
    assert any(finding.grade in WRONG for finding in monoxide)
