"""Rule books: what the shipped ones hold, how they are chosen and judged, and how broken ones are refused."""

import datetime

import pytest

from fluewright.errors import Problems, RuleError
from fluewright.rules import apply, currency, load, select
from fluewright.rules.strict import book_of

LIMIT = """title = "t"
version = 2026-11-25
[[limits]]
id = "x-1"
layer = "law"
jurisdiction = "DE"
quantity = "loss_net"
basis = "b"
reference_oxygen = "none"
air_free_route = "none"
sense = "at most"
limit = 11
unit = "%"
applies = "fuel oil; output over 1 kW to 2 kW"
place = "p"
state = "s"
since_lit = "at least 2 min"
steady = "as the rule says"
rate = "full"
averaging = "a"
count = 3
rounding = "none"
decision = "none"
citation = { document = "d", clause = "c", edition = "e" }
known = "read"
current = 2026-01-31
valid_from = 2020-01-01
valid_until = 2029-12-31
text = "words"
severity = "advise"
only_alarms = false
do = "not said"
waiver = "not said"
"""


def test_every_book_is_whole_and_every_id_its_own() -> None:
    assert len(load.limits()) >= 40
    assert len({limit.id for limit in load.limits()}) == len(load.limits())
    for name in load.names():
        assert load.book(name).limits


def test_nothing_from_memory_claims_to_be_read() -> None:
    assert {limit.known for limit in load.book("en-nox-classes").limits} == {"from memory"}
    assert {limit.known for limit in load.book("eu-ecodesign-nox").limits} == {"second-hand"}


@pytest.mark.parametrize(
    ("kilowatts", "expected"),
    [(3.9, None), (4, 11), (25, 11), (25.1, 10), (50, 10), (50.1, 9), (999, 9), (1000, None), (5000, None)],
)
def test_the_band_edges_belong_to_the_lower_band(kilowatts: float, expected: float | None) -> None:
    """1. BImSchV s. 10(1): 25 kW and 50 kW belong to the lower-power band (read at anwalt24.de)."""
    found = select.applying(
        load.book("de-1bimschv").limits, quantity="loss_net", fuel="gas", heat_output=kilowatts * 1000.0
    )
    assert [limit.limit for limit in found] == ([] if expected is None else [expected])


@pytest.mark.parametrize(
    ("kilowatts", "expected"),
    [
        (899, ["de-1bimschv-loss-above"]),
        (950, ["de-1bimschv-loss-above", "de-44bimschv-loss"]),  # its input may be 1 MW, so both are asked
        (1000, ["de-44bimschv-loss"]),
        (3000, ["de-44bimschv-loss"]),
    ],
)
def test_one_law_ends_at_a_megawatt_and_the_other_begins(kilowatts: float, expected: list[str]) -> None:
    found = select.applying(load.limits_of("loss_net"), quantity="loss_net", fuel="gas", heat_output=kilowatts * 1e3)
    assert [limit.id for limit in found] == expected


def test_a_law_that_only_ends_at_a_size_also_speaks_where_no_size_was_said() -> None:
    smoke = {"quantity": "smoke_spot", "fuel": "oil", "appliance": "oil pressure jet"}
    book = load.book("de-1bimschv").limits
    assert [limit.id for limit in select.applying(book, **smoke)] == ["de-1bimschv-soot-atomising"]
    assert not select.applying(book, **smoke, heat_output=1e6)


@pytest.mark.parametrize("current", ["2026-01-31", '"superseded"', '"not known"', '"no text"'])
def test_how_current_a_text_is_stands_in_every_row(current: str) -> None:
    of_memory = LIMIT.replace('known = "read"', 'known = "from memory"')
    (limit,) = book_of(text=of_memory.replace("current = 2026-01-31", f"current = {current}"), name="x").limits
    assert currency.stands(limit.current) == (current in ("2026-01-31", '"not known"'))
    assert bool(currency.in_words(limit.current)) == (current != '"no text"')


def test_without_an_output_no_band_is_guessed() -> None:
    assert not select.applying(load.book("de-1bimschv").limits, quantity="loss_net", fuel="gas")


def test_the_day_decides_which_edition_speaks() -> None:
    book = book_of(text=LIMIT, name="x")

    def on(year: int) -> int:
        day = datetime.date(year, 6, 1)
        chosen = select.applying(book.limits, quantity="loss_net", fuel="oil", heat_output=1500.0, day=day)
        return len(chosen)

    assert [on(2019), on(2020), on(2029), on(2030)] == [0, 1, 1, 0]


def test_a_type_test_limit_does_not_speak_on_site() -> None:
    on_site = select.applying(
        load.limits(), quantity="nitrogen_oxides_mass_per_heat", fuel="gas", appliance="premix", heat_output=20_000.0
    )
    assert not on_site


@pytest.mark.parametrize(
    ("value", "spread", "passes"),
    [(11.3, 0.25, "inside"), (11.5, 0.25, "inside"), (11.6, 0.25, "beyond"), (11.04, 0.0, "inside"),
     (11.05, 0.0, "beyond")],
)  # fmt: skip
def test_the_owner_has_the_benefit_where_the_law_says_so(value: float, spread: float, passes: str) -> None:
    """1. BImSchV Annex 2 no. 2.3: one decimal more than the limit, less the uncertainty."""
    assert apply.judged(load.limit("de-1bimschv-loss-25"), value=value, spread=spread).passes == passes


