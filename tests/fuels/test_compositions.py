"""Compositions that people bring: typed, in files, in percent or fractions; and every way of getting them wrong."""

import json
import math
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from fluewright.errors import FluewrightError, FuelError
from fluewright.fuels.composition import composition, from_file
from fluewright.kernel.air import DRY_AIR_TWO_GASES
from fluewright.kernel.components import COMPONENTS
from fluewright.kernel.fuel import stoichiometry

MUSEUM = Path(__file__).resolve().parent.parent / "museum" / "fuels"
BROKEN = {
    "adds-to-99.toml": "FW-F-002",
    "aliases-as-number.toml": "FW-F-030",
    "blend-of-110.toml": "FW-F-017",
    "broken.json": "FW-F-013",
    "broken.toml": "FW-F-013",
    "burns-by-itself.toml": "FW-F-011",
    "by-weight.toml": "FW-F-022",
    "bytes.toml": "FW-F-013",
    "composition-as-text.toml": "FW-F-030",
    "empty-table.toml": "FW-F-009",
    "empty.toml": "FW-F-009",
    "gas-and-elements.toml": "FW-F-008",
    "half-a-band.toml": "FW-F-025",
    "heat-in-bar.toml": "FW-Q-004",
    "heat-of-a-gas.toml": "FW-F-023",
    "heat-ten-times.toml": "FW-F-020",
    "heat-without-unit.toml": "FW-F-026",
    "heats-contradict.toml": "FW-F-021",
    "inert.toml": "FW-F-006",
    "key-twice.json": "FW-F-005",
    "list-for-number.toml": "FW-F-007",
    "list.json": "FW-F-013",
    "methane-twice.txt": "FW-F-005",
    "misspelled.txt": "FW-F-004",
    "mostly-water.toml": "FW-F-006",
    "name-alone.txt": "FW-F-010",
    "negative-nitrogen.toml": "FW-F-003",
    "no-composition.toml": "FW-F-009",
    "not-a-number.toml": "FW-F-007",
    "oil-by-volume.toml": "FW-F-022",
    "percent-beside-fraction.toml": "FW-F-002",
    "rest-below-nothing.toml": "FW-F-002",
    "rounded-thirds.toml": "FW-F-002",
    "soaked-wood.toml": "FW-F-015",
    "spread-of-the-absent.toml": "FW-F-014",
    "spread-only.toml": "FW-F-009",
    "strange-density.toml": "FW-F-031",
    "spread-below-nothing.toml": "FW-F-003",
    "strange-key.toml": "FW-F-014",
    "strange-kind.toml": "FW-F-027",
    "table-as-number.toml": "FW-F-030",
    "truth-for-number.toml": "FW-F-007",
    "two-rests.toml": "FW-F-024",
    "words-for-numbers.toml": "FW-F-007",
}


def test_every_piece_of_the_museum_is_named_here() -> None:
    assert {path.name for path in MUSEUM.iterdir()} == set(BROKEN)


@pytest.mark.parametrize(("name", "code"), BROKEN.items())
def test_a_broken_file_is_refused_in_four_parts(name: str, code: str) -> None:
    with pytest.raises(FluewrightError) as refused:
        from_file(MUSEUM / name)
    error = refused.value
    assert error.code == code
    assert error.exit_code == 3
    assert all((error.read, error.expected, error.matters, error.do))
    said = error.sentence().lower()
    assert not any(word in said.split() for word in ("invalid", "please", "sorry"))


def test_the_sum_and_what_is_missing_are_named() -> None:
    with pytest.raises(FuelError) as refused:
        composition("CH4=95,N2=4")
    assert "99 %" in refused.value.read
    assert "1 % missing" in refused.value.read
    with pytest.raises(FuelError) as refused:
        composition("CH4=0.95,N2=0.06")
    assert "1.01" in refused.value.read
    assert "0.01 too much" in refused.value.read


