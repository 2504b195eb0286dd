"""A second, cruder physical model, written against other laws than the one the table of likelihoods was made with.

It shares with it nothing but what a fault is: which physical input is how far off. What the inputs do is worked out
anew: two streams instead of a spread of local air ratios, an exchanger by a fixed approach that grows with load, a
chimney of the simplest kind, other set points and other scatter (even, with now and then a blunder). Run it to print
how the weighing does on it: `python tests/diagnose/other_physics.py [COUNT]`.
"""

import math
import random
import sys
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

from benchmarks import causes

from fluewright.diagnose.diagnosis import diagnosed
from fluewright.diagnose.next_test import of_page
from fluewright.diagnose.table import HEALTHY, looks, page
from fluewright.simulate.condition import Condition, Design
from fluewright.simulate.designs import designs
from fluewright.simulate.faults import faults_of, with_fault

AIR_RATIO = {"atmospheric": 1.62, "induced": 1.6, "premix": 1.3, "power": 1.2, "oil": 1.28, "wood": 1.8}
UNEVEN = {"atmospheric": 0.25, "induced": 0.24, "premix": 0.1, "power": 0.06, "oil": 0.12, "wood": 0.33}
FUEL = {"natural-gas": 0.118, "heating-oil-light": 0.154, "wood-logs": 0.203}
"""Highest carbon dioxide: round figures of the trade."""
SCATTER = {
    "oxygen_dry": (0.002, 0.0), "carbon_dioxide_dry": (0.003, 0.0), "carbon_monoxide_dry": (4e-6, 0.06),
    "flue_temperature": (3.0, 0.0), "air_temperature": (1.0, 0.0), "draft": (1.2, 0.05), "draft_over_fire": (1.2, 0.05),
    "gas_pressure": (10.0, 0.015), "line_pressure": (25.0, 0.015), "fuel_input": (0.0, 0.03),
    "oil_pressure": (0.0, 0.03), "air_rise": (1.8, 0.0), "water_rise": (1.2, 0.0), "flame_current": (0.0, 0.12),
    "smoke_spot": (0.6, 0.0), "carbon_monoxide_room": (1.5e-6, 0.08), "oxygen_intake": (0.0015, 0.0),
    "oxygen_outdoor": (0.001, 0.0), "oxygen_at_flame": (0.0025, 0.0), "oxygen_low_fire": (0.002, 0.0),
    "oxygen_blower_step": (0.0012, 0.0), "return_water_temperature": (1.2, 0.0),
}  # fmt: skip
"""Half widths of an even scatter: fixed, and a share."""
BLUNDER = 0.01
"""How often a reading is simply off, by up to three half widths."""


@dataclass(frozen=True, slots=True)
class Place:
    """What a place leaves open: a ratio of the set point, of surface, of mixing, a draft in Pa, air changes."""

    setting: float
    surface: float
    mixing: float
    pull: float
    changes: float
    flow: float
    current: float
    returning: float
    room: float


def _place(noise: random.Random, design: Design) -> Place:
    tuned = 0.04 if design.family in ("premix", "power", "oil") else 0.09
    return Place(
        setting=noise.uniform(1.0 - 2.0 * tuned, 1.0 + 2.0 * tuned),
        surface=noise.uniform(0.9, 1.12),
        mixing=math.exp(noise.uniform(-0.22, 0.22)),
        pull=noise.uniform(4.0, 9.0),
        changes=noise.uniform(0.5, 2.5),
        flow=noise.uniform(0.85, 1.18),
        current=noise.uniform(0.7, 1.4),
        returning=design.returning + noise.uniform(-6.0, 6.0),
        room=noise.uniform(288.0, 298.0),
    )


def _open(blocked: float) -> float:
    """Flow through a way that is partly shut, in series with the rest of it: half of the drop lies there."""
    left = max(0.04, 1.0 - blocked)
    return 1.0 / math.sqrt(0.5 + 0.5 / left**1.6)


