"""Instrument classes: cited data, and what they make of a reading."""

import math
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fluewright.errors import QuantityError
from fluewright.quantity.uncertain import (
    Band,
    Channel,
    InstrumentClass,
    class_names,
    instrument_class,
    load_class,
    saturated,
    spread_from_limits,
    standard_uncertainty,
)

CO = "carbon_monoxide_dry"


def cell(hydrogen: str, share: float, *, absolute: float = 1e-12) -> InstrumentClass:
    """An invented carbon monoxide cell without any other doubt."""
    channel = Channel(
        (CO,),
        (Band(0.002, absolute, 0.0),),
        0.0,
        0.002,
        0.0,
        0.0,
        60.0,
        "cell",
        hydrogen,
        share,
        "invented",
        "read",  # type: ignore[arg-type]
    )
    return InstrumentClass("invented", "an invented cell", (channel,))


@pytest.mark.parametrize("name", class_names())
def test_every_channel_is_cited(name: str) -> None:
    for channel in instrument_class(name).channels:
        assert channel.citation
        assert channel.known in ("read", "from memory", "common practice, no source")
        assert [band.up_to for band in channel.bands] == sorted(band.up_to for band in channel.bands)
        assert channel.bands[-1].up_to == channel.high
        assert channel.hydrogen != "none" or not any(each.startswith("carbon_monoxide") for each in channel.quantities)
        assert channel.cross_share > 0.0 or channel.hydrogen in ("yes", "none")
        assert channel.t90 > 0.0


@pytest.mark.parametrize(
    ("quantity", "value", "name", "half"),
    [
        # limits as the reference notes give them: EN 50379-2 and -3 from memory, training page read
        ("oxygen_dry", 0.05, "statutory", 0.003),
        (CO, 100e-6, "statutory", 10e-6),
        (CO, 400e-6, "statutory", 20e-6),
        ("flue_temperature", 450.0, "statutory", 2.0),
        ("air_temperature", 293.0, "statutory", 1.0),
        ("draft", -5.0, "statutory", 2.0),
        (CO, 100e-6, "service", 20e-6),
        # common practice, no source
        ("sulfur_dioxide_dry", 3e-6, "service", 10e-6),
        ("sulfur_dioxide_dry", 600e-6, "service", 60e-6),
        ("sulfur_dioxide_wet", 600e-6, "statutory", 30e-6),
        ("sulfur_dioxide_dry", 3e-6, "statutory", 10e-6),
        ("nitric_oxide_wet", 30e-6, "service", 10e-6),
        ("diluted_temperature", 400.0, "statutory", 2.0),
        (CO, 10e-6, "portable", 3e-6),
        (CO, 100e-6, "portable", 5e-6),
        ("flue_temperature", 273.15 + 300.0, "thermocouple-k-1", 1.5),
        ("flue_temperature", 273.15 + 500.0, "thermocouple-k-1", 2.0),
        ("flue_temperature", 273.15 + 500.0, "thermocouple-k-2", 3.75),
    ],
)
def test_limits_become_a_standard_uncertainty(quantity: str, value: float, name: str, half: float) -> None:
    step = instrument_class(name).channel(quantity).resolution
    spread = standard_uncertainty(quantity=quantity, value=value, instrument_class=name)
    assert spread.above == pytest.approx(math.sqrt(half**2 / 3.0 + step**2 / 12.0), rel=1e-12)
    assert name in spread.why


@pytest.mark.parametrize("name", ["service", "statutory"])
@pytest.mark.parametrize(
    ("place", "cell"),
    [("oxygen_intake", "oxygen_dry"), ("oxygen_outdoor", "oxygen_dry"), ("oxygen_dried", "oxygen_dry"),
     ("carbon_monoxide_room", CO), ("carbon_monoxide_wet", CO)],
)  # fmt: skip
def test_one_cell_reads_at_several_places(name: str, place: str, cell: str) -> None:
    kind = instrument_class(name)
    assert kind.channel(place) is kind.channel(cell)


def test_gum_4_3_7_and_4_3_9() -> None:
    """a/sqrt 3 between sure limits, a/sqrt 6 when the middle is likelier (GUM eq. 7 and 9b), a/sqrt 2 for a swing."""
    assert spread_from_limits(half_width=1.0) == pytest.approx(0.5773502692)
    assert spread_from_limits(half_width=1.0, distribution="triangular") == pytest.approx(0.4082482905)
    assert spread_from_limits(half_width=1.0, distribution="arcsine") == pytest.approx(0.7071067812)


def test_gum_f_2_2_1_resolution_alone() -> None:
    """A display step of d gives u = 0.29 d (GUM F.2.2.1)."""
    only = standard_uncertainty(quantity=CO, value=0.0, instrument_class=cell("yes", 0.0), resolution=1e-6)
    assert only.above == pytest.approx(0.29e-6, rel=6e-3)


