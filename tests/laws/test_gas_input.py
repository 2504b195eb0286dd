"""Laws of gas input: what scales with what, round trips, and two ways to one number."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fluewright.fuels import load
from fluewright.fuels.figures import figures
from fluewright.fuels.reference import Reference
from fluewright.kernel import derating, drift, gas_input, interchange, orifice
from fluewright.kernel.dual import uncertain
from fluewright.rules import altitude, drills

volumes = st.floats(1e-3, 10.0)
seconds = st.floats(10.0, 3600.0)
heats = st.floats(5e6, 1.2e8)
pressures = st.floats(50.0, 10_000.0)
barometers = st.floats(60_000.0, 106_000.0)
kelvins = st.floats(250.0, 320.0)
factors = st.floats(0.3, 3.0)
diameters = st.floats(2e-4, 1e-2)


@given(volumes, seconds, heats, factors)
def test_input_goes_with_volume_and_against_time(volume: float, duration: float, heat: float, factor: float) -> None:
    once = gas_input.heat_input_from_count(volume=volume, duration=duration, heating_value=heat)
    more = gas_input.heat_input_from_count(volume=volume * factor, duration=duration, heating_value=heat)
    longer = gas_input.heat_input_from_count(volume=volume * factor, duration=duration * factor, heating_value=heat)
    assert math.isclose(more, factor * once, rel_tol=1e-12)
    assert math.isclose(longer, once, rel_tol=1e-12)


@given(barometers, kelvins, barometers, kelvins)
def test_a_correction_there_and_back_is_none(p: float, t: float, base_p: float, base_t: float) -> None:
    there = gas_input.volume_correction(
        meter_pressure=p, meter_temperature=t, reference_pressure=base_p, reference_temperature=base_t
    )
    back = gas_input.volume_correction(
        meter_pressure=base_p, meter_temperature=base_t, reference_pressure=p, reference_temperature=t
    )
    assert math.isclose(there * back, 1.0, rel_tol=1e-12)
    none = gas_input.volume_correction(
        meter_pressure=p, meter_temperature=t, reference_pressure=p, reference_temperature=t
    )
    assert none == pytest.approx(1.0, rel=1e-12)


@given(barometers, kelvins, volumes, seconds)
def test_cubic_feet_and_cubic_metres_come_to_one_input(p: float, t: float, volume: float, duration: float) -> None:
    """Heat of one gas, counted at 60 F and at 0 C, each with its own correction: the molar heat is the same."""
    record = load.load("methane")
    found = []
    for reference, kelvin in (("60F", 288.7055555555555), ("15", 288.15), ("20", 293.15)):
        heat = figures(record, reference=Reference("25", reference, ideal=True))["heating_value_gross"].value
        correction = gas_input.volume_correction(
            meter_pressure=p, meter_temperature=t, reference_pressure=101_325.0, reference_temperature=kelvin
        )
        found.append(
            gas_input.heat_input_from_count(volume=volume, duration=duration, heating_value=heat * correction)  # type: ignore[operator]
        )
    assert max(found) == pytest.approx(min(found), rel=1e-9)


@given(volumes, st.floats(1e-5, 1e-2), seconds, st.floats(0.1, 1.0))
def test_counting_on_as_told_makes_it_fine_enough(volume: float, step: float, duration: float, caught: float) -> None:
    def resolution(times: float) -> float:
        return float(
            gas_input.count_resolution(
                volume=volume * times, volume_step=step, duration=duration * times, time_step=caught
            )
        )

    until = gas_input.duration_until_resolved(duration=duration, count_resolution=resolution(1.0), resolution=0.01)
    assert resolution(until / duration) == pytest.approx(0.01, rel=1e-9)


@given(st.floats(1e4, 1e6), pressures, factors)
def test_input_goes_with_the_root_of_pressure(power: float, pressure: float, factor: float) -> None:
    after = orifice.input_after_pressure(fuel_input=power, gas_pressure=pressure, new_gas_pressure=pressure * factor)
    assert math.isclose(after, power * math.sqrt(factor), rel_tol=1e-12)
    back = orifice.pressure_for_input(gas_pressure=pressure, input_ratio=after / power)
    assert math.isclose(back, pressure * factor, rel_tol=1e-12)


@given(diameters, pressures, st.floats(0.4, 2.5), st.floats(0.6, 1.0))
def test_the_hole_of_a_flow_passes_that_flow(diameter: float, pressure: float, density: float, share: float) -> None:
    given_ = {"discharge": share, "gas_pressure": pressure, "density": density}
    flow = orifice.flow_through_orifice(diameter=diameter, **given_)
    assert math.isclose(orifice.diameter_from_flow(gas_flow=flow, **given_), diameter, rel_tol=1e-12)


@given(pressures, barometers, st.floats(1.1, 1.67))
def test_gas_that_expands_passes_less_and_hardly_so_at_low_pressure(p: float, air: float, ratio: float) -> None:
    factor = float(orifice.expansion_factor(gas_pressure=p, barometer=air, heat_capacity_ratio=ratio))
    assert 0.8 < factor < 1.0
    first_order = 1.0 - 0.75 / ratio * p / (air + p)
    assert factor == pytest.approx(first_order, abs=(p / air) ** 2)


@given(diameters, pressures, st.floats(2e7, 6e7), st.floats(2e7, 9e7))
def test_the_hole_for_another_gas_brings_the_same_heat(d: float, p: float, wobbe: float, new: float) -> None:
    """Heat goes with area x Wobbe index x root of pressure."""
    hole = orifice.diameter_for_gas(
        diameter=d, wobbe_gross=wobbe, new_wobbe_gross=new, gas_pressure=p, new_gas_pressure=2.5 * p
    )
    assert hole**2 * new * math.sqrt(2.5 * p) == pytest.approx(d**2 * wobbe * math.sqrt(p), rel=1e-12)


GASES = ("g20", "g21", "g23", "g25", "propane", "natural-gas", "natural-gas-h2-20")


@pytest.mark.parametrize("old", GASES)
@pytest.mark.parametrize("new", GASES)
def test_the_wobbe_identity_between_two_gases(old: str, new: str) -> None:
    """One hole and one pressure: heat by flow equals the ratio of the Wobbe indices, whatever the hole."""
    at = Reference("15", "15")
    one, two = (figures(load.load(name), reference=at) for name in (old, new))

    def heat(known: dict) -> float:  # type: ignore[type-arg]
        flow = orifice.flow_through_orifice(
            diameter=2e-3, discharge=0.85, gas_pressure=870.0, density=known["density"].value
        )
        return float(flow) * float(known["heating_value_gross"].value)

    ratio = interchange.heat_rate_ratio(
        heating_value=two["heating_value_gross"].value,
        relative_density=two["relative_density"].value,
        set_heating_value=one["heating_value_gross"].value,
        set_relative_density=one["relative_density"].value,
    )
    assert heat(two) / heat(one) == pytest.approx(ratio, rel=1e-6)
    assert two["wobbe_gross"].value / one["wobbe_gross"].value == pytest.approx(ratio, rel=1e-6)  # type: ignore[operator]


@given(st.floats(1.0, 3.0), st.floats(-0.2, 0.2))
def test_richer_gas_leaves_less_air(air_ratio: float, change: float) -> None:
    later = drift.air_ratio_after_wobbe(air_ratio=air_ratio, wobbe_change=change)
    assert (later < air_ratio) == (change > 0.0) or change == 0.0 or later == air_ratio


@given(st.floats(0.0, 4500.0), st.floats(1.0, 500.0))
def test_higher_is_never_allowed_more(height: float, step: float) -> None:
    for rule in altitude.rules():
        low, high = rule.left_at(height), rule.left_at(height + step)
        assert high is None or low is None or high <= low


def test_the_whole_height_counts_once_above_the_free_one() -> None:
    rule = altitude.rule("us-4-percent")
    assert rule.left_at(2000 * 0.3048) == 1.0
    assert rule.left_at(2001 * 0.3048) == pytest.approx(1.0 - 0.04 * 2.001)
    assert rule.left_at(5000 * 0.3048) == pytest.approx(0.80), "not 0.88: the excess alone is a misreading"


def test_heights_come_as_arrays_and_uncertain_numbers() -> None:
    numpy = pytest.importorskip("numpy")
    table = [(0.0, 1.0), (600.0, 0.94), (1800.0, 0.84)]
    many = derating.share_by_table(altitude=numpy.array([300.0, 600.0, 1200.0]), table=table)
    assert list(many) == pytest.approx([0.97, 0.94, 0.89])
    one = derating.share_by_table(altitude=uncertain(1200.0, spread=30.0, name="altitude"), table=table)
    assert one.value == pytest.approx(0.89)
    rule = derating.share_from_sea_level(altitude=numpy.array([500.0, 700.0]), fall=1.3e-4, free_altitude=609.6)
    assert list(rule) == pytest.approx([1.0, 0.909])


@given(diameters)
def test_the_drills_around_a_hole_hold_it(diameter: float) -> None:
    found = drills.around(diameter)
    sizes = [drill.diameter for drill in found]
    assert sizes == sorted(sizes)
    if len(sizes) == 2:
        assert sizes[0] <= diameter * (1 + 1e-9)
        assert sizes[1] > diameter
    assert drills.metric(diameter).diameter == pytest.approx(diameter, abs=0.0251e-3)


def test_drills_by_name() -> None:
    list_ = drills.listed()
    numbers = [drill for drill in list_ if drill.name.startswith("#")]
    assert len(numbers) == 80
    assert [int(d.name[1:]) for d in numbers] == list(range(80, 0, -1)), "thicker with every smaller number"
    assert drills.drill("No. 42") == drills.drill("#42") == drills.drill("42")
    assert drills.drill("3/64").diameter == pytest.approx(3 / 64 * 0.0254)  # type: ignore[union-attr]
    assert drills.drill("1.25 mm") is None
