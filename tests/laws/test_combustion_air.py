"""Air for burning: more flame never asks for less, sums are sums, both unit systems say the same."""

from hypothesis import given
from hypothesis import strategies as st
from pytest import approx

from fluewright.fuels import load
from fluewright.kernel import combustion_air as air
from fluewright.kernel.air import DRY_AIR
from fluewright.kernel.dual import uncertain
from fluewright.kernel.fuel import stoichiometry
from fluewright.quantity import units
from fluewright.rules import burning_air

INPUTS = st.floats(100.0, 5e5)
AREAS = st.floats(1e-4, 2.0)
PRESSURES = st.floats(0.1, 60.0)
RATE = {"air_per_heat": 5.6e-7, "air_per_heat_fan_assisted": 4e-7, "most_air_changes": 0.6 / 3600.0}
BTU_H = 1055.05585262 / 3600.0


def opening(fuel_input: float, rule: str) -> float:
    """What a rule of the book asks for."""
    figures = burning_air.rule(rule).figures
    return float(
        air.opening_from_input(
            fuel_input=fuel_input,
            opening_per_input=figures.get("opening_per_input", 0.0),
            free_input=figures.get("free_input", 0.0),
            opening_base=figures.get("opening_base", 0.0),
            opening_least=figures.get("opening_least", 0.0),
        )
    )


OPENINGS = st.sampled_from([rule.id for rule in burning_air.rules() if "opening" in rule.form and rule.figures])


@given(INPUTS, INPUTS, OPENINGS)
def test_more_heat_never_asks_for_a_smaller_opening(one: float, more: float, rule: str) -> None:
    assert opening(one + more, rule) >= opening(one, rule)


@given(INPUTS, INPUTS, st.floats(1e-5, 3e-4))
def test_appliances_together_ask_for_the_sum(natural: float, fanned: float, changes: float) -> None:
    def room(plain: float, fan: float) -> float:
        return float(
            air.room_volume_from_air_changes(fuel_input=plain, fuel_input_fan_assisted=fan, air_changes=changes, **RATE)
        )

    assert room(natural, fanned) == approx(room(natural, 0.0) + room(0.0, fanned))
    assert room(natural, fanned) < room(natural + fanned, 0.0)


@given(INPUTS, st.floats(1e-5, 3e-4), st.floats(1.0, 5.0))
def test_a_tighter_room_must_be_larger_and_the_cap_holds(total: float, changes: float, times: float) -> None:
    def room(rate: float) -> float:
        return float(
            air.room_volume_from_air_changes(fuel_input=total, fuel_input_fan_assisted=0.0, air_changes=rate, **RATE)
        )

    assert room(changes * times) <= room(changes)
    assert room(RATE["most_air_changes"] * times) == approx(room(RATE["most_air_changes"]))


@given(st.floats(1.0, 5000.0))
def test_both_unit_systems_say_the_same(kbtu: float) -> None:
    # 50 ft3 for each 1000 Btu/h is printed as 4.8 m3/kW, 1 in2 for each 4000 Btu/h as 550 mm2/kW
    figures = burning_air.rule("us-room").figures["room_volume_per_input"]
    asked = air.room_volume_from_input(fuel_input=kbtu * 1e3 * BTU_H, room_volume_per_input=figures)
    assert asked / 0.3048**3 == approx(50.0 * kbtu)
    assert units.from_canonical(figures, unit="m3/kW", quantity="room_volume_per_input") == approx(4.83, abs=0.005)


@given(AREAS, PRESSURES, st.floats(1.0, 1.4), st.floats(0.3, 1.0))
def test_flow_and_pressure_are_inverses(area: float, pressure: float, density: float, share: float) -> None:
    flow = air.flow_through_opening(
        free_area=area, air_supply_pressure=pressure, density=density, discharge_coefficient=share
    )
    back = air.pressure_from_opening_flow(
        free_area=area, supply_flow=flow, density=density, discharge_coefficient=share
    )
    assert back == approx(pressure)


@given(st.floats(0.0, 2.0), st.floats(0.0, 2.0), st.floats(0.0, 2.0))
def test_a_fan_more_leaves_as_much_less(supply: float, fan: float, another: float) -> None:
    left = air.air_left(supply_flow=supply, exhaust_flow=fan)
    assert air.air_left(supply_flow=supply, exhaust_flow=fan + another) == approx(left - another, abs=1e-12)


@given(st.floats(0.0, 200.0), st.floats(1.0, 200.0))
def test_room_and_opening_share_the_task(room: float, needed: float) -> None:
    share = air.outdoor_share_from_volumes(room_volume=room, room_volume_needed=needed)
    assert 0.0 <= share <= 1.0
    assert share == 0.0 if room >= needed else share * needed + room == approx(needed)


def test_the_doubt_of_the_input_goes_into_what_is_asked() -> None:
    total = uncertain(20e3, spread=1e3, name="input")
    asked = air.opening_from_input(
        fuel_input=total, opening_per_input=5e-7, free_input=7e3, opening_base=0.0, opening_least=0.0
    )
    assert asked.value == approx(6.5e-3)
    (slope,) = asked.partials.values()
    assert slope == approx(5e-7)


def test_the_mechanical_rule_is_the_known_rate_in_other_words() -> None:
    # 0.35 cfm for each 1000 Btu/h (NFPA 54 9.3.6) is 21 ft3 an hour for each 1000 Btu/h (IFGC 304.5.2)
    by_fan = burning_air.rule("us-by-fan").figures["air_per_heat"]
    assert by_fan == approx(burning_air.rule("us-room-by-air-changes").figures["air_per_heat"])
    assert by_fan * 1e3 * 1055.05585262 / 0.3048**3 / 60.0 == approx(0.35)


def test_rules_ask_for_more_than_the_flame_burns() -> None:
    # physics: natural gas takes about 9.5 ft3 for each 1000 Btu at exact air; rules leave room for excess and dilution
    fuel = load.load("natural-gas").fuel
    need = air.air_per_heat_from_fuel(
        air_need=stoichiometry(fuel=fuel, air=DRY_AIR).air_need,
        heating_value=fuel.heating_value_gross,
        air_ratio=1.0,
        temperature=293.15,
        pressure=101_325.0,
    )
    for figure in ("air_per_heat", "air_per_heat_fan_assisted"):
        assert burning_air.rule("us-room-by-air-changes").figures[figure] > 1.4 * need
