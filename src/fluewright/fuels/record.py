"""A fuel with everything known about it: what it is made of, how surely, and where that comes from."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from typing import Literal

from fluewright.kernel import fuel as kernel
from fluewright.kernel.fuel import Fuel
from fluewright.kernel.ops import Number

Kind = Literal["gas", "liquid", "solid"]


@dataclass(frozen=True, slots=True)
class Band:
    """A published range, such as that of the Wobbe index in a network.

    low, high  J/m3
    reference  combustion and metering reference, such as 15/15
    source     document, edition, table
    known      read, from memory or computed
    """

    low: float
    high: float
    reference: str
    source: str
    known: str


@dataclass(frozen=True, slots=True)
class FuelRecord:
    """One fuel of the library, of a file, of a blend or typed in.

    name                 as asked for
    words                as a person says it
    kind                 gas, liquid or solid as it burns
    fuel                 for the kernel
    mole_fractions       mol/mol of a gas, else None
    mass_fractions       kg/kg as fired of a liquid or solid, else None
    spreads              standard uncertainty between supplies: of shares (same keys), of heating_value_gross, J/kg
    source, known        document, edition, table; read, computed, from memory
    density              kg/m3 of a liquid or of a stored liquefied gas, None when not known
    density_temperature  K
    density_spread       kg/m3
    groups               keys of the legal short forms: siegert, f_factor, fo, latent
    heating_value_known  how the heating value of a liquid or solid is known; empty for a gas
    aliases              other names
    note                 what else to know, one sentence or none
    understood           what was taken for granted in a typed composition
    wobbe                published Wobbe band
    published            published values to compare with, in words by property
    """

    name: str
    words: str
    kind: Kind
    fuel: Fuel
    mole_fractions: Mapping[str, float] | None
    mass_fractions: Mapping[str, float] | None
    spreads: Mapping[str, float]
    source: str
    known: str
    density: float | None = None
    density_temperature: float | None = None
    density_spread: float = 0.0
    groups: Mapping[str, str] = field(default_factory=dict)
    heating_value_known: str = ""
    aliases: tuple[str, ...] = ()
    note: str = ""
    understood: str = ""
    wobbe: Band | None = None

    @property
    def siegert_group(self) -> str:
        """Key of short_forms.SIEGERT, empty where the ordinance has no constants for this fuel."""
        return self.groups.get("siegert", "")

    @property
    def f_factor_group(self) -> str:
        """Key of short_forms.F_FACTORS, empty where Method 19 has no row."""
        return self.groups.get("f_factor", "")

    @property
    def fo_group(self) -> str:
        """Key of short_forms.FO_RANGES, empty where Method 3B has no row."""
        return self.groups.get("fo", "")

    @property
    def latent_group(self) -> str:
        """Key of short_forms.LATENT_CONSTANTS, empty where the US test procedure has none."""
        return self.groups.get("latent", "")

    @property
    def shares(self) -> Mapping[str, float]:
        """What the fuel is made of, by mole for a gas and by mass for any other."""
        return (self.mole_fractions if self.mole_fractions is not None else self.mass_fractions) or {}


def doubtful_shares(record: FuelRecord, number: Callable[[str, float, float], Number]) -> dict[str, Number]:
    """The shares as uncertain numbers that still add up: the largest share takes the rest.

    Moisture of a solid thins all other shares alike instead.

    record  fuel
    number  makes an uncertain number from name, value and standard uncertainty
    -> shares, same keys
    """
    shares = dict(record.shares)
    drying = record.kind == "solid" and "water" in shares
    water: Number = shares.pop("water", 0.0) if drying else 0.0
    if drying and record.spreads.get("water", 0.0):
        water = number("water", water, record.spreads["water"])
    body = sum(shares.values())
    main = max(shares, key=lambda name: shares[name])
    parts: dict[str, Number] = {}
    left: Number = 1.0
    for name, value in shares.items():
        spread = record.spreads.get(name, 0.0)
        if name == main:
            continue
        part = value / body if body != 1.0 else value
        parts[name] = number(name, part, spread / body) if spread else part
        left = left - parts[name]
    dry = {name: left if name == main else parts[name] for name in shares}
    if not drying:
        return dry
    return {**{name: part * (1.0 - water) for name, part in dry.items()}, "water": water}


def doubtful_fuel(record: FuelRecord, number: Callable[[str, float, float], Number]) -> Fuel:
    """The fuel with the doubt about what it is made of.

    record  fuel
    number  makes an uncertain number from name, value and standard uncertainty
    -> fuel for the kernel; the very fuel of the record when nothing is in doubt
    """
    if not any(record.spreads.values()):
        return record.fuel
    shares = doubtful_shares(record, number)
    if record.mole_fractions is not None:
        return kernel.gas(name=record.name, mole_fractions=shares)
    gross: Number = record.fuel.heating_value_gross
    water = (record.mass_fractions or {}).get("water", 0.0)
    spread = record.spreads.get("heating_value_gross", 0.0)
    if spread:
        gross = number("heating_value_gross", gross, spread)
    if record.kind == "solid" and water < 1.0:
        gross = gross * ((1.0 - shares.get("water", 0.0)) / (1.0 - water))
    return kernel.ultimate(name=record.name, mass_fractions=shares, heating_value_gross=gross)
