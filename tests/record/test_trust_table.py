"""The table of the trust tests."""

import pytest

import trust


def test_a_line_of_the_table_says_what_was_counted(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(trust, "KEPT", [])
    trust.told(16, "two writers", acknowledged=16_000, lost=0, busy=0)
    trust.told(1, "kill while appending", acknowledged=119_258, killed=200, lost=0)
    trust.told(1, "kill while appending", acknowledged=9, killed=2, lost=0)
    head, first, second = trust.table()
    assert head.split() == ["trust", "test", "acknowledged", "killed", "lost", "and"]
    assert first.split() == ["1", "kill", "while", "appending", "9", "2", "0"]
    assert second.endswith("busy 0") and "16,000" in second


def test_without_trust_tests_there_is_no_table(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(trust, "KEPT", [])
    assert trust.table() == []
