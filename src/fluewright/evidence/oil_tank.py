"""A tank in the weather: cold oil flows more, so a flame set on a warm day is short of air in January."""

from dataclasses import replace

from fluewright.evidence.finding import PRACTICE, Finding
from fluewright.evidence.limits import in_words
from fluewright.evidence.oil_given import PART, OilGiven
from fluewright.evidence.oil_line import usual_viscosity
from fluewright.evidence.oil_noted import Noted
from fluewright.evidence.part import Derived, Seen, Voiced
from fluewright.evidence.reading import Reading
from fluewright.evidence.reckon import refused
from fluewright.evidence.trust import beyond
from fluewright.kernel import balance, oil_supply, ops
from fluewright.kernel.air import DRY_AIR
from fluewright.kernel.ops import Number
from fluewright.quantity import show
from fluewright.rules import oil_figures

DIRECTION = (
    "Cold oil flows more: it is heavier, and thick oil spins less in the nozzle. A flame set on a warm day gets more "
    "oil in January with the same air, and burns rich, with smoke and carbon monoxide. Set on a cold day it gains air "
    "in summer, which costs heat."
)
SHORT = ("give the flame more air before leaving, read smoke and carbon monoxide again, or leave the burner off",)
SMOKE_CAUTIONS = (
    "A flame short of air makes soot and carbon monoxide. Set more air before the cold comes, not after.",
)
LITTLE = 0.02
"""mol/mol of oxygen below which a flame of oil is likely to smoke (common practice, no source)."""


def _exponent(noted: Noted) -> Number:
    """How the flow follows the viscosity: the middle of what is told, with the whole band as its doubt."""
    low, high = oil_figures.practice("exponent-least"), oil_figures.practice("exponent-most")
    half = (high - low) / 2.0
    return noted.reckoning.assumed(
        "viscosity_exponent",
        (low + high) / 2.0,
        half / 3.0**0.5,
        source=f"{low:g} to {high:g}, common practice, no source",
    )


def _flow_ratio(noted: Noted, warm: Number, other: Number, exponent: Number) -> Number | None:
    """Oil burned later over oil burned at the tuning, from the two oil temperatures."""
    record = noted.fuel
    tuned, later = usual_viscosity(noted, warm), usual_viscosity(noted, other)
    if tuned is None or later is None or record.density is None or record.density_temperature is None:
        return None
    thickest = oil_figures.practice("thickest") * 1e-6
    at = {"reference_density": record.density, "reference_temperature": record.density_temperature}
    return oil_supply.oil_mass_flow_ratio(
        tuned_density=oil_supply.oil_density(**at, temperature=warm),
        later_density=oil_supply.oil_density(**at, temperature=other),
        tuned_viscosity=ops.minimum(tuned, thickest),
        later_viscosity=ops.minimum(later, thickest),
        viscosity_exponent=exponent,
    )


def tuned_oxygen(noted: Noted, given: OilGiven) -> Reading | None:
    """Oxygen at which the flame was left: typed here, else that of the last stretch."""
    if given.tuned_oxygen is not None:
        return given.tuned_oxygen
    read = [one.readings["oxygen_dry"] for one in noted.account.stretches if "oxygen_dry" in one.readings]
    return read[-1] if read else None


def _change(noted: Noted, key: str, words: str, ratio: Number, tuned: Reading, later: Reading) -> None:
    system = noted.account.system
    said = [show.shown(one.figure or 0.0, quantity="oil_temperature", system=system) for one in (tuned, later)]
    noted.keep(
        key,
        noted.reckoning.result(
            "oil_flow_change",
            ratio - 1.0,
            formula="mass flow later / at the tuning = root of the density ratio × viscosity ratio to the power n",
            substitution=f"oil {said[0]} → {said[1]}: {float(ops.value_of(ratio)):.3f}",
            source="orifice flow; n is common practice, no source; usual viscosity and ASTM D341 from memory",
            holds="oil reaching the nozzle as cold as the tank, no preheater; the sign is certain, the size is not",
        ),
    )
    typed = Voiced(later.typed.text)
    noted.say(
        f"with oil at {words}, ", typed, ", the oil burned changes by ", Derived(key), " by mass.", mark="derived"
    )


