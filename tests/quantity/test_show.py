"""Shown values: digits by doubt, no negative zero, and back to the same value."""

import re
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fluewright.quantity.digits import place_of, typed_place
from fluewright.quantity.meaning import Spread
from fluewright.quantity.names import REGISTRY
from fluewright.quantity.parse import parse
from fluewright.quantity.show import as_typed, converted, number, shown, unit_of
from fluewright.quantity.units import from_canonical, to_canonical, units_for

N = "\u202f"


@pytest.mark.parametrize(
    ("value", "spread", "quantity", "system", "text"),
    [
        # expanded uncertainty first: GUM 7.2.6 gives m = (100.021 47 +- 0.000 79) g style, two figures at most
        (0.0312, 0.0015, "oxygen_dry", "us", f"3.12 ± 0.30{N}%"),
        (0.0312, 0.0010, "oxygen_dry", "us", f"3.12 ± 0.20{N}%"),
        (509.84, 1.4, "flue_temperature", "us", f"458 ± 5{N}°F"),
        (509.84, 1.4, "flue_temperature", "si", f"236.7 ± 2.8{N}°C"),
        (262e-6, 7e-6, "carbon_monoxide_dry", "us", f"262 ± 14{N}ppm"),
        (12345e-6, 150e-6, "carbon_monoxide_dry", "us", f"12{N}340 ± 300{N}ppm"),
        (12345e-6, 60e-6, "carbon_monoxide_dry", "us", f"12{N}340 ± 120{N}ppm"),
        (-5.0, 0.5, "draft", "si", f"−5.0 ± 1.0{N}Pa"),
        (29307.0, 300.0, "fuel_input", "us", f"100.0 ± 2.0{N}kBtu/h"),
        (1.25, 0.02, "air_ratio", "us", "1.250 ± 0.040"),
        (65.7e-6, 18e-6, "carbon_monoxide_dry", "us", f"66 ± 36{N}ppm"),
        (65.7e-6, 24.7e-6, "carbon_monoxide_dry", "us", f"66 ± 49{N}ppm"),
        (65.7e-6, 24.8e-6, "carbon_monoxide_dry", "us", f"70 ± 50{N}ppm"),
        (65.7e-6, 45e-6, "carbon_monoxide_dry", "us", f"70 ± 90{N}ppm"),
        (7.7e-4, 1e-5, "gas_flow", "si", f"2.77 ± 0.07{N}m³/h"),
    ],
)
def test_digits_follow_the_doubt(value: float, spread: float, quantity: str, system: str, text: str) -> None:
    assert shown(value, spread, quantity=quantity, system=system) == text  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("value", "quantity", "system", "text"),
    [
        (0.043, "oxygen_dry", "us", f"4.3{N}%"),
        (50e-6, "carbon_monoxide_dry", "us", f"50{N}ppm"),
        (469.261, "flue_temperature", "us", f"385{N}°F"),
        (469.261, "flue_temperature", "si", f"196{N}°C"),
        (-4.98178, "draft", "us", f"−0.020{N}in w.c."),
        (29307.107, "fuel_input", "us", f"100.0{N}kBtu/h"),
        (29307.107, "fuel_input", "si", f"29.31{N}kW"),
        (1.0, "smoke_spot", "us", "1"),
        (0.0, "draft", "si", f"0.0{N}Pa"),
        (3.82e7, "heating_value_gross", "si", f"38.20{N}MJ/m³"),
        (float("nan"), "oxygen_dry", "us", f"not a number{N}%"),
    ],
)
def test_the_usual_digits(value: float, quantity: str, system: str, text: str) -> None:
    assert shown(value, quantity=quantity, system=system) == text  # type: ignore[arg-type]


def test_two_sides_stand_beside_each_other() -> None:
    spread = Spread(below=40e-6, above=12e-6, why="hydrogen")
    assert shown(262e-6, spread, quantity="carbon_monoxide_dry") == f"260 +20 −80{N}ppm"
    assert shown(262e-6, spread, quantity="carbon_monoxide_dry", plain=True) == "260 +20 -80 ppm"
    assert shown(262e-6, Spread(7e-6, 7e-6, ""), quantity="carbon_monoxide_dry", plain=True) == "262 +/- 14 ppm"


def test_only_the_figure() -> None:
    assert number(0.0312, 0.0015, quantity="oxygen_dry") == "3.12"
    assert number(0.0312, 0.0025, quantity="oxygen_dry") == "3.1"
    assert number(0.0312, quantity="oxygen_dry") == "3.1"
    assert number(469.261, quantity="flue_temperature", unit="K") == "469.3"
    assert unit_of("flue_temperature") == "°F"
    assert unit_of("flue_temperature", "si") == "°C"


VALUED = [name for name, quantity in REGISTRY.items() if quantity.dimension != "spot number"]


@given(st.sampled_from(VALUED), st.floats(-1e6, 1e6), st.floats(1e-12, 1e6), st.sampled_from(["us", "si"]))
def test_never_more_digits_than_the_doubt_has(name: str, value: float, spread: float, system: str) -> None:
    text = shown(value, spread, quantity=name, system=system, plain=True)  # type: ignore[arg-type]
    found = re.match(r"(-?[\d ]*\.?\d+) \+/- ([\d ]*\.?\d+)", text)
    assert found, text
    figure, doubt = (Decimal(part.replace(" ", "")) for part in found.groups())
    assert figure.as_tuple().exponent >= doubt.as_tuple().exponent  # type: ignore[operator]
    assert len(doubt.as_tuple().digits) <= 2 or doubt == doubt.to_integral()
    assert doubt > 0


