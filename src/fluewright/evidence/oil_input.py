"""The nozzle and what it lets through: flow from stamp and pump pressure, heat input, against plate and meter."""

from dataclasses import dataclass

from fluewright.evidence import plate_basis
from fluewright.evidence.finding import PHYSICS, PRACTICE, Clause, Finding
from fluewright.evidence.limits import seen
from fluewright.evidence.nozzle import Nozzle
from fluewright.evidence.oil_given import PART, OilGiven
from fluewright.evidence.oil_noted import Noted
from fluewright.evidence.part import Derived, Seen, Voiced
from fluewright.evidence.reading import Reading
from fluewright.evidence.reckon import refused
from fluewright.evidence.result import Result
from fluewright.kernel import oil_supply, ops
from fluewright.kernel.ops import Number
from fluewright.quantity import names, show, units
from fluewright.quantity.unit_table import HOUR, US_GALLON
from fluewright.rules import oil_figures

PLATE = Clause("plate or instructions of the appliance", "nozzle", "as typed", "", "read", "house")
CELLAR, CELLAR_SPREAD = 288.15, 7.0
"""K: oil at a burner in a cellar when nobody read it, standard uncertainty (common practice, no source)."""
HOUSE_NOZZLE = 5.0 * US_GALLON / HOUR
"""m3/s from which a nozzle without a plate is asked about (common practice, no source)."""
TENFOLD = 4.0
"""Times the plate from which a decimal point in the wrong place is likelier than another nozzle."""
RATED = "orifice flow, nozzle stamp at 100 psi for gallons and at 10 bar for litres and kilograms (from memory)"


@dataclass(frozen=True, slots=True)
class Oil:
    """The oil as it reaches the burner, with its doubt: density there, and its heat by mass."""

    density: Number
    gross: Number
    net: Number


def oil_of(noted: Noted, given: OilGiven) -> Oil | None:
    """The oil at the burner; None where the fuel is no oil or its density is not known."""
    record, reckoning = noted.fuel, noted.reckoning
    if record.kind != "liquid" or record.density is None or record.fuel.unit != "kg":
        return None
    density = reckoning.assumed("density", record.density, record.density_spread, source=f"fuel library, {record.name}")
    warmth = given.oil_temperature
    if warmth is not None and warmth.figure is not None:
        temperature = reckoning.read(warmth)
    else:
        temperature = reckoning.assumed(
            "oil_temperature",
            CELLAR,
            CELLAR_SPREAD,
            source="assumed, oil of a cellar",
            words="oil temperature, not read",
        )
    at = record.density_temperature or CELLAR
    there = oil_supply.oil_density(reference_density=density, reference_temperature=at, temperature=temperature)
    fuel = record.fuel
    spread = record.spreads.get("heating_value_gross", 0.0)
    gross = reckoning.assumed(
        "heating_value_gross_per_mass", float(fuel.heating_value_gross), spread, source=f"fuel library, {record.name}"
    )
    return Oil(there, gross, gross - float(fuel.heating_value_gross - fuel.heating_value_net))


def pressure_of(given: OilGiven, nozzle: Nozzle) -> Reading | None:
    """The pump pressure: read by gauge, else as typed with the nozzle."""
    if given.pump_pressure is not None and given.pump_pressure.figure is not None:
        return given.pump_pressure
    return None if nozzle.pressure is None else Reading("oil_pressure", nozzle.pressure)


def chosen(given: OilGiven) -> Nozzle | None:
    """The nozzle that burns: the one put in, else the one taken out."""
    return given.nozzle("as fitted") or given.nozzle("as removed")


def _through(noted: Noted, nozzle: Nozzle, pressure: Reading, oil: Oil, key: str) -> Number:
    """Flow of the nozzle at the pump's pressure, kept by a key."""
    reckoning, stamp = noted.reckoning, nozzle.flow.value or 0.0
    tolerance = oil_figures.practice("nozzle-tolerance") / 3.0**0.5
    rated: Number = reckoning.assumed(
        "fuel_mass_flow" if nozzle.by_mass else "nozzle_rated_flow",
        stamp,
        stamp * tolerance,
        source=f"stamp, {nozzle.text}; a new nozzle within 5 % (from memory)",
        words="flow stamped on the nozzle",
    )
    volume = rated / oil.density if nozzle.by_mass else rated
    flow = oil_supply.nozzle_flow(
        rated_flow=volume, rated_pressure=nozzle.rated_pressure, oil_pressure=reckoning.read(pressure)
    )
    system = noted.account.system
    at = [
        show.shown(p, quantity="oil_pressure", system=system) for p in (pressure.figure or 0.0, nozzle.rated_pressure)
    ]
    said = [show.shown(float(ops.value_of(f)), quantity="oil_flow", system=system) for f in (volume, flow)]
    noted.keep(
        key,
        reckoning.result(
            "oil_flow",
            flow,
            formula="flow = stamped flow × root of (pump pressure / rated pressure)",
            substitution=f"{said[0]} × root of ({at[0]} / {at[1]}) = {said[1]}",
            source=RATED,
            holds="clean new nozzle, oil as warm as nozzles are tested with; cold oil flows more, a fouled nozzle less",
        ),
    )
    return flow


