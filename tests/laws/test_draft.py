"""Draft, house and hood by law: what grows with what, where nothing is left, and forms that must agree."""

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from pytest import approx

from fluewright.kernel import balance, dilution_hood, draft, flue_flow, house_pressure, losses
from fluewright.kernel.air import DRY_AIR
from fluewright.kernel.constants import GAS_CONSTANT
from fluewright.kernel.dual import spread, uncertain
from fluewright.kernel.fuel import gas
from fluewright.rules import draft_weather

HEIGHTS = st.floats(0.5, 100.0)
COLD = st.floats(230.0, 310.0)
HOT = st.floats(320.0, 800.0)
PRESSURES = st.floats(60_000.0, 105_000.0)
FLOWS = st.floats(0.001, 5.0)
EXPONENTS = st.floats(0.5, 1.0)
METHANE = gas(name="methane", mole_fractions={"CH4": 1.0})


def by_density(height: float, pressure: float, outdoors: float, flue: float, constant: float = 288.0) -> float:
    """Pull by the densities of the chimney standard."""
    outdoor, inside = (
        flue_flow.gas_density(molar_mass=GAS_CONSTANT / each, temperature=temperature, pressure=pressure)
        for temperature, each in ((outdoors, 288.0), (flue, constant))
    )
    return float(draft.draft_from_densities(height=height, outdoor_density=outdoor, flue_density=inside))


@given(HEIGHTS, st.floats(1.01, 3.0), PRESSURES, COLD, HOT)
def test_a_higher_chimney_pulls_more(height: float, times: float, pressure: float, cold: float, hot: float) -> None:
    assert by_density(height * times, pressure, cold, hot) == approx(times * by_density(height, pressure, cold, hot))


@given(HEIGHTS, PRESSURES, COLD, HOT, st.floats(1.0, 100.0))
def test_hotter_gas_and_colder_air_pull_more(
    height: float, pressure: float, cold: float, hot: float, more: float
) -> None:
    pull = by_density(height, pressure, cold, hot)
    assert by_density(height, pressure, cold, hot + more) > pull
    assert by_density(height, pressure, cold - more, hot) > pull


@given(HEIGHTS, PRESSURES, COLD)
def test_equal_temperatures_pull_nothing(height: float, pressure: float, same: float) -> None:
    column: dict[str, Any] = {"height": height, "pressure": pressure}
    assert by_density(height, pressure, same, same) == approx(0.0, abs=1e-9)
    for form in (draft.draft_from_handbook_form, draft.draft_from_steam_form):
        assert form(**column, outdoor_temperature=same, flue_temperature=same) == approx(0.0, abs=1e-9)


@given(HEIGHTS, PRESSURES, COLD, HOT)
def test_the_printed_forms_are_one_and_agree_with_density(
    height: float, pressure: float, cold: float, hot: float
) -> None:
    column: dict[str, Any] = {
        "height": height, "pressure": pressure, "outdoor_temperature": cold, "flue_temperature": hot
    }  # fmt: skip
    handbook, steam = draft.draft_from_handbook_form(**column), draft.draft_from_steam_form(**column)
    assert handbook == approx(steam, rel=0.001)
    # 288 stands for air of 287.05 J/(kg K), and each printed constant has its own rounding: 0.6 % together
    assert handbook == approx(by_density(height, pressure, cold, hot), rel=0.007)


@given(HEIGHTS, PRESSURES, COLD, HOT, st.floats(290.0, 300.0))
def test_flue_gas_lighter_than_air_pulls_more_than_the_forms_say(
    height: float, pressure: float, cold: float, hot: float, constant: float
) -> None:
    plain = by_density(height, pressure, cold, hot)
    assert plain < by_density(height, pressure, cold, hot, constant) < plain + 0.05 * height * draft.GRAVITY * 1.6


@given(st.floats(0.1, 20.0), st.floats(0.0, 20.0), st.floats(1.0, 1.5), st.floats(0.05, 1.0))
def test_more_wind_presses_more(speed: float, more: float, density: float, coefficient: float) -> None:
    def wind(each: float, sign: float = 1.0) -> float:
        return float(draft.wind_pressure(wind_speed=each, density=density, pressure_coefficient=sign * coefficient))

    assert wind(speed + more) >= wind(speed) > 0.0
    assert wind(speed, -1.0) == approx(-wind(speed))
    assert wind(2.0 * speed) == approx(4.0 * wind(speed))


@given(st.floats(0.0, 100.0), st.floats(0.0, 50.0), st.floats(0.0, 50.0), st.floats(0.0, 50.0))
def test_what_is_left_is_the_rest(pull: float, lost: float, wind: float, down: float) -> None:
    left = draft.draft_left(draft=pull, flow_loss=lost, wind_pressure=wind, depressurisation=down)
    assert left + lost + wind + down == approx(pull)


@given(st.floats(220.0, 330.0), st.floats(0.0, 50.0))
def test_the_table_by_weather_asks_less_the_warmer_it_is(outdoors: float, more: float) -> None:
    table = draft_weather.table("us-draft-by-weather")
    asked = table.draft_at(outdoors)
    assert table.cold_draft <= asked <= table.draft_at(outdoors + more) <= table.warm_draft


