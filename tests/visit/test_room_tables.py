"""A visit file with [room] and [[unvented]], and the same questions on the command line."""

import json
from pathlib import Path

import pytest

from fluewright.cli.main import main
from fluewright.errors import FluewrightError
from fluewright.visit import file, work

HEAD = """
[visit]
title = "Room air that never was"
date = 2026-11-25
jurisdiction = "US"
invented = true
[appliance]
words = "made-up water heater"
[fuel]
name = "natural-gas"
[instrument]
zero = "outdoors"
accuracy = "portable"
"""
WHOLE = """
[room]
symptoms = "no"
entry = "2 ppm"
outdoor = "0 ppm"
personal = "1 ppm"
personal_zero = "outdoors"

[[room.alarm]]
place = "in the hall"
standard = "UL 2034"
tested = "yes"
sounded = "no"
made = 2023-05-01

[[room.reading]]
time = "09:05"
place = "beside the water heater"
monoxide = "3 ppm"

[[room.reading]]
time = "09:20"
place = "beside the water heater"
monoxide = "24..30 ppm rising"

[room.decay]
from = "30 ppm"
to = "12 ppm"
over = "40 min"

[room.rise]
from = "3 ppm"
to = "27 ppm"
over = "15 min"
volume = "1200 ft3"

[[unvented]]
kind = "oven"
moment = "cold start"
monoxide = "300 ppm"
oxygen = "16 %"

[[unvented]]
kind = "oven"
moment = "at temperature"
monoxide = "80 ppm"
oxygen = "16 %"
room_before = "2 ppm"
room_after = "4 ppm"
"""


def written(folder: Path, text: str) -> Path:
    path = folder / "visit.toml"
    path.write_text(HEAD + text, encoding="utf-8")
    return path


def judged(folder: Path, text: str) -> work.Verdict:
    return work.judged(file.read(written(folder, text)))


def test_the_whole_room_is_told(tmp_path: Path) -> None:
    verdict = judged(tmp_path, WHOLE)
    words = [part.word for part in verdict.parts]
    assert words == ["room air", "source in the room", "oven, cold start", "oven, at temperature"]
    codes = {finding.code for finding in verdict.judged.findings}
    assert {"practice-room-co-advise", "room-rise", "room-heads-for", "alarm-silent"} <= codes
    assert not [words for words in verdict.judged.cannot_tell if words.startswith("Carbon monoxide in the room")]


def test_a_room_without_a_figure_leaves_the_topic_open(tmp_path: Path) -> None:
    verdict = judged(tmp_path, '[room]\nsymptoms = "no"\n')
    assert [words for words in verdict.judged.cannot_tell if words.startswith("Carbon monoxide in the room")]


def test_the_zero_of_the_visit_counts_where_the_room_names_none(tmp_path: Path) -> None:
    text = '[room]\nsymptoms = "no"\nentry = "2 ppm"\n'
    assert judged(tmp_path, text).parts[0].data["zero"] == "outdoors"
    assert judged(tmp_path, text + 'zero = "inside"\n').parts[0].data["zero"] == "inside"


def test_a_recorded_series_stands_beside_the_visit(tmp_path: Path) -> None:
    rows = "".join(f"2026-11-25 10:{minute:02d},{10 + minute}\n" for minute in range(30))
    (tmp_path / "room.csv").write_text("time,room_co [ppm]\n" + rows, encoding="utf-8")
    part = judged(tmp_path, '[room]\nsymptoms = "no"\ntrace = "room.csv"\n').parts[0]
    assert part.results["carbon_monoxide_highest"].value == pytest.approx(39e-6)
    assert len(part.readings()) == 2


@pytest.mark.parametrize(
    ("text", "code"),
    [
        ('[room]\ntrace = "no.csv"\n', "FW-T-001"),
        ('[room]\ntrace = "a.csv"\n[[room.reading]]\ntime = "9:00"\nmonoxide = "3"\n', "FW-V-020"),
        ('[room]\nwithout_alarm = true\n[[room.alarm]]\nplace = "here"\n', "FW-V-021"),
        (
            '[room.decay]\nfrom = "9"\nto = "3"\nover = "9 min"\n'
            '[room.rise]\nfrom = "1"\nto = "9"\nover = "9 min"\nvolume = "50 m3"\nair_changes = "1 1/h"\n',
            "FW-V-022",
        ),
        ('[[unvented]]\nkind = "oven"\n[[unvented]]\nkind = "oven"\n', "FW-V-023"),
        ('[[unvented]]\nkind = "campfire"\n', "FW-V-009"),
        ('[room]\nsymptoms = "a bit"\n', "FW-V-009"),
        ('[room]\nentry = "3 spoons"\n', "FW-Q-"),
        ('[room.decay]\nfrom = "3"\nto = "9"\nover = "9 min"\n', "FW-K-022"),
        ('[room.decay]\nfrom = "rising"\nto = "9"\nover = "9 min"\n', "FW-K-020"),
        ('[room.rise]\nfrom = "3"\nto = "9"\nover = "0 min"\nvolume = "50 m3"\n', "FW-K-021"),
        ('[room.rise]\nfrom = "3"\nto = "9"\nover = "9 min"\nvolume = "0 m3"\n', "FW-K-023"),
        ('[room.rise]\nfrom = "3"\nto = "9"\nvolume = "50 m3"\n', "FW-V-004"),
        (
            '[[room.reading]]\ntime = "9:00"\nmonoxide = "3"\n[[room.reading]]\ntime = "8:00"\nmonoxide = "3"\n',
            "FW-K-028",
        ),
        (
            '[[room.reading]]\ntime = "9:00"\nmonoxide = "3"\n[[room.reading]]\ntime = "9:00"\nmonoxide = "3"\n',
            "FW-K-027",
        ),
        ('[[room.reading]]\ntime = "soon"\nmonoxide = "3"\n', "FW-Q-"),
        ('[room]\nsmell = "none"\n', "FW-V-003"),
        ('room = "fine"\n', "FW-V-0"),
    ],
)
def test_a_broken_table_is_told_in_four_parts(tmp_path: Path, text: str, code: str) -> None:
    if text.startswith("room ="):
        path = tmp_path / "visit.toml"
        path.write_text(text + HEAD, encoding="utf-8")
    else:
        path = written(tmp_path, text)
    with pytest.raises(FluewrightError) as caught:
        file.read(path)
    errors = getattr(caught.value, "errors", (caught.value,))
    assert [error for error in errors if error.code.startswith(code)], [error.code for error in errors]
    for error in errors:
        assert all(error.parts()[part] for part in ("read", "expected", "matters", "do"))


