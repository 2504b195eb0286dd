"""Fuels blended: by volume as a supplier mixes them, or by the energy each brings."""

import math
import re
from collections.abc import Callable, Sequence
from dataclasses import replace

from fluewright.errors import FuelError
from fluewright.fuels import refusals
from fluewright.fuels.load import load
from fluewright.fuels.record import FuelRecord, Kind
from fluewright.fuels.shares import CLOSE, visible
from fluewright.kernel import fuel as kernel
from fluewright.kernel.gas_properties import compression_factor

__all__ = ["blend_by_energy", "blend_by_volume", "from_words"]

Parts = Sequence[tuple[FuelRecord, float]]
"""Fuels and their shares, summing to 1."""

_PART = re.compile(r"^\s*(?P<name>\S.*?)[\s:=]+(?P<share>[\d.,]+|rest)\s*%?\s*$", re.IGNORECASE)
_BY = re.compile(r"^(.*?)\s+by\s+(\w+)\s*$", re.IGNORECASE)


def from_words(text: str) -> FuelRecord:
    """A blend as it is said: fuels of the library with their shares.

    text  "natural-gas 80 + hydrogen 20", "oil-no-2 rest + b100 20 by volume", "natural-gas 80 + hydrogen 20 by energy";
          percent or fractions; by volume when nothing is said
    -> fuel record; FuelError with four parts
    """
    where = visible(text, most=100)
    match = _BY.match(text)
    said, by = (match[1], match[2].lower()) if match else (text, "volume")
    ways: dict[str, Callable[[Parts], FuelRecord]] = {"volume": blend_by_volume, "energy": blend_by_energy}
    if by not in ways:
        raise refusals.unknown_measure(by, where)
    named = []
    for piece in said.split("+"):
        part = _PART.match(piece)
        if part is None:
            raise refusals.not_understood(piece.strip(), where)
        named.append((part["name"], part["share"].lower()))
    shares = _shares([share for _, share in named], where)
    return ways[by]([(load(name), share) for (name, _), share in zip(named, shares, strict=True)])


def _shares(said: Sequence[str], text: str) -> list[float]:
    try:
        values = [None if one == "rest" else float(one.replace(",", ".")) for one in said]
    except ValueError as fault:
        raise refusals.not_understood(text, text) from fault
    known = math.fsum(value for value in values if value is not None)
    if values.count(None) > 1:
        raise refusals.rest_twice(text)
    whole = 100.0 if known > 1.0 + CLOSE else 1.0
    if None in values and known <= whole:
        values = [whole - known if value is None else value for value in values]
    total = math.fsum(value for value in values if value is not None)
    if None in values or abs(total / whole - 1.0) > CLOSE:
        raise _blend_does_not_add_up(total, text)
    return [(value or 0.0) / whole for value in values]


def blend_by_volume(parts: Parts) -> FuelRecord:
    """A blend of gases by volume of gas at 15 C, or of liquids by volume of liquid.

    Hydrogen in natural gas and biodiesel in oil are said by volume.

    parts  fuels and their shares of the volume, summing to 1
    -> fuel record; FuelError FW-F-017 to FW-F-019
    Holds   volumes add up: to 0.1 % for gases, to 0.2 % for oil with biodiesel
    Source  EN 437 (volumes of gases, ISO 6976 compression factors); densities of the fuels
    """
    kind = _one_kind(parts)
    _check_sum(parts)
    if kind == "gas":
        amounts = [share / float(_compression(part)) for part, share in parts]
        return _gas(parts, amounts, "volume")
    return _liquid(parts, [share * _density(part) for part, share in parts], "volume")


def blend_by_energy(parts: Parts) -> FuelRecord:
    """A blend in which each fuel brings a share of the gross heat.

    Hydrogen that is a fifth of the volume is only a fourteenth of the heat: targets are often set by energy.

    parts  fuels and their shares of the gross heat, summing to 1
    -> fuel record; FuelError FW-F-017, FW-F-018
    Holds   gross heating values at 25 C
    Source  amounts are heat divided by heating value
    """
    kind = _one_kind(parts)
    _check_sum(parts)
    amounts = [share / float(part.fuel.heating_value_gross) for part, share in parts]
    return _gas(parts, amounts, "energy") if kind == "gas" else _liquid(parts, amounts, "energy")


def _compression(record: FuelRecord) -> float:
    return float(compression_factor(mole_fractions=record.mole_fractions or {}, metering="15"))


def _density(record: FuelRecord) -> float:
    if record.density is None:
        raise _no_density(record.name)
    return record.density


def _one_kind(parts: Parts) -> Kind:
    first = parts[0][0]
    for other, _ in parts[1:]:
        if other.kind != first.kind:
            raise _blend_of_unlike(first.words, other.words)
    return first.kind