@pytest.mark.parametrize(
    ("value", "spread", "passes"), [(24, 2.5, "inside"), (33, 2.5, "undecided"), (36, 2.5, "beyond"), (35, 0, "inside")]
)
def test_a_safety_limit_within_the_doubt_is_not_cleared(value: float, spread: float, passes: str) -> None:
    found = apply.judged(load.limit("us-test-stop-co"), value=value, spread=spread)
    assert found.passes == passes
    assert (found.bare == "inside") == (value <= 35)


def test_a_limit_that_must_be_reached_is_judged_from_below() -> None:
    kwargs = {"limit": 46.5, "decision": "plus uncertainty", "sense": "at least"}
    assert apply.verdict(value=47.5, spread=0.2, **kwargs).passes == "inside"  # type: ignore[arg-type]
    assert apply.verdict(value=46.6, spread=0.2, **kwargs).passes == "undecided"  # type: ignore[arg-type]
    low = apply.verdict(value=46.0, spread=0.2, **kwargs)  # type: ignore[arg-type]
    assert low.passes == "beyond"
    assert low.odds == pytest.approx(0.99379, abs=1e-5)  # 2.5 standard deviations, normal table


def test_odds_of_a_result_on_its_limit_are_even() -> None:
    assert apply.verdict(value=9.0, spread=0.3, limit=9.0, decision="none").odds == pytest.approx(0.5)


@pytest.mark.parametrize(
    ("value", "limit", "rounding", "expected"),
    [(11.05, 11.0, "one decimal more than the limit", 11.1), (0.00405, 0.004, "as the limit", 0.004),
     (1.5, 1.0, "to whole numbers", 2.0), (2.345, 2.0, "none", 2.345), (-1.25, 1.0, "as the limit", -1.0)],
)  # fmt: skip
def test_rounding_of_a_half_goes_away_from_zero(value: float, limit: float, rounding: str, expected: float) -> None:
    """DIN 1333:1992 4.5.1 (from memory)."""
    assert apply.rounded(value, limit=limit, rounding=rounding) == expected  # type: ignore[arg-type]


def test_a_verdict_without_a_finite_doubt_is_refused() -> None:
    with pytest.raises(ValueError, match="finite"):
        apply.judged(load.limit("us-test-stop-co"), value=20.0, spread=float("nan"))


BROKEN = {
    "clause missing": ('clause = "c", ', "", "citation"),
    "citation missing": ('citation = { document = "d", clause = "c", edition = "e" }\n', "", "citation"),
    "empty document": ('document = "d"', 'document = " "', "citation"),
    "unknown key": ('text = "words"', 'text = "words"\ncolour = "red"', "colour"),
    "decision missing": ('decision = "none"\n', "", "decision"),
    "decision unknown": ('decision = "none"', 'decision = "maybe"', "maybe"),
    "limit in words": ("limit = 11\n", 'limit = "eleven"\n', "eleven"),
    "date in words": ("valid_from = 2020-01-01", 'valid_from = "long ago"', "long ago"),
    "applies unknown": ("fuel oil;", "fule oil;", "fule"),
    "currency missing": ("current = 2026-01-31\n", "", "no current"),
    "currency unknown": ("current = 2026-01-31", 'current = "fresh"', "fresh"),
    "alarms in words": ("only_alarms = false", 'only_alarms = "yes"', "only_alarms"),
    "output in words": ("to 2 kW", "to two kW", "two kW"),
    "key twice": ('place = "p"', 'place = "p"\nplace = "q"', "line 16"),
}


@pytest.mark.parametrize(("old", "new", "said"), BROKEN.values(), ids=BROKEN)
def test_a_broken_book_is_refused_with_file_and_line(old: str, new: str, said: str) -> None:
    assert old in LIMIT
    text = LIMIT.replace(old, new)
    with pytest.raises(RuleError) as caught:
        book_of(text=text, name="x", file="x.toml")
    assert said in caught.value.sentence()
    assert caught.value.where.startswith("x.toml")
    line = int(caught.value.where.partition(":")[2])
    assert line == 3 or said.split()[0] in text.splitlines()[line - 1] or "TOML" in caught.value.expected


def test_an_id_twice_is_refused_at_its_second_line() -> None:
    twice = LIMIT + LIMIT.split("\n", 2)[2]
    with pytest.raises(RuleError) as caught:
        book_of(text=twice, name="x", file="x.toml")
    assert caught.value.where == f"x.toml:{LIMIT.count(chr(10)) + 2}"


def test_several_problems_come_together() -> None:
    text = LIMIT.replace('decision = "none"\n', "").replace('unit = "%"\n', "")
    with pytest.raises(Problems) as caught:
        book_of(text=text, name="x", file="x.toml")
    assert len(caught.value.errors) == 2


def test_an_unknown_book_or_limit_names_what_there_is() -> None:
    with pytest.raises(RuleError, match="de-1bimschv"):
        load.book("nowhere")
    with pytest.raises(RuleError, match="nowhere-1"):
        load.limit("nowhere-1")
