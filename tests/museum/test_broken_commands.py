"""Every mistake gets its four parts and its exit code; none gets a traceback, none leaves a file behind."""

import json
import re
from pathlib import Path

import pytest

from fluewright.cli.main import main

VISITS = Path(__file__).parent / "visits"

FLUE = ("flue", "--fuel", "natural-gas", "--o2", "5%", "--co", "50ppm", "--flue", "400F", "--air", "70F")


def flue(**changes: str) -> list[str]:
    """The command that works with some of its options changed."""
    words = list(FLUE)
    for option, value in changes.items():
        name = f"--{option.replace('_', '-')}"
        if name in words:
            words[words.index(name) + 1] = value
        else:
            words += [name, value]
    return words


BROKEN: list[tuple[str, list[str], int]] = [
    ("no verb", [], 2),
    ("unknown verb", ["flu"], 2),
    ("unknown option", [*FLUE, "--colour", "red"], 2),
    ("option without value", [*FLUE, "--altitude"], 2),
    ("abbreviated option", [*FLUE, "--alt", "3000ft"], 2),
    ("no fuel", list(FLUE[0:1]) + list(FLUE[3:]), 3),
    ("two fuels", [*FLUE, "--composition", "CH4=100"], 3),
    ("unknown fuel", flue(fuel="unobtainium"), 3),
    ("composition short of the whole", ["flue", "--composition", "CH4=90,N2=5", *FLUE[3:]], 3),
    ("composition with a negative share", ["flue", "--composition", "CH4=105,N2=-5", *FLUE[3:]], 3),
    ("composition of a stranger", ["flue", "--composition", "CH4=95,Xx=5", *FLUE[3:]], 3),
    ("composition of nothing that burns", ["flue", "--composition", "N2=100", *FLUE[3:]], 3),
    ("fuel file that is not there", ["flue", "--fuel-file", "nowhere.toml", *FLUE[3:]], 3),
    ("oxygen in no unit known", flue(o2="5 spoons"), 3),
    ("oxygen as a temperature", flue(o2="5 F"), 3),
    ("oxygen above all there is", flue(o2="120 %"), 3),
    ("empty reading", flue(o2=""), 3),
    ("two values in one", flue(o2="5 6 %"), 3),
    ("not a number", flue(o2="nan"), 3),
    ("endless", flue(co="inf ppm"), 3),
    ("below absolute zero", flue(flue="-500F"), 3),
    ("temperatures of either kind", flue(flue="200", air="20"), 3),
    ("no gas at all", ["flue", "--fuel", "propane", "--flue", "400F", "--air", "70F"], 5),
    ("altitude and barometer", [*FLUE, "--altitude", "3000ft", "--barometer", "900 hPa"], 2),
    ("unknown instrument class", [*FLUE, "--instrument", "perfect"], 3),
    ("unknown boundary", [*FLUE, "--boundary", "the whole street"], 2),
    ("hotter than any flue", flue(flue="2500F"), 5),
    ("report of a file that is not there", ["report", "nowhere.toml"], 3),
    ("report of a folder", ["report", str(VISITS)], 3),
    ("trace that is not there", ["trace", "nowhere.csv"], 3),
    ("fuel that is not there", ["fuel", "show", "unobtainium"], 3),
    ("altitude as a range", [*FLUE, "--altitude", "500..900 m"], 3),
    ("humidity as a word", [*FLUE, "--humidity", "rising"], 3),
    ("wet behind a trap", [*FLUE, "--wet", "--trap", "50 F"], 2),
    ("half of the heat through the jacket", [*FLUE, "--jacket", "50 %"], 2),
    ("reference oxygen of fresh air", [*FLUE, "--reference-o2", "20.95 %"], 2),
    ("trap as warm as the gas", [*FLUE, "--trap", "150 F"], 5),
    ("barometer on the Moon", [*FLUE, "--barometer", "300 hPa"], 5),
    ("burner nobody has", [*FLUE, "--burner", "steam organ"], 2),
    ("an option twice", [*FLUE, "--fuel", "propane"], 2),
    ("altitude in orbit", [*FLUE, "--altitude", "60000 m"], 2),
    ("a gas that cannot keep a flame", ["flue", "--composition", "CH4=1,CO2=99", *FLUE[3:]], 5),
    ("a share beyond counting", ["flue", "--composition", "CH4=1e308,N2=1e308", *FLUE[3:]], 3),
    ("output into no folder", ["report", str(VISITS / "good.toml"), "--pdf", "nowhere/a.pdf"], 2),
    ("completion for a strange shell", ["completion", "abacus"], 2),
    ("completion for no shell", ["completion"], 2),
    ("a switch with a value", [*FLUE, "--json=5"], 2),
    ("made to condense and not", [*FLUE, "--condensing", "--not-condensing"], 2),
    ("a word without an option", [*FLUE, "stray"], 2),
    ("cigarettes in words", ["room", "exposure", "--over", "1h", "--co", "9ppm", "--cigarettes", "a few"], 2),
    ("an option of several words without one", ["draft", "house", "--fan"], 2),
    ("no trace", ["trace"], 2),
    ("no question about fuel", ["fuel"], 2),
    ("a fuel name of hundreds of letters", flue(fuel="x" * 300), 3),
    ("a visit file name of hundreds of letters", ["report", "x" * 300], 3),
    ("a fuel twice", ["fuel", "show", "g20", "--fuel", "g21"], 2),
    ("a duty at the end of time", ["cost", "duty", "us-area-tune-up-biennial", "--day", "9999-12-31"], 2),
]


