"""What is typed is understood, kept, or refused with its four parts."""

import re

import pytest
from hypothesis import given
from hypothesis import strategies as st
from typed_rows import CO, DRAFT, GAS, O2, REFUSED, SPANS, VALUES

from fluewright.errors import QuantityError
from fluewright.quantity import bare
from fluewright.quantity.names import REGISTRY
from fluewright.quantity.parse import parse, plausible, single


def test_the_table_is_as_long_as_promised() -> None:
    assert len({(text, quantity) for text, quantity, *_ in (*VALUES, *SPANS)}) >= 300
    assert len(REFUSED) >= 40


@pytest.mark.parametrize(("text", "quantity", "value", "unit"), VALUES)
def test_a_value(text: str, quantity: str, value: float, unit: str) -> None:
    typed = parse(text, quantity=quantity)
    assert typed.kind == "value"
    assert typed.value == pytest.approx(value, rel=1e-6, abs=1e-300)
    assert (typed.text, typed.quantity, typed.unit) == (text, quantity, unit)
    assert (typed.low, typed.high, typed.trend) == (None, None, "")


@pytest.mark.parametrize(("text", "quantity", "value", "unit"), VALUES)
def test_a_value_of_the_table_raises_no_question(text: str, quantity: str, value: float, unit: str) -> None:
    strange = {"-0.2 %", "-3 ppm"}
    question = plausible(parse(text, quantity=quantity))
    assert (question is None) == (text not in strange), question


@pytest.mark.parametrize(("text", "quantity", "kind", "low", "high", "trend"), SPANS)
def test_a_range_a_bound_a_trend(
    text: str, quantity: str, kind: str, low: float | None, high: float | None, trend: str
) -> None:
    typed = parse(text, quantity=quantity)
    assert (typed.text, typed.kind, typed.trend, typed.value) == (text, kind, trend, None)
    for found, wanted in ((typed.low, low), (typed.high, high)):
        assert found == (None if wanted is None else pytest.approx(wanted, rel=1e-12))


@pytest.mark.parametrize(("text", "quantity", "code"), REFUSED)
def test_a_refusal_says_four_things(text: str, quantity: str, code: str) -> None:
    with pytest.raises(QuantityError) as caught:
        parse(text, quantity=quantity)
    error = caught.value
    assert error.code == code, error.sentence()
    assert all(len(part) >= 10 for part in (error.read, error.expected, error.matters, error.do))
    assert not re.search(r"\b(invalid|please|sorry|forbidden)\b", error.sentence(), re.IGNORECASE)
    assert text.strip() in error.sentence() or code in ("FW-Q-001", "FW-Q-003", "FW-Q-004", "FW-Q-010", "FW-Q-014")


@pytest.mark.parametrize(
    ("text", "quantity", "decimals", "resolution"),
    [
        ("4.3 %", O2, 1, 1e-3),
        ("4.30 %", O2, 2, 1e-4),
        ("4", O2, 0, 1e-2),
        ("50 ppm", CO, 0, 1e-6),
        ("1,200 ppm", CO, 0, 1e-6),
        ("2e2 ppm", CO, 0, 1e-4),
        ("-5,0 Pa", DRAFT, 1, 0.1),
        ("1/4 in", DRAFT, 2, 0.25 * 249.08891),
        ("385 °F", "flue_temperature", 0, 5 / 9),
        ("4.1..4.55 %", O2, 2, 1e-3),
    ],
)
def test_the_typed_digits_are_kept(text: str, quantity: str, decimals: int, resolution: float) -> None:
    typed = parse(text, quantity=quantity)
    assert typed.decimals == decimals
    assert typed.resolution == pytest.approx(resolution, rel=1e-12)


@pytest.mark.parametrize(
    ("text", "quantity", "value"),
    [("5280 ft", "altitude", 1609.344), ("1013 hPa", "barometer", 101300.0), ("60 %", "relative_humidity", 0.6),
     ("3", "reference_oxygen", 0.03), ("20 %", "moisture", 0.2), ("29.92 inHg steady", "barometer", 101320.75)],
)  # fmt: skip
def test_one_figure_is_taken(text: str, quantity: str, value: float) -> None:
    assert single(text, quantity=quantity).value == pytest.approx(value, rel=1e-6)
    assert single(text, quantity=quantity) == parse(text, quantity=quantity)


@pytest.mark.parametrize(
    ("text", "quantity", "what"),
    [("5000..5500 ft", "altitude", "a range"), (">40 %", "relative_humidity", "a bound"),
     ("29.9..30.1", "barometer", "a range"), ("steady", "trap_temperature", "a trend word"),
     ("<2 %", "loss_jacket", "a bound"), ("3..5", "reference_oxygen", "a range"), ("20+", "moisture", "a bound")],
)  # fmt: skip
def test_more_or_less_than_one_figure_is_refused(text: str, quantity: str, what: str) -> None:
    parse(text, quantity=quantity)
    with pytest.raises(QuantityError, match=what) as caught:
        single(text, quantity=quantity)
    assert caught.value.code == "FW-Q-018"
    assert text in caught.value.read
    assert REGISTRY[quantity].words in caught.value.read


def test_one_figure_takes_the_unit_of_the_field() -> None:
    assert single("35", quantity="moisture", default_unit="%").value == pytest.approx(0.35)
    with pytest.raises(QuantityError, match="FW-Q-004"):
        single("35 Pa", quantity="moisture")


