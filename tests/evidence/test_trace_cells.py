"""Cells, times, names of columns and mappings, one table each."""

import math
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fluewright.errors import Problems, TraceError
from fluewright.evidence.trace import columns, mapping, times
from fluewright.evidence.trace.cells import Cell, CellReader
from fluewright.evidence.trace.sniff import decimal_of, delimiter_of, encoding_of, kind_of

MUSEUM = Path(__file__).parent.parent / "museum" / "traces"


def reader(decimal: str) -> CellReader:
    units = {"%": (1.0, 0.0), "ppm": (1e-4, 0.0), "F": (5 / 9, -160 / 9)}
    return CellReader(decimal=decimal, scale=1.0, offset=0.0, convert=units.get)


@pytest.mark.parametrize(
    ("decimal", "text", "value"),
    [
        (".", "4.3", 4.3),
        (".", " 4.3 % ", 4.3),
        (".", "43000 ppm", 4.3),
        (".", "-.02", -0.02),
        (".", "−5", -5.0),
        (".", "+7", 7.0),
        (".", "1,234.5", 1234.5),
        (".", "1 234.5", 1234.5),
        (".", "1'234.5", 1234.5),
        (".", "1e3", 1000.0),
        (".", "2,000", 2000.0),
        (".", "212F", 100.0),
        (",", "4,3", 4.3),
        (",", "1.234,5", 1234.5),
        (",", "1.234", 1234.0),
        (",", "1 234,5", 1234.5),
        (",", "-,02", -0.02),
        (",", "4,3 %", 4.3),
        (",", "7", 7.0),
    ],
)
def test_a_number_is_read(decimal: str, text: str, value: float) -> None:
    assert reader(decimal).read(text) == pytest.approx(value)


@pytest.mark.parametrize(
    ("decimal", "text", "kind"),
    [
        (".", "", "empty"),
        (".", "---", "not a number"),
        (".", "n/a", "not a number"),
        (".", "OVER", "bound"),
        (".", "nan", "not a number"),
        (".", "inf", "bound"),
        (".", "-inf", "not a number"),
        (".", "1e999", "not a number"),
        (".", "1,23", "not a number"),
        (".", "1.2.3", "not a number"),
        (".", "1_000", "bad unit"),
        (".", "4.3 Pa", "bad unit"),
        (".", ">2000", "bound"),
        (".", "<1 ppm", "bound"),
        (",", "4.3", "not a number"),
        (",", "1,2,3", "not a number"),
        (",", ">2.000", "bound"),
    ],
)
def test_what_is_no_number_says_what_it_is(decimal: str, text: str, kind: str) -> None:
    cell = reader(decimal).read(text)
    assert isinstance(cell, Cell)
    assert cell.kind == kind


def test_a_bound_keeps_its_number_and_side() -> None:
    assert reader(".").read("> 2,000") == Cell("bound", 2000.0, "above")
    assert reader(".").read("≤1") == Cell("bound", 1.0, "below")


@given(st.floats(-1e6, 1e6, allow_nan=False))
def test_numbers_survive_either_decimal_mark(value: float) -> None:
    text = f"{value:.4f}"
    assert reader(".").read(text) == pytest.approx(float(text))
    assert reader(",").read(text.replace(".", ",")) == pytest.approx(float(text))


@given(st.text(max_size=12))
def test_no_cell_raises_or_gives_nan(text: str) -> None:
    for decimal in (".", ","):
        value = reader(decimal).read(text)
        assert isinstance(value, Cell) or math.isfinite(value)


