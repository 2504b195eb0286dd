"""The weighing meets appliances that follow laws other than those its table was made with."""

import pytest
from other_physics import told, trial


def test_another_model_loses_little_and_no_danger(capsys: pytest.CaptureFixture[str]) -> None:
    found = trial(60)
    with capsys.disabled():
        print("\n60 visits by another model\n" + told(found))
    ordinary, after = found["ordinary"], found["after the round"]
    assert ordinary.first / ordinary.sick >= 0.5
    assert ordinary.three / ordinary.sick >= 0.75
    assert after.first / after.sick >= 0.7
    assert after.three / after.sick >= 0.85
    assert ordinary.in_view >= ordinary.dangers - 1
    assert ordinary.false_stop <= 1