def test_a_bare_number_takes_the_unit_of_the_field() -> None:
    assert parse("12", quantity=GAS, default_unit="mbar").value == pytest.approx(1200.0)
    assert parse("3.5 in", quantity=GAS, default_unit="mbar").unit == "in w.c."
    assert parse("196", quantity="flue_temperature", default_unit="°C").value == pytest.approx(469.15)
    assert parse("196°", quantity="flue_temperature", default_unit="C").unit == "°C"


@pytest.mark.parametrize(
    ("text", "quantity", "us", "si"),
    [("20", "air_temperature", 266.483, 293.15), ("200°", "flue_temperature", 366.483, 473.15),
     ("50", "temperature_difference", 50 / 1.8, 50.0), ("1600", "altitude", 487.68, 1600.0),
     ("5", "draft", 5 * 249.08891, 5.0)],
)  # fmt: skip
def test_a_bare_number_is_in_the_stated_system(text: str, quantity: str, us: float, si: float) -> None:
    with bare.stated("us"):
        assert parse(text, quantity=quantity).value == pytest.approx(us, rel=1e-5)
    with bare.stated("si"):
        assert parse(text, quantity=quantity).value == pytest.approx(si)
        assert single(f"{text.rstrip('°')}", quantity=quantity).value == pytest.approx(si)


def test_a_stated_system_ends_with_its_block() -> None:
    with bare.stated("si"), bare.stated(None), pytest.raises(QuantityError, match="20 °F or 20 °C"):
        parse("20", quantity="air_temperature")
    with pytest.raises(QuantityError, match="50 °F or 50 K"):
        parse("50", quantity="temperature_difference")


def test_a_unit_for_the_field_must_fit_it() -> None:
    with pytest.raises(QuantityError, match="FW-Q-004"):
        parse("12", quantity=GAS, default_unit="ppm")


def test_choices_are_named() -> None:
    with pytest.raises(QuantityError, match=r"1234 or 1\.234"):
        parse("1,234 kBtu/h", quantity="fuel_input")
    for text, choices in (("1.200 ppm", "1200 or 1.2"), ("12.000", "12000 or 12"), ("1.234", "1234 or 1.2340")):
        with pytest.raises(QuantityError, match=rf"type {re.escape(choices)}\n"):
            parse(text, quantity=CO)
        for choice in choices.split(" or "):
            assert parse(f"{choice} ppm", quantity=CO).kind == "value"
    with pytest.raises(QuantityError, match=r"type 2000 or 2\n"):
        parse("2.000 Pa", quantity=GAS)
    with pytest.raises(QuantityError, match=r"type 0\.2 % or 20 %\n"):
        parse("0.2", quantity="moisture")
    with pytest.raises(QuantityError, match="MBH or MMBtu/h"):
        parse("100 MBtu/h", quantity="fuel_input")
    with pytest.raises(QuantityError, match="°F or °R"):
        parse("385 Pa", quantity="flue_temperature")


@pytest.mark.parametrize(
    ("text", "quantity", "reason"),
    [
        ("22 %", O2, "20.95 %"),
        ("-0.3 %", O2, "20.95 %"),
        ("30000 ppm", CO, "20000 ppm"),
        ("3000 F", "flue_temperature", "1652 °F"),
        ("0.043", "air_ratio", "0.7"),
        ("10..30 %", O2, "20.95 %"),
        (">50000", CO, "20000 ppm"),
    ],
)
def test_a_strange_value_is_kept_and_asked_about(text: str, quantity: str, reason: str) -> None:
    typed = parse(text, quantity=quantity)
    question = plausible(typed)
    assert question is not None
    assert reason in question
    assert REGISTRY[quantity].why in question
    assert question.endswith("?")


def test_the_same_comma_means_what_the_quantity_allows() -> None:
    assert parse("1,200", quantity=CO).value == pytest.approx(0.0012)
    assert parse("1,200", quantity=O2).value == pytest.approx(0.012)
    assert parse("29,92", quantity="barometer").value == pytest.approx(101320.7, rel=1e-6)


@given(st.text(max_size=100), st.sampled_from(sorted(REGISTRY)))
def test_any_text_is_understood_or_refused(text: str, quantity: str) -> None:
    try:
        typed = parse(text, quantity=quantity)
    except QuantityError as error:
        assert all(error.parts()[part] for part in ("code", "read", "expected", "matters", "do"))
        return
    assert typed.text == text


@given(st.text(alphabet="0123456789.,-+–eE/ '\"%<>= ppmFCinwcto", max_size=24), st.sampled_from([O2, CO, DRAFT, GAS]))
def test_any_near_number_is_understood_or_refused(text: str, quantity: str) -> None:
    try:
        typed = parse(text, quantity=quantity)
        plausible(typed)
    except QuantityError:
        return
    assert typed.text == text
    assert typed.low is None or typed.high is None or typed.low <= typed.high


def test_what_cannot_be_nothing_says_so() -> None:
    with pytest.raises(QuantityError) as refused:
        parse("0 in", quantity="oil_line_bore")
    assert "more than 0 in" in str(refused.value)
    assert "zero the instrument" not in str(refused.value)
    assert parse("0 ft", quantity="oil_line_length").value == 0.0