@pytest.mark.parametrize(("share", "high"), [(0.1, 0.08), (0.2, 0.17), (0.4, 0.33), (0.6, 0.50)])
def test_hydrogen_can_only_make_it_read_high(share: float, high: float) -> None:
    """With 0.83 mol H2 per mol CO a cell of 10/20/40/60 % response reads 8/17/33/50 % high (computed)."""
    spread = standard_uncertainty(quantity=CO, value=100e-6 * (1.0 + high), instrument_class=cell("no", share))
    assert spread.below == pytest.approx(100e-6 * high / math.sqrt(3.0), rel=0.06)
    assert spread.above == pytest.approx(0.0, abs=1e-9)
    assert "hydrogen" in spread.why


def test_a_compensated_cell_errs_both_ways_alike() -> None:
    spread = standard_uncertainty(quantity=CO, value=200e-6, instrument_class=cell("yes", 0.4))
    assert spread.below == spread.above
    unknown = standard_uncertainty(quantity=CO, value=200e-6, instrument_class=cell("unknown", 0.4))
    assert unknown.below > unknown.above


@given(st.floats(0.0, 0.002), st.floats(0.0, 0.002))
def test_the_doubt_never_shrinks_with_the_reading(one: float, two: float) -> None:
    low, high = sorted((one, two))
    for name in ("statutory", "service"):
        below, above = (standard_uncertainty(quantity=CO, value=each, instrument_class=name) for each in (low, high))
        assert above.below >= below.below
        assert above.above >= below.above


@given(st.floats(-0.005, 0.21), st.floats(0.0, 0.01))
def test_a_coarser_step_never_narrows(value: float, step: float) -> None:
    plain = standard_uncertainty(quantity="oxygen_dry", value=value, instrument_class="statutory")
    coarse = standard_uncertainty(quantity="oxygen_dry", value=value, instrument_class="statutory", resolution=step)
    assert coarse.above >= plain.above


def test_the_top_of_the_range_is_saturated() -> None:
    assert saturated(quantity=CO, value=2000e-6, instrument_class="statutory")
    assert saturated(quantity=CO, value=1999e-6, instrument_class="statutory")
    assert not saturated(quantity=CO, value=1998e-6, instrument_class="statutory")


def test_what_a_class_does_not_read_is_refused() -> None:
    with pytest.raises(QuantityError, match="FW-Q-016"):
        standard_uncertainty(quantity="oxygen_dry", value=0.05, instrument_class="portable")
    with pytest.raises(QuantityError, match="FW-Q-015"):
        instrument_class("shiny")


CHANNEL = """
words = "a shop's own"
[[channel]]
quantities = ["oxygen_dry"]
bands = [{ absolute = 0.002 }]
range = [0.0, 0.21]
resolution = 0.001
t90 = 40.0
principle = "cell"
citation = "data sheet, page 3"
known = "read"
"""


def test_a_shop_describes_its_own_instrument(tmp_path: Path) -> None:
    path = tmp_path / "ours.toml"
    path.write_text(CHANNEL, encoding="utf-8")
    spread = standard_uncertainty(quantity="oxygen_dry", value=0.05, instrument_class=load_class(path))
    assert spread.above == pytest.approx(math.hypot(0.002 / math.sqrt(3), 0.001 / math.sqrt(12)))
    assert "data sheet, page 3" in spread.why


@pytest.mark.parametrize(
    ("old", "new", "field"),
    [
        ('citation = "data sheet, page 3"', "", "no citation"),
        ('citation = "data sheet, page 3"', 'citation = ""', "citation"),
        ('known = "read"', 'known = "surely"', "known"),
        ("t90 = 40.0", "t99 = 40.0", "no t90"),
        ("t90 = 40.0", 't90 = "slow"', "slow"),
        ("principle", "colour = 1\nprinciple", "unknown field colour"),
        ('["oxygen_dry"]', '["oxigen"]', "quantities"),
        ("[0.0, 0.21]", "[0.21, 0.0]", "range"),
        ("[{ absolute = 0.002 }]", "[]", "bands"),
        ("[{ absolute = 0.002 }]", "[{ }]", "without limits"),
        ("[{ absolute = 0.002 }]", "[{ absolut = 0.002 }]", "unknown field absolut"),
        ('words = "a shop\'s own"', "", "no words"),
        ("[[channel]]", "[[channel]", "ours"),
    ],
)
def test_a_damaged_class_names_the_field(tmp_path: Path, old: str, new: str, field: str) -> None:
    path = tmp_path / "ours.toml"
    path.write_text(CHANNEL.replace(old, new), encoding="utf-8")
    with pytest.raises(QuantityError, match=field) as caught:
        load_class(path)
    assert caught.value.code == "FW-Q-017"
