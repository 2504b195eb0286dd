"""One reading through the use case and through the command: what it must give, and what it must refuse to say."""

import json
import subprocess
import sys
from pathlib import Path

import pytest

import fluewright
from fluewright.cli.main import main
from fluewright.evidence.formulas import FORMULAS
from fluewright.visit.one_reading import Answer

_KEYS = (
    "air_ratio, excess_air, oxygen_dry, carbon_dioxide_dry, carbon_dioxide_dry_max, carbon_monoxide_air_free, "
    "co_co2_ratio, water_dew_point, loss_dry_gas, loss_vapour, loss_carbon_monoxide, efficiency_gross, efficiency_net, "
    "loss_net, condensed_fraction, flue_gas_volume, combustion_air_volume"
)
KEYS = _KEYS.split(", ")


def answer(fuel: str = "methane", **typed: str) -> Answer:
    """One reading answered."""
    return fluewright.answered(fuel=fluewright.load_fuel(fuel), readings=fluewright.readings_of(typed))


def value(given: Answer, name: str) -> float:
    """The value of one result, which must be there."""
    found = given.results[name].value
    assert found is not None, given.results[name].refused
    return found


def command(capsys: pytest.CaptureFixture[str], *words: str) -> dict[str, dict[str, object]]:
    """The JSON of `fluewright flue`."""
    assert main(["flue", *words, "--json"]) in (0, 1)
    found: dict[str, dict[str, object]] = json.loads(capsys.readouterr().out)
    return found


def test_every_promised_key_is_there(capsys: pytest.CaptureFixture[str]) -> None:
    data = command(capsys, "--fuel", "natural-gas", "--o2", "5%", "--co", "50ppm", "--flue", "400F", "--air", "70F")
    for key in KEYS:
        assert set(data[key]) >= {"value", "unit", "uncertainty", "working"}, key
        assert isinstance(data[key]["value"], float), key
        assert data[key]["working"], key


def test_methane_against_the_published_efficiency() -> None:
    # first-principles value 82.80 % of gross for methane, 5 % O2, 180 C, air 20 C dry: check EFF-003 (computed with
    # Cantera and NASA TM-4513), tolerance 0.15 points
    given = answer(o2="5 %", stack="180 C", air="20 C", co="0 ppm")
    assert value(given, "efficiency_gross") * 100 == pytest.approx(82.80, abs=0.15)
    assert value(given, "loss_net") * 100 == pytest.approx(8.122, abs=0.10)
    assert value(given, "water_dew_point") - 273.15 == pytest.approx(54.3, abs=0.3)


def test_oxygen_and_carbon_dioxide_agree_on_the_air() -> None:
    by_oxygen = answer(o2="5 %", stack="180 C", air="20 C")
    share = value(by_oxygen, "carbon_dioxide_dry") * 100
    by_dioxide = answer(co2=f"{share:.6f} %", stack="180 C", air="20 C")
    assert value(by_dioxide, "air_ratio") == pytest.approx(value(by_oxygen, "air_ratio"), rel=2e-4)


def test_shares_of_doubt_add_up_and_come_largest_first() -> None:
    given = answer("natural-gas", o2="5 %", co="50 ppm", stack="200 C", air="20 C")
    for name in ("efficiency_gross", "loss_gross", "air_ratio", "carbon_monoxide_air_free"):
        working = given.results[name].working
        assert working is not None
        shares = [one.share for one in working.inputs]
        assert sum(shares) == pytest.approx(1.0, abs=1e-9)
        assert shares == sorted(shares, reverse=True)


def test_hydrogen_on_the_cell_widens_downwards_only() -> None:
    given = answer("natural-gas", o2="2 %", co="500 ppm", stack="200 C", air="20 C")
    free = given.results["carbon_monoxide_air_free"]
    assert free.below > 1.5 * free.above


def test_a_bound_stays_at_least() -> None:
    given = answer(o2="3 %", co=">2000 ppm", stack="200 C", air="20 C")
    free = given.results["carbon_monoxide_air_free"]
    assert free.bound == "at least"
    assert value(given, "carbon_monoxide_air_free") * 1e6 == pytest.approx(2000 * 20.946 / 17.946, rel=0.01)
    codes = {finding.code: finding.grade for finding in given.verdict.judged.findings}
    assert codes["saturated-cell"] == "act"
    assert codes["practice-co-stop"] == "stop"


def test_a_range_widens_the_doubt() -> None:
    narrow = answer(o2="5 %", co="80 ppm").results["carbon_monoxide_air_free"]
    wide = answer(o2="5 %", co="40..120 ppm").results["carbon_monoxide_air_free"]
    assert wide.value == pytest.approx(narrow.value, rel=1e-9)
    assert wide.above > 1.3 * narrow.above


