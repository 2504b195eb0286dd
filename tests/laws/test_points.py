"""Laws of sampling points: thinning moves no air-free value, a wide edge never narrows, time runs one way."""

import hypothesis.strategies as st
import pytest
from hypothesis import given

import fluewright
from fluewright.appliance.points import validity
from fluewright.evidence import flue
from fluewright.evidence.lit import burning_at
from fluewright.evidence.reading import Event, Instrument, Point, Stretch, Surroundings
from fluewright.evidence.result import Result

FUEL = fluewright.load_fuel("methane")
FRESH = 0.20946
FREE = "carbon_monoxide_air_free"


def results(point: Point, oxygen: float, monoxide: float) -> dict[str, Result]:
    """What one stretch tells; oxygen and carbon monoxide in mol/mol."""
    typed = {"o2": f"{oxygen * 100:.9f} %", "co": f"{monoxide * 1e6:.9f} ppm", "stack": "150 C", "air": "20 C"}
    read = Stretch("as found", "", point, fluewright.readings_of(typed))
    return dict(flue.work(record=FUEL, stretch=read, instrument=Instrument(), surroundings=Surroundings()).results)


@given(
    st.floats(0.02, 0.10),
    st.floats(20e-6, 900e-6),
    st.floats(0.0, 0.6),
    st.sampled_from(["above hood", "after damper", "oven vent", "plume"]),
)
def test_thinning_moves_no_air_free_value_and_only_widens(
    oxygen: float, monoxide: float, air: float, point: str
) -> None:
    before = results(Point("x"), oxygen, monoxide)[FREE]
    thin = oxygen * (1.0 - air) + FRESH * air
    after = results(Point("x", "diluted", point), thin, monoxide * (1.0 - air))[FREE]
    assert after.value == pytest.approx(before.value, rel=1e-4)
    assert after.above > before.above


@given(st.floats(0.02, 0.15), st.sampled_from(sorted(validity().points)))
def test_a_point_changes_no_value_and_never_narrows_a_doubt(oxygen: float, name: str) -> None:
    plain = results(Point("x"), oxygen, 100e-6)
    here = results(Point("x", validity().points[name].kind, name), oxygen, 100e-6)  # type: ignore[arg-type]
    for quantity, result in here.items():
        if result.value is not None:
            assert result.value == pytest.approx(plain[quantity].value, rel=1e-12)
            assert result.above >= plain[quantity].above * (1.0 - 1e-12)
            assert result.below >= plain[quantity].below * (1.0 - 1e-12)


@given(st.integers(0, 1439), st.integers(0, 600), st.integers(0, 60))
def test_minutes_since_lighting_run_one_way(lit: int, later: int, more: int) -> None:
    def clock(minutes: int) -> str:
        return f"{minutes // 60 % 24:02d}:{minutes % 60:02d}"

    events = (Event(clock(lit), "lit"),)
    one, two = burning_at(events, clock(lit + later)), burning_at(events, clock(lit + later + more))
    assert one.seconds == later * 60.0
    assert two.seconds == (later + more) * 60.0
