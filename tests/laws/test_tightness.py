"""Laws of tightness: no change is no leak, weather alone is no leak, gauge and meter agree on the same lost gas."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fluewright.kernel import tightness

gauges = st.floats(500.0, 300_000.0)
barometers = st.floats(70_000.0, 106_000.0)
temperatures = st.floats(260.0, 310.0)
volumes = st.floats(1e-3, 2.0)
durations = st.floats(30.0, 36_000.0)


@given(gauges, barometers, barometers, temperatures, temperatures, volumes, durations)
def test_weather_alone_is_no_leak(
    gauge: float, air: float, later: float, warm: float, warmer: float, volume: float, duration: float
) -> None:
    settings = {
        "gauge_start": gauge,
        "barometer_start": air,
        "barometer_end": later,
        "temperature_start": warm,
        "temperature_end": warmer,
    }
    end = tightness.gauge_when_tight(**settings)
    leak = tightness.leak_rate_from_decay(volume=volume, gauge_end=end, duration=duration, **settings)
    assert leak == pytest.approx(0.0, abs=1e-12)


@given(gauges, barometers, temperatures)
def test_nothing_changed_is_a_gauge_that_stands(gauge: float, air: float, warm: float) -> None:
    end = tightness.gauge_when_tight(
        gauge_start=gauge, barometer_start=air, barometer_end=air, temperature_start=warm, temperature_end=warm
    )
    assert end == pytest.approx(gauge, abs=1e-6)


@given(gauges, barometers, temperatures, volumes, durations, st.floats(0.0, 0.5))
def test_gauge_and_meter_agree_on_the_gas_that_went(
    gauge: float, air: float, warm: float, volume: float, duration: float, share: float
) -> None:
    """The gas lost, let in again at constant pressure through a meter, is counted at the pressure in the meter."""
    fall = share * gauge
    by_gauge = tightness.leak_rate_from_decay(
        volume=volume,
        gauge_start=gauge,
        gauge_end=gauge - fall,
        barometer_start=air,
        barometer_end=air,
        temperature_start=warm,
        temperature_end=warm,
        duration=duration,
    )
    metered = volume * fall / (gauge + air)
    by_meter = tightness.leak_rate_from_creep(metered_volume=metered, duration=duration, gauge=gauge, barometer=air)
    assert by_meter == pytest.approx(by_gauge, rel=1e-9, abs=1e-15)


@given(volumes, st.floats(1.0, 500.0), barometers, durations, st.floats(1.0, 5.0))
def test_a_test_of_the_asked_length_just_shows_its_leak(
    volume: float, spread: float, air: float, duration: float, sureness: float
) -> None:
    least = tightness.smallest_leak(volume=volume, pressure_step=sureness * spread, barometer=air, duration=duration)
    back = tightness.duration_for_leak(
        volume=volume, pressure_spread=spread, barometer=air, leak_rate=least, sureness=sureness
    )
    assert back == pytest.approx(duration)


@given(gauges, barometers, temperatures)
def test_a_kelvin_moves_the_gauge_by_what_is_said(gauge: float, air: float, warm: float) -> None:
    end = tightness.gauge_when_tight(
        gauge_start=gauge, barometer_start=air, barometer_end=air, temperature_start=warm, temperature_end=warm + 1.0
    )
    assert end - gauge == pytest.approx(tightness.pressure_per_kelvin(pressure=gauge + air, temperature=warm))


@given(st.floats(1e-9, 1e-4), gauges, gauges, st.floats(0.5, 1.0))
def test_a_leak_carried_to_another_pressure_comes_back(
    leak: float, gauge: float, working: float, exponent: float
) -> None:
    there = tightness.leak_at_pressure(leak_rate=leak, gauge=gauge, working_gauge=working, exponent=exponent)
    back = tightness.leak_at_pressure(leak_rate=there, gauge=working, working_gauge=gauge, exponent=exponent)
    assert back == pytest.approx(leak)
    assert (there >= leak) == (working >= gauge)


@given(st.floats(0.005, 0.1), st.floats(0.1, 100.0), st.floats(0.0, 0.5), st.floats(0.0, 0.05))
def test_room_adds_up(diameter: float, length: float, share: float, meter: float) -> None:
    one = tightness.pipe_volume(inner_diameter=diameter, length=length)
    assert tightness.pipe_volume(inner_diameter=diameter, length=2.0 * length) == pytest.approx(2.0 * one)
    whole = tightness.installation_volume(pipe_volume=one, fittings_share=share, meter_volume=meter)
    assert whole - meter == pytest.approx(one * (1.0 + share))