def _check_sum(parts: Parts) -> None:
    total = math.fsum(share for _, share in parts)
    said = _said(parts)
    if any(share < 0.0 for _, share in parts):
        raise refusals.negative_share("a part of the blend", min(share for _, share in parts), said)
    if abs(total - 1.0) > CLOSE:
        raise _blend_does_not_add_up(total, said)


def _said(parts: Parts) -> str:
    return " + ".join(f"{part.name} {100.0 * share:.6g}" for part, share in parts)


def _mixed(parts: Parts, weights: Sequence[float], keys: Sequence[str], field: str) -> dict[str, float]:
    """Shares of a blend, in the order of its parts."""
    return {
        key: math.fsum(
            (getattr(part, field) or {}).get(key, 0.0) * w for (part, _), w in zip(parts, weights, strict=True)
        )
        for key in keys
    }


def _doubts(parts: Parts, weights: Sequence[float]) -> dict[str, float]:
    """Spreads of independent supplies, added as squares."""
    keys = {key for part, _ in parts for key in part.spreads}
    pairs = list(zip(parts, weights, strict=True))
    return {key: math.hypot(*(part.spreads.get(key, 0.0) * w for (part, _), w in pairs)) for key in sorted(keys)}


def _weights(amounts: Sequence[float]) -> list[float]:
    total = math.fsum(amounts)
    return [amount / total for amount in amounts]


def _gas(parts: Parts, moles: Sequence[float], by: str) -> FuelRecord:
    weights = _weights(moles)
    keys = list(dict.fromkeys(key for part, _ in parts for key in part.shares))
    fractions = _mixed(parts, weights, keys, "mole_fractions")
    made = kernel.gas(name=_said(parts), mole_fractions=fractions)
    record = replace(parts[0][0], fuel=made, mole_fractions=fractions, spreads=_doubts(parts, weights))
    return _dressed(record, parts, by)


def _liquid(parts: Parts, masses: Sequence[float], by: str) -> FuelRecord:
    weights = _weights(masses)
    keys = list(dict.fromkeys(key for part, _ in parts for key in part.shares))
    fractions = _mixed(parts, weights, keys, "mass_fractions")
    made = kernel.blend(name=_said(parts), parts=[(part.fuel, w) for (part, _), w in zip(parts, weights, strict=True)])
    densities = [part.density for part, _ in parts]
    density = None
    if all(densities):
        density = 1.0 / math.fsum(w / d for w, d in zip(weights, densities, strict=True) if d)
    record = replace(parts[0][0], fuel=made, mass_fractions=fractions, spreads=_doubts(parts, weights), density=density)
    return _dressed(record, parts, by)


def _dressed(record: FuelRecord, parts: Parts, by: str) -> FuelRecord:
    """Name, words and sources of a blend; a legal group only where all parts are in it."""
    said = _said(parts)
    first = parts[0][0].groups
    groups = {key: group for key, group in first.items() if all(part.groups.get(key) == group for part, _ in parts)}
    heats = list(dict.fromkeys(part.heating_value_known for part, _ in parts if part.heating_value_known))
    return replace(
        record,
        name=f"{said} by {by}",
        words=" and ".join(f"{100.0 * share:.6g} % {part.words}" for part, share in parts) + f", by {by}",
        source="; ".join(dict.fromkeys(f"{part.name}: {part.source}" for part, _ in parts)),
        known="; ".join(dict.fromkeys(part.known for part, _ in parts)),
        groups=groups,
        heating_value_known="; ".join(heats),
        aliases=(),
        note="",
        understood=f"parts of the {'gross heat' if by == 'energy' else 'volume'}",
        wobbe=None,
    )


def _blend_does_not_add_up(total: float, text: str) -> FuelError:
    """Parts of a blend whose sum is neither 100 % nor 1."""
    return FuelError(
        code="FW-F-017",
        read=f"a blend whose parts add up to {total:.8g}",
        expected="100 or 1",
        matters="stretching the parts in silence would hide a slip",
        do="correct a part, or write rest for one of them: natural-gas rest + hydrogen 20",
        where=text,
    )


def _blend_of_unlike(first: str, second: str) -> FuelError:
    """Gas blended with liquid or solid."""
    return FuelError(
        code="FW-F-018",
        read=f"a blend of {first} and {second}",
        expected="fuels of one kind: gases with gases, liquids with liquids, solids with solids by energy",
        matters="they are counted in different units and burn in different burners",
        do="work out each fuel by itself",
        where="",
    )


def _no_density(name: str) -> FuelError:
    """A blend by volume of a fuel whose density nobody gave."""
    return FuelError(
        code="FW-F-019",
        read=f"{name}, whose density is not known, in a blend by volume",
        expected="a density such as 845 kg/m3",
        matters="volumes become masses only through density",
        do="give density=845 kg/m3 in the composition, or blend by energy",
        where=name,
    )