QUESTIONS: list[tuple[list[str], int]] = [
    (["air", "--symptoms", "no", "--entry", "2ppm", "--zero", "outdoors", "--jurisdiction", "US"], 0),
    (["air", "--symptoms", "yes", "--entry", "0ppm"], 1),
    (["air", "--entry", "60ppm"], 1),
    (["air", "--alarm", "sounded"], 1),
    (["air", "--alarm", "silent", "--alarm-standard", "UL 2034", "--alarm-tested", "yes"], 0),
    (["mean", "--readings", "10:00 5; 10:20 9 ppm"], 0),
    (["rise", "--from", "1", "--to", "80ppm", "--over", "30", "--volume", "2400ft3", "--air-changes", "0.5/h"], 1),
    (["decay", "--from", "28ppm", "--to", "12ppm", "--over", "40min", "--outdoor", "1"], 0),
    (["unvented", "--kind", "oven", "--co", "40ppm", "--o2", "18%", "--moment", "at temperature"], 0),
    (["exposure", "--co", "70ppm", "--over", "240min", "--cigarettes", "10"], 0),
    (["exposure", "--sample", "12%", "--over", "4h", "--breathing", "oxygen", "--since", "1h"], 0),
]


@pytest.mark.parametrize(("words", "code"), QUESTIONS, ids=lambda one: " ".join(one) if isinstance(one, list) else "")
def test_every_question_answers(words: list[str], code: int, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["room", *words, "--working"]) == code
    assert "%s" not in capsys.readouterr().out
    assert main(["room", *words, "--json"]) == code
    data = json.loads(capsys.readouterr().out)
    assert data["parts"]
    assert main(["room", *words, "--plain"]) == code
    assert capsys.readouterr().out.isascii()


BROKEN: list[tuple[list[str], int]] = [
    (["air", "--entry", "3 spoons"], 3),
    (["air", "--readings", "3ppm"], 2),
    (["air", "--readings", "3 ppm"], 3),
    (["air", "--readings", "10:00 3; 9:00 3"], 5),
    (["air", "--alarm", "none", "--alarm-tested", "yes"], 2),
    (["mean"], 2),
    (["mean", "nowhere.csv"], 3),
    (["mean", "a.csv", "--readings", "0 min 3"], 2),
    (["rise", "--from", "1", "--to", "9", "--over", "0min", "--volume", "50m3"], 5),
    (["rise", "--from", "1", "--to", "9", "--over", "9min", "--volume", "0 m3"], 5),
    (["decay", "--from", "9", "--to", "9", "--over", "9min"], 5),
    (["unvented", "--kind", "campfire"], 2),
    (["exposure", "--over", "9min"], 2),
    (["exposure", "--co", "70ppm", "--over", "9min", "--sample", "9%"], 2),
    (["exposure", "--co", "70ppm", "--over", "9min", "--activity", "asleep"], 2),
    (["exposure", "--co", "70ppm", "--over", "9min", "--start", "100%"], 5),
    (["exposure", "--co", "rising", "--over", "9min"], 5),
    (["exposure", "--sample", "9%", "--over", "0min"], 5),
]


@pytest.mark.parametrize(("words", "code"), BROKEN, ids=lambda one: " ".join(one) if isinstance(one, list) else "")
def test_every_mistake_has_its_four_parts(words: list[str], code: int, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["room", *words]) == code
    said = capsys.readouterr().err
    assert "expected" in said
    assert "because" in said
    assert "FW-Z" not in said


def test_a_trace_without_carbon_monoxide_is_told(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = tmp_path / "o2.csv"
    path.write_text("time,o2 [%]\n2026-11-25 10:00,5\n2026-11-25 10:01,5\n", encoding="utf-8")
    assert main(["room", "mean", str(path)]) == 3
    assert "FW-T-091" in capsys.readouterr().err
