"""Turns the table of one fuel file, of the library or a person's own, into a fuel record."""

import re
from collections.abc import Mapping
from dataclasses import replace
from typing import Any

from fluewright.fuels import refusals
from fluewright.fuels.record import Band, FuelRecord, Kind
from fluewright.fuels.shares import Composition, adding_up, share_of, visible
from fluewright.kernel import fuel as kernel
from fluewright.kernel.constants import LATENT_HEAT
from fluewright.kernel.fuel import HYDROGEN_MASS, WATER_MASS, Fuel
from fluewright.kernel.gas_properties import mole_fractions_from_volume

TOP = (
    "words", "aliases", "kind", "by", "moisture", "source", "known", "note", "blend",
    "composition", "spread", "heating_value", "density", "groups", "wobbe",
)  # fmt: skip
"""Keys of a fuel file."""
TABLES: Mapping[str, tuple[str, ...]] = {
    "heating_value": ("gross", "net", "spread", "known"),
    "density": ("value", "at", "spread", "known"),
    "groups": ("siegert", "f_factor", "fo", "latent"),
    "wobbe": ("low", "high", "reference", "source", "known"),
}
"""Keys of its tables; those of composition and spread are components."""
MOISTURE_MOST = 0.70
WOODY_OXYGEN = 0.36
"""kg/kg: above it an analysis without a kind is taken for wood; spirits and biodiesel stay below."""
HEAT_LEAST, HEAT_MOST = 2e6, 1.45e8
"""J/kg: soaked wood with much ash, and hydrogen."""
DENSITY_LEAST, DENSITY_MOST = 50.0, 2000.0
"""kg/m3: loose straw and solid coal."""
ESTIMATE_SPREAD = {"liquid": 0.015, "solid": 0.03}
"""Relative: scatter of the estimate by Channiwala and Parikh, 1.5 % on average; 3 % for wood (kernel.fuel)."""


def measure(text: object, *, quantity: str, where: str) -> float:
    """A number with its unit, in the canonical unit.

    text      such as "45.5 MJ/kg" or "845 kg/m3"
    quantity  registry name
    where     file or text it stands in, for the error
    -> value; QuantityError for a unit that does not fit, FuelError when there is no number
    """
    from fluewright.quantity.units import to_canonical

    match = re.fullmatch(r"\s*([-+]?\d*[.,]?\d+(?:e[-+]?\d+)?)\s*([^\d\s.,].*?)\s*", str(text), re.IGNORECASE)
    if match is None:
        raise refusals.not_a_measure(quantity, str(text), where)
    return to_canonical(float(match[1].replace(",", ".")), unit=match[2], quantity=quantity)


def record_from_table(table: Mapping[str, Any], *, name: str, where: str, moisture: float | None = None) -> FuelRecord:
    """A fuel record from the table of a fuel file.

    table     keys of TOP; composition in percent or fractions
    name      what the fuel is to be called
    where     file it stands in, for errors
    moisture  kg/kg as fired instead of the file's own, for solids described dry
    -> fuel record; FuelError with four parts
    """
    _check_keys(table, where)
    by = str(table.get("by", ""))
    if by not in ("", "mole", "volume", "mass"):
        raise refusals.unknown_measure(by, where)
    if "blend" in table:
        return _blend(table, name=name, where=where, moisture=moisture)
    shares = table.get("composition")
    if not isinstance(shares, Mapping):
        raise refusals.lacking("a table [composition]", where)
    composition = adding_up([share_of(key, value, where=where) for key, value in shares.items()], where=where)
    spreads = _spreads(table.get("spread", {}), composition, where)
    if composition.kind == "gas":
        return _gas(table, composition, spreads, name=name, where=where, moisture=moisture)
    return _ultimate(table, composition, spreads, name=name, where=where, moisture=moisture)


def _blend(table: Mapping[str, Any], *, name: str, where: str, moisture: float | None) -> FuelRecord:
    """A fuel that a file describes as a blend of others."""
    from fluewright.fuels.blend import from_words

    if moisture is not None:
        raise refusals.no_moisture_here(name)
    if "composition" in table:
        raise refusals.said_twice("the composition", "composition", "blend", where)
    made = from_words(str(table["blend"]))
    return replace(
        made,
        name=name,
        words=str(table.get("words", made.words)),
        fuel=replace(made.fuel, name=name),
        source=f"{table.get('source', where)}; {made.source}",
        known=str(table.get("known", made.known)),
        aliases=tuple(table.get("aliases", ())),
        note=str(table.get("note", "")),
        understood=str(table["blend"]),
    )


