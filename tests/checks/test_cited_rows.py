"""Rules for air and duties of the law: shipped rows are whole, and a broken row is refused with its line."""

import datetime

import pytest

from fluewright.errors import Problems, RuleError
from fluewright.rules import burning_air, duties

DUTY = """title = "t"
[[duties]]
id = "x-1"
what = "w"
jurisdiction = "DE"
layer = "law"
counted_from = "last done"
amounts = ["25 months"]
first_day = "not counted"
only = "o"
citation = { document = "d", clause = "c", edition = "e" }
known = "read"
current = 2026-01-31
valid_from = "unknown"
valid_until = "open"
text = "words"
"""
AIR = """title = "t"
[[rules]]
id = "x-1"
form = "room volume"
jurisdiction = "DE"
layer = "law"
counted = "output"
fuels = []
figures = { room_volume_per_input = "4 m3/kW" }
only = ""
citation = { document = "d", clause = "c", edition = "e" }
known = "read"
current = 2026-01-31
valid_from = "unknown"
valid_until = "open"
text = "words"
"""


def test_every_shipped_row_is_read_and_cited() -> None:
    assert len(burning_air.rules()) >= 25
    assert len(duties.duties()) >= 20
    for one in (*burning_air.rules(), *duties.duties()):
        assert one.text.endswith(".")
        assert one.citation.document


def test_a_good_row_is_taken() -> None:
    (one,) = duties.duties_of(text=DUTY, file="x.toml")
    assert duties.last_day(one, datetime.date(2024, 1, 1)) == datetime.date(2026, 2, 1)
    (rule,) = burning_air.rules_of(text=AIR, file="x.toml")
    assert rule.figures["room_volume_per_input"] == pytest.approx(0.004)
    assert rule.clears()


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        ('known = "read"', "", "no known"),
        ('known = "read"', 'known = "heard"', "heard"),
        ('clause = "c"', 'clause = ""', "citation"),
        ('["25 months"]', '["25 moons"]', "25 moons"),
        ("amounts = ", "ammounts = ", "ammounts"),
        ('["25 months"]', "[]", "neither a time nor a date"),
        ('valid_from = "unknown"', 'valid_from = "once"', "once"),
        ('title = "t"', 'title = "t"\nextra = 1', "extra"),
        ('id = "x-1"', 'id = "x-1', "TOML"),
    ],
)
def test_a_broken_duty_is_refused(old: str, new: str, said: str) -> None:
    with pytest.raises((RuleError, Problems), match=said):
        duties.duties_of(text=DUTY.replace(old, new), file="x.toml")


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        ('"4 m3/kW"', '"four m3/kW"', "four"),
        ("room_volume_per_input =", "room =", "the figure 'room'"),
        ('form = "room volume"', 'form = "cupboard"', "cupboard"),
        ("current = 2026-01-31", 'current = "yes"', "yes"),
        ("current = 2026-01-31\n", "", "no current"),
    ],
)
def test_a_broken_rule_of_air_is_refused(old: str, new: str, said: str) -> None:
    with pytest.raises((RuleError, Problems), match=said):
        burning_air.rules_of(text=AIR.replace(old, new), file="x.toml")


def test_a_row_twice_and_a_row_that_is_not_there() -> None:
    with pytest.raises(RuleError, match="a second time"):
        duties.duties_of(text=DUTY + DUTY.partition("\n")[2], file="x.toml")
    with pytest.raises(RuleError, match="FW-B-011"):
        duties.duty("tea-time")
    with pytest.raises(RuleError, match="FW-B-011"):
        burning_air.rule("tea-time")


def test_what_is_superseded_or_second_hand_never_clears() -> None:
    """A later edition is known, or nobody here has read it: it may warn."""
    clearing = [one for one in burning_air.rules() if one.clears()]
    assert clearing
    assert all(one.known == "read" and one.current not in ("superseded", "no text") for one in clearing)
    assert any(one.known == "read" and one.current == "superseded" for one in burning_air.rules())
