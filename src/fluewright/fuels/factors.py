"""Published defaults for fuels, to show beside what follows from the composition; no formula uses them."""

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from fluewright.fuels import refusals
from fluewright.fuels.figures import figures
from fluewright.fuels.record import FuelRecord
from fluewright.fuels.reference import Reference
from fluewright.fuels.shape import measure

TABLE = Path(__file__).parent / "factors.toml"


@dataclass(frozen=True, slots=True)
class Factor:
    """One published default.

    fuel      library name
    quantity  registry name
    value     canonical unit
    printed   as the document prints it, such as 138000 Btu/gal
    document  with edition and table
    known     read or from memory
    """

    fuel: str
    quantity: str
    value: float
    printed: str
    document: str
    known: str


@dataclass(frozen=True, slots=True)
class Emission:
    """One published emission of a kind of burner.

    fuel, what, value, unit, document, known   as printed
    """

    fuel: str
    what: str
    value: float
    unit: str
    document: str
    known: str


@dataclass(frozen=True, slots=True)
class PerHeat:
    """A published mass of one gas per heat burned, on the basis of its document.

    fuels     library names
    gas       CO2, CH4, N2O, or CO2e for several counted as carbon dioxide
    value     kg/J on that basis
    printed   as the document prints it
    basis     gross or net
    document  with edition and table
    known     read or from memory
    """

    fuels: tuple[str, ...]
    gas: str
    value: float
    printed: str
    basis: str
    document: str
    known: str


@dataclass(frozen=True, slots=True)
class Compared:
    """A published default beside this fuel.

    factor     the default
    ours       from the composition, canonical unit
    deviation  ours / default - 1
    """

    factor: Factor
    ours: float
    deviation: float


def _rows(kind: str) -> list[Mapping[str, Any]]:
    with TABLE.open("rb") as file:
        return list(tomllib.load(file).get(kind, []))


def factors() -> tuple[Factor, ...]:
    """All published defaults for heat and carbon, in the order of the file."""
    try:
        return tuple(
            Factor(
                row["fuel"],
                row["quantity"],
                measure(row["value"], quantity=row["quantity"], where=TABLE.name),
                row["value"],
                row["document"],
                row["known"],
            )
            for row in _rows("factor")
        )
    except (KeyError, tomllib.TOMLDecodeError) as fault:
        raise refusals.factors_damaged(str(fault)) from fault


def emissions() -> tuple[Emission, ...]:
    """All published emissions of kinds of burners."""
    return tuple(
        Emission(row["fuel"], row["what"], row["value"], row["unit"], row["document"], row["known"])
        for row in _rows("emission")
    )


def per_heat() -> tuple[PerHeat, ...]:
    """All published masses of gases per heat; carbon dioxide per gross heat of the defaults is among them."""
    try:
        rows = _rows("per_heat")
        own = [
            PerHeat(
                tuple(row["fuels"]),
                row["gas"],
                measure(
                    row["value"], quantity=f"carbon_factor{'_net' if row['basis'] == 'net' else ''}", where=TABLE.name
                ),
                row["value"],
                row["basis"],
                row["document"],
                row["known"],
            )
            for row in rows
        ]
    except (KeyError, tomllib.TOMLDecodeError) as fault:
        raise refusals.factors_damaged(str(fault)) from fault
    defaults = [
        PerHeat((one.fuel,), "CO2", one.value, one.printed, "gross", one.document, one.known)
        for one in factors()
        if one.quantity == "carbon_factor"
    ]
    return (*defaults, *own)


def beside(record: FuelRecord) -> tuple[Compared, ...]:
    """What this fuel gives, beside the published defaults for it.

    record  fuel of the library
    -> comparisons; none for a fuel without defaults
    Holds   gas volumes at 60 F; ideal where the document counts so
    """
    found = []
    for factor in factors():
        if factor.fuel == record.name:
            reference = Reference("60F", "60F", ideal="ideal" in factor.document)
            ours = figures(record, reference=reference)[factor.quantity].value
            if ours is not None:
                found.append(Compared(factor, ours, ours / factor.value - 1.0))
    return tuple(found)