@given(st.floats(-10.0, 10.0), COLD, PRESSURES)
def test_a_warm_house_is_pressed_above_its_plane_and_drawn_down_below(
    height: float, outdoors: float, pressure: float
) -> None:
    def stack(at: float) -> float:
        return float(
            house_pressure.stack_pressure(
                height=at, outdoor_temperature=outdoors, room_temperature=outdoors + 20.0, pressure=pressure
            )
        )

    assert stack(-height) == approx(-stack(height))
    assert stack(height + 1.0) > stack(height)


@given(st.floats(1e-3, 1.0), st.floats(1e-3, 1.0), st.floats(0.5, 20.0), COLD)
def test_the_neutral_plane_lies_between_and_nearer_the_larger(
    low: float, high: float, distance: float, outdoors: float
) -> None:
    def plane(low_area: float, high_area: float) -> float:
        return float(
            house_pressure.neutral_plane_from_openings(
                low_opening_area=low_area, high_opening_area=high_area, distance=distance,
                outdoor_temperature=outdoors, room_temperature=295.0 + 20.0,
            )
        )  # fmt: skip

    assert 0.0 < plane(low, high) < distance
    assert plane(2.0 * low, high) < plane(low, high) < plane(low, 2.0 * high)


@given(st.floats(1e-3, 1.0), st.floats(1e-3, 1.0), st.floats(0.5, 20.0))
def test_at_the_neutral_plane_mass_in_is_mass_out(low: float, high: float, distance: float) -> None:
    outdoors, room = 263.15, 293.15
    plane = house_pressure.neutral_plane_from_openings(
        low_opening_area=low, high_opening_area=high, distance=distance, outdoor_temperature=outdoors,
        room_temperature=room,
    )  # fmt: skip
    comes_in = low * (plane / outdoors) ** 0.5
    goes_out = high * ((distance - plane) / room) ** 0.5
    assert comes_in == approx(goes_out, rel=1e-6)


@given(FLOWS, FLOWS, FLOWS, EXPONENTS)
def test_fans_draw_further_and_leaks_hold_against_them(out: float, more: float, leaks: float, exponent: float) -> None:
    def down(fans: float, flow: float) -> float:
        coefficient = house_pressure.leakage_coefficient(leak_flow=flow, test_pressure=50.0, exponent=exponent)
        return float(
            house_pressure.depressurisation_from_flow(
                exhaust_flow=fans, leakage_coefficient=coefficient, exponent=exponent
            )
        )

    assert down(out + more, leaks) > down(out, leaks)
    assert down(out, leaks + more) < down(out, leaks)
    assert down(leaks, leaks) == approx(50.0)
    assert down(-out, leaks) == approx(-down(out, leaks))
    assert down(0.0, leaks) == approx(0.0, abs=1e-4)


def test_an_uncertain_exponent_widens_what_fans_do() -> None:
    def down(exponent: Any) -> Any:
        coefficient = house_pressure.leakage_coefficient(leak_flow=0.7, test_pressure=50.0, exponent=exponent)
        return house_pressure.depressurisation_from_flow(
            exhaust_flow=0.2, leakage_coefficient=coefficient, exponent=exponent
        )

    slope = (down(0.651) - down(0.649)) / 0.002
    assert spread(down(uncertain(0.65, spread=0.05, name="n"))) == approx(abs(slope) * 0.05, rel=1e-3)


@given(st.floats(0.02, 0.10), st.floats(0.001, 0.08), st.floats(400.0, 700.0), st.floats(280.0, 300.0))
def test_two_ways_of_telling_the_air_agree_where_no_heat_is_lost(
    before: float, thinner: float, hot: float, room: float
) -> None:
    after = before + thinner
    carriers = losses.carriers(fuel=METHANE, air=DRY_AIR)
    flue, mixed = (
        balance.from_dry_oxygen(fuel=METHANE, air=DRY_AIR, oxygen_dry_fraction=each) for each in (before, after)
    )
    temperature = losses.diluted_temperature(
        carriers=carriers, flue=flue, flue_temperature=hot, diluted=mixed, room_temperature=room
    )
    by_heat = dilution_hood.air_added_from_temperatures(
        carriers=carriers, flue=flue, flue_temperature=hot, diluted_temperature=temperature, room_temperature=room
    )
    by_oxygen = dilution_hood.air_added_from_oxygen(oxygen_dry_fraction=before, diluted_oxygen_dry_fraction=after)
    by_carbon = dilution_hood.air_added_from_carbon_dioxide(
        carbon_dioxide_dry_fraction=balance.carbon_dioxide_dry_fraction(flue=flue, air=DRY_AIR),
        diluted_carbon_dioxide_dry_fraction=balance.carbon_dioxide_dry_fraction(flue=mixed, air=DRY_AIR),
    )
    assert by_heat == approx(by_oxygen, rel=1e-6)
    assert by_carbon == approx(by_oxygen, rel=1e-6)


def test_arrays_pass_as_numbers_do() -> None:
    numpy = pytest.importorskip("numpy")
    outdoors = numpy.array([250.0, 288.0, 305.0])
    table = draft_weather.table("us-draft-by-weather")
    assert list(table.draft_at(outdoors)) == approx([table.draft_at(float(one)) for one in outdoors])
    flows = numpy.array([-0.2, 0.0, 0.2])
    down = house_pressure.depressurisation_from_flow(exhaust_flow=flows, leakage_coefficient=0.04)
    assert list(down) == approx([-(5.0 ** (1 / 0.65)), 0.0, 5.0 ** (1 / 0.65)], abs=1e-6)
