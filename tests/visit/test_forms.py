"""Short forms that rules print, through the public door, against the printed figures."""

import pytest

import fluewright
from fluewright.visit.one_reading import Answer

POUND_PER_MMBTU = 0.45359237 / 1055.05585262e6
"""kg/J in one lb/MMBtu."""


def answer(fuel: str, reference: float | None = None, rule: float | None = None, **typed: str) -> Answer:
    """One reading answered."""
    return fluewright.answered(
        fuel=fluewright.load_fuel(fuel),
        readings=fluewright.readings_of({"stack": "350 F", "air": "70 F", **typed}),
        reference_oxygen_fraction=reference,
        rule_oxygen_fraction=rule,
    )


def value(given: Answer, name: str) -> float:
    """A result that must be there."""
    found = given.forms[name].value
    assert found is not None
    return found


@pytest.mark.parametrize(
    ("fuel", "oxygen", "ppm", "printed"),
    [("natural-gas", "3 %", 30.0, 0.03643), ("natural-gas", "5 %", 60.0, 0.08202), ("oil-no-2", "4 %", 100.0, 0.1357)],
)
def test_nitrogen_oxides_by_method_19(fuel: str, oxygen: str, ppm: float, printed: float) -> None:
    # 40 CFR 60 App. A-7 Method 19 equation 19-1, 40 CFR 75 App. F equation F-5: checks EMI-008 to EMI-010
    given = answer(fuel, o2=oxygen, no=f"{ppm - 2:g} ppm", no2="2.0 ppm")
    assert value(given, "nitrogen_oxides_method_19") / POUND_PER_MMBTU == pytest.approx(printed, rel=0.001)


def test_excess_air_by_method_3b() -> None:
    # 40 CFR 60 App. A-2 Method 3B, 5 % O2 and 9 % CO2: 28.24 % (check M3B-001, equation from memory)
    given = answer("natural-gas", o2="5.0 %", co2="9.0 %")
    assert value(given, "excess_air_method_3b") == pytest.approx(0.28242, abs=0.0005)
    assert "28" in given.forms["excess_air_method_3b"].working.substitution  # type: ignore[union-attr]


def test_the_abbreviated_power_test_form_meets_the_balance() -> None:
    # ASME PTC 4.1 abbreviated form (from memory): within half a point of the balance for an oil without moisture
    given = answer("oil-no-2", o2="4 %", co2="12.5 %", co="20 ppm")
    ours = given.results["efficiency_gross"].value
    assert ours is not None
    assert value(given, "efficiency_abbreviated") == pytest.approx(ours, abs=0.006)
    assert "efficiency_abbreviated" not in answer("natural-gas", o2="4 %").forms


def test_air_free_by_carbon_dioxide_meets_that_by_oxygen() -> None:
    # physics: both routes are one for gas of one flame; 11.7 to 12.0 % for natural gas (practice: 12.2 % printed)
    given = answer("methane", o2="5.0 %", co2="8.94 %", co="60 ppm")
    by_oxygen = given.results["carbon_monoxide_air_free"].value
    assert value(given, "carbon_monoxide_air_free_by_carbon_dioxide") == pytest.approx(by_oxygen, rel=0.01)


def test_the_oxygen_a_rule_counts_with() -> None:
    # 1. BImSchV counts with 21 %, Method 19 with 20.9 %: 100 ppm at 6 % to 3 % is 120.0 and 120.1 ppm
    for rule, printed in ((0.21, 120.0), (0.209, 120.13)):
        given = answer("natural-gas", 0.03, rule, o2="6 %", co="100 ppm")
        assert value(given, "carbon_monoxide_at_reference_oxygen") * 1e6 == pytest.approx(printed, abs=0.1)


def test_every_form_shows_its_numbers() -> None:
    given = answer("oil-no-2", 0.03, o2="4 %", co2="12.5 %", co="20 ppm", no="60 ppm", no2="3 ppm", so2="10 ppm")
    assert len(given.forms) > 15
    for name, result in given.forms.items():
        assert result.working is not None, name
        assert "=" in result.working.substitution, name
