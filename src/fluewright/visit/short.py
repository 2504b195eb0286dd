"""Short forms that rules print, beside the balance of this very fuel: what another record may hold."""

from fluewright.evidence.flue import AIR_FREE_LIMIT, Worked
from fluewright.evidence.result import Result
from fluewright.evidence.workings import explained
from fluewright.kernel import dilution, gases, ops, short_forms
from fluewright.kernel.ops import Number
from fluewright.quantity import names, show, units

METHOD_19 = "40 CFR 60 Appendix A-7 Method 19 equation 19-1, factors of its table 19-2"
METHOD_3B = "40 CFR 60 Appendix A-2 Method 3B (from memory)"
POWER_TEST = "ASME PTC 4.1 abbreviated form (from memory)"
ROUTE = "common practice of US appliance standards, here with this fuel's own maximum"
FRESH = 20.9
"""% oxygen of fresh air in Method 19 equation 19-1, for printing; the kernel counts with its own."""
HOTTEST_ABBREVIATED = 575.0
"""F: the abbreviated form holds below this."""


def _percent(number: Number) -> Number:
    return number * 100.0


def _plain(number: Number) -> float:
    return float(ops.value_of(number))


def _fahrenheit(number: Number) -> Number:
    return number * 1.8 - 459.67


def _result(worked: Worked, name: str, number: Number, words: str, put_in: str, source: str, holds: str) -> Result:
    """One short form with the doubt of the readings in it; the form's own error is in its words."""
    taken = worked.taken
    if taken.ledger.bound(number) == "no value":
        return Result(name, None, 0.0, 0.0, None, refused="rests on bounds that pull it both ways")
    below, above = taken.ledger.sides(number)
    value = _plain(number)
    substitution = f"{put_in} = {show.shown(value, quantity=name, system='us')}"
    made = explained(words, substitution, source, holds, number, taken.ledger)
    bound = taken.ledger.bound(number)
    return Result(name, value, below, above, made, boundary=taken.boundary, basis="short form", bound=bound)


def _dry(worked: Worked, gas: str) -> Number:
    """Oxygen or carbon dioxide of the dry flue gas in per cent: as read where it was, else by balance."""
    taken, flue = worked.taken, worked.flue
    read = taken.oxygen if gas == "oxygen" else taken.carbon_dioxide
    return _percent(taken.dried(read, flue)) if read is not None else _percent(getattr(flue, gas) / flue.dry)


def _by_carbon_dioxide(worked: Worked) -> Result | None:
    taken = worked.taken
    if taken.carbon_dioxide is None or taken.carbon_monoxide is None or not taken.has_carbon:
        return None
    read = taken.dried(taken.carbon_dioxide, worked.flue)
    if _plain(read) <= 0.0:
        return None
    monoxide, most = taken.carbon_monoxide_dry(worked.flue), taken.prepared.need.carbon_dioxide_dry_max
    free = dilution.air_free_from_carbon_dioxide(
        fraction=monoxide, carbon_dioxide_dry_fraction=read, carbon_dioxide_dry_max_fraction=most
    )
    put_in = f"{_plain(monoxide) * 1e6:.0f} ppm × {_plain(most) * 100:.2f} % / {_plain(read) * 100:.2f} %"
    words = "carbon monoxide × most carbon dioxide of this fuel / carbon dioxide read"
    name = "carbon_monoxide_air_free_by_carbon_dioxide"
    return _result(worked, name, free, words, put_in, ROUTE, "wrong when the fuel is another")


def _by_factor(worked: Worked, gas: str, ppm: Number, pound: float) -> Result | None:
    """Method 19 with the published factor of the fuel kind."""
    group, oxygen = worked.taken.record.f_factor_group, _dry(worked, "oxygen")
    if not group or _plain(oxygen) > AIR_FREE_LIMIT * 100.0:
        return None
    factor = short_forms.F_FACTORS[group].dry
    rate = short_forms.method_19_rate(ppm_dry=ppm, oxygen_percent=oxygen, dry_factor=factor, pound_per_scf_ppm=pound)
    name = f"{gas}_method_19"
    quantity = names.of(name)
    per = units.per_unit(unit=units.unit_named("lb/MMBtu", quantity=quantity), quantity=quantity)
    put_in = (
        f"{_plain(ppm):.1f} ppm × {pound:.3e} lb/scf × {factor:.0f} scf/MMBtu "
        f"× {FRESH} / ({FRESH} − {_plain(oxygen):.2f})"
    )
    words = "ppm dry × pounds per scf and ppm × F factor × 20.9 / (20.9 − oxygen)"
    holds = f"as a regulatory figure for {group}; up to 2 % off the balance of propane and butane"
    return _result(worked, name, rate * per, words, put_in, METHOD_19, holds)


