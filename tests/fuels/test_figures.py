"""Figures of a fuel: references, doubts, workings, refusals."""

import math

import pytest

from fluewright.errors import FuelError
from fluewright.fuels.composition import composition
from fluewright.fuels.figures import Figure, figures
from fluewright.fuels.load import load, names
from fluewright.fuels.record import doubtful_fuel, doubtful_shares
from fluewright.fuels.reference import Reference, reference_of
from fluewright.kernel.dual import Dual, uncertain


def value(figure: Figure) -> float:
    """Its value; refused ones fail."""
    assert figure.value is not None, figure.refused
    return figure.value


@pytest.mark.parametrize(
    ("text", "combustion", "metering"),
    [("15/15", "15", "15"), ("25/0", "25", "0"), ("60F", "60F", "60F"), ("60F/60F", "60F", "60F"), ("0", "0", "0"),
     ("15C/15C", "15", "15"), ("25 °C / 0 °C", "25", "0"), ("20/20", "20", "20"), ("25/20", "25", "20"),
     ("15/0", "15", "0"), ("60f", "60F", "60F"), ("15.6", "60F", "60F")],
)  # fmt: skip
def test_references(text: str, combustion: str, metering: str) -> None:
    assert reference_of(text) == Reference(combustion, metering)


@pytest.mark.parametrize("text", ["25", "0/25", "60", "15/15/15", "", "warm", "-5/0", "60/60"])
def test_references_without_data_are_refused(text: str) -> None:
    with pytest.raises(FuelError) as refused:
        reference_of(text)
    assert refused.value.code == "FW-F-028"


@pytest.mark.parametrize(
    ("name", "reference", "gross", "net"),
    [
        # reference tables 1.2: methane 39.83 and 35.89, propane 101.16 and 93.14 MJ/m3 at 25/0
        ("methane", "25/0", 39.83, 35.89),
        ("propane", "25/0", 101.16, 93.14),
        ("methane", "15/15", 37.779, 34.015),
        ("hydrogen", "15/15", 12.095, 10.217),
    ],
)
def test_heat_at_other_references(name: str, reference: str, gross: float, net: float) -> None:
    found = figures(load(name), reference=reference_of(reference))
    assert value(found["heating_value_gross"]) / 1e6 == pytest.approx(gross, rel=1e-3)
    assert value(found["heating_value_net"]) / 1e6 == pytest.approx(net, rel=1e-3)


@pytest.mark.parametrize(
    ("name", "ideal", "expected"),
    [("methane", True, 1010.0), ("propane", True, 2516.1), ("n-butane", True, 3262.3), ("methane", False, 1011.9),
     ("propane", False, 2561.8), ("natural-gas-gulf-coast", False, 1033.6), ("natural-gas-amarillo", False, 1032.4)],
)  # fmt: skip
def test_us_heating_values(name: str, ideal: bool, expected: float) -> None:
    """GPA 2145-16 (ideal) and the reference tables 1.4 (real), Btu/ft3 at 60 F and 14.696 psia."""
    found = figures(load(name), reference=reference_of("60F", ideal=ideal))["heating_value_gross"]
    assert value(found) * 0.028316846592 / 1055.05585262 == pytest.approx(expected, rel=5e-4)


@pytest.mark.parametrize(("name", "expected"), [("propane", 90875.0), ("n-butane", 102950.0), ("isobutane", 98924.0)])
def test_heat_in_a_gallon_of_liquefied_gas(name: str, expected: float) -> None:
    """GPA 2145-16, Btu/gal at 60 F."""
    found = figures(load(name), reference=reference_of("60F"))["heating_value_gross_per_liquid_volume"]
    assert value(found) * 3.785411784e-3 / 1055.05585262 == pytest.approx(expected, rel=1e-3)


@pytest.mark.parametrize("name", names())
def test_every_figure_has_words_working_and_a_finite_doubt(name: str) -> None:
    for figure in figures(load(name), reference=reference_of("15/15")).values():
        assert figure.words
        if figure.value is None:
            assert figure.refused
            continue
        assert math.isfinite(figure.value)
        assert figure.spread >= 0.0
        assert all((figure.formula, figure.numbers, figure.source, figure.holds))
        if figure.doubts:
            assert math.fsum(doubt.share for doubt in figure.doubts) == pytest.approx(1.0)


def test_what_only_gases_have_is_refused_for_oil_with_a_reason() -> None:
    found = figures(load("oil-no-2"), reference=reference_of("15/15"))
    for name in ("wobbe_gross", "wobbe_net", "molar_mass", "relative_density"):
        assert found[name].value is None
        assert "liquid" in found[name].refused


