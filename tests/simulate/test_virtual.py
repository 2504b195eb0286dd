"""A virtual appliance obeys physics: mixtures conserve, and faults move things the way the trade knows."""

import random
from dataclasses import replace

import pytest

from fluewright.simulate.cells import unblurred
from fluewright.simulate.condition import Condition, Constants, Design, Site
from fluewright.simulate.designs import designs
from fluewright.simulate.faults import faults, faults_of, with_fault
from fluewright.simulate.virtual import Truth, steady
from fluewright.simulate.visits import invented

DESIGNS = list(designs().values())


def truth(design: Design, condition: Condition, site: Site | None = None) -> Truth:
    """A steady fire on an ordinary day."""
    day = site or Site(returning=design.returning)
    return steady(design=design, site=day, condition=condition, constants=Constants())


def with_one(design: Design, name: str, severity: float = 0.7) -> Truth:
    """The same with one fault."""
    return truth(design, with_fault(condition=Condition(), fault=faults()[name], severity=severity))


@pytest.mark.parametrize("design", DESIGNS, ids=lambda design: design.name)
def test_healthy_lies_where_the_trade_expects_it(design: Design) -> None:
    healthy = truth(design, Condition())
    assert 0.03 < healthy.oxygen < 0.11
    assert healthy.monoxide < (8e-4 if design.family == "wood" else 5e-5)
    assert 310.0 < healthy.flue < 530.0
    assert healthy.heat == pytest.approx(design.input, rel=0.08)
    assert healthy.spilled == 0.0
    assert 0.7 < healthy.useful < 1.0


@pytest.mark.parametrize("design", DESIGNS, ids=lambda design: design.name)
def test_oxygen_and_carbon_dioxide_lie_on_the_line_of_the_fuel(design: Design) -> None:
    healthy, leaking = truth(design, Condition()), truth(design, Condition(breech_leak=0.3))
    line = healthy.dioxide / (0.2095 - healthy.oxygen)
    assert leaking.dioxide / (0.2095 - leaking.oxygen) == pytest.approx(line, rel=0.01)
    assert leaking.monoxide / leaking.dioxide == pytest.approx(healthy.monoxide / healthy.dioxide, rel=1e-6)


DIRECTIONS = [
    ("atmospheric-boiler", "gas-pressure-high", "oxygen", -1),
    ("atmospheric-boiler", "gas-pressure-high", "flue", 1),
    ("atmospheric-boiler", "gas-pressure-low", "oxygen", 1),
    ("atmospheric-boiler", "gas-pressure-low", "flue", -1),
    ("atmospheric-boiler", "primary-air-shut", "monoxide", 1),
    ("atmospheric-boiler", "exchanger-sooted", "flue", 1),
    ("atmospheric-boiler", "exchanger-sooted", "oxygen", -1),
    ("atmospheric-boiler", "exchanger-scaled", "flue", 1),
    ("atmospheric-boiler", "flue-blocked", "draft", 1),
    ("atmospheric-boiler", "room-drawn-down", "draft", 1),
    ("sealed-base-heater", "lint-on-arrestor", "oxygen", -1),
    ("sealed-base-heater", "lint-on-arrestor", "monoxide", 1),
    ("atmospheric-furnace", "flow-low", "rise", 1),
    ("induced-furnace", "flue-blocked", "oxygen", -1),
    ("induced-furnace", "fan-slow", "oxygen", -1),
    ("premix-boiler", "recirculation", "oxygen", -1),
    ("premix-boiler", "recirculation", "intake_oxygen", -1),
    ("premix-boiler", "offset-high", "oxygen_low_fire", -1),
    ("premix-boiler", "joint-leaks-out", "room_monoxide", 1),
    ("power-gas", "too-much-air", "oxygen", 1),
    ("oil", "oil-cold", "oxygen", -1),
    ("oil", "oil-cold", "smoke", 1),
    ("oil", "pump-pressure-low", "oxygen", 1),
    ("oil", "nozzle-worn", "oxygen", -1),
    ("oil", "nozzle-plugged", "oxygen", 1),
    ("oil", "water-in-oil", "oxygen", 1),
    ("oil", "leak-at-breech", "oxygen", 1),
    ("wood", "wood-wet", "monoxide", 1),
    ("wood", "wood-wet", "heat", -1),
]
"""Design, fault, what moves, which way: the table of patterns of the trade and its reasons (service reference, 9)."""


