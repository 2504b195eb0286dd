"""The bench of the live hub, short: real broker, real Modbus server, real pages; what was sent was kept and shown."""

from pathlib import Path

import pytest


def test_what_is_sent_is_kept_and_shown(tmp_path: Path, root: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.syspath_prepend(str(root))
    from benchmarks import b11_live

    if b11_live.broker_program() is None:
        pytest.skip("no broker here (on Debian: apt-get install mosquitto)")
    found = b11_live.run_live(b11_live.Size(sources=8, pages=3, seconds=3.0), tmp_path)
    assert found["lost"] == 0
    assert found["polled"] >= 0.5 * found["wanted"]
    assert len(found["ages"]) >= 0.9 * 3 * 3 * found["wanted"]  # three pages, three sources with a time
    assert b11_live.quantile(found["ages"], 0.5) < 0.5
