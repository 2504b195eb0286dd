"""Broken rule books and house books: each is refused with its file, its line, what was read and what was expected."""

from pathlib import Path

import pytest

from fluewright.errors import FluewrightError, Problems
from fluewright.rules import load
from fluewright.rules.house import house_book_of
from fluewright.rules.strict import book_of

FOLDER = Path(__file__).parent / "rules"
BROKEN = sorted(path for path in FOLDER.glob("*.toml") if "good" not in path.stem)


def read(path: Path) -> object:
    """A book of the museum, as the program reads it."""
    text = path.read_text(encoding="utf-8")
    if path.stem.startswith("house-"):
        return house_book_of(text=text, file=path.name, above=load.limits())
    return book_of(text=text, name=path.stem, file=path.name)


def test_there_are_forty_and_more() -> None:
    assert len(BROKEN) >= 40


@pytest.mark.parametrize("name", ["good", "house-good"])
def test_the_books_they_were_made_from_hold(name: str) -> None:
    assert read(FOLDER / f"{name}.toml")


@pytest.mark.parametrize("path", BROKEN, ids=lambda path: path.stem)
def test_a_broken_book_is_refused_with_file_line_what_and_expected(path: Path) -> None:
    """The first line of each file says what it has to be refused with: line, what was read, what was expected."""
    line, says, expects = path.read_text(encoding="utf-8").splitlines()[0].removeprefix("# line ").split(" :: ", 2)
    with pytest.raises(FluewrightError) as caught:
        read(path)
    error = caught.value
    first = error.errors[0] if isinstance(error, Problems) else error
    assert first.where == f"{path.name}:{line}"
    assert first.read.startswith(says)
    assert first.expected.startswith(expects)
    assert first.matters
    assert first.do
    assert first.code == ("FW-B-050" if "loosen" in path.stem or "lower" in path.stem or "looser" in path.stem
                          else "FW-B-001")  # fmt: skip


def test_several_faults_of_one_book_come_together() -> None:
    with pytest.raises(Problems) as caught:
        read(FOLDER / "misspelt-field.toml")
    assert [error.read for error in caught.value.errors] == ["no averaging", "the unknown field 'averageing'"]
