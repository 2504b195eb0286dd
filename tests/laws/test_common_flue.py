"""A flue and what hangs on it: mass, heat and pressure are kept, and every cause moves the draft the way it must."""

from dataclasses import replace
from math import exp

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from fluewright.kernel.constants import GRAVITY
from fluewright.solve.flue_balance import NEARLY, balanced
from fluewright.solve.flue_edges import spills_at, spills_below, starts_above
from fluewright.solve.flue_network import (
    TRICKLE,
    Attached,
    Gas,
    Network,
    Pipe,
    Surrounding,
    pressure_at,
    with_room_at,
)
from fluewright.solve.linear_system import solved

SOME = settings(max_examples=60, deadline=None)


def hung(words: str, flow: float, temperature: float, *, height: float, rise: float, width: float) -> Attached:
    connector = Pipe(rise + 1.0, rise, width, 5.0, 293.15, 2.0, 0.0005)
    burnt = Gas(flow, temperature, 0.0284, 1080.0) if flow > 0.0 else Gas(0.0, 293.15)
    return Attached(words, burnt, 0.6 * 0.5 * 0.7854 * width**2, height, connector)


def network(
    *, top: float = 8.0, width: float = 0.18, flows: tuple[float, float] = (0.016, 0.005), hot: float = 470.0,
    outdoors: float = 278.15, at_floor: float = -1.0, u_value: float = 2.8, wind: float = 0.0, cap: float = 1.5,
) -> Network:  # fmt: skip
    attached = (
        hung("boiler", flows[0], hot, height=1.25, rise=0.6, width=0.15),
        hung("water heater", flows[1], hot, height=1.5, rise=0.6, width=0.09),
    )
    flue = (
        Pipe(0.25, 0.25, width, u_value, 286.0, 0.0, 0.0015),
        Pipe(top - 2.1, top - 2.1, width, u_value, 286.0, cap, 0.0015),
    )
    return Network(attached, flue, Surrounding(293.15, outdoors, 101_325.0, at_floor, wind))


def draft(net: Network, words: str = "boiler") -> float:
    """Suction at an opening, Pa: how far it stands below the room."""
    found = balanced(net)
    assert found.left_over < 100.0 * NEARLY
    return -next(one.against_room for one in found.appliances if one.words == words)


places = st.floats(6.0, 14.0)
rooms = st.floats(-15.0, 5.0)
burning = st.floats(0.004, 0.03)


@SOME
@given(top=places, at_floor=rooms, flow=burning, outdoors=st.floats(250.0, 292.0))
def test_mass_and_heat_are_kept_at_every_junction(top: float, at_floor: float, flow: float, outdoors: float) -> None:
    net = network(top=top, at_floor=at_floor, flows=(flow, 0.3 * flow), outdoors=outdoors)
    found = balanced(net)
    assert found.left_over < 100.0 * NEARLY
    for one, attached in zip(found.appliances, net.attached, strict=True):
        assert one.connector.flow == pytest.approx(attached.burnt.flow + one.diluting, abs=1e-12)
    assert found.flue[-1].flow == pytest.approx(sum(one.connector.flow for one in found.appliances), abs=1e-12)
    if all(one.connector.flow > TRICKLE for one in found.appliances):
        first, second = (one.connector for one in found.appliances)
        # what the pipes lose on the way can only cool the gas, never warm it above the hottest that came in
        assert found.flue[-1].temperature <= max(first.temperature, second.temperature) + 1e-9
        assert found.flue[-1].temperature >= outdoors - 1e-9


@SOME
@given(flow=burning, drawn=st.floats(0.001, 0.03), hot=st.floats(350.0, 600.0))
def test_heat_of_two_flows_is_that_of_one(flow: float, drawn: float, hot: float) -> None:
    from fluewright.solve.flue_network import mixed

    parts = (Gas(flow, hot, 0.0284, 1080.0), Gas(drawn, 293.0))
    run = mixed(parts, 0.0)
    assert run.flow == pytest.approx(flow + drawn)
    heat = sum(part.flow * part.heat_capacity * part.temperature for part in parts)
    assert run.flow * run.heat_capacity * run.temperature == pytest.approx(heat)
    assert run.flow / run.molar_mass == pytest.approx(sum(part.flow / part.molar_mass for part in parts))


@SOME
@given(top=places, more=st.floats(0.3, 4.0))
def test_a_taller_flue_draws_harder(top: float, more: float) -> None:
    assert draft(network(top=top + more)) > draft(network(top=top))


@SOME
@given(hot=st.floats(380.0, 600.0), more=st.floats(5.0, 80.0))
def test_hotter_gas_draws_harder(hot: float, more: float) -> None:
    assert draft(network(hot=hot + more)) > draft(network(hot=hot))


@SOME
@given(outdoors=st.floats(255.0, 290.0), colder=st.floats(1.0, 15.0))
def test_cold_weather_draws_harder(outdoors: float, colder: float) -> None:
    assert draft(network(outdoors=outdoors - colder)) > draft(network(outdoors=outdoors))


