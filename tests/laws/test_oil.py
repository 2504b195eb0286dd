"""Oil and smoke: root law, signs of temperature, ways there and back, means of papers, knees that are found again."""

import random

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fluewright.evidence import papers
from fluewright.evidence.nozzle import nozzle_of
from fluewright.evidence.reading import Reading
from fluewright.evidence.smoke_curve import CurvePoint, Knee, NoKnee, knee_of
from fluewright.kernel import dual, oil_supply, smoke_scale
from fluewright.quantity import parse
from fluewright.rules import oil_figures

FLOW = st.floats(2e-7, 1e-4)
PRESSURE = st.floats(3e5, 3e6)
DENSITY = st.floats(790.0, 950.0)
KELVIN = st.floats(255.0, 330.0)
SPOT = st.floats(0.0, 9.0)


@given(flow=FLOW, rated=PRESSURE, pressure=PRESSURE)
def test_four_times_the_pressure_is_twice_the_flow(flow: float, rated: float, pressure: float) -> None:
    one = oil_supply.nozzle_flow(rated_flow=flow, rated_pressure=rated, oil_pressure=pressure)
    four = oil_supply.nozzle_flow(rated_flow=flow, rated_pressure=rated, oil_pressure=4.0 * pressure)
    assert four == pytest.approx(2.0 * one)
    assert oil_supply.nozzle_flow(rated_flow=flow, rated_pressure=rated, oil_pressure=rated) == pytest.approx(flow)


@given(flow=FLOW, rated=PRESSURE, pressure=PRESSURE)
def test_a_pressure_gauge_counts_half_in_the_flow(flow: float, rated: float, pressure: float) -> None:
    read = dual.uncertain(pressure, spread=0.01 * pressure, name="oil_pressure")
    found = oil_supply.nozzle_flow(rated_flow=flow, rated_pressure=rated, oil_pressure=read)
    (slope,) = found.partials.values()
    assert slope * 0.01 * pressure == pytest.approx(0.005 * found.value)


@given(density=DENSITY, cold=KELVIN, warmer=st.floats(1.0, 60.0))
def test_oil_thins_as_it_warms(density: float, cold: float, warmer: float) -> None:
    def at(temperature: float) -> float:
        return float(
            oil_supply.oil_density(reference_density=density, reference_temperature=288.15, temperature=temperature)
        )

    assert at(cold + warmer) < at(cold)
    assert at(288.15) == pytest.approx(density)
    assert at(cold) - at(cold + warmer) == pytest.approx(8.4e-4 * density * warmer, rel=0.35)  # 0.06 to 0.11 % a kelvin


def test_the_two_groups_of_oil_meet_without_a_step() -> None:
    def at(density: float) -> float:
        return float(
            oil_supply.oil_density(reference_density=density, reference_temperature=288.15, temperature=258.15)
        )

    edge = oil_supply.LEAST_FUEL_OIL_DENSITY
    assert at(edge + 1e-6) == pytest.approx(at(edge - 1e-6), rel=2e-6)


@given(cold=st.floats(2.5, 12.0), thinner=st.floats(1.1, 2.2), temperature=KELVIN, warmer=st.floats(0.5, 30.0))
def test_oil_flows_thinner_as_it_warms_and_keeps_its_two_points(
    cold: float, thinner: float, temperature: float, warmer: float
) -> None:
    def at(kelvin: float) -> float:
        return float(
            oil_supply.oil_viscosity(
                cold_viscosity=cold * 1e-6,
                cold_temperature=293.15,
                warm_viscosity=cold * 1e-6 / thinner,
                warm_temperature=313.15,
                temperature=kelvin,
            )
        )

    assert at(293.15) == pytest.approx(cold * 1e-6)
    assert at(313.15) == pytest.approx(cold * 1e-6 / thinner)
    assert at(temperature + warmer) < at(temperature)