@pytest.mark.parametrize(
    ("texts", "orders", "shown"),
    [
        (["2021-01-01 00:00:00+00:00"], ["iso"], "2021-01-01 00:00"),
        (["2021-01-01T00:30:00+01:00"], ["iso"], "2020-12-31 23:30"),
        (["2021/1/5 10:00:01.5"], ["year-month-day"], "2021-01-05 10:00:01"),
        (["31/01/2021 23:59", "01/02/2021 00:00"], ["day-month-year"], "2021-02-01 00:00"),
        (["01/31/2021 23:59", "02/01/2021 00:00"], ["month-day-year"], "2021-02-01 00:00"),
        (["01.02.2021 10:00"], ["day-month-year"], "2021-02-01 10:00"),
        (["01/02/2021 10:00"], ["day-month-year", "month-day-year"], "2021-02-01 10:00"),
        (["1/2/21 12:05 AM", "1/2/21 1:05 PM"], ["day-month-year", "month-day-year"], "2021-02-01 13:05"),
        (["1 Feb 2021 10:00"], ["named month"], "2021-02-01 10:00"),
        (["Feb 1, 2021 10:00"], ["named month"], "2021-02-01 10:00"),
        (["1. Mai 2021 10:00"], ["named month"], "2021-05-01 10:00"),
        (["1609459200", "1609459260"], ["epoch seconds"], "2021-01-01 00:01"),
        (["1609459200000"], ["epoch milliseconds"], "2021-01-01 00:00"),
        (["23:59:59", "00:00:01"], ["clock"], "24:00:01"),
        (["0", "1", "2.5"], ["elapsed seconds"], "2.5 s"),
        (["---", "banana"], [], ""),
        (["31.02.2021 10:00"], [], ""),
    ],
)
def test_the_form_of_time_is_found(texts: list[str], orders: list[str], shown: str) -> None:
    forms = times.guess(texts, header="Time")
    assert [form.order for form in forms] == orders
    if forms:
        clock = times.Reader(forms[0])
        assert times.shown([clock.seconds(text) for text in texts][-1], forms[0]) == shown


def test_the_order_of_dates_is_told_by_days_that_run_on() -> None:
    texts = [f"{day:02d}/03/2021 {hour:02d}:00" for day in (4, 5) for hour in range(24)]
    assert [form.order for form in times.guess(texts)] == ["day-month-year"]


@pytest.mark.parametrize(
    ("zone", "hours"), [("+01:00", 1), ("-0530", -5.5), ("UTC", 0), ("Z", 0), ("Europe/Berlin", 1)]
)
def test_a_zone_moves_the_time(zone: str, hours: float) -> None:
    seconds = times.Reader(times.Form("iso", zone)).seconds("2021-01-01 00:00")
    assert seconds == 1_609_459_200 - 3600 * hours


@pytest.mark.parametrize(
    ("header", "quantity", "unit"),
    [
        ("O2 (%)", "oxygen_dry", "%"),
        ("oxygen_dry_percent", "oxygen_dry", "%"),
        ("Exhaust O₂ [vol.-%]", "oxygen_dry", "vol.-%"),
        ("O2 wet (%)", "oxygen_wet", "%"),
        ("O2 in situ (%)", "oxygen_wet", "%"),
        ("Boiler 2 Exhaust CO2 (%)", "carbon_dioxide_dry", "%"),
        ("CO (ppm)", "carbon_monoxide_dry", "ppm"),
        ("CO air-free (ppm)", "carbon_monoxide_air_free", "ppm"),
        ("Room CO ppm", "carbon_monoxide_room", "ppm"),
        ("NOx (ppm)", "nitrogen_oxides_dry", "ppm"),
        ("NO (ppm)", "nitric_oxide_dry", "ppm"),
        ("stack temp [°F]", "flue_temperature", "°F"),
        ("Exhaust Temp (K)", "flue_temperature", "K"),
        ("Abgastemperatur (°C)", "flue_temperature", "°C"),
        ("flue_temperature_degC", "flue_temperature", "°C"),
        ("Combustion air temp (°F)", "air_temperature", "°F"),
        ("Outdoor temperature (°C)", "outdoor_temperature", "°C"),
        ("Entering Water Temp (K)", "return_water_temperature", "K"),
        ("Leaving Water Temp (K)", "supply_water_temperature", "K"),
        ("Vorlauftemperatur (°C)", "supply_water_temperature", "°C"),
        ("Firing Rate (%)", "firing_rate", "%"),
        ("Efficiency (%)", "efficiency_gross", "%"),
        ("Efficiency net (%)", "efficiency_net", "%"),
        ("Draft (Pa)", "draft", "Pa"),
        ("Humidity (%RH)", "relative_humidity", "%RH"),
    ],
)
def test_a_name_tells_its_quantity_and_unit(header: str, quantity: str, unit: str) -> None:
    guess = columns.guess(header, numbers=[1.0])
    assert (guess.quantity, guess.unit) == (quantity, unit)
    assert guess.reason


@pytest.mark.parametrize(
    "header", ["Leaving Water Temp Setpoint (K)", "O2 alarm limit (%)", "Energy (MWh)", "Note", "Serial", "Alpha"]
)
def test_a_name_that_is_no_reading_is_left_alone(header: str) -> None:
    assert columns.guess(header, numbers=[1.0]).quantity == ""