@SOME
@given(width=st.floats(0.13, 0.25), cap=st.floats(0.5, 4.0), more=st.floats(0.3, 5.0))
def test_what_stands_in_the_way_weakens_the_draft(width: float, cap: float, more: float) -> None:
    assert draft(network(width=width, cap=cap + more)) < draft(network(width=width, cap=cap))


@SOME
@given(wind=st.floats(-20.0, 5.0), more=st.floats(0.5, 10.0))
def test_wind_that_presses_on_the_mouth_weakens_the_draft(wind: float, more: float) -> None:
    assert draft(network(wind=wind + more)) < draft(network(wind=wind))


@SOME
@given(at_floor=st.floats(-12.0, 2.0), down=st.floats(0.5, 12.0))
def test_drawing_the_room_down_weakens_the_draft_of_all(at_floor: float, down: float) -> None:
    for words in ("boiler", "water heater"):
        assert draft(network(at_floor=at_floor - down), words) < draft(network(at_floor=at_floor), words)


def test_an_appliance_that_begins_to_spill_goes_on_as_the_room_is_drawn_down() -> None:
    net = network(top=6.5, width=0.14)
    edge = spills_below(net, "water heater")
    assert edge is not None
    assert not spills_at(net, "water heater", edge + 0.2)
    for down in (0.2, 1.0, 5.0, 20.0):
        assert spills_at(net, "water heater", edge - down)
    calm = balanced(with_room_at(net, edge + 2.0)).appliances[1]
    blown = balanced(with_room_at(net, edge - 2.0)).appliances[1]
    assert calm.diluting > 0.0
    assert blown.diluting < 0.0
    assert blown.spills


def test_nothing_warm_and_still_air_give_no_pressure() -> None:
    net = network(flows=(0.0, 0.0), outdoors=293.15, at_floor=0.0)
    cold = replace(net, flue=tuple(replace(pipe, surroundings=293.15) for pipe in net.flue))
    found = balanced(cold)
    for one in found.appliances:
        assert one.against_room == pytest.approx(0.0, abs=1e-3)
        assert one.connector.flow == pytest.approx(0.0, abs=1e-5)


@SOME
@given(height=st.floats(4.0, 20.0), hot=st.floats(330.0, 600.0), outdoors=st.floats(250.0, 300.0))
def test_without_losses_it_is_the_weight_of_two_columns(height: float, hot: float, outdoors: float) -> None:
    gas = Gas(1e-5, hot, 0.0284, 1080.0)
    pipe = Pipe(height, height, 4.0, 0.0, hot, 0.0, 1e-6)
    short = Pipe(1e-3, 0.0, 4.0, 0.0, hot, 0.0, 1e-6)
    around = Surrounding(293.15, outdoors, 101_325.0)
    found = balanced(Network((Attached("one", gas, 0.0, 0.0, short),), (pipe,), around))
    weight = GRAVITY * height * (around.density(0.02896546, outdoors) - around.density(0.0284, hot))
    assert found.appliances[0].junction == pytest.approx(-weight, rel=1e-6)


@SOME
@given(flow=burning)
def test_two_alike_at_one_height_share_alike(flow: float) -> None:
    one = hung("one", flow, 460.0, height=1.3, rise=0.7, width=0.12)
    pair = (one, replace(one, words="two"))
    flue = (Pipe(1e-6, 1e-6, 0.2, 2.8, 286.0, 0.0, 0.001), Pipe(6.0, 6.0, 0.2, 2.8, 286.0, 1.5, 0.001))
    found = balanced(Network(pair, flue, Surrounding(293.15, 275.15, 101_325.0, -1.0)))
    first, second = found.appliances
    assert first.diluting == pytest.approx(second.diluting, rel=1e-3)


def test_the_flow_through_the_flue_is_found_again_by_another_way() -> None:
    """One appliance, one loss: solved by hand with the same balance but without the network."""
    net = network(flows=(0.016, 0.0))
    lone = Network(net.attached[:1], (Pipe(6.15, 6.15, 0.18, 0.0, 286.0, 1.5, 1e-9),), net.around)
    bare = replace(lone.attached[0], connector=replace(lone.attached[0].connector, u_value=0.0, roughness=1e-9))
    lone = replace(lone, attached=(bare,))
    found = balanced(lone)
    (one,) = found.appliances
    room, out = lone.around.density(0.02896546, 293.15), lone.around.density(0.02896546, 278.15)
    hot = lone.around.density(one.connector.molar_mass, one.connector.temperature)
    lifted = GRAVITY * (out - hot) * (0.6 + 6.15)
    hood = (one.diluting / bare.opening) ** 2 / (2.0 * room)
    heads = sum(
        factor * (one.connector.flow / area) ** 2 / (2.0 * hot)
        for factor, area in ((2.0, bare.connector.area), (1.5, lone.flue[0].area))
    )
    # walls are smooth here, so friction is what is left; it must be small and positive
    left = lone.around.in_room(1.25) - hood + lifted - heads
    assert 0.0 < left < 0.15 * lifted


