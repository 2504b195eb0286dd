"""fluewright appliance: classes and the table of validity as text and as data."""

import json

import pytest

from fluewright.appliance import load
from fluewright.appliance.points import validity
from fluewright.cli.main import main


def said(capsys: pytest.CaptureFixture[str], *words: str) -> str:
    """What a command that succeeds prints."""
    assert main(["appliance", *words]) == 0
    return capsys.readouterr().out


def test_the_list_names_every_class(capsys: pytest.CaptureFixture[str]) -> None:
    text = said(capsys, "list")
    assert all(name in text for name in load.names_of_classes())
    assert len(json.loads(said(capsys, "list", "--json"))) == len(load.names_of_classes())


@pytest.mark.parametrize("name", load.names_of_classes())
def test_a_class_is_shown_whole(name: str, capsys: pytest.CaptureFixture[str]) -> None:
    one = load.load(name)
    text = " ".join(said(capsys, "show", name).split())
    for words in (*(p.name for p in one.points), *(d.words for d in one.devices), *one.never.values(), one.rising):
        assert words in text
    data = json.loads(said(capsys, "show", name.replace("-", " ").upper(), "--json"))
    assert data["name"] == name
    assert len(data["lines"]) == len(one.lines)


def test_a_row_a_column_and_a_cell(capsys: pytest.CaptureFixture[str]) -> None:
    row = json.loads(said(capsys, "points", "--quantity", "excess_air", "--json"))
    assert [cell["point"] for cell in row] == list(validity().points)
    column = json.loads(said(capsys, "points", "--point", "above hood", "--json"))
    assert [cell["quantity"] for cell in column] == list(validity().words)
    assert "refused: room air in the sample" in said(capsys, "points", "--quantity", "excess", "--point", "above hood")
    assert said(capsys, "points", "--point", "above hood", "--plain").isascii()


@pytest.mark.parametrize(
    ("words", "code"),
    [
        (("show", "kettle"), "FW-U-290"),
        (("points", "--point", "hood"), "FW-U-291"),
        (("points", "--quantity", "draft"), "FW-U-292"),
        (("points",), "FW-U-293"),
        (("points", "--quantity", "luck"), "FW-Q-012"),
        (("bake",), "FW-U-001"),
    ],
)
def test_what_is_not_there_is_said_in_four_parts(
    words: tuple[str, ...], code: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["appliance", *words]) in (2, 3)
    told = capsys.readouterr().err
    assert code in told
    assert "because" in told