@pytest.mark.parametrize(
    ("header", "numbers", "unit", "choices"),
    [
        ("O2", [0.03, 0.05, 0.209], "fraction", ()),
        ("O2", [3.0, 5.0, 20.9], "%", ()),
        ("O2", [30000.0, 50000.0], "ppm", ()),
        ("CO", [12.0, 380.0], "ppm", ()),
        ("Firing rate", [0.2, 0.9], "fraction", ()),
        ("Firing rate", [20.0, 90.0], "%", ()),
        ("Flue temperature", [395.0, 397.0], "", ("°C", "°F", "K")),
        ("Flue temperature", [1250.0, 1300.0], "°F", ()),
        ("Air temperature", [18.0, 24.0], "", ("°C", "°F")),
    ],
)
def test_a_unit_left_open_is_told_by_the_numbers_or_asked(
    header: str, numbers: list[float], unit: str, choices: tuple[str, ...]
) -> None:
    guess = columns.guess(header, numbers=numbers)
    assert (guess.unit, guess.choices) == (unit, choices)


def test_temperatures_of_one_file_share_a_unit() -> None:
    assert columns.guess("Flue temperature", numbers=[395.0], peer_unit="K").unit == "K"


@pytest.mark.parametrize(
    ("head", "encoding"),
    [
        (b"\xef\xbb\xbfa,b", "utf-8-sig"),
        ("a,b\n1,2\n".encode("utf-16"), "utf-16"),
        ("a,b\n1,2\n".encode("utf-16-le"), "utf-16-le"),
        (b"gemessen f\xfcr", "cp1252"),
        ("für".encode(), "utf-8"),
        ("für °C".encode() + b"\xff", "utf-8"),
    ],
)
def test_the_encoding_is_found(head: bytes, encoding: str) -> None:
    assert encoding_of(head)[0] == encoding


def test_the_delimiter_is_not_the_decimal_comma() -> None:
    assert delimiter_of(["a;b;c", "1,5;2,5;3,5", "1,5;2,5;3,5"])[0] == ";"
    assert delimiter_of(["a\tb", "1,5\t2,5"])[0] == "\t"
    assert delimiter_of(["a,b", "1.5,2.5"])[0] == ","
    assert delimiter_of(["a", "1", "2"])[0] == ","


@pytest.mark.parametrize(
    ("cells", "delimiter", "mark", "unclear"),
    [
        (["4,3"], ";", ",", ""),
        (["4.3"], ";", ".", ""),
        (["1,234"], ";", ".", "1,234"),
        (["1,234", "4,3"], ";", ",", ""),
        (["1,234.5"], ";", ".", ""),
        (["1.234,5"], ";", ",", ""),
        (["1,234,567"], ";", ".", ""),
        (["7"], ",", ".", ""),
    ],
)
def test_the_decimal_mark_is_found_or_asked(cells: list[str], delimiter: str, mark: str, unclear: str) -> None:
    found = decimal_of(cells, delimiter)
    assert (found[0], found[2]) == (mark, unclear)


def test_other_formats_are_known_by_their_first_bytes() -> None:
    assert kind_of(b"PAR1....") == "Parquet"
    assert "spreadsheet" in kind_of(b"PK\x03\x04....")
    assert kind_of(b"Time,O2\n1,2\n") == ""


def test_a_mapping_survives_being_written_and_read() -> None:
    said = mapping.Mapping(
        encoding="utf-16",
        delimiter="\t",
        decimal=",",
        header_line=4,
        time_column='a "quoted" name',
        clock_column="b\nc",
        order="iso",
        zone="+01:00",
        columns={"O2 (%)": mapping.ColumnSaid("oxygen_dry", "%"), "Sollwert ü": mapping.ColumnSaid(use=False)},
    )
    import tomllib

    assert mapping.from_data(tomllib.loads(mapping.text_of(said))) == said


@pytest.mark.parametrize("name", ["mapping-unknown-key.toml", "mapping-not-toml.toml", "mapping-absent.toml"])
def test_a_mapping_that_cannot_be_read_says_where(name: str) -> None:
    with pytest.raises(TraceError) as caught:
        mapping.load(MUSEUM / name)
    assert caught.value.code == "FW-T-012"
    assert name in caught.value.where


def test_all_mistakes_of_a_mapping_are_gathered() -> None:
    data = {
        "file": {"decimal": ";", "delimiter": "ab"},
        "time": {"order": "sideways", "zone": "Nowhere/At all"},
        "tables": {},
    }
    with pytest.raises(Problems) as caught:
        mapping.from_data(data)
    assert len(caught.value.errors) == 5