@pytest.mark.parametrize(("design", "fault", "field", "sign"), DIRECTIONS)
def test_a_fault_moves_things_the_way_the_trade_knows(design: str, fault: str, field: str, sign: int) -> None:
    built = designs()[design]
    healthy, sick = getattr(truth(built, Condition()), field), getattr(with_one(built, fault), field)
    assert (sick - healthy) * sign > 0.0


def test_a_premix_valve_follows_its_air_so_a_slow_fan_leaves_oxygen_alone() -> None:
    built = designs()["premix-boiler"]
    healthy, slow = truth(built, Condition()), truth(built, Condition(fan=0.75))
    assert slow.oxygen == pytest.approx(healthy.oxygen, abs=0.002)
    assert slow.heat < 0.85 * healthy.heat


def test_cold_air_leans_a_fan_burner_and_warm_air_makes_it_rich() -> None:
    built = designs()["power-gas"]
    cold = truth(built, Condition(), Site(room=263.0, returning=built.returning))
    warm = truth(built, Condition(), Site(room=308.0, returning=built.returning))
    assert cold.oxygen - warm.oxygen > 0.02


def test_heat_follows_the_root_of_the_pressure() -> None:
    built = designs()["atmospheric-boiler"]
    ratio = truth(built, Condition(setting=1.44)).heat / truth(built, Condition()).heat
    assert ratio == pytest.approx(1.2, rel=1e-6)


def test_a_leaking_hose_changes_the_gas_and_not_the_temperature() -> None:
    built = designs()["oil"]
    site = Site(returning=built.returning)
    there = truth(built, Condition())
    shown = [
        unblurred(truth=there, still=there, design=built, site=site, condition=condition, measured=True)
        for condition in (Condition(), Condition(hose_leak=0.3))
    ]
    assert shown[1]["oxygen_dry"] > shown[0]["oxygen_dry"] + 0.03
    assert shown[1]["flue_temperature"] == shown[0]["flue_temperature"]
    share = [each["carbon_monoxide_dry"] / (0.2095 - each["oxygen_dry"]) for each in shown]
    assert share[1] == pytest.approx(share[0], rel=1e-9)


def test_there_are_at_least_forty_five_faults_and_each_befalls_something() -> None:
    assert len(faults()) >= 45
    met = {fault.name for design in DESIGNS for fault in faults_of(design)}
    assert met == set(faults())
    kinds = {fault.kind for fault in faults().values()}
    assert kinds == {"appliance", "instrument", "entry"}


@pytest.mark.parametrize("design", DESIGNS, ids=lambda design: design.name)
def test_every_fault_changes_something_that_can_be_read(design: Design) -> None:
    site = Site(returning=design.returning)
    healthy = truth(design, Condition())

    def shown(condition: Condition) -> dict[str, float]:
        there = truth(design, condition)
        still = truth(design, replace(condition, crack=0.0))
        return unblurred(truth=there, still=still, design=design, site=site, condition=condition, measured=False)

    plain = shown(Condition())
    for fault in faults_of(design):
        sick = shown(with_fault(condition=Condition(), fault=fault, severity=1.0))
        moved = [name for name in plain if abs(sick[name] - plain[name]) > 1e-3 * abs(plain[name]) + 1e-9]
        assert moved, f"{fault.name} leaves every reading as it is"
    assert healthy.spilled == 0.0


def test_the_same_chance_gives_the_same_visit() -> None:
    made = [invented(noise=random.Random(3), design=DESIGNS[0], foreign=1.0).readings for _ in range(2)]
    assert made[0] == made[1]