@pytest.mark.parametrize("path", ["nothing-here.toml", ".", "no/such/folder/f.toml", "a\0b"])
def test_a_file_that_cannot_be_opened(path: str, tmp_path: Path) -> None:
    with pytest.raises(FuelError) as refused:
        from_file(str(tmp_path / path) if "\0" not in path else path)
    assert refused.value.code == "FW-F-012"


@pytest.mark.parametrize(
    "text",
    [
        "CH4=95,N2=5", "CH4=95%,N2=5%", "CH4=0.95,N2=0.05", "methane=95, nitrogen=5", "C1: 95; N2: 5", "CH4 95, N2 5",
        "CH4=rest,N2=5", "ch4=95,n2=5", "N2=5,CH4=95", "CH4=95,0;N2=5,0", "CH4=950000 ppm, N2=50000 ppm",
        "CH4=95\nN2=5",
    ],
)  # fmt: skip
def test_one_gas_in_many_spellings(text: str) -> None:
    record = composition(text)
    assert record.kind == "gas"
    assert record.mole_fractions == pytest.approx({"CH4": 0.95, "N2": 0.05})
    assert "shares understood as" in record.understood


def test_how_shares_were_understood_is_said() -> None:
    assert "percent" in composition("CH4=95,N2=5").understood
    assert "fractions" in composition("CH4=.95,N2=.05").understood
    assert "nC4H10" in composition("CH4=95,butane=5").understood
    assert "CH4 takes the rest, 94.998 %" in composition("CH4=rest,N2=5,H2S=20 ppm").understood


def test_air_in_a_mixture_is_counted_as_its_gases() -> None:
    shares = composition("C3H8=56,air=44").mole_fractions
    assert shares is not None
    assert shares["O2"] == pytest.approx(0.44 * 0.20946)
    assert math.fsum(shares.values()) == pytest.approx(1.0, abs=1e-12)


def test_by_volume_differs_from_by_mole() -> None:
    """G24: read as volume the propane share is larger (EN 437)."""
    by_volume = composition("CH4=68,C3H8=12,H2=20", by="volume").mole_fractions
    by_mole = composition("CH4=68,C3H8=12,H2=20").mole_fractions
    assert by_volume is not None
    assert by_mole is not None
    assert by_volume["C3H8"] > by_mole["C3H8"]


def test_an_ultimate_analysis_with_its_heating_value() -> None:
    """Light oil of the reference tables: 42.58 MJ/kg net, 15.35 % CO2 in 20.95 % air (LIQ-002, LIQ-003)."""
    record = composition("C=86.5,H=13.4,S=0.1,HHV=45.5 MJ/kg")
    assert record.kind == "liquid"
    assert record.fuel.heating_value_net / 1e6 == pytest.approx(42.58, abs=0.02)
    need = stoichiometry(fuel=record.fuel, air=DRY_AIR_TWO_GASES)
    assert 100 * need.carbon_dioxide_dry_max == pytest.approx(15.35, abs=0.06)


def test_a_net_heating_value_is_brought_to_gross() -> None:
    given_net = composition("C=86.5,H=13.4,S=0.1,LHV=42.576 MJ/kg")
    assert given_net.fuel.heating_value_gross / 1e6 == pytest.approx(45.5, abs=0.005)
    assert "net value brought to gross" in given_net.heating_value_known


def test_a_heating_value_nobody_gave_is_estimated_and_marked() -> None:
    record = composition("C=50,H=6,O=43,ash=1")
    assert record.kind == "solid"
    assert "estimated" in record.heating_value_known
    assert record.spreads["heating_value_gross"] == pytest.approx(0.03 * record.fuel.heating_value_gross)
    # Channiwala and Parikh 2002: 34.91 C + 117.83 H - 10.34 O - 2.11 ash
    assert record.fuel.heating_value_gross / 1e6 == pytest.approx(
        34.91 * 0.5 + 117.83 * 0.06 - 10.34 * 0.43 - 0.0211, rel=1e-9
    )


def test_hydrogen_and_oxygen_by_name_follow_their_company() -> None:
    assert composition("methane=80,hydrogen=20").mole_fractions == pytest.approx({"CH4": 0.8, "H2": 0.2})
    assert composition("carbon=86,hydrogen=14").mass_fractions == pytest.approx({"C": 0.86, "H": 0.14})