def _oxygen_then(noted: Noted, key: str, ratio: Number, oxygen: Reading) -> None:
    """Oxygen in the flue after the oil flow has changed and the air has not."""
    fuel = noted.fuel.fuel
    tuned = balance.from_dry_oxygen(fuel=fuel, air=DRY_AIR, oxygen_dry_fraction=noted.reckoning.read(oxygen))
    air_ratio = tuned.air_ratio / ratio
    later = balance.oxygen_dry_fraction(flue=balance.from_air_ratio(fuel=fuel, air=DRY_AIR, air_ratio=air_ratio))
    value = float(ops.value_of(air_ratio))
    if value < 1.0:
        noted.keep(key, refused("oxygen_dry", f"the air ratio falls to {value:.2f}: there is not enough air"))
        return
    result = noted.reckoning.result(
        "oxygen_dry",
        later,
        formula="air ratio later = air ratio at the tuning / mass flow ratio; oxygen from it by the balance",
        substitution=f"{float(ops.value_of(tuned.air_ratio)):.3f} / {float(ops.value_of(ratio)):.3f} = {value:.3f}",
        source="element balance; docs/method/oil.md",
        holds="same air and draft; combustion air from a heated room",
    )
    noted.keep(key, replace(result, basis="dry"))


def _warning(noted: Noted, oxygen: Reading | None) -> None:
    """The direction, with figures where there are any."""
    cold, change = noted.results.get("oxygen_when_coldest"), noted.results.get("oil_flow_when_coldest")
    short = cold is not None and bool(cold.refused)
    chance = None if cold is None or cold.value is None else 1.0 - (beyond(cold, LITTLE) or 0.0)
    figures = ""
    evidence: tuple[tuple[str, str], ...] = ()
    if change is not None and change.value is not None and change.value > 0.0:
        band = 2.0 * change.spread * 100.0
        figures = f" At the coldest about {change.value * 100:.0f} % more oil, {band:.0f} either way."
        evidence = ((PART, "oil_flow_when_coldest"),)
    if cold is not None and oxygen is not None:
        left = "not enough air" if short else f"about {(cold.value or 0.0) * 100:.1f} % oxygen"
        figures += f" Oxygen {oxygen.typed.text} as set would become {left}."
        figures += "" if chance is None else f" Below {LITTLE * 100:g} %: {in_words(chance)}."
        evidence += ((PART, "oxygen_when_coldest"),)
    noted.findings.append(
        Finding(
            "outdoor-oil-rich-in-winter",
            "act" if short else "advise" if chance is not None and chance >= 0.5 else "open",
            "With the coldest oil this flame would not have the air it needs."
            if short
            else "The tank stands in the weather: the dangerous end of the year for this flame is the cold one.",
            f"{DIRECTION}{figures}",
            evidence,
            PRACTICE,
            odds=None if short else chance,
            do_now=SHORT if short else (),
            cautions=SMOKE_CAUTIONS if short else (),
            do_next=(
                "leave it the air it needs with the coldest oil, or warm the oil: a preheater, a tank indoors",
                "read smoke again on a cold day",
            ),
        )
    )


def told(noted: Noted, given: OilGiven) -> None:
    """An outdoor tank at both ends of the year."""
    if given.tank:
        noted.say("the tank is ", Voiced(given.tank if given.tank != "buried" else "buried in the ground"), ".")
    if given.oil_temperature is not None:
        noted.say("oil ", Seen("oil_temperature", given.oil_temperature), " when the flame was set.")
    if given.tank not in ("outdoors", "buried"):
        return
    tuned, oxygen = given.oil_temperature, tuned_oxygen(noted, given)
    exponent = _exponent(noted)
    for key, words, later in (
        ("coldest", "its coldest", given.coldest_oil),
        ("warmest", "its warmest", given.warmest_oil),
    ):
        if tuned is None or later is None or tuned.figure is None or later.figure is None:
            continue
        ratio = _flow_ratio(noted, noted.reckoning.read(tuned), later.figure, exponent)
        if ratio is None:
            noted.keep(
                f"oil_flow_when_{key}", refused("oil_flow_change", "the viscosity of this oil is not in our list")
            )
            continue
        _change(noted, f"oil_flow_when_{key}", words, ratio, tuned, later)
        if oxygen is not None and oxygen.figure is not None and not oxygen.bound:
            _oxygen_then(noted, f"oxygen_when_{key}", ratio, oxygen)
            noted.say("oxygen in the flue would then be ", Derived(f"oxygen_when_{key}"), ".", mark="derived")
    if given.tank == "outdoors":
        _warning(noted, oxygen)
    if given.coldest_oil is None or tuned is None:
        noted.cannot_tell.append(
            "How rich the flame gets in the cold: the oil was not measured, or how cold it gets is not written."
        )
    noted.cannot_tell.append("Whether the oil clouds with wax in the cold: its cloud point is not known.")