def _fuel(design: Design, now: Condition) -> tuple[float, float]:
    """Heat against the plate, and the fuel pressure in Pa."""
    if design.family == "wood":
        return (0.3 + 0.7 * now.load) * (1.0 - 1.1 * now.moisture), 0.0
    if design.family == "oil":
        cold = max(-0.1, (290.0 - now.oil_temperature) * 0.003)
        pushed = (now.pump * (1.0 - 0.45 * now.strainer)) ** 0.48
        return now.nozzle * pushed * (1.0 + cold) * (1.0 - now.oil_water - 0.8 * now.oil_air), 965e3 * now.pump
    line = 2000.0 * now.supply
    if design.family == "premix":
        starved = min(1.0, (line / 1150.0) ** 0.45) if line < 1150.0 else 1.0
        return now.fan * now.ratio * now.wobbe * starved * _open(now.intake_block) * _open(now.flue_block), line
    wanted = design.fuel_pressure * now.setting * (1.0 - now.droop)
    pressure = min(wanted, line * 0.92 - 100.0)
    return now.orifice**2 * now.wobbe * (max(pressure, 40.0) / design.fuel_pressure) ** 0.5, pressure


def _air(design: Design, now: Condition, heat: float, spilled: float) -> float:
    """Air against the design."""
    ways = _open(now.intake_block) * _open(0.9 * now.passes_block)
    if design.family == "atmospheric":
        return ways * _open(now.lint) * (0.75 + 0.25 * heat) * (1.0 - 0.35 * spilled) * (1.0 - 0.5 * now.crack)
    if design.family == "wood":
        return ways * now.damper * _open(now.flue_block) * math.sqrt(max(0.05, 1.0 - (now.wind + now.exhaust) / 30.0))
    pushed = max(0.1, 1.0 - (now.wind + now.exhaust) / 300.0)
    return ways * now.fan * now.damper * _open(0.8 * now.flue_block) * pushed * (1.0 - 0.3 * now.crack)


def _ratio(design: Design, now: Condition, place: Place, heat: float, air: float) -> tuple[float, float]:
    """Air ratio at the flame at full and at low fire."""
    fresh = 1.0 - now.recirculation
    middle = AIR_RATIO[design.family] * place.setting * fresh
    if design.family == "premix":
        richer = now.ratio * now.wobbe * (min(1.0, (now.supply * 2000.0 / 1150.0) ** 0.45))
        return middle / richer, middle / (richer * max(0.3, 1.0 + now.offset / 110.0))
    return max(0.6, middle * air / max(heat, 0.1)), middle


def _monoxide(design: Design, now: Condition, place: Place, ratio: float) -> float:
    """Carbon monoxide at the flame, mol/mol dry: a poor stream and a lean one; the poor one decides."""
    uneven = {"atmospheric": 0.25, "induced": 0.24, "premix": 0.1, "power": 0.06, "oil": 0.12, "wood": 0.33}[
        design.family
    ]
    uneven *= place.mixing * (1.0 + 0.8 * now.burner_dirt + 1.2 * now.misaligned + now.spray + 0.5 * now.oil_air)
    if design.family == "atmospheric":
        uneven *= 1.0 + 0.9 * max(0.0, 0.85 - now.shutter * (1.0 - 0.6 * now.burner_dirt))
    if design.family == "oil":
        uneven *= 1.0 + 1.6 * max(0.0, 1.0 - now.pump + 0.4 * now.strainer)
        uneven *= 1.0 + max(0.0, 285.0 - now.oil_temperature) / 70.0
    poor = ratio * (1.0 - uneven)
    made = 8e-6 + 0.03 / (1.0 + math.exp((poor - 0.84) / 0.03)) + 0.009 * now.impinge
    if design.family == "atmospheric":
        made += 1.5e-3 * max(0.0, now.shutter - 1.25)
    if design.family == "wood":
        made += 7e-4 + 0.015 * now.moisture + 1e-3 * max(0.0, ratio - 2.4)
    return min(made + 1e-3 * max(0.0, ratio - 2.5), 0.06)


def _smoke(now: Condition, place: Place, ratio: float) -> float:
    rough = 1.0 + 1.1 * now.misaligned + now.spray + 1.6 * max(0.0, 1.0 - now.pump + 0.4 * now.strainer)
    rough *= place.mixing * (1.0 + max(0.0, 285.0 - now.oil_temperature) / 70.0)
    return 9.0 / (1.0 + math.exp((ratio * (1.0 - 0.12 * rough) - 0.93) / 0.05))


