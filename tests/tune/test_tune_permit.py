"""Permit runs between their checks: what stands, what is void, what an instrument cannot decide."""

import copy
import json
from pathlib import Path
from typing import Any

import pytest

from fluewright.cli.main import main
from fluewright.tune import permit
from fluewright.tune.permit import Condition, GasCheck, Run

ASKED = Condition(30e-6, reference=0.03, runs=2, drift=2e-6, response=60.0, error=3e-6)
BEFORE = [GasCheck(45e-6, 44.6e-6, 640.0, 40.0), GasCheck(0.0, 0.2e-6, 642.0)]
AFTER = [GasCheck(45e-6, 45.4e-6, 740.0), GasCheck(0.0, 0.0, 742.0)]
RUNS = [Run(18e-6, 0.059, 650.0, 671.0), Run(18.4e-6, 0.060, 680.0, 701.0)]


def came_to(**changes: Any) -> permit.Outcome:
    """The outcome with some of it changed."""
    given = {"asked": ASKED, "before": BEFORE, "after": AFTER, "runs": RUNS} | changes
    asked = given.pop("asked")
    return permit.outcome(asked, spread=2e-6, **given)


def test_runs_between_good_checks_stand() -> None:
    found = came_to()
    assert (found.standing, found.reasons) == ("stands", ())
    assert found.drift == pytest.approx(0.8e-6)
    assert found.mean == pytest.approx(18.13e-6 * (20.9 - 3.0) / (20.9 - 5.95), rel=0.005)
    assert found.verdict is not None
    assert found.verdict.passes == "inside"


@pytest.mark.parametrize(
    ("changes", "standing", "why"),
    [
        ({"after": []}, "no standing", "no check with gas after"),
        ({"before": []}, "no standing", "no check with gas before"),
        ({"after": [GasCheck(0.0, 0.0, 742.0)]}, "no standing", "no gas was read both before and after"),
        ({"after": [GasCheck(45e-6, 47.5e-6, 740.0)]}, "void", "moved by 2.9 ppm, 2 allowed"),
        ({"before": [GasCheck(45e-6, 41e-6, 640.0, 40.0)]}, "void", "45 ppm was read as 41, 3 ppm off allowed"),
        ({"before": [GasCheck(45e-6, 44.6e-6, 640.0, 75.0)]}, "void", "answered in 75 s, 60 s allowed"),
        ({"before": [GasCheck(45e-6, 44.6e-6, 640.0)]}, "no standing", "nobody timed"),
        ({"before": [GasCheck(45e-6, 44.6e-6, 660.0, 40.0)]}, "no standing", "after the first run began"),
        ({"after": [GasCheck(45e-6, 45e-6, 690.0)]}, "no standing", "before the last run had ended"),
        ({"after": [GasCheck(45e-6, 45e-6)]}, "no standing", "times of checks and runs"),
        ({"runs": RUNS[:1]}, "no standing", "1 of 2 runs"),
        ({"runs": [RUNS[0], Run(18e-6, None, 680.0, 701.0)]}, "no standing", "a run without oxygen"),
        ({"asked": Condition(30e-6, runs=2)}, "no standing", "how far a check may drift"),
    ],
)  # fmt: skip
def test_what_takes_the_standing(changes: dict[str, Any], standing: str, why: str) -> None:
    found = came_to(**changes)
    assert found.standing == standing
    assert any(why in reason for reason in found.reasons), found.reasons
    assert found.verdict is None


def test_what_the_checks_were_off_is_taken_out() -> None:
    before, after = [GasCheck(50e-6, 45e-6), GasCheck(0.0, 5e-6)], [GasCheck(50e-6, 45e-6), GasCheck(0.0, 5e-6)]
    assert permit.corrected(25e-6, before=before, after=after) == pytest.approx(25e-6)
    assert permit.corrected(45e-6, before=before, after=after) == pytest.approx(50e-6)
    assert permit.corrected(25e-6, before=[], after=after) == 25e-6


@pytest.mark.parametrize(
    ("decision", "passes"), [("none", "beyond"), ("minus uncertainty", "inside"), ("plus uncertainty", "beyond")]
)
def test_the_permit_decides_by_its_own_rule(decision: Any, passes: str) -> None:
    asked = Condition(20.0e-6, decision, 0.03, 2, 2e-6)
    found = came_to(asked=asked)
    assert found.verdict is not None
    assert found.verdict.passes == passes


def test_nine_parts_cannot_be_decided_and_thirty_can() -> None:
    assert not permit.can_decide(limit=9e-6, spread=5.8e-6)
    assert permit.can_decide(limit=30e-6, spread=5.8e-6)


HERE = Path(__file__).parents[1] / "visit" / "adjusting.toml"


def told(tmp_path: Path, capsys: pytest.CaptureFixture[str], *words: str, **changes: Any) -> dict[str, Any]:
    """The run of the invented visit with keys of its table changed, as data."""
    import tomllib

    tree = copy.deepcopy(tomllib.loads(HERE.read_text(encoding="utf-8"))["permit"])
    tree = {key: value for key, value in (tree | changes).items() if value is not None}
    path = tmp_path / "permit.json"
    path.write_text(json.dumps({"permit": tree}), encoding="utf-8")
    main(["tune", "permit", str(path), *words, "--json"])
    answer: dict[str, Any] = json.loads(capsys.readouterr().out)
    return answer


def codes(answer: dict[str, Any]) -> dict[str, str]:
    return {finding["code"]: finding["grade"] for finding in answer["findings"]}


def test_a_limit_that_the_instrument_cannot_decide_is_said_first(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    found = codes(told(tmp_path, capsys, limit="9 ppm"))
    assert found == {"instrument-cannot-decide": "open"}


def test_only_a_permit_that_somebody_read_is_kept(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert codes(told(tmp_path, capsys, "--instrument", "statutory", limit="60 ppm")) == {"permit-kept": "fine"}
    unread = codes(told(tmp_path, capsys, "--instrument", "statutory", limit="60 ppm", initials=None))
    assert unread == {"permit-inside-not-read": "open"}
    assert codes(told(tmp_path, capsys, "--instrument", "statutory", limit="14 ppm", drift="1 ppm")) == {
        "permit-exceeded": "advise"
    }


def test_without_a_later_check_nothing_is_kept(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    checks = [{"when": "before", "time": "10:40", "gas": "45 ppm", "read": "44.6 ppm", "response": "40 s"}]
    answer = told(tmp_path, capsys, limit="60 ppm", check=checks)
    assert codes(answer) == {"permit-run-no-standing": "open"}
    assert answer["parts"][0]["standing"] == "no standing"


def test_a_federal_new_source_test_is_not_for_a_portable(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    found = codes(told(tmp_path, capsys, limit="60 ppm", new_source=True))
    assert found == {"not-for-new-source": "open"}