def test_behind_a_hood_air_free_stays_and_the_flame_is_refused() -> None:
    typed = fluewright.readings_of({"o2": "14 %", "co": "30 ppm", "stack": "135 C", "air": "20 C"})
    given = fluewright.answered(fuel=fluewright.load_fuel("methane"), readings=typed, point="diluted")
    for name in ("excess_air", "air_ratio", "water_dew_point", "loss_siegert"):
        assert given.results[name].value is None
        assert "room air" in given.results[name].refused
    assert value(given, "carbon_monoxide_air_free") > 0
    # practice P1: 230 C at 7 % O2 diluted with 20 C air to 14 % O2 arrives at 135.4 C and loses 10.76 % all the same
    assert value(given, "loss_dry_gas") > 0
    assert any(finding.code == "diluted" for finding in given.verdict.judged.findings)


def test_air_free_says_nothing_in_nearly_fresh_air() -> None:
    given = answer(o2="19.6 %", co="12 ppm", stack="60 C", air="20 C")
    assert given.results["carbon_monoxide_air_free"].value is None
    assert "19 %" in given.results["carbon_monoxide_air_free"].refused


def test_both_gases_off_the_line_blame_fuel_or_sensor_and_never_a_leak() -> None:
    given = answer("natural-gas", o2="5 %", co2="11.2 %", co="20 ppm", stack="200 C", air="20 C")
    found = next(f for f in given.verdict.judged.findings if f.code == "off-the-line")
    assert "leak" in found.body
    assert "cannot" in found.body
    worked = given.verdict.told[0][1]
    assert worked is not None
    assert worked.residual is not None
    assert worked.residual[0] * 100 == pytest.approx(2.2, abs=0.3)


def test_mixed_boundaries_are_marked_and_say_how_much() -> None:
    # RED-CONC: methane, 4 % O2, flue 70 C: 3.27 % of gross sensible with air of -10 C, 1.37 % with air of 40 C
    typed = fluewright.readings_of({"o2": "4 %", "co": "10 ppm", "stack": "70 C", "air": "-10 C"})
    given = fluewright.answered(
        fuel=fluewright.load_fuel("methane"), readings=typed, boundary="collar to collar", air_at="outdoors"
    )
    found = next(f for f in given.verdict.judged.findings if f.code == "mixed-boundary")
    assert "too high by up to 1.9 points" in found.body
    assert given.results["loss_gross"].boundary == "collar to collar"
    same = fluewright.answered(
        fuel=fluewright.load_fuel("methane"), readings=typed, boundary="terminal to outdoors", air_at="outdoors"
    )
    assert all(f.code != "mixed-boundary" for f in same.verdict.judged.findings)


@pytest.mark.parametrize(("intake", "share"), [("20.7805 %", 0.01), ("20.1025 %", 0.05), ("17.56 %", 0.20)])
def test_flue_gas_in_the_intake(intake: str, share: float) -> None:
    # RED-REC: flue 4 % O2, fresh air 20.95 %
    given = answer(o2="4 %", oxygen_intake=intake, stack="70 C", air="20 C")
    assert value(given, "recirculated_fraction") == pytest.approx(share, abs=0.001)
    codes = [f.code for f in given.verdict.judged.findings]
    assert ("intake-smoke" in codes) == (share > 0.04)
    assert ("intake-undecided" in codes) == (share < 0.04)


def test_condensing_is_a_band_that_weighed_condensate_closes() -> None:
    # RED-COND: methane, 25 % excess air (4.572 % O2), 45 C, air 20 C: 89.04 % dry, 93.27 % if saturated
    open_ = answer(o2="4.572 %", stack="45 C", air="20 C").results["efficiency_gross"]
    assert open_.low is not None
    assert open_.high is not None
    assert open_.low * 100 == pytest.approx(89.04, abs=0.15)
    assert 93.27 - 0.3 < open_.high * 100 < 95.0  # the thermometer's own doubt widens the band towards colder gas
    closed = answer(o2="4.572 %", stack="45 C", air="20 C", condensate_per_heat="40 g/kWh").results["efficiency_gross"]
    assert closed.low is None
    assert open_.low < (closed.value or 0.0) < open_.high


def test_a_rich_flame_carries_hydrogen() -> None:
    # RICH-001, -002: methane at equivalence 1.05 frozen at 1500 K: CO 1.265 %, H2 1.045 % dry
    given = answer(o2="0 %", co="12650 ppm", stack="250 C", air="20 C")
    worked = given.verdict.told[0][1]
    assert worked is not None
    assert worked.hydrogen * 100 == pytest.approx(1.045, abs=0.03)
    assert value(given, "air_ratio") == pytest.approx(1 / 1.05, abs=0.003)


