"""fluewright instrument: from the shelf to the visits that a calibration puts in doubt, as a person types it."""

import json
from pathlib import Path

import pytest

from fluewright.cli.main import main
from fluewright.errors import FluewrightError


def said(capsys: pytest.CaptureFixture[str], *words: str, ends: int = 0) -> str:
    """What a command prints."""
    assert main(list(words)) == ends
    return capsys.readouterr().out


def test_from_the_shelf_to_a_visit_in_doubt(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    place = ("--journal", str(tmp_path / "journal.db"))

    def tool(question: str, *words: str, ends: int = 0) -> str:
        return said(capsys, "instrument", question, *words, *place, ends=ends)

    said(capsys, "journal", "new", *place)
    tool("new", "the grey meter", "--serial", "NOT-REAL-18", "--hydrogen", "yes")
    tool(
        "calibrate", "the grey meter", "--day", "2025-12-01", "--due", "2099-12-01", "--found", "carbon_monoxide = 0 %"
    )
    about = ("--title", "invented", "--jurisdiction", "US", "--appliance", "invented furnace", "--fuel", "natural gas")
    visit = said(capsys, "visit", "new", *about, "--instrument", "the grey meter", *place).split()[0]
    zero = tool("zero", "NOT-REAL-18", "outdoors", "--on", "12 min", "--co", "0", "--time", "09:40", "--visit", visit)
    assert zero == "09:40 zero outdoors: 12 min after switching on, carbon monoxide 0 ppm\n"
    said(capsys, "visit", "add", visit, "o2 5.0 co 75 stack 190C air 20C steady for 120 s", *place)
    assert "done  zero of the instrument" in said(capsys, "visit", "plan", visit, "--route", "annual", *place, ends=1)
    assert "no verdict would change" in tool("suspect", "the grey meter")
    bad = tool("calibrate", "the grey meter", "--day", "2099-11-30", "--found", "carbon monoxide = 100 ppm read 82 ppm")
    assert bad.startswith("calibration: as found carbon monoxide −18 %; see `fluewright instrument suspect`")
    listed = tool("suspect", "the grey meter", "--refer", ends=1)
    assert "1 visit since the last good check on 2025-12-01: 1 verdict would change." in " ".join(listed.split())
    assert "1 entry refers to what is listed; what was signed stays as it is." in listed
    data = json.loads(tool("suspect", "the grey meter", "--json", ends=1))
    assert [one["visit"] for one in data["flips"]] == [visit]
    told = " ".join(tool("shelf", "the grey meter").split())
    assert "compensated for hydrogen" in told
    assert "calibration: as found carbon monoxide −18 %" in told
    assert "nobody has said when its calibration runs out; zero: taken" in tool(
        "shelf"
    )  # the last certificate is silent
    assert "Referred to later: calibration of 2099-11-30" in " ".join(
        said(capsys, "visit", "show", visit, *place).replace("│", " ").split()
    )


@pytest.mark.parametrize(
    ("words", "code"),
    [
        (("calibrate", "the grey meter", "--found", "-18 %"), "FW-U-071"),
        (("calibrate", "the grey meter", "--found", "carbon_monoxide = low"), "FW-J-133"),
        (("zero", "the red meter", "outdoors"), "FW-J-132"),
        (("suspect", "the grey meter"), "FW-J-134"),
        (("response", "the grey meter", "--trace", "nowhere.csv"), "FW-U-070"),
    ],
)
def test_what_cannot_be_meant_is_refused_by_name(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], words: tuple[str, ...], code: str
) -> None:
    place = ("--journal", str(tmp_path / "journal.db"))
    said(capsys, "journal", "new", *place)
    said(capsys, "instrument", "new", "the grey meter", *place)
    with pytest.raises(FluewrightError) as caught:
        from fluewright.cli import instrument
        from fluewright.cli.main import parser_of

        instrument.run(parser_of("instrument").parse_args(["--plain", *words, *place]))
    assert caught.value.code == code