def _heat(noted: Noted, flow: Number, oil: Oil) -> Number:
    """Heat input, gross and net, from a flow by volume; gives the gross one."""
    system, density = noted.account.system, float(ops.value_of(oil.density))
    for key, value, basis in (("fuel_input", oil.gross, "gross"), ("fuel_input_net", oil.net, "net")):
        heat = oil_supply.fuel_input_by_mass(oil_flow=flow, density=oil.density, heating_value=value)
        shown = show.shown(float(ops.value_of(flow)), quantity="oil_flow", system=system)
        total = show.shown(float(ops.value_of(heat)), quantity=key, system=system)
        noted.keep(
            key,
            noted.reckoning.result(
                key,
                heat,
                formula="input = flow × density at the burner × heating value",
                substitution=f"{shown} × {density:.1f} kg/m3 × {float(ops.value_of(value)) / 1e6:.2f} MJ/kg = {total}",
                source="definition; density with temperature by API MPMS 11.1 (from memory)",
                holds="oil without water; what flows also burns",
                basis=f"{basis} heating value",
            ),
        )
    return oil_supply.fuel_input_by_mass(oil_flow=flow, density=oil.density, heating_value=oil.gross)


def _measured(noted: Noted, reading: Reading, oil: Oil) -> Number:
    """Flow that was measured: it outranks the stamp; gives the gross input."""
    by_stamp = noted.results.get("oil_flow_by_stamp")
    flow = noted.reckoning.read(reading, words="oil flow, measured")
    below, above = noted.reckoning.ledger.sides(flow)
    noted.keep("oil_flow", Result("oil_flow", reading.figure, below, above, None, bound=reading.bound))
    noted.say("measured, the burner takes ", Seen("measured_flow", reading), " of oil.")
    heat = _heat(noted, flow, oil)
    noted.say("that is ", Derived("fuel_input"), " gross, ", Derived("fuel_input_net"), " net.", mark="derived")
    if by_stamp is not None and by_stamp.value is not None and not reading.bound and reading.figure:
        _against_stamp(noted, reading, by_stamp, max(below, above) / reading.figure)
    return heat


def _against_stamp(noted: Noted, reading: Reading, by_stamp: Result, relative: float) -> None:
    """What the nozzle has become, from the flow measured and that of its stamp; relative: doubt of the measured one."""
    value = by_stamp.value or 0.0
    gap = (reading.figure or 0.0) / value - 1.0
    doubt = (relative**2 + (by_stamp.spread / value) ** 2) ** 0.5
    if abs(gap) <= 2.0 * doubt:
        return
    more = gap > 0.0
    why = "Worn, of another size, or oil that is colder than it looks." if more else "Fouled, or gas in the oil."
    noted.findings.append(
        Finding(
            "nozzle-passes-other",
            "advise",
            f"The nozzle passes {abs(gap) * 100:.0f} % {'more' if more else 'less'} oil than its stamp says.",
            f"By stamp and pressure {seen(by_stamp, noted.account)}, measured {reading.typed.text}; doubt "
            f"± {2 * doubt * 100:.0f} %. {why}",
            ((PART, "measured_flow"), (PART, "oil_flow_by_stamp")),
            PHYSICS,
            do_next=("read the stamp again; if it is right, put in a new nozzle",),
        )
    )


def _of_plate(noted: Noted, given: OilGiven) -> None:
    """The nozzle that burns against the one the plate asks for."""
    plate, nozzle = given.nozzle("plate"), chosen(given)
    if plate is None or nozzle is None:
        return
    pairs = (
        ("flow", plate.flow.text, nozzle.flow.text, plate.flow.value == nozzle.flow.value),
        ("angle", plate.angle, nozzle.angle, None in (plate.angle, nozzle.angle) or plate.angle == nozzle.angle),
        ("letters", plate.letters, nozzle.letters, plate.letters.lower() in ("", nozzle.letters.lower())),
    )
    other = [f"{name} {was} where the plate asks for {asks}" for name, asks, was, same in pairs if not same]
    if other:
        noted.findings.append(
            Finding(
                "nozzle-not-of-plate",
                "advise",
                "The nozzle that burns is not the one of the plate.",
                f"{'; '.join(other)}. Letters mean what their maker says: of two makers the same letter may be another "
                "spray.",
                ((PART, "fuel_input"),) if "fuel_input" in noted.results else (),
                PLATE,
                do_next=("fit the nozzle of the plate, set its pressure, and test again",),
            )
        )


