"""The heat input of a plate, stated as a power or as a flow of the fuel."""

import pytest

from fluewright.errors import FuelError, QuantityError
from fluewright.fuels.load import load
from fluewright.fuels.plate import heat_input_from

KBTU_H = 293.0710702  # W, NIST SP 811 B.8: 2.930711 E-01 W per Btu(IT)/h


@pytest.mark.parametrize("name", ["natural-gas", "oil-no-2", "wood-pellets", "propane"])
@pytest.mark.parametrize(
    ("text", "watts"),
    [("100 kBtu/h", 100 * KBTU_H), ("24 kW", 24000.0), ("100", 100 * KBTU_H), ("80 MBH", 80 * KBTU_H),
     ("input: 29.3 kW gross", 29300.0), ("100,000 Btu/h", 100 * KBTU_H)],
)  # fmt: skip
def test_a_power_is_a_power_whatever_the_fuel(name: str, text: str, watts: float) -> None:
    assert heat_input_from(text, load(name)) == pytest.approx(watts, rel=1e-6)


@pytest.mark.parametrize(
    ("text", "name", "kbtu_per_hour", "within"),
    [
        # 40 CFR 98 table C-1: 0.138 MMBtu/gal of No. 2 oil; the library's oil has 139, see its note
        ("0.85 gph", "oil-no-2", 0.85 * 138.0, 0.012),
        (".65 gal/h", "oil-no-2", 0.65 * 138.0, 0.012),
        ("3.217 L/h", "oil-no-2", 0.85 * 138.0, 0.012),  # 0.85 US gallons
        # 0.856 kg/L: 3.217 L weigh 2.754 kg
        ("2.754 kg/h", "oil-no-2", 0.85 * 138.0, 0.012),
        # GPA 2145-16: propane 90 875 Btu/gal at 60 F
        ("1.1 gph", "propane", 1.1 * 90.875, 1e-3),
        # reference tables 1.4, real gas, Btu/ft3 at 60 F and 14.696 psia
        ("100 cfh", "natural-gas-gulf-coast", 103.36, 5e-4),
        ("97 ft3/h", "methane", 97 * 1.0119, 5e-4),
        ("1.6 cfm", "propane", 1.6 * 60 * 2.5618, 5e-4),
    ],
)
def test_a_flow_becomes_heat(text: str, name: str, kbtu_per_hour: float, within: float) -> None:
    assert heat_input_from(text, load(name)) == pytest.approx(kbtu_per_hour * KBTU_H, rel=within)


@pytest.mark.parametrize(
    ("text", "name", "megajoules_per_hour"),
    [
        # ISO 6976:2016 at 15/15: methane 37.78 and propane 95.65 MJ/m3 real; propane 2220.1 kJ/mol over 44.0956 g/mol
        ("2.5 m3/h", "methane", 2.5 * 37.78),
        ("45 L/min", "methane", 45 * 0.06 * 37.78),
        ("1,2 m³/h", "propane", 1.2 * 95.65),
        ("2.1 kg/h", "propane", 2.1 * 2221.1 / 44.0956),
    ],
)
def test_metric_flows_of_gas(text: str, name: str, megajoules_per_hour: float) -> None:
    assert heat_input_from(text, load(name)) == pytest.approx(megajoules_per_hour * 1e6 / 3600.0, rel=1e-3)


def test_a_solid_is_counted_by_mass() -> None:
    pellets = load("wood-pellets")
    assert heat_input_from("4 kg/h", pellets) == pytest.approx(4 * pellets.fuel.heating_value_gross / 3600.0)
    assert heat_input_from("8.8185 lb/h", pellets) == pytest.approx(heat_input_from("4 kg/h", pellets), rel=1e-5)


@pytest.mark.parametrize(
    ("text", "name", "wanted"),
    [
        ("0.85 gph", "natural-gas-gulf-coast", "97 cfh"),
        ("2.5 L/h", "propane", "gallons of its liquid"),
        ("97 cfh", "oil-no-2", "0.85 gph"),
        ("6 L/h", "wood-pellets", "2.7 kg/h"),
        ("1.5 m3/h", "wood-logs", "2.7 kg/h"),
    ],
)
def test_a_flow_that_says_nothing_about_the_fuel_is_refused(text: str, name: str, wanted: str) -> None:
    with pytest.raises(FuelError) as caught:
        heat_input_from(text, load(name))
    assert caught.value.code == "FW-F-032"
    assert wanted in caught.value.expected
    assert text in caught.value.read


@pytest.mark.parametrize(
    ("text", "code"),
    [("385 F", "FW-Q-004"), ("0.5..0.85 gph", "FW-Q-018"), ("24 kW net", "FW-Q-011"), ("0.85 foo", "FW-Q-003"),
     (">80 kW", "FW-Q-018"), ("", "FW-Q-001"), ("29.300 W", "FW-Q-009"), ("-1 gph", "FW-Q-008")],
)  # fmt: skip
def test_what_is_no_heat_input_is_refused(text: str, code: str) -> None:
    with pytest.raises(QuantityError) as caught:
        heat_input_from(text, load("oil-no-2"))
    assert caught.value.code == code


def test_the_refusal_of_a_flow_as_a_reading_says_where_it_belongs() -> None:
    from fluewright.quantity.parse import parse

    with pytest.raises(QuantityError, match="oil_flow, gas_flow or fuel_mass_flow") as caught:
        parse("0.85 gph", quantity="fuel_input")
    assert caught.value.code == "FW-Q-004"