def test_carbon_monoxide_alone_makes_no_water() -> None:
    found = figures(composition("CO=100"), reference=reference_of("15/15"))
    assert found["water_dew_point"].value is None
    assert value(found["latent_fraction"]) == 0.0
    assert value(found["carbon_dioxide_dry_max"]) == pytest.approx(0.3464, abs=1e-3)  # reference tables 1.2


def test_flame_speeds_of_weaver() -> None:
    """Self-check of the reference tables, section 9: hydrogen 100.1, methane 14.03, propane 16.0."""
    for name, expected in (("hydrogen", 100.1), ("methane", 14.03), ("propane", 16.0)):
        found = figures(load(name), reference=reference_of("15/15"))["flame_speed"]
        assert value(found) == pytest.approx(expected, rel=3e-3)
    assert "C2H4" in figures(load("coke-oven-gas"), reference=reference_of("15/15"))["flame_speed"].refused


@pytest.mark.parametrize("name", ["natural-gas", "oil-no-2", "wood-logs", "b20", "propane-air"])
def test_doubtful_shares_still_add_up(name: str) -> None:
    """The sum of uncertain shares is exactly one: its value 1, its derivatives nothing."""
    record = load(name)
    made: dict[str, Dual] = {}

    def number(key: str, middle: float, spread: float) -> Dual:
        return made.setdefault(key, uncertain(middle, spread=spread, name=key))

    shares = doubtful_shares(record, number)
    total = sum(shares.values(), start=uncertain(0.0, spread=0.0, name="nothing"))
    assert isinstance(total, Dual)
    assert total.value == pytest.approx(1.0, abs=1e-9)
    assert all(abs(slope) < 1e-9 for source, slope in total.partials.items() if source.name != "nothing")
    fuel = doubtful_fuel(record, number)
    heat = fuel.heating_value_gross
    assert float(heat.value if isinstance(heat, Dual) else heat) == pytest.approx(
        record.fuel.heating_value_gross, rel=1e-9
    )


@pytest.mark.parametrize("name", ["propane-air", "biomethane", "natural-gas", "oil-no-2", "wood-logs", "b20"])
def test_a_doubt_is_something_or_nothing(name: str) -> None:
    """Doubts that cancel leave 1e-17 of rounding behind, which would be shown as a seventeenth digit."""
    for figure in figures(load(name), reference=reference_of("15/15")).values():
        if figure.value is not None:
            assert figure.spread == 0.0 or figure.spread > 1e-9 * abs(figure.value), figure.name
            assert bool(figure.doubts) == (figure.spread > 0.0)


def test_air_added_to_propane_moves_no_share_of_heat() -> None:
    """Inert gas thins gross heat and vapour alike: the share of heat in the vapour is propane's own, without doubt."""
    mixed, pure = (figures(load(name), reference=reference_of("15/15")) for name in ("propane-air", "propane"))
    assert mixed["latent_fraction"].spread == 0.0
    assert value(mixed["latent_fraction"]) == pytest.approx(value(pure["latent_fraction"]), rel=1e-9)


@pytest.mark.parametrize("name", ["methane", "propane-air", "natural-gas"])
def test_carbon_per_heat_is_known_no_better_than_the_heat(name: str) -> None:
    """0.05 % standard uncertainty of the heating values of pure gases (ISO 6976:2016, from memory)."""
    found = figures(load(name), reference=reference_of("15/15"))["carbon_factor"]
    assert found.spread >= 0.000499 * value(found)
    assert "data" in {doubt.name for doubt in found.doubts}


def test_vapour_in_a_gas_gives_its_condensation_heat_to_the_gross_value() -> None:
    """ISO 6976:2016 at 25 C: methane 890.58 gross and 802.56 net, water 44.013 gross and nothing net, kJ/mol."""
    damp = composition("CH4=95,H2O=5")
    found = figures(damp, reference=reference_of("25/0"))
    assert damp.fuel.heating_value_gross == pytest.approx(0.95 * 890_580.0 + 0.05 * 44_013.0, rel=1e-5)
    assert damp.fuel.heating_value_net == pytest.approx(0.95 * 802_560.0, rel=1e-4)
    assert value(found["heating_value_gross_per_mass"]) == pytest.approx(
        damp.fuel.heating_value_gross / damp.fuel.mass, rel=1e-6
    )
    assert value(found["latent_fraction"]) == pytest.approx((848_252.0 - 762_432.0) / 848_252.0, rel=1e-3)


def test_damper_wood_holds_less_heat_and_the_same_highest_carbon_dioxide() -> None:
    """Water takes no part in the dry gas: the highest CO2 carries no doubt from moisture."""
    found = figures(load("wood-logs"), reference=reference_of("15/15"))
    assert "water" not in {doubt.name for doubt in found["carbon_dioxide_dry_max"].doubts}
    assert found["heating_value_net"].doubts[0].name == "water"