def test_wet_and_dry_readings_of_one_gas_agree() -> None:
    # LAM-007: methane, 3.0 % wet is 3.582 % dry
    typed = fluewright.readings_of({"oxygen_wet": "3.0 %", "stack": "200 C", "air": "20 C"})
    given = fluewright.answered(fuel=fluewright.load_fuel("methane"), readings=typed, basis="wet")
    assert value(given, "oxygen_dry") * 100 == pytest.approx(3.582, abs=0.02)


def test_a_sample_dried_at_20_c_is_brought_to_dry() -> None:
    # RED-WET-20: 5.0 % dry reads 4.8846 % behind a trap at 20 C
    from fluewright.evidence.reading import Instrument

    typed = fluewright.readings_of({"o2": "4.8846 %", "stack": "200 C", "air": "20 C"})
    given = fluewright.answered(
        fuel=fluewright.load_fuel("methane"), readings=typed, basis="dried to trap", instrument=Instrument(trap=293.15)
    )
    assert value(given, "oxygen_dry") * 100 == pytest.approx(5.0, abs=0.01)


@pytest.mark.parametrize(("loss", "grade"), [("260 C", "advise"), ("150 C", "fine")])
def test_german_flue_loss_is_judged_by_its_own_law(loss: str, grade: str) -> None:
    from fluewright.evidence.reading import Appliance, Instrument

    typed = fluewright.readings_of({"o2": "5 %", "co": "10 ppm", "stack": loss, "air": "18 C"})
    given = fluewright.answered(
        fuel=fluewright.load_fuel("oil-no-2"),
        readings=typed,
        appliance=Appliance("boiler", output=24_000.0),
        instrument=Instrument(accuracy="statutory"),
        steady="90 s",
        jurisdiction="de",
    )
    found = next(f for f in given.verdict.judged.findings if f.code.startswith("de-1bimschv-loss"))
    assert found.grade == grade
    assert found.clause.current == "in force on 1 March 2022"
    assert "nobody here has looked since" in found.body or grade != "open"
    assert "owner has the benefit" in found.body or grade != "fine"


def test_common_practice_never_clears() -> None:
    given = answer("natural-gas", o2="5 %", co="0 ppm", stack="200 C", air="20 C")
    assert given.verdict.judged.findings
    assert all(finding.grade != "fine" for finding in given.verdict.judged.findings)


def test_without_carbon_monoxide_nothing_is_called_clean() -> None:
    given = answer("natural-gas", o2="5 %", stack="200 C", air="20 C")
    assert any("no carbon monoxide was read" in words for words in given.verdict.judged.cannot_tell)
    assert given.results["loss_carbon_monoxide"].value is None


def test_nitric_oxide_never_becomes_dioxide_in_silence() -> None:
    alone = answer(o2="3 %", no="30 ppm", stack="200 C", air="20 C").results
    assert "nitrogen_oxides_mass_per_heat" not in alone
    assert "nitric_oxide_mass_per_heat" in alone
    both = answer(o2="3 %", no="30 ppm", no2="1 ppm", stack="200 C", air="20 C").results
    assert "nitrogen_oxides_mass_per_heat" in both


def test_emission_of_methane_against_the_european_factor() -> None:
    # EMI-029: CO of methane at 3 % O2: 1.253 mg/kWh (net) per ppm, 0.6 %
    given = answer(o2="3 %", co="100 ppm", stack="200 C", air="20 C")
    mass = value(given, "carbon_monoxide_mass_per_heat_net") * 3.6e12
    assert mass == pytest.approx(125.3, rel=0.006)


@pytest.mark.parametrize("fuel", fluewright.fuel_names())
def test_every_fuel_of_the_library_can_be_worked_out(fuel: str) -> None:
    given = answer(fuel, o2="8 %", co="30 ppm", stack="180 C", air="20 C")
    assert 0.5 < value(given, "efficiency_gross") < 0.95
    assert value(given, "air_ratio") > 1.2
    for name in FORMULAS:
        if name in given.results and given.results[name].value is not None:
            assert given.results[name].working is not None


def test_one_command_prints_and_leaves_nothing(tmp_path: Path) -> None:
    words = ["flue", "--fuel", "propane", "--o2", "4%", "--flue", "180C", "--air", "20C", "--co", "20ppm", "--working"]
    code = "from fluewright.cli.main import run; run()"
    done = subprocess.run(
        [sys.executable, "-c", code, *words], cwd=tmp_path, capture_output=True, text=True, check=False
    )
    assert done.returncode == 0, done.stderr
    assert not done.stderr
    assert "share of the doubt" in done.stdout
    assert not list(tmp_path.iterdir())