def _check_keys(table: Mapping[str, Any], where: str) -> None:
    for key, value in table.items():
        if key not in TOP:
            raise refusals.unknown_key(key, TOP, where)
        if (key in TABLES or key in ("composition", "spread")) and not isinstance(value, Mapping):
            raise refusals.wrong_shape(key, "a table of its own", where)
        if key == "aliases" and not (isinstance(value, list) and all(isinstance(one, str) for one in value)):
            raise refusals.wrong_shape(key, "a list of names in quotes", where)
        for inner in value if key in TABLES else ():
            if inner not in TABLES[key]:
                raise refusals.unknown_key(f"{key}.{inner}", [f"{key}.{one}" for one in TABLES[key]], where)
    for key in table.get("wobbe", {}) and TABLES["wobbe"]:
        if key not in table["wobbe"]:
            raise refusals.lacking(f"wobbe.{key}", where)


def _spreads(table: Mapping[str, Any], composition: Composition, where: str) -> dict[str, float]:
    """Standard uncertainties of shares, always in percent points, as fractions."""
    found = {}
    for key, value in table.items():
        points = share_of(key, value, where=where).value
        if key not in composition.fractions and key != "water":
            raise refusals.unknown_key(f"spread.{key}", [f"spread.{one}" for one in composition.fractions], where)
        found[key] = (points or 0.0) / 100.0
    return found


def _gas(
    table: Mapping[str, Any],
    composition: Composition,
    spreads: Mapping[str, float],
    *,
    name: str,
    where: str,
    moisture: float | None,
) -> FuelRecord:
    if moisture is not None or "moisture" in table:
        raise refusals.no_moisture_here(name)
    if "heating_value" in table:
        raise refusals.heat_of_a_gas(where)
    if table.get("kind", "gas") != "gas":
        raise refusals.strange_kind(str(table["kind"]), where)
    by = str(table.get("by", "mole"))
    if by == "mass":
        raise refusals.unknown_measure(by, where)
    fractions = dict(composition.fractions)
    if by == "volume":
        fractions = {key: float(x) for key, x in mole_fractions_from_volume(volume_fractions=fractions).items()}
    fuel = kernel.gas(name=name, mole_fractions=fractions)
    _check_burns(fuel, where)
    return _record(table, "gas", fuel, fractions, spreads, composition.understood, name=name, where=where)


def _ultimate(
    table: Mapping[str, Any],
    composition: Composition,
    spreads: Mapping[str, float],
    *,
    name: str,
    where: str,
    moisture: float | None,
) -> FuelRecord:
    if str(table.get("by", "mass")) != "mass":
        raise refusals.unknown_measure(str(table["by"]), where)
    fractions = dict(composition.fractions)
    stated = table.get("moisture")
    if moisture is not None and stated is None:
        raise refusals.no_moisture_here(name)
    water = moisture if moisture is not None else _own_moisture(stated, where)
    if not 0.0 <= water <= MOISTURE_MOST:
        raise refusals.strange_moisture(water, where)
    if stated is not None and "water" in fractions:
        raise refusals.said_twice("water", "moisture", "water", where)
    solid = bool(fractions.keys() & {"water", "ash"}) or stated is not None or fractions.get("O", 0.0) > WOODY_OXYGEN
    kind: Kind = table.get("kind") or ("solid" if solid else "liquid")
    if kind not in ("liquid", "solid"):
        raise refusals.strange_kind(str(kind), where)
    dry_gross, how, doubt = _gross(table.get("heating_value", {}), fractions, kind, where)
    left = 1.0 - water
    if water or stated is not None:
        fractions = {**{key: share * left for key, share in fractions.items()}, "water": water}
    spread = {key: value if key == "water" else value * left for key, value in spreads.items()}
    if doubt:
        spread["heating_value_gross"] = doubt * left
    fuel = kernel.ultimate(name=name, mass_fractions=fractions, heating_value_gross=dry_gross * left)
    _check_burns(fuel, where)
    return _record(table, kind, fuel, fractions, spread, composition.understood, name=name, where=where, how=how)


def _own_moisture(stated: object, where: str) -> float:
    if stated is None:
        return 0.0
    share = share_of("moisture", stated, where=where)
    value = share.value or 0.0
    return value / 100.0 if share.unit == "%" else value