@pytest.mark.parametrize(("what", "words", "code"), BROKEN, ids=[row[0] for row in BROKEN])
def test_a_broken_command_says_what_to_do(
    what: str,
    words: list[str],
    code: int,
    capsys: pytest.CaptureFixture[str],
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.chdir(tmp_path)
    assert main(words) == code, what
    said = capsys.readouterr()
    if what != "no verb":
        for part in ("expected", "because", "do  "):
            assert part in said.err, said.err
        assert re.search(r"\(FW-[A-Z]-\d{3}\)", said.err)
        assert not re.search(r"usage:|argument|invalid|\{|following", said.err), "not our own words"
    assert "Traceback" not in said.err + said.out
    assert not list(tmp_path.iterdir()), "something was left behind"


@pytest.mark.parametrize("file", sorted(p.name for p in VISITS.iterdir() if p.name != "good.toml"))
def test_a_broken_visit_file_says_where(file: str, capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    code = main(
        ["report", str(VISITS / file), "--pdf", str(tmp_path / "out.pdf"), "--html", str(tmp_path / "out.html")]
    )
    said = capsys.readouterr()
    assert code in (3, 5), said.err
    assert "expected" in said.err
    assert "because" in said.err
    assert file in said.err, "the error does not say which file"
    assert "Traceback" not in said.err
    assert not said.out
    assert not list(tmp_path.iterdir()), "something was left behind"


def test_all_faults_of_a_visit_file_come_at_once(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["report", str(VISITS / "five-faults.toml"), "--json"]) == 3
    errors = json.loads(capsys.readouterr().err)["errors"]
    places = " ".join(error["where"] for error in errors)
    assert len(errors) >= 4
    for place in ("visit, date", "fuel", "appliance", "stretch 1, readings, o2"):
        assert place in places


def test_the_good_visit_is_taken(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["report", str(VISITS / "good.toml"), "--plain"]) == 0
    assert "flue loss" in capsys.readouterr().out


def test_no_carbon_dioxide_at_all_is_a_contradiction_and_no_crash(capsys: pytest.CaptureFixture[str]) -> None:
    assert main([*flue(co2="0 %"), "--json"]) in (0, 1)
    data = json.loads(capsys.readouterr().out)
    assert "carbon_monoxide_air_free_by_carbon_dioxide" not in data
    assert any("carbon dioxide" in finding["body"] for finding in data["findings"])


def test_a_bare_temperature_is_in_the_stated_units(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    main([*flue(flue="200", air="20", units="si"), "--json"])
    stated = json.loads(capsys.readouterr().out)
    main([*flue(flue="200 C", air="20 C"), "--json"])
    assert json.loads(capsys.readouterr().out)["efficiency_gross"] == stated["efficiency_gross"]
    text = (VISITS / "good.toml").read_text()
    (tmp_path / "said.toml").write_text(text)
    (tmp_path / "bare.toml").write_text(text.replace("18 C", "18").replace("170 C", "170"))
    sheets = []
    for name in ("said.toml", "bare.toml"):
        assert main(["report", str(tmp_path / name), "--json"]) == 0
        sheets.append(json.loads(capsys.readouterr().out)["stretches"][0]["results"])
    assert sheets[0] == sheets[1]


def test_a_report_is_never_overwritten_unasked(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    out = tmp_path / "sheet.html"
    out.write_text("the only copy")
    words = ["report", str(VISITS / "good.toml"), "--html", str(out)]
    assert main(words) == 2
    assert out.read_text() == "the only copy"
    assert main([*words, "--force"]) == 0
    assert out.read_text() != "the only copy"
    capsys.readouterr()


@pytest.mark.parametrize("oxygen", ["20.95 %", "20.6 %", "23 %"])
def test_fresh_air_is_a_finding_and_no_number(oxygen: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert main([*flue(o2=oxygen), "--json"]) == 1
    data = json.loads(capsys.readouterr().out)
    assert data["air_ratio"]["value"] is None
    assert "fresh air" in data["excess_air"]["refused"]
    assert [f["code"] for f in data["findings"]] == ["practice-room-co-stop", "fresh-air"]


def visit_in(folder: Path) -> Path:
    """The invented visit in a folder."""
    assert main(["demo", "--folder", str(folder)]) == 0
    return folder / "visit.toml"


@pytest.mark.parametrize("what", ["input", "trace", "twice", "link", "folder", "device"])
def test_no_output_replaces_what_is_not_its_own(what: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    visit = visit_in(tmp_path / "visit")
    link = tmp_path / "link.pdf"
    link.symlink_to(tmp_path / "elsewhere")
    outputs = {
        "input": ["--html", str(visit)],
        "trace": ["--pdf", str(visit.parent / "as-left.csv")],
        "twice": ["--html", str(tmp_path / "a"), "--pdf", str(tmp_path / "visit" / ".." / "a")],
        "link": ["--pdf", str(link)],
        "folder": ["--pdf", str(tmp_path)],
        "device": ["--html", "/dev/null"],
    }
    before = {path: path.read_bytes() for path in visit.parent.iterdir()}
    capsys.readouterr()
    assert main(["report", str(visit), *outputs[what], "--force"]) == 2
    assert "FW-U-004" in capsys.readouterr().err
    assert {path: path.read_bytes() for path in visit.parent.iterdir()} == before
    assert not (tmp_path / "a").exists()
    assert link.is_symlink()


def test_a_trace_is_never_written_over(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    trace = visit_in(tmp_path / "visit").parent / "as-left.csv"
    before = trace.read_bytes()
    assert main(["trace", str(trace), "--csv", str(trace), "--force"]) == 2
    assert trace.read_bytes() == before
    assert main(["trace", str(trace), "--step", "0 s"]) == 2
    assert main(["trace", str(trace), "--response", "0 s"]) == 2
    assert main(["trace", str(trace), "--air", "rising"]) == 3
    capsys.readouterr()


def test_the_demonstration_replaces_nothing_foreign(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (tmp_path / "visit.toml").write_text("mine")
    assert main(["demo", "--folder", str(tmp_path)]) == 2
    assert (tmp_path / "visit.toml").read_text() == "mine"
    (tmp_path / "visit.toml").unlink()
    (tmp_path / "report.pdf").write_text("my only report")
    assert main(["demo", "--folder", str(tmp_path)]) == 2
    assert [path.name for path in tmp_path.iterdir()] == ["report.pdf"]
    assert (tmp_path / "report.pdf").read_text() == "my only report"
    (tmp_path / "file").write_text("mine too")
    assert main(["demo", "--folder", str(tmp_path / "file")]) == 2
    assert "Traceback" not in capsys.readouterr().err


def test_the_fuel_file_of_a_visit_is_never_written_over(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    fuel = tmp_path / "mine.toml"
    fuel.write_text('words = "mine"\nkind = "gas"\nsource = "typed"\nknown = "read"\n[composition]\nCH4 = 100\n')
    text = (VISITS / "good.toml").read_text().replace('name = "oil-no-2"', 'file = "mine.toml"')
    visit = tmp_path / "visit.toml"
    visit.write_text(text)
    before = fuel.read_bytes()
    assert main(["report", str(visit), "--html", str(fuel), "--force"]) == 2
    (tmp_path / "other name").hardlink_to(fuel)
    assert main(["report", str(visit), "--html", str(tmp_path / "other name"), "--force"]) == 2
    assert fuel.read_bytes() == before
    capsys.readouterr()


def test_a_file_that_cannot_be_read_is_not_blamed_on_the_output(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    def broken(*_: object, **__: object) -> None:
        raise OSError(5, "Input/output error", "library/natural-gas.toml")

    monkeypatch.setattr("fluewright.fuels.load.load", broken)
    assert main(list(FLUE)) == 2
    said = capsys.readouterr().err
    assert "FW-U-012" in said
    assert "library/natural-gas.toml: it cannot be read" in said
    assert "written" not in said


def test_an_error_cannot_steer_the_terminal(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["report", "\x1b[31mred.toml"]) == 3
    assert "\x1b" not in capsys.readouterr().err