@pytest.mark.parametrize(
    ("name", "text"),
    [
        ("plain.txt", "CH4 = 95\nN2 = 5\n"),
        ("comments.txt", "# delivery of Monday\nCH4 = 95 %  # read\nN2: 5 %\n"),
        ("like-library.toml", 'words = "ours"\nkind = "gas"\nby = "mole"\nsource = "lab"\nknown = "read"\n'
         "[composition]\nCH4 = 95\nN2 = 5\n"),
        ("fuel.json", json.dumps({"composition": {"CH4": 95, "N2": 5}})),
        ("flat.json", json.dumps({"CH4": 0.95, "N2": 0.05})),
        ("mark.toml", "\ufeffCH4 = 95\nN2 = 5\n"),
    ],
)  # fmt: skip
def test_files_of_every_form(name: str, text: str, tmp_path: Path) -> None:
    file = tmp_path / name
    file.write_text(text, encoding="utf-8")
    record = from_file(file)
    assert record.mole_fractions == pytest.approx({"CH4": 0.95, "N2": 0.05})
    assert record.name == file.stem


def test_an_oil_file_with_density(tmp_path: Path) -> None:
    file = tmp_path / "oil.txt"
    file.write_text("C = 86.5\nH = 13.4\nS = 0.1\nHHV = 45.5 MJ/kg\ndensity = 0.845 kg/L\n", encoding="utf-8")
    record = from_file(file)
    assert record.density == pytest.approx(845.0)
    assert record.fuel.heating_value_gross == pytest.approx(45.5e6)


FUELS = ["CH4", "C2H6", "C3H8", "nC4H10", "iC4H10", "H2", "CO", "N2", "CO2", "He"]


@given(st.lists(st.integers(min_value=0, max_value=1000), min_size=len(FUELS), max_size=len(FUELS)))
@settings(max_examples=200, deadline=None)
def test_whatever_adds_up_loads_and_its_heat_is_the_weighted_sum(parts: list[int]) -> None:
    """ISO 6976: the molar heating value is linear in the shares."""
    parts = [*parts]
    parts[0] += 1
    total = sum(parts)
    fractions = {name: part / total for name, part in zip(FUELS, parts, strict=True)}
    text = ",".join(f"{name}={fraction!r}" for name, fraction in fractions.items() if fraction)
    record = composition(text)
    expected = math.fsum(share * COMPONENTS[name].gross[-1] for name, share in fractions.items())
    assert record.fuel.heating_value_gross == pytest.approx(expected, rel=1e-9)
    assert math.fsum(record.shares.values()) == pytest.approx(1.0, abs=1e-6)


@given(st.text(max_size=60))
@settings(max_examples=400, deadline=None)
def test_any_text_is_understood_or_refused_in_four_parts(text: str) -> None:
    try:
        composition(text)
    except FluewrightError as error:
        assert error.code.startswith(("FW-F-", "FW-Q-"))
        assert all((error.read, error.expected, error.matters, error.do))


@given(st.binary(max_size=200))
@settings(max_examples=150, deadline=None)
def test_any_bytes_in_a_file_are_understood_or_refused(tmp_path_factory: pytest.TempPathFactory, data: bytes) -> None:
    file = tmp_path_factory.mktemp("bytes") / "fuel.toml"
    file.write_bytes(data)
    try:
        from_file(file)
    except FluewrightError as error:
        assert error.exit_code == 3


def test_signs_that_move_a_cursor_are_not_repeated(tmp_path: Path) -> None:
    with pytest.raises(FuelError) as refused:
        composition("CH4=95,\x1b[2JN2=4")
    assert "\x1b" not in refused.value.sentence()
    file = tmp_path / "fuel.toml"
    file.write_text('words = "a\\u001b[2Jb"\n[composition]\nCH4 = 100\n', encoding="utf-8")
    assert "\x1b" not in from_file(file).words
