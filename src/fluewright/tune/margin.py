"""The margin a set point needs, told at the worst corner of the site's year by what holds air and fuel together.

A flame that is right today meets other air, another barometer, another gas, colder oil. Which end of the year is the
dangerous one depends on the mechanism, so the sentence says which and why.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from itertools import product
from typing import Literal

from fluewright.fuels.figures import figures
from fluewright.fuels.record import FuelRecord
from fluewright.fuels.reference import Reference
from fluewright.kernel import balance, drift, oil_supply, ops
from fluewright.kernel.air import DRY_AIR, density
from fluewright.kernel.ops import Number
from fluewright.rules import oil_figures

Mechanism = Literal["fan", "one differential", "natural draft", "draft held", "oil outdoors", "oil indoors"]
"""fan: fixed volume of air, gas through an orifice. one differential: air and gas on one pressure difference.
natural draft: a chimney draws all the air. draft held: the same behind a hood or a draft regulator. oil outdoors, oil
indoors: a fan and a pump, with the tank in the weather or in a heated room."""

DANGER: Mapping[Mechanism, str] = {
    "fan": "A fan moves the same volume and warm air is thin: a flame set on a cold day runs short of air in the heat. "
    "Set on a hot day it gains air in the cold, which costs heat and does no harm.",
    "one differential": "Air and gas hang on one pressure difference: warm air still makes it richer, by the root of "
    "what a fan burner swings, and the barometer hardly counts.",
    "natural draft": "Warm weather weakens the draft and thins the air: a flame set on a cold or windy day runs short "
    "of air on the first mild one.",
    "draft held": "The hood or regulator keeps the draft over the fire level, so only the weight of the air counts: "
    "warm air is thin and makes it richer.",
    "oil outdoors": "The other way round than gas: cold oil flows more, so a flame set on a warm day runs short of air "
    "in January, unless its air comes from outdoors too and grows heavier with the cold.",
    "oil indoors": "The oil stays as warm as the house and the fan moves the same volume: warm air is thin, so a flame "
    "set on a cold day runs short of air in the heat.",
}
"""Which end of the year is the dangerous one, and why."""


AT = Reference("15", "15")
"""Conditions at which gases are compared; their ratio is the same at any."""


def usual_exponent() -> float:
    """Power of the viscosity that nozzle flow follows: the middle of what is told in the trade."""
    return (oil_figures.practice("exponent-least") + oil_figures.practice("exponent-most")) / 2.0


@dataclass(frozen=True, slots=True)
class Day:
    """One day of the year, or the day of the tuning.

    words      such as "the hottest days"
    air        K, combustion air as it reaches the burner
    outdoors   K, for a chimney; None where it does not matter
    oil        K, at the pump; None where it does not matter
    barometer  Pa, absolute
    """

    words: str
    air: Number
    outdoors: Number | None = None
    oil: Number | None = None
    barometer: Number = 101_325.0


@dataclass(frozen=True, slots=True)
class Year:
    """What the site brings in a year, beside what the day of the tuning was.

    days       ends of the seasons: air, outdoors and oil of one day belong together
    barometer  Pa, lowest and highest, None where it is left out
    wobbe      relative change of the Wobbe index, lowest and highest, None where it is left out
    play       mol/mol of oxygen by which linkage and control play
    gases      other gases that may come, such as one with hydrogen in it
    """

    days: Sequence[Day]
    barometer: tuple[Number, Number] | None = None
    wobbe: tuple[float, float] | None = None
    play: Number = 0.0
    gases: Sequence[FuelRecord] = ()


@dataclass(frozen=True, slots=True)
class Corner:
    """One corner of the year.

    words      which: air, barometer, gas
    swing      air ratio there over the air ratio as set
    air_ratio  there
    oxygen     mol/mol dry there less the play; None where the flame has not the air it needs
    """

    words: str
    swing: Number
    air_ratio: Number
    oxygen: Number | None


@dataclass(frozen=True, slots=True)
class Margin:
    """What a set point comes to over the year.

    worst, leanest  corners with the least and the most air
    costs           what each cause alone does to the oxygen, mol/mol, the gravest first: words and change
    """

    worst: Corner
    leanest: Corner
    costs: tuple[tuple[str, float], ...]


@dataclass(frozen=True, slots=True)
class Setting:
    """How a burner holds its air and what the day of tuning was.

    chimney  K, mean temperature of the gas in the chimney, for a natural draft
    exponent power of the viscosity that nozzle flow follows, for oil
    """

    mechanism: Mechanism
    tuned: Day
    fuel: FuelRecord
    chimney: Number | None = None
    exponent: Number = field(default_factory=usual_exponent)

    @property
    def oil(self) -> bool:
        """Whether a pump and a nozzle bring the fuel."""
        return self.mechanism in ("oil outdoors", "oil indoors")


def air_ratio_of(setting: Setting, oxygen: Number) -> Number:
    """Air ratio of a dry oxygen reading."""
    flue = balance.from_dry_oxygen(fuel=setting.fuel.fuel, air=DRY_AIR, oxygen_dry_fraction=oxygen)
    return flue.air_ratio


def oxygen_of(setting: Setting, air_ratio: Number, *, burnt: FuelRecord | None = None) -> Number:
    """Dry oxygen that an air ratio leaves, below nothing where there is not enough air.

    burnt  another gas than that of the setting, None for the same
    """
    fuel = (burnt or setting.fuel).fuel
    flue = balance.from_air_ratio(fuel=fuel, air=DRY_AIR, air_ratio=air_ratio)
    return balance.oxygen_dry_fraction(flue=flue)


def _dry(temperature: Number) -> Number:
    """Density of air at one barometer; what the barometer does is reckoned by itself."""
    return density(temperature=temperature, pressure=101_325.0)


def _by_air(setting: Setting, day: Day) -> Number:
    """What the air of another day does, at the same barometer."""
    tuned, temperatures = setting.tuned, {"tuned_temperature": setting.tuned.air, "later_temperature": day.air}
    if setting.mechanism in ("one differential", "draft held"):
        return drift.air_ratio_one_differential(air_ratio=1.0, **temperatures)
    if setting.mechanism != "natural draft":
        return drift.air_ratio_fixed_volume(air_ratio=1.0, **temperatures)
    if setting.chimney is None or tuned.outdoors is None or day.outdoors is None:
        return drift.air_ratio_one_differential(air_ratio=1.0, **temperatures)

    def pull(outdoors: Number) -> Number:
        return ops.maximum(_dry(outdoors) - _dry(setting.chimney), 1e-6)

    return drift.air_ratio_by_draft(
        air_ratio=1.0,
        tuned_draft=pull(tuned.outdoors),
        later_draft=pull(day.outdoors),
        tuned_density=_dry(tuned.air),
        later_density=_dry(day.air),
    )


def oil_flow_ratio(setting: Setting, oil: Number) -> Number | None:
    """Oil burned with oil at another temperature over oil burned at the tuning; None where the oil is not known."""
    record, tuned = setting.fuel, setting.tuned.oil
    usual = oil_figures.viscosities(record.name)
    if usual is None or tuned is None or record.density is None or record.density_temperature is None:
        return None
    thickest = oil_figures.practice("thickest") * 1e-6

    def thick(temperature: Number) -> Number:
        found = oil_supply.oil_viscosity(
            cold_viscosity=usual.cold,
            cold_temperature=oil_figures.COLD,
            warm_viscosity=usual.warm,
            warm_temperature=oil_figures.WARM,
            temperature=temperature,
        )
        return ops.minimum(found, thickest)

    at = {"reference_density": record.density, "reference_temperature": record.density_temperature}
    return oil_supply.oil_mass_flow_ratio(
        tuned_density=oil_supply.oil_density(**at, temperature=tuned),
        later_density=oil_supply.oil_density(**at, temperature=oil),
        tuned_viscosity=thick(tuned),
        later_viscosity=thick(oil),
        viscosity_exponent=setting.exponent,
    )


def _by_oil(setting: Setting, day: Day) -> Number:
    if setting.mechanism != "oil outdoors" or day.oil is None:
        return 1.0
    ratio = oil_flow_ratio(setting, day.oil)
    return 1.0 if ratio is None else 1.0 / ratio


def _by_barometer(setting: Setting, barometer: Number | None) -> Number:
    if barometer is None or setting.mechanism == "one differential":
        return 1.0
    pressures = {"set_barometer": setting.tuned.barometer, "barometer": barometer}
    if setting.oil:
        return drift.air_ratio_after_barometer_fixed_fuel(air_ratio=1.0, **pressures)
    return drift.air_ratio_after_barometer(air_ratio=1.0, **pressures)


def _by_wobbe(wobbe: float) -> Number:
    return drift.air_ratio_after_wobbe(air_ratio=1.0, wobbe_change=wobbe)


def _by_other_gas(now: FuelRecord, other: FuelRecord) -> Number:
    """What another gas does through the same orifice with the same air."""
    known, new = (
        {name: figure.value or 0.0 for name, figure in figures(record, reference=AT).items()} for record in (now, other)
    )
    return drift.air_ratio_after_gas(
        air_ratio=1.0,
        air_need=known["air_need"],
        relative_density=known["relative_density"],
        new_air_need=new["air_need"],
        new_relative_density=new["relative_density"],
    )


@dataclass(frozen=True, slots=True)
class _Gas:
    """A gas that may come: in words, what it does to the air ratio, and which it is."""

    words: str
    times: Number
    burnt: FuelRecord


def _gases(setting: Setting, year: Year) -> tuple[_Gas, ...]:
    same = _Gas("", 1.0, setting.fuel)
    if setting.fuel.kind != "gas":
        return (same,)
    swung = () if year.wobbe is None else zip(("poorest gas", "richest gas"), year.wobbe, strict=True)
    ends = tuple(_Gas(words, _by_wobbe(change), setting.fuel) for words, change in swung)
    others = tuple(_Gas(other.words, _by_other_gas(setting.fuel, other), other) for other in year.gases)
    return (same, *ends, *others)


def swing(setting: Setting, day: Day, *, barometer: Number | None = None) -> Number:
    """Air ratio on another day over the air ratio as set, with the same gas.

    setting    what holds air and fuel together, and the day of the tuning
    day        another day
    barometer  Pa on it, None for that of the tuning
    """
    return _by_air(setting, day) * _by_oil(setting, day) * _by_barometer(setting, barometer)


def _named(day: Day, barometer: str, gas: str) -> str:
    return ", ".join(part for part in (day.words, barometer, gas) if part)


def _ends(pair: tuple[Number, Number] | None, words: tuple[str, str]) -> tuple[tuple[Number | None, str], ...]:
    return ((None, ""),) if pair is None else ((pair[0], words[0]), (pair[1], words[1]))


def corners(setting: Setting, year: Year, *, oxygen: Number) -> Iterator[Corner]:
    """Every corner of the year: ends of the seasons, barometer, gas.

    oxygen  mol/mol dry as set
    """
    now = air_ratio_of(setting, oxygen)
    low_high = _ends(year.barometer, ("low barometer", "high barometer"))
    for day, (pressure, said), gas in product((setting.tuned, *year.days), low_high, _gases(setting, year)):
        times = swing(setting, day, barometer=pressure) * gas.times
        there = now * times
        left = oxygen_of(setting, there, burnt=gas.burnt) - year.play
        short = float(ops.value_of(there)) < 1.0 or float(ops.value_of(left)) < 0.0
        yield Corner(_named(day, said, gas.words), times, there, None if short else left)


def _alone(setting: Setting, year: Year, oxygen: Number) -> Iterator[tuple[str, float]]:
    """What each cause does by itself at its bad end, mol/mol of oxygen."""
    now = air_ratio_of(setting, oxygen)

    def moved(times: Number) -> float:
        return float(ops.value_of(oxygen_of(setting, now * times))) - float(ops.value_of(oxygen))

    if year.days:
        yield "air of the season", min(moved(_by_air(setting, day)) for day in year.days)
        if setting.mechanism == "oil outdoors":
            yield "cold oil", min(moved(_by_oil(setting, day)) for day in year.days)
    if year.barometer is not None:
        yield "barometer", min(moved(_by_barometer(setting, one)) for one in year.barometer)
    gases = _gases(setting, year)
    if len(gases) > 1:
        yield "gas of the network", min(moved(gas.times) for gas in gases)
    if float(ops.value_of(year.play)) > 0.0:
        yield "play of linkage and control", -float(ops.value_of(year.play))


def over_the_year(setting: Setting, year: Year, *, oxygen: Number) -> Margin:
    """What a set point comes to at the corners of the year.

    oxygen  mol/mol dry as set
    -> worst and leanest corner, and what each cause takes
    """
    found = sorted(corners(setting, year, oxygen=oxygen), key=lambda one: float(ops.value_of(one.air_ratio)))
    costs = sorted(_alone(setting, year, oxygen), key=lambda one: one[1])
    return Margin(found[0], found[-1], tuple(one for one in costs if one[1] < -1e-9))


def set_point(setting: Setting, year: Year, *, least: Number) -> Number:
    """Oxygen to set so that the worst corner of the year still has the least that is safe.

    setting  what holds air and fuel together, and the day of the tuning
    year     what the site brings
    least    mol/mol dry that the flame needs at any time: the near end of its knee
    -> oxygen to set today, mol/mol dry; never less than the least and the play
    """
    needed = air_ratio_of(setting, least + year.play)
    worst = min((one.swing for one in corners(setting, year, oxygen=least)), key=lambda one: float(ops.value_of(one)))
    return ops.maximum(oxygen_of(setting, needed / worst), least + year.play)