def _gross(given: Mapping[str, Any], fractions: Mapping[str, float], kind: str, where: str) -> tuple[float, str, float]:
    """Gross heating value of the fuel as analysed, how it is known, its standard uncertainty."""
    latent = LATENT_HEAT * (fractions.get("H", 0.0) / HYDROGEN_MASS / 2.0 + fractions.get("water", 0.0) / WATER_MASS)
    heats = {
        end: measure(given[end], quantity=f"heating_value_{end}_per_mass", where=where)
        for end in ("gross", "net")
        if end in given
    }
    if not heats:
        whole = {key: fractions.get(key, 0.0) for key in ("C", "H", "O", "N", "S", "ash")}
        gross = float(kernel.gross_from_ultimate(mass_fractions=whole))
        return gross, "estimated from the analysis (Channiwala and Parikh 2002)", gross * ESTIMATE_SPREAD[kind]
    gross = heats.get("gross", heats.get("net", 0.0) + latent)
    if not HEAT_LEAST <= gross <= HEAT_MOST:
        raise refusals.strange_heating_value(gross, where)
    if len(heats) == 2 and abs(gross - heats["net"] - latent) > 0.01 * gross:
        raise refusals.contradicting_heats(gross=gross, net=heats["net"], where=where)
    how = str(given.get("known", "as given")) + ("" if "gross" in heats else ", net value brought to gross")
    doubt = measure(given["spread"], quantity="heating_value_gross_per_mass", where=where) if "spread" in given else 0.0
    if doubt > gross:
        raise refusals.strange_heating_value(doubt, where)
    return gross, how, _not_negative(doubt, "heating value", where)


def _check_burns(fuel: Fuel, where: str) -> None:
    if fuel.heating_value_gross <= 0.0 or fuel.carbon + fuel.hydrogen + fuel.sulfur <= 0.0:
        raise refusals.nothing_burns(where)
    if fuel.heating_value_net <= 0.0:
        raise refusals.nothing_burns(where)
    if fuel.carbon + fuel.sulfur + fuel.hydrogen / 4.0 - fuel.oxygen / 2.0 <= 0.0:
        raise refusals.burns_by_itself(where)


def _record(
    table: Mapping[str, Any],
    kind: Kind,
    fuel: Fuel,
    fractions: Mapping[str, float],
    spreads: Mapping[str, float],
    understood: str,
    *,
    name: str,
    where: str,
    how: str = "",
) -> FuelRecord:
    density, at, doubt = _density(table.get("density", {}), where)
    gas = kind == "gas"
    return FuelRecord(
        name=name,
        words=visible(str(table.get("words", name))),
        kind=kind,
        fuel=fuel,
        mole_fractions=fractions if gas else None,
        mass_fractions=None if gas else fractions,
        spreads=spreads,
        source=visible(str(table.get("source", where))),
        known=visible(str(table.get("known", "as given"))),
        density=density,
        density_temperature=at,
        density_spread=doubt,
        groups=dict(table.get("groups", {})),
        heating_value_known=how,
        aliases=tuple(table.get("aliases", ())),
        note=visible(str(table.get("note", ""))),
        understood=understood,
        wobbe=_band(table["wobbe"], where) if "wobbe" in table else None,
    )


def _density(given: Mapping[str, Any], where: str) -> tuple[float | None, float | None, float]:
    """Density, kg/m3, its temperature, K, and its standard uncertainty, kg/m3."""
    if "value" not in given:
        return None, None, 0.0
    density = measure(given["value"], quantity="density", where=where)
    if not DENSITY_LEAST <= density <= DENSITY_MOST:
        raise refusals.strange_density(density, where)
    at = measure(given["at"], quantity="air_temperature", where=where) if "at" in given else None
    doubt = measure(given["spread"], quantity="density", where=where) if "spread" in given else 0.0
    return density, at, _not_negative(doubt, "density", where)


def _not_negative(doubt: float, what: str, where: str) -> float:
    if doubt < 0.0:
        raise refusals.negative_share(f"the spread of {what}", doubt, where)
    return doubt


def _band(table: Mapping[str, Any], where: str) -> Band:
    low, high = (measure(table[end], quantity="wobbe_gross", where=where) for end in ("low", "high"))
    return Band(low, high, str(table["reference"]), str(table["source"]), str(table["known"]))
