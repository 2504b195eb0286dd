"""Oil that was typed wrongly: every mistake gets its four parts, and all of one file are shown at once."""

from pathlib import Path

import pytest

from fluewright.cli.main import main
from fluewright.errors import FluewrightError, Problems, VisitError
from fluewright.evidence import papers
from fluewright.evidence.nozzle import nozzle_of
from fluewright.visit import file, oil_typed

VISITS = Path(__file__).parent / "oil"


@pytest.mark.parametrize(
    ("stamp", "code"),
    [
        ("2.1 60 S 10 bar", "FW-V-062"),
        ("85 60B", "FW-V-063"),
        ("0 60B", "FW-V-063"),
        ("0.85 160B", "FW-V-064"),
        ("0.85 6B", "FW-V-064"),
        ("0.85 60B 14 psi", "FW-V-065"),
        ("0.85 60B 1400 psi", "FW-V-065"),
        ("60B", "FW-V-066"),
        ("0.85 60 hollow", "FW-V-066"),
        ("", "FW-V-066"),
        ("0.85 " * 40, "FW-V-066"),
    ],
)
def test_a_stamp_that_cannot_be(stamp: str, code: str) -> None:
    with pytest.raises(VisitError) as caught:
        nozzle_of(stamp)
    assert caught.value.code == code
    assert all(caught.value.parts()[name] for name in ("read", "expected", "matters", "do"))


@pytest.mark.parametrize(("text", "code"), [("1, rising", "FW-V-060"), (">3, <2", "FW-V-061"), ("1, 12", "FW-Q-008")])
def test_papers_that_cannot_be(text: str, code: str) -> None:
    with pytest.raises(FluewrightError) as caught:
        papers.reading_of(text)
    assert caught.value.code == code


def test_every_problem_of_the_tables_is_shown_at_once() -> None:
    with pytest.raises(Problems) as caught:
        oil_typed.measured_from(
            {
                "oil_supply": {"nozzle": [{"word": "as fitted", "stamp": "0.85 160B"}], "vacuum": "-4 inHg"},
                "smoke": {
                    "papers": "12",
                    "built": "old",
                    "point": [{"papers": "1"}, {"co2": "11 %", "papers": "0"}, {"o2": "5 %", "papers": "0"}],
                },
            }
        )
    said = [error.code for error in caught.value.errors]
    assert {"FW-V-064", "FW-Q-008", "FW-V-067", "FW-V-068", "FW-V-069"} <= set(said)


@pytest.mark.parametrize("path", sorted(VISITS.glob("*.toml")), ids=lambda path: path.stem)
def test_a_broken_table_says_where_and_what(path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    code, where = path.read_text(encoding="utf-8").splitlines()[0].lstrip("# ").split(" at ")
    with pytest.raises(Problems) as caught:
        file.read(path)
    found = {error.code: error for error in caught.value.errors}
    assert where in found[code].where
    assert all(found[code].parts()[name] for name in ("read", "expected", "matters", "do"))
    assert main(["report", str(path)]) == 3
    said = capsys.readouterr().err
    assert code in said
    assert "Traceback" not in said


@pytest.mark.parametrize(
    ("words", "code", "exit"),
    [
        (["line"], "FW-U-261", 2),
        (["nozzle"], "FW-U-261", 2),
        (["smoke", "1", "12"], "FW-Q-008", 3),
        (["nozzle", "0.85", "160B"], "FW-V-064", 3),
        (["line", "--vacuum=-4inHg"], "FW-Q-008", 3),
        (["line", "--pipes", "three"], "FW-U-001", 2),
        (["tank", "--coldest", "10 psi"], "FW-Q-", 3),
        (["smoke", "1", "--built", "old"], "FW-U-001", 2),
    ],
    ids=lambda words: " ".join(words) if isinstance(words, list) else None,
)
def test_a_broken_command_ends_calmly(
    words: list[str], code: str, exit: int, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["oil", *words]) == exit
    said = capsys.readouterr().err
    assert code in said
    assert all(part in said for part in ("expected", "because", "do "))