def _chimney(design: Design, now: Condition, place: Place, hot: float) -> tuple[float, float, float]:
    """Draft at the flue and over the fire in Pa, and the share that spills."""
    if design.family in ("induced", "premix", "power"):
        return 2.0 * (now.flue_block / max(0.07, 1.0 - now.flue_block)) ** 1.5 - 4.0, -60.0 * now.fan**2, 0.0
    pull = place.pull * (2.2 if design.family != "atmospheric" else 1.0) * min(1.6, (hot - place.room) / 140.0)
    left = pull - now.wind - now.exhaust
    if design.family == "atmospheric":
        carried = max(0.0, left) ** 0.5 * (1.0 - now.flue_block) / 1.1
        spilled = max(0.0, min(1.0, 1.0 - carried))
        return -0.7 * max(0.0, left - 1.5) if not spilled else 1.2 * spilled, 0.0, spilled
    use = 3.0 / max(0.07, 1.0 - now.flue_block) ** 2 - 3.0
    held = max(-left, -design.pull * 1.1) if now.regulator_stuck < 0.5 else -left
    draft = held + use
    fire = 0.5 * draft + 2.0 * (1.0 / (1.0 - min(0.9, now.passes_block)) ** 2 - 1.0)
    return draft, fire, max(0.0, min(0.6, 0.02 * (draft + 1.0)))


def shown(design: Design, now: Condition, place: Place) -> dict[str, float]:
    """What would be read without scatter, by the crude laws."""
    most = FUEL[design.fuel]
    heat, pressure = _fuel(design, now)
    _, _, spilled = _chimney(design, now, place, 430.0)
    air = _air(design, now, heat, spilled)
    ratio, low = _ratio(design, now, place, heat, air)
    made = _monoxide(design, now, place, ratio)
    behind = min(0.8, now.breech_leak + now.crack)
    at_flame = 0.209 * max(0.0, ratio - 1.0) / ratio
    oxygen = 0.209 + (at_flame - 0.209) * (1.0 - behind)
    approach = (
        {True: 22.0, False: 165.0}[design.transfer > 4.0] * heat**0.8 * (0.6 + 0.4 * ratio / AIR_RATIO[design.family])
    )
    approach *= (1.0 + 1.1 * (now.fouling + now.scale)) / place.surface
    warm = place.returning if design.carrier == "water" else place.room + 0.4 * design.rise / now.carrier
    hot = warm + approach * (1.0 - 0.7 * behind) * (1.0 if design.carrier == "water" else (1.0 / now.carrier) ** 0.3)
    draft, fire, spilled = _chimney(design, now, place, hot)
    useful = max(0.2, 0.97 - (hot - place.room) / 1500.0 * ratio) / 0.86
    kept = (1.0 - now.hose_leak) * (1.0 - now.shallow) * (1.0 - now.after_hood) * (1.0 - 0.3 * now.early)
    cooled = (1.0 - 0.8 * now.shallow) * (1.0 - 0.9 * now.after_hood) * (1.0 - 0.5 * now.early)
    seen = 0.209 + now.oxygen_gain * (0.209 + (oxygen - 0.209) * kept - 0.209) + now.oxygen_offset
    gas = (made * (1.0 - behind) + 1e-4 * now.early) * kept
    flue = place.room + (hot - place.room) * cooled
    room = made * heat * design.input * 3e-7 * min(1.0, spilled + 1.5 * now.gasket_leak + 0.03 * now.trap_dry)
    room /= 60.0 * place.changes * (1.0 - 0.75 * now.room_shut) / 3600.0 * 41.0
    read = {
        "oxygen_dry": seen,
        "carbon_dioxide_dry": most * now.fuel_set * max(0.0, 1.0 - seen / 0.209),
        "carbon_monoxide_dry": now.monoxide_gain * gas * (1.0 + 0.7 * now.hydrogen_response) - now.inside_zero,
        "flue_temperature": flue if not now.flue_as_fahrenheit else 1.8 * (flue - 273.15) + 32.0 + 273.15,
        "air_temperature": place.room if design.family != "premix" else place.room - 5.0,
        "return_water_temperature": place.returning,
        "draft": draft * now.draft_unit,
        "fuel_input": heat * design.input,
        "carbon_monoxide_room": room * now.monoxide_gain,
        "oxygen_outdoor": 0.209 + 0.4 * now.oxygen_offset,
        "oxygen_intake": 0.209 + 0.4 * now.oxygen_offset - now.recirculation * (0.209 - oxygen) - 0.003 * spilled,
        "water_rise" if design.carrier == "water" else "air_rise": design.rise
        * heat
        * useful
        / (now.carrier * place.flow),
    }
    if design.family == "oil":
        read |= {"oil_pressure": pressure, "smoke_spot": _smoke(now, place, ratio)}
    elif design.family != "wood":
        read |= {"gas_pressure": pressure * now.pressure_unit, "line_pressure": 2000.0 * now.supply}
    if design.family == "premix":
        read["oxygen_low_fire"] = 0.209 + (0.209 * max(0.0, low - 1.0) / low - 0.209) * (1.0 - now.hose_leak)
    else:
        read["oxygen_at_flame"] = 0.209 + (at_flame - 0.209) * (1.0 - now.hose_leak) + now.oxygen_offset
    if design.over_fire:
        read["draft_over_fire"] = fire * now.draft_unit
    if design.current:
        off = (ratio - 1.3) / 0.9
        read["flame_current"] = (
            design.current * place.current * heat**0.5 * (1.0 - 0.85 * now.rod_dirt) * math.exp(-off * off)
        )
    if design.carrier == "air":
        read["oxygen_blower_step"] = (0.209 - at_flame) * now.crack * 0.9
    return read


