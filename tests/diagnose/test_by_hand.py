"""Cases written by hand from the patterns of the trade, not by our appliances: another model."""

import pytest

from fluewright.diagnose.asked import Asked
from fluewright.diagnose.diagnosis import diagnosed

F = 5.0 / 9.0


def read(o2: float, co: float, flue: float, **more: float) -> dict[str, float]:
    """Oxygen in %, carbon monoxide in ppm, flue in °F, air at 68 °F; the rest in canonical units."""
    gases = {"oxygen_dry": o2 / 100.0, "carbon_monoxide_dry": co * 1e-6}
    return gases | {"flue_temperature": (flue + 459.67) * F, "air_temperature": 293.15} | more


BOILER, HEATER, FURNACE = "natural-draft-boiler", "vapour-resistant-water-heater", "natural-draft-furnace"
INDUCED, PREMIX, POWER, OIL, WOOD = "induced-draft", "condensing-boiler", "power-burner", "oil-burner", "wood"
PLATE = {"gas_pressure": 872.0, "line_pressure": 1744.0, "fuel_input": 29_300.0, "air_rise": 28.0, "water_rise": 11.0,
         "oil_pressure": 965_000.0}  # fmt: skip
CASES = [
    (BOILER, "gas-pressure-high", read(4.0, 180, 480, gas_pressure=1245.0, fuel_input=35_000.0, draft=-5.0), {}),
    (BOILER, "orifice-large", read(3.5, 250, 490, gas_pressure=872.0, fuel_input=36_500.0, draft=-5.0), {}),
    (BOILER, "gas-pressure-low", read(11.5, 25, 320, gas_pressure=500.0, line_pressure=1740.0, draft=-4.0), {}),
    (BOILER, "supply-low", read(11.0, 30, 330, gas_pressure=520.0, line_pressure=760.0, draft=-4.0), {}),
    (BOILER, "primary-air-shut", read(7.5, 350, 400, gas_pressure=872.0, draft=-5.0),
     {"flame-yellow": True, "intake-seen": False}),
    (BOILER, "exchanger-sooted", read(5.0, 120, 620, gas_pressure=872.0, fuel_input=29_000.0, draft=-6.0), {}),
    (BOILER, "flue-blocked", read(6.5, 60, 390, draft=2.0, carbon_monoxide_room=18e-6),
     {"spills": True, "fans-off": False}),
    (BOILER, "room-drawn-down", read(7.5, 40, 390, draft=1.5), {"spills": True, "fans-off": True, "openings": False}),
    (BOILER, "sampled-after-hood", read(14.5, 12, 210, draft=-5.0, gas_pressure=872.0), {"before-hood": True}),
    (BOILER, "exchanger-scaled", read(8.0, 20, 560, gas_pressure=872.0, fuel_input=29_300.0, draft=-6.0),
     {"scale-heard": True}),
    (HEATER, "lint-on-arrestor", read(3.5, 400, 360, gas_pressure=872.0), {"settled": True, "flame-yellow": True}),
    (FURNACE, "flow-low", read(8.0, 15, 460, air_rise=46.0, gas_pressure=872.0, fuel_input=29_300.0), {}),
    (INDUCED, "exchanger-breached", read(9.0, 70, 320, oxygen_blower_step=0.012), {"flame-and-blower": True}),
    (INDUCED, "rod-dirty", read(8.0, 15, 330, flame_current=0.8e-6, gas_pressure=872.0), {}),
    (PREMIX, "recirculation", read(2.8, 150, 150, oxygen_intake=0.199, oxygen_outdoor=0.2094), {}),
    (PREMIX, "mixture-rich", read(2.2, 280, 150, oxygen_intake=0.2093, oxygen_outdoor=0.2094,
                                 oxygen_low_fire=0.025), {}),
    (PREMIX, "offset-high", read(5.0, 10, 150, oxygen_low_fire=0.015), {}),
    (PREMIX, "trap-dry", read(5.0, 8, 150, carbon_monoxide_room=4e-6), {"trap-seen": True}),
    (POWER, "too-much-air", read(9.0, 15, 450, gas_pressure=1500.0), {"hose": False, "air-setting": True}),
    (POWER, "too-little-air", read(1.5, 400, 420, fuel_input=293_000.0), {"flame-yellow": True, "air-setting": True}),
    (OIL, "nozzle-worn", read(2.5, 90, 500, smoke_spot=5.0, oil_pressure=965_000.0, fuel_input=34_500.0), {}),
    (OIL, "pump-pressure-low", read(7.5, 30, 390, smoke_spot=1.0, oil_pressure=690_000.0), {}),
    (OIL, "oil-cold", read(3.0, 60, 480, smoke_spot=4.0, oil_pressure=965_000.0), {"oil-temperature": True}),
    (OIL, "hose-leaks", read(11.0, 8, 450, smoke_spot=0.0, oil_pressure=965_000.0, fuel_input=29_300.0),
     {"breech-searched": False}),
    (OIL, "leak-at-breech", read(9.5, 10, 370, smoke_spot=0.0, oil_pressure=965_000.0, oxygen_at_flame=0.045), {}),
    (OIL, "draft-regulator-shut", read(6.5, 15, 470, draft=-28.0, draft_over_fire=-20.0), {}),
    (WOOD, "wood-wet", read(13.0, 4500, 330, draft=-15.0), {"load-seen": False}),
    (WOOD, "burned-down", read(15.0, 1500, 280, draft=-14.0), {"wood-moisture": False}),
    (POWER, "flue-read-in-fahrenheit", read(4.0, 15, 810, gas_pressure=1500.0), {}),
    (FURNACE, "pressure-in-other-unit", read(8.0, 15, 400, gas_pressure=350.0, fuel_input=29_300.0, air_rise=28.0), {}),
]  # fmt: skip
"""Class, what is wrong, what is read, what was seen."""


def ranked(kind: str, given: dict[str, float], seen: dict[str, bool]) -> list[str]:
    """Causes, likeliest first."""
    plate = PLATE | ({"gas_pressure": 1500.0, "fuel_input": 293_000.0} if kind == POWER else {})
    return list(diagnosed(Asked(kind, given, plate=plate, seen=seen)).inside.each())


@pytest.mark.parametrize(("kind", "cause", "given", "seen"), CASES, ids=[f"{case[0]}: {case[1]}" for case in CASES])
def test_a_case_of_the_trade_is_among_the_first_three(
    kind: str, cause: str, given: dict[str, float], seen: dict[str, bool]
) -> None:
    assert cause in ranked(kind, given, seen)[:3]


def test_most_cases_of_the_trade_are_first() -> None:
    first = sum(ranked(kind, given, seen)[0] == cause for kind, cause, given, seen in CASES)
    assert first >= 0.7 * len(CASES)
