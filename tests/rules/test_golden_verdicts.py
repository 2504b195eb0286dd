"""Golden verdicts across decision rules, averaging and rounding, by law and beside it by a house book."""

import datetime
import tomllib
from pathlib import Path
from typing import Any

import pytest

import fluewright
from fluewright.evidence.reading import Account, Appliance, Instrument, Point, Stretch, Surroundings
from fluewright.report.text import text
from fluewright.rules import apply, averages, load
from fluewright.rules.house import HouseBook, house_book_of
from fluewright.rules.shop import Shop

GOLDEN: list[dict[str, Any]] = tomllib.loads(
    (Path(__file__).parent / "golden-verdicts.toml").read_text(encoding="utf-8")
)["verdict"]
HEAD = 'title = "House book of a shop that does not exist"\nversion = 2026-11-25\n'


def house_of(rule: str, asks: dict[str, Any]) -> HouseBook:
    """A house book of one line that holds a row tighter."""
    line = f'[[tighten]]\nid = "house-one"\nof = "{rule}"\nsince = 2020-01-01\nbecause = "It asks more."\n'
    line += f'decision = "{asks["decision"]}"\n' + (f"limit = {asks['limit']}\n" if "limit" in asks else "")
    return house_book_of(text=HEAD + line, file="house-book.toml", above=load.limits())


def test_there_are_enough() -> None:
    assert len(GOLDEN) >= 24
    assert {row["law"] for row in GOLDEN} == {"inside", "beyond", "undecided"}


@pytest.mark.parametrize("row", GOLDEN, ids=lambda row: row["says"])
def test_a_golden_verdict(row: dict[str, Any]) -> None:
    rule = load.limit(row["rule"])
    mean = sum(row["readings"]) / len(row["readings"])
    assert averages.judged(rule, value=mean, spread=row["doubt"]).passes == row["law"]
    assert row["source"]
    if "house" not in row:
        return
    (own,) = house_of(row["rule"], row["house"]).limits
    by_house = apply.judged(own, value=mean, spread=row["doubt"]).passes
    assert ("kept" if by_house == "inside" else "look again") == row["house"]["says"]


def visit(shop: Shop, stack: str) -> Account:
    """An invented oil boiler of 20 kW in Germany."""
    typed = {"o2": "5 %", "co": "20 ppm", "stack": stack, "air": "20 C"}
    return Account(
        title="Invented", customer="", site="", day=datetime.date(2026, 11, 25), technician="",
        appliance=Appliance("boiler", burner="oil pressure jet", condensing=False, output=20_000.0),
        fuel=fluewright.load_fuel("heating-oil-light"),
        instrument=Instrument("analyser NOT-REAL-1", "service", datetime.date(2027, 5, 1), "outdoors", "yes"),
        surroundings=Surroundings(), jurisdiction="DE", shop=shop,
        stretches=(Stretch("as found", "10:00", Point("the flue"), fluewright.readings_of(typed), steady="90 s"),),
    )  # fmt: skip


def test_both_verdicts_are_printed_where_both_apply() -> None:
    """11.3 % with 0.5 against 11 %: it complies under its law, and the house book says to look again."""
    shop = Shop(house=house_of("de-1bimschv-loss-25", {"decision": "plus uncertainty"}))
    verdict = fluewright.judged(visit(shop, "248 C"))
    found = {one.code: one for one in verdict.judged.findings}
    assert found["de-1bimschv-loss-25"].grade == "fine"
    own = found["house-one"]
    assert own.grade == "advise"
    assert "complies under its law: look again under the house book" in own.lead
    assert own.clause.layer == "house"
    printed = " ".join(text(verdict.sheet(), plain=True).split())
    assert "look again under the house book" in printed
    assert "once its doubt is deducted, as the rule has it" in printed


def test_a_house_book_that_is_kept_says_nothing_and_one_not_yet_in_force_is_not_asked() -> None:
    shop = Shop(house=house_of("de-1bimschv-loss-25", {"decision": "plus uncertainty"}))
    assert "house-one" not in {one.code for one in fluewright.judged(visit(shop, "180 C")).judged.findings}
    early = visit(shop, "248 C")
    object.__setattr__(early, "day", datetime.date(2019, 11, 25))
    codes = {one.code for one in fluewright.judged(early).judged.findings}
    assert "house-one" not in codes
    assert "de-1bimschv-loss-25" in codes


def test_the_customer_is_told_that_it_is_the_shop_that_asks_more() -> None:
    from fluewright.report.plain import words_of

    shop = Shop(house=house_of("de-1bimschv-loss-25", {"decision": "plus uncertainty"}))
    own = next(one for one in fluewright.judged(visit(shop, "248 C")).judged.findings if one.code == "house-one")
    words = words_of(own)
    assert words is not None
    assert "more of ourselves" in words.now