def _scattered(noise: random.Random, read: Mapping[str, float]) -> dict[str, float]:
    """Readings with an even scatter, now and then a blunder."""
    found = {}
    for name, value in read.items():
        fixed, share = SCATTER[name]
        wide = (fixed + share * abs(value)) * (3.0 if noise.random() < BLUNDER else 1.0)
        value += noise.uniform(-wide, wide)
        kept = name.startswith(("carbon", "smoke")) or name == "oxygen_dry"
        found[name] = max(0.0, value) if kept else value
    if "smoke_spot" in found:
        found["smoke_spot"] = float(min(9, round(found["smoke_spot"])))
    return found


def visit(noise: random.Random) -> causes.Visit:
    """One visit of an appliance that follows the crude laws."""
    design = noise.choice(list(designs().values()))
    possible, chance = faults_of(design), noise.random()
    wrong = [] if chance < 0.3 else noise.choices(possible, weights=[each.weight for each in possible])
    if chance > 0.92:
        wrong.append(noise.choice([each for each in possible if each is not wrong[0]]))
    now = Condition(
        wobbe=noise.uniform(0.98, 1.02), setting=noise.uniform(0.96, 1.04), burner_dirt=noise.uniform(0.0, 0.08)
    )
    for fault in wrong:
        now = with_fault(condition=now, fault=fault, severity=noise.uniform(0.2, 1.1))
    readings = _scattered(noise, shown(design, now, _place(noise, design)))
    care, eyes = noise.uniform(0.35, 0.9), noise.uniform(0.1, 0.5)
    read = {name: value for name, value in readings.items() if noise.random() < (0.92 if name in causes.CORE else care)}
    read["oxygen_dry"] = readings["oxygen_dry"]
    truth = tuple(sorted(fault.name for fault in wrong))
    seen = {}
    for look in looks().values():
        if not look.reads and of_page(page(design.name), look) and noise.random() < eyes:
            seen[look.name] = noise.random() < look.odds(truth or (HEALTHY,))
    return causes.Visit(design.name, truth, readings, read, seen)


def trial(count: int, seed: str = "another model") -> dict[str, causes.Tally]:
    """Many visits: with the looks of an ordinary visit, and after the round proposed."""
    noise = random.Random(seed)
    found = {"ordinary": causes.Tally(), "after the round": causes.Tally()}
    for _ in range(count):
        made = visit(noise)
        question = causes.asked(made, read=made.read, seen=made.seen)
        said = diagnosed(question)
        found["ordinary"].add(made, said)
        read, seen = causes.after_round(noise, made, question, said)
        found["after the round"].add(made, diagnosed(causes.asked(made, read=read, seen=seen)))
    return found


def told(found: Mapping[str, causes.Tally]) -> str:
    """The figures, a line each."""
    return "\n".join(f"{name}: {tally.told()}" for name, tally in found.items())


if __name__ == "__main__":
    print(told(trial(int(sys.argv[1]) if len(sys.argv) > 1 else 400)))