def _by_nitrogen(worked: Worked) -> Result:
    oxygen, carbon = _dry(worked, "oxygen"), _dry(worked, "carbon_dioxide")
    monoxide = _percent(worked.taken.carbon_monoxide_dry(worked.flue))
    excess = short_forms.excess_air_method_3b(
        oxygen_percent=oxygen, carbon_dioxide_percent=carbon, carbon_monoxide_percent=monoxide
    )
    o2, co2, co = _plain(oxygen), _plain(carbon), _plain(monoxide)
    left = o2 - co / 2
    put_in = f"{left:.2f} / (0.264 × {100.0 - o2 - co2 - co:.2f} − {left:.2f})"
    words = "(O2 − CO / 2) / (0.264 N2 − (O2 − CO / 2)), nitrogen by difference"
    holds = "fuels with little nitrogen of their own"
    return _result(worked, "excess_air_method_3b", excess / 100.0, words, put_in, METHOD_3B, holds)


def _abbreviated(worked: Worked) -> Result | None:
    """The abbreviated power-test form, for fuels whose analysis is by mass."""
    taken, shares = worked.taken, worked.taken.record.mass_fractions
    if shares is None or not taken.has_temperatures or worked.results["efficiency_gross"].refused:
        return None
    flue, air = _fahrenheit(taken.flue_temperature), _fahrenheit(taken.air_temperature)
    if _plain(flue) >= HOTTEST_ABBREVIATED:
        return None
    heat = taken.prepared.fuel.heating_value_gross / 2326.0  # J/kg in Btu/lb
    loss = short_forms.ptc_abbreviated(
        carbon=100.0 * shares.get("C", 0.0),
        hydrogen=100.0 * shares.get("H", 0.0),
        sulfur=100.0 * shares.get("S", 0.0),
        heating_value=heat,
        oxygen_percent=_dry(worked, "oxygen"),
        carbon_dioxide_percent=_dry(worked, "carbon_dioxide"),
        carbon_monoxide_percent=_percent(taken.carbon_monoxide_dry(worked.flue)),
        flue_fahrenheit=flue,
        air_fahrenheit=air,
    )
    parts = (loss.dry_gas, loss.hydrogen_moisture, loss.carbon_monoxide)
    left = 1.0 - parts[0] - parts[1] - parts[2] - taken.jacket
    put_in = "1 − " + " − ".join(f"{_plain(part):.4f}" for part in parts) + f" − {_plain(taken.jacket):.4f}"
    words = "1 − dry gas − water of hydrogen − carbon monoxide − jacket"
    holds = "rounded constants; moisture of the fuel left out; flue below 575 °F"
    return _result(worked, "efficiency_abbreviated", left, words, put_in, POWER_TEST, holds)


def forms_of(worked: Worked) -> dict[str, Result]:
    """The short forms that can be had from one stretch of undiluted flue gas.

    worked  one stretch worked out
    -> results by registry name, each with its formula and what it leaves out
    """
    found: list[Result | None] = [_by_carbon_dioxide(worked)]
    gases_read = worked.trace_gases
    if "carbon_monoxide" in gases_read:
        pound = short_forms.pound_per_scf_ppm(molar_mass=gases.molar_mass(species="CO"))
        found.append(_by_factor(worked, "carbon_monoxide", gases_read["carbon_monoxide"] * 1e6, pound))
    if "nitric_oxide" in gases_read and "nitrogen_dioxide" in gases_read:
        ppm = (gases_read["nitric_oxide"] + gases_read["nitrogen_dioxide"]) * 1e6
        found.append(_by_factor(worked, "nitrogen_oxides", ppm, short_forms.NOX_POUND_PER_SCF_PPM))
    if worked.taken.point.kind == "undiluted":
        found += [_by_nitrogen(worked), _abbreviated(worked)]
    return {result.name: result for result in found if result is not None}