def test_pressure_is_told_between_the_ends_of_a_way() -> None:
    net = network()
    found = balanced(net)
    assert pressure_at(net, found, 1.25, "boiler") == pytest.approx(found.appliances[0].opening)
    assert pressure_at(net, found, 1.85, "boiler") == pytest.approx(found.appliances[0].junction)
    assert pressure_at(net, found, 8.0) == pytest.approx(0.0, abs=1e-9)
    assert found.appliances[1].junction < pressure_at(net, found, 5.0) < 0.0


@SOME
@given(st.lists(st.lists(st.floats(-5.0, 5.0), min_size=3, max_size=3), min_size=3, max_size=3), st.data())
def test_a_square_system_is_solved(rows: list[list[float]], data: st.DataObject) -> None:
    rows = [[part + (12.0 if i == j else 0.0) for j, part in enumerate(row)] for i, row in enumerate(rows)]
    truth = [data.draw(st.floats(-10.0, 10.0)) for _ in range(3)]
    right = [sum(a * b for a, b in zip(row, truth, strict=True)) for row in rows]
    found = solved(rows, right)
    assert found is not None
    assert found == pytest.approx(truth, abs=1e-8)


def test_a_system_that_settles_nothing_is_said() -> None:
    assert solved([[1.0, 2.0], [2.0, 4.0]], [1.0, 2.0]) is None


def states(net: Network, words: str) -> list[bool]:
    """Whether it spills as the room is drawn down by a pascal at a time."""
    return [spills_at(net, words, float(-down)) for down in range(45)]


@settings(max_examples=10, deadline=None)
@given(top=places, width=st.floats(0.14, 0.2), outdoors=st.floats(258.0, 288.0))
def test_as_the_room_is_drawn_down_each_begins_to_spill_once(top: float, width: float, outdoors: float) -> None:
    net = network(top=top, width=width, outdoors=outdoors, at_floor=0.0)
    for words in ("boiler", "water heater"):
        spills = states(net, words)
        assert spills == sorted(spills)


@settings(max_examples=15, deadline=None)
@given(top=places, outdoors=st.floats(255.0, 285.0))
def test_a_cold_flue_gives_in_before_a_warm_one(top: float, outdoors: float) -> None:
    net = network(top=top, outdoors=outdoors, at_floor=0.0)
    cold = starts_above(net)
    warm = [edge for words in ("boiler", "water heater") if (edge := spills_below(net, words)) is not None]
    assert cold is not None
    assert all(edge < cold + 0.02 for edge in warm)
    between = with_room_at(net, cold - 0.5)
    assert all(one.spills for one in balanced(between, cold=True).appliances)
    assert not any(one.spills for one in balanced(with_room_at(net, cold + 0.5), cold=True).appliances)


@SOME
@given(drawn=st.floats(2.0, 12.0), top=places)
def test_a_damper_holds_its_draft_until_it_is_wide_open(drawn: float, top: float) -> None:
    wide = network(top=top, flows=(0.012, 0.0), outdoors=255.0, at_floor=0.0)
    one = replace(wide.attached[0], opening=0.02, draft_set=drawn)
    net = Network((one,), (Pipe(top - 1.85, top - 1.85, 0.18, 2.8, 286.0, 1.5, 0.0015),), wide.around)
    free = balanced(replace(net, attached=(replace(one, opening=0.0),))).appliances[0].against_room
    found = balanced(net).appliances[0]
    if -free < drawn:
        assert -free - 1.0 < -found.against_room <= drawn + 1e-6
    else:
        assert -found.against_room >= drawn - 1e-6
        assert found.diluting > 0.0


def test_a_damper_that_gas_presses_on_shuts_unless_it_opens_both_ways() -> None:
    blown = network(flows=(0.02, 0.0), at_floor=-45.0, top=5.0)
    lone = Network(blown.attached[:1], (Pipe(3.15, 3.15, 0.18, 2.8, 286.0, 1.5, 0.0015),), blown.around)
    one = replace(lone.attached[0], opening=0.012, draft_set=5.0)
    shut = balanced(replace(lone, attached=(one,))).appliances[0]
    both = balanced(replace(lone, attached=(replace(one, both_ways=True),))).appliances[0]
    assert shut.against_room > both.against_room > 0.0
    assert 0.0 > shut.diluting > both.diluting


@SOME
@given(top=places, outdoors=st.floats(250.0, 290.0))
def test_gas_joins_the_flue_as_cold_as_its_connector_left_it(top: float, outdoors: float) -> None:
    net = network(top=top, outdoors=outdoors)
    found = balanced(net)
    boiler, pipe = found.appliances[0].connector, net.attached[0].connector
    lost = pipe.u_value * pipe.surface / (boiler.flow * boiler.heat_capacity)
    end = pipe.surroundings + (boiler.temperature - pipe.surroundings) * exp(-lost)
    assert found.flue[0].temperature == pytest.approx(end, abs=1e-6)
