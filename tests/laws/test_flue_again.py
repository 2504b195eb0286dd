"""The balance of a flue against a second program that shares nothing with it: other gas data, friction and search."""

import flue_again
import pytest

from fluewright.solve.flue_balance import balanced
from fluewright.solve.flue_edges import drawn_at, spills_below
from fluewright.solve.flue_network import Attached, Gas, Network, Pipe, Surrounding

NEAR = 4e-3
"""Relative. Churchill's friction stands within 1 % of Colebrook's, which moves a flow by some thousandths; a heat
capacity taken as constant between two temperatures moves it by less."""


def gas_of(gas: flue_again.Gas) -> Gas:
    hot = gas.at(gas.temperature)
    mass, heat = float(hot.mean_molecular_weight) / 1000.0, float(hot.enthalpy_mass)
    capacity = (heat - float(gas.at(298.15).enthalpy_mass)) / (gas.temperature - 298.15)
    return Gas(gas.flow, gas.temperature, mass, capacity)


def pipe_of(tube: flue_again.Tube) -> Pipe:
    return Pipe(tube.length, tube.rise, tube.diameter, tube.wall, tube.around, tube.loss, tube.roughness)


def network_of(flue: flue_again.Flue) -> Network:
    attached = tuple(
        Attached(str(index), gas_of(fire.gas), fire.through, fire.outlet, pipe_of(fire.tube))
        for index, fire in enumerate(flue.fires)
    )
    ends = [*(fire.joins for fire in flue.fires[1:]), flue.top]
    reaches = tuple(
        Pipe(
            end - fire.joins, end - fire.joins, flue.tube.diameter, flue.tube.wall, flue.tube.around,
            flue.top_loss if end == flue.top else 0.0, flue.tube.roughness,
        )
        for fire, end in zip(flue.fires, ends, strict=True)
    )  # fmt: skip
    return Network(attached, reaches, Surrounding(flue.room, flue.outdoors, 101_325.0, flue.room_pressure))


def flows(network: Network) -> list[float]:
    return [one.connector.flow for one in balanced(network).appliances]


def test_one_appliance() -> None:
    flue = flue_again.one()
    assert flows(network_of(flue)) == pytest.approx(flue.flows(), rel=NEAR)


@pytest.mark.parametrize("room_pressure", [0.0, -8.0, -20.0])
def test_two_appliances(room_pressure: float) -> None:
    flue = flue_again.two(room_pressure)
    assert flows(network_of(flue)) == pytest.approx(flue.flows(), rel=NEAR)


def test_a_little_above_the_edge_the_second_program_has_a_little_more_than_the_burnt_gas_too() -> None:
    network = network_of(flue_again.two())
    edge = spills_below(network, "1")
    assert edge is not None
    assert drawn_at(network, "1", edge) == pytest.approx(0.0, abs=2e-5)
    beside = flue_again.two(edge + 1.5)
    drawn = beside.flows()[1] - beside.fires[1].gas.flow
    assert drawn == pytest.approx(drawn_at(network, "1", edge + 1.5), abs=5e-5)
    assert 0.0 < drawn < 0.2 * beside.fires[1].gas.flow
