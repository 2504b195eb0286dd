"""Adapters for what laws and handbooks print: constants of the short forms, limits of the books, emission rates."""

from collections.abc import Callable, Mapping
from typing import Any

from fluewright.checks.rows import Row
from fluewright.checks.units import to_si
from fluewright.fuels import factors
from fluewright.kernel import short_forms
from fluewright.kernel.gases import molar_mass
from fluewright.rules import apply, load, select


def _limit(row: Row) -> float:
    """One limit of a book by its id."""
    found = load.limit(row.word("limit"))
    return to_si(found.limit, found.unit)


def _limits(row: Row) -> list[float]:
    """Several limits of the books, in the order in which the row names them."""
    return [to_si(one.limit, one.unit) for one in map(load.limit, row.inputs["limits"])]


def _limit_applying(row: Row) -> float:
    """The one limit of a book that speaks to a fuel and an output."""
    (found,) = select.applying(
        load.book(row.word("book")).limits,
        quantity=row.word("quantity"),
        fuel=row.word("fuel group"),
        appliance=row.word("appliance", "boiler"),
        heat_output=row.number("output"),
    )
    return to_si(found.limit, found.unit)


def _verdict(row: Row) -> float:
    """1 for inside, 0 for beyond, 0.5 for not decided."""
    value = apply.judged(load.limit(row.word("limit")), value=row.plain("value"), spread=row.plain("spread", "0"))
    return {"inside": 1.0, "beyond": 0.0, "undecided": 0.5}[value.passes]


def _rounded(row: Row) -> float:
    return to_si(apply.judged(load.limit(row.word("limit")), value=row.plain("value"), spread=0.0).result, row.unit)


def _siegert_constant(field: str) -> Callable[[Row], float]:
    return lambda row: float(getattr(short_forms.SIEGERT[row.word("group")], field))


def _factor(field: str, unit: str) -> Callable[[Row], float]:
    return lambda row: to_si(getattr(short_forms.F_FACTORS[row.word("fuel group")], field), unit)


def _fo(row: Row) -> Any:
    printed = short_forms.F_FACTORS[row.word("fuel group")]
    return short_forms.fo_from_factors(dry_factor=printed.dry, carbon_factor=printed.carbon)


def _ultimate(row: Row) -> dict[str, float]:
    names = ("hydrogen", "carbon", "sulfur", "nitrogen", "oxygen")
    return {**{name: row.plain(name, "0 %") for name in names}, "heating_value": row.plain("heating value")}


def _carbon_factor_from_ultimate(row: Row) -> Any:
    found = short_forms.carbon_factor_from_ultimate(
        carbon=row.plain("carbon"), heating_value=row.plain("heating value")
    )
    return to_si(found, "scf/MMBtu")


def _orsat(row: Row) -> dict[str, float]:
    return {
        "oxygen_percent": row.plain("oxygen"),
        "carbon_dioxide_percent": row.plain("carbon dioxide"),
        "carbon_monoxide_percent": row.plain("carbon monoxide", "0 %"),
    }


def _pound(row: Row) -> float:
    """lb/scf per ppm: the printed constant for nitrogen oxides, else from the molar mass."""
    if row.word("species") == "NO2":
        return short_forms.NOX_POUND_PER_SCF_PPM
    return short_forms.pound_per_scf_ppm(molar_mass=molar_mass(species=row.word("species")))


def _rate(row: Row) -> Any:
    """By the dry, the wet or the carbon factor, whichever sample the row gives."""
    printed = short_forms.F_FACTORS[row.word("fuel group")]
    measured = row.plain("measured")
    if "oxygen wet" in row.inputs:
        rate = short_forms.method_19_rate_wet(
            ppm_wet=measured,
            oxygen_wet_percent=row.plain("oxygen wet"),
            wet_factor=printed.wet,
            air_moisture=row.number("air moisture"),
            pound_per_scf_ppm=_pound(row),
        )
    elif "carbon dioxide" in row.inputs:
        rate = short_forms.method_19_rate_carbon(
            ppm=measured,
            carbon_dioxide_percent=row.plain("carbon dioxide"),
            carbon_factor=printed.carbon,
            pound_per_scf_ppm=_pound(row),
        )
    else:
        rate = short_forms.method_19_rate(
            ppm_dry=measured,
            oxygen_percent=row.plain("oxygen"),
            dry_factor=printed.dry,
            pound_per_scf_ppm=_pound(row),
        )
    return to_si(rate, "lb/MMBtu")


def _ppm_of_rate(row: Row) -> Any:
    """The rate is proportional to the concentration, so one call at 1 ppm gives the inverse."""
    one = short_forms.method_19_rate(
        ppm_dry=1.0,
        oxygen_percent=row.plain("oxygen"),
        dry_factor=short_forms.F_FACTORS[row.word("fuel group")].dry,
        pound_per_scf_ppm=_pound(row),
    )
    given = row.number("emission") / row.number("heating value")
    return given / to_si(one, "lb/MMBtu") * 1e-6


def _implied_efficiency(row: Row) -> Any:
    """Input rate of the ppm limit of a pair over its limit per output."""
    return _rate(row) / _limit(row)


def _as_given(row: Row) -> float:
    """A unit conversion: the value as it came, shown in the unit of the row."""
    return row.number("value")


def _default(row: Row) -> float:
    """A published default of the fuel library, by document, fuel and quantity."""
    wanted = (row.word("library fuel"), row.word("quantity"))
    (found,) = (
        each.value
        for each in factors.factors()
        if (each.fuel, each.quantity) == wanted and each.document.startswith(row.word("document", "40 CFR 98"))
    )
    return found


def _latent_constant(row: Row) -> float:
    return short_forms.LATENT_CONSTANTS[row.word("fuel group")]


ASKS: Mapping[str, Callable[[Row], Any]] = {
    "limit": _limit,
    "limits": _limits,
    "limit_applying": _limit_applying,
    "verdict": _verdict,
    "rounded_result": _rounded,
    "siegert_oxygen_factor": _siegert_constant("oxygen_factor"),
    "siegert_carbon_dioxide_factor": _siegert_constant("carbon_dioxide_factor"),
    "siegert_offset": _siegert_constant("offset"),
    "dry_factor": _factor("dry", "dscf/MMBtu"),
    "wet_factor": _factor("wet", "wscf/MMBtu"),
    "carbon_dioxide_factor": _factor("carbon", "scf/MMBtu"),
    "fuel_factor": _fo,
    "fuel_factor_from_analysis": lambda row: short_forms.fo_from_analysis(**_orsat(row)),
    "fuel_factor_range": lambda row: list(short_forms.FO_RANGES[row.word("fuel group")]),
    "dry_factor_from_ultimate": lambda row: to_si(short_forms.dry_factor_from_ultimate(**_ultimate(row)), "dscf/MMBtu"),
    "dry_factor_from_ultimate_si": lambda row: short_forms.dry_factor_from_ultimate_si(**_ultimate(row)),
    "carbon_factor_from_ultimate": _carbon_factor_from_ultimate,
    "excess_air_from_analysis": lambda row: short_forms.excess_air_method_3b(**_orsat(row)) / 100.0,
    "pound_per_scf_ppm": lambda row: to_si(_pound(row), "lb/scf per ppm"),
    "emission_rate": _rate,
    "concentration_of_rate": _ppm_of_rate,
    "implied_efficiency": _implied_efficiency,
    "as_given": _as_given,
    "published_default": _default,
    "latent_constant": _latent_constant,
}