@given(exponent=st.floats(0.05, 0.3), tuned=st.floats(275.0, 310.0), colder=st.floats(1.0, 40.0))
def test_cold_oil_burns_more_whatever_the_exponent(exponent: float, tuned: float, colder: float) -> None:
    usual = oil_figures.viscosities("oil-no-2")
    assert usual is not None

    def state(kelvin: float) -> tuple[float, float]:
        density = oil_supply.oil_density(reference_density=856.0, reference_temperature=288.7, temperature=kelvin)
        viscosity = oil_supply.oil_viscosity(
            cold_viscosity=usual.cold,
            cold_temperature=oil_figures.COLD,
            warm_viscosity=usual.warm,
            warm_temperature=oil_figures.WARM,
            temperature=kelvin,
        )
        return float(density), float(viscosity)

    (warm_density, warm_viscosity), (cold_density, cold_viscosity) = state(tuned), state(tuned - colder)
    there = {"viscosity_exponent": exponent}
    ratio = oil_supply.oil_mass_flow_ratio(
        tuned_density=warm_density, later_density=cold_density,
        tuned_viscosity=warm_viscosity, later_viscosity=cold_viscosity, **there,
    )  # fmt: skip
    back = oil_supply.oil_mass_flow_ratio(
        tuned_density=cold_density, later_density=warm_density,
        tuned_viscosity=cold_viscosity, later_viscosity=warm_viscosity, **there,
    )  # fmt: skip
    assert ratio > 1.0
    assert ratio * back == pytest.approx(1.0)


@given(flow=FLOW, density=DENSITY, heat=st.floats(3.8e7, 4.7e7))
def test_heat_by_mass_and_by_volume_agree(flow: float, density: float, heat: float) -> None:
    by_mass = oil_supply.fuel_input_by_mass(oil_flow=flow, density=density, heating_value=heat)
    assert by_mass == pytest.approx(oil_supply.fuel_input_by_volume(oil_flow=flow, heating_value=density * heat))


@given(lift=st.floats(0.1, 6.0), length=st.floats(0.0, 40.0), density=st.floats(800.0, 900.0))
def test_the_rule_of_the_trade_counts_more_than_the_oil_weighs(lift: float, length: float, density: float) -> None:
    weight = oil_supply.lift_vacuum(suction_lift=lift, density=density)
    assert oil_supply.vacuum_by_rule(suction_lift=lift, line_length=length) > 1.2 * weight
    assert oil_supply.lift_vacuum(suction_lift=-lift, density=density) == pytest.approx(-weight)


@given(flow=FLOW, length=st.floats(1.0, 40.0), bore=st.floats(0.004, 0.02))
def test_half_the_bore_is_sixteen_times_the_friction(flow: float, length: float, bore: float) -> None:
    oil = {"oil_flow": flow, "line_length": length, "viscosity": 6e-6, "density": 850.0}
    wide = oil_supply.line_loss(line_bore=bore, **oil)
    assert oil_supply.line_loss(line_bore=bore / 2.0, **oil) == pytest.approx(16.0 * wide)


@given(spot=SPOT, more=st.floats(0.01, 2.0))
def test_the_smoke_scale_goes_one_way_there_and_back(spot: float, more: float) -> None:
    passes = smoke_scale.transmission_from_spot(smoke_spot=spot)
    assert smoke_scale.spot_from_transmission(transmission=passes) == pytest.approx(spot, abs=1e-9)
    assert smoke_scale.transmission_from_spot(smoke_spot=spot + more) < passes


@given(reflectance=st.floats(0.1, 0.9))
def test_a_tenth_less_light_is_one_number_more(reflectance: float) -> None:
    one = smoke_scale.spot_from_reflectance(reflectance=reflectance)
    assert smoke_scale.spot_from_reflectance(reflectance=reflectance - 0.1) == pytest.approx(one + 1.0)


@given(spots=st.lists(st.integers(0, 18).map(lambda half: half / 2.0), min_size=2, max_size=6))
def test_a_mean_of_papers_lies_between_them_in_any_order(spots: list[float]) -> None:
    text = ", ".join(f"{spot:g}" for spot in spots)
    mean = papers.reading_of(text).figure
    assert mean == pytest.approx(sum(spots) / len(spots))
    assert mean == pytest.approx(papers.reading_of("; ".join(f"{spot:g}" for spot in reversed(spots))).figure)
    assert papers.count_of(papers.reading_of(text)) == len(spots)