@given(st.floats(1e-9, 1e9))
def test_two_figures_only_after_a_one_to_a_four(doubt: float) -> None:
    place = place_of(doubt)
    figures = f"{round(Decimal(doubt).scaleb(-place))}"
    assert len(figures) <= 2
    if len(figures) == 2:
        assert figures[0] in "1234" or figures == "50"


@given(st.sampled_from(sorted(REGISTRY)), st.floats(-1e-3, 0.0))
def test_a_negative_zero_is_never_shown(name: str, value: float) -> None:
    for text in (shown(value, quantity=name, plain=True), number(value, 1e-1, quantity=name, plain=True)):
        assert not re.match(r"-0*\.?0*(?![\d.])", text), text


PAIRS = [(quantity.name, unit.symbol) for quantity in REGISTRY.values() for unit in units_for(quantity)]


@pytest.mark.parametrize(("name", "symbol"), PAIRS)
@pytest.mark.parametrize("plain", [False, True])
def test_what_is_shown_can_be_typed(name: str, symbol: str, plain: bool) -> None:
    quantity = REGISTRY[name]
    for share in (0.1, 0.37, 0.83):
        value = quantity.low + share * (quantity.high - quantity.low)
        text = shown(value, quantity=name, unit=symbol, plain=plain)
        typed = parse(text, quantity=name, default_unit=symbol)
        assert typed.kind == "value"
        assert typed.value is not None
        assert shown(typed.value, quantity=name, unit=symbol, plain=plain) == text
        step = Decimal(1).scaleb(-typed.decimals)
        there = from_canonical(typed.value, unit=symbol, quantity=name)
        assert abs(there - from_canonical(value, unit=symbol, quantity=name)) <= float(step) * 0.5001


@given(st.sampled_from(PAIRS), st.floats(0.05, 0.95), st.booleans())
def test_shown_with_doubt_holds_the_value(pair: tuple[str, str], share: float, plain: bool) -> None:
    name, symbol = pair
    quantity = REGISTRY[name]
    value = quantity.low + share * (quantity.high - quantity.low)
    spread = 1e-3 * (quantity.high - quantity.low)
    text = number(value, spread, quantity=name, unit=symbol, plain=plain)
    again = parse(text, quantity=name, default_unit=symbol).value
    assert again is not None
    assert abs(again - value) <= spread * 1.0001


@pytest.mark.parametrize(
    ("text", "quantity", "same", "si"),
    [
        ("385F", "flue_temperature", f"385{N}°F", f"196{N}°C"),
        ("4,30 %", "oxygen_dry", f"4.30{N}%", f"4.30{N}%"),
        ("12 mbar", "gas_pressure", f"12{N}mbar", f"12{N}mbar"),
        ("-.02 in", "draft", f"−0.02{N}in w.c.", f"−5{N}Pa"),
        ("0.65 gph", "oil_flow", f"0.65{N}gph", f"2.46{N}L/h"),
        ("40..120 rising", "carbon_monoxide_dry", f"40–120{N}ppm, rising", f"40–120{N}ppm, rising"),
        ("-5..-3 Pa", "draft", f"−5 to −3{N}Pa", f"−5 to −3{N}Pa"),
        (">2000", "carbon_monoxide_dry", f">2000{N}ppm", f">2000{N}ppm"),
        ("≥ 10 %", "oxygen_dry", f"≥10{N}%", f"≥10{N}%"),
        ("<1", "carbon_monoxide_dry", f"<1{N}ppm", f"<1{N}ppm"),
        ("1/4 in", "draft", f"0.25{N}in w.c.", f"100{N}Pa"),
        ("2e2 ppm", "carbon_monoxide_dry", f"200{N}ppm", f"200{N}ppm"),
        ("hunting", "draft", "hunting", "hunting"),
    ],
)
def test_a_typed_reading_keeps_its_digits(text: str, quantity: str, same: str, si: str) -> None:
    typed = parse(text, quantity=quantity)
    assert as_typed(typed) == same
    assert converted(typed, system="si") == si


@given(
    st.sampled_from(["draft", "gas_pressure", "flue_temperature", "fuel_input", "gas_flow"]),
    st.sampled_from([0, 1, 2, 4]),  # three decimals can be grouped thousands
    st.integers(1, 9999),
    st.sampled_from(["us", "si"]),
)
def test_no_digit_is_gained_by_a_unit_change(name: str, decimals: int, steps: int, system: str) -> None:
    for unit in units_for(REGISTRY[name]):
        typed = parse(f"{Decimal(steps).scaleb(-decimals):f} {unit.symbol}", quantity=name)
        text = converted(typed, system=system, plain=True)  # type: ignore[arg-type]
        figure = re.match(r"-?[\d ]*\.?\d+", text)
        assert figure
        there = unit_of(name, system)  # type: ignore[arg-type]
        step = to_canonical(1.0, unit=there, quantity=name) - to_canonical(0.0, unit=there, quantity=name)
        digits = Decimal(figure[0].replace(" ", ""))
        digits = digits if "." in figure[0] else digits.normalize()  # zeros before the mark only hold the place
        shown_step = step * 10.0 ** digits.as_tuple().exponent  # type: ignore[operator]
        assert shown_step >= typed.resolution / 5.0 * 0.999


def test_the_place_of_a_converted_step() -> None:
    assert [typed_place(step=step) for step in (1.0, 0.4015, 0.5556, 10.0, 2.49)] == [0, -1, 0, 1, 0]
