"""Half a year of a real natural-gas boiler, where the reference data lie beside the project; never part of it.

The data are hourly means of a hot-water boiler with its own analyser and a reported efficiency of unknown basis. The
bounds are those agreed for this check: 0.4 points of carbon dioxide, 0.8 and 0.3 points of efficiency.
"""

import json
from pathlib import Path
from typing import Any

import pytest

from fluewright.cli import main

FILE = Path(__file__).resolve().parents[3] / "shared" / "data" / "boiler-2021-first-half.csv"
pytestmark = pytest.mark.skipif(not FILE.exists(), reason="../shared/data/boiler-2021-first-half.csv is not here")


@pytest.fixture(scope="module")
def data() -> dict[str, Any]:
    """What the command says about the file, as data."""
    import contextlib
    import io

    said = io.StringIO()
    with contextlib.redirect_stdout(said):
        code = main.main(["trace", str(FILE), "--fuel", "natural-gas", "--compare", "--json"])
    assert code == 0
    return dict(json.loads(said.getvalue()))


def agreement(data: dict[str, Any], channel: str, word: str) -> dict[str, Any]:
    return dict(next(one for one in data["agreements"] if one["channel"] == channel and word in one["computed_from"]))


def test_all_rows_are_read_and_none_is_doubted_away(data: dict[str, Any]) -> None:
    assert (data["rows"], data["missing"]) == (3492, 852)
    assert not [problem for problem in data["problems"] if problem["weight"] != "note"]
    taken = {column["quantity"] for column in data["understood"]["columns"] if column["role"] == "channel"}
    assert taken >= {
        "oxygen_dry",
        "carbon_dioxide_dry",
        "carbon_monoxide_dry",
        "flue_temperature",
        "firing_rate",
        "efficiency_gross",
    }


def test_only_hours_that_really_burn_are_compared(data: dict[str, Any]) -> None:
    """An independent look found 1,788 hours with narrower limits."""
    assert 1750 <= data["burning"] <= 1900


def test_carbon_dioxide_follows_from_oxygen(data: dict[str, Any]) -> None:
    found = agreement(data, "carbon_dioxide_dry", "oxygen")
    assert abs(found["median"]) <= 0.4
    assert found["median"] == pytest.approx(0.30, abs=0.1)  # independent look, Cantera, 95 % CH4 / 5 % C2H6
    assert found["q05"] == pytest.approx(-0.16, abs=0.1)
    assert found["q95"] == pytest.approx(0.77, abs=0.1)


def test_efficiency_follows_with_outdoor_air_and_with_air_of_25_degrees(data: dict[str, Any]) -> None:
    """The independent look, computed - reported, let the fuel arrive as cold as outdoor air; here it arrives at 25 °C.

    Bringing methane from the median outdoor air of 280.3 K to 25 °C takes 35.7 J/(mol K) x 17.9 K of 890.6 kJ/mol:
    0.07 points that the computed efficiency then does not lose (heat capacity NIST, heat ISO 6976:2016 table 3).
    """
    cold_fuel = 100.0 * 35.7 * (298.15 - 280.3) / 890_600.0
    outdoors = agreement(data, "efficiency_gross", "outdoor air")
    assert abs(outdoors["median"]) <= 0.8
    assert -outdoors["median"] == pytest.approx(-0.69 + cold_fuel, abs=0.1)
    warm = agreement(data, "efficiency_gross", "25 °C")
    assert abs(warm["median"]) <= 0.3
    assert -warm["median"] == pytest.approx(0.01, abs=0.1)


def test_the_tails_are_explained(data: dict[str, Any]) -> None:
    assert "firing rate below 15 %" in agreement(data, "carbon_dioxide_dry", "oxygen")["tails"][0]
    assert "carbon monoxide above 10 ppm" in agreement(data, "efficiency_gross", "25 °C")["tails"][0]


def test_half_a_year_reveals_what_the_sensors_do(data: dict[str, Any]) -> None:
    what = "\n".join(sign["what"] for sign in data["signs"])
    for words in (
        "exactly the value of the row before",
        "show no oxygen",
        "3.6 times",
        "walked from",
        "852 rows are missing",
    ):
        assert words in what
    months = [month["median"] for month in agreement(data, "carbon_dioxide_dry", "oxygen")["months"].values()]
    assert months == sorted(months, reverse=True)
    assert months[0] - months[-1] > 0.6


def test_a_gas_that_would_close_the_gap_is_named(data: dict[str, Any]) -> None:
    assert any("% ethane; within the range of natural gases" in way for way in data["closing"])


def test_stretches_of_hours_are_found_and_worked_out(data: dict[str, Any]) -> None:
    assert len(data["stretches"]) > 50
    for stretch in data["stretches"]:
        assert stretch["rows"] >= 5
        assert 84.0 < stretch["results"]["efficiency_gross"]["value"] < 89.0
