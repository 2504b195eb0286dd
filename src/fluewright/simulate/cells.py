"""What the instrument shows of what is there: where the probe sits, hose, cells, zero, settings, and units typed wrong.

Every field of Condition from hose_leak on belongs to here.
hose_leak, shallow, after_hood  share of room air mixed in; shallow and after_hood also cool the gas
oxygen_gain, oxygen_offset      a cell that drifted: factor, mol/mol
monoxide_gain, inside_zero      a weak cell: factor; monoxide in the air it was zeroed in, mol/mol
hydrogen_response               share of the hydrogen that the monoxide cell counts
fuel_set                        highest carbon dioxide of the fuel set in the instrument over that of the fuel burned
flue_as_fahrenheit              1 where the flue temperature was read in F and written down as C
pressure_unit, draft_unit       factor of a pressure typed in another unit
early                           share by which readings were taken before things settled
lag_left                        share of a step that a slow cell still had before it
"""

import random
from dataclasses import dataclass

from fluewright.simulate.burned import OXYGEN_SHARE, burned
from fluewright.simulate.condition import Condition, Design, Site
from fluewright.simulate.virtual import Truth

SPREADS = {
    "oxygen_dry": (0.0015, 0.0), "carbon_dioxide_dry": (0.002, 0.0), "carbon_monoxide_dry": (2.5e-6, 0.04),
    "flue_temperature": (1.5, 0.0), "air_temperature": (0.6, 0.0), "draft": (0.8, 0.03), "draft_over_fire": (0.8, 0.03),
    "gas_pressure": (6.0, 0.01), "line_pressure": (15.0, 0.01), "fuel_input": (0.0, 0.02), "oil_pressure": (0.0, 0.02),
    "air_rise": (1.2, 0.0), "water_rise": (0.8, 0.0), "flame_current": (0.0, 0.08), "smoke_spot": (0.4, 0.0),
    "carbon_monoxide_room": (1.2e-6, 0.05), "oxygen_intake": (0.0012, 0.0), "oxygen_outdoor": (0.0008, 0.0),
    "oxygen_at_flame": (0.002, 0.0), "oxygen_low_fire": (0.0015, 0.0), "oxygen_blower_step": (0.001, 0.0),
    "return_water_temperature": (0.8, 0.0),
}  # fmt: skip
"""Standard deviation of one reading, fixed part in canonical unit and share: common practice, no source."""
_PUFF = 150e-6


@dataclass(frozen=True, slots=True)
class Sampled:
    """Gas at the cells before they speak: mol/mol dry, K."""

    oxygen: float
    monoxide: float
    hydrogen: float
    dioxide: float
    flue: float


def sampled(*, truth: Truth, site: Site, condition: Condition) -> Sampled:
    """What reaches the cells through probe and hose."""
    kept = 1.0 - condition.hose_leak
    warm = 1.0 - condition.early * 0.6
    for share in (condition.shallow, condition.after_hood):
        kept *= 1.0 - share
        warm *= 1.0 - 0.9 * share
    kept *= 1.0 - 0.25 * condition.early
    puff = _PUFF * condition.early
    return Sampled(
        oxygen=OXYGEN_SHARE + (truth.oxygen - OXYGEN_SHARE) * kept,
        monoxide=(truth.monoxide + puff) * kept,
        hydrogen=truth.hydrogen * kept,
        dioxide=truth.dioxide * kept,
        flue=site.room + (truth.flue - site.room) * warm,
    )


def _gases(*, gas: Sampled, truth: Truth, condition: Condition, design: Design, measured: bool) -> dict[str, float]:
    """The gas channels, carbon dioxide worked out from oxygen by the fuel that is set unless it is `measured`."""
    oxygen = OXYGEN_SHARE + condition.oxygen_gain * (gas.oxygen - OXYGEN_SHARE) + condition.oxygen_offset
    most = burned(design.fuel).carbon_dioxide_most * condition.fuel_set
    dioxide = gas.dioxide if measured else most * max(0.0, 1.0 - oxygen / OXYGEN_SHARE)
    seen = condition.monoxide_gain * (gas.monoxide + condition.hydrogen_response * gas.hydrogen)
    return {
        "oxygen_dry": oxygen,
        "carbon_dioxide_dry": dioxide,
        "carbon_monoxide_dry": seen - condition.inside_zero,
        "carbon_monoxide_room": truth.room_monoxide * condition.monoxide_gain,
        "oxygen_outdoor": OXYGEN_SHARE + condition.oxygen_offset * 0.5 + (condition.oxygen_gain - 1.0) * 0.02,
        "oxygen_intake": truth.intake_oxygen + condition.oxygen_offset * 0.5,
    }  # fmt: skip


def unblurred(
    *, truth: Truth, still: Truth, design: Design, site: Site, condition: Condition, measured: bool
) -> dict[str, float]:
    """What the instrument would show without noise, by registry name in canonical units.

    truth     of the appliance
    still     the same with the house blower at rest
    measured  whether carbon dioxide is measured, not worked out
    """
    gas = sampled(truth=truth, site=site, condition=condition)
    shown = _gases(gas=gas, truth=truth, condition=condition, design=design, measured=measured)
    flue = gas.flue
    if condition.flue_as_fahrenheit:
        flue = 273.15 + 1.8 * (flue - 273.15) + 32.0
    shown |= {
        "flue_temperature": flue,
        "air_temperature": truth.intake,
        "draft": truth.draft * condition.draft_unit,
        "fuel_input": truth.heat,
        "return_water_temperature": site.returning,
    }
    shown["air_rise" if design.carrier == "air" else "water_rise"] = truth.rise
    if design.family == "oil":
        shown |= {"oil_pressure": truth.fuel_pressure, "smoke_spot": truth.smoke}
    elif design.family != "wood":
        shown |= {"line_pressure": truth.line_pressure, "gas_pressure": truth.fuel_pressure * condition.pressure_unit}
    drift = condition.oxygen_gain, condition.oxygen_offset
    if design.family == "premix":
        low = (truth.oxygen_low_fire - OXYGEN_SHARE) * (1.0 - condition.hose_leak)
        shown["oxygen_low_fire"] = OXYGEN_SHARE + drift[0] * low + drift[1]
    else:
        near = (truth.oxygen_at_flame - OXYGEN_SHARE) * (1.0 - condition.hose_leak)
        shown["oxygen_at_flame"] = OXYGEN_SHARE + drift[0] * near + drift[1]
    if design.over_fire:
        shown["draft_over_fire"] = truth.over_fire * condition.draft_unit
    if design.current:
        shown["flame_current"] = truth.current
    if design.carrier == "air":
        shown["oxygen_blower_step"] = truth.oxygen - still.oxygen
    return shown


_NOT_BELOW = {"carbon_monoxide_dry", "carbon_monoxide_room", "oxygen_dry", "carbon_dioxide_dry", "smoke_spot"}


def blurred(*, shown: dict[str, float], noise: random.Random) -> dict[str, float]:
    """The same with the scatter of single readings; what cannot lie below nothing stays there."""
    read = {}
    for name, value in shown.items():
        fixed, share = SPREADS[name]
        value += noise.gauss(0.0, 1.0) * (fixed * fixed + (share * value) ** 2) ** 0.5
        read[name] = max(0.0, value) if name in _NOT_BELOW else value
    if "smoke_spot" in read:
        read["smoke_spot"] = float(min(9, round(read["smoke_spot"])))
    return read
