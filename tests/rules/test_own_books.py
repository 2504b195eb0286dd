"""A shop's own books: clauses it entered, a house book that is signed and taken, what an instrument decides."""

import datetime
from dataclasses import replace
from pathlib import Path

import pytest

from fluewright.cli.main import main
from fluewright.errors import RuleError
from fluewright.evidence.books import books_of
from fluewright.evidence.limits import clears
from fluewright.evidence.room_people import Alarm
from fluewright.rules import applies, load, signed
from fluewright.rules.applies import Applies
from fluewright.rules.decidable import decidable
from fluewright.rules.differences import between
from fluewright.rules.entered import Clause, as_read, need_whole
from fluewright.rules.shop import Shop
from fluewright.visit.rules_here import Asked, speaking

HOUSE = Path(__file__).parent.parent / "museum" / "rules" / "house-good.toml"
DAY = datetime.date(2026, 11, 25)
CLAUSE = Clause(
    "practice-co-act", "Made-up Code", "2024", "9.9.9", "123", "A.B.", "not more than 400 ppm", DAY, "XX", "400", "ppm"
)


@pytest.fixture(autouse=True)
def _folders(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("XDG_CONFIG_HOME", str(tmp_path / "config"))
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path / "data"))


# ---------------------------------------------------------------------------------------------- the grammar


def test_every_row_says_to_what_it_applies_and_says_it_again() -> None:
    for row in load.limits():
        assert applies.read(applies.in_words(row.applies)) == row.applies


def test_bands_and_lists_cover_and_meet() -> None:
    small, large = applies.read("output from 4 kW to 25 kW"), applies.read("output over 25 kW")
    assert isinstance(small, Applies)
    assert isinstance(large, Applies)
    assert not small.meets(large)
    assert small.meets(Applies(output_from=25_000.0))
    assert Applies().covers(small)
    assert not small.covers(Applies())
    assert Applies(fuels=("gas", "oil")).covers(Applies(fuels=("gas",)))
    assert not Applies(fuels=("gas",)).covers(Applies(fuels=("gas", "oil")))


# ------------------------------------------------------------------------------------------- entered clauses


def test_a_clause_of_the_shops_own_code_book_counts_as_read() -> None:
    row = load.limit(CLAUSE.rule)
    assert not clears(row)
    need_whole(CLAUSE, row)
    own = Shop(clauses=(CLAUSE,)).limit(CLAUSE.rule)
    assert own.known == "read"
    assert clears(own)
    assert "page 123" in own.citation.edition
    assert "A.B." in own.citation.edition
    assert not clears(as_read(row, replace(CLAUSE, law_in="")))  # common practice is no law because somebody printed it


def test_every_verdict_asks_the_shop_and_not_the_book_behind_its_back(root: Path) -> None:
    """The band of a gas group is read before a shop is known; it is no limit, and a clause cannot change its figure."""
    folder = root / "src" / "fluewright" / "evidence"
    behind = [path.name for path in folder.rglob("*.py") if "load.limit(" in path.read_text(encoding="utf-8")]
    assert behind == ["gas_change.py"]


def test_an_alarm_that_stayed_silent_is_judged_by_the_clause_the_shop_entered() -> None:
    row = load.limit("ul2034-first-point")
    entered = replace(CLAUSE, rule=row.id, limit=f"{row.limit:g}", unit=row.unit, law_in="")
    need_whole(entered, row)
    point, _ = Alarm("in the hall", "UL 2034").first_point(Shop(clauses=(entered,)))
    assert point.known == "read"
    assert "page 123" in point.citation.edition


@pytest.mark.parametrize(
    "changed", [{"page": ""}, {"initials": " "}, {"text": ""}, {"limit": "800"}, {"limit": "many"}, {"edition": ""}]
)
def test_a_clause_by_halves_or_of_another_figure_is_refused(changed: dict[str, str]) -> None:
    with pytest.raises(RuleError) as caught:
        need_whole(replace(CLAUSE, **changed), load.limit(CLAUSE.rule))  # type: ignore[arg-type]
    assert caught.value.code == "FW-B-051"


def test_a_clause_is_entered_in_the_journal_and_found_there(capsys: pytest.CaptureFixture[str]) -> None:
    import argparse

    from fluewright.cli.journal_place import opened_from
    from fluewright.visit.own_books import clauses_of

    assert main(["journal", "new"]) == 0
    words = ["--document", "Code", "--edition", "2024", "--clause", "9.9.9", "--page", "12", "--initials",
             "A.B.", "--text", "at most 400 ppm", "--limit", "400", "--unit", "ppm", "--law-in", "xx"]  # fmt: skip
    assert main(["rules", "enter", "practice-co-act", *words]) == 0
    assert "counts as read" in capsys.readouterr().out
    journal = opened_from(argparse.Namespace(journal=None, files=None, keys=None)).journal
    (found,) = clauses_of(journal)
    assert (found.rule, found.page, found.law_in) == ("practice-co-act", "12", "XX")
    assert Shop(clauses=(found,)).limit("practice-co-act").known == "read"


# -------------------------------------------------------------------------------------------- signed, taken