def _of_point(noted: Noted, nozzle: Nozzle, plate: float | None) -> Finding | None:
    """Whether a decimal point may stand in the wrong place."""
    heat, stamp = noted.results["fuel_input"], nozzle.flow.value or 0.0
    if heat.value is None:
        return None
    times = None if plate is None else heat.value / plate
    if times is None and (nozzle.by_mass or stamp < HOUSE_NOZZLE):
        return None
    if times is not None and 1.0 / TENFOLD < times < TENFOLD:
        return None
    than = "more than a nozzle of a house lets through" if times is None else f"{times:.2g} times the plate"
    unit = units.unit_named(nozzle.flow.unit, quantity=names.of(nozzle.flow.quantity))
    stamped = units.in_unit(stamp, unit=unit, quantity=names.of(nozzle.flow.quantity))
    meant = stamped * 10.0 if times is not None and times < 1.0 else stamped / 10.0
    return Finding(
        "nozzle-decimal",
        "open",
        f"Is the stamp {nozzle.text} read rightly? It would burn {seen(heat, noted.account)}.",
        f"That is {than}. A point may stand in the wrong place: was {meant:.3g} {nozzle.flow.unit} meant?",
        ((PART, "fuel_input"),),
        PRACTICE,
        do_next=("read the stamp of the nozzle with a lens",),
    )


def _of_input(noted: Noted, heat: Number, plate: float | None) -> None:
    """Heat input against the plate."""
    if plate is None:
        noted.cannot_tell.append("Whether the burner takes the heat of its plate: the input of the plate is not given.")
        return
    system, ratio = noted.account.system, _gross_net(noted)
    share = plate_basis.doubted(heat / plate, gross_net_ratio=ratio, reckoning=noted.reckoning)
    burned, open_basis = float(ops.value_of(heat)), plate_basis.unsaid(noted.account)
    said = [show.shown(power, quantity="fuel_input", system=system) for power in (burned, plate)]
    noted.keep(
        "firing_rate",
        noted.reckoning.result(
            "firing_rate",
            share,
            formula="share of the plate = gross input / input of the plate",
            substitution=f"{said[0]} / {said[1]} = {float(ops.value_of(share)):.1%}",
            source="definition",
            holds=plate_basis.TAKEN if open_basis else "both gross",
        ),
    )
    noted.say("that is ", Derived("firing_rate"), " of the input of the plate.", mark="derived")
    for id in ("practice-oil-input-over", "us-ca-oil-input-over", "us-ca-oil-input-under"):
        doubt = plate_basis.TAKEN if open_basis else ""
        noted.judge(id, "firing_rate", words="heat input as a share of the plate", doubt=doubt)
    if open_basis:
        noted.findings.append(plate_basis.question(PART, ratio))


def _gross_net(noted: Noted) -> float:
    """Gross over net heating value of the oil."""
    fuel = noted.fuel.fuel
    return float(fuel.heating_value_gross) / float(fuel.heating_value_net)


def told(noted: Noted, given: OilGiven) -> None:
    """Nozzle, pump pressure, flow and heat input."""
    for one in given.nozzles:
        lead = "the plate asks for the nozzle " if one.word == "plate" else f"nozzle {one.word}: "
        noted.say(lead, Voiced(one.nozzle.text, "plate" if one.word == "plate" else "hand"), ".", time=one.time,
                  mark="plate" if one.word == "plate" else "measured")  # fmt: skip
    if given.pump_pressure is not None:
        noted.say("oil pump ", Seen("pump_pressure", given.pump_pressure), " while running.")
    nozzle = chosen(given)
    if nozzle is None and given.measured_flow is None:
        return
    oil = oil_of(noted, given)
    if oil is None:
        noted.keep(
            "fuel_input", refused("fuel_input", f"{noted.fuel.words} is no oil whose density and heat are known")
        )
        return
    plate = noted.account.appliance.plate_input
    heat = _burned(noted, given, nozzle, oil)
    _of_plate(noted, given)
    doubtful = None if nozzle is None or given.measured_flow is not None else _of_point(noted, nozzle, plate)
    if doubtful is not None:
        noted.findings.append(doubtful)
    elif heat is not None:
        _of_input(noted, heat, plate)


def _burned(noted: Noted, given: OilGiven, nozzle: Nozzle | None, oil: Oil) -> Number | None:
    """Gross input by stamp and gauge, or by a measured flow, which outranks them; None where neither can say."""
    measured = given.measured_flow is not None and given.measured_flow.figure is not None
    pressure = None if nozzle is None else pressure_of(given, nozzle)
    heat = None
    if nozzle is not None and pressure is not None and not pressure.figure:
        for key in ("oil_flow", "fuel_input"):
            noted.keep(key, refused(key, "the pump shows no pressure: nothing is burned, or the gauge is shut off"))
    elif nozzle is not None and pressure is not None:
        key = "oil_flow_by_stamp" if measured else "oil_flow"
        flow = _through(noted, nozzle, pressure, oil, key)
        source = "" if pressure is given.pump_pressure else ", at the pressure typed with it and not read,"
        lead = f"by its stamp the nozzle{source} passes "
        if measured:
            noted.say(lead, Derived(key), " of oil.", mark="derived")
        else:
            heat = _heat(noted, flow, oil)
            noted.say(lead, Derived(key), " of oil: ", Derived("fuel_input"), " gross, ", Derived("fuel_input_net"),
                      " net.", mark="derived")  # fmt: skip
    elif nozzle is not None and not measured:
        for key in ("oil_flow", "fuel_input"):
            noted.keep(key, refused(key, "the pump pressure was not read"))
    return _measured(noted, given.measured_flow, oil) if measured and given.measured_flow is not None else heat
