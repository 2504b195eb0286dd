"""Blends: what is put in comes out, by volume and by energy."""

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from fluewright.errors import FuelError
from fluewright.fuels import load
from fluewright.fuels.blend import blend_by_energy, blend_by_volume, from_words
from fluewright.fuels.figures import figures
from fluewright.fuels.reference import reference_of
from fluewright.kernel.gas_properties import compression_factor

SHARES = st.floats(min_value=0.01, max_value=0.99)


def heat(record: load.FuelRecord, key: str = "heating_value_gross") -> float:
    """One figure at 15/15."""
    value = figures(record, reference=reference_of("15/15"))[key].value
    assert value is not None
    return value


@given(SHARES)
@settings(max_examples=60, deadline=None)
def test_moles_of_a_gas_blend_add_up(share: float) -> None:
    gas, hydrogen = load.load("natural-gas"), load.load("hydrogen")
    blend = blend_by_volume([(gas, 1.0 - share), (hydrogen, share)])
    assert blend.mole_fractions is not None
    moles = [
        part / float(compression_factor(mole_fractions=record.mole_fractions or {}, metering="15"))
        for record, part in ((gas, 1.0 - share), (hydrogen, share))
    ]
    assert blend.mole_fractions["H2"] == pytest.approx(moles[1] / sum(moles), rel=1e-12)
    assert math.fsum(blend.mole_fractions.values()) == pytest.approx(1.0, abs=1e-12)
    expected = (moles[0] * gas.fuel.heating_value_gross + moles[1] * hydrogen.fuel.heating_value_gross) / sum(moles)
    assert blend.fuel.heating_value_gross == pytest.approx(expected, rel=1e-12)


@given(SHARES)
@settings(max_examples=60, deadline=None)
def test_a_blend_by_energy_gives_the_energy_back(share: float) -> None:
    """Inverse: the heat that each part brings, divided by all heat, is the share asked for."""
    gas, hydrogen = load.load("methane"), load.load("hydrogen")
    blend = blend_by_energy([(gas, 1.0 - share), (hydrogen, share)])
    assert blend.mole_fractions is not None
    brought = blend.mole_fractions["H2"] * hydrogen.fuel.heating_value_gross
    assert brought / blend.fuel.heating_value_gross == pytest.approx(share, rel=1e-10)


def test_a_fifth_of_hydrogen_lowers_heat_and_wobbe_as_published() -> None:
    """Methane with 20 % hydrogen: gross heat -13.6 %, Wobbe -4.9 % gross and -5.3 % net (reference tables, by mole)."""
    methane = load.load("methane")
    blend = load.load("methane 80 + hydrogen 20")
    assert heat(blend) / heat(methane) - 1.0 == pytest.approx(-0.136, abs=0.001)
    assert heat(blend, "wobbe_gross") / heat(methane, "wobbe_gross") - 1.0 == pytest.approx(-0.049, abs=0.001)
    assert heat(blend, "wobbe_net") / heat(methane, "wobbe_net") - 1.0 == pytest.approx(-0.053, abs=0.001)


def test_b20_is_a_fifth_by_volume() -> None:
    b20, oil, bio = load.load("b20"), load.load("oil-no-2"), load.load("b100")
    assert oil.density is not None
    assert bio.density is not None
    assert b20.density == pytest.approx(0.8 * oil.density + 0.2 * bio.density, rel=1e-12)
    assert b20.density is not None
    per_volume = b20.density * b20.fuel.heating_value_gross
    expected = 0.8 * oil.density * oil.fuel.heating_value_gross + 0.2 * bio.density * bio.fuel.heating_value_gross
    assert per_volume == pytest.approx(expected, rel=1e-12)
    assert b20.mass_fractions is not None
    assert b20.mass_fractions["O"] == pytest.approx(0.109 * 0.2 * bio.density / b20.density, rel=1e-12)
    assert b20.siegert_group == "heating oil"
    assert b20.f_factor_group == "", "Method 19 has no constant for biodiesel"


def test_doubts_of_independent_supplies_add_as_squares() -> None:
    gas = load.load("natural-gas")
    blend = blend_by_energy([(gas, 0.5), (gas, 0.5)])
    assert blend.spreads["N2"] == pytest.approx(gas.spreads["N2"] / math.sqrt(2.0))


@pytest.mark.parametrize(
    ("text", "code"),
    [
        ("natural-gas 80 + hydrogen 30", "FW-F-017"),
        ("natural-gas 0.8 + hydrogen 0.1", "FW-F-017"),
        ("natural-gas + hydrogen", "FW-F-010"),
        ("natural-gas rest + hydrogen rest", "FW-F-024"),
        ("natural-gas rest + hydrogen 120", "FW-F-017"),
        ("natural-gas 80 + oil 20", "FW-F-018"),
        ("natural-gas 80 + hydrogn 20", "FW-F-001"),
        ("natural-gas 80 + hydrogen 20 by weight", "FW-F-022"),
        ("wood-logs 50 + coal 50", "FW-F-019"),
        ("natural-gas 8.0.0 + hydrogen 20", "FW-F-010"),
        ("+", "FW-F-010"),
    ],
)
def test_a_blend_that_does_not_hold_is_refused(text: str, code: str) -> None:
    with pytest.raises(FuelError) as refused:
        load.load(text)
    assert refused.value.code == code


@pytest.mark.parametrize(
    "text",
    ["natural-gas 80 + hydrogen 20", "ng:80+h2:20", "natural-gas 0.8 + hydrogen 0.2 by volume", "gas rest + h2 20 %",
     "natural-gas=80 % + hydrogen=20 %"],
)  # fmt: skip
def test_one_blend_in_many_spellings(text: str) -> None:
    assert load.load(text).mole_fractions == pytest.approx(load.load("natural-gas-h2-20").mole_fractions, rel=1e-12)


def test_words_say_what_is_in_it() -> None:
    record = from_words("natural-gas 80 + hydrogen 20 by energy")
    assert "80 % natural gas" in record.words
    assert record.words.endswith("by energy")
    assert record.siegert_group == ""