def test_a_house_book_takes_effect_only_once_its_differences_were_seen(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    book = tmp_path / "book.toml"
    book.write_bytes(HOUSE.read_bytes())
    assert main(["rules", "take", str(book)]) == 1
    said = capsys.readouterr().out
    assert "not signed" in said
    assert "new      house-loss" in said
    assert "Not in force" in said
    assert main(["rules", "take", str(book), "--yes"]) == 5  # nobody vouches for it
    assert main(["rules", "sign", str(book)]) == 0
    assert main(["rules", "take", str(book), "--yes"]) == 0
    capsys.readouterr()
    assert main(["rules", "show", "house-loss"]) == 0
    assert "tightens" in capsys.readouterr().out
    book.write_text(book.read_text("utf-8").replace("limit = 10.5", "limit = 10.4"), "utf-8")
    assert main(["rules", "take", str(book), "--yes"]) == 3
    assert "changed after it was signed" in capsys.readouterr().err


def test_a_house_book_changed_in_its_place_is_not_believed(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["rules", "take", str(HOUSE), "--yes", "--unsigned"]) == 0
    kept = tmp_path / "config" / "fluewright" / "house-book.toml"
    assert main(["rules", "show", "house-loss"]) == 0
    kept.write_text(kept.read_text("utf-8").replace("limit = 10.5", "limit = 10.9"), "utf-8")
    capsys.readouterr()
    assert main(["rules", "show", "house-loss"]) == 3
    assert "FW-B-054" in capsys.readouterr().err
    assert main(["rules", "take", str(kept)]) == 1
    assert "limit was 10.5, becomes 10.9" in capsys.readouterr().out


def test_one_byte_of_a_signed_book_decides() -> None:
    pytest.importorskip("cryptography")
    from cryptography.hazmat.primitives.asymmetric.ed25519 import Ed25519PrivateKey

    from fluewright.record.keys_ed25519 import holds

    content, key = HOUSE.read_bytes(), Ed25519PrivateKey.from_private_bytes(bytes(32))
    public = key.public_key().public_bytes_raw().hex()
    beside = signed.beside(key=public, signature=key.sign(signed.to_sign(content)).hex())

    def word(content: bytes, text: str | None, trusted: tuple[str, ...]) -> str:
        return signed.standing(content=content, signed=text, trusted=trusted, verify=holds, file="x").word

    assert word(content, beside, (public,)) == "signed"
    assert word(content, beside, ()) == "signed by a stranger"
    assert word(content, None, (public,)) == "not signed"
    assert word(content.replace(b"10.5", b"10.6"), beside, (public,)) == "changed"
    with pytest.raises(RuleError, match="no signature"):
        word(content, "hello", ())


def test_a_seal_can_carry_every_book_that_speaks_at_its_place() -> None:
    books = books_of(Asked("US-MN", DAY, shop=Shop(stamps={"house book": "x"})).account)
    assert books["house book"] == "x"
    assert "books/us-household" in books
    assert "books/de-1bimschv" not in books
    assert all("sha256:" in words for name, words in books.items() if name != "house book")


def test_a_difference_names_row_field_before_and_after() -> None:
    rows = load.book("de-1bimschv").limits
    changed = (replace(rows[0], limit=12.0), *rows[2:])
    gone, field = between(rows, changed)
    assert gone.sentence.startswith("gone")
    assert (field.field, field.before, field.after) == ("limit", "11", "12")


# ---------------------------------------------------------------------------------- what can be decided today


def test_nine_parts_of_nitrogen_oxides_cannot_be_decided_and_thirty_can(capsys: pytest.CaptureFixture[str]) -> None:
    asked = ["rules", "decidable", "--quantity", "nox", "--reference-o2", "3%", "--instrument", "statutory", "--limit"]
    assert main([*asked, "9ppm"]) == 1
    assert "cannot decide 9 ppm" in capsys.readouterr().out
    assert main([*asked, "30ppm"]) == 0
    assert "can decide 30 ppm" in capsys.readouterr().out


def test_a_limit_of_several_readings_is_not_said_to_be_decided() -> None:
    assert decidable(load.limit("de-1bimschv-loss-25"), "statutory").can == "not said"


def test_a_finer_instrument_decides_no_less() -> None:
    base = replace(load.limit("us-ut-nox-10-ppm"), limit=0.0)
    for figure in range(2, 60):
        rule = replace(base, limit=float(figure))
        wide, fine = decidable(rule, "service").can, decidable(rule, "statutory").can
        assert (wide, fine) != ("yes", "no")


# ------------------------------------------------------------------------------------------- place and day


def test_the_rules_of_a_place_are_those_of_its_day() -> None:
    def ids(day: datetime.date) -> set[str]:
        asked = Asked("DE", day, burner="premix", output=2e6)
        return {one.rule.id for one in speaking(asked)}

    now, then = ids(DAY), ids(datetime.date(2016, 11, 25))
    assert {"de-44bimschv-loss", "de-agw-co-8h", "who-2021-co-24h"} <= now - then
    assert {"de-agw-co-8h-2023", "who-2010-co-24h"} <= then - now


def test_the_list_of_a_place_is_printed_with_its_authority(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["rules", "list", "--jurisdiction", "DE", "--output", "20kW", "--quantity", "loss_net"]) == 0
    said = capsys.readouterr().out
    assert "de-1bimschv-loss-25" in said
    assert "law, advise, may clear" in said