@given(
    gallons=st.integers(30, 500).map(lambda hundredths: hundredths / 100.0),
    angle=st.integers(30, 90),
    letter=st.sampled_from(["A", "B", "S", "w", "SS", ""]),
    psi=st.integers(80, 300),
)
def test_a_stamp_is_read_back_as_it_was_written(gallons: float, angle: int, letter: str, psi: int) -> None:
    for text in (f"{gallons} {angle}{letter} {psi} psi", f"{gallons}gph {angle}°{letter} {psi}psi"):
        nozzle = nozzle_of(text)
        assert nozzle.flow.value == pytest.approx(parse.single(f"{gallons} gph", quantity="oil_flow").value)
        assert (nozzle.angle, nozzle.letters, nozzle.text) == (angle, letter, text)
        assert nozzle.pressure is not None
        assert nozzle.pressure.value == pytest.approx(psi * 6894.757, rel=1e-6)


def curve(
    by: str, airs: list[float], knee: float, slope: float, count: int, noise: random.Random | None
) -> list[CurvePoint]:
    """A made-up curve with its knee where it is told, `count` papers at each point, read to halves."""
    name = {"co2": "carbon_dioxide_dry", "o2": "oxygen_dry"}[by]
    points = []
    for air in airs:
        less = air - knee if by == "co2" else knee - air
        true = 0.25 + slope * max(0.0, less)
        read = [true + (noise.gauss(0.0, 0.5) if noise else 0.0) for _ in range(count)]
        spots = ", ".join(f"{min(9.0, max(0.0, round(2.0 * one) / 2.0)):g}" for one in read)
        points.append(CurvePoint(Reading(name, parse.parse(f"{air:.2f} %", quantity=name)), papers.reading_of(spots)))
    return points


CO2 = [9.8, 10.4, 11.0, 11.4, 11.8, 12.1, 12.4, 12.7, 13.0]


def test_a_knee_at_11_8_percent_is_found_again_through_the_noise_of_two_papers() -> None:
    dice = random.Random(118)
    found = [knee_of(curve("co2", CO2, 11.8, 3.5, 2, dice)) for _ in range(200)]
    knees = [one for one in found if isinstance(one, Knee)]
    inside = [one for one in knees if one.low <= 0.118 <= one.high]
    assert len(knees) >= 190
    assert len(inside) >= 0.9 * len(knees)
    assert sorted(one.high - one.low for one in knees)[100] < 0.012  # an interval of use, not the whole curve


def test_the_same_curve_by_oxygen_has_its_knee_there() -> None:
    found = knee_of(curve("o2", [8.0, 7.0, 6.0, 5.2, 4.8, 4.4, 4.0, 3.6], 5.0, 3.0, 1, None))
    assert isinstance(found, Knee)
    assert found.low <= 0.05 <= found.high
    assert found.high - found.low < 0.015


def test_more_papers_narrow_the_knee() -> None:
    widths = [
        found.high - found.low
        for count in (1, 2, 4)
        if isinstance(found := knee_of(curve("co2", CO2, 11.8, 3.5, count, None)), Knee)
    ]
    assert len(widths) == 3
    assert widths == sorted(widths, reverse=True)
    assert widths[2] < widths[0]


@pytest.mark.parametrize("count", [0, 1, 2, 3])
def test_fewer_than_four_points_have_no_knee(count: int) -> None:
    found = knee_of(curve("co2", CO2[-count:] if count else [], 11.8, 3.5, 1, None))
    assert isinstance(found, NoKnee)
    assert "needs 4" in found.why


def test_a_clean_curve_and_one_that_smokes_throughout_have_no_knee() -> None:
    level = knee_of(curve("co2", CO2, 20.0, 3.5, 2, None))
    assert isinstance(level, NoKnee)
    assert "rises no more" in level.why
    steep = knee_of(curve("co2", CO2, 9.0, 1.5, 2, None))
    assert isinstance(steep, NoKnee)
    assert "first point" in steep.why


def test_a_bound_is_no_point_of_a_curve() -> None:
    points = curve("co2", CO2[:4], 11.0, 3.5, 1, None)
    bound = CurvePoint(points[0].air, papers.reading_of(">5"))
    assert isinstance(knee_of([*points[1:], bound]), NoKnee)
