"""Laws of heat delivered: similarity, conservation, round trips, and the fits against outside tables."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fluewright.kernel import air, air_side, cost, dual, part_load, water_side

FLOWS = st.floats(0.01, 5.0)
PRESSURES = st.floats(5.0, 500.0)
WARM = st.floats(275.0, 372.0)


@given(FLOWS, PRESSURES, st.floats(0.3, 3.0))
def test_fan_laws_follow_the_curve_of_the_system(flow: float, pressure: float, ratio: float) -> None:
    later = air_side.flow_from_speed(air_flow=flow, fan_speed=10.0, new_fan_speed=10.0 * ratio)
    by_speed = air_side.pressure_from_speed(static_pressure=pressure, fan_speed=10.0, new_fan_speed=10.0 * ratio)
    by_system = air_side.pressure_from_flow(static_pressure=pressure, air_flow=flow, new_air_flow=later)
    assert by_speed == pytest.approx(by_system, rel=1e-9)
    power = air_side.power_from_speed(fan_power=flow * pressure, fan_speed=10.0, new_fan_speed=10.0 * ratio)
    assert power == pytest.approx(later * by_speed, rel=1e-9)  # air power is flow times pressure


@given(PRESSURES, FLOWS, FLOWS, st.floats(1.0, 2.0))
def test_the_exponent_comes_back(pressure: float, flow: float, other: float, exponent: float) -> None:
    if abs(math.log(other / flow)) < 0.05:
        return
    later = air_side.pressure_from_flow(
        static_pressure=pressure, air_flow=flow, new_air_flow=other, system_exponent=exponent
    )
    found = air_side.system_exponent_from_two(
        static_pressure=pressure, air_flow=flow, new_static_pressure=later, new_air_flow=other
    )
    assert found == pytest.approx(exponent, abs=1e-9)


@given(st.floats(100.0, 50_000.0), st.floats(5.0, 60.0), st.floats(600.0, 1300.0))
def test_flow_and_heat_are_each_others_inverse(heat: float, rise: float, factor: float) -> None:
    flow = air_side.air_flow_from_heat(heat_output=heat, air_factor=factor, air_rise=rise)
    assert air_side.heat_from_air_flow(air_flow=flow, air_factor=factor, air_rise=rise) == pytest.approx(heat)
    water = water_side.water_flow_from_heat(heat_output=heat, water_factor=factor * 4e3, water_rise=rise)
    assert water_side.heat_from_water_flow(
        water_flow=water, water_factor=factor * 4e3, water_rise=rise
    ) == pytest.approx(heat)


@given(st.lists(st.floats(0.5, 200.0), min_size=4, max_size=40))
def test_the_mean_of_roots_is_never_above_the_root_of_the_mean(pressures: list[float]) -> None:
    mean = air_side.mean_velocity(velocity_pressures=pressures, density=1.2)
    wrong = air_side.velocity_from_pressure(velocity_pressure=sum(pressures) / len(pressures), density=1.2)
    assert mean <= wrong * (1.0 + 1e-12)


@given(st.sampled_from((2, 4, 6, 8, 10, 12, 20)))
def test_points_of_equal_area_bound_equal_areas(parts: int) -> None:
    points = air_side.positions_equal_area(parts=parts)
    assert len(points) == parts
    assert list(points) == sorted(points)
    for low, high in zip(points, reversed(points), strict=True):
        assert low + high == pytest.approx(1.0)
    # the circle through each point halves its ring, so the areas inside go 1/n, 3/n, 5/n
    inside = sorted({round((1.0 - 2.0 * point) ** 2, 12) for point in points})
    assert inside == pytest.approx([(2 * ring + 1) / parts for ring in range(parts // 2)])


@given(st.floats(-100.0, 400.0))
def test_a_blower_table_is_met_at_its_rows_and_never_left(pressure: float) -> None:
    rows = ((50.0, 0.6), (100.0, 0.55), (150.0, 0.45))
    flow = air_side.air_flow_from_table(static_pressure=pressure, parts=rows)
    assert 0.45 <= flow <= 0.6
    for at, stated in rows:
        assert air_side.air_flow_from_table(static_pressure=at, parts=rows) == pytest.approx(stated)


def test_a_doubtful_pressure_carries_its_slope_through_the_table() -> None:
    rows = ((50.0, 0.6), (100.0, 0.55), (150.0, 0.45))
    doubtful = dual.uncertain(120.0, spread=2.0, name="static")
    flow = air_side.air_flow_from_table(static_pressure=doubtful, parts=rows)
    assert dual.spread(flow) == pytest.approx(2.0 * 0.1 / 50.0)


@given(WARM, st.floats(60_000.0, 105_000.0), st.floats(0.0, 0.03))
def test_damp_air_is_lighter_and_holds_more(temperature: float, pressure: float, damp: float) -> None:
    dry = air_side.moist_air_density(temperature=temperature, pressure=pressure, humidity_ratio=0.0)
    wet = air_side.moist_air_density(temperature=temperature, pressure=pressure, humidity_ratio=damp)
    assert wet <= dry
    assert dry == pytest.approx(air.density(temperature=temperature, pressure=pressure))
    few = {"return_air_temperature": 293.15, "supply_air_temperature": 293.15 + 30.0}
    more = air_side.air_heat_rise(**few, humidity_ratio=damp)
    assert more >= air_side.air_heat_rise(**few, humidity_ratio=0.0)


def test_water_against_iapws_and_coolprop() -> None:
    properties = pytest.importorskip("CoolProp.CoolProp")
    formulation = pytest.importorskip("iapws")
    for celsius in range(1, 121, 7):
        kelvin = celsius + 273.15
        at = {"species": "water", "glycol_share": 0.0, "temperature": kelvin}
        density, capacity = water_side.liquid_density(**at), water_side.liquid_heat_capacity(**at)
        assert density == pytest.approx(properties.PropsSI("D", "T", kelvin, "P", 3e5, "Water"), rel=3e-5)
        assert capacity == pytest.approx(properties.PropsSI("C", "T", kelvin, "P", 3e5, "Water"), rel=1e-4)
        theirs = formulation.IAPWS97(T=kelvin, P=0.3)
        assert density == pytest.approx(theirs.rho, rel=1e-4)
        assert capacity == pytest.approx(theirs.cp * 1e3, rel=8e-4)  # the two formulations: 0.067 %


@pytest.mark.parametrize(("name", "code"), [("ethylene glycol", "MEG"), ("propylene glycol", "MPG")])
def test_mixtures_within_their_stated_error(name: str, code: str) -> None:
    properties = pytest.importorskip("CoolProp.CoolProp")
    met = 0
    for share in (0.05, 0.12, 0.25, 0.33, 0.47, 0.6):
        for celsius in range(0, 101, 9):
            fluid = f"INCOMP::{code}[{share}]"
            try:
                theirs = [properties.PropsSI(p, "T", celsius + 273.15, "P", 3e5, fluid) for p in "DC"]
            except ValueError:
                continue  # frozen there
            at = {"species": name, "glycol_share": share, "temperature": celsius + 273.15}
            assert water_side.liquid_density(**at) == pytest.approx(theirs[0], rel=1e-3)
            assert water_side.liquid_heat_capacity(**at) == pytest.approx(theirs[1], rel=3e-3)
            met += 1
    assert met > 50


def test_moist_air_against_coolprop() -> None:
    properties = pytest.importorskip("CoolProp.CoolProp")
    for celsius, pressure, humidity in ((20, 101_325.0, 0.5), (60, 84_000.0, 0.1), (5, 98_000.0, 0.9)):
        kelvin = celsius + 273.15
        damp = air.humidity_ratio(relative_humidity=humidity, temperature=kelvin, pressure=pressure)
        ours = air_side.moist_air_density(temperature=kelvin, pressure=pressure, humidity_ratio=damp)
        volume = properties.HAPropsSI("Vha", "T", kelvin, "P", pressure, "R", humidity)
        assert ours == pytest.approx(1.0 / volume, rel=1.5e-3)


@given(st.floats(0.0, 1.0), st.floats(1e3, 1e5), st.floats(0.0, 500.0))
def test_cycling_keeps_the_heat_of_a_cycle(share: float, burned: float, pilot: float) -> None:
    hour = 3600.0
    on, off = share * hour, (1.0 - share) * hour
    found = part_load.run_fraction_from_times(burner_on_time=on, burner_off_time=off)
    mean = part_load.fuel_input_cycling(fuel_input=burned, run_fraction=found, pilot_input=pilot)
    heat = burned * on + cost.pilot_heat(fuel_input=pilot, duration=hour)
    assert mean * hour == pytest.approx(heat)
    given_off = part_load.heat_output_cycling(heat_output=burned, run_fraction=found, idle_loss=pilot)
    assert given_off * hour == pytest.approx(burned * on - pilot * off, abs=1e-6)
